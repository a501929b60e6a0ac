/* The search, stage by stage: worst forgiveness, the next worst, shortfalls, cost. */
#include "layout.h"
#include "model.h"
#include "read_back.h"
#include "solve.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

/* Forgiveness is sought in windows, one below the other.  Narrow windows keep the constants that
 * switch rows off small, and let what cannot be reached be struck out; a lower window is only
 * opened once the one above is proved empty, so the first answer is the best.  Each is this many
 * times as deep as the one before. */
#define WINDOW_FIRST 2.0 /* inches below zero */
#define WINDOW_FACTOR 4.0
/* Several brackets mostly come out as good together as the worst of them alone. */
#define WINDOW_NEAR 0.5

struct hunt {
    const struct roof *roof;
    const struct layout_options *options;
    struct problems *problems;
    double deadline_s;
    struct layout *layout; /* being made */
    double *ceiling;       /* one a bracket: its forgiveness alone; NULL for a single bracket */
    double *ladder;        /* forgiveness proved so far, worst first */
    size_t ladder_count;
    bool cut_short; /* the time ran out somewhere */
};

static double now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static enum outcome write_model(const struct hunt *hunt, const struct program *program) {
    if (!hunt->options->model_path)
        return OUTCOME_DONE;
    hunt->layout->model_written = solve_write(program, hunt->options->model_path);
    if (hunt->layout->model_written)
        return OUTCOME_DONE;
    problems_add(hunt->problems, hunt->options->model_path, 0, "", "",
                 "a place where the model can be written");
    return OUTCOME_FAULT;
}

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

/* One stage: build, solve, read back.  *end says how it went; *solution is the caller's to free.
 * Where candidates are hopeless the stage is infeasible without a search. */
static enum outcome run_stage(struct hunt *hunt, const struct stage *stage, double least,
                              enum solve_end *end, struct solution *solution) {
    struct candidates *candidates = NULL;
    struct model *model = NULL;
    *solution = (struct solution){.bound = -INFINITY};
    enum outcome outcome = candidates_find(hunt->roof, least, &candidates);
    *end = SOLVE_INFEASIBLE;
    if (outcome == OUTCOME_DONE && candidates->hopeless) {
        outcome = keep_reasons(hunt, candidates);
    } else if (outcome == OUTCOME_DONE) {
        outcome = model_build(hunt->roof, candidates, stage, &model);
        if (outcome == OUTCOME_DONE)
            *end = solve_program(&model->program, hunt->deadline_s - now_s(), solution);
        if (*end == SOLVE_FAULT)
            outcome = OUTCOME_FAULT;
        if (outcome == OUTCOME_DONE && stage->kind == STAGE_WORST && *end != SOLVE_INFEASIBLE)
            outcome = write_model(hunt, &model->program);
        if (outcome == OUTCOME_DONE && solution->values &&
            !read_back(hunt->roof, hunt->layout, candidates, model, solution->values))
            outcome = OUTCOME_FAULT;
        hunt->cut_short |= *end == SOLVE_FEASIBLE || *end == SOLVE_UNDECIDED;
    }
    model_free(model);
    candidates_free(candidates);
    return outcome;
}

/* Further below zero than this no margin of a layout near the face can lie: if even there nothing
 * is found, it is the hard rules that forbid every layout. */
static double deepest(const struct roof *roof) {
    double most = 0;
    for (size_t k = 0; k < roof->kit_count; k++) {
        const struct kit *kit = &roof->kits[k];
        most = fmax(most, kit->width + kit->height + kit->flashing.width + kit->flashing.height +
                              kit->span + kit->overhang + kit->stock[kit->stock_count - 1]);
    }
    return -2 * (roof->width + roof->slope + roof->apart + most);
}

static enum outcome name_hard_rules(struct hunt *hunt) {
    hunt->layout->state = LAYOUT_IMPOSSIBLE;
    if (hunt->layout->reason_count > 0)
        return OUTCOME_DONE;
    hunt->layout->reasons = calloc(1, sizeof *hunt->layout->reasons);
    if (!hunt->layout->reasons)
        return OUTCOME_FAULT;
    hunt->layout->reason_count = 1;
    snprintf(hunt->layout->reasons->text, sizeof hunt->layout->reasons->text,
             "no strut can be lagged and clamped: spans, overhangs, clamps off the lags and the "
             "stock length exclude each other on these rafters");
    return OUTCOME_DONE;
}

