/* Any packing of one rank, two or three, or that there is none.  Private to this folder.
 *
 * Brackets are set down in their order along the eave, each as close to those before it as it may
 * be.  A new one minds only the last of its own rank, which it stands beside, and the last of
 * another one, which it stands beside or above (below).  So of those that stand no more matters
 * than how many there are of each class and where the last of each rank is; and where that is no
 * further along, leaves as much room between the ranks and reaches no further, what can still
 * follow is at least as much. */
#ifndef RUDDLE_SWEEP_H
#define RUDDLE_SWEEP_H

#include "leeway.h"
#include "ranks.h"

/* What a bracket reaches beyond one of its sides, a strut or a flashing of either row, or the side
 * itself.  Its end along the eave is the outer one of a fixed place and one that goes with the
 * bracket; up the slope it lies between two Y, each as little in the way as it can be. */
enum {
    FLANK_STRUT,
    FLANK_FLASHING = FLANK_STRUT + 2,
    FLANK_SIDE = FLANK_FLASHING + 2,
    FLANK_PARTS
};
struct flank_part {
    bool there;
    double fixed, goes; /* inches: x, and from X on */
    double low, high;   /* Y */
};
struct flank {
    struct flank_part parts[FLANK_PARTS];
};

/* Where one of a class may be in a rank: between two X. */
struct berth {
    double from, to;
    double low, top;  /* Y of its sides towards ranks below and above it, each as good as it can be;
                         INFINITY and -INFINITY where there is no such rank */
    size_t tag, post; /* to the caller */
    double y;         /* likewise */
    struct leeway leeway; /* as of `low` and `top`, and of what it reaches */
    size_t near, far;     /* what it reaches on either side, in the task's lists */
    double mark; /* X from which on one was there in a sweep that marks; INFINITY: none was */
};
struct berths {
    struct berth *list; /* owned; rising by `from` */
    size_t count, room;
};

enum { FLANKS_MOST = 16384 };
struct flanks {
    struct flank *list; /* owned */
    size_t count, room;
};

struct sweep;
struct mirror;
struct sweep_task {
    struct ranks *ranks; /* begun: classes, gaps, and who stops it; borrowed */
    struct berths berths[RANK_CLASSES_MOST][RANK_COUNT];
    double level[RANK_CLASSES_MOST]; /* struts keep the greater of two from the other's side; struts
                                        from each other, and flashings, twice as much */
    struct flanks near, far;
    double beyond; /* what two reach at most beyond themselves, together */
    bool narrows;  /* what is in the way of one up the slope leaves less of its leeway for others */
    bool stacks;   /* struts and sides of those above each other are in each other's way, too */
    size_t most;   /* so many are kept of those that stand; 0: as many as there is room for */
    /* Whether those can stand together; NULL: that is not asked. */
    bool (*agree)(void *subject, const struct rank_turns *turns);
    void *subject;
    /* What can follow of those that stand: from the far end; borrowed; NULL: to be found. */
    const struct sweep *rest;
};

/* *fits: whether all do, and where they then stand; tags as of their berths.  What others reach is
 * minded only next to each other, and part by part at its best, or what is asked of the last ones
 * and the next one all at once (narrows): none is proved, but not that all fit.  False where that
 * came to no end (ranks->failed: no memory). */
bool sweep_find(const struct sweep_task *task, struct rank_turns *turns, bool *fits);

/* Goes through all that can stand, and marks the berths that any packing may have: one behind the
 * mark of a berth of its own, or of one that such a berth is as good as.  What comes of it is to be
 * forgotten; NULL: as where sweep_find is false. */
struct sweep *sweep_mark(const struct sweep_task *task);
void sweep_forget(struct sweep *sweep); /* accepts NULL */

/* mirror.c: the same from the far end, where X is the negative of what it was; NULL: likewise. */
struct mirror *mirror_mark(const struct sweep_task *task, const struct sweep *ahead);
const struct sweep *mirror_rest(const struct mirror *mirror); /* NULL: not known */
void mirror_forget(struct mirror *mirror);                    /* accepts NULL */
/* The mark of what a berth of the task stands for: *to is X up to which one was there; false: none
 * was. */
bool mirror_marked(const struct mirror *mirror, size_t c, int rank, const struct berth *some,
                   double *to);

#endif
