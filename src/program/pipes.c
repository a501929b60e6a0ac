/* Pipes: bores that come up between the rafters, near a port of their frame. */
#include "parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* The faces that bound each candidate bay, as lines over the height; a bay open
 * to one side is bounded there by what x can be at all. */
static void bound_bays(const struct parts *parts, size_t pipe, struct line *low,
                       struct line *high) {
    const struct roof *roof = parts->roof;
    const struct candidate_pipe *found = &parts->candidates->pipes[pipe];
    const struct column *x = &parts->program->columns[parts->model->pipes[pipe].x];
    for (size_t i = 0; i < found->bay_count; i++) {
        size_t bay = found->bays[i];
        struct interval at = candidates_bay(roof, &roof->pipes[pipe], bay, 0);
        low[i] = bay > 0 ? (struct line){at.lo, roof->rafters[bay - 1].lean}
                         : (struct line){x->lo - fabs(levels_most(parts)), 0};
        high[i] = bay < roof->rafter_count ? (struct line){at.hi, roof->rafters[bay].lean}
                                           : (struct line){x->hi + fabs(levels_most(parts)), 0};
    }
}

static void hold_bay(struct parts *parts, size_t pipe, const size_t *bays, struct line *lines[2],
                     size_t level) {
    struct program *program = parts->program;
    const struct model_pipe *columns = &parts->model->pipes[pipe];
    size_t count = parts->candidates->pipes[pipe].bay_count;
    for (int side = SIDE_NEAR; side < SIDE_COUNT && !program->failed; side++) {
        double sign = side == SIDE_NEAR ? 1 : -1;
        size_t *shares = share_height(parts, bays, lines[side], count, columns->y);
        program_row(program, 0, false);
        program_term(program, columns->x, sign);
        program_term(program, level, -1);
        add_lines(parts, bays, lines[side], count, shares, -sign);
        free(shares);
    }
}

static void choose_bay(struct parts *parts, size_t pipe, struct subject subject) {
    struct program *program = parts->program;
    const struct candidate_pipe *found = &parts->candidates->pipes[pipe];
    size_t *bays = calloc(found->bay_count, sizeof *bays);
    struct line *lines[SIDE_COUNT] = {calloc(found->bay_count, sizeof(struct line)),
                                      calloc(found->bay_count, sizeof(struct line))};
    if (!bays || !lines[SIDE_NEAR] || !lines[SIDE_FAR]) {
        program->failed = true;
    } else {
        for (size_t i = 0; i < found->bay_count; i++)
            bays[i] =
                program_column(program, 0, 1, true, "pipe_%zu_bay_%zu", pipe + 1, found->bays[i]);
        program_row(program, 1, true);
        for (size_t i = 0; i < found->bay_count; i++)
            program_term(program, bays[i], 1);
        bound_bays(parts, pipe, lines[SIDE_NEAR], lines[SIDE_FAR]);
        hold_bay(parts, pipe, bays, lines, level_of(parts, subject, 1));
    }
    free(bays);
    free(lines[SIDE_NEAR]);
    free(lines[SIDE_FAR]);
}

/* reach - |offset from the port| >= level, along x and along y: one rule. */
static void hold_pipe_reach(struct parts *parts, size_t pipe, struct subject subject) {
    const struct pipe *own = &parts->roof->pipes[pipe];
    const struct model_pipe *columns = &parts->model->pipes[pipe];
    const struct model_bracket *bracket = &parts->model->brackets[own->bracket];
    struct linear x = linear_plus(linear_of(-own->port_x), columns->x, 1);
    struct linear y = linear_plus(linear_of(-own->port_y), columns->y, 1);
    struct linear off[2] = {linear_plus(x, bracket->x, -1), linear_plus(y, bracket->y, -1)};
    struct linear reach = linear_plus(linear_of(own->reach), level_of(parts, subject, 1), -1);
    for (int axis = 0; axis < 2; axis++) {
        program_require(parts->program, linear_sum(reach, off[axis], -1));
        program_require(parts->program, linear_sum(reach, off[axis], 1));
    }
}

void place_pipe(struct parts *parts, size_t pipe) {
    const struct pipe *own = &parts->roof->pipes[pipe];
    const struct candidate_pipe *found = &parts->candidates->pipes[pipe];
    struct model_pipe *columns = &parts->model->pipes[pipe];
    struct subject subject = {own->bracket, NOBODY};
    columns->x =
        program_column(parts->program, found->x.lo, found->x.hi, false, "pipe_%zu_x", pipe + 1);
    columns->y =
        program_column(parts->program, found->y.lo, found->y.hi, false, "pipe_%zu_y", pipe + 1);
    if (parts->program->failed)
        return;
    char name[PROGRAM_NAME];
    snprintf(name, sizeof name, "pipe_%zu", pipe + 1);
    struct on_course mark = {.subject = subject,
                             .flashing = &own->flashing,
                             .numbers = found->courses,
                             .count = found->course_count,
                             .y = columns->y,
                             .times = 1,
                             .name = name};
    columns->courses = place_on_course(parts, &mark);
    const struct off_joints hole = {.subject = subject,
                                    .flashing = &own->flashing,
                                    .numbers = found->courses,
                                    .courses = columns->courses,
                                    .course_count = found->course_count,
                                    .x = linear_plus(linear_of(0), columns->x, 1),
                                    .x_at = &found->x,
                                    .place_count = 1,
                                    .used = MODEL_NONE};
    keep_off_joints(parts, &hole);
    choose_bay(parts, pipe, subject);
    hold_pipe_reach(parts, pipe, subject);
    struct linear x = linear_plus(linear_of(0), columns->x, 1);
    struct linear y = linear_plus(linear_of(0), columns->y, 1);
    struct sides sides = flashing_sides(&own->flashing, x, y);
    require_flashing(parts, &sides, subject, MODEL_NONE);
}
