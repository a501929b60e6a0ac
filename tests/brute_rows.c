/* The rows of brackets: feet, struts with their lags and clamps. */
#include "brute_build.h"

enum { KEEPOUTS_MOST = 4 /* of one rafter */ };

struct built_mark brute_mark_at(struct spot x, struct spot y, const struct flashing *flashing,
                                unsigned owner) {
    struct spot lower = brute_beyond(y, -flashing->hole_up);
    return (struct built_mark){x, brute_rectangle(brute_beyond(x, -flashing->width / 2),
                                                  brute_beyond(x, flashing->width / 2), lower,
                                                  brute_beyond(lower, flashing->height), owner)};
}

static void add_mark(struct built_row *row, struct spot x) {
    row->marks[row->mark_count++] =
        brute_mark_at(x, row->y, &row->kit->flashing, 1u << row->bracket);
}

/* The middle of a ply on the row's own line. */
static struct spot middle_of(const struct built_row *row, const struct ply *ply) {
    return (struct spot){.offset = ply->at, .lean = ply->lean, .height = row->y.node};
}

static double play(const struct built_row *row, const struct ply *ply) {
    return ply->half - row->kit->lag_edge - ply->tolerance;
}

static void shape_rail(struct built_row *row) {
    const struct kit *kit = row->kit;
    double half = kit->strut_half;
    struct shape *rail = &row->rail;
    *rail = brute_rectangle(brute_beyond(row->marks[0].x, -kit->strut_end),
                            brute_beyond(row->marks[row->mark_count - 1].x, kit->strut_end),
                            brute_beyond(row->y, -half), brute_beyond(row->y, half),
                            1u << row->bracket);
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        rail->low[0][rail->count[0]] = brute_beyond(row->clamps[leg], -kit->strut_end);
        rail->high[0][rail->count[0]++] = brute_beyond(row->clamps[leg], kit->strut_end);
    }
}

void brute_make_row(struct builder *builder, size_t bracket, enum row which,
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
        row->clamps[leg] = brute_beyond(corner, row->kit->legs[leg] + grip);
    }
    for (size_t i = 0; strut && i < strut->count; i++)
        add_mark(row, middle_of(row, &roof->plies[strut->lags[i]]));
    for (size_t i = 0; strut && i < strut->count; i++)
        row->wood[i] = brute_new_finding(builder);
    if (strut)
        shape_rail(row);
    builder->system->holes += row->mark_count;
}

/* A lag lies where there is something of its ply, by the same rule as in its width. */
static void keep_within_reach(struct builder *builder, const struct built_row *row,
                              const struct ply *ply, int finding) {
    unsigned owner = 1u << row->bracket;
    if (ply->reach[0] > -ROOF_ENDLESS)
        brute_add_bound(builder, brute_fixed_at(ply->reach[0]), row->y, 0, 1, finding, owner);
    if (ply->reach[1] < ROOF_ENDLESS)
        brute_add_bound(builder, row->y, brute_fixed_at(ply->reach[1]), 0, 1, finding, owner);
}

static void bound_line(struct builder *builder, const struct built_row *row) {
    const struct kit *kit = row->kit;
    struct spot corner = {.node = (int)brute_node_y(builder->roof, row->bracket)};
    const double *window = kit->window[row->row];
    unsigned owner = 1u << row->bracket;
    int finding = brute_new_finding(builder);
    brute_add_bound(builder, corner, row->y, window[0], 1, finding, owner);
    brute_add_bound(builder, row->y, brute_beyond(corner, window[1]), 0, 1, finding, owner);
    if (row->row == ROW_BOTTOM) {
        double half = row->strut ? kit->strut_half : kit->foot_half;
        brute_add_bound(builder, corner, row->y, half + kit->wrench + kit->gap[1] + kit->depth, 1,
                        brute_new_finding(builder), owner);
    }
    for (size_t i = 0; i < row->mark_count; i++)
        brute_keep_inside(builder, &row->marks[i].flashing, false);
    if (row->strut)
        brute_keep_inside(builder, &row->rail, false);
}

/* Lags in the middle of their plies; clamps that stay within the overhang; a length in stock. */
static void bound_strut(struct builder *builder, const struct built_row *row) {
    const struct kit *kit = row->kit;
    for (size_t i = 0; i < row->mark_count; i++) {
        const struct ply *ply = &builder->roof->plies[row->strut->lags[i]];
        brute_add_bound(builder, brute_fixed_at(0), brute_fixed_at(0), -play(row, ply), 1,
                        row->wood[i], 1u << row->bracket);
        keep_within_reach(builder, row, ply, row->wood[i]);
        if (i > 0)
            brute_add_bound(builder, row->marks[i].x, brute_beyond(row->marks[i - 1].x, kit->span),
                            0, 0, BRUTE_HARD, 0);
    }
    struct spot first = row->marks[0].x, last = row->marks[row->mark_count - 1].x;
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        brute_add_bound(builder, first, row->clamps[leg], -kit->overhang, 0, BRUTE_HARD, 0);
        brute_add_bound(builder, row->clamps[leg], last, -kit->overhang, 0, BRUTE_HARD, 0);
    }
    for (size_t i = 0; i < row->rail.count[0]; i++)
        for (size_t j = 0; j < row->rail.count[0]; j++)
            brute_add_bound(builder, row->rail.high[0][i],
                            brute_beyond(row->rail.low[0][j], kit->stock[kit->stock_count - 1]), 0,
                            0, BRUTE_HARD, 0);
}

