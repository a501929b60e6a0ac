/* The search, stage by stage: worst forgiveness, the next worst, shortfalls, cost. */
#include "layout.h"
#include "model.h"
#include "solve.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* Forgiveness is sought in windows, one below the other.  Narrow windows keep the constants that
 * switch rows off small, and let what cannot be reached be struck out; a lower window is only
 * opened once the one above is proved empty, so the first answer is the best.  Each is this many
 * times as deep as the one before. */
#define WINDOW_FIRST 2.0 /* inches below zero */
#define WINDOW_FACTOR 4.0

struct hunt {
    const struct roof *roof;
    const struct layout_options *options;
    struct problems *problems;
    double deadline_s;
    struct layout *layout; /* being made */
    double *ladder;        /* forgiveness proved so far, worst first */
    size_t ladder_count;
    bool cut_short; /* the time ran out somewhere */
};

static double now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static size_t count_holes(const struct candidate_row *found, const struct model_row *columns,
                          const double *values) {
    size_t holes = found->leg_count;
    for (size_t i = 0; i < found->ply_count; i++)
        holes += values[columns->used[i]] > 0.5;
    return holes;
}

static void read_feet(struct layout *layout, const struct candidate_row *found,
                      const struct model_row *columns, const double *values, struct mark mark,
                      size_t *next) {
    for (size_t leg = 0; leg < found->leg_count; leg++) {
        mark.x = values[columns->x[leg]];
        layout->legs[*next] = leg;
        for (size_t i = 0; i < found->legs[leg].count; i++)
            if (values[columns->seats[leg][i]] > 0.5)
                layout->plies[*next] = found->legs[leg].plies[i];
        layout->marks->list[(*next)++] = mark;
    }
}

static void read_strut(const struct roof *roof, struct layout *layout,
                       const struct candidate_row *found, const struct model_row *columns,
                       const double *values, struct mark mark, size_t *next) {
    for (size_t i = 0; i < found->ply_count; i++) {
        if (!(values[columns->used[i]] > 0.5))
            continue;
        const struct ply *ply = &roof->plies[found->plies[i]];
        mark.x = ply->at + ply->lean * mark.y;
        layout->legs[*next] = SIZE_MAX;
        layout->plies[*next] = found->plies[i];
        layout->marks->list[(*next)++] = mark;
    }
}

static void drop_answer(struct layout *layout) {
    marks_free(layout->marks);
    free(layout->plies);
    free(layout->legs);
    free(layout->courses);
    free(layout->pipe_courses);
    free(layout->bracket_forgiveness);
    layout->marks = NULL;
    layout->plies = layout->legs = NULL;
    layout->courses = NULL;
    layout->pipe_courses = NULL;
    layout->bracket_forgiveness = NULL;
}

static bool room_for_answer(const struct roof *roof, struct layout *layout, size_t holes) {
    drop_answer(layout);
    layout->plies = calloc(holes + 1, sizeof *layout->plies);
    layout->legs = calloc(holes + 1, sizeof *layout->legs);
    layout->courses = calloc(roof->bracket_count, sizeof *layout->courses);
    layout->pipe_courses = calloc(roof->pipe_count + 1, sizeof *layout->pipe_courses);
    layout->bracket_forgiveness = calloc(roof->bracket_count, sizeof *layout->bracket_forgiveness);
    return layout->plies && layout->legs && layout->courses && layout->pipe_courses &&
           layout->bracket_forgiveness &&
           marks_new(roof->bracket_count, holes, &layout->marks) == OUTCOME_DONE;
}

static void read_bracket(const struct roof *roof, struct layout *layout,
                         const struct candidates *candidates, const struct model *model,
                         const double *values, size_t b, size_t *next) {
    const struct model_bracket *columns = &model->brackets[b];
    struct standing *standing = &layout->marks->brackets[b];
    *standing = (struct standing){.x = values[columns->x], .y = values[columns->y]};
    memcpy(standing->hardware, roof->brackets[b].hardware, sizeof standing->hardware);
    layout->bracket_forgiveness[b] = values[columns->forgiveness];
    layout->moved +=
        fabs(standing->x - roof->brackets[b].want_x) + fabs(standing->y - roof->brackets[b].want_y);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct candidate_row *found = &candidates->brackets[b].rows[row];
        for (size_t i = 0; i < found->course_count; i++)
            if (values[columns->rows[row].courses[i]] > 0.5)
                layout->courses[b][row] = found->courses[i];
        struct mark mark = {.bracket = b, .row = (enum row)row, .y = values[columns->rows[row].y]};
        if (found->plies)
            read_strut(roof, layout, found, &columns->rows[row], values, mark, next);
        else
            read_feet(layout, found, &columns->rows[row], values, mark, next);
    }
}

static void read_pipe(const struct roof *roof, struct layout *layout,
                      const struct candidate_pipe *found, const struct model_pipe *columns,
                      const double *values, size_t p, size_t *next) {
    for (size_t i = 0; i < found->course_count; i++)
        if (values[columns->courses[i]] > 0.5)
            layout->pipe_courses[p] = found->courses[i];
    layout->legs[*next] = layout->plies[*next] = SIZE_MAX;
    layout->marks->list[(*next)++] = (struct mark){.bracket = roof->pipes[p].bracket,
                                                   .row = ROW_PIPE,
                                                   .x = values[columns->x],
                                                   .y = values[columns->y],
                                                   .pipe = p};
}

/* Reads a solution back into the layout; false without memory. */
static bool read_back(const struct roof *roof, struct layout *layout,
                      const struct candidates *candidates, const struct model *model,
                      const double *values) {
    size_t holes = roof->pipe_count, next = 0;
    for (size_t b = 0; b < roof->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            holes += count_holes(&candidates->brackets[b].rows[row], &model->brackets[b].rows[row],
                                 values);
    if (!room_for_answer(roof, layout, holes))
        return false;
    layout->holes = holes;
    layout->moved = 0;
    for (size_t b = 0; b < roof->bracket_count; b++) {
        read_bracket(roof, layout, candidates, model, values, b, &next);
        for (size_t p = 0; p < roof->pipe_count; p++)
            if (roof->pipes[p].bracket == b)
                read_pipe(roof, layout, &candidates->pipes[p], &model->pipes[p], values, p, &next);
    }
    return true;
}

static enum outcome write_model(const struct hunt *hunt, const struct program *program) {
    if (!hunt->options->model_path || solve_write(program, hunt->options->model_path))
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
    double top = hunt->roof->enough, floor = 0, depth = WINDOW_FIRST;
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
                                  .ladder_count = hunt->ladder_count};
            outcome = run_stage(hunt, &stage, hunt->ladder[0], &end, &solution);
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
                          .shortfall = hunt->layout->shortfall};
    struct solution solution;
    enum solve_end end;
    enum outcome outcome = run_stage(hunt, &stage, hunt->ladder[0], &end, &solution);
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

static enum outcome hunt_all(struct hunt *hunt) {
    struct layout *layout = hunt->layout;
    enum outcome outcome = hunt_worst(hunt);
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
