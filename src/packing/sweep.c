#include "swept.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

enum { LOOK = 16 };

static const struct last nobody[RANK_COUNT] = {
    {.x = -INFINITY, .edge = -INFINITY, .class = NOBODY},
    {.x = -INFINITY, .edge = INFINITY, .class = NOBODY},
};

static bool one_size(const struct sweep_task *task, size_t c, size_t d) {
    const struct ranks *ranks = task->ranks;
    bool same =
        ranks->classes[c].height == ranks->classes[d].height && task->level[c] == task->level[d];
    for (size_t o = 0; o < ranks->class_count && same; o++)
        same = ranks->behind[c][o].by == ranks->behind[d][o].by &&
               ranks->behind[o][c].by == ranks->behind[o][d].by &&
               ranks->over[c][o] == ranks->over[d][o] && ranks->over[o][c] == ranks->over[o][d];
    return same;
}

static void find_shapes(struct sweep *sweep) {
    const struct ranks *ranks = sweep->ranks;
    sweep->shape[NOBODY] = 0;
    sweep->shapes = 1;
    sweep->closest = sweep->over = INFINITY;
    for (size_t c = 0; c < ranks->class_count; c++) {
        size_t like = 0;
        while (like < c && !one_size(sweep->task, like, c))
            like++;
        sweep->shape[c] = like < c ? sweep->shape[like] : sweep->shapes++;
        for (size_t o = 0; o < ranks->class_count; o++) {
            sweep->closest = length_lesser(sweep->closest, ranks->behind[c][o].by);
            sweep->over = length_lesser(sweep->over, ranks->over[c][o]);
            sweep->furthest =
                length_greater(sweep->furthest, ranks->behind[c][o].by + sweep->task->beyond);
        }
        sweep->total += ranks->classes[c].size;
    }
}

/* The furthest that one of any class can be, up to x; -INFINITY: none can. */
static double furthest_up_to(const struct sweep *sweep, size_t rank, double x) {
    double furthest = -INFINITY;
    for (size_t c = 0; c < sweep->ranks->class_count; c++) {
        const struct berths *berths = &sweep->task->berths[c][rank];
        for (size_t i = 0; i < berths->count && berths->list[i].from <= x; i++)
            furthest = length_greater(furthest, length_lesser(x, berths->list[i].to));
    }
    return furthest;
}

static void find_left(struct sweep *sweep) {
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++) {
        double x = INFINITY;
        for (size_t n = 1; n <= sweep->total; n++) {
            x = furthest_up_to(sweep, rank, x);
            sweep->left[rank][n] = x;
            x -= sweep->closest;
        }
    }
}

/* Whether the ranks have room for all that are to come. */
static bool room_for_rest(const struct sweep *sweep, const struct swept *swept) {
    const double order = length_greater(swept->last[RANK_LOWER].x, swept->last[RANK_UPPER].x);
    size_t more = 0;
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++) {
        const double from = length_greater(order, swept->last[rank].x + sweep->closest);
        size_t n = 0;
        while (n < sweep->total && sweep->left[rank][n + 1] >= from)
            n++;
        more += n;
    }
    return swept->count + more >= sweep->total;
}

/* The other rank's last is of no matter where all that are to come stand well beyond it. */
static void forget_far(const struct sweep *sweep, struct swept *swept, int rank) {
    const int other = RANK_UPPER - rank;
    if (swept->last[other].x + sweep->furthest <= swept->last[rank].x)
        swept->last[other] = nobody[other];
}

/* How far apart two parts have to be; -INFINITY: there is no rule. */
static double part_gap(size_t one, size_t other, double level) {
    const bool side = one == FLANK_SIDE || other == FLANK_SIDE,
               flashing = one >= FLANK_FLASHING && one < FLANK_SIDE,
               other_flashing = other >= FLANK_FLASHING && other < FLANK_SIDE;
    if (flashing != other_flashing || (one == FLANK_SIDE && other == FLANK_SIDE))
        return -INFINITY;
    return side ? level : 2 * level;
}

/* From which X on what a flank has is clear of a part of one that stands at `at`. */
static double clear_of_part(const struct flank_part *part, size_t kind, double at,
                            const struct flank *flank, double level, double x) {
    const double end = swept_part_end(part, at);
    for (size_t k = 0; k < FLANK_PARTS; k++) {
        const struct flank_part *own = &flank->parts[k];
        const double gap = part_gap(kind, k, level), from = end + gap;
        if (!own->there || !(gap > -INFINITY) || own->low >= part->high + gap - SAME ||
            part->low >= own->high + gap - SAME)
            continue;
        x = own->fixed < from - SAME ? INFINITY : length_greater(x, from - own->goes);
    }
    return x;
}

/* From which X on one of a class in a berth stands beside the last of a rank. */
static double clear_of(const struct sweep *sweep, const struct last *last, size_t c,
                       const struct berth *berth, double x) {
    const struct sweep_task *task = sweep->task;
    if (last->class == NOBODY)
        return x;
    x = length_greater(x, last->x + sweep->ranks->behind[last->class][c].by);
    const double level = length_greater(task->level[last->class], task->level[c]);
    const struct flank *near = &task->near.list[berth->near];
    for (size_t k = 0; k < FLANK_PARTS && x < INFINITY; k++)
        if (last->far->parts[k].there)
            x = clear_of_part(&last->far->parts[k], k, last->x, near, level, x);
    return x;
}

/* Whether one in that berth is clear of the other rank's last wherever it is along the eave. */
static bool is_over(const struct ranks *ranks, const struct last *other, size_t c, int rank,
                    const struct berth *berth) {
    if (other->class == NOBODY)
        return true;
    return rank == RANK_LOWER ? berth->edge + ranks->over[c][other->class] <= other->edge
                              : other->edge + ranks->over[other->class][c] <= berth->edge;
}

