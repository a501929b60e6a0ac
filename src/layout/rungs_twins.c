/* Brackets alike: what one of them can have the other can have as well. */
#include "rungs.h"

#include "grow.h"

#include <string.h>

static bool known_way(const struct rungs *rungs, const double *levels, size_t count) {
    for (size_t i = 0; i < rungs->count; i++)
        if (memcmp(levels, rungs->levels[i], count * sizeof *levels) == 0)
            return true;
    return false;
}

bool rungs_add(struct rungs *rungs, const double *levels) {
    double(*list)[ROOF_BRACKETS_MOST] =
        grow_list(rungs->levels, &rungs->room, rungs->count, sizeof *rungs->levels);
    if (!list)
        return false;
    rungs->levels = list;
    memcpy(rungs->levels[rungs->count++], levels, sizeof *rungs->levels);
    return true;
}

bool rungs_swap_twins(const struct crowd *crowd, struct rungs *rungs, size_t way, size_t from) {
    const size_t count = crowd->roof->bracket_count;
    if (from == count || rungs->partial)
        return true;
    bool good = rungs_swap_twins(crowd, rungs, way, from + 1);
    for (size_t b = from + 1; b < count && !rungs->partial && good; b++) {
        double levels[ROOF_BRACKETS_MOST] = {0};
        memcpy(levels, rungs->levels[way], count * sizeof *levels);
        levels[from] = rungs->levels[way][b];
        levels[b] = rungs->levels[way][from];
        if (crowd->stands[b] != crowd->stands[from] || known_way(rungs, levels, count))
            continue;
        rungs->partial = rungs->count == RUNGS_WAYS;
        if (!rungs->partial)
            good = rungs_add(rungs, levels) &&
                   rungs_swap_twins(crowd, rungs, rungs->count - 1, from + 1);
    }
    return good;
}
