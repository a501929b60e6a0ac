#include "crowding.h"

#include "deepen.h"

#include <math.h>

/* An earlier bracket that can be held in just the same ways; b where there is none. */
static size_t twin_of(const struct roof *roof, const struct terms *terms, size_t b) {
    const struct limits *limits = terms->limits;
    if ((limits && (limits->count > 0 || limits->least_lags)) || terms->near > 0)
        return b;
    for (size_t a = 0; a < b; a++)
        if (roof_same_hardware(roof, a, b))
            return a;
    return b;
}

/* Every bracket with the best level that it has alone; false in *good where that of one is not
 * known.  Its stands at that level may be too many to be listed: what a company asks for is cut at
 * levels of its own. */
enum outcome crowding_list(const struct roof *roof, const struct terms *terms,
                           struct stands_answer *answer, struct crowd *crowd, bool *good) {
    enum outcome outcome = OUTCOME_DONE;
    *good = true;
    for (size_t b = 0; b < roof->bracket_count && outcome == OUTCOME_DONE; b++) {
        const size_t twin = twin_of(roof, terms, b);
        crowd->ceilings[b] = -INFINITY;
        struct deepening deepening = {roof, terms, b, .arms = crowd->arms};
        if (twin == b)
            outcome = deepen_stands(&deepening, &answer->stands[b], &crowd->ceilings[b]);
        if (outcome == OUTCOME_DONE && answer->stands[b] && answer->stands[b]->crowded) {
            deepening.best_only = true;
            outcome = deepen_stands(&deepening, &answer->stands[b], &crowd->ceilings[b]);
            if (answer->stands[b])
                answer->stands[b]->least = INFINITY; /* what is best alone is not all there is */
        }
        if (twin == b)
            continue;
        if (answer->stands[twin])
            answer->stands[b] = stands_share(answer->stands[twin]);
        crowd->ceilings[b] = crowd->ceilings[twin];
    }
    for (size_t b = 0; b < roof->bracket_count && outcome == OUTCOME_DONE; b++)
        *good = *good && answer->stands[b] && crowd->ceilings[b] > -INFINITY;
    return outcome;
}

/* The cheapest packing of all ways to have the rungs; any: the first one. */
enum outcome crowding_pack(const struct crowd *crowd, const struct rungs *rungs, bool any,
                           struct packed *best) {
    *best =
        (struct packed){.bound = rungs->partial ? -INFINITY : INFINITY, .proved = !rungs->partial};
    for (size_t i = 0; i < rungs->count && !(any && best->found); i++) {
        struct rungs_packing packing;
        if (i > 0 && crowd_late(crowd)) { /* ways may be many */
            best->proved = false;
            best->bound = -INFINITY;
            break;
        }
        const enum outcome outcome =
            rungs_pack(crowd, rungs->levels[i], any ? EFFORT_ANY : EFFORT_BEST, &packing);
        const bool found = packing_there(packing.end);
        best->proved =
            best->proved && packing.end != PACKING_FOUND && packing.end != PACKING_UNDECIDED;
        best->bound = fmin(best->bound, packing.bound.cost);
        if (found && (!best->found || packing.worth.cost < best->packing.worth.cost)) {
            const struct rungs_packing worse = best->packing;
            best->packing = packing;
            packing = worse;
            best->levels = rungs->levels[i];
            best->found = true;
        }
        rungs_packing_free(&packing);
        if (outcome != OUTCOME_DONE)
            return outcome;
    }
    return OUTCOME_DONE;
}
