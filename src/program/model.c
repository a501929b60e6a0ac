/* A model put together from its parts, bracket by bracket, pair by pair. */
#include "model.h"
#include "parts.h"

#include <stdlib.h>

static void place_row(struct parts *parts, size_t bracket, enum row row) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    *columns = (struct model_row){.from = MODEL_NONE, .to = MODEL_NONE};
    columns->y = program_column(parts->program, found->y.lo, found->y.hi, false, "y_%zu_%s",
                                bracket + 1, roof_row_word(row));
    if (found->plies)
        place_strut(parts, bracket, row);
    else
        place_feet(parts, bracket, row);
    if (!parts->program->failed)
        place_line(parts, bracket, row);
    if (parts->program->failed || !roof_has_joints(parts->roof))
        return;
    if (found->plies)
        keep_strut_off_joints(parts, bracket, row);
    else
        keep_feet_off_joints(parts, bracket, row);
}

static void assemble(struct parts *parts) {
    size_t count = parts->roof->bracket_count;
    levels_begin(parts);
    for (size_t b = 0; b < count && !parts->program->failed; b++) {
        place_bracket(parts, b);
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            place_row(parts, b, (enum row)row);
    }
    if (!parts->program->failed)
        hold_limits(parts);
    for (size_t b = 0; b < count; b++)
        for (size_t o = b; o < count && !parts->program->failed; o++)
            keep_apart(parts, b, o);
    for (size_t p = 0; p < parts->roof->pipe_count && !parts->program->failed; p++)
        place_pipe(parts, p);
    for (size_t p = 0; p < parts->roof->pipe_count && !parts->program->failed; p++)
        keep_pipe_apart(parts, p);
    levels_end(parts);
}

enum outcome model_build(const struct roof *roof, const struct candidates *candidates,
                         const struct stage *stage, struct model **model) {
    struct model *made = calloc(1, sizeof *made);
    if (!made)
        return OUTCOME_FAULT;
    size_t count = roof->bracket_count;
    struct parts parts = {.roof = roof,
                          .candidates = candidates,
                          .stage = stage,
                          .model = made,
                          .program = &made->program,
                          .pair_levels = calloc(count * count, sizeof *parts.pair_levels)};
    made->brackets = calloc(count, sizeof *made->brackets);
    made->pipes = calloc(roof->pipe_count + 1, sizeof *made->pipes);
    bool good = made->brackets && made->pipes && parts.pair_levels;
    if (good) {
        made->bracket_count = count;
        made->pipe_count = roof->pipe_count;
        assemble(&parts);
        good = !made->program.failed;
    }
    free(parts.pair_levels);
    free(parts.shortfalls);
    if (!good) {
        model_free(made);
        return OUTCOME_FAULT;
    }
    *model = made;
    return OUTCOME_DONE;
}

static void free_row(struct model_row *row) {
    free(row->courses);
    free(row->x);
    free(row->turned);
    free(row->used);
    for (size_t leg = 0; row->seats && leg < row->leg_count; leg++)
        free(row->seats[leg]);
    free(row->seats);
}

void model_free(struct model *model) {
    if (!model)
        return;
    for (size_t b = 0; b < model->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            free_row(&model->brackets[b].rows[row]);
    for (size_t p = 0; p < model->pipe_count; p++)
        free(model->pipes[p].courses);
    free(model->pipes);
    free(model->brackets);
    program_free(&model->program);
    free(model);
}
