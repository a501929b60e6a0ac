/* The worst rung is sought first: all brackets share one level, but none asks for more than it has
 * alone.  A packing at some level says which way every bracket is held and how the brackets are
 * apart; with that given the highest level is a small linear program.  Just above it a packing is
 * asked for again, until there is none.  Then one of the brackets keeps that rung, whichever leaves
 * the others the best next one, and so on. */
#include "rungs.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Rungs are told apart from here on: a rule holds down to as much below zero. */
#define STEP LENGTH_TOLERANCE
/* How far down the first tries go, each this much further; of many brackets every try takes long,
 * and a crowd has nothing but tries, one bracket after the other, which no leap makes up for.
 */
#define DESCENT_FIRST 0.02
#define DESCENT_FIRST_CROWD 0.25
#define DESCENT_FACTOR 4.0
#define DESCENT_FACTOR_MANY 12.0
enum { MANY = 12, CROWD = 24 };
/* Less is not leapt. */
#define LEAP_LEAST 0.05
#define DESCENT_MOST 64.0 /* inches: below that there are no stands */
/* How often a level too deep is drawn halfway up again. */
enum { HALVINGS_MOST = 6 };

/* The next rung of those who keep none: its level, and the least that any of them then has. */
struct rung {
    double level, least;
    bool found;
};

/* What one search for a level is about. */
struct climb {
    const struct crowd *crowd;
    double levels[ROOF_BRACKETS_MOST]; /* of brackets that keep a rung */
    bool kept[ROOF_BRACKETS_MOST];
    struct rungs *met; /* where packings are noted */
    struct seen *seen;
};

/* Who keeps which rung, and the next one from there, as far as it was looked at: the same comes up
 * in whatever order they came to keep theirs. */
struct known {
    double levels[ROOF_BRACKETS_MOST];
    bool kept[ROOF_BRACKETS_MOST];
    struct rung rung;
    bool climbed; /* all that follows has been looked at */
};
struct seen {
    struct known *list; /* owned */
    size_t count, room;
};

/* The levels of all brackets where those that keep no rung share one. */
static void share(const struct climb *climb, double level, double *levels) {
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        levels[b] =
            climb->kept[b] ? climb->levels[b] : length_lesser(level, climb->crowd->ceilings[b]);
}

/* The highest level that the packing's stands, courses and ways allow, up to `most`. */
static double raise_level(const struct climb *climb, const struct rungs_packing *packing,
                          double level, double most) {
    double levels[ROOF_BRACKETS_MOST];
    bool shared[ROOF_BRACKETS_MOST];
    share(climb, level, levels);
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        shared[b] = !climb->kept[b] && climb->crowd->ceilings[b] > level;
    return rungs_raise(climb->crowd, packing, levels, shared, level, most);
}

