#include "carry.h"

#include "model.h"
#include "solve.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* Sets of plies that may be ruled out one by one before the search is given up. */
enum { OUT_MOST = 60 };

/* A bracket is moved along the eave, and its rows up its legs, in steps of this much (inches) to
 * see where its rows carry, with so much of a ratio to spare. */
#define STEP 0.125
#define TO_SPARE 0.01

struct effort {
    const struct roof *roof;
    const struct layout_options *options;
    enum side from;
    struct problems *problems;
    double deadline_s;
    size_t least_lags[ROOF_BRACKETS_MOST][ROW_COUNT];
    bool bounded;                   /* some strut needs more than two lags */
    struct ruled_out out[OUT_MOST]; /* their plies are owned */
    size_t out_count;
};

void carried_free(struct carried *carried) {
    strength_free(carried->strength);
    verdict_free(carried->verdict);
    marks_free(carried->marks);
    layout_free(carried->layout);
    *carried = (struct carried){.layout = NULL};
}

/* Whether the layout holds every rule before it is rounded. */
static enum outcome hold_exact(const struct roof *roof, const struct layout *layout, bool *held) {
    struct verdict *verdict = NULL;
    const enum outcome outcome = check_marks(roof, layout->marks, &verdict);
    if (outcome == OUTCOME_DONE) {
        *held = verdict->holds;
        verdict_free(verdict);
    }
    return outcome;
}

/* Rounds, checks and judges the layout of `carried`. */
static enum outcome look_at(const struct effort *effort, struct carried *carried) {
    const struct roof *roof = effort->roof;
    bool obeyed = false; /* the check's own word counts, not this one */
    enum outcome outcome =
        layout_round(roof, carried->layout, effort->from, &carried->marks, &obeyed);
    if (outcome == OUTCOME_DONE)
        outcome = check_marks(roof, carried->marks, &carried->verdict);
    if (outcome == OUTCOME_DONE)
        outcome = hold_exact(roof, carried->layout, &carried->held);
    if (outcome == OUTCOME_DONE && roof->loads)
        outcome =
            strength_judge(roof, carried->marks, carried->verdict, roof->loads, &carried->strength);
    return outcome;
}

/* One layout under what is ruled out so far.  *carried holds it whatever its state. */
static enum outcome try_once(struct effort *effort, bool limited, struct carried *carried) {
    const struct limits limits = {.least_lags = (const size_t(*)[ROW_COUNT])effort->least_lags,
                                  .list = effort->out,
                                  .count = effort->out_count};
    struct layout_options options = *effort->options;
    options.limit_s = fmax(0, effort->deadline_s - solve_now(effort->options->steps));
    options.limits = limited ? &limits : NULL;
    enum outcome outcome = layout_find(effort->roof, &options, &carried->layout, effort->problems);
    if (outcome == OUTCOME_DONE && carried->layout->marks)
        outcome = look_at(effort, carried);
    if (outcome != OUTCOME_DONE)
        carried_free(carried);
    return outcome;
}

/* What moves while the lags stay in their plies. */
enum axis {
    AXIS_X,
    AXIS_V,
    AXIS_COUNT = AXIS_V + ROW_COUNT
}; /* AXIS_V + row: up that row's legs */

/* Moves a bracket along the eave, or one of its rows up its legs. */
static void shift(struct marks *marks, size_t bracket, int axis, double by) {
    if (axis == AXIS_X)
        marks->brackets[bracket].x += by;
    for (size_t i = 0; axis != AXIS_X && i < marks->count; i++)
        if (marks->list[i].bracket == bracket && (int)marks->list[i].row == axis - AXIS_V)
            marks->list[i].y += by;
}

