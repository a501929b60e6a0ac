/* Marks: where the lags go and where the brackets stand, and nothing else.  No rafter, course, leg
 * or clamp is named here: whoever holds marks against the roof finds those again from the figures.
 */
#ifndef RUDDLE_MARKS_H
#define RUDDLE_MARKS_H

#include "problem.h"
#include "roof.h"
#include "survey.h"

#include <stddef.h>

/* Where a bracket stands: its near lower corner, in inches. */
struct standing {
    double x, y;
    enum hardware hardware[ROW_COUNT];
};

/* One lag hole, or one pipe hole. */
struct mark {
    size_t bracket; /* index into roof.brackets */
    enum row row;   /* ROW_PIPE: a pipe hole */
    double x, y;    /* inches */
    size_t pipe;    /* of a pipe hole: index into roof.pipes; otherwise 0 */
};

/* Marks are ordered by bracket, then row (top first, pipes last), then pipe, then x. */
struct marks {
    struct standing *brackets; /* one for each bracket of the roof, in its order */
    size_t bracket_count;
    struct mark *list;
    size_t count;
};

/* Room for that many, all zero.  FAULT: no memory; *marks is untouched unless DONE. */
enum outcome marks_new(size_t bracket_count, size_t count, struct marks **marks);

/* A copy of its own.  As marks_new. */
enum outcome marks_copy(const struct marks *marks, struct marks **copy);

/* Puts the list into its order. */
void marks_sort(struct marks *marks);

void marks_free(struct marks *marks); /* accepts NULL */

/* The marks of a layout file held against the roof's names.  A bracket or row that the roof does
 * not know, a doubled or a missing bracket, a value that is no length: BAD_INPUT, every one of them
 * in problems.  `top` and `bottom` of a bracket default to the roof's own.  Pipe holes that the
 * file does not name belong to the pipes of their bracket so that the sum of their distances from
 * the ports is least. */
enum outcome marks_from_survey(const struct roof *roof, const struct survey_layout *layout,
                               struct marks **marks, struct problems *problems);

#endif
