/* One stage of a search. */
#include "hunting.h"

#include "candidates.h"
#include "length.h"
#include "narrow.h"
#include "read_back.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static enum outcome keep_reasons(struct hunt *hunt, const struct candidates *candidates) {
    struct reason *reasons = calloc(candidates->why_count + 1, sizeof *reasons);
    if (!reasons)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < candidates->why_count; i++)
        snprintf(reasons[i].text, sizeof reasons[i].text, "%s", candidates->why[i]);
    free(hunt->layout->reasons);
    hunt->layout->reasons = reasons;
    hunt->layout->reason_count = candidates->why_count;
    return OUTCOME_DONE;
}

/* Brackets that stay where an earlier search put them, to within this much. */
#define PINNED 1e-6

/* A place is where it is; of a stretch no more is left than there was. */
static struct interval pinned(struct interval all, double lo, double hi) {
    const struct interval in = {lo - PINNED, hi + PINNED};
    if (!(lo < hi))
        return in;
    return (struct interval){fmax(all.lo, in.lo), fmin(all.hi, in.hi)};
}

/* What is left of it; all of it where nothing is. */
static struct interval kept_in(struct interval all, double lo, double hi) {
    const struct interval left = {fmax(all.lo, lo), fmin(all.hi, hi)};
    return left.lo <= left.hi ? left : all;
}

static void keep_in(const struct flashing *flashing, const struct box *in,
                    struct candidate_pipe *pipe) {
    const double half = flashing->width / 2, up = flashing->height - flashing->hole_up;
    pipe->x = kept_in(pipe->x, in->x0 + half, in->x1 - half);
    pipe->y = kept_in(pipe->y, in->y0 + flashing->hole_up, in->y1 - up);
}

static void pin(const struct roof *roof, const struct terms *terms, struct candidates *candidates) {
    for (size_t b = 0; b < terms->pinned_count; b++) {
        const struct box *in = &terms->pinned[b];
        struct candidate_bracket *bracket = &candidates->brackets[b];
        bracket->x = pinned(bracket->x, in->x0, in->x1);
        bracket->y = pinned(bracket->y, in->y0, in->y1);
    }
    for (size_t p = 0; p < roof->pipe_count && terms->pipes; p++)
        keep_in(&roof->pipes[p].flashing, terms->pipes, &candidates->pipes[p]);
}

/* Strikes out what no bracket can use at the levels that this stage holds it to. */
static enum outcome narrow(const struct hunt *hunt, const struct stage *stage, double least,
                           struct candidates *candidates) {
    enum outcome outcome = OUTCOME_DONE;
    for (size_t b = 0; b < hunt->roof->bracket_count && outcome == OUTCOME_DONE; b++) {
        const double level = stage->own ? stage->own[b] - stage->kept : least;
        if (hunt->known->stands[b])
            outcome = narrow_bracket(hunt->known->stands[b], level, &candidates->brackets[b]);
    }
    return outcome;
}

enum outcome hunting_stage(struct hunt *hunt, const struct stage *stage, double least,
                           enum solve_end *end, struct solution *solution) {
    struct candidates *candidates = NULL;
    struct model *model = NULL;
    *solution = (struct solution){.bound = -INFINITY};
    enum outcome outcome = candidates_find(hunt->roof, least, &candidates);
    *end = SOLVE_INFEASIBLE;
    if (outcome == OUTCOME_DONE && candidates->hopeless) {
        outcome = keep_reasons(hunt, candidates);
    } else if (outcome == OUTCOME_DONE && solve_now(hunt->terms->steps) >= hunt->deadline_s) {
        /* A program of many rafters takes seconds to put together: not once the time is over. */
        *end = SOLVE_UNDECIDED;
        hunt->cut_short = true;
    } else if (outcome == OUTCOME_DONE) {
        pin(hunt->roof, hunt->terms, candidates);
        outcome = narrow(hunt, stage, least, candidates);
        if (outcome == OUTCOME_DONE)
            outcome = model_build(hunt->roof, candidates, stage, &model);
        if (outcome == OUTCOME_DONE)
            *end = solve_program(&model->program, hunt->deadline_s - solve_now(hunt->terms->steps),
                                 hunt->terms->steps, solution);
        if (*end == SOLVE_FAULT)
            outcome = OUTCOME_FAULT;
        if (outcome == OUTCOME_DONE && solution->values &&
            !read_back(hunt->roof, hunt->layout, candidates, model, solution->values))
            outcome = OUTCOME_FAULT;
        hunt->cut_short |= *end == SOLVE_FEASIBLE || *end == SOLVE_UNDECIDED;
    }
    model_free(model);
    candidates_free(candidates);
    return outcome;
}