/* The worst ratio of a row's lags and strut after that; INFINITY where that cannot be judged. */
static double ratio_beside(const struct effort *effort, const struct carried *carried,
                           const struct ruled_out *out, int axis, double by) {
    struct marks *marks = NULL;
    struct verdict *verdict = NULL;
    struct strength *strength = NULL;
    double worst = INFINITY;
    if (marks_copy(carried->layout->marks, &marks) != OUTCOME_DONE)
        return INFINITY;
    shift(marks, out->bracket, axis, by);
    if (check_marks(effort->roof, marks, &verdict) == OUTCOME_DONE &&
        strength_judge(effort->roof, marks, verdict, effort->roof->loads, &strength) ==
            OUTCOME_DONE &&
        strength->complete)
        worst = 0;
    for (size_t i = 0; strength && i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        if (item->kind != STRENGTH_RAFTER && item->bracket == (int)out->bracket &&
            item->row == (int)out->row)
            worst = fmax(worst, item->ratio);
    }
    strength_free(strength);
    verdict_free(verdict);
    marks_free(marks);
    return worst;
}

/* How far something has to move that way before the row carries with a little to spare, which
 * rounding to the tape may take; ROOF_ENDLESS where it does not within `most`. */
static double far_enough(const struct effort *effort, const struct carried *carried,
                         const struct ruled_out *out, int axis, double step, double most) {
    for (double by = step; fabs(by) <= most; by += step)
        if (ratio_beside(effort, carried, out, axis, by) <= 1 - TO_SPARE)
            return fabs(by);
    return ROOF_ENDLESS;
}

/* A stretch about `at`, to either side as far as the row does not carry at any step. */
static void find_stretch(const struct effort *effort, const struct carried *carried,
                         const struct ruled_out *out, int axis, double at, double stretch[2]) {
    const struct kit *kit = roof_kit(effort->roof, out->bracket);
    const bool along = axis == AXIS_X;
    const double *window = along ? NULL : kit->window[axis - AXIS_V];
    const double less = along ? kit->width : at - window[0];
    const double more = along ? kit->width : window[1] - at;
    const double before = far_enough(effort, carried, out, axis, -STEP, less);
    const double after = far_enough(effort, carried, out, axis, STEP, more);
    stretch[0] = before < ROOF_ENDLESS ? at - before : -ROOF_ENDLESS;
    stretch[1] = after < ROOF_ENDLESS ? at + after : ROOF_ENDLESS;
}

/* How far up the legs a row of the layout meets its frame. */
static double meets_at(const struct marks *marks, size_t bracket, enum row row) {
    size_t i = 0;
    while (i < marks->count && (marks->list[i].bracket != bracket || marks->list[i].row != row))
        i++;
    return i < marks->count ? marks->list[i].y - marks->brackets[bracket].y : 0;
}

/* Rules out the plies of one row as the layout has them, with its bracket where it is and about
 * there; false without memory or room. */
static bool rule_out(struct effort *effort, const struct carried *carried, size_t bracket,
                     enum row row) {
    const struct marks *marks = carried->layout->marks;
    size_t *plies = calloc(marks->count + 1, sizeof *plies);
    if (!plies || effort->out_count == OUT_MOST) {
        free(plies);
        return false;
    }
    struct ruled_out *out = &effort->out[effort->out_count++];
    *out = (struct ruled_out){.bracket = bracket, .row = row, .plies = plies};
    for (size_t i = 0; i < marks->count; i++)
        if (marks->list[i].bracket == bracket && marks->list[i].row == row)
            plies[out->count++] = carried->layout->plies[i];
    find_stretch(effort, carried, out, AXIS_X, marks->brackets[bracket].x, out->where.x);
    for (int other = ROW_TOP; other < ROW_COUNT; other++)
        find_stretch(effort, carried, out, AXIS_V + other,
                     meets_at(marks, bracket, (enum row)other), out->where.v[other]);
    return true;
}

