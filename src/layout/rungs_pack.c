/* One packing of a company at given levels, with the stands listed as far down as these ask. */
#include "rungs.h"

#include <stdlib.h>

/* Whether anything packs at a level is mostly seen at once; a search that goes on and on is left
 * undecided. */
enum { NODES_MOST = 20000 };

const double rungs_depths[RUNGS_DEPTHS] = {0, -0.5, -2, -8, -32};

/* The deeper list for all who have the other one. */
static void replace(const struct crowd *crowd, const struct stands *shallow,
                    struct stands *deeper) {
    for (size_t o = 0; o < crowd->roof->bracket_count; o++)
        if (crowd->stands[o] == shallow) {
            stands_free(crowd->stands[o]);
            crowd->stands[o] = stands_share(deeper);
        }
}

/* Lists the stands of a bracket as far down as that level; false in *listed where they are too many
 * or lie too deep. */
static enum outcome deepen(const struct crowd *crowd, size_t b, double level, bool *listed) {
    struct stands **stands = &crowd->stands[b];
    size_t depth = 0;
    *listed = level >= (*stands)->least;
    while (depth < RUNGS_DEPTHS && rungs_depths[depth] > level)
        depth++;
    if (*listed || depth == RUNGS_DEPTHS)
        return OUTCOME_DONE;
    struct stands *deeper = NULL, *const shallow = *stands;
    enum outcome outcome = stands_find(crowd->roof, b, rungs_depths[depth], crowd->limits, &deeper);
    if (outcome == OUTCOME_DONE && deeper->crowded) { /* no deeper than need be, then */
        stands_free(deeper);
        outcome = stands_find(crowd->roof, b, level, crowd->limits, &deeper);
    }
    if (outcome != OUTCOME_DONE)
        return outcome;
    *listed = !deeper->crowded;
    if (*listed)
        replace(crowd, shallow, deeper);
    stands_free(deeper);
    return OUTCOME_DONE;
}

struct parcel rungs_parcel(const struct crowd *crowd, size_t b, double level) {
    const struct kit *kit = roof_kit(crowd->roof, b);
    const struct bracket *bracket = &crowd->roof->brackets[b];
    return (struct parcel){.width = kit->width,
                           .height = kit->height,
                           .want_x = bracket->want_x,
                           .want_y = bracket->want_y,
                           .room = crowd->roof->apart + 2 * level};
}

enum outcome rungs_pack(const struct crowd *crowd, const double *levels, bool any,
                        enum packing_end *end, struct placed *placed, struct worth *worth,
                        struct worth *bound) {
    struct parcel parcels[ROOF_BRACKETS_MOST];
    struct spot *spots[ROOF_BRACKETS_MOST] = {NULL};
    const size_t count = crowd->roof->bracket_count;
    enum outcome outcome = OUTCOME_DONE;
    *end = PACKING_UNDECIDED;
    bool listed = true;
    for (size_t b = 0; b < count && outcome == OUTCOME_DONE && listed; b++) {
        parcels[b] = rungs_parcel(crowd, b, levels[b]);
        outcome = deepen(crowd, b, levels[b], &listed);
        if (outcome == OUTCOME_DONE)
            outcome =
                stands_at(crowd->stands[b], levels[b], false, &spots[b], &parcels[b].spot_count);
        parcels[b].spots = spots[b];
    }
    const struct packing_task task = {.parcels = parcels,
                                      .count = count,
                                      .hole_worth = crowd->roof->hole_worth,
                                      .any = any,
                                      .most_nodes = NODES_MOST,
                                      .stop = crowd->stop,
                                      .subject = crowd->subject};
    if (outcome == OUTCOME_DONE && listed)
        outcome = packing_find(&task, end, placed, worth, bound);
    for (size_t b = 0; b < count; b++)
        free(spots[b]);
    return outcome;
}