static int by_value(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

void rungs_sort(double *levels, size_t count) {
    qsort(levels, count, sizeof *levels, by_value);
}

/* Above 0 where the first's levels, sorted, are better; 0: as good. */
static int compare_rungs(const double *a, const double *b, size_t count) {
    double one[ROOF_BRACKETS_MOST], other[ROOF_BRACKETS_MOST];
    memcpy(one, a, count * sizeof *one);
    memcpy(other, b, count * sizeof *other);
    rungs_sort(one, count);
    rungs_sort(other, count);
    for (size_t i = 0; i < count; i++)
        if (fabs(one[i] - other[i]) > 2 * STEP)
            return one[i] > other[i] ? 1 : -1;
    return 0;
}

static size_t count_kept(const struct climb *climb) {
    size_t kept = 0;
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        kept += climb->kept[b];
    return kept;
}

/* One look whether a level can be shared. */
static enum outcome try_level(const struct climb *climb, double level, enum effort effort,
                              struct rungs_packing *packing) {
    const size_t count = climb->crowd->roof->bracket_count;
    struct rungs *met = climb->met;
    double levels[ROOF_BRACKETS_MOST] = {0};
    share(climb, level, levels);
    rungs_packing_free(packing);
    const enum outcome outcome = rungs_pack(climb->crowd, levels, effort, packing);
    if (outcome == OUTCOME_DONE && packing->end == PACKING_PROVED &&
        (!met->has_packing || compare_rungs(levels, met->packed_at, count) > 0))
        rungs_meet(met, levels, packing);
    if (outcome == OUTCOME_DONE && packing->end == PACKING_NONE && count_kept(climb) == 0)
        met->none = length_lesser(met->none, level);
    return outcome;
}

/* Goes down from a level at which nothing packs to one at which something does; packing->end says
 * whether one was found, *none is the lowest level at which none was. */
static enum outcome descend(const struct climb *climb, double most, double *level, double *none,
                            struct rungs_packing *packing) {
    const size_t count = climb->crowd->roof->bracket_count;
    const bool leaps = count >= MANY && count <= CROWD;
    const double factor = leaps ? DESCENT_FACTOR_MANY : DESCENT_FACTOR;
    double down = count > CROWD ? DESCENT_FIRST_CROWD : DESCENT_FIRST;
    *none = most;
    enum outcome outcome = OUTCOME_DONE;
    while (outcome == OUTCOME_DONE && packing->end != PACKING_PROVED && down < DESCENT_MOST &&
           !crowd_late(climb->crowd)) {
        *none = *level;
        *level = most - down;
        down *= factor;
        outcome = try_level(climb, *level, EFFORT_GLANCE, packing);
    }
    /* Too deep for all stands to be listed: not quite so deep, then. */
    for (int i = 0;
         i < HALVINGS_MOST && outcome == OUTCOME_DONE && packing->end != PACKING_PROVED &&
         *none - *level > STEP && !crowd_late(climb->crowd);
         i++) {
        const double middle = (*none + *level) / 2;
        outcome = try_level(climb, middle, EFFORT_GLANCE, packing);
        if (packing->end == PACKING_NONE)
            *none = middle;
        else
            *level = middle;
    }
    return outcome;
}

/* How far a packing's own stands go up is nearly, but not wholly known where arms are looked at:
 * down from there towards what was packed, to where there is a packing. */
static enum outcome step_down(const struct climb *climb, double low, double *level,
                              struct rungs_packing *packing) {
    enum outcome outcome = try_level(climb, *level, EFFORT_ANY, packing);
    while (outcome == OUTCOME_DONE && packing->end != PACKING_PROVED && *level > low &&
           !crowd_late(climb->crowd)) {
        *level = *level - low > 2 * STEP ? (low + *level) / 2 : low;
        outcome = try_level(climb, *level, EFFORT_ANY, packing);
    }
    return outcome;
}

/* A packing's own stands mostly go up by little.  Many brackets are tried halfway to where none was
 * found first, so that not every step is theirs; *none comes down where that fails. */
static enum outcome leap(const struct climb *climb, double *level, double *none,
                         struct rungs_packing *packing, bool *leapt) {
    const double middle = (*level + *none) / 2;
    *leapt = false;
    if (climb->crowd->roof->bracket_count < MANY || *none - *level < LEAP_LEAST)
        return OUTCOME_DONE;
    const enum outcome outcome = try_level(climb, middle, EFFORT_GLANCE, packing);
    *leapt = outcome == OUTCOME_DONE && packing->end == PACKING_PROVED;
    *(*leapt ? level : none) = middle;
    return outcome;
}

/* The highest level that those who keep no rung can share, up to `most`; floor: one that is known
 * to be shared, -INFINITY: none.  *found is false where it was not found. */
static enum outcome climb_level(const struct climb *climb, double floor, double most, double *level,
                                bool *found) {
    struct rungs_packing packing = {.end = PACKING_UNDECIDED};
    double none = -INFINITY; /* nowhere to leap to */
    const bool upwards = climb->crowd->upwards && floor < most - STEP;
    bool leapt;
    *found = false;
    enum outcome outcome =
        upwards ? OUTCOME_DONE
                : try_level(climb, most, floor > -INFINITY ? EFFORT_ANY : EFFORT_GLANCE, &packing);
    *level = most;
    if (outcome == OUTCOME_DONE && packing.end != PACKING_PROVED && floor > -INFINITY &&
        floor < most - STEP) {
        *level = floor;
        outcome = try_level(climb, floor, EFFORT_ANY, &packing);
        *level = packing.end == PACKING_PROVED ? floor : most;
    }
    if (outcome == OUTCOME_DONE && packing.end != PACKING_PROVED && !upwards)
        outcome = descend(climb, most, level, &none, &packing);
    while (outcome == OUTCOME_DONE && packing.end == PACKING_PROVED && !*found) {
        const double low = *level;
        *level = raise_level(climb, &packing, low, most);
        if (climb->crowd->arms && *level > low + STEP)
            outcome = step_down(climb, low, level, &packing);
        if (outcome != OUTCOME_DONE || packing.end != PACKING_PROVED)
            break;
        *found = *level >= most - STEP / 2;
        if (*found)
            break;
        outcome = leap(climb, level, &none, &packing, &leapt);
        if (outcome != OUTCOME_DONE || leapt)
            continue;
        outcome = try_level(climb, *level + STEP, EFFORT_ANY, &packing);
        if (outcome == OUTCOME_DONE && packing.end == PACKING_PROVED)
            *level += STEP;
        *found = packing.end == PACKING_NONE;
        if (crowd_late(climb->crowd))
            break;
    }
    rungs_packing_free(&packing);
    return outcome;
}

/* False without memory. */
static bool note_way(const struct climb *climb, const double *levels, struct rungs *best) {
    const size_t count = climb->crowd->roof->bracket_count;
    const int better = best->count == 0 ? 1 : compare_rungs(levels, best->levels[0], count);
    if (better > 0)
        best->count = 0;
    for (size_t i = 0; i < best->count; i++)
        if (memcmp(levels, best->levels[i], count * sizeof *levels) == 0)
            return true;
    if (better < 0)
        return true;
    best->many = best->many || best->count == RUNGS_WAYS;
    return best->many || rungs_add(best, levels);
}

static bool all_kept(const struct climb *climb) {
    return count_kept(climb) == climb->crowd->roof->bracket_count;
}

/* Those who can have no more than the shared level keep what they have. */
static void settle(struct climb *climb, double level) {
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        if (!climb->kept[b] && climb->crowd->ceilings[b] <= level + STEP) {
            climb->kept[b] = true;
            climb->levels[b] = climb->crowd->ceilings[b];
        }
}

/* What those who keep no rung may have at most: none of them more than it has alone, and the worst
 * of all, where it can be any of them, no more than is known. */
static double highest_ceiling(const struct climb *climb) {
    double most = -INFINITY, least = INFINITY;
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        if (!climb->kept[b]) {
            most = length_greater(most, climb->crowd->ceilings[b]);
            least = length_lesser(least, climb->crowd->ceilings[b]);
        }
    return count_kept(climb) == 0 && climb->crowd->most < least ? climb->crowd->most : most;
}

/* The entry of what these keep; NULL without memory. */
static struct known *look_up(const struct climb *climb) {
    struct seen *seen = climb->seen;
    const size_t count = climb->crowd->roof->bracket_count;
    struct known asked = {.rung = {.level = -INFINITY}};
    for (size_t b = 0; b < count; b++) {
        asked.kept[b] = climb->kept[b];
        asked.levels[b] = climb->kept[b] ? climb->levels[b] : 0;
    }
    for (size_t i = 0; i < seen->count; i++)
        if (memcmp(asked.kept, seen->list[i].kept, sizeof asked.kept) == 0 &&
            memcmp(asked.levels, seen->list[i].levels, sizeof asked.levels) == 0)
            return &seen->list[i];
    struct known *list = grow_list(seen->list, &seen->room, seen->count, sizeof *seen->list);
    if (!list)
        return NULL;
    seen->list = list;
    seen->list[seen->count] = asked;
    return &seen->list[seen->count++];
}

static enum outcome next_rung(const struct climb *climb, double floor, struct rung *rung) {
    const struct known *known = look_up(climb);
    *rung = (struct rung){.level = INFINITY, .least = INFINITY, .found = true};
    if (!known)
        return OUTCOME_FAULT;
    if (all_kept(climb))
        return OUTCOME_DONE;
    if (known->rung.level > -INFINITY) {
        *rung = known->rung;
        return OUTCOME_DONE;
    }
    const enum outcome outcome =
        climb_level(climb, floor, highest_ceiling(climb), &rung->level, &rung->found);
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        if (!climb->kept[b])
            rung->least =
                length_lesser(rung->least, length_lesser(rung->level, climb->crowd->ceilings[b]));
    climb->seen->list[known - climb->seen->list].rung = *rung;
    return outcome;
}

/* Whether an earlier bracket is held in just the same ways and keeps no rung either: what one of
 * them may keep the other may, and the rest is then alike. */
static bool has_earlier_twin(const struct climb *climb, size_t b) {
    for (size_t a = 0; a < b; a++)
        if (!climb->kept[a] && climb->crowd->stands[a] == climb->crowd->stands[b])
            return true;
    return false;
}

/* Goes on from a rung: whoever could have more than its level may be the one that keeps it, but
 * only where the next rung is then the best there can be.  False in *good where it was not all
 * found. */
static enum outcome climb_on(const struct climb *climb, const struct rung *rung, struct rungs *best,
                             bool *good) {
    struct rung next[ROOF_BRACKETS_MOST];
    const size_t count = climb->crowd->roof->bracket_count;
    struct climb settled = *climb;
    settle(&settled, rung->level);
    if (all_kept(&settled)) {
        return note_way(&settled, settled.levels, best) ? OUTCOME_DONE : OUTCOME_FAULT;
    }
    struct known *known = look_up(&settled);
    if (!known)
        return OUTCOME_FAULT;
    if (known->climbed)
        return OUTCOME_DONE;
    known->climbed = true;
    double most = -INFINITY;
    *good = *good && !crowd_late(climb->crowd);
    for (size_t b = 0; b < count && *good; b++) {
        next[b] = (struct rung){.least = -INFINITY};
        if (settled.kept[b] || has_earlier_twin(&settled, b))
            continue;
        struct climb keeper = settled;
        keeper.kept[b] = true;
        keeper.levels[b] = rung->level;
        if (next_rung(&keeper, rung->level, &next[b]) != OUTCOME_DONE)
            return OUTCOME_FAULT;
        *good = next[b].found;
        most = length_greater(most, next[b].least);
    }
    for (size_t b = 0; b < count && *good && !best->many; b++) {
        if (settled.kept[b] || has_earlier_twin(&settled, b) || next[b].least < most - STEP)
            continue;
        struct climb keeper = settled;
        keeper.kept[b] = true;
        keeper.levels[b] = rung->level;
        if (climb_on(&keeper, &next[b], best, good) != OUTCOME_DONE)
            return OUTCOME_FAULT;
    }
    return OUTCOME_DONE;
}

/* What was met stays until something better is. */
static void forget_but_packing(struct rungs *rungs) {
    free(rungs->levels);
    rungs->levels = NULL;
    rungs->room = rungs->count = 0;
    rungs->many = rungs->partial = rungs->has_worst = false;
}

static enum outcome find(const struct crowd *crowd, bool all, struct rungs *rungs) {
    struct seen seen = {.list = NULL};
    const struct climb climb = {.crowd = crowd, .met = rungs, .seen = &seen};
    struct rung first;
    bool good = true;
    forget_but_packing(rungs);
    rungs->none = crowd->most;
    enum outcome outcome = next_rung(&climb, crowd->least, &first);
    rungs->has_worst = outcome == OUTCOME_DONE && first.found;
    rungs->worst = rungs->has_worst ? first.least : 0;
    if (rungs->has_worst && all)
        outcome = climb_on(&climb, &first, rungs, &good);
    free(seen.list);
    if (!good || rungs->many)
        rungs->count = 0;
    return outcome;
}

double rungs_most(const struct crowd *crowd, const struct rungs *rungs) {
    double most = rungs->has_worst ? rungs->worst : rungs->none;
    for (size_t b = 0; b < crowd->roof->bracket_count; b++)
        most = length_lesser(most, crowd->ceilings[b]);
    return most;
}

enum outcome rungs_find(const struct crowd *crowd, struct rungs *rungs) {
    enum outcome outcome = find(crowd, true, rungs);
    const size_t unlike = rungs->count;
    for (size_t i = 0; i < unlike && outcome == OUTCOME_DONE; i++)
        if (!rungs_swap_twins(crowd, rungs, i, 0))
            outcome = OUTCOME_FAULT;
    return outcome;
}

enum outcome rungs_find_worst(const struct crowd *crowd, struct rungs *rungs) {
    return find(crowd, false, rungs);
}
