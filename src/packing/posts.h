/* Where brackets of a class may stand in a rank, with their Y and their rows' lines in pieces that
 * are told apart: what a sweep's berths are made from.  Private to this folder. */
#ifndef RUDDLE_POSTS_H
#define RUDDLE_POSTS_H

#include "flanks.h"

struct post {
    size_t spot;
    struct interval along;
    struct posture posture;
};
struct posts {
    struct post *list; /* owned */
    size_t count, room;
};

bool posts_add(struct posts *posts, const struct post *post); /* false: too many, or no memory */

/* Those of a spot in a rank, behind others that there are.  As posts_add. */
bool posts_of(const struct view *view, size_t c, int rank, size_t spot, struct posts *posts);

enum posts_piece { POSTS_LINES, POSTS_UP };
/* The same in smaller pieces: of the lines, or up the slope.  *split: any could be made smaller.
 * False without memory, or where there were too many. */
bool posts_split(const struct view *view, size_t c, enum posts_piece piece, struct posts *posts,
                 bool *split);

#endif
