/* The depths are tried from the top, as a list is longer and takes longer the deeper it goes. */
#include "deepen.h"

#include "rungs.h"
#include "solve.h"

#include <math.h>

/* Lists them anew, down to a level of a depth. */
static enum outcome list_down_to(const struct deepening *deepening, double depth, double level,
                                 struct stands **stands, double *best) {
    stands_free(*stands);
    *stands = NULL;
    if (deepening->best_only)
        return stands_find_best(deepening->roof, deepening->bracket, depth, level,
                                deepening->terms->limits, stands, best);
    const enum outcome outcome =
        stands_find(deepening->roof, deepening->bracket, level, deepening->terms->limits, stands);
    if (outcome == OUTCOME_DONE)
        *best = stands_best(*stands);
    return outcome;
}

/* How often the depth between one that leaves nothing and one that leaves too much is halved. */
enum { HALVINGS_MOST = 6 };

/* Two for each depth. */
static const size_t steps_most = 2 * (size_t)RUNGS_DEPTHS;

/* Where only the best level matters, a depth is gone down in two steps: the last one is nearly all
 * of the work. */
static double step_down(const struct deepening *deepening, size_t step) {
    const double depth = rungs_depths[step / 2];
    if (step % 2 == 1 || step == 0)
        return depth;
    return deepening->best_only ? (rungs_depths[step / 2 - 1] + depth) / 2 : depth;
}

enum outcome deepen_stands(const struct deepening *deepening, struct stands **stands,
                           double *best) {
    enum outcome outcome = OUTCOME_DONE;
    double empty = 0, crowded = -INFINITY, depth = 0;
    for (size_t i = 0; i < steps_most && outcome == OUTCOME_DONE; i++) {
        const double level = step_down(deepening, i);
        if (i > 0 && !(level < empty))
            continue;
        depth = rungs_depths[i / 2];
        outcome = list_down_to(deepening, depth, level, stands, best);
        if (outcome != OUTCOME_DONE || (!(*stands)->crowded && *best > -INFINITY))
            return outcome;
        if ((*stands)->crowded) {
            crowded = level;
            break;
        }
        empty = level;
    }
    for (int i = 0; i < HALVINGS_MOST && crowded < 0 && crowded > -INFINITY &&
                    solve_now(deepening->terms->steps) < deepening->terms->deadline_s;
         i++) {
        const double middle = (empty + crowded) / 2;
        outcome =
            list_down_to(deepening, deepening->best_only ? depth : middle, middle, stands, best);
        if (outcome != OUTCOME_DONE || (!(*stands)->crowded && *best > -INFINITY))
            break;
        if ((*stands)->crowded)
            crowded = middle;
        else
            empty = middle;
    }
    return outcome;
}