/* The first berth before which none goes as far as x. */
static size_t first_up_to(const double *up_to, size_t count, double x) {
    size_t from = 0, to = count;
    while (from < to) {
        const size_t middle = from + (to - from) / 2;
        if (up_to[middle] < x)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

static double spent_by(const struct swept *swept) {
    const double lower = swept->last[RANK_LOWER].x, upper = swept->last[RANK_UPPER].x;
    return lower > -INFINITY && upper > -INFINITY ? lower + upper
                                                  : 2 * length_greater(lower, upper);
}

/* One more of a class in a rank, closest to those that stand. */
static void go_on(struct sweep *sweep, size_t from, size_t c, int rank) {
    const struct ranks *ranks = sweep->ranks;
    const struct berths *berths = &sweep->task->berths[c][rank];
    const struct swept before = sweep->pool[from]; /* the pool may move */
    const struct last *own = &before.last[rank], *other = &before.last[RANK_UPPER - rank];
    struct swept made = {.state = before.state + ranks->classes[c].stride,
                         .count = before.count + 1,
                         .before = from};
    double first = length_greater(own->x, other->x);
    if (own->class != NOBODY)
        first = length_greater(first, own->x + ranks->behind[own->class][c].by);
    made.last[RANK_UPPER - rank] = *other;
    for (size_t i = first_up_to(sweep->up_to[c][rank], berths->count, first); i < berths->count;
         i++) {
        const struct berth *berth = &berths->list[i];
        double x = length_greater(berth->from, first);
        made.last[rank] = (struct last){x, berth->edge, &sweep->task->far.list[berth->far], c};
        if (x > berth->to)
            continue;
        if (!room_for_rest(sweep, &made))
            return; /* those that follow are no closer */
        x = clear_of(sweep, own, c, berth, x);
        if (!is_over(ranks, other, c, rank, berth))
            x = clear_of(sweep, other, c, berth, x);
        made.last[rank].x = x;
        if (x > berth->to || !room_for_rest(sweep, &made))
            continue;
        made.turn = (struct rank_turn){c, berth->tag, x, berth->y, rank};
        forget_far(sweep, &made, rank);
        made.spent = spent_by(&made);
        swept_keep(sweep, &made);
        made.last[RANK_UPPER - rank] = *other;
    }
}

static bool stopped(struct ranks *ranks) {
    const bool asked = ranks->stop && ++ranks->looks % LOOK == 0;
    ranks->ended = ranks->ended || (asked && ranks->stop(ranks->subject));
    return ranks->failed || ranks->ended;
}

/* Until all stand; NONE: they cannot. */
static size_t run(struct sweep *sweep) {
    const struct ranks *ranks = sweep->ranks;
    while (sweep->open_count > 0 && !stopped(sweep->ranks)) {
        const size_t i = swept_take(sweep);
        if (sweep->pool[i].count == sweep->total && !sweep->all)
            return i;
        for (size_t c = 0; c < ranks->class_count && !sweep->pool[i].lesser; c++)
            if (sweep->pool[i].state / ranks->classes[c].stride % (ranks->classes[c].size + 1) <
                ranks->classes[c].size)
                for (size_t rank = 0; rank < ranks->ranks; rank++)
                    go_on(sweep, i, c, (int)rank);
    }
    return NONE;
}

static void trace(const struct sweep *sweep, size_t all, struct rank_turns *turns) {
    turns->count = 0;
    for (int rank = 0; rank < RANK_COUNT; rank++)
        for (size_t i = all; sweep->pool[i].count > 0; i = sweep->pool[i].before)
            if (sweep->pool[i].turn.rank == rank)
                turns->list[turns->count++] = sweep->pool[i].turn;
}

/* False without memory. */
static bool find_up_to(struct sweep *sweep) {
    for (size_t c = 0; c < sweep->ranks->class_count; c++)
        for (size_t rank = 0; rank < sweep->ranks->ranks; rank++) {
            const struct berths *berths = &sweep->task->berths[c][rank];
            double *up_to = malloc((berths->count + 1) * sizeof *up_to), furthest = -INFINITY;
            sweep->up_to[c][rank] = up_to;
            for (size_t i = 0; i < berths->count && up_to; i++)
                up_to[i] = furthest = length_greater(furthest, berths->list[i].to);
            if (!up_to)
                return false;
        }
    return true;
}

bool sweep_begin(const struct sweep_task *task, struct sweep *sweep) {
    *sweep = (struct sweep){.task = task, .ranks = task->ranks};
    find_shapes(sweep);
    find_left(sweep);
    task->ranks->failed = !swept_begin(sweep) || !find_up_to(sweep);
    return !task->ranks->failed;
}

size_t sweep_run(struct sweep *sweep) {
    struct swept nothing = {.last = {nobody[RANK_LOWER], nobody[RANK_UPPER]}};
    swept_keep(sweep, &nothing);
    return run(sweep);
}

void sweep_end(struct sweep *sweep) {
    swept_end(sweep);
    for (size_t c = 0; c < sweep->ranks->class_count; c++)
        for (int rank = 0; rank < RANK_COUNT; rank++)
            free(sweep->up_to[c][rank]);
}

bool sweep_find(const struct sweep_task *task, struct rank_turns *turns, bool *fits) {
    struct sweep sweep;
    struct mirror *mirror = mirror_find(task);
    if (sweep_begin(task, &sweep)) {
        sweep.rest = mirror_rest(mirror);
        const size_t all = sweep_run(&sweep);
        *fits = all != NONE;
        if (*fits)
            trace(&sweep, all, turns);
    }
    sweep_end(&sweep);
    mirror_forget(mirror);
    return !task->ranks->failed && !task->ranks->ended;
}
