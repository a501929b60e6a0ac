#include "length.h"
#include "outlines.h"
#include "swept.h"

#include <math.h>
#include <stdlib.h>

/* Where more states than that can follow there is room, and not much is left out by knowing them.
 */
enum { MIRRORED_MOST = 16000 };

/* The same from the far end: X is the negative of what it was. */
struct mirror {
    struct ranks ranks;
    struct sweep_task task; /* its flanks are owned, or nothing reaches beyond anything: `bare` */
    struct flank bare;
    bool thorough;
    struct sweep sweep;
    bool known;
};

static struct berth turned(const struct mirror *mirror, const struct berth *berth) {
    struct berth made = *berth;
    made.from = -berth->to;
    made.to = -berth->from;
    if (!mirror->thorough)
        made.leeway = (struct leeway){.at = {{.lo = 0}}};
    made.near = mirror->thorough ? berth->far : 0;
    made.far = mirror->thorough ? berth->near : 0;
    return made;
}

/* False without memory. */
static bool turn_berths(struct mirror *mirror, const struct sweep_task *task, size_t c, int rank) {
    struct berths all = {.list = NULL};
    bool good = true;
    for (size_t i = 0; i < task->berths[c][rank].count && good; i++) {
        const struct berth berth = turned(mirror, &task->berths[c][rank].list[i]);
        good = berths_add(&all, &berth);
    }
    good = good && outline_berths(&all, &mirror->task.near, &mirror->task.far,
                                  &mirror->task.berths[c][rank]);
    free(all.list);
    return good;
}

/* False without memory. */
static bool turn_flanks(const struct flanks *flanks, struct flanks *turned) {
    turned->list = malloc((flanks->count + 1) * sizeof *turned->list);
    for (size_t i = 0; i < flanks->count && turned->list; i++) {
        turned->list[i] = flanks->list[i];
        for (size_t k = 0; k < FLANK_PARTS; k++) {
            turned->list[i].parts[k].fixed = -flanks->list[i].parts[k].fixed;
            turned->list[i].parts[k].goes = -flanks->list[i].parts[k].goes;
        }
        turned->count++;
    }
    return turned->list != NULL;
}

static bool turn(struct mirror *mirror, const struct sweep_task *task) {
    bool good = true;
    mirror->ranks = *task->ranks;
    mirror->task.ranks = &mirror->ranks;
    if (mirror->thorough) {
        mirror->task.most = task->most;
        mirror->task.beyond = task->beyond;
        mirror->task.narrows = task->narrows;
        mirror->task.stacks = task->stacks;
        good = turn_flanks(&task->far, &mirror->task.near);
        good = turn_flanks(&task->near, &mirror->task.far) && good;
    } else {
        mirror->task.most = MIRRORED_MOST;
        mirror->task.near = mirror->task.far = (struct flanks){&mirror->bare, 1, 1};
    }
    for (size_t c = 0; c < task->ranks->class_count; c++) {
        mirror->task.level[c] = task->level[c];
        for (size_t o = 0; o < task->ranks->class_count; o++)
            mirror->ranks.behind[c][o] = task->ranks->behind[o][c];
        for (size_t rank = 0; rank < task->ranks->ranks && good; rank++)
            good = turn_berths(mirror, task, c, (int)rank);
    }
    return good;
}

/* What can follow, where that says more than the room that is left. */
struct mirror *mirror_find(const struct sweep_task *task) {
    struct mirror *mirror =
        task->near.count + task->far.count > 2 ? calloc(1, sizeof *mirror) : NULL;
    if (!mirror)
        return NULL;
    if (turn(mirror, task) && sweep_begin(&mirror->task, &mirror->sweep)) {
        mirror->sweep.all = true;
        sweep_run(&mirror->sweep);
        mirror->known = !mirror->ranks.failed && !mirror->ranks.ended;
    }
    return mirror;
}

struct mirror *mirror_mark(const struct sweep_task *task, const struct sweep *ahead) {
    struct mirror *mirror = calloc(1, sizeof *mirror);
    if (!mirror)
        return NULL;
    mirror->thorough = true;
    if (turn(mirror, task) && sweep_begin(&mirror->task, &mirror->sweep)) {
        mirror->sweep.rest = ahead;
        mirror->known = sweep_mark_all(&mirror->sweep);
        mirror->sweep.rest = NULL;
    }
    if (mirror->known)
        return mirror;
    mirror_forget(mirror);
    return NULL;
}

