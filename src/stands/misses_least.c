/* The least that a bracket may lack, by its X. */
#include "gathering.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

/* So many functions are put together at a time. */
enum { BATCH = 32 };
struct batch {
    struct pieces many[BATCH + 1]; /* the first: what was put together so far */
    size_t count;
};

static bool put_together(struct batch *batch) {
    struct pieces least = {.list = NULL};
    const bool good = pieces_least(batch->many, batch->count, &least);
    batch->many[0] = least;
    batch->count = 1;
    return good;
}

/* One more, unless it is nowhere below the others. */
static bool add(struct batch *batch, struct pieces *one) {
    bool good = true;
    if (!pieces_undercut(&batch->many[0], one)) {
        pieces_free(one);
        return true;
    }
    batch->many[batch->count++] = *one;
    if (batch->count > BATCH)
        good = put_together(batch);
    return good;
}

/* What a stand lacks at the least: along the eave with the setbacks there, which are the lesser
 * part of them at most; up the slope whatever is best. */
static bool add_stand(struct gathering *gathering, size_t index, struct batch *batch) {
    struct gathered gathered;
    struct pieces one = {.list = NULL};
    if (!gathering_begin(gathering, index, &gathered) || !(gathered.up < INFINITY))
        return !gathering->failed;
    const struct interval *inside = &gathering->inside[GATHERING_X];
    lack_window(&gathered.along, inside->lo, inside->hi, 1);
    if (!pieces_add_lack(&one, &gathered.along, gathered.x, (struct scale){1, gathered.up}, 0)) {
        pieces_free(&one);
        return false;
    }
    return add(batch, &one);
}

/* At a level of 0 or more nothing is lacked wherever the bracket can stand. */
static bool add_spots(const struct stands *stands, double level, struct interval up,
                      struct batch *batch) {
    struct spot *spots = NULL;
    size_t count = 0;
    bool good = stands_at(stands, level, false, &spots, &count) == OUTCOME_DONE;
    for (size_t i = 0; i < count && good; i++) {
        const struct spot *spot = &spots[i];
        struct pieces one = {.list = NULL};
        if (spot->y.lo > up.hi || spot->y.hi < up.lo)
            continue;
        good =
            pieces_add(&one, (struct piece){spot->x.lo, spot->x.hi, 0, 0, 0}) && add(batch, &one);
    }
    free(spots);
    return good;
}

enum outcome stands_lacks(struct stands *stands, const struct misses_ask *ask, struct interval up,
                          struct pieces *lacks, bool *crowded) {
    struct gathering gathering = gathering_open(stands, ask);
    struct batch batch = {.count = 1};
    bool good = gathering.made != NULL;
    gathering.up = up;
    if (good && ask->level >= 0)
        good = add_spots(stands, ask->level, up, &batch);
    for (size_t i = 0; i < stands->count && good && ask->level < 0; i++)
        good = gathering_over(&gathering) || add_stand(&gathering, i, &batch);
    good = good && put_together(&batch);
    *crowded = good && gathering.made->crowded;
    *lacks = batch.many[0];
    gathering_rows_free(&gathering);
    misses_free(gathering.made);
    return good ? OUTCOME_DONE : OUTCOME_FAULT;
}

struct interval stands_up(const struct stands *stands, double level) {
    struct interval up = {INFINITY, -INFINITY};
    for (size_t i = 0; i < stands->count; i++) {
        up.lo = length_lesser(up.lo, stands->list[i].y[0] + level);
        up.hi = length_greater(up.hi, stands->list[i].y[1] - level);
    }
    return up;
}
