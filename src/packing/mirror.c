#include "length.h"
#include "outlines.h"
#include "swept.h"

#include <stdlib.h>

/* Where more states than that can follow there is room, and not much is left out by knowing them.
 */
enum { MIRRORED_MOST = 16000 };

/* The same from the far end: X is the negative of what it was, and nothing reaches beyond anything.
 */
struct mirror {
    struct ranks ranks;
    struct sweep_task task;
    struct flank bare;
    struct sweep sweep;
    bool known;
};

/* False without memory. */
static bool turn_berths(struct mirror *mirror, const struct sweep_task *task, size_t c, int rank) {
    struct berths turned = {.list = NULL};
    bool good = true;
    for (size_t i = 0; i < task->berths[c][rank].count && good; i++) {
        struct berth berth = task->berths[c][rank].list[i];
        const double from = berth.from;
        berth.from = -berth.to;
        berth.to = -from;
        berth.near = berth.far = 0;
        good = berths_add(&turned, &berth);
    }
    good = good && outline_berths(&turned, rank, &mirror->task.near, &mirror->task.far,
                                  &mirror->task.berths[c][rank]);
    free(turned.list);
    return good;
}

static bool turn(struct mirror *mirror, const struct sweep_task *task) {
    bool good = true;
    mirror->ranks = *task->ranks;
    mirror->task.ranks = &mirror->ranks;
    mirror->task.most = MIRRORED_MOST;
    mirror->task.near = mirror->task.far = (struct flanks){&mirror->bare, 1, 1};
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

void mirror_forget(struct mirror *mirror) {
    if (!mirror)
        return;
    if (mirror->sweep.task)
        sweep_end(&mirror->sweep);
    for (size_t c = 0; c < mirror->ranks.class_count; c++)
        for (int rank = 0; rank < RANK_COUNT; rank++)
            free(mirror->task.berths[c][rank].list);
    free(mirror);
}

const struct sweep *mirror_rest(const struct mirror *mirror) {
    return mirror && mirror->known ? &mirror->sweep : NULL;
}

/* Whether the rest can begin there, whatever its parts reach: from its end on, one that stands is
 * the negative of its X. */
static bool can_begin(const struct sweep *sweep, const struct swept *swept,
                      const struct key *rest) {
    const struct last *last = swept->last;
    const double order = length_greater(last[RANK_LOWER].x, last[RANK_UPPER].x);
    for (int rank = 0; rank < RANK_COUNT; rank++)
        if (-rest->x[rank] < length_greater(order, last[rank].x + sweep->closest) - SAME)
            return false;
    const bool over = last[RANK_LOWER].edge + sweep->over <= rest->edge[RANK_UPPER] + SAME,
               under = rest->edge[RANK_LOWER] + sweep->over <= last[RANK_UPPER].edge + SAME;
    return (over || -rest->x[RANK_UPPER] >= last[RANK_LOWER].x + sweep->closest - SAME) &&
           (under || -rest->x[RANK_LOWER] >= last[RANK_UPPER].x + sweep->closest - SAME);
}

/* Whether all that are to come can follow. */
bool mirror_follows(const struct sweep *sweep, const struct swept *swept) {
    const struct sweep *rest = sweep->rest;
    if (!rest)
        return true;
    const size_t shapes = rest->shapes * rest->shapes,
                 from = (sweep->ranks->states - 1 - swept->state) * shapes;
    for (size_t i = from; i < from + shapes; i++)
        for (size_t k = 0; k < rest->buckets[i].count; k++)
            if (can_begin(sweep, swept, &rest->buckets[i].list[k]))
                return true;
    return false;
}
