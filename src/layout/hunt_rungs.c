/* Layouts whose rungs are known before the program is asked. */
#include "hunting.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of the time left, what the search for all ceilings at once may take. */
#define CEILING_SHARE 0.6

/* The best layout in which each bracket has just those levels; without marks where there is none.
 */
static enum outcome hunt_levels(struct hunt *hunt, const double *levels) {
    const size_t count = hunt->roof->bracket_count;
    memcpy(hunt->ladder, levels, count * sizeof *hunt->ladder);
    rungs_sort(hunt->ladder, count);
    hunt->ladder_count = count;
    hunt->layout->bound_forgiveness = hunt->ladder[0];
    enum solve_end end = SOLVE_OPTIMAL;
    enum outcome outcome = OUTCOME_DONE;
    if (hunt->ladder[0] < -LENGTH_TOLERANCE)
        outcome = hunting_kept(hunt, STAGE_SHORTFALL, levels, &end);
    if (outcome == OUTCOME_DONE && end == SOLVE_OPTIMAL)
        outcome = hunting_kept(hunt, STAGE_COST, levels, &end);
    return outcome;
}

static double cost_of(const struct hunt *hunt) {
    return hunt->layout->moved + (double)hunt->layout->holes * hunt->roof->hole_worth;
}

static bool better(const struct hunt *hunt, const struct hunt *than) {
    if (!hunt->layout->marks || !than->layout->marks)
        return hunt->layout->marks != NULL;
    const double shortfall = hunt->layout->shortfall - than->layout->shortfall;
    return shortfall < -LENGTH_TOLERANCE ||
           (shortfall <= LENGTH_TOLERANCE && cost_of(hunt) < cost_of(than));
}

/* One more way to have the rungs: *hunt keeps the better layout. */
static enum outcome try_way(struct hunt *hunt, const double *levels) {
    struct hunt way = *hunt;
    way.layout = calloc(1, sizeof *way.layout);
    if (!way.layout)
        return OUTCOME_FAULT;
    way.layout->bound_cost = -INFINITY;
    const enum outcome outcome = hunt_levels(&way, levels);
    const bool cut_short = hunt->cut_short || way.cut_short;
    if (outcome == OUTCOME_DONE && better(&way, hunt)) {
        struct layout *worse = hunt->layout;
        *hunt = way;
        way.layout = worse;
    }
    hunt->cut_short = cut_short;
    layout_free(way.layout);
    return outcome;
}

/* Several brackets mostly keep, each, the forgiveness that they have alone, or what the gaps
 * between them leave of it.  No company betters that, so where it can be had the search for
 * forgiveness is over before it began.  True in *done where it was had; a part of the time is left
 * for the case that it was not. */
enum outcome hunting_rungs(struct hunt *hunt, bool *done) {
    const struct rungs *rungs = &hunt->known->rungs;
    const double now = solve_now(hunt->terms->steps);
    enum outcome outcome = OUTCOME_DONE;
    *done = false;
    if (hunt->roof->bracket_count < 2)
        return outcome;
    hunt->deadline_s = now + CEILING_SHARE * (hunt->terms->deadline_s - now);
    for (size_t i = 0; i < rungs->count && outcome == OUTCOME_DONE; i++)
        outcome = try_way(hunt, rungs->levels[i]);
    hunt->cut_short = hunt->cut_short || rungs->partial;
    if (rungs->count == 0 && hunt->terms->ceiling)
        outcome = try_way(hunt, hunt->terms->ceiling);
    /* Out of time with a layout of the best forgiveness at hand: nothing else gets that far. */
    *done = hunt->layout->marks || (hunt->cut_short && hunt->known->layout);
    hunt->deadline_s = hunt->terms->deadline_s;
    if (!*done) {
        hunt->cut_short = false;
        hunt->ladder_count = 0;
    }
    return outcome;
}
