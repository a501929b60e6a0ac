#include "asks.h"

#include "length.h"

#include <math.h>
#include <string.h>

/* So often bounds are carried on; a bound that is not carried to its end is one, too. */
enum { ROUNDS = 16 };

bool asks_is_over(const struct ranks *ranks, const struct next *next, int rank) {
    const struct last *other = &next->last[rank];
    const struct berth *berth = next->berth;
    if (other->class == NOBODY)
        return true;
    return rank_below(next->rank, rank)
               ? berth->top + ranks->over[next->class][other->class] <= other->low
               : other->top + ranks->over[other->class][next->class] <= berth->low;
}

static bool holds_above(const struct interval *at, const struct interval *other, double by) {
    return at->lo >= other->hi + by;
}

static void add_ask(const struct next *next, const struct ask *ask, struct asks *asks) {
    const struct interval *own = &next->berth->leeway.at[ask->own],
                          *other = &next->last[ask->rank].leeway.at[ask->other];
    const bool known = !isnan(ask->up) && !isnan(ask->down); /* no place is endless */
    if (holds_above(own, other, ask->up) || holds_above(other, own, ask->down))
        return;
    if (known && asks->count < ASKS_MOST) /* a bound without it is one, too */
        asks->list[asks->count++] = *ask;
}

/* Two parts that are not clear of each other along the eave. */
static void ask_of_parts(const struct next *next, int rank, size_t i, size_t k, double gap,
                         double past, const struct flank *near, struct asks *asks) {
    const struct reach *reach = &next->far[rank][i];
    const struct flank_part *part = &near->parts[k];
    const size_t own_place = swept_place(k), other_place = swept_place(i);
    const struct interval *own = &next->berth->leeway.at[own_place],
                          *other = &next->last[rank].leeway.at[other_place];
    const double below = part->low - own->hi, above = part->high - own->lo,
                 other_below = reach->low - other->hi, other_above = reach->high - other->lo;
    const struct ask ask = {rank,
                            own_place,
                            other_place,
                            other_above + gap - below - SAME,
                            above + gap - other_below - SAME,
                            past};
    add_ask(next, &ask, asks);
}

/* Of what the last of a rank reaches; over: of one that is above it, or below. */
static void ask_of_reach(const struct sweep *sweep, const struct next *next, int rank, double x,
                         bool over, struct asks *asks) {
    const struct sweep_task *task = sweep->task;
    const struct flank *near = &task->near.list[next->berth->near];
    const double level =
        length_greater(task->level[next->last[rank].class], task->level[next->class]);
    for (size_t i = 0; i < FLANK_PARTS; i++)
        for (size_t k = 0; k < FLANK_PARTS && next->far[rank][i].end > -INFINITY; k++) {
            const struct flank_part *part = &near->parts[k];
            const double gap = swept_part_gap(i, k, level), from = next->far[rank][i].end + gap;
            if (part->there && (!over || swept_stacked(i, k)) &&
                length_lesser(part->fixed, x + part->goes) < from - SAME)
                ask_of_parts(next, rank, i, k, gap,
                             part->fixed < from - SAME ? INFINITY : from - part->goes, near, asks);
        }
}

/* Of the last of another rank, that it has to be above or below. */
static void ask_over(const struct sweep *sweep, const struct next *next, int rank, double past,
                     struct asks *asks) {
    const struct ranks *ranks = sweep->ranks;
    const size_t other = next->last[rank].class;
    struct ask ask = {rank, LEEWAY_UP, LEEWAY_UP, INFINITY, INFINITY, past};
    if (rank_below(next->rank, rank))
        ask.down = ranks->classes[next->class].height + ranks->over[next->class][other];
    else
        ask.up = ranks->classes[other].height + ranks->over[other][next->class];
    add_ask(next, &ask, asks);
}

void asks_list(const struct sweep *sweep, const struct next *next, double x, struct asks *asks) {
    asks->count = 0;
    for (int rank = 0; rank < (int)sweep->ranks->ranks; rank++) {
        const struct last *last = &next->last[rank];
        if (last->class == NOBODY)
            continue;
        const double past = last->x + sweep->ranks->behind[last->class][next->class].by;
        const bool over = x < past - SAME;
        if (over)
            ask_over(sweep, next, rank, past, asks);
        if (!over || sweep->task->stacks)
            ask_of_reach(sweep, next, rank, x, over, asks);
    }
}

/* A way that is looked at. */
struct heeding {
    const struct asks *asks;
    bool up[ASKS_MOST]; /* of those that are settled */
    size_t count;
    struct poses *poses;
};

/* One place at least so much above another one; *moved: that told something.  False: nothing is
 * left. */
static bool carry(struct leeway *above, size_t high, struct leeway *below, size_t low, double by,
                  bool *moved) {
    const double lo = below->at[low].lo + by, hi = above->at[high].hi - by;
    const bool raised = lo > above->at[high].lo + SAME, lowered = hi < below->at[low].hi - SAME;
    *moved = *moved || raised || lowered;
    return (!raised || leeway_raise(above, high, lo)) && (!lowered || leeway_lower(below, low, hi));
}

/* False: nothing is left. */
static bool carry_all(const struct heeding *heeding, struct pose *pose) {
    bool moved = true, left = true;
    for (int round = 0; round < ROUNDS && moved && left; round++) {
        moved = false;
        for (size_t i = 0; i < heeding->count && left; i++) {
            const struct ask *ask = &heeding->asks->list[i];
            struct leeway *own = &pose->of[POSE_NEXT], *other = &pose->of[ask->rank];
            left = heeding->up[i] ? carry(own, ask->own, other, ask->other, ask->up, &moved)
                                  : carry(other, ask->other, own, ask->own, ask->down, &moved);
        }
    }
    return left;
}

static void heed(struct heeding *heeding, const struct pose *pose);

static void heed_way(struct heeding *heeding, const struct pose *pose, bool up) {
    const struct ask *ask = &heeding->asks->list[heeding->count];
    struct pose made = *pose;
    if (!((up ? ask->up : ask->down) < INFINITY))
        return;
    heeding->up[heeding->count++] = up;
    if (carry_all(heeding, &made))
        heed(heeding, &made);
    heeding->count--;
}

static void heed(struct heeding *heeding, const struct pose *pose) {
    struct poses *poses = heeding->poses;
    if (heeding->count == heeding->asks->count) {
        poses->many = poses->many || poses->count == POSES_MOST;
        if (!poses->many)
            memcpy(&poses->list[poses->count++], pose, sizeof *pose);
        return;
    }
    const struct ask *ask = &heeding->asks->list[heeding->count];
    const struct interval *own = &pose->of[POSE_NEXT].at[ask->own],
                          *other = &pose->of[ask->rank].at[ask->other];
    const bool above = holds_above(own, other, ask->up),
               below = !above && holds_above(other, own, ask->down);
    if (!below && !poses->many)
        heed_way(heeding, pose, true);
    if (!above && !poses->many)
        heed_way(heeding, pose, false);
}

void asks_heed(const struct asks *asks, const struct pose *pose, struct poses *poses) {
    struct heeding heeding = {.asks = asks, .poses = poses};
    poses->count = 0;
    poses->many = false;
    heed(&heeding, pose);
}