/* One run with so much room. */
static enum outcome keep_within(struct hunt *hunt, struct stage *stage, double room,
                                enum solve_end *end, struct solution *solution) {
    stage->kept = room;
    return hunting_stage(hunt, stage, hunt->ladder[0], end, solution);
}

/* The cost of a nearest miss.  The solver holds the sum of shortfalls to about 1e-7; with less room
 * it may overlook the best of what is left and call the rest proved.  With that much room a roof
 * that leans loses a little shortfall for up to a thousand times as much cost.  So it is asked with
 * both, and what costs much less with more room was overlooked. */
static enum outcome keep_sum(struct hunt *hunt, struct stage *stage, enum solve_end *end,
                             struct solution *solution) {
    static const double tight = 1e-9, loose = 1e-7, overlooked = 1e-2;
    enum outcome outcome = keep_within(hunt, stage, loose, end, solution);
    if (outcome != OUTCOME_DONE || *end != SOLVE_OPTIMAL || hunt->known->stands[0])
        return outcome;
    const double cost = solution->cost;
    solution_free(solution);
    outcome = keep_within(hunt, stage, tight, end, solution);
    if (outcome == OUTCOME_DONE && *end == SOLVE_OPTIMAL && solution->cost <= cost + overlooked)
        return outcome;
    solution_free(solution);
    return outcome == OUTCOME_DONE ? keep_within(hunt, stage, loose, end, solution) : outcome;
}

/* Marks that were found before hold what the stage asks for, whatever the solver says. */
static void keep_marks(struct hunt *hunt, enum solve_end *end, struct solution *solution) {
    if (*end != SOLVE_INFEASIBLE || !hunt->layout->marks)
        return;
    hunt->cut_short = true;
    *end = SOLVE_UNDECIDED;
    solution->bound = -INFINITY;
}

enum outcome hunting_keep(struct hunt *hunt, struct stage *stage, enum solve_end *end,
                          struct solution *solution) {
    static const double rooms[] = {1e-9, 1e-8, 1e-7};
    enum outcome outcome = OUTCOME_DONE;
    const bool summed = stage->kind == STAGE_COST && hunt->ladder[0] < -LENGTH_TOLERANCE;
    *end = SOLVE_INFEASIBLE;
    if (summed)
        outcome = keep_sum(hunt, stage, end, solution);
    for (size_t i = 0; i < sizeof rooms / sizeof *rooms && !summed && outcome == OUTCOME_DONE &&
                       *end == SOLVE_INFEASIBLE;
         i++)
        outcome = keep_within(hunt, stage, rooms[i], end, solution);
    if (outcome == OUTCOME_DONE)
        keep_marks(hunt, end, solution);
    return outcome;
}

/* Holes that no choice can save are not in the program's cost. */
static size_t sure_holes(const struct roof *roof) {
    size_t holes = roof->pipe_count;
    for (size_t b = 0; b < roof->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            if (roof->brackets[b].hardware[row] == HARDWARE_FEET)
                holes += roof_kit(roof, b)->leg_count;
    return holes;
}

/* Each bracket with just its own level: there need not be any such layout, so one look, with as
 * much room as the solver needs to see it. */
static enum outcome keep_own(struct hunt *hunt, struct stage *stage, enum solve_end *end,
                             struct solution *solution) {
    const bool summed = stage->kind == STAGE_COST && hunt->known->stands[0];
    const enum outcome outcome = keep_within(hunt, stage, summed ? 1e-7 : 1e-8, end, solution);
    if (outcome == OUTCOME_DONE)
        keep_marks(hunt, end, solution);
    return outcome;
}

enum outcome hunting_kept(struct hunt *hunt, enum stage_kind kind, const double *own,
                          enum solve_end *end) {
    struct stage stage = {.kind = kind,
                          .lo = hunt->ladder[0],
                          .hi = hunt->roof->enough,
                          .ladder = hunt->ladder,
                          .ladder_count = hunt->ladder_count,
                          .ceiling = own ? NULL : hunt->terms->ceiling,
                          .own = own,
                          .limits = hunt->terms->limits,
                          .shortfall = hunt->layout->shortfall};
    struct solution solution;
    const enum outcome outcome =
        own ? keep_own(hunt, &stage, end, &solution) : hunting_keep(hunt, &stage, end, &solution);
    if (kind == STAGE_SHORTFALL && solution.values)
        hunt->layout->shortfall = solution.cost;
    if (kind == STAGE_COST)
        hunt->layout->bound_cost =
            solution.bound + (double)sure_holes(hunt->roof) * hunt->roof->hole_worth;
    solution_free(&solution);
    return outcome;
}
