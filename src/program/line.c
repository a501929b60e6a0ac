/* What all marks of a row have in common: its height on the bracket and its course. */
#include "parts.h"

#include <stdlib.h>

/* Requires sign * (y - sum of binary * bound(course)) >= level: y on that side of the bound of
 * whichever course is chosen.  The bounds enter as a convex combination, not as a switched-off row,
 * so that nothing leaks. */
static void hold_course(struct parts *parts, const struct candidate_row *found,
                        const struct model_row *columns, double sign, const double *bounds,
                        size_t level) {
    program_row(parts->program, 0, false);
    program_term(parts->program, columns->y, sign);
    program_term(parts->program, level, -1);
    for (size_t i = 0; i < found->course_count; i++)
        program_term(parts->program, columns->courses[i], -sign * bounds[i]);
}

/* The four bounds of a course on y: lower edge above its butt edge, not too far above it, raised
 * block below the next butt edge, top lapped under the one after. */
enum bound { BOUND_EDGE_LOW, BOUND_EDGE_HIGH, BOUND_BLOCK, BOUND_LAP, BOUND_COUNT };

static double bound_of(const struct roof *roof, const struct flashing *flashing, size_t course,
                       enum bound bound) {
    const double *edge = &roof->courses[course - 1];
    double off = roof->course_tolerance;
    switch (bound) {
    case BOUND_EDGE_LOW:
        return edge[0] + flashing->edge[0] + flashing->hole_up + off;
    case BOUND_EDGE_HIGH:
        return edge[0] + flashing->edge[1] + flashing->hole_up - off;
    case BOUND_BLOCK:
        return edge[1] - flashing->clear - flashing->block - off;
    default:
        return edge[2] + flashing->lap - flashing->height + flashing->hole_up + off;
    }
}

static void hold_courses(struct parts *parts, size_t bracket, enum row row, double *bounds) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    const struct flashing *flashing = &roof_kit(parts->roof, bracket)->flashing;
    struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    struct subject subject = {bracket, NOBODY};
    size_t level = MODEL_NONE;
    for (int bound = BOUND_EDGE_LOW; bound < BOUND_COUNT; bound++) {
        for (size_t i = 0; i < found->course_count; i++)
            bounds[i] = bound_of(parts->roof, flashing, found->courses[i], (enum bound)bound);
        if (bound != BOUND_EDGE_HIGH) {
            level = level_of(parts, subject, (double)found->leg_count);
            for (size_t i = 0; i < found->ply_count; i++)
                level_shared(parts, level, columns->used[i]);
        }
        bool from_below = bound == BOUND_EDGE_LOW || bound == BOUND_LAP;
        hold_course(parts, found, columns, from_below ? 1 : -1, bounds, level);
    }
}

static void choose_course(struct parts *parts, const struct candidate_row *found,
                          struct model_row *columns, size_t bracket, enum row row) {
    struct program *program = parts->program;
    for (size_t i = 0; i < found->course_count; i++)
        columns->courses[i] = program_column(program, 0, 1, true, "course_%zu_%s_%zu", bracket + 1,
                                             roof_row_word(row), found->courses[i]);
    program_row(program, 1, true);
    for (size_t i = 0; i < found->course_count; i++)
        program_term(program, columns->courses[i], 1);
}

/* Needs the row's lags to be there already: the rules of a course count once a mark. */
void place_line(struct parts *parts, size_t bracket, enum row row) {
    struct program *program = parts->program;
    const struct kit *kit = roof_kit(parts->roof, bracket);
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    struct model_bracket *own = &parts->model->brackets[bracket];
    struct model_row *columns = &own->rows[row];
    struct subject subject = {bracket, NOBODY};
    columns->courses = calloc(found->course_count, sizeof *columns->courses);
    double *bounds = calloc(found->course_count, sizeof *bounds);
    if (!columns->courses || !bounds) {
        program->failed = true;
        free(bounds);
        return;
    }
    choose_course(parts, found, columns, bracket, row);
    hold_courses(parts, bracket, row, bounds);
    free(bounds);
    struct linear up = linear_plus(linear_plus(linear_of(0), columns->y, 1), own->y, -1);
    size_t level = level_of(parts, subject, 1);
    program_require(program,
                    linear_plus(linear_sum(up, linear_of(kit->window[row][0]), -1), level, -1));
    program_require(program,
                    linear_plus(linear_sum(linear_of(kit->window[row][1]), up, -1), level, -1));
    if (row != ROW_BOTTOM)
        return;
    enum hardware hardware = parts->roof->brackets[bracket].hardware[row];
    double room = roof_hardware_half(kit, hardware) + kit->wrench + kit->gap[1] + kit->depth;
    program_require(
        program, linear_plus(linear_sum(up, linear_of(room), -1), level_of(parts, subject, 1), -1));
}