bool mirror_marked(const struct mirror *mirror, size_t c, int rank, const struct berth *some,
                   double *to) {
    const struct berth berth = turned(mirror, some);
    const bool marked = outline_marked(&berth, &mirror->task.near, &mirror->task.far,
                                       &mirror->task.berths[c][rank], to);
    *to = -*to;
    return marked;
}

void mirror_forget(struct mirror *mirror) {
    if (!mirror)
        return;
    if (mirror->sweep.task)
        sweep_end(&mirror->sweep);
    for (size_t c = 0; c < mirror->ranks.class_count; c++)
        for (int rank = 0; rank < RANK_COUNT; rank++)
            free(mirror->task.berths[c][rank].list);
    if (mirror->thorough) {
        free(mirror->task.near.list);
        free(mirror->task.far.list);
    }
    free(mirror);
}

const struct sweep *mirror_rest(const struct mirror *mirror) {
    return mirror && mirror->known ? &mirror->sweep : NULL;
}

/* What the last one that stands in a rank and the first of the rest in one reach. */
struct meeting {
    const struct last *last, *first;
    const struct reach *far, *near; /* from its end on, what the rest reaches is the negative */
};

/* Whether one is above the other, wherever they are along the eave. */
static bool is_over(const struct ranks *ranks, const struct meeting *meeting, bool below) {
    const struct last *last = meeting->last, *first = meeting->first;
    return below ? last->top + ranks->over[last->class][first->class] <= first->low + SAME
                 : first->top + ranks->over[first->class][last->class] <= last->low + SAME;
}

static bool is_behind(const struct sweep *sweep, const struct meeting *meeting) {
    const double by = sweep->ranks->behind[meeting->last->class][meeting->first->class].by;
    return -meeting->first->x >= meeting->last->x + by - SAME;
}

/* Whether what they reach is clear of each other, each part of each; over: of those that are known
 * to be above each other. */
static bool is_clear(const struct sweep *sweep, const struct meeting *meeting, bool over) {
    const size_t c = meeting->last->class, d = meeting->first->class;
    const double level = length_greater(sweep->task->level[c], sweep->task->level[d]);
    for (size_t i = 0; i < FLANK_PARTS; i++)
        for (size_t k = 0; k < FLANK_PARTS && meeting->far[i].end > -INFINITY; k++) {
            const struct reach *far = &meeting->far[i], *near = &meeting->near[k];
            const double gap = swept_part_gap(i, k, level);
            if ((!over || swept_stacked(i, k)) && far->end + gap > -near->end + SAME &&
                near->low < far->high + gap - SAME && far->low < near->high + gap - SAME)
                return false;
        }
    return true;
}

static bool can_meet(const struct sweep *sweep, const struct swept *swept, int rank,
                     const struct swept *rest, int other) {
    const struct meeting meeting = {&swept->last[rank], &rest->last[other], swept->far[rank],
                                    rest->far[other]};
    if (meeting.last->class == NOBODY || meeting.first->class == NOBODY)
        return true;
    if (is_behind(sweep, &meeting))
        return is_clear(sweep, &meeting, false);
    return rank != other && is_over(sweep->ranks, &meeting, rank_below(rank, other)) &&
           (!sweep->task->stacks || is_clear(sweep, &meeting, true));
}

/* Whether the rest can begin there: from its end on, one that stands is the negative of its X. */
static bool can_begin(const struct sweep *sweep, const struct swept *swept, double order,
                      const struct swept *rest) {
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++)
        if (-rest->last[rank].x < order - SAME)
            return false;
    for (int rank = 0; rank < (int)sweep->ranks->ranks; rank++)
        for (int other = 0; other < (int)sweep->ranks->ranks; other++)
            if (!can_meet(sweep, swept, rank, rest, other))
                return false;
    return true;
}

/* Whether all that are to come can follow. */
bool mirror_follows(const struct sweep *sweep, const struct swept *swept) {
    const struct sweep *rest = sweep->rest;
    if (!rest)
        return true;
    const double order = swept_order(swept);
    const size_t shapes = rest->bucket_count / sweep->ranks->states,
                 from = (sweep->ranks->states - 1 - swept->state) * shapes;
    for (size_t i = from; i < from + shapes; i++)
        for (size_t k = 0; k < rest->buckets[i].count; k++)
            if (can_begin(sweep, swept, order, &rest->pool[rest->buckets[i].list[k].at]))
                return true;
    return false;
}
