/* Bounds between places, and choices between them: what every rule is told in. */
#include "brute_build.h"

#include <math.h>

struct spot brute_beyond(struct spot spot, double offset) {
    spot.offset += offset;
    return spot;
}

int brute_new_finding(struct builder *builder) {
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

void brute_add_bound(struct builder *builder, struct spot low, struct spot high, double least,
                     double factor, int finding, unsigned owners) {
    add_sloping(builder, low, high, 0, (struct spot){0}, least, factor, finding, owners);
}

void brute_begin_choice(struct builder *builder) {
    struct brute_system *system = builder->system;
    if (system->choice_count == BRUTE_CHOICES_MOST) {
        system->full = true;
        system->choice_count--;
    }
    system->choices[system->choice_count++] = (struct brute_choice){system->way_count, 0};
}

void brute_begin_way(struct builder *builder) {
    struct brute_system *system = builder->system;
    if (system->way_count == BRUTE_WAYS_MOST) {
        system->full = true;
        system->way_count--;
    }
    system->ways[system->way_count++] = (struct brute_way){system->bound_count, 0};
    system->choices[system->choice_count - 1].count =
        system->way_count - system->choices[system->choice_count - 1].first;
}

void brute_end_way(struct builder *builder) {
    struct brute_system *system = builder->system;
    struct brute_way *way = &system->ways[system->way_count - 1];
    way->count = system->bound_count - way->first;
}

void brute_keep_apart(struct builder *builder, const struct shape *a, const struct shape *b,
                      double least, double factor) {
    int finding = brute_new_finding(builder);
    const struct shape *pair[2] = {a, b};
    brute_begin_choice(builder);
    for (int axis = 0; axis < 2; axis++)
        for (int order = 0; order < 2; order++) {
            const struct shape *before = pair[order], *after = pair[1 - order];
            brute_begin_way(builder);
            for (size_t i = 0; i < before->count[axis]; i++)
                for (size_t j = 0; j < after->count[axis]; j++)
                    brute_add_bound(builder, before->high[axis][i], after->low[axis][j], least,
                                    factor, finding, a->owners | b->owners);
            brute_end_way(builder);
        }
}

struct shape brute_rectangle(struct spot x0, struct spot x1, struct spot y0, struct spot y1,
                             unsigned owners) {
    return (struct shape){
        .low = {{x0}, {y0}}, .high = {{x1}, {y1}}, .count = {1, 1}, .owners = owners};
}

struct spot brute_fixed_at(double at) {
    return (struct spot){.offset = at};
}

/* One corner of a shape inside one edge: nx * x + ny * y >= offset + inset + forgiveness, divided
 * by |nx| where there is one. */
static void keep_corner_inside(struct builder *builder, const struct edge *edge, struct spot x,
                               struct spot y, double inset, int finding, unsigned owners) {
    const double least = edge->offset + inset;
    if (fabs(edge->nx) > 1e-9) {
        const double by = fabs(edge->nx);
        const struct spot origin = brute_fixed_at(0);
        add_sloping(builder, edge->nx > 0 ? origin : x, edge->nx > 0 ? x : origin, edge->ny / by, y,
                    least / by, 1 / by, finding, owners);
    } else if (edge->ny > 0) {
        brute_add_bound(builder, brute_fixed_at(0), y, least, 1, finding, owners);
    } else {
        brute_add_bound(builder, y, brute_fixed_at(0), least, 1, finding, owners);
    }
}

void brute_keep_inside(struct builder *builder, const struct shape *shape, bool setback) {
    const struct roof *roof = builder->roof;
    int finding = brute_new_finding(builder);
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
