/* What all marks of a row have in common: its height on the bracket and its
 * course. */
#include "parts.h"

#include <stdio.h>
#include <stdlib.h>

/* Requires sign * (y - sum of binary * bound(course)) >= level: y on that side
 * of the bound of whichever course is chosen.  The bounds enter as a convex
 * combination, not as a switched-off row, so that nothing leaks. */
static void hold_course(struct parts *parts, const struct on_course *marks, const size_t *courses,
                        double sign, const double *bounds, size_t level) {
    program_row(parts->program, 0, false);
    program_term(parts->program, marks->y, sign);
    program_term(parts->program, level, -1);
    for (size_t i = 0; i < marks->count; i++)
        program_term(parts->program, courses[i], -sign * bounds[i]);
}

/* The four bounds of a course on y: lower edge above its butt edge, not too far
 * above it, raised block below the next butt edge, top lapped under the one
 * after. */
enum bound { BOUND_EDGE_LOW, BOUND_EDGE_HIGH, BOUND_BLOCK, BOUND_LAP, BOUND_COUNT };

static double bound_of(const struct course_bounds *bounds, enum bound bound) {
    switch (bound) {
    case BOUND_EDGE_LOW:
        return bounds->edge[0];
    case BOUND_EDGE_HIGH:
        return bounds->edge[1];
    case BOUND_BLOCK:
        return bounds->block;
    default:
        return bounds->lap;
    }
}

static void hold_courses(struct parts *parts, const struct on_course *marks, const size_t *courses,
                         double *bounds) {
    size_t level = MODEL_NONE;
    for (int bound = BOUND_EDGE_LOW; bound < BOUND_COUNT; bound++) {
        for (size_t i = 0; i < marks->count; i++) {
            const struct course_bounds of =
                candidates_bounds(parts->roof, marks->flashing, marks->numbers[i]);
            bounds[i] = bound_of(&of, (enum bound)bound);
        }
        /* Both sides of the edge are one rule. */
        if (bound != BOUND_EDGE_HIGH) {
            level = level_of(parts, marks->subject, marks->times);
            for (size_t i = 0; i < marks->used_count; i++)
                level_shared(parts, level, marks->used[i]);
        }
        bool from_below = bound == BOUND_EDGE_LOW || bound == BOUND_LAP;
        hold_course(parts, marks, courses, from_below ? 1 : -1, bounds, level);
    }
}

size_t *place_on_course(struct parts *parts, const struct on_course *marks) {
    struct program *program = parts->program;
    size_t *courses = calloc(marks->count, sizeof *courses);
    double *bounds = calloc(marks->count, sizeof *bounds);
    if (!courses || !bounds) {
        program->failed = true;
    } else {
        for (size_t i = 0; i < marks->count; i++)
            courses[i] = program_column(program, 0, 1, true, "%s_course_%zu", marks->name,
                                        marks->numbers[i]);
        program_row(program, 1, true);
        for (size_t i = 0; i < marks->count; i++)
            program_term(program, courses[i], 1);
        hold_courses(parts, marks, courses, bounds);
    }
    free(bounds);
    return courses;
}

/* Needs the row's lags to be there already: the rules of a course count once a
 * mark. */
void place_line(struct parts *parts, size_t bracket, enum row row) {
    struct program *program = parts->program;
    const struct kit *kit = roof_kit(parts->roof, bracket);
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    struct model_bracket *own = &parts->model->brackets[bracket];
    struct model_row *columns = &own->rows[row];
    struct subject subject = {bracket, NOBODY};
    char name[PROGRAM_NAME];
    snprintf(name, sizeof name, "line_%zu_%s", bracket + 1, roof_row_word(row));
    struct on_course marks = {.subject = subject,
                              .flashing = &kit->flashing,
                              .numbers = found->courses,
                              .count = found->course_count,
                              .y = columns->y,
                              .times = (double)found->leg_count,
                              .used = columns->used,
                              .used_count = found->ply_count,
                              .name = name};
    columns->courses = place_on_course(parts, &marks);
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
