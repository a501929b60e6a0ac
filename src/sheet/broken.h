/* A broken rule in the words of a sheet: where, what it needs, what is there, by how much, and
 * which way to move.
 */
#ifndef RUDDLE_SHEET_BROKEN_H
#define RUDDLE_SHEET_BROKEN_H

#include "check.h"
#include "marks.h"
#include "roof.h"

enum { BROKEN_TEXT = 440, BROKEN_LINE = 5 * BROKEN_TEXT + 80 };

struct broken {
    char where[BROKEN_TEXT]; /* frame, line, lag hole */
    char needs[BROKEN_TEXT];
    char has[BROKEN_TEXT];
    char by[BROKEN_TEXT];   /* "short by 3/8\"", or empty where it is no length */
    char move[BROKEN_TEXT]; /* which way to move, or empty where no move mends it */
};

/* What a finding is about; borrowed. */
struct scene {
    const struct roof *roof;
    const struct marks *marks;
    const struct verdict *verdict;
    const struct finding *finding;
};

/* The pipe of a finding that says that it has no hole; SIZE_MAX if it is none.  The finding is one
 * of the verdict's. */
size_t broken_missing_pipe(const struct roof *roof, const struct marks *marks,
                           const struct verdict *verdict, const struct finding *finding);

/* The rafter that a pipe hole is the least clear of: its index. */
size_t broken_rafter_in_way(const struct roof *roof, const struct mark *hole);

/* Where a finding is: `lag hole A-bottom-2`, `frame A, bottom line`, with what it meets there. */
void broken_where(const struct scene *scene, char where[BROKEN_TEXT]);

/* All of it. */
void broken_describe(const struct scene *scene, struct broken *broken);

/* The same as one line, without an end of line. */
void broken_line(const struct scene *scene, char line[BROKEN_LINE]);

#endif
