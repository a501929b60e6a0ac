/* Pipes: a bore between rafters, near its port, with a flashing of its own. */
#include "brute_build.h"

void brute_make_pipes(struct builder *builder) {
    const struct roof *roof = builder->roof;
    for (size_t p = 0; p < roof->pipe_count && p < BRUTE_PIPES_MOST; p++) {
        struct spot x = {.node = (int)brute_node_pipe(roof, p)};
        struct spot y = {.node = x.node + 1};
        builder->pipes[builder->pipe_count++] =
            brute_mark_at(x, y, &roof->pipes[p].flashing, 1u << roof->pipes[p].bracket);
        builder->system->holes++;
    }
}

static struct spot pipe_y(const struct builder *builder, size_t pipe) {
    return brute_beyond(builder->pipes[pipe].flashing.low[1][0],
                        builder->roof->pipes[pipe].flashing.hole_up);
}

void brute_bound_pipe(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const struct spot x = builder->pipes[p].x, y = pipe_y(builder, p);
    struct spot port_x = {.node = (int)brute_node_x(roof, pipe->bracket), .offset = pipe->port_x};
    struct spot port_y = {.node = (int)brute_node_y(roof, pipe->bracket), .offset = pipe->port_y};
    unsigned owner = 1u << pipe->bracket;
    int reach = brute_new_finding(builder);
    brute_add_bound(builder, port_x, x, -pipe->reach, 1, reach, owner);
    brute_add_bound(builder, x, port_x, -pipe->reach, 1, reach, owner);
    brute_add_bound(builder, port_y, y, -pipe->reach, 1, reach, owner);
    brute_add_bound(builder, y, port_y, -pipe->reach, 1, reach, owner);
    brute_keep_inside(builder, &builder->pipes[p].flashing, false);
}

/* A bore passes each rafter to its one side or its other; one rule, all rafters together. */
static void choose_bay(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const struct spot x = builder->pipes[p].x;
    const int height = pipe_y(builder, p).node;
    unsigned owner = 1u << pipe->bracket;
    int finding = brute_new_finding(builder);
    for (size_t i = 0; i < roof->rafter_count; i++) {
        const struct rafter *rafter = &roof->rafters[i];
        double keep = rafter->tolerance + pipe->bore / 2 + pipe->keep_rafter;
        struct spot from = {.offset = rafter->from, .lean = rafter->lean, .height = height};
        struct spot to = {.offset = rafter->to, .lean = rafter->lean, .height = height};
        brute_begin_choice(builder);
        brute_begin_way(builder);
        brute_add_bound(builder, x, from, keep, 1, finding, owner);
        brute_end_way(builder);
        brute_begin_way(builder);
        brute_add_bound(builder, to, x, keep, 1, finding, owner);
        brute_end_way(builder);
    }
}

/* The bore off struts and feet, the flashing off flashings and other brackets. */
static void keep_pipe_apart(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const struct shape *flashing = &builder->pipes[p].flashing;
    struct spot x = builder->pipes[p].x, y = pipe_y(builder, p);
    struct shape bore = brute_rectangle(
        brute_beyond(x, -pipe->bore / 2), brute_beyond(x, pipe->bore / 2),
        brute_beyond(y, -pipe->bore / 2), brute_beyond(y, pipe->bore / 2), 1u << pipe->bracket);
    for (size_t r = 0; r < builder->row_count; r++) {
        const struct built_row *row = &builder->rows[r];
        const double reach = row->kit->foot_reach, half = row->kit->foot_half;
        if (row->strut)
            brute_keep_apart(builder, &bore, &row->rail, pipe->keep_rafter, 1);
        for (size_t i = 0; i < row->mark_count; i++) {
            brute_keep_apart(builder, flashing, &row->marks[i].flashing, 0, 2);
            struct spot at = row->marks[i].x;
            struct shape foot = brute_rectangle(brute_beyond(at, -reach), brute_beyond(at, reach),
                                                brute_beyond(row->y, -half),
                                                brute_beyond(row->y, half), 1u << row->bracket);
            if (!row->strut)
                brute_keep_apart(builder, &bore, &foot, pipe->keep_rafter, 1);
        }
    }
    for (size_t q = p + 1; q < builder->pipe_count; q++)
        brute_keep_apart(builder, flashing, &builder->pipes[q].flashing, 0, 2);
    for (size_t b = 0; b < roof->bracket_count; b++) {
        struct shape frame = brute_bracket_shape(roof, b);
        if (b != pipe->bracket)
            brute_keep_apart(builder, flashing, &frame, 0, 2);
    }
}

void brute_choose_pipe(struct builder *builder, size_t p) {
    const struct roof *roof = builder->roof;
    const struct pipe *pipe = &roof->pipes[p];
    const unsigned owner = 1u << pipe->bracket;
    const struct spot kin_at = brute_kin_node(roof, roof->bracket_count * ROW_COUNT + p);
    brute_choose_course(builder, &pipe->flashing, pipe_y(builder, p), 1, kin_at, owner);
    brute_keep_off_joints(builder, &pipe->flashing, kin_at, builder->pipes[p].x, owner);
    choose_bay(builder, p);
    for (size_t v = 0; v < roof->vent_count; v++) {
        struct shape vent = brute_vent_shape(&roof->vents[v]);
        brute_keep_apart(builder, &builder->pipes[p].flashing, &vent, roof->vents[v].keep_flashing,
                         1);
    }
    keep_pipe_apart(builder, p);
}
