/* The worst rung is sought first: all brackets share one level, but none asks for more than it has
 * alone.  A packing at some level says which way every bracket is held and how the brackets are
 * apart; with that given the highest level is a small linear program.  Just above it a packing is
 * asked for again, until there is none.  Then one of the brackets keeps that rung, whichever leaves
 * the others the best next one, and so on. */
#include "rungs.h"

#include "length.h"
#include "program.h"
#include "solve.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Rungs are told apart from here on: a rule holds down to as much below zero. */
#define STEP LENGTH_TOLERANCE
/* How far down the first tries go, each this much further. */
#define DESCENT_FIRST 0.02
#define DESCENT_FACTOR 4.0
#define DESCENT_MOST 64.0 /* inches: below that there are no stands */
/* How often a level too deep is drawn halfway up again. */
enum { HALVINGS_MOST = 6 };
/* Wider than any roof can be. */
#define WIDE 2e5
#define LITTLE_S 60.0 /* seconds: more than a program of some columns ever takes */

/* What one search for a level is about. */
struct climb {
    const struct crowd *crowd;
    double levels[ROOF_BRACKETS_MOST]; /* of brackets that keep a rung */
    bool kept[ROOF_BRACKETS_MOST];
    struct rungs *met; /* where levels that pack are noted */
};

/* The levels of all brackets where those that keep no rung share one. */
static void share(const struct climb *climb, double level, double *levels) {
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        levels[b] = climb->kept[b] ? climb->levels[b] : fmin(level, climb->crowd->ceilings[b]);
}

/* Columns of the little program: the level, then X and Y of every bracket. */
static size_t x_of(size_t b) {
    return 1 + 2 * b;
}
static size_t y_of(size_t b) {
    return 2 + 2 * b;
}

/* sign * column >= at + slope * the bracket's level; the level is a column where it is shared */
struct limit_side {
    size_t column;
    double sign, at, slope;
};

static void hold_side(struct program *program, const struct limit_side *side, bool shared,
                      double level) {
    if (!(fabs(side->at) < ROOF_ENDLESS))
        return;
    struct linear sum = linear_plus(linear_of(-side->at), side->column, side->sign);
    if (shared)
        sum = linear_plus(sum, 0, -side->slope);
    else
        sum.constant -= side->slope * level;
    program_require(program, sum);
}

/* A bracket in the stand, and on the courses, that it was packed in; returns the level that those
 * end at. */
static double hold_bracket(struct program *program, size_t b, const struct rungs_packing *packing,
                           double level, bool shared) {
    const struct stands *stands = packing->stands[b];
    const struct placed *placed = &packing->placed[b];
    const struct stand *stand = &stands->list[placed->spot.stand];
    struct band y;
    const double most = stands_heights(stands, &placed->spot, level, placed->y, &y);
    for (int k = 0; k < STAND_SLOPES; k++) {
        const struct limit_side sides[] = {{x_of(b), 1, stand->x.lo[k], k},
                                           {x_of(b), -1, -stand->x.hi[k], k},
                                           {y_of(b), 1, y.lo[k], k},
                                           {y_of(b), -1, -y.hi[k], k}};
        for (size_t i = 0; i < sizeof sides / sizeof *sides; i++)
            hold_side(program, &sides[i], shared, level);
    }
    return fmin(most, stand->cap);
}

/* Two brackets apart in the way in which they are furthest apart, by both of their levels. */
static void hold_pair(struct program *program, const struct climb *climb, size_t a, size_t b,
                      const struct placed *placed, const double *levels, const bool *shared) {
    const struct roof *roof = climb->crowd->roof;
    const struct kit *one = roof_kit(roof, a), *other = roof_kit(roof, b);
    const double gaps[4] = {
        placed[b].x - placed[a].x - one->width, placed[a].x - placed[b].x - other->width,
        placed[b].y - placed[a].y - one->height, placed[a].y - placed[b].y - other->height};
    const double sizes[4] = {one->width, other->width, one->height, other->height};
    int way = 0;
    for (int i = 1; i < 4; i++)
        if (gaps[i] > gaps[way])
            way = i;
    const size_t low = way % 2 == 0 ? a : b, high = way % 2 == 0 ? b : a;
    const size_t columns[2] = {way < 2 ? x_of(low) : y_of(low), way < 2 ? x_of(high) : y_of(high)};
    const size_t pair[2] = {a, b};
    for (int i = 0; i < 2; i++) {
        struct linear sum = linear_of(-sizes[way] - roof->apart);
        sum = linear_plus(linear_plus(sum, columns[1], 1), columns[0], -1);
        if (shared[pair[i]])
            sum = linear_plus(sum, 0, -2);
        else
            sum.constant -= 2 * levels[pair[i]];
        program_require(program, sum);
    }
}

