/* A look at brackets in ranks: where they may be, and the sweep of that.  Private to this folder.
 */
#ifndef RUDDLE_LOOK_H
#define RUDDLE_LOOK_H

#include "posts.h"

/* What a look is at. */
struct look {
    struct view view;
    bool closer; /* ever closer: posts are kept */
    size_t asks; /* how often those that stand were asked whether they can */
    struct sweep_task task;
    struct posts posts[RANK_CLASSES_MOST][RANK_COUNT]; /* owned */
    struct berths each[RANK_CLASSES_MOST][RANK_COUNT]; /* owned: of every one of them */
    struct mirror *mirror; /* owned: what can follow, as it was seen last; NULL: not known */
};

/* berths.c: the task's berths, of all posts or spots.  False without memory, late, or where there
 * are too many. */
bool look_list(struct look *look);

/* Whether it is to be stopped, which is known from then on. */
bool look_late(struct ranks *ranks);

#endif
