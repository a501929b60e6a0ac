/* The rules of a roof as difference constraints and choices between them. */
#include "brute_parts.h"

#include <math.h>

/* node + offset: a place along one axis. */
struct spot {
    int node;
    double offset;
};

static struct spot beyond(struct spot spot, double offset) {
    return (struct spot){spot.node, spot.offset + offset};
}

/* A rectangle whose low side is the least of several places and whose high side the greatest. */
enum { SIDES_MOST = ROOF_LEGS_MOST + 1 };
struct shape {
    struct spot low[2][SIDES_MOST], high[2][SIDES_MOST]; /* 0: x, 1: y */
    size_t count[2];
    unsigned owners;
};

struct built_mark {
    struct spot x;
    struct shape flashing;
};

struct built_row {
    size_t bracket;
    enum row row;
    const struct kit *kit;
    const struct brute_strut *strut;
    struct spot y, clamps[ROOF_LEGS_MOST];
    struct built_mark marks[BRUTE_LAGS_MOST];
    size_t mark_count;
    struct shape rail; /* struts */
};

struct builder {
    const struct roof *roof;
    struct brute_system *system;
    struct built_row rows[BRUTE_BRACKETS_MOST * ROW_COUNT];
    size_t row_count;
};

static size_t nodes_of(const struct roof *roof, size_t bracket) {
    return 4 + 2 * roof_kit(roof, bracket)->leg_count;
}

size_t brute_node_x(const struct roof *roof, size_t bracket) {
    size_t node = 1;
    for (size_t i = 0; i < bracket; i++)
        node += nodes_of(roof, i);
    return node;
}

size_t brute_node_y(const struct roof *roof, size_t bracket) {
    return brute_node_x(roof, bracket) + 1;
}

static int new_finding(struct builder *builder) {
    struct brute_system *system = builder->system;
    if (system->finding_count == BRUTE_FINDINGS_MOST) {
        system->full = true;
        return 0;
    }
    return (int)system->finding_count++;
}

/* high - low >= least + factor * forgiveness */
static void add_bound(struct builder *builder, struct spot low, struct spot high, double least,
                      int factor, int finding, unsigned owners) {
    struct brute_system *system = builder->system;
    if (system->bound_count == BRUTE_BOUNDS_MOST) {
        system->full = true;
        return;
    }
    system->bounds[system->bound_count++] = (struct brute_bound){
        low.node, high.node, least + low.offset - high.offset, factor, finding, owners};
}

static void begin_choice(struct builder *builder) {
    struct brute_system *system = builder->system;
    if (system->choice_count == BRUTE_CHOICES_MOST) {
        system->full = true;
        system->choice_count--;
    }
    system->choices[system->choice_count++] = (struct brute_choice){system->way_count, 0};
}

static void begin_way(struct builder *builder) {
    struct brute_system *system = builder->system;
    if (system->way_count == BRUTE_WAYS_MOST) {
        system->full = true;
        system->way_count--;
    }
    system->ways[system->way_count++] = (struct brute_way){system->bound_count, 0};
    system->choices[system->choice_count - 1].count =
        system->way_count - system->choices[system->choice_count - 1].first;
}

static void end_way(struct builder *builder) {
    struct brute_system *system = builder->system;
    struct brute_way *way = &system->ways[system->way_count - 1];
    way->count = system->bound_count - way->first;
}

/* Two shapes pass each other along x or y, one way round or the other. */
static void keep_apart(struct builder *builder, const struct shape *a, const struct shape *b,
                       double least, int factor) {
    int finding = new_finding(builder);
    const struct shape *pair[2] = {a, b};
    begin_choice(builder);
    for (int axis = 0; axis < 2; axis++)
        for (int order = 0; order < 2; order++) {
            const struct shape *before = pair[order], *after = pair[1 - order];
            begin_way(builder);
            for (size_t i = 0; i < before->count[axis]; i++)
                for (size_t j = 0; j < after->count[axis]; j++)
                    add_bound(builder, before->high[axis][i], after->low[axis][j], least, factor,
                              finding, a->owners | b->owners);
            end_way(builder);
        }
}

static struct shape rectangle(struct spot x0, struct spot x1, struct spot y0, struct spot y1,
                              unsigned owners) {
    return (struct shape){
        .low = {{x0}, {y0}}, .high = {{x1}, {y1}}, .count = {1, 1}, .owners = owners};
}

static struct spot fixed_at(double at) {
    return (struct spot){0, at};
}

