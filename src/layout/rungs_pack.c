/* One packing of a company at given levels, with the stands listed as far down as these ask. */
#include "rungs.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { NODES_GLANCE = 3000, NODES_MOST = 1000000, FEW = 8 };
/* A packing of as many takes long even of few brackets, and may be begun too late. */
enum { SPOTS_LONG = 200000 };

static size_t nodes_most(size_t brackets, enum effort effort) {
    const size_t most = effort == EFFORT_GLANCE ? NODES_GLANCE : NODES_MOST;
    return brackets <= FEW ? most : most * FEW * FEW / (brackets * brackets);
}

struct stands_ask crowd_ask(const struct crowd *crowd, size_t b) {
    return (struct stands_ask){.roof = crowd->roof,
                               .bracket = b,
                               .limits = crowd->limits,
                               .arms = crowd->arms,
                               .lenient = crowd->lenient,
                               .near = crowd->near,
                               .rack = crowd->rack,
                               .stop = crowd->stop,
                               .subject = crowd->subject};
}

struct parcel rungs_parcel(const struct crowd *crowd, size_t b, double level) {
    const struct kit *kit = roof_kit(crowd->roof, b);
    const struct bracket *bracket = &crowd->roof->brackets[b];
    return (struct parcel){.width = kit->width,
                           .height = kit->height,
                           .want_x = bracket->want_x,
                           .want_y = bracket->want_y,
                           .room = crowd->roof->apart + 2 * level,
                           .level = level};
}

void rungs_packing_free(struct rungs_packing *packing) {
    for (size_t b = 0; b < ROOF_BRACKETS_MOST; b++) {
        stands_free(packing->stands[b]);
        packing->stands[b] = NULL;
    }
}

static void share_packing(const struct rungs_packing *packing, struct rungs_packing *copy) {
    *copy = *packing;
    for (size_t b = 0; b < ROOF_BRACKETS_MOST; b++)
        copy->stands[b] = packing->stands[b] ? stands_share(packing->stands[b]) : NULL;
}

void rungs_meet(struct rungs *rungs, const double *levels, const struct rungs_packing *packing) {
    rungs_packing_free(&rungs->packing);
    share_packing(packing, &rungs->packing);
    memcpy(rungs->packed_at, levels, sizeof rungs->packed_at);
    rungs->has_packing = true;
}

void rungs_free(struct rungs *rungs) {
    free(rungs->levels);
    rungs->levels = NULL;
    rungs_packing_free(&rungs->packing);
}

/* Not all stands were looked at. */
static void doubt(struct rungs_packing *packing, bool any) {
    if (packing->end == PACKING_NONE)
        packing->end = PACKING_UNDECIDED;
    else if (packing->end == PACKING_PROVED && !any)
        packing->end = PACKING_FOUND;
    packing->bound = (struct worth){.lack = 0, .cost = -INFINITY};
}

enum outcome rungs_pack(const struct crowd *crowd, const double *levels, enum effort asked,
                        struct rungs_packing *packing) {
    const enum effort effort = crowd->hasty && asked == EFFORT_ANY ? EFFORT_GLANCE : asked;
    struct parcel parcels[ROOF_BRACKETS_MOST];
    struct arms arms[ROOF_BRACKETS_MOST];
    const size_t count = crowd->roof->bracket_count;
    enum outcome outcome = OUTCOME_DONE;
    size_t spots = 0;
    bool listed = true, partial = false;
    *packing =
        (struct rungs_packing){.end = PACKING_UNDECIDED, .bound = {.lack = 0, .cost = -INFINITY}};
    cuts_tidy(crowd->cuts);
    for (size_t b = 0; b < count && outcome == OUTCOME_DONE && listed; b++) {
        struct cut cut;
        parcels[b] = rungs_parcel(crowd, b, levels[b]);
        outcome = cuts_find(crowd, b, levels[b], &cut);
        listed = outcome == OUTCOME_DONE && cut.listed &&
                 !((b >= FEW || spots > SPOTS_LONG) && crowd_late(crowd));
        spots += listed ? cut.count : 0;
        partial = partial || (listed && cut.partial);
        if (listed) {
            parcels[b].spots = cut.spots;
            parcels[b].spot_count = cut.count;
            arms[b] = arms_of(crowd, b, (const struct arm(*)[ROW_COUNT])cut.arms);
            arms[b].strips = cut.strips;
            parcels[b].arms = cut.arms ? &arms[b] : NULL;
            packing->stands[b] = stands_share(cut.stands);
        }
    }
    const struct packing_task task = {.parcels = parcels,
                                      .count = count,
                                      .hole_worth = crowd->roof->hole_worth,
                                      .wider = crowd->wider,
                                      .any = effort != EFFORT_BEST,
                                      .most_nodes = nodes_most(count, effort),
                                      .hasty = crowd->hasty,
                                      .stop = crowd->stop,
                                      .subject = crowd->subject};
    if (outcome == OUTCOME_DONE && listed)
        outcome =
            packing_find(&task, &packing->end, packing->placed, &packing->worth, &packing->bound);
    if (partial)
        doubt(packing, task.any);
    return outcome;
}