/* The worst bracket's forgiveness: the first rung of the ladder. */
static enum outcome hunt_worst(struct hunt *hunt) {
    double top = hunt->roof->enough;
    for (size_t b = 0; hunt->ceiling && b < hunt->roof->bracket_count; b++)
        top = fmin(top, hunt->ceiling[b]);
    double floor = top > 0 || !hunt->ceiling ? 0 : top - WINDOW_NEAR, depth = WINDOW_FIRST;
    for (;;) {
        struct stage stage = {.kind = STAGE_WORST, .lo = floor, .hi = top};
        struct solution solution;
        enum solve_end end;
        enum outcome outcome = run_stage(hunt, &stage, floor, &end, &solution);
        if (outcome == OUTCOME_DONE && solution.values)
            hunt->ladder[hunt->ladder_count++] = -solution.cost;
        hunt->layout->bound_forgiveness = fmin(top, -solution.bound);
        solution_free(&solution);
        if (outcome != OUTCOME_DONE || end != SOLVE_INFEASIBLE)
            return outcome;
        if (floor <= deepest(hunt->roof))
            return name_hard_rules(hunt);
        top = floor;
        floor -= depth;
        depth *= WINDOW_FACTOR;
    }
}

/* A stage that keeps what earlier ones proved.  The answer of the last one satisfies it, so where
 * the solver finds nothing it is rounding that forbids it: the stage is run again with more room, a
 * tenth of the tolerance of a rule at most. */
static enum outcome run_keeping(struct hunt *hunt, struct stage *stage, enum solve_end *end,
                                struct solution *solution) {
    static const double rooms[] = {1e-9, 1e-8, 1e-7};
    enum outcome outcome = OUTCOME_DONE;
    *end = SOLVE_INFEASIBLE;
    for (size_t i = 0;
         i < sizeof rooms / sizeof *rooms && outcome == OUTCOME_DONE && *end == SOLVE_INFEASIBLE;
         i++) {
        stage->kept = rooms[i];
        outcome = run_stage(hunt, stage, hunt->ladder[0], end, solution);
    }
    return outcome;
}

/* The next worst, and so on, until the rest has enough. */
static enum outcome hunt_next(struct hunt *hunt) {
    size_t brackets = hunt->roof->bracket_count;
    enum outcome outcome = OUTCOME_DONE;
    while (outcome == OUTCOME_DONE && hunt->ladder_count < brackets && !hunt->cut_short) {
        double last = hunt->ladder[hunt->ladder_count - 1];
        struct solution solution = {0};
        enum solve_end end = SOLVE_OPTIMAL;
        if (last < hunt->roof->enough - LENGTH_TOLERANCE) {
            struct stage stage = {.kind = STAGE_NEXT,
                                  .lo = last,
                                  .hi = hunt->roof->enough,
                                  .ladder = hunt->ladder,
                                  .ladder_count = hunt->ladder_count,
                                  .ceiling = hunt->ceiling};
            outcome = run_keeping(hunt, &stage, &end, &solution);
            if (solution.values)
                last = fmax(last, -solution.cost);
            else if (outcome == OUTCOME_DONE && end == SOLVE_INFEASIBLE)
                outcome = OUTCOME_FAULT; /* the last answer was feasible here */
        }
        solution_free(&solution);
        hunt->ladder[hunt->ladder_count++] = last;
    }
    while (hunt->ladder_count < brackets && hunt->ladder_count > 0) {
        hunt->ladder[hunt->ladder_count] = hunt->ladder[hunt->ladder_count - 1];
        hunt->ladder_count++;
    }
    return outcome;
}

