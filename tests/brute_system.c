/* The rules of a roof as difference constraints and choices between them. */
#include "brute_build.h"

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

struct shape brute_vent_shape(const struct vent *vent) {
    return brute_rectangle(brute_fixed_at(vent->flange.x0), brute_fixed_at(vent->flange.x1),
                           brute_fixed_at(vent->flange.y0), brute_fixed_at(vent->flange.y1), 0);
}

struct shape brute_bracket_shape(const struct roof *roof, size_t bracket) {
    const struct kit *kit = roof_kit(roof, bracket);
    struct spot x = {.node = (int)brute_node_x(roof, bracket)};
    struct spot y = {.node = (int)brute_node_y(roof, bracket)};
    return brute_rectangle(x, brute_beyond(x, kit->width), y, brute_beyond(y, kit->height),
                           1u << bracket);
}

/* What the face asks of a bracket: near, far, eave and ridge setbacks. */
static void bound_bracket(struct builder *builder, size_t bracket) {
    const struct roof *roof = builder->roof;
    struct shape shape = brute_bracket_shape(roof, bracket);
    brute_keep_inside(builder, &shape, true);
}

static void pass_vents(struct builder *builder, size_t bracket) {
    const struct roof *roof = builder->roof;
    struct shape shape = brute_bracket_shape(roof, bracket);
    for (size_t i = 0; i < roof->vent_count; i++) {
        const struct vent *vent = &roof->vents[i];
        if (vent->kind == VENT_BLANK && vent->tall < roof_kit(roof, bracket)->standoff)
            continue;
        struct shape other = brute_vent_shape(vent);
        brute_keep_apart(builder, &shape, &other, vent->keep_bracket, 1);
    }
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
                    brute_keep_apart(builder, &row->marks[i].flashing, &other->marks[j].flashing, 0,
                                     2);
            if (a != b && row->strut && other->strut)
                brute_keep_apart(builder, &row->rail, &other->rail, 0, 2);
        }
        for (size_t i = 0; row->strut && i < roof->bracket_count; i++) {
            struct shape shape = brute_bracket_shape(roof, i);
            if (i != row->bracket)
                brute_keep_apart(builder, &row->rail, &shape, 0, 1);
        }
    }
    for (size_t i = 0; i < roof->bracket_count; i++)
        for (size_t j = i + 1; j < roof->bracket_count; j++) {
            struct shape one = brute_bracket_shape(roof, i), other = brute_bracket_shape(roof, j);
            brute_keep_apart(builder, &one, &other, roof->apart, 2);
        }
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
        brute_find_kin(&builder);
    }
    for (size_t i = 0; i < roof->bracket_count; i++) {
        bound_bracket(&builder, i);
        for (int row = 0; row < ROW_COUNT; row++)
            if (rows[i][row].present)
                brute_make_row(&builder, i, (enum row)row, rows[i][row].strut);
    }
    for (size_t i = 0; i < builder.row_count; i++)
        brute_bound_row(&builder, &builder.rows[i]);
    if (all_present(roof, rows))
        brute_make_pipes(&builder);
    for (size_t p = 0; p < builder.pipe_count; p++)
        brute_bound_pipe(&builder, p);
    system->fixed_count = system->bound_count;
    for (size_t i = 0; i < builder.row_count; i++)
        brute_choose_row(&builder, &builder.rows[i]);
    for (size_t i = 0; i < roof->bracket_count; i++)
        pass_vents(&builder, i);
    choose_pairs(&builder);
    for (size_t p = 0; p < builder.pipe_count; p++)
        brute_choose_pipe(&builder, p);
}
