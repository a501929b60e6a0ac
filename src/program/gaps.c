/* Rectangles of sums: kept apart, and kept on the face. */
#include "parts.h"

#include <math.h>

struct linear linear_sum(struct linear a, struct linear b, double factor) {
    a.constant += factor * b.constant;
    for (size_t i = 0; i < b.count; i++)
        a = linear_plus(a, b.terms[i].column, factor * b.terms[i].factor);
    return a;
}

static struct linear moved_by(struct linear sum, double by) {
    sum.constant += by;
    return sum;
}

static struct linear column_alone(size_t column) {
    return linear_plus(linear_of(0), column, 1);
}

struct sides around(struct linear x, struct linear y, double half_width, double half_height) {
    return (struct sides){moved_by(x, -half_width), moved_by(y, -half_height),
                          moved_by(x, half_width), moved_by(y, half_height)};
}

struct sides fixed_sides(const struct box *box) {
    return (struct sides){linear_of(box->x0), linear_of(box->y0), linear_of(box->x1),
                          linear_of(box->y1)};
}

struct sides bracket_sides(const struct parts *parts, size_t bracket) {
    const struct kit *kit = roof_kit(parts->roof, bracket);
    struct linear x = column_alone(parts->model->brackets[bracket].x);
    struct linear y = column_alone(parts->model->brackets[bracket].y);
    return (struct sides){x, y, moved_by(x, kit->width), moved_by(y, kit->height)};
}

struct sides flashing_sides(const struct flashing *flashing, struct linear x, struct linear y) {
    double half = flashing->width / 2;
    struct linear low = moved_by(y, -flashing->hole_up);
    return (struct sides){moved_by(x, -half), low, moved_by(x, half),
                          moved_by(low, flashing->height)};
}

struct sides strut_sides(const struct parts *parts, size_t bracket, enum row row) {
    double half = roof_kit(parts->roof, bracket)->strut_half;
    const struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    struct linear y = column_alone(columns->y);
    return (struct sides){column_alone(columns->from), moved_by(y, -half),
                          column_alone(columns->to), moved_by(y, half)};
}

static void find_gaps(const struct sides *a, const struct sides *b, struct linear gaps[WAY_COUNT]) {
    gaps[WAY_LEFT] = linear_sum(b->x0, a->x1, -1);
    gaps[WAY_RIGHT] = linear_sum(a->x0, b->x1, -1);
    gaps[WAY_BELOW] = linear_sum(b->y0, a->y1, -1);
    gaps[WAY_ABOVE] = linear_sum(a->y0, b->y1, -1);
}

bool always_apart(const struct parts *parts, const struct sides *a, const struct sides *b,
                  const struct gap_rule *rule) {
    struct linear gaps[WAY_COUNT];
    find_gaps(a, b, gaps);
    double most = rule->keep + rule->weight * levels_most(parts);
    for (size_t i = 0; i < WAY_COUNT; i++)
        if (program_least(parts->program, &gaps[i]) >= most)
            return true;
    return false;
}

void gap_ways(struct parts *parts, const struct sides *a, const struct sides *b,
              const struct gap_rule *rule, size_t ways[WAY_COUNT]) {
    static const char *const names[WAY_COUNT] = {"left", "right", "below", "above"};
    struct linear gaps[WAY_COUNT];
    find_gaps(a, b, gaps);
    size_t level = level_of(parts, rule->subject, 1);
    for (size_t i = 0; i < WAY_COUNT; i++) {
        struct linear spare = moved_by(linear_plus(gaps[i], level, -rule->weight), -rule->keep);
        ways[i] = program_choice(parts->program, spare, names[i]);
    }
}

void require_gap(struct parts *parts, const struct sides *a, const struct sides *b,
                 const struct gap_rule *rule) {
    if (always_apart(parts, a, b, rule))
        return;
    size_t ways[WAY_COUNT];
    gap_ways(parts, a, b, rule, ways);
    program_one_of(parts->program, ways, WAY_COUNT, rule->when, rule->when_count);
}

/* How far the rectangle lies inside an edge, less its setback if asked. */
static struct linear edge_spare(const struct sides *sides, const struct edge *edge, bool setback) {
    struct linear spare = linear_of(-edge->offset - (setback ? edge->setback : 0));
    if (edge->nx != 0)
        spare = linear_sum(spare, edge->nx > 0 ? sides->x0 : sides->x1, edge->nx);
    if (edge->ny != 0)
        spare = linear_sum(spare, edge->ny > 0 ? sides->y0 : sides->y1, edge->ny);
    return spare;
}

static bool always_inside(const struct parts *parts, const struct sides *sides, bool setback) {
    for (size_t i = 0; i < parts->roof->edge_count; i++) {
        struct linear spare = edge_spare(sides, &parts->roof->edges[i], setback);
        if (program_least(parts->program, &spare) < levels_most(parts))
            return false;
    }
    return true;
}

void require_inside(struct parts *parts, const struct sides *sides, struct subject subject,
                    bool setback, size_t used) {
    if (always_inside(parts, sides, setback))
        return;
    size_t level = level_of(parts, subject, 1);
    for (size_t i = 0; i < parts->roof->edge_count; i++) {
        struct linear spare = edge_spare(sides, &parts->roof->edges[i], setback);
        program_require_when(parts->program, linear_plus(spare, level, -1), &used,
                             used == MODEL_NONE ? 0 : 1);
    }
}

void require_flashing(struct parts *parts, const struct sides *sides, struct subject subject,
                      size_t used) {
    require_inside(parts, sides, subject, false, used);
    for (size_t v = 0; v < parts->roof->vent_count; v++) {
        const struct vent *vent = &parts->roof->vents[v];
        struct sides flange = fixed_sides(&vent->flange);
        struct gap_rule rule = {subject, vent->keep_flashing, 1, &used, used == MODEL_NONE ? 0 : 1};
        require_gap(parts, sides, &flange, &rule);
    }
}