/* Holes that no choice can save are not in the program's cost. */
static size_t holes_in_any_case(const struct roof *roof) {
    size_t holes = roof->pipe_count;
    for (size_t b = 0; b < roof->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            if (roof->brackets[b].hardware[row] == HARDWARE_FEET)
                holes += roof_kit(roof, b)->leg_count;
    return holes;
}

static enum outcome hunt_kept(struct hunt *hunt, enum stage_kind kind) {
    struct stage stage = {.kind = kind,
                          .lo = hunt->ladder[0],
                          .hi = hunt->roof->enough,
                          .ladder = hunt->ladder,
                          .ladder_count = hunt->ladder_count,
                          .ceiling = hunt->ceiling,
                          .shortfall = hunt->layout->shortfall};
    struct solution solution;
    enum solve_end end;
    enum outcome outcome = run_keeping(hunt, &stage, &end, &solution);
    if (outcome == OUTCOME_DONE && end == SOLVE_INFEASIBLE)
        outcome = OUTCOME_FAULT; /* the last answer was feasible here */
    if (kind == STAGE_SHORTFALL && solution.values)
        hunt->layout->shortfall = solution.cost;
    if (kind == STAGE_COST)
        hunt->layout->bound_cost =
            solution.bound + (double)holes_in_any_case(hunt->roof) * hunt->roof->hole_worth;
    solution_free(&solution);
    return outcome;
}

/* Each bracket's forgiveness as proved: its column may lie anywhere between its rung and what the
 * layout really gives. */
static void settle_rungs(struct hunt *hunt) {
    struct layout *layout = hunt->layout;
    for (size_t b = 0; b < hunt->roof->bracket_count; b++) {
        double rung = hunt->ladder[0];
        for (size_t j = 1; j < hunt->ladder_count; j++)
            if (hunt->ladder[j] <= layout->bracket_forgiveness[b] + LENGTH_TOLERANCE)
                rung = hunt->ladder[j];
        layout->bracket_forgiveness[b] = rung;
    }
    layout->forgiveness = hunt->ladder[0];
}

/* A roof with one of its brackets alone, sharing everything else; its pipes go to `pipes`. */
static struct roof roof_alone(const struct roof *roof, size_t b, struct pipe *pipes) {
    struct roof alone = *roof;
    alone.brackets = &roof->brackets[b];
    alone.bracket_count = 1;
    alone.pipes = pipes;
    alone.pipe_count = 0;
    for (size_t p = 0; p < roof->pipe_count; p++)
        if (roof->pipes[p].bracket == b) {
            pipes[alone.pipe_count] = roof->pipes[p];
            pipes[alone.pipe_count++].bracket = 0;
        }
    return alone;
}

/* The best that one bracket can do with the others away; if it cannot stand even so, nor can all of
 * them, and the reasons are its own. */
static enum outcome hunt_one(struct hunt *hunt, size_t b, struct pipe *pipes) {
    struct roof alone = roof_alone(hunt->roof, b, pipes);
    struct layout_options options = {.limit_s = hunt->options->limit_s};
    double rung[2] = {0};
    struct hunt single = {.roof = &alone,
                          .options = &options,
                          .problems = hunt->problems,
                          .deadline_s = hunt->deadline_s,
                          .layout = calloc(1, sizeof *single.layout),
                          .ladder = rung};
    if (!single.layout)
        return OUTCOME_FAULT;
    enum outcome outcome = hunt_worst(&single);
    hunt->ceiling[b] = single.layout->bound_forgiveness;
    if (outcome == OUTCOME_DONE && single.layout->state == LAYOUT_IMPOSSIBLE) {
        layout_free(hunt->layout);
        hunt->layout = single.layout;
        return OUTCOME_DONE;
    }
    layout_free(single.layout);
    return outcome;
}

/* Each bracket alone, so that what the company can reach has a ceiling. */
static enum outcome hunt_alone(struct hunt *hunt) {
    size_t count = hunt->roof->bracket_count;
    if (count < 2)
        return OUTCOME_DONE;
    hunt->ceiling = calloc(count, sizeof *hunt->ceiling);
    struct pipe *pipes = calloc(hunt->roof->pipe_count + 1, sizeof *pipes);
    enum outcome outcome = hunt->ceiling && pipes ? OUTCOME_DONE : OUTCOME_FAULT;
    for (size_t b = 0; outcome == OUTCOME_DONE && b < count; b++)
        if (hunt->layout->state != LAYOUT_IMPOSSIBLE)
            outcome = hunt_one(hunt, b, pipes);
    free(pipes);
    return outcome;
}

static enum outcome hunt_all(struct hunt *hunt) {
    enum outcome outcome = hunt_alone(hunt);
    struct layout *layout = hunt->layout;
    if (outcome == OUTCOME_DONE && layout->state != LAYOUT_IMPOSSIBLE)
        outcome = hunt_worst(hunt);
    if (outcome != OUTCOME_DONE || layout->state == LAYOUT_IMPOSSIBLE)
        return outcome;
    if (outcome == OUTCOME_DONE && layout->marks && !hunt->cut_short)
        outcome = hunt_next(hunt);
    if (outcome == OUTCOME_DONE && layout->marks && !hunt->cut_short &&
        hunt->ladder[0] < -LENGTH_TOLERANCE)
        outcome = hunt_kept(hunt, STAGE_SHORTFALL);
    if (outcome == OUTCOME_DONE && layout->marks && !hunt->cut_short)
        outcome = hunt_kept(hunt, STAGE_COST);
    if (outcome != OUTCOME_DONE)
        return outcome;
    layout->state = !layout->marks    ? LAYOUT_UNDECIDED
                    : hunt->cut_short ? LAYOUT_FEASIBLE
                                      : LAYOUT_PROVED;
    if (layout->marks)
        settle_rungs(hunt);
    return OUTCOME_DONE;
}

enum outcome layout_find(const struct roof *roof, const struct layout_options *options,
                         struct layout **layout, struct problems *problems) {
    struct hunt hunt = {.roof = roof,
                        .options = options,
                        .problems = problems,
                        .deadline_s = now_s() + options->limit_s,
                        .layout = calloc(1, sizeof *hunt.layout),
                        .ladder = calloc(roof->bracket_count + 1, sizeof *hunt.ladder)};
    enum outcome outcome = OUTCOME_FAULT;
    if (hunt.layout && hunt.ladder) {
        hunt.layout->bound_cost = -INFINITY;
        outcome = hunt_all(&hunt);
    }
    solve_close();
    free(hunt.ladder);
    free(hunt.ceiling);
    if (outcome == OUTCOME_DONE)
        *layout = hunt.layout;
    else
        layout_free(hunt.layout);
    return outcome;
}

void layout_free(struct layout *layout) {
    if (!layout)
        return;
    drop_answer(layout);
    free(layout->reasons);
    free(layout);
}
