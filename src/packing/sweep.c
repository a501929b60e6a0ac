#include "asks.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LOOK = 16 };

static const struct last nobody = {
    .x = -INFINITY, .low = INFINITY, .top = -INFINITY, .class = NOBODY};

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
    sweep->closest = INFINITY;
    for (size_t c = 0; c < ranks->class_count; c++) {
        size_t like = 0;
        while (like < c && !one_size(sweep->task, like, c))
            like++;
        sweep->shape[c] = like < c ? sweep->shape[like] : sweep->shapes++;
        for (size_t o = 0; o < ranks->class_count; o++) {
            sweep->closest = length_lesser(sweep->closest, ranks->behind[c][o].by);
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
    const double order = swept_order(swept);
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

static void forget(struct swept *swept, int rank) {
    swept->last[rank] = nobody;
    swept_set_reach(NULL, 0, swept->far[rank]);
}

/* Another rank's last is of no matter where all that are to come stand well beyond it. */
static void forget_far(const struct sweep *sweep, struct swept *swept, int rank) {
    for (int other = 0; other < RANK_COUNT; other++)
        if (other != rank && swept->last[other].x + sweep->furthest <= swept->last[rank].x)
            forget(swept, other);
}

/* From which X on what a flank has is clear of what one that stands reaches. */
static double clear_of_reach(const struct reach *reach, size_t kind, const struct flank *flank,
                             double level, bool beside, double x) {
    for (size_t k = 0; k < FLANK_PARTS; k++) {
        const struct flank_part *own = &flank->parts[k];
        const double gap = swept_part_gap(kind, k, level), from = reach->end + gap;
        const bool past =
            own->low >= reach->high + gap - SAME || reach->low >= own->high + gap - SAME;
        if (!own->there || !(gap > -INFINITY) || (past && !beside))
            continue;
        x = own->fixed < from - SAME ? INFINITY : length_greater(x, from - own->goes);
    }
    return x;
}

/* From which X on the next one stands beside the last of a rank. */
static double clear_of(const struct sweep *sweep, const struct next *next, int rank, bool beside,
                       double x) {
    const struct sweep_task *task = sweep->task;
    const struct last *last = &next->last[rank];
    if (last->class == NOBODY)
        return x;
    x = length_greater(x, last->x + sweep->ranks->behind[last->class][next->class].by);
    const double level = length_greater(task->level[last->class], task->level[next->class]);
    const struct flank *near = &task->near.list[next->berth->near];
    for (size_t k = 0; k < FLANK_PARTS && x < INFINITY; k++)
        if (next->far[rank][k].end > -INFINITY)
            x = clear_of_reach(&next->far[rank][k], k, near, level, beside, x);
    return x;
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

/* X of the last ones, as if there were one in each rank. */
static double spent_by(const struct sweep *sweep, const struct swept *swept) {
    double spent = 0, there = 0;
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++) {
        const bool any = swept->last[rank].x > -INFINITY;
        spent += any ? swept->last[rank].x : 0;
        there += any ? 1 : 0;
    }
    return there > 0 ? spent * (double)sweep->ranks->ranks / there : -INFINITY;
}

enum { TRIED = 4 };
/* X from which on the next one may be clear of the last ones, and where it is clear of what those
 * of its own rank reach, of others, or both, however that lies up the slope. */
static size_t find_tried(const struct sweep *sweep, const struct next *next, double tried[TRIED]) {
    const struct ranks *ranks = sweep->ranks;
    size_t count = 0;
    for (int i = 0; i < (sweep->task->agree ? TRIED : 1); i++) {
        double x = length_greater(next->berth->from, next->first);
        for (int rank = 0; rank < (int)ranks->ranks; rank++)
            if (rank == next->rank || !asks_is_over(ranks, next, rank))
                x = clear_of(sweep, next, rank, i & (rank == next->rank ? 1 : 2), x);
        tried[count++] = x;
    }
    return count;
}

/* The next one at x; a pose: of that leeway, as the others are; NULL: of all of its own. */
static void stand(const struct sweep *sweep, const struct next *next, double x,
                  const struct pose *pose, struct swept *made) {
    const struct berth *berth = next->berth;
    memcpy(made->last, next->last, sizeof made->last);
    memcpy(made->far, next->far, sizeof made->far);
    made->last[next->rank] = (struct last){x, berth->low, berth->top, berth->leeway, next->class};
    swept_set_reach(&sweep->task->far.list[berth->far], x, made->far[next->rank]);
    for (int rank = 0; rank < (int)sweep->ranks->ranks && pose; rank++)
        if (made->last[rank].class != NOBODY)
            swept_narrow(made, rank, &pose->of[rank == next->rank ? POSE_NEXT : rank]);
    made->turn = (struct rank_turn){next->class, berth->tag, x, berth->y, next->rank};
}

/* False: those that stand do not agree with it. */
static bool keep(struct sweep *sweep, const struct next *next, double x, const struct pose *pose,
                 struct swept *made) {
    stand(sweep, next, x, pose, made);
    forget_far(sweep, made, next->rank);
    made->spent = spent_by(sweep, made);
    return swept_keep(sweep, made, next->berth);
}

/* Whether there is room for the rest with the next one at x. */
static bool leaves_room(const struct sweep *sweep, const struct next *next, double x,
                        struct swept *made) {
    memcpy(made->last, next->last, sizeof made->last);
    made->last[next->rank].x = x;
    return room_for_rest(sweep, made);
}

/* From one X on at which less is asked of it to the next. */
enum { STEPS_MOST = 16 };

static double next_past(const struct asks *asks) {
    double past = INFINITY;
    for (size_t i = 0; i < asks->count; i++)
        past = length_lesser(past, asks->list[i].past);
    return past;
}

static void keep_narrowed(struct sweep *sweep, const struct next *next, double x,
                          struct swept *made) {
    struct pose pose;
    for (int rank = 0; rank < RANK_COUNT; rank++)
        pose.of[rank] = next->last[rank].leeway;
    pose.of[POSE_NEXT] = next->berth->leeway;
    for (int step = 0; x <= next->berth->to && leaves_room(sweep, next, x, made); step++) {
        struct poses poses;
        struct asks asks;
        asks_list(sweep, next, x, &asks);
        asks_heed(&asks, &pose, &poses);
        const bool all = poses.many || step == STEPS_MOST;
        if (all)
            keep(sweep, next, x, NULL, made);
        for (size_t i = 0; i < poses.count && !all; i++)
            keep(sweep, next, x, &poses.list[i], made);
        const double past = next_past(&asks);
        if (all || !(past < INFINITY))
            return;
        x = past;
    }
}

/* One more in a berth, closest to those that stand; false: those that follow are no closer. */
static bool go_on_in(struct sweep *sweep, const struct next *next, struct swept *made) {
    const struct berth *berth = next->berth;
    const double from = length_greater(berth->from, next->first);
    if (from > berth->to)
        return true;
    if (!leaves_room(sweep, next, from, made))
        return false;
    double tried[TRIED];
    const size_t count = find_tried(sweep, next, tried);
    if (sweep->task->narrows && !sweep->task->agree) {
        keep_narrowed(sweep, next, tried[0], made);
        return true;
    }
    bool kept = false;
    for (size_t i = 0; i < count && !kept; i++)
        kept = tried[i] <= berth->to && leaves_room(sweep, next, tried[i], made) &&
               keep(sweep, next, tried[i], NULL, made);
    return true;
}

/* One more of a class in a rank. */
static void go_on(struct sweep *sweep, size_t from, size_t c, int rank) {
    const struct ranks *ranks = sweep->ranks;
    const struct berths *berths = &sweep->task->berths[c][rank];
    const struct swept *before = &sweep->pool[from]; /* the pool may move */
    struct next next = {.class = c, .rank = rank, .first = swept_order(before)};
    struct swept made = {.state = before->state + ranks->classes[c].stride,
                         .count = before->count + 1,
                         .before = from};
    const struct last *own = &before->last[rank];
    memcpy(next.last, before->last, sizeof next.last);
    memcpy(next.far, before->far, sizeof next.far);
    if (own->class != NOBODY)
        next.first = length_greater(next.first, own->x + ranks->behind[own->class][c].by);
    bool more = true;
    for (size_t i = first_up_to(sweep->up_to[c][rank], berths->count, next.first);
         i < berths->count && more; i++) {
        next.berth = &berths->list[i];
        more = go_on_in(sweep, &next, &made);
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
    struct swept nothing = {.count = 0};
    for (int rank = 0; rank < RANK_COUNT; rank++)
        forget(&nothing, rank);
    swept_keep(sweep, &nothing, NULL);
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
    struct mirror *mirror = task->rest ? NULL : mirror_find(task);
    if (sweep_begin(task, &sweep)) {
        sweep.rest = task->rest ? task->rest : mirror_rest(mirror);
        const size_t all = sweep_run(&sweep);
        *fits = all != NONE;
        if (*fits)
            swept_trace(&sweep, &sweep.pool[all], turns);
    }
    sweep_end(&sweep);
    mirror_forget(mirror);
    return !task->ranks->failed && !task->ranks->ended;
}

bool sweep_mark_all(struct sweep *sweep) {
    const struct sweep_task *task = sweep->task;
    for (size_t c = 0; c < task->ranks->class_count; c++)
        for (size_t rank = 0; rank < task->ranks->ranks; rank++)
            for (size_t i = 0; i < task->berths[c][rank].count; i++)
                task->berths[c][rank].list[i].mark = INFINITY;
    sweep->all = sweep->marks = true;
    sweep_run(sweep);
    return !task->ranks->failed && !task->ranks->ended;
}

struct sweep *sweep_mark(const struct sweep_task *task) {
    struct sweep *sweep = calloc(1, sizeof *sweep);
    if (!sweep)
        return NULL;
    struct mirror *mirror = task->rest ? NULL : mirror_find(task);
    bool good = sweep_begin(task, sweep);
    sweep->rest = task->rest ? task->rest : mirror_rest(mirror);
    good = good && sweep_mark_all(sweep);
    mirror_forget(mirror);
    sweep->rest = NULL;
    if (good)
        return sweep;
    sweep_forget(sweep);
    return NULL;
}

void sweep_forget(struct sweep *sweep) {
    if (sweep)
        sweep_end(sweep);
    free(sweep);
}