/* A shape lies on the face, each side that far inside. */
static void keep_inside(struct builder *builder, const struct shape *shape, const double inset[4]) {
    const struct roof *roof = builder->roof;
    const double size[2] = {roof->width, roof->slope};
    int finding = new_finding(builder);
    for (int axis = 0; axis < 2; axis++)
        for (size_t i = 0; i < shape->count[axis]; i++) {
            add_bound(builder, fixed_at(0), shape->low[axis][i], inset[2 * axis], 1, finding,
                      shape->owners);
            add_bound(builder, shape->high[axis][i], fixed_at(size[axis]), inset[2 * axis + 1], 1,
                      finding, shape->owners);
        }
}

static struct shape vent_shape(const struct vent *vent) {
    return rectangle(fixed_at(vent->flange.x0), fixed_at(vent->flange.x1),
                     fixed_at(vent->flange.y0), fixed_at(vent->flange.y1), 0);
}

static struct shape bracket_shape(const struct roof *roof, size_t bracket) {
    const struct kit *kit = roof_kit(roof, bracket);
    struct spot x = {(int)brute_node_x(roof, bracket), 0};
    struct spot y = {(int)brute_node_y(roof, bracket), 0};
    return rectangle(x, beyond(x, kit->width), y, beyond(y, kit->height), 1u << bracket);
}

/* What the face asks of a bracket: near, far, eave and ridge setbacks, and vents. */
static void bound_bracket(struct builder *builder, size_t bracket) {
    const struct roof *roof = builder->roof;
    struct shape shape = bracket_shape(roof, bracket);
    double inset[4] = {0, 0, 0, 0};
    static const int side[EDGE_KIND_COUNT] = {
        [EDGE_NEAR] = 0, [EDGE_FAR] = 1, [EDGE_EAVE] = 2, [EDGE_RIDGE] = 3};
    for (size_t i = 0; i < roof->edge_count; i++)
        inset[side[roof->edges[i].kind]] = roof->edges[i].setback;
    keep_inside(builder, &shape, inset);
}

static void pass_vents(struct builder *builder, size_t bracket) {
    const struct roof *roof = builder->roof;
    struct shape shape = bracket_shape(roof, bracket);
    for (size_t i = 0; i < roof->vent_count; i++) {
        const struct vent *vent = &roof->vents[i];
        if (vent->kind == VENT_BLANK && vent->tall < roof_kit(roof, bracket)->standoff)
            continue;
        struct shape other = vent_shape(vent);
        keep_apart(builder, &shape, &other, vent->keep_bracket, 1);
    }
}

static double play(const struct built_row *row, const struct ply *ply) {
    return ply->half - row->kit->lag_edge - ply->tolerance;
}

static void bound_row(struct builder *builder, const struct built_row *row) {
    const struct kit *kit = row->kit;
    struct spot corner = {(int)brute_node_y(builder->roof, row->bracket), 0};
    const double *window = kit->window[row->row];
    unsigned owner = 1u << row->bracket;
    int finding = new_finding(builder);
    add_bound(builder, corner, row->y, window[0], 1, finding, owner);
    add_bound(builder, row->y, beyond(corner, window[1]), 0, 1, finding, owner);
    if (row->row == ROW_BOTTOM) {
        double half = row->strut ? kit->strut_half : kit->foot_half;
        add_bound(builder, corner, row->y, half + kit->wrench + kit->gap[1] + kit->depth, 1,
                  new_finding(builder), owner);
    }
    static const double none[4] = {0, 0, 0, 0};
    for (size_t i = 0; i < row->mark_count; i++)
        keep_inside(builder, &row->marks[i].flashing, none);
    if (row->strut)
        keep_inside(builder, &row->rail, none);
}

/* Lags in the middle of their plies; clamps that stay within the overhang; a length in stock. */
static void bound_strut(struct builder *builder, const struct built_row *row) {
    const struct kit *kit = row->kit;
    for (size_t i = 0; i < row->mark_count; i++)
        add_bound(builder, fixed_at(0), fixed_at(0),
                  -play(row, &builder->roof->plies[row->strut->lags[i]]), 1, new_finding(builder),
                  1u << row->bracket);
    struct spot first = row->marks[0].x, last = row->marks[row->mark_count - 1].x;
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        add_bound(builder, first, row->clamps[leg], -kit->overhang, 0, BRUTE_HARD, 0);
        add_bound(builder, row->clamps[leg], last, -kit->overhang, 0, BRUTE_HARD, 0);
    }
    for (size_t i = 0; i < row->rail.count[0]; i++)
        for (size_t j = 0; j < row->rail.count[0]; j++)
            add_bound(builder, row->rail.high[0][i],
                      beyond(row->rail.low[0][j], kit->stock[kit->stock_count - 1]), 0, 0,
                      BRUTE_HARD, 0);
}

