/* Who stands in a sweep, and which of them are worth going on from.  Private to this folder. */
#ifndef RUDDLE_SWEPT_H
#define RUDDLE_SWEPT_H

#include "sweep.h"

#include <stdint.h>

enum { NOBODY = RANK_CLASSES_MOST };
/* Places are told apart from here on. */
#define SAME 1e-7
#define NONE SIZE_MAX

/* The last of a rank. */
struct last {
    double x, low, top; /* as of its berth */
    struct leeway leeway;
    size_t class; /* NOBODY: none, or one that all that is to come is clear of */
};

/* Where a part ends along the eave, and between which two Y it lies; what is not there ends at
 * -INFINITY. */
struct reach {
    double end, low, high;
};

/* Some that stand. */
struct swept {
    struct last last[RANK_COUNT];
    struct reach far[RANK_COUNT][FLANK_PARTS]; /* of the last ones */
    size_t state;                              /* how many of each class */
    size_t count;                              /* in all */
    struct rank_turn turn;                     /* of the one that came last */
    size_t before; /* all but that one, in the pool; NONE: it is the only one */
    double spent;  /* X of the last ones, together */
    bool lesser;   /* another one is as good */
};

/* What is compared first of those with as many of each class, and last ones of the same sizes. */
struct key {
    double x[RANK_COUNT], low[RANK_COUNT], top[RANK_COUNT]; /* of the last ones */
    size_t at;                                              /* in the pool */
};
struct bucket {
    struct key *list; /* owned */
    size_t count, room;
};

/* A sweep under way. */
struct sweep {
    const struct sweep_task *task;
    struct ranks *ranks;
    size_t total;
    struct swept *pool; /* owned */
    size_t count, room;
    struct bucket *buckets; /* owned: by state and the shapes of the last */
    size_t bucket_count;
    size_t *open; /* owned: a heap of those to go on from, the most hopeful first */
    size_t open_count, open_room;
    double *up_to[RANK_CLASSES_MOST][RANK_COUNT]; /* owned: how far a berth or one before it goes */
    size_t shape[RANK_CLASSES_MOST + 1], shapes;  /* of classes of one size and level */
    double closest, furthest;                     /* of what two beside each other keep */
    double left[RANK_COUNT][ROOF_BRACKETS_MOST + 1]; /* up to where so many more may follow */
    const struct sweep *rest; /* what can follow, from the far end; borrowed; NULL: not known */
    bool all;                 /* whatever can stand is gone through */
    bool marks;               /* the berths of those that can stand are marked */
};

/* Begins a sweep whose counts, shapes and berths are known; false without memory. */
bool swept_begin(struct sweep *sweep);
void swept_end(struct sweep *sweep); /* those that stand, and their lists */

/* One more way to stand, the last one in a berth (NULL: nobody), which is marked if that is asked
 * for; unless another one is as good, or the rest cannot follow.  False: only because those that
 * stand do not agree. */
bool swept_keep(struct sweep *sweep, struct swept *swept, struct berth *berth);
/* Who stands. */
void swept_trace(const struct sweep *sweep, const struct swept *swept, struct rank_turns *turns);
/* The most hopeful of those that are to be gone on from, of which there are some; lesser: not worth
 * it any more. */
size_t swept_take(struct sweep *sweep);

/* X of the last one in any rank. */
double swept_order(const struct swept *swept);
/* What one of that flank reaches where it stands at x. */
void swept_set_reach(const struct flank *flank, double x, struct reach reach[FLANK_PARTS]);
/* The last of a rank has that leeway, of which it had more. */
void swept_narrow(struct swept *swept, int rank, const struct leeway *leeway);
/* The place in a leeway that a part goes with. */
size_t swept_place(size_t part);
/* Where a part of one that stands at x ends. */
double swept_part_end(const struct flank_part *part, double x);
/* Whether two parts of those above each other can only be clear of each other up the slope, or with
 * the second one further along: a flashing may also lie before another one. */
bool swept_stacked(size_t one, size_t other);
/* How far apart two parts have to be; -INFINITY: there is no rule. */
double swept_part_gap(size_t one, size_t other, double level);

/* sweep.c: a sweep of a task before anybody stands (false without memory), and who stands where all
 * do; NONE: they cannot, or it is not known. */
bool sweep_begin(const struct sweep_task *task, struct sweep *sweep);
size_t sweep_run(struct sweep *sweep);
bool sweep_mark_all(struct sweep *sweep); /* as sweep_mark, of one that has begun */
void sweep_end(struct sweep *sweep);      /* what it owns */

/* mirror.c: what can follow of those that stand, whatever parts reach: the same sweep from the far
 * end, gone through to its end, where every state is the rest of another one.  NULL: not known, or
 * no use. */
struct mirror *mirror_find(const struct sweep_task *task);
bool mirror_follows(const struct sweep *sweep, const struct swept *swept);

#endif
