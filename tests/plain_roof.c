#include "plain_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

struct plain_knobs plain_knobs(void) {
    return (struct plain_knobs){.width = 360,
                                .slope = 196,
                                .first = 6,
                                .exposure = 5.625,
                                .first_rafter = 16,
                                .spacing = 24,
                                .rafter_count = 14,
                                .thickness = 1.5,
                                .tolerance = 0.125,
                                .plies = 1,
                                .bracket_count = 1,
                                .hardware = {HARDWARE_STRUT, HARDWARE_FEET}};
}

static void *make(size_t count, size_t size) {
    void *made = calloc(count > 0 ? count : 1, size);
    assert_non_null(made);
    return made;
}

/* The face lies to the left of the way from one corner to the next. */
static struct edge edge_between(struct point from, struct point to) {
    static const double setbacks[EDGE_KIND_COUNT] = {
        [EDGE_EAVE] = 12, [EDGE_RIDGE] = 18, [EDGE_NEAR] = 12, [EDGE_FAR] = 12};
    double along = to.x - from.x, up = to.y - from.y;
    struct edge edge = {.nx = -up / hypot(along, up), .ny = along / hypot(along, up)};
    edge.offset = edge.nx * from.x + edge.ny * from.y;
    if (fabs(up) <= LENGTH_TOLERANCE) {
        edge.kind = along > 0 ? EDGE_EAVE : EDGE_RIDGE;
    } else {
        edge.kind = up < 0 ? EDGE_NEAR : EDGE_FAR;
    }
    edge.setback = setbacks[edge.kind];
    return edge;
}

static void make_face(struct roof *roof, const struct plain_knobs *knobs) {
    const struct point usual[] = {{0, 0},
                                  {knobs->width, 0},
                                  {knobs->width - knobs->ridge_in[SIDE_FAR], knobs->slope},
                                  {knobs->ridge_in[SIDE_NEAR], knobs->slope}};
    const struct point *corners = knobs->outline != NULL ? knobs->outline : usual;
    size_t count = knobs->outline != NULL ? knobs->outline_count : 4;
    roof->width = knobs->width;
    roof->slope = knobs->slope;
    roof->pitch_rad = atan2(5, 12);
    roof->outlined = knobs->outline != NULL;
    roof->rake_rad[SIDE_NEAR] = atan2(knobs->slope, knobs->ridge_in[SIDE_NEAR]);
    roof->rake_rad[SIDE_FAR] = atan2(knobs->slope, -knobs->ridge_in[SIDE_FAR]);
    roof->corner_count = roof->edge_count = count;
    roof->corners = make(count, sizeof *roof->corners);
    roof->edges = make(count, sizeof *roof->edges);
    for (size_t i = 0; i < count; i++) {
        roof->corners[i] = corners[i];
        roof->edges[i] = edge_between(corners[i], corners[(i + 1) % count]);
    }
}

static void make_courses(struct roof *roof, const struct plain_knobs *knobs) {
    roof->courses = make(ROOF_COURSES_MOST, sizeof *roof->courses);
    roof->course_tolerance = 0.125;
    for (size_t k = 0; k < ROOF_COURSES_MOST; k++) {
        double edge = knobs->first + (double)k * knobs->exposure;
        if (edge > knobs->slope) {
            break;
        }
        roof->courses[roof->course_count++] = edge;
    }
}

/* Extra plies lie against the original: the first away from the corner, the second toward it. */
static void make_rafter(struct roof *roof, const struct plain_knobs *knobs, size_t index) {
    struct rafter *rafter = &roof->rafters[index];
    double thick = knobs->thickness;
    double at = knobs->first_rafter + (double)index * knobs->spacing;
    size_t toward = (knobs->plies - 1) / 2;
    *rafter = (struct rafter){.at = at,
                              .lean = knobs->lean,
                              .from = at - thick / 2 - (double)toward * thick,
                              .sound = index + 1 != knobs->unsound,
                              .tolerance = knobs->tolerance,
                              .plies = knobs->plies,
                              .first_ply = roof->ply_count};
    rafter->to = rafter->from + (double)knobs->plies * thick;
    if (!rafter->sound) {
        return;
    }
    rafter->ply_count = knobs->bonded ? 1 : knobs->plies;
    double each = (rafter->to - rafter->from) / (double)rafter->ply_count;
    for (size_t i = 0; i < rafter->ply_count; i++) {
        struct ply *ply = &roof->plies[roof->ply_count++];
        *ply = (struct ply){.rafter = index,
                            .at = rafter->from + ((double)i + 0.5) * each,
                            .lean = knobs->lean,
                            .half = each / 2,
                            .tolerance = knobs->tolerance,
                            .reach = {-ROOF_ENDLESS, ROOF_ENDLESS}};
        if (i != toward && knobs->sister_reach[1] > knobs->sister_reach[0]) {
            ply->reach[0] = knobs->sister_reach[0];
            ply->reach[1] = knobs->sister_reach[1];
        }
    }
}