/* A foot lies in one of the plies, on one side of its leg. */
static void choose_feet(struct builder *builder, const struct built_row *row) {
    const struct roof *roof = builder->roof;
    const struct kit *kit = row->kit;
    unsigned owner = 1u << row->bracket;
    struct spot corner = {(int)brute_node_x(roof, row->bracket), 0};
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        struct spot x = row->marks[leg].x;
        int wood = new_finding(builder), reach = new_finding(builder);
        begin_choice(builder);
        for (size_t i = 0; i < roof->ply_count; i++) {
            const struct ply *ply = &roof->plies[i];
            begin_way(builder);
            add_bound(builder, fixed_at(ply->at), x, -play(row, ply), 1, wood, owner);
            add_bound(builder, x, fixed_at(ply->at), -play(row, ply), 1, wood, owner);
            end_way(builder);
        }
        begin_choice(builder);
        for (int side = -1; side <= 1; side += 2) {
            struct spot middle = beyond(corner, kit->legs[leg] + side * kit->foot_reach);
            begin_way(builder);
            add_bound(builder, middle, x, -kit->foot_slot, 1, reach, owner);
            add_bound(builder, x, middle, -kit->foot_slot, 1, reach, owner);
            end_way(builder);
        }
    }
}

/* Each clamp is clear of each lag, on one side of it. */
static void choose_clamps(struct builder *builder, const struct built_row *row) {
    for (size_t leg = 0; leg < row->kit->leg_count; leg++)
        for (size_t i = 0; i < row->mark_count; i++) {
            struct spot lag = row->marks[i].x, clamp = row->clamps[leg];
            begin_choice(builder);
            begin_way(builder);
            add_bound(builder, lag, clamp, row->kit->lag_clear, 0, BRUTE_HARD, 0);
            end_way(builder);
            begin_way(builder);
            add_bound(builder, clamp, lag, row->kit->lag_clear, 0, BRUTE_HARD, 0);
            end_way(builder);
        }
}

static void choose_course(struct builder *builder, const struct built_row *row) {
    const struct roof *roof = builder->roof;
    const struct flashing *flashing = &row->kit->flashing;
    double slack = roof->course_tolerance;
    unsigned owner = 1u << row->bracket;
    int first = 0;
    for (size_t i = 0; i < 3 * row->mark_count; i++) {
        int finding = new_finding(builder);
        first = i == 0 ? finding : first;
    }
    struct spot lower = beyond(row->y, -flashing->hole_up);
    begin_choice(builder);
    for (size_t k = 0; k + 2 < roof->course_count; k++) {
        const double *edge = &roof->courses[k];
        begin_way(builder);
        for (size_t i = 0; i < row->mark_count; i++) {
            int finding = first + 3 * (int)i;
            add_bound(builder, fixed_at(edge[0] + flashing->edge[0]), lower, slack, 1, finding,
                      owner);
            add_bound(builder, lower, fixed_at(edge[0] + flashing->edge[1]), slack, 1, finding,
                      owner);
            add_bound(builder, beyond(row->y, flashing->block), fixed_at(edge[1] - flashing->clear),
                      slack, 1, finding + 1, owner);
            add_bound(builder, fixed_at(edge[2] + flashing->lap), beyond(lower, flashing->height),
                      slack, 1, finding + 2, owner);
        }
        end_way(builder);
    }
}

static void pass_vents_with_row(struct builder *builder, const struct built_row *row) {
    for (size_t v = 0; v < builder->roof->vent_count; v++) {
        const struct vent *vent = &builder->roof->vents[v];
        struct shape shape = vent_shape(vent);
        for (size_t i = 0; i < row->mark_count; i++)
            keep_apart(builder, &row->marks[i].flashing, &shape, vent->keep_flashing, 1);
        if (row->strut)
            keep_apart(builder, &row->rail, &shape, vent->keep_flashing, 1);
    }
}

static void add_mark(struct built_row *row, struct spot x) {
    const struct flashing *flashing = &row->kit->flashing;
    struct spot lower = beyond(row->y, -flashing->hole_up);
    row->marks[row->mark_count++] = (struct built_mark){
        x, rectangle(beyond(x, -flashing->width / 2), beyond(x, flashing->width / 2), lower,
                     beyond(lower, flashing->height), 1u << row->bracket)};
}