/* Above or below a keepout, as `above` says. */
static void keep_off(struct builder *builder, const struct built_row *row,
                     const struct keepout *keepout, bool above, int finding) {
    unsigned owner = 1u << row->bracket;
    if (above)
        brute_add_bound(builder, brute_fixed_at(keepout->y1), row->y, 0, 1, finding, owner);
    else
        brute_add_bound(builder, row->y, brute_fixed_at(keepout->y0), 0, 1, finding, owner);
}

void brute_bound_row(struct builder *builder, const struct built_row *row) {
    bound_line(builder, row);
    if (row->strut)
        bound_strut(builder, row);
}

/* The lags of a strut pass each keepout of their rafters above or below. */
static void choose_past_keepouts(struct builder *builder, const struct built_row *row) {
    const struct roof *roof = builder->roof;
    for (size_t i = 0; i < row->mark_count; i++)
        for (size_t k = 0; k < roof->keepout_count; k++) {
            if (roof->keepouts[k].rafter != roof->plies[row->strut->lags[i]].rafter)
                continue;
            brute_begin_choice(builder);
            for (int above = 0; above < 2; above++) {
                brute_begin_way(builder);
                keep_off(builder, row, &roof->keepouts[k], above == 1, row->wood[i]);
                brute_end_way(builder);
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
        brute_begin_way(builder);
        brute_add_bound(builder, middle_of(row, ply), x, -play(row, ply), 1, wood, owner);
        brute_add_bound(builder, x, middle_of(row, ply), -play(row, ply), 1, wood, owner);
        keep_within_reach(builder, row, ply, wood);
        for (size_t k = 0; k < count; k++)
            keep_off(builder, row, keepouts[k], (sides >> k & 1) != 0, wood);
        brute_end_way(builder);
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
        int wood = brute_new_finding(builder), reach = brute_new_finding(builder);
        brute_begin_choice(builder);
        for (size_t i = 0; i < roof->ply_count; i++)
            ways_into_ply(builder, row, x, &roof->plies[i], wood);
        brute_begin_choice(builder);
        for (int side = -1; side <= 1; side += 2) {
            struct spot middle = brute_beyond(corner, kit->legs[leg] + side * kit->foot_reach);
            brute_begin_way(builder);
            brute_add_bound(builder, middle, x, -kit->foot_slot, 1, reach, owner);
            brute_add_bound(builder, x, middle, -kit->foot_slot, 1, reach, owner);
            brute_end_way(builder);
        }
    }
}

/* Each clamp is clear of each lag, on one side of it. */
static void choose_clamps(struct builder *builder, const struct built_row *row) {
    for (size_t leg = 0; leg < row->kit->leg_count; leg++)
        for (size_t i = 0; i < row->mark_count; i++) {
            struct spot lag = row->marks[i].x, clamp = row->clamps[leg];
            brute_begin_choice(builder);
            brute_begin_way(builder);
            brute_add_bound(builder, lag, clamp, row->kit->lag_clear, 0, BRUTE_HARD, 0);
            brute_end_way(builder);
            brute_begin_way(builder);
            brute_add_bound(builder, clamp, lag, row->kit->lag_clear, 0, BRUTE_HARD, 0);
            brute_end_way(builder);
        }
}

static void pass_vents_with_row(struct builder *builder, const struct built_row *row) {
    for (size_t v = 0; v < builder->roof->vent_count; v++) {
        const struct vent *vent = &builder->roof->vents[v];
        struct shape shape = brute_vent_shape(vent);
        for (size_t i = 0; i < row->mark_count; i++)
            brute_keep_apart(builder, &row->marks[i].flashing, &shape, vent->keep_flashing, 1);
        if (row->strut)
            brute_keep_apart(builder, &row->rail, &shape, vent->keep_flashing, 1);
    }
}

void brute_choose_row(struct builder *builder, const struct built_row *row) {
    const unsigned owner = 1u << row->bracket;
    const struct spot kin_at =
        brute_kin_node(builder->roof, row->bracket * ROW_COUNT + (size_t)row->row);
    brute_choose_course(builder, &row->kit->flashing, row->y, row->mark_count, kin_at, owner);
    for (size_t i = 0; i < row->mark_count; i++)
        brute_keep_off_joints(builder, &row->kit->flashing, kin_at, row->marks[i].x, owner);
    if (row->strut) {
        choose_clamps(builder, row);
        choose_past_keepouts(builder, row);
    } else {
        choose_feet(builder, row);
    }
    pass_vents_with_row(builder, row);
}
