/* The best figures for the choices made so far: a small linear program. */
#include "brute_search.h"

#include <math.h>
#include <stdlib.h>

/* Columns: the places of all nodes but the origin (free), then what is charged. */
struct leaf {
    const struct brute_search *search;
    const unsigned short *active;
    size_t active_count;
    size_t places;                 /* free columns */
    int lack[BRUTE_FINDINGS_MOST]; /* column of a finding's shortfall, or -1 */
    size_t lacks;
    struct brute_table table;
    double *at; /* room for the places of all nodes */
};

/* Solves the table, keeps the places and frees it. */
static double solve(struct leaf *leaf) {
    double *x = calloc(leaf->table.column_count + 1, sizeof *x);
    double value = x != NULL ? brute_table_solve(&leaf->table, x) : NAN;
    for (size_t i = 0; i < leaf->places && x != NULL; i++)
        leaf->at[i + 1] = x[i];
    leaf->at[0] = 0;
    free(x);
    brute_table_free(&leaf->table);
    return value;
}

static const struct brute_bound *bound_of(const struct leaf *leaf, size_t i) {
    return &leaf->search->system->bounds[leaf->active[i]];
}

static void put_place(double *row, int node, double factor) {
    if (node > 0)
        row[node - 1] += factor;
}

/* A row for a bound, without its level. */
static double *put_bound(struct leaf *leaf, const struct brute_bound *bound, double least) {
    double *row = brute_table_row(&leaf->table, least);
    put_place(row, bound->to, 1);
    put_place(row, bound->from, -1);
    for (size_t i = 0; i < bound->tilt_count; i++)
        put_place(row, bound->tilts[i].node, bound->tilts[i].factor);
    return row;
}

/* One charged column: how far the level stays below the most that is worth having. */
static double most_level(struct leaf *leaf) {
    const struct brute_search *search = leaf->search;
    double enough = search->roof->enough;
    if (!brute_table_new(leaf->places, 1, leaf->active_count, &leaf->table))
        return NAN;
    leaf->table.cost[leaf->places] = 1;
    for (size_t i = 0; i < leaf->active_count; i++) {
        const struct brute_bound *bound = bound_of(leaf, i);
        bool rising = (bound->owners & search->rising) != 0;
        double level = !(bound->factor > 0) ? 0 : rising ? enough : brute_level(search, bound);
        double *row = put_bound(leaf, bound, bound->constant + bound->factor * level);
        if (rising)
            row[leaf->places] = bound->factor;
    }
    double below = solve(leaf);
    return enough - below;
}

/* Gives a column to the shortfall of each finding that may lack anything. */
static void find_lacks(struct leaf *leaf, const brute_closed closed) {
    for (size_t i = 0; i < leaf->search->system->finding_count; i++)
        leaf->lack[i] = -1;
    for (size_t i = 0; i < leaf->active_count && leaf->search->miss; i++) {
        const struct brute_bound *bound = bound_of(leaf, i);
        if (bound->finding == BRUTE_HARD || brute_least(bound, closed) >= bound->constant ||
            leaf->lack[bound->finding] >= 0)
            continue;
        leaf->lack[bound->finding] = (int)(leaf->places + leaf->lacks++);
    }
}

static void put_levels(struct leaf *leaf) {
    for (size_t i = 0; i < leaf->active_count; i++) {
        const struct brute_bound *bound = bound_of(leaf, i);
        double level = !(bound->factor > 0) ? 0 : brute_level(leaf->search, bound);
        put_bound(leaf, bound, bound->constant + bound->factor * level);
        if (bound->finding != BRUTE_HARD && leaf->lack[bound->finding] >= 0)
            put_bound(leaf, bound, bound->constant)[leaf->lack[bound->finding]] = bound->factor;
    }
}

static double least_shortfall(struct leaf *leaf, const brute_closed closed) {
    find_lacks(leaf, closed);
    if (!brute_table_new(leaf->places, leaf->lacks, 2 * leaf->active_count, &leaf->table))
        return NAN;
    for (size_t i = 0; i < leaf->lacks; i++)
        leaf->table.cost[leaf->places + i] = 1;
    put_levels(leaf);
    double shortfall = solve(leaf);
    return shortfall;
}

/* A charged column that is at least how far a node is from where it is wanted. */
static void put_moved(struct leaf *leaf, size_t node, double want, size_t column) {
    for (int sign = -1; sign <= 1; sign += 2) {
        double *row = brute_table_row(&leaf->table, sign * want);
        put_place(row, (int)node, sign);
        row[column] = 1;
    }
    leaf->table.cost[column] = 1;
}

static double least_cost(struct leaf *leaf, const brute_closed closed) {
    const struct roof *roof = leaf->search->roof;
    find_lacks(leaf, closed);
    size_t moves = 2 * roof->bracket_count, rows = 2 * leaf->active_count + 2 * moves + 1;
    if (!brute_table_new(leaf->places, leaf->lacks + moves, rows, &leaf->table))
        return NAN;
    put_levels(leaf);
    if (leaf->search->miss) {
        double *row = brute_table_row(&leaf->table, -leaf->search->shortfall);
        for (size_t i = 0; i < leaf->lacks; i++)
            row[leaf->places + i] = -1;
    }
    for (size_t i = 0; i < roof->bracket_count; i++) {
        size_t column = leaf->places + leaf->lacks + 2 * i;
        put_moved(leaf, brute_node_x(roof, i), roof->brackets[i].want_x, column);
        put_moved(leaf, brute_node_y(roof, i), roof->brackets[i].want_y, column + 1);
    }
    double moved = solve(leaf);
    return moved + roof->hole_worth * (double)leaf->search->system->holes;
}

double brute_leaf(const struct brute_search *search, const unsigned short *active,
                  size_t active_count, const brute_closed closed, double at[BRUTE_NODES_MOST]) {
    struct leaf leaf = {.search = search,
                        .at = at,
                        .active = active,
                        .active_count = active_count,
                        .places = search->system->node_count - 1};
    switch (search->aim) {
    case BRUTE_LEVEL:
        return most_level(&leaf);
    case BRUTE_SHORT:
        return least_shortfall(&leaf, closed);
    case BRUTE_COST:
        return least_cost(&leaf, closed);
    default:
        return 0;
    }
}