/* Rules out every row with a lag or strut over 1; false where nothing could be. */
static bool rule_out_weak(struct effort *effort, const struct carried *carried) {
    bool weak[ROOF_BRACKETS_MOST][ROW_COUNT] = {{false}};
    for (size_t i = 0; i < carried->strength->count; i++) {
        const struct strength_item *item = &carried->strength->items[i];
        if (item->kind != STRENGTH_RAFTER && item->ratio > 1)
            weak[item->bracket][item->row] = true;
    }
    bool any = false;
    for (size_t b = 0; b < effort->roof->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            if (weak[b][row]) {
                if (!rule_out(effort, carried, b, (enum row)row))
                    return false;
                any = true;
            }
    return any;
}

/* What is proved of every layout: how many lags a strut needs; false where none carries. */
static bool find_needs(struct effort *effort) {
    for (size_t b = 0; b < effort->roof->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++) {
            size_t *least = &effort->least_lags[b][row];
            *least = strength_least_lags(effort->roof, b, (enum row)row);
            if (*least == SIZE_MAX)
                return false;
            effort->bounded = effort->bounded || *least > 2;
        }
    return true;
}

static void take(struct carried *to, struct carried *from) {
    carried_free(to);
    *to = *from;
    *from = (struct carried){.layout = NULL};
}

/* Nothing was proved of what was ruled out set by set. */
static void unprove(struct layout *layout, double bound_forgiveness) {
    if (layout->state == LAYOUT_PROVED)
        layout->state = LAYOUT_FEASIBLE;
    layout->bound_forgiveness = bound_forgiveness;
    layout->bound_cost = -INFINITY;
}

/* Goes on from `best`, the first layout, until one carries or nothing is left to try. */
static enum outcome try_again(struct effort *effort, struct carried *best) {
    const double bound = best->layout->bound_forgiveness;
    struct carried next = {.layout = NULL};
    size_t searches = 1;
    bool good = rule_out_weak(effort, best);
    while (good && !best->strength->carries &&
           solve_now(effort->options->steps) < effort->deadline_s) {
        if (try_once(effort, true, &next) != OUTCOME_DONE)
            return OUTCOME_FAULT;
        searches++;
        if (!next.layout->marks)
            break;
        good = next.strength->carries || rule_out_weak(effort, &next);
        if (next.strength->worst < best->strength->worst)
            take(best, &next);
        carried_free(&next);
    }
    carried_free(&next);
    best->searches = searches;
    unprove(best->layout, bound);
    return OUTCOME_DONE;
}

/* The bound alone leaves nothing: what would come nearest is found without it. */
static enum outcome try_anyway(struct effort *effort, struct carried *found) {
    carried_free(found);
    const enum outcome outcome = try_once(effort, false, found);
    found->none_carry = found->strength != NULL && !found->strength->carries;
    return outcome;
}

static enum outcome find(struct effort *effort, struct carried *found) {
    const bool may_carry = !effort->roof->loads || find_needs(effort);
    if (!may_carry)
        return try_anyway(effort, found);
    enum outcome outcome = try_once(effort, effort->bounded, found);
    if (outcome != OUTCOME_DONE || !effort->roof->loads)
        return outcome;
    if (found->layout->state == LAYOUT_IMPOSSIBLE && effort->bounded)
        return try_anyway(effort, found);
    if (found->strength && !found->strength->carries)
        outcome = try_again(effort, found);
    return outcome;
}

enum outcome carry_find(const struct roof *roof, const struct layout_options *options,
                        enum side from, struct carried *carried, struct problems *problems) {
    struct effort effort = {.roof = roof,
                            .options = options,
                            .from = from,
                            .problems = problems,
                            .deadline_s = solve_now(options->steps) + options->limit_s};
    struct carried found = {.layout = NULL};
    const enum outcome outcome = find(&effort, &found);
    for (size_t i = 0; i < effort.out_count; i++)
        free((void *)effort.out[i].plies);
    if (outcome == OUTCOME_DONE)
        *carried = found;
    else
        carried_free(&found);
    return outcome;
}