static void make_keepout(struct roof *roof, const struct plain_knobs *knobs) {
    roof->keepouts = make(1, sizeof *roof->keepouts);
    if (knobs->keepout > 0) {
        roof->keepouts[roof->keepout_count++] = (struct keepout){.rafter = knobs->keepout - 1,
                                                                 .y0 = knobs->keepout_at[0],
                                                                 .y1 = knobs->keepout_at[1],
                                                                 .why = "splice"};
    }
}

static void make_rafters(struct roof *roof, const struct plain_knobs *knobs) {
    roof->rafter_count = knobs->rafter_count;
    roof->rafters = make(roof->rafter_count, sizeof *roof->rafters);
    roof->plies = make(roof->rafter_count * knobs->plies, sizeof *roof->plies);
    for (size_t i = 0; i < roof->rafter_count; i++) {
        make_rafter(roof, knobs, i);
    }
}

struct kit plain_kit(void) {
    return (struct kit){
        .name = "two-leg tank frame",
        .width = 72,
        .height = 84,
        .legs = {12, 60},
        .leg_count = 2,
        .window = {[ROW_TOP] = {70, 76}, [ROW_BOTTOM] = {4, 20}},
        .gap = {1, 1.5},
        .depth = 2,
        .wrench = 0.5,
        .standoff = 4,
        .foot_reach = 1.5,
        .foot_slot = 0.75,
        .foot_half = 1,
        .strut_half = 0.875,
        .grip = 1.25,
        .lag_clear = 1.5,
        .strut_end = 1,
        .overhang = 6,
        .span = 50,
        .every_rafter = true,
        .stock = {120, 240},
        .stock_count = 2,
        .flashing = {.width = 9,
                     .height = 12,
                     .hole_up = 3.25,
                     .block = 1,
                     .edge = {0, 1},
                     .clear = 0.25,
                     .lap = 0.5},
        .lag_diameter = 0.3125,
        .lag_length = 4,
        .lag_through = 0.5,
        .lag_edge = 0.46875,
        .has_weight = true,
        .dry_lb = 190,
        .fill_gallons = 80,
        .filled_lb = 190 + 80 * 8.34,
        .centre = {36, 66, 12},
    };
}

static void make_brackets(struct roof *roof, const struct plain_knobs *knobs) {
    roof->kit_count = 1;
    roof->kits = make(1, sizeof *roof->kits);
    roof->kits[0] = plain_kit();
    roof->bracket_count = knobs->bracket_count;
    roof->brackets = make(roof->bracket_count, sizeof *roof->brackets);
    for (size_t i = 0; i < roof->bracket_count; i++) {
        struct bracket *bracket = &roof->brackets[i];
        snprintf(bracket->name, sizeof bracket->name, "%c", (char)('A' + (int)(i % 26)));
        bracket->want_x = 60 + PLAIN_PITCH * (double)i;
        bracket->want_y = 40;
        bracket->hardware[ROW_TOP] = knobs->hardware[ROW_TOP];
        bracket->hardware[ROW_BOTTOM] = knobs->hardware[ROW_BOTTOM];
    }
}

static void make_vents(struct roof *roof, const struct plain_knobs *knobs) {
    roof->vent_count = knobs->vent_count;
    roof->vents = make(roof->vent_count, sizeof *roof->vents);
    for (size_t i = 0; i < roof->vent_count; i++) {
        roof->vents[i] = (struct vent){.name = "soil stack",
                                       .kind = VENT_PLUMBING,
                                       .flange = {294, 113, 306, 127},
                                       .tall = 12,
                                       .keep_flashing = 3,
                                       .keep_bracket = 6};
    }
}

