/* Brackets alike: what one of them can have the other can have as well. */
#include "rungs.h"

#include <string.h>

static bool known_way(const struct rungs *rungs, const double *levels, size_t count) {
    for (size_t i = 0; i < rungs->count; i++)
        if (memcmp(levels, rungs->levels[i], count * sizeof *levels) == 0)
            return true;
    return false;
}

void rungs_swap_twins(const struct crowd *crowd, struct rungs *rungs, size_t way, size_t from) {
    const size_t count = crowd->roof->bracket_count;
    if (from == count || rungs->partial)
        return;
    rungs_swap_twins(crowd, rungs, way, from + 1);
    for (size_t b = from + 1; b < count && !rungs->partial; b++) {
        double levels[ROOF_BRACKETS_MOST] = {0};
        memcpy(levels, rungs->levels[way], count * sizeof *levels);
        levels[from] = rungs->levels[way][b];
        levels[b] = rungs->levels[way][from];
        if (crowd->stands[b] != crowd->stands[from] || known_way(rungs, levels, count))
            continue;
        rungs->partial = rungs->count == RUNGS_WAYS;
        if (rungs->partial)
            return;
        memcpy(rungs->levels[rungs->count], levels, sizeof levels);
        rungs_swap_twins(crowd, rungs, rungs->count++, from + 1);
    }
}
