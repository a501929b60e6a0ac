#include "misses_pack.h"

#include "gathered.h"
#include "length.h"
#include "packing.h"
#include "pieces.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What the struts of all brackets reach; lists are owned, once each. */
struct reached {
    struct arm (*lists[ROOF_BRACKETS_MOST])[ROW_COUNT];
    struct arms arms[ROOF_BRACKETS_MOST];
    size_t count;
};

static void free_arms(struct reached *reached) {
    for (size_t i = 0; i < reached->count; i++)
        free(reached->lists[i]);
}

static bool list_arms(const struct crowd *crowd, size_t count, const double *levels,
                      const struct misses_answer *way, struct reached *reached) {
    for (size_t b = 0; b < count; b++) {
        size_t like = 0;
        while (like < b &&
               (way->misses[like] != way->misses[b] || !length_same(levels[like], levels[b])))
            like++;
        if (like < b) {
            reached->arms[b] = reached->arms[like];
            continue;
        }
        const bool all = levels[b] < 0 || crowd->arms == ENDS_ALL;
        const struct stands *stands = way->misses[b]->stands;
        struct strips strips;
        struct arm(*list)[ROW_COUNT] =
            stands_strips(stands->roof, stands->bracket, levels[b], &strips)
                ? arms_list(stands, levels[b], &strips, all)
                : NULL;
        free(strips.list);
        if (!list)
            return false;
        reached->lists[reached->count++] = list;
        reached->arms[b] = arms_of(crowd, b, (const struct arm(*)[ROW_COUNT])list);
    }
    return true;
}

/* Where lines and lags had better be, by what is free to them just where the brackets stand. */
static void clear_lines(const struct packing_task *task, const double *levels,
                        struct misses_answer *way) {
    struct miss own[ROOF_BRACKETS_MOST];
    const struct miss *was[ROOF_BRACKETS_MOST] = {NULL};
    for (size_t b = 0; b < task->count; b++) {
        struct placed *placed = &way->placed[b];
        struct spot there = placed->spot;
        there.x = (struct interval){placed->x, placed->x};
        there.y = (struct interval){placed->y, placed->y};
        was[b] = placed->spot.miss;
        own[b] = *was[b];
        if (own[b].ends)
            stands_draw_in(way->misses[b]->stands, &there, levels[b], &own[b]);
        placed->spot.miss = &own[b];
    }
    packing_clear_lines(task, way->placed);
    for (size_t b = 0; b < task->count; b++)
        way->placed[b].spot.miss = was[b];
}

enum outcome misses_pack(const struct crowd *crowd, const double *levels, const struct worth *than,
                         struct misses_answer *way) {
    const size_t count = crowd->roof->bracket_count;
    struct parcel parcels[ROOF_BRACKETS_MOST];
    struct reached reached = {.count = 0};
    if (crowd->arms && !list_arms(crowd, count, levels, way, &reached)) {
        free_arms(&reached);
        return OUTCOME_FAULT;
    }
    for (size_t b = 0; b < count; b++) {
        const struct misses *misses = way->misses[b];
        parcels[b] = rungs_parcel(crowd, b, levels[b]);
        parcels[b].arms = crowd->arms ? &reached.arms[b] : NULL;
        parcels[b].spots = misses->spots;
        parcels[b].spot_count = misses->count;
        memcpy(parcels[b].inside, misses->inside, sizeof parcels[b].inside);
    }
    const struct packing_task task = {.parcels = parcels,
                                      .count = count,
                                      .hole_worth = crowd->roof->hole_worth,
                                      .misses = true,
                                      .apart = crowd->roof->apart,
                                      .than = than,
                                      .stop = crowd->stop,
                                      .subject = crowd->subject};
    const enum outcome outcome =
        packing_find(&task, &way->end, way->placed, &way->worth, &way->bound);
    if (outcome == OUTCOME_DONE && crowd->arms && packing_there(way->end))
        clear_lines(&task, levels, way);
    free_arms(&reached);
    return outcome;
}

/* Places closer than this are the same. */
#define SAME (LENGTH_TOLERANCE / 10)

static struct interval nearest(struct interval side, double at) {
    const double there = length_greater(side.lo, length_lesser(side.hi, at));
    return (struct interval){there, there};
}

/* Spots that a place lies in, each as nothing but that place. */
static void keep_place(struct misses *misses, const struct placed *placed) {
    size_t kept = 0;
    for (size_t i = 0; i < misses->count; i++) {
        struct spot spot = misses->spots[i];
        spot.x = nearest(spot.x, placed->x);
        spot.y = nearest(spot.y, placed->y);
        if (fabs(spot.x.lo - placed->x) <= SAME && fabs(spot.y.lo - placed->y) <= SAME)
            misses->spots[kept++] = spot;
    }
    misses->count = kept;
}

/* What a bracket may lack where it stands; NULL where there is too much to look at. */
static enum outcome gather_there(const struct crowd *crowd, size_t b, double level,
                                 const struct placed *placed, struct misses **misses) {
    struct piece there = {.from = placed->x - SAME,
                          .to = placed->x + SAME,
                          .at_from = ROOF_ENDLESS,
                          .at_to = ROOF_ENDLESS};
    const struct pieces allowed = {.list = &there, .count = 1};
    const struct misses_ask ask = {.level = level,
                                   .allowed = &allowed,
                                   .room = SPOTS_MOST,
                                   .stop = crowd->stop,
                                   .subject = crowd->subject};
    struct stands *stands = NULL;
    enum outcome outcome = gathered_stands(crowd, b, level, &stands);
    if (outcome == OUTCOME_DONE && stands)
        outcome = stands_misses(stands, &ask, misses);
    if (outcome == OUTCOME_DONE && *misses)
        keep_place(*misses, placed);
    return outcome;
}

enum outcome misses_there(const struct crowd *crowd, const double *levels,
                          const struct placed *placed, struct misses_answer *answer) {
    enum outcome outcome = OUTCOME_DONE;
    bool all = true;
    *answer = (struct misses_answer){.end = PACKING_UNDECIDED};
    for (size_t b = 0; b < crowd->roof->bracket_count && outcome == OUTCOME_DONE && all; b++) {
        outcome = gather_there(crowd, b, levels[b], &placed[b], &answer->misses[b]);
        all = outcome == OUTCOME_DONE && answer->misses[b] && answer->misses[b]->count > 0;
    }
    if (outcome == OUTCOME_DONE && all)
        outcome = misses_pack(crowd, levels, NULL, answer);
    return outcome;
}