static void make_pipes(struct roof *roof, const struct plain_knobs *knobs) {
    static const char *const names[] = {"hot", "cold"};
    roof->pipes = make(roof->bracket_count * knobs->pipe_count, sizeof *roof->pipes);
    for (size_t i = 0; i < roof->bracket_count * knobs->pipe_count; i++) {
        struct pipe *pipe = &roof->pipes[roof->pipe_count++];
        size_t which = i % knobs->pipe_count;
        *pipe = (struct pipe){.bracket = i / knobs->pipe_count,
                              .port_x = 24.5 + 24 * (double)which,
                              .port_y = 44,
                              .reach = 6,
                              .bore = 1.375,
                              .keep_rafter = 0.75,
                              .flashing = {.width = 9,
                                           .height = 12,
                                           .hole_up = 3.5,
                                           .block = 0.875,
                                           .edge = {0, 1},
                                           .clear = 0.25,
                                           .lap = 0.5}};
        snprintf(pipe->name, sizeof pipe->name, "%s", names[which]);
    }
}

struct roof *plain_roof(const struct plain_knobs *knobs) {
    const struct plain_knobs usual = plain_knobs();
    struct roof *roof = make(1, sizeof *roof);
    if (knobs == NULL) {
        knobs = &usual;
    }
    snprintf(roof->name, sizeof roof->name, "plain face");
    snprintf(roof->zero, sizeof roof->zero, "outer face of the left rake metal; drip edge");
    roof->measure = MEASURE_IN;
    roof->corner = CORNER_LEFT;
    make_face(roof, knobs);
    make_courses(roof, knobs);
    make_rafters(roof, knobs);
    make_keepout(roof, knobs);
    make_vents(roof, knobs);
    make_brackets(roof, knobs);
    make_pipes(roof, knobs);
    roof->warnings = make(1, sizeof *roof->warnings);
    roof->apart = 12;
    roof->tape = 1.0 / 16;
    roof->enough = 0.125;
    roof->hole_worth = 12;
    return roof;
}

/* Feet under both legs, or a strut lagged to the three rafters there. */
static size_t add_row(struct marks *marks, size_t next, size_t bracket, enum row row) {
    static const double along[][3] = {
        [HARDWARE_STRUT] = {64, 88, 112}, [HARDWARE_FEET] = {64, 112}};
    enum hardware hardware = marks->brackets[bracket].hardware[row];
    size_t count = hardware == HARDWARE_STRUT ? 3 : 2;
    for (size_t i = 0; i < count; i++) {
        marks->list[next++] = (struct mark){.bracket = bracket,
                                            .row = row,
                                            .x = along[hardware][i] + PLAIN_PITCH * (double)bracket,
                                            .y = row == ROW_TOP ? PLAIN_TOP_Y : PLAIN_BOTTOM_Y};
    }
    return next;
}

static size_t add_pipes(const struct roof *roof, struct marks *marks, size_t next, size_t bracket) {
    double x = 76 + PLAIN_PITCH * (double)bracket;
    for (size_t i = 0; i < roof->pipe_count; i++) {
        if (roof->pipes[i].bracket != bracket) {
            continue;
        }
        marks->list[next++] = (struct mark){
            .bracket = bracket, .row = ROW_PIPE, .x = x, .y = PLAIN_PIPE_Y, .pipe = i};
        x += 24;
    }
    return next;
}

struct marks *plain_marks(const struct roof *roof) {
    struct marks *marks = NULL;
    size_t most = 6 * roof->bracket_count + roof->pipe_count;
    assert_int_equal(marks_new(roof->bracket_count, most, &marks), OUTCOME_DONE);
    size_t next = 0;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        struct standing *standing = &marks->brackets[i];
        standing->x = PLAIN_X + PLAIN_PITCH * (double)i;
        standing->y = PLAIN_Y;
        for (int row = 0; row < ROW_COUNT; row++) {
            standing->hardware[row] = roof->brackets[i].hardware[row];
            next = add_row(marks, next, i, (enum row)row);
        }
        next = add_pipes(roof, marks, next, i);
    }
    marks->count = next;
    return marks;
}
