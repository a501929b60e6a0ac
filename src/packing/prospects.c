/* What brackets may lack by where they stand along the eave, before their spots are known. */
#include "packing.h"

#include "length.h"
#include "ranks.h"

#include <math.h>
#include <stdlib.h>

/* So much closer than they must be brackets may seem to stand by roundings. */
#define ROUNDING 1e-7

static double room_of(const struct prospect_task *task, size_t c, size_t other) {
    return length_greater(task->kinds[c].room, task->kinds[other].room);
}

static void begin(const struct prospect_task *task, struct ranks *ranks) {
    ranks->stop = task->stop;
    ranks->subject = task->subject;
    ranks->class_count = task->count;
    for (size_t c = 0; c < task->count; c++) {
        const struct prospect *kind = &task->kinds[c];
        ranks->classes[c] = (struct rank_class){
            .size = kind->size, .height = kind->height, .along = kind->along, .up = kind->up};
        for (size_t o = 0; o < task->count; o++) {
            const double room = room_of(task, c, o);
            ranks->over[c][o] = room - ROUNDING;
            ranks->behind[c][o] =
                (struct behind){.by = kind->width + room - ROUNDING,
                                .rather = kind->width + length_greater(room, task->apart),
                                .weight = 0.5};
        }
    }
}

bool prospects_ranks(const struct prospect_task *task, struct interval up[PROSPECTS_MOST][2],
                     size_t *count) {
    struct ranks *ranks = task->count <= RANK_CLASSES_MOST ? calloc(1, sizeof *ranks) : NULL;
    bool good = ranks != NULL;
    if (good) {
        begin(task, ranks);
        good = ranks_begin(ranks) && ranks->ranks <= RANKS_COSTED;
        *count = ranks->ranks;
        for (size_t c = 0; c < task->count && good; c++) {
            const struct rank_class *class = &ranks->classes[c];
            up[c][0] = up[c][1] = class->up;
            if (ranks->ranks > 1)
                up[c][0].hi = up[c][1].lo = class->part[RANK_UPPER].lo;
        }
    }
    free(ranks);
    return good;
}

enum outcome prospects_find(const struct prospect_task *task, struct pieces *rest, double *least,
                            bool *known) {
    struct ranks *ranks = calloc(1, sizeof *ranks);
    struct rank_turns turns;
    bool good = ranks != NULL;
    *known = false;
    if (!ranks)
        return OUTCOME_FAULT;
    begin(task, ranks);
    *known = ranks_begin(ranks) && ranks->ranks <= RANKS_COSTED;
    for (size_t c = 0; c < task->count && *known && good; c++)
        for (size_t rank = 0; rank < ranks->ranks && good; rank++)
            good = pieces_copy(&task->kinds[c].lacks[rank], &ranks->classes[c].costs[rank]);
    ranks->failed = !good;
    *known = *known && good && ranks_run(ranks) && ranks_rest(ranks, rest);
    if (*known)
        *least = ranks_least(ranks, &turns);
    good = !ranks->failed;
    ranks_free(ranks);
    free(ranks);
    return good ? OUTCOME_DONE : OUTCOME_FAULT;
}
