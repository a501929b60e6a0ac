/* Where a bracket stands: setback, vent-bracket, and what moving it costs. */
#include "parts.h"

#include <math.h>

/* A column at least as great as |corner - want|. */
static void cost_of_moving(struct parts *parts, size_t corner, double want, const char *name,
                           size_t bracket) {
    struct program *program = parts->program;
    if (program->failed)
        return;
    double most =
        fmax(fabs(program->columns[corner].lo - want), fabs(program->columns[corner].hi - want));
    size_t moved = program_column(program, 0, most, false, "%s_%zu", name, bracket + 1);
    if (program->failed)
        return;
    program->columns[moved].cost = 1;
    struct linear sum = linear_plus(linear_of(0), moved, 1);
    sum.constant = want;
    program_require(program, linear_plus(sum, corner, -1));
    sum.constant = -want;
    program_require(program, linear_plus(sum, corner, 1));
}

void place_bracket(struct parts *parts, size_t bracket) {
    const struct roof *roof = parts->roof;
    const struct candidate_bracket *found = &parts->candidates->brackets[bracket];
    struct model_bracket *columns = &parts->model->brackets[bracket];
    struct subject subject = {bracket, NOBODY};
    columns->x =
        program_column(parts->program, found->x.lo, found->x.hi, false, "X_%zu", bracket + 1);
    columns->y =
        program_column(parts->program, found->y.lo, found->y.hi, false, "Y_%zu", bracket + 1);
    struct sides sides = bracket_sides(parts, bracket);
    require_inside(parts, &sides, subject, true, MODEL_NONE);
    for (size_t v = 0; v < roof->vent_count; v++) {
        const struct vent *vent = &roof->vents[v];
        if (vent->kind == VENT_BLANK && vent->tall < roof_kit(roof, bracket)->standoff)
            continue;
        struct sides flange = fixed_sides(&vent->flange);
        struct gap_rule rule = {subject, vent->keep_bracket, 1, NULL, 0};
        require_gap(parts, &sides, &flange, &rule);
    }
    if (parts->stage->kind == STAGE_COST) {
        cost_of_moving(parts, columns->x, roof->brackets[bracket].want_x, "moved_x", bracket);
        cost_of_moving(parts, columns->y, roof->brackets[bracket].want_y, "moved_y", bracket);
    }
}
