/* The rules of a roof as difference constraints and choices between them. */
#include "brute_parts.h"

#include <math.h>

/* node + offset + lean * height: a place along one axis; `height` is a node too. */
struct spot {
    int node;
    double offset, lean;
    int height;
};

static struct spot beyond(struct spot spot, double offset) {
    spot.offset += offset;
    return spot;
}

/* A rectangle whose low side is the least of several places and whose high side the greatest. */
enum { SIDES_MOST = ROOF_LEGS_MOST + 1 };
struct shape {
    struct spot low[2][SIDES_MOST], high[2][SIDES_MOST]; /* 0: x, 1: y */
    size_t count[2];
    unsigned owners;
};

enum { KEEPOUTS_MOST = 4 /* of one rafter */, COURSES_MOST = 128, LINES_MOST = 128 };

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
    int wood[BRUTE_LAGS_MOST]; /* struts: the finding of each lag's wood */
    size_t mark_count;
    struct shape rail; /* struts */
};

struct builder {
    const struct roof *roof;
    struct brute_system *system;
    struct built_row rows[BRUTE_BRACKETS_MOST * ROW_COUNT];
    size_t row_count;
    struct built_mark pipes[BRUTE_PIPES_MOST];
    size_t pipe_count;        /* 0, or as many as the roof has */
    size_t kin[COURSES_MOST]; /* for each course, from 0, the first whose lines are the same */
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

size_t brute_node_pipe(const struct roof *roof, size_t pipe) {
    return brute_node_x(roof, roof->bracket_count) + 2 * pipe;
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

static void add_tilt(struct brute_bound *bound, int node, double factor) {
    size_t i = 0;
    while (i < bound->tilt_count && bound->tilts[i].node != node)
        i++;
    if (!(fabs(factor) > 0) || i == BRUTE_TILTS_MOST)
        return; /* no bound has more tilts than there is room for */
    if (i == bound->tilt_count)
        bound->tilts[bound->tilt_count++] = (struct brute_tilt){node, 0};
    bound->tilts[i].factor += factor;
}

/* high - low + slope * beside >= least + factor * forgiveness */
static void add_sloping(struct builder *builder, struct spot low, struct spot high, double slope,
                        struct spot beside, double least, double factor, int finding,
                        unsigned owners) {
    struct brute_system *system = builder->system;
    if (system->bound_count == BRUTE_BOUNDS_MOST) {
        system->full = true;
        return;
    }
    struct brute_bound *bound = &system->bounds[system->bound_count++];
    *bound =
        (struct brute_bound){.from = low.node,
                             .to = high.node,
                             .constant = least + low.offset - high.offset - slope * beside.offset,
                             .factor = factor,
                             .finding = finding,
                             .owners = owners};
    add_tilt(bound, high.height, high.lean);
    add_tilt(bound, low.height, -low.lean);
    add_tilt(bound, beside.node, slope);
}

/* high - low >= least + factor * forgiveness */
static void add_bound(struct builder *builder, struct spot low, struct spot high, double least,
                      double factor, int finding, unsigned owners) {
    add_sloping(builder, low, high, 0, (struct spot){0}, least, factor, finding, owners);
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
                       double least, double factor) {
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
    return (struct spot){.offset = at};
}

/* One corner of a shape inside one edge: nx * x + ny * y >= offset + inset + forgiveness, divided
 * by |nx| where there is one. */
static void keep_corner_inside(struct builder *builder, const struct edge *edge, struct spot x,
                               struct spot y, double inset, int finding, unsigned owners) {
    const double least = edge->offset + inset;
    if (fabs(edge->nx) > 1e-9) {
        const double by = fabs(edge->nx);
        const struct spot origin = fixed_at(0);
        add_sloping(builder, edge->nx > 0 ? origin : x, edge->nx > 0 ? x : origin, edge->ny / by, y,
                    least / by, 1 / by, finding, owners);
    } else if (edge->ny > 0) {
        add_bound(builder, fixed_at(0), y, least, 1, finding, owners);
    } else {
        add_bound(builder, y, fixed_at(0), least, 1, finding, owners);
    }
}

/* A shape lies on the face, and a bracket inside the setbacks. */
static void keep_inside(struct builder *builder, const struct shape *shape, bool setback) {
    const struct roof *roof = builder->roof;
    int finding = new_finding(builder);
    for (size_t e = 0; e < roof->edge_count; e++) {
        const struct edge *edge = &roof->edges[e];
        const struct spot *x = edge->nx > 0 ? shape->low[0] : shape->high[0];
        const struct spot *y = edge->ny > 0 ? shape->low[1] : shape->high[1];
        for (size_t i = 0; i < shape->count[0]; i++)
            for (size_t j = 0; j < shape->count[1]; j++)
                keep_corner_inside(builder, edge, x[i], y[j], setback ? edge->setback : 0, finding,
                                   shape->owners);
    }
}

static struct shape vent_shape(const struct vent *vent) {
    return rectangle(fixed_at(vent->flange.x0), fixed_at(vent->flange.x1),
                     fixed_at(vent->flange.y0), fixed_at(vent->flange.y1), 0);
}

static struct shape bracket_shape(const struct roof *roof, size_t bracket) {
    const struct kit *kit = roof_kit(roof, bracket);
    struct spot x = {.node = (int)brute_node_x(roof, bracket)};
    struct spot y = {.node = (int)brute_node_y(roof, bracket)};
    return rectangle(x, beyond(x, kit->width), y, beyond(y, kit->height), 1u << bracket);
}

/* What the face asks of a bracket: near, far, eave and ridge setbacks, and vents. */
static void bound_bracket(struct builder *builder, size_t bracket) {
    const struct roof *roof = builder->roof;
    struct shape shape = bracket_shape(roof, bracket);
    keep_inside(builder, &shape, true);
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

/* The middle of a ply on the row's own line. */
static struct spot middle_of(const struct built_row *row, const struct ply *ply) {
    return (struct spot){.offset = ply->at, .lean = ply->lean, .height = row->y.node};
}

static double play(const struct built_row *row, const struct ply *ply) {
    return ply->half - row->kit->lag_edge - ply->tolerance;
}

static void bound_row(struct builder *builder, const struct built_row *row) {
    const struct kit *kit = row->kit;
    struct spot corner = {.node = (int)brute_node_y(builder->roof, row->bracket)};
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
    for (size_t i = 0; i < row->mark_count; i++)
        keep_inside(builder, &row->marks[i].flashing, false);
    if (row->strut)
        keep_inside(builder, &row->rail, false);
}

/* A lag lies where there is something of its ply, by the same rule as in its width. */
static void keep_within_reach(struct builder *builder, const struct built_row *row,
                              const struct ply *ply, int finding) {
    unsigned owner = 1u << row->bracket;
    if (ply->reach[0] > -ROOF_ENDLESS)
        add_bound(builder, fixed_at(ply->reach[0]), row->y, 0, 1, finding, owner);
    if (ply->reach[1] < ROOF_ENDLESS)
        add_bound(builder, row->y, fixed_at(ply->reach[1]), 0, 1, finding, owner);
}

/* Above or below a keepout, as `above` says. */
static void keep_off(struct builder *builder, const struct built_row *row,
                     const struct keepout *keepout, bool above, int finding) {
    unsigned owner = 1u << row->bracket;
    if (above)
        add_bound(builder, fixed_at(keepout->y1), row->y, 0, 1, finding, owner);
    else
        add_bound(builder, row->y, fixed_at(keepout->y0), 0, 1, finding, owner);
}

/* Lags in the middle of their plies; clamps that stay within the overhang; a length in stock. */
static void bound_strut(struct builder *builder, const struct built_row *row) {
    const struct kit *kit = row->kit;
    for (size_t i = 0; i < row->mark_count; i++) {
        const struct ply *ply = &builder->roof->plies[row->strut->lags[i]];
        add_bound(builder, fixed_at(0), fixed_at(0), -play(row, ply), 1, row->wood[i],
                  1u << row->bracket);
        keep_within_reach(builder, row, ply, row->wood[i]);
        if (i > 0)
            add_bound(builder, row->marks[i].x, beyond(row->marks[i - 1].x, kit->span), 0, 0,
                      BRUTE_HARD, 0);
    }
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

/* The lags of a strut pass each keepout of their rafters above or below. */
static void choose_past_keepouts(struct builder *builder, const struct built_row *row) {
    const struct roof *roof = builder->roof;
    for (size_t i = 0; i < row->mark_count; i++)
        for (size_t k = 0; k < roof->keepout_count; k++) {
            if (roof->keepouts[k].rafter != roof->plies[row->strut->lags[i]].rafter)
                continue;
            begin_choice(builder);
            for (int above = 0; above < 2; above++) {
                begin_way(builder);
                keep_off(builder, row, &roof->keepouts[k], above == 1, row->wood[i]);
                end_way(builder);
            }
        }
}

/* The keepouts of a rafter; returns how many. */
static size_t list_keepouts(const struct roof *roof, size_t rafter,
                            const struct keepout *list[KEEPOUTS_MOST]) {
    size_t count = 0;
    for (size_t k = 0; k < roof->keepout_count && count < KEEPOUTS_MOST; k++)
        if (roof->keepouts[k].rafter == rafter)
            list[count++] = &roof->keepouts[k];
    return count;
}

/* Every way of a foot to lie in one ply: above or below each keepout of its rafter. */
static void ways_into_ply(struct builder *builder, const struct built_row *row, struct spot x,
                          const struct ply *ply, int wood) {
    const struct keepout *keepouts[KEEPOUTS_MOST];
    size_t count = list_keepouts(builder->roof, ply->rafter, keepouts);
    unsigned owner = 1u << row->bracket;
    for (unsigned sides = 0; sides < 1u << count; sides++) {
        begin_way(builder);
        add_bound(builder, middle_of(row, ply), x, -play(row, ply), 1, wood, owner);
        add_bound(builder, x, middle_of(row, ply), -play(row, ply), 1, wood, owner);
        keep_within_reach(builder, row, ply, wood);
        for (size_t k = 0; k < count; k++)
            keep_off(builder, row, keepouts[k], (sides >> k & 1) != 0, wood);
        end_way(builder);
    }
}

/* A foot lies in one of the plies, on one side of its leg. */
static void choose_feet(struct builder *builder, const struct built_row *row) {
    const struct roof *roof = builder->roof;
    const struct kit *kit = row->kit;
    unsigned owner = 1u << row->bracket;
    struct spot corner = {.node = (int)brute_node_x(roof, row->bracket)};
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        struct spot x = row->marks[leg].x;
        int wood = new_finding(builder), reach = new_finding(builder);
        begin_choice(builder);
        for (size_t i = 0; i < roof->ply_count; i++)
            ways_into_ply(builder, row, x, &roof->plies[i], wood);
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

/* ---- Joints --------------------------------------------------------------------------------- */

/* Where a hole touches a joint of the course above with a side of its flashing, rising. */
struct lines {
    double at[LINES_MOST];
    size_t count;
};

static void add_line(struct builder *builder, struct lines *lines, double at) {
    if (lines->count == LINES_MOST) {
        builder->system->full = true;
        return;
    }
    size_t i = lines->count++;
    for (; i > 0 && lines->at[i - 1] > at; i--)
        lines->at[i] = lines->at[i - 1];
    lines->at[i] = at;
}

/* `course` counts from 0. */
static void find_lines(struct builder *builder, double half, size_t course, struct lines *lines) {
    const struct roof *roof = builder->roof;
    const struct cutouts *cutouts = &roof->cutouts;
    lines->count = 0;
    if (cutouts->tab > 0) {
        double at = cutouts->first + (double)(course + 1) * cutouts->stagger;
        while (at > -4 * cutouts->tab)
            at -= cutouts->tab;
        for (; at < roof->width + 4 * cutouts->tab; at += cutouts->tab) {
            add_line(builder, lines, at - half);
            add_line(builder, lines, at + half);
        }
    }
    for (size_t i = 0; i < roof->joint_count; i++)
        if (roof->joints[i].course == course + 2) {
            add_line(builder, lines, roof->joints[i].x - half);
            add_line(builder, lines, roof->joints[i].x + half);
        }
}

static bool same_lines(const struct lines *a, const struct lines *b) {
    for (size_t i = 0; i < a->count && i < b->count; i++)
        if (!(fabs(a->at[i] - b->at[i]) < 1e-9))
            return false;
    return a->count == b->count;
}

static void find_kin(struct builder *builder) {
    if (builder->roof->course_count > COURSES_MOST) {
        builder->system->full = true;
        return;
    }
    for (size_t k = 0; k + 2 < builder->roof->course_count; k++) {
        struct lines own, other;
        find_lines(builder, 0, k, &own);
        for (builder->kin[k] = 0; builder->kin[k] < k; builder->kin[k]++) {
            find_lines(builder, 0, builder->kin[k], &other);
            if (same_lines(&own, &other))
                break;
        }
    }
}

/* On courses of that kin x lies between two neighbouring lines, off each by `keep`; `kin` is a node
 * whose place is the first course of the kin that was chosen. */
static void choose_window(struct builder *builder, const struct lines *lines, size_t kin,
                          struct spot kin_at, struct spot x, int finding, unsigned owner) {
    const double keep = builder->roof->keep_joint;
    begin_choice(builder);
    for (size_t i = 0; i <= lines->count; i++) {
        begin_way(builder);
        if (i > 0)
            add_bound(builder, fixed_at(lines->at[i - 1]), x, keep, 1, finding, owner);
        if (i < lines->count)
            add_bound(builder, x, fixed_at(lines->at[i]), keep, 1, finding, owner);
        end_way(builder);
    }
    begin_way(builder);
    add_bound(builder, kin_at, fixed_at((double)kin), 1, 0, BRUTE_HARD, 0);
    end_way(builder);
    begin_way(builder);
    add_bound(builder, fixed_at((double)kin), kin_at, 1, 0, BRUTE_HARD, 0);
    end_way(builder);
}

static void keep_off_joints(struct builder *builder, const struct flashing *flashing,
                            struct spot kin_at, struct spot x, unsigned owner) {
    if (!roof_has_joints(builder->roof))
        return;
    const int finding = new_finding(builder);
    for (size_t k = 0; k + 2 < builder->roof->course_count; k++) {
        struct lines lines;
        find_lines(builder, flashing->width / 2, k, &lines);
        if (builder->kin[k] == k && lines.count > 0)
            choose_window(builder, &lines, k, kin_at, x, finding, owner);
    }
}

/* So many marks with one flashing, on one line, on one course, whose kin becomes the place of a
 * node of its own. */
static void choose_course(struct builder *builder, const struct flashing *flashing, struct spot y,
                          size_t count, struct spot kin_at, unsigned owner) {
    const struct roof *roof = builder->roof;
    double slack = roof->course_tolerance;
    int first = 0;
    for (size_t i = 0; i < 3 * count; i++) {
        int finding = new_finding(builder);
        first = i == 0 ? finding : first;
    }
    struct spot lower = beyond(y, -flashing->hole_up);
    begin_choice(builder);
    for (size_t k = 0; k + 2 < roof->course_count; k++) {
        const double *edge = &roof->courses[k];
        begin_way(builder);
        for (size_t i = 0; i < count; i++) {
            int finding = first + 3 * (int)i;
            add_bound(builder, fixed_at(edge[0] + flashing->edge[0]), lower, slack, 1, finding,
                      owner);
            add_bound(builder, lower, fixed_at(edge[0] + flashing->edge[1]), slack, 1, finding,
                      owner);
            add_bound(builder, beyond(y, flashing->block), fixed_at(edge[1] - flashing->clear),
                      slack, 1, finding + 1, owner);
            add_bound(builder, fixed_at(edge[2] + flashing->lap), beyond(lower, flashing->height),
                      slack, 1, finding + 2, owner);
        }
        if (roof_has_joints(roof)) {
            add_bound(builder, fixed_at((double)builder->kin[k]), kin_at, 0, 0, BRUTE_HARD, 0);
            add_bound(builder, kin_at, fixed_at((double)builder->kin[k]), 0, 0, BRUTE_HARD, 0);
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

static struct built_mark mark_at(struct spot x, struct spot y, const struct flashing *flashing,
                                 unsigned owner) {
    struct spot lower = beyond(y, -flashing->hole_up);
    return (struct built_mark){x, rectangle(beyond(x, -flashing->width / 2),
                                            beyond(x, flashing->width / 2), lower,
                                            beyond(lower, flashing->height), owner)};
}

static void add_mark(struct built_row *row, struct spot x) {
    row->marks[row->mark_count++] = mark_at(x, row->y, &row->kit->flashing, 1u << row->bracket);
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
    row->y = (struct spot){.node = node + (int)which};
    struct spot corner = {.node = (int)brute_node_x(roof, bracket)};
    int feet = node + 2 + (int)which * (int)row->kit->leg_count;
    for (size_t leg = 0; leg < row->kit->leg_count; leg++) {
        if (!strut) {
            add_mark(row, (struct spot){.node = feet + (int)leg});
            continue;
        }
        double grip = strut->far[leg] ? row->kit->grip : -row->kit->grip;
        row->clamps[leg] = beyond(corner, row->kit->legs[leg] + grip);
    }
    for (size_t i = 0; strut && i < strut->count; i++)
        add_mark(row, middle_of(row, &roof->plies[strut->lags[i]]));
    for (size_t i = 0; strut && i < strut->count; i++)
        row->wood[i] = new_finding(builder);
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

/* ---- Pipes ---------------------------------------------------------------------------------- */

static void make_pipes(struct builder *builder) {
    const struct roof *roof = builder->roof;
    for (size_t p = 0; p < roof->pipe_count && p < BRUTE_PIPES_MOST; p++) {
        struct spot x = {.node = (int)brute_node_pipe(roof, p)};
        struct spot y = {.node = x.node + 1};
        builder->pipes[builder->pipe_count++] =
            mark_at(x, y, &roof->pipes[p].flashing, 1u << roof->pipes[p].bracket);
        builder->system->holes++;
    }
}

static struct spot pipe_y(const struct builder *builder, size_t pipe) {
    return beyond(builder->pipes[pipe].flashing.low[1][0],
                  builder->roof->pipes[pipe].flashing.hole_up);
}

static void bound_pipe(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const struct spot x = builder->pipes[p].x, y = pipe_y(builder, p);
    struct spot port_x = {.node = (int)brute_node_x(roof, pipe->bracket), .offset = pipe->port_x};
    struct spot port_y = {.node = (int)brute_node_y(roof, pipe->bracket), .offset = pipe->port_y};
    unsigned owner = 1u << pipe->bracket;
    int reach = new_finding(builder);
    add_bound(builder, port_x, x, -pipe->reach, 1, reach, owner);
    add_bound(builder, x, port_x, -pipe->reach, 1, reach, owner);
    add_bound(builder, port_y, y, -pipe->reach, 1, reach, owner);
    add_bound(builder, y, port_y, -pipe->reach, 1, reach, owner);
    keep_inside(builder, &builder->pipes[p].flashing, false);
}

/* A bore passes each rafter to its one side or its other; one rule, all rafters together. */
static void choose_bay(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const struct spot x = builder->pipes[p].x;
    const int height = pipe_y(builder, p).node;
    unsigned owner = 1u << pipe->bracket;
    int finding = new_finding(builder);
    for (size_t i = 0; i < roof->rafter_count; i++) {
        const struct rafter *rafter = &roof->rafters[i];
        double keep = rafter->tolerance + pipe->bore / 2 + pipe->keep_rafter;
        struct spot from = {.offset = rafter->from, .lean = rafter->lean, .height = height};
        struct spot to = {.offset = rafter->to, .lean = rafter->lean, .height = height};
        begin_choice(builder);
        begin_way(builder);
        add_bound(builder, x, from, keep, 1, finding, owner);
        end_way(builder);
        begin_way(builder);
        add_bound(builder, to, x, keep, 1, finding, owner);
        end_way(builder);
    }
}

/* The bore off struts and feet, the flashing off flashings and other brackets. */
static void keep_pipe_apart(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const struct shape *flashing = &builder->pipes[p].flashing;
    struct spot x = builder->pipes[p].x, y = pipe_y(builder, p);
    struct shape bore =
        rectangle(beyond(x, -pipe->bore / 2), beyond(x, pipe->bore / 2), beyond(y, -pipe->bore / 2),
                  beyond(y, pipe->bore / 2), 1u << pipe->bracket);
    for (size_t r = 0; r < builder->row_count; r++) {
        const struct built_row *row = &builder->rows[r];
        const double reach = row->kit->foot_reach, half = row->kit->foot_half;
        if (row->strut)
            keep_apart(builder, &bore, &row->rail, pipe->keep_rafter, 1);
        for (size_t i = 0; i < row->mark_count; i++) {
            keep_apart(builder, flashing, &row->marks[i].flashing, 0, 2);
            struct spot at = row->marks[i].x;
            struct shape foot =
                rectangle(beyond(at, -reach), beyond(at, reach), beyond(row->y, -half),
                          beyond(row->y, half), 1u << row->bracket);
            if (!row->strut)
                keep_apart(builder, &bore, &foot, pipe->keep_rafter, 1);
        }
    }
    for (size_t q = p + 1; q < builder->pipe_count; q++)
        keep_apart(builder, flashing, &builder->pipes[q].flashing, 0, 2);
    for (size_t b = 0; b < roof->bracket_count; b++) {
        struct shape frame = bracket_shape(roof, b);
        if (b != pipe->bracket)
            keep_apart(builder, flashing, &frame, 0, 2);
    }
}

/* The node that holds the kin of a row's or a pipe's course. */
static struct spot kin_node(const struct roof *roof, size_t line) {
    return (struct spot){.node = (int)(brute_node_pipe(roof, roof->pipe_count) + line)};
}

static void choose_pipe(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const unsigned owner = 1u << pipe->bracket;
    const struct spot kin_at = kin_node(roof, roof->bracket_count * ROW_COUNT + p);
    choose_course(builder, &pipe->flashing, pipe_y(builder, p), 1, kin_at, owner);
    keep_off_joints(builder, &pipe->flashing, kin_at, builder->pipes[p].x, owner);
    choose_bay(builder, p);
    for (size_t v = 0; v < roof->vent_count; v++) {
        struct shape vent = vent_shape(&roof->vents[v]);
        keep_apart(builder, &builder->pipes[p].flashing, &vent, roof->vents[v].keep_flashing, 1);
    }
    keep_pipe_apart(builder, p);
}

/* Every row of every bracket is there: then the pipes are looked at too. */
static bool all_present(const struct roof *roof,
                        struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT]) {
    for (size_t i = 0; i < roof->bracket_count; i++)
        for (int row = 0; row < ROW_COUNT; row++)
            if (!rows[i][row].present)
                return false;
    return true;
}

static void choose_row(struct builder *builder, const struct built_row *row) {
    const unsigned owner = 1u << row->bracket;
    const struct spot kin_at = kin_node(builder->roof, row->bracket * ROW_COUNT + (size_t)row->row);
    choose_course(builder, &row->kit->flashing, row->y, row->mark_count, kin_at, owner);
    for (size_t i = 0; i < row->mark_count; i++)
        keep_off_joints(builder, &row->kit->flashing, kin_at, row->marks[i].x, owner);
    if (row->strut) {
        choose_clamps(builder, row);
        choose_past_keepouts(builder, row);
    } else {
        choose_feet(builder, row);
    }
    pass_vents_with_row(builder, row);
}

void brute_system_build(const struct roof *roof,
                        struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT],
                        struct brute_system *system) {
    struct builder builder = {.roof = roof, .system = system};
    system->bound_count = system->fixed_count = system->way_count = system->choice_count = 0;
    system->finding_count = system->holes = 0;
    system->full = false;
    system->node_count = brute_node_pipe(roof, roof->pipe_count);
    if (roof_has_joints(roof)) {
        system->node_count += roof->bracket_count * ROW_COUNT + roof->pipe_count;
        find_kin(&builder);
    }
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
    if (all_present(roof, rows))
        make_pipes(&builder);
    for (size_t p = 0; p < builder.pipe_count; p++)
        bound_pipe(&builder, p);
    system->fixed_count = system->bound_count;
    for (size_t i = 0; i < builder.row_count; i++)
        choose_row(&builder, &builder.rows[i]);
    for (size_t i = 0; i < roof->bracket_count; i++)
        pass_vents(&builder, i);
    choose_pairs(&builder);
    for (size_t p = 0; p < builder.pipe_count; p++)
        choose_pipe(&builder, p);
}