static void shape_rail(struct built_row *row) {
    const struct kit *kit = row->kit;
    double half = kit->strut_half;
    struct shape *rail = &row->rail;
    *rail = rectangle(beyond(row->marks[0].x, -kit->strut_end),
                      beyond(row->marks[row->mark_count - 1].x, kit->strut_end),
                      beyond(row->y, -half), beyond(row->y, half), 1u << row->bracket);
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        rail->low[0][rail->count[0]] = beyond(row->clamps[leg], -kit->strut_end);
        rail->high[0][rail->count[0]++] = beyond(row->clamps[leg], kit->strut_end);
    }
}

static void make_row(struct builder *builder, size_t bracket, enum row which,
                     const struct brute_strut *strut) {
    const struct roof *roof = builder->roof;
    struct built_row *row = &builder->rows[builder->row_count++];
    *row = (struct built_row){.bracket = bracket, .row = which, .strut = strut};
    row->kit = roof_kit(roof, bracket);
    int node = (int)brute_node_y(roof, bracket) + 1;
    row->y = (struct spot){node + (int)which, 0};
    struct spot corner = {(int)brute_node_x(roof, bracket), 0};
    int feet = node + 2 + (int)which * (int)row->kit->leg_count;
    for (size_t leg = 0; leg < row->kit->leg_count; leg++) {
        if (!strut) {
            add_mark(row, (struct spot){feet + (int)leg, 0});
            continue;
        }
        double grip = strut->far[leg] ? row->kit->grip : -row->kit->grip;
        row->clamps[leg] = beyond(corner, row->kit->legs[leg] + grip);
    }
    for (size_t i = 0; strut && i < strut->count; i++)
        add_mark(row, fixed_at(roof->plies[strut->lags[i]].at));
    if (strut)
        shape_rail(row);
    builder->system->holes += row->mark_count;
}

/* Flashings keep clear of each other, struts too, and struts of other brackets. */
static void choose_pairs(struct builder *builder) {
    const struct roof *roof = builder->roof;
    for (size_t a = 0; a < builder->row_count; a++) {
        const struct built_row *row = &builder->rows[a];
        for (size_t b = a; b < builder->row_count; b++) {
            const struct built_row *other = &builder->rows[b];
            for (size_t i = 0; i < row->mark_count; i++)
                for (size_t j = a == b ? i + 1 : 0; j < other->mark_count; j++)
                    keep_apart(builder, &row->marks[i].flashing, &other->marks[j].flashing, 0, 2);
            if (a != b && row->strut && other->strut)
                keep_apart(builder, &row->rail, &other->rail, 0, 2);
        }
        for (size_t i = 0; row->strut && i < roof->bracket_count; i++) {
            struct shape shape = bracket_shape(roof, i);
            if (i != row->bracket)
                keep_apart(builder, &row->rail, &shape, 0, 1);
        }
    }
    for (size_t i = 0; i < roof->bracket_count; i++)
        for (size_t j = i + 1; j < roof->bracket_count; j++) {
            struct shape one = bracket_shape(roof, i), other = bracket_shape(roof, j);
            keep_apart(builder, &one, &other, roof->apart, 2);
        }
}

void brute_system_build(const struct roof *roof,
                        struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT],
                        struct brute_system *system) {
    struct builder builder = {.roof = roof, .system = system};
    system->bound_count = system->fixed_count = system->way_count = system->choice_count = 0;
    system->finding_count = system->holes = 0;
    system->full = false;
    system->node_count = brute_node_x(roof, roof->bracket_count);
    for (size_t i = 0; i < roof->bracket_count; i++) {
        bound_bracket(&builder, i);
        for (int row = 0; row < ROW_COUNT; row++)
            if (rows[i][row].present)
                make_row(&builder, i, (enum row)row, rows[i][row].strut);
    }
    for (size_t i = 0; i < builder.row_count; i++) {
        bound_row(&builder, &builder.rows[i]);
        if (builder.rows[i].strut)
            bound_strut(&builder, &builder.rows[i]);
    }
    system->fixed_count = system->bound_count;
    for (size_t i = 0; i < builder.row_count; i++) {
        choose_course(&builder, &builder.rows[i]);
        if (builder.rows[i].strut)
            choose_clamps(&builder, &builder.rows[i]);
        else
            choose_feet(&builder, &builder.rows[i]);
        pass_vents_with_row(&builder, &builder.rows[i]);
    }
    for (size_t i = 0; i < roof->bracket_count; i++)
        pass_vents(&builder, i);
    choose_pairs(&builder);
}
