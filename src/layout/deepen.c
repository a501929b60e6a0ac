/* The depths are tried from the top, as a list is longer and takes longer the deeper it goes. */
#include "deepen.h"

#include "packing.h"
#include "solve.h"

#include <math.h>

/* Of a bracket among several, more stands are not listed at first: a cut at every level that is
 * looked at is sooner done. */
enum { SEVERAL_MOST = 8000 };

bool deepen_late(void *subject) {
    const struct terms *terms = subject;
    if (terms->steps)
        *terms->steps += PACKING_LOOK;
    return solve_now(terms->steps) >= terms->deadline_s;
}

/* Lists them anew, down to a level of a depth. */
static enum outcome list_down_to(const struct deepening *deepening, double depth, double level,
                                 struct stands **stands, double *best) {
    const struct stands_ask ask = {.roof = deepening->roof,
                                   .bracket = deepening->bracket,
                                   .limits = deepening->terms->limits,
                                   .most = deepening->best_only ? 0 : SEVERAL_MOST,
                                   .arms = deepening->arms,
                                   .lenient = deepening->terms->lenient,
                                   .near = deepening->terms->near,
                                   .rack = deepening->terms->rack,
                                   .stop = deepen_late,
                                   .subject = (void *)deepening->terms};
    stands_free(*stands);
    *stands = NULL;
    if (deepening->best_only)
        return stands_find_best(&ask, depth, level, stands, best);
    const enum outcome outcome = stands_find(&ask, level, stands);
    if (outcome == OUTCOME_DONE)
        *best = stands_best(*stands);
    return outcome;
}

/* How often the depth between one that leaves nothing and one that leaves too much is halved. */
enum { HALVINGS_MOST = 6 };

/* Where no stand holds every rule, those that miss by this much at most are listed, then by more.
 */
static const double depths[] = {0, -0.5, -2, -8, -32};
static const size_t steps_most = 2 * (sizeof depths / sizeof *depths); /* two for each depth */

/* Where only the best level matters, a depth is gone down in two steps: the last one is nearly all
 * of the work. */
static double step_down(const struct deepening *deepening, size_t step) {
    const double depth = depths[step / 2];
    if (step % 2 == 1 || step == 0)
        return depth;
    return deepening->best_only ? (depths[step / 2 - 1] + depth) / 2 : depth;
}

/* The best level of a list is that of all there are, where these are listed or it was sought. */
static bool is_known(const struct deepening *deepening, const struct stands *stands, double best) {
    return best > -INFINITY && (deepening->best_only || !stands->crowded);
}

enum outcome deepen_stands(const struct deepening *deepening, struct stands **stands,
                           double *best) {
    enum outcome outcome = OUTCOME_DONE;
    double empty = 0, crowded = -INFINITY, depth = 0;
    for (size_t i = 0; i < steps_most && outcome == OUTCOME_DONE; i++) {
        const double level = step_down(deepening, i);
        if (i > 0 && !(level < empty))
            continue;
        depth = depths[i / 2];
        outcome = list_down_to(deepening, depth, level, stands, best);
        if (outcome != OUTCOME_DONE || is_known(deepening, *stands, *best))
            return outcome;
        if ((*stands)->crowded) {
            crowded = level;
            break;
        }
        empty = level;
    }
    for (int i = 0;
         i < HALVINGS_MOST && deepening->best_only && crowded < 0 && crowded > -INFINITY &&
         solve_now(deepening->terms->steps) < deepening->terms->deadline_s;
         i++) {
        const double middle = (empty + crowded) / 2;
        outcome = list_down_to(deepening, depth, middle, stands, best);
        if (outcome != OUTCOME_DONE || is_known(deepening, *stands, *best))
            break;
        if ((*stands)->crowded)
            crowded = middle;
        else
            empty = middle;
    }
    return outcome;
}