/* The highest level that the packing's stands, courses and ways allow, up to `most`. */
static double raise_level(const struct climb *climb, const struct rungs_packing *packing,
                          double level, double most) {
    const struct placed *placed = packing->placed;
    const size_t count = climb->crowd->roof->bracket_count;
    struct program program = {.failed = false};
    double levels[ROOF_BRACKETS_MOST];
    bool shared[ROOF_BRACKETS_MOST];
    share(climb, level, levels);
    program_column(&program, level, most, false, "level");
    if (!program.failed)
        program.columns[0].cost = -1;
    for (size_t b = 0; b < count; b++) {
        shared[b] = !climb->kept[b] && climb->crowd->ceilings[b] > level;
        program_column(&program, -WIDE, WIDE, false, "X_%zu", b + 1);
        program_column(&program, -WIDE, WIDE, false, "Y_%zu", b + 1);
    }
    for (size_t b = 0; b < count && !program.failed; b++) {
        const double own = hold_bracket(&program, b, packing, levels[b], shared[b]);
        for (size_t o = b + 1; o < count && !program.failed; o++)
            hold_pair(&program, climb, b, o, placed, levels, shared);
        if (shared[b])
            most = fmin(most, fmin(climb->crowd->ceilings[b], own));
    }
    struct solution solution = {.values = NULL};
    double raised = level;
    if (!program.failed) {
        program.columns[0].hi = fmax(level, most);
        if (solve_program(&program, LITTLE_S, NULL, &solution) == SOLVE_OPTIMAL)
            raised = fmax(level, solution.values[0]);
    }
    solution_free(&solution);
    program_free(&program);
    return raised;
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

/* One look whether a level can be shared. */
static enum outcome try_level(const struct climb *climb, double level,
                              struct rungs_packing *packing) {
    const size_t count = climb->crowd->roof->bracket_count;
    struct rungs *met = climb->met;
    double levels[ROOF_BRACKETS_MOST];
    share(climb, level, levels);
    rungs_packing_free(packing);
    const enum outcome outcome = rungs_pack(climb->crowd, levels, true, packing);
    if (outcome == OUTCOME_DONE && packing->end == PACKING_PROVED &&
        (!met->has_packing || compare_rungs(levels, met->packing, count) > 0)) {
        memcpy(met->packing, levels, count * sizeof *levels);
        met->has_packing = true;
    }
    return outcome;
}

static bool over(const struct crowd *crowd) {
    return crowd->stop && crowd->stop(crowd->subject);
}

/* Goes down from a level at which nothing packs to one at which something does; *end says whether
 * one was found. */
static enum outcome descend(const struct climb *climb, double most, double *level,
                            struct rungs_packing *packing) {
    double down = DESCENT_FIRST, none = most;
    enum outcome outcome = OUTCOME_DONE;
    while (outcome == OUTCOME_DONE && packing->end != PACKING_PROVED && down < DESCENT_MOST &&
           !over(climb->crowd)) {
        none = *level;
        *level = most - down;
        down *= DESCENT_FACTOR;
        outcome = try_level(climb, *level, packing);
    }
    /* Too deep for all stands to be listed: not quite so deep, then. */
    for (int i = 0; i < HALVINGS_MOST && outcome == OUTCOME_DONE &&
                    packing->end != PACKING_PROVED && none - *level > STEP && !over(climb->crowd);
         i++) {
        const double middle = (none + *level) / 2;
        outcome = try_level(climb, middle, packing);
        if (packing->end == PACKING_NONE)
            none = middle;
        else
            *level = middle;
    }
    return outcome;
}

/* The highest level that those who keep no rung can share, up to `most`; floor: one that is known
 * to be shared, -INFINITY: none.  *found is false where it was not found. */
static enum outcome climb_level(const struct climb *climb, double floor, double most, double *level,
                                bool *found) {
    struct rungs_packing packing = {.stands = {NULL}};
    *found = false;
    enum outcome outcome = try_level(climb, most, &packing);
    *level = most;
    if (outcome == OUTCOME_DONE && packing.end != PACKING_PROVED && floor > -INFINITY &&
        floor < most - STEP) {
        *level = floor;
        outcome = try_level(climb, floor, &packing);
        *level = packing.end == PACKING_PROVED ? floor : most;
    }
    if (outcome == OUTCOME_DONE && packing.end != PACKING_PROVED)
        outcome = descend(climb, most, level, &packing);
    while (outcome == OUTCOME_DONE && packing.end == PACKING_PROVED && !*found) {
        *level = raise_level(climb, &packing, *level, most);
        *found = *level >= most - STEP / 2;
        if (*found)
            break;
        outcome = try_level(climb, *level + STEP, &packing);
        if (outcome == OUTCOME_DONE && packing.end == PACKING_PROVED)
            *level += STEP;
        *found = packing.end == PACKING_NONE;
    }
    rungs_packing_free(&packing);
    return outcome;
}

static void note_way(const struct climb *climb, const double *levels, struct rungs *best) {
    const size_t count = climb->crowd->roof->bracket_count;
    const int better = best->count == 0 ? 1 : compare_rungs(levels, best->levels[0], count);
    if (better > 0)
        best->count = 0;
    for (size_t i = 0; i < best->count; i++)
        if (memcmp(levels, best->levels[i], count * sizeof *levels) == 0)
            return;
    if (better < 0)
        return;
    if (best->count < RUNGS_WAYS)
        memcpy(best->levels[best->count], levels, count * sizeof *levels);
    best->count++;
}

static bool all_kept(const struct climb *climb) {
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        if (!climb->kept[b])
            return false;
    return true;
}

/* Those who can have no more than the shared level keep what they have. */
static void settle(struct climb *climb, double level) {
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        if (!climb->kept[b] && climb->crowd->ceilings[b] <= level + STEP) {
            climb->kept[b] = true;
            climb->levels[b] = climb->crowd->ceilings[b];
        }
}

static double highest_ceiling(const struct climb *climb) {
    double most = -INFINITY;
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        if (!climb->kept[b])
            most = fmax(most, climb->crowd->ceilings[b]);
    return most;
}

/* The next rung of those who keep none: its level, and the least that any of them then has. */
struct rung {
    double level, least;
    bool found;
};

static enum outcome next_rung(const struct climb *climb, double floor, struct rung *rung) {
    *rung = (struct rung){.level = INFINITY, .least = INFINITY, .found = true};
    if (all_kept(climb))
        return OUTCOME_DONE;
    const enum outcome outcome =
        climb_level(climb, floor, highest_ceiling(climb), &rung->level, &rung->found);
    for (size_t b = 0; b < climb->crowd->roof->bracket_count; b++)
        if (!climb->kept[b])
            rung->least = fmin(rung->least, fmin(rung->level, climb->crowd->ceilings[b]));
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
        note_way(&settled, settled.levels, best);
        return OUTCOME_DONE;
    }
    double most = -INFINITY;
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
        most = fmax(most, next[b].least);
    }
    for (size_t b = 0; b < count && *good && best->count <= RUNGS_WAYS; b++) {
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

enum outcome rungs_find(const struct crowd *crowd, struct rungs *rungs) {
    const struct climb climb = {.crowd = crowd, .met = rungs};
    struct rung first;
    bool good = true;
    *rungs = (struct rungs){.count = 0};
    enum outcome outcome = next_rung(&climb, -INFINITY, &first);
    if (outcome != OUTCOME_DONE || !first.found)
        return outcome;
    rungs->has_worst = true;
    rungs->worst = first.least;
    outcome = climb_on(&climb, &first, rungs, &good);
    if (!good || rungs->count > RUNGS_WAYS)
        rungs->count = 0;
    const size_t unlike = rungs->count;
    for (size_t i = 0; i < unlike; i++)
        rungs_swap_twins(crowd, rungs, i, 0);
    return outcome;
}
