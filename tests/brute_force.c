/* The order of the search: struts of all rows, forgiveness worst first, shortfall, cost. */
#include "brute_search.h"

#include <math.h>
#include <stdlib.h>

#define STEP 1e-8      /* a better forgiveness is better by at least this much */
#define SLACK 1e-9     /* what earlier results are let off, against rounding */
#define NOTHING (-1e5) /* below any forgiveness: only the hard rules are left */

/* The struts that each row could have, least holes first. */
struct force {
    const struct roof *roof;
    struct brute_system *system;
    struct brute_strut *struts[BRUTE_BRACKETS_MOST][ROW_COUNT];
    size_t counts[BRUTE_BRACKETS_MOST][ROW_COUNT];
    struct brute_strut *fits[BRUTE_BRACKETS_MOST][ROW_COUNT]; /* those worth trying now */
    size_t fit_counts[BRUTE_BRACKETS_MOST][ROW_COUNT];
    struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT];
    struct brute_search search;
    bool too_large;
};

static int fewer_holes(const void *a, const void *b) {
    const struct brute_strut *left = a, *right = b;
    return (left->count > right->count) - (left->count < right->count);
}

static bool is_strut(const struct force *force, size_t bracket, int row) {
    return force->roof->brackets[bracket].hardware[row] == HARDWARE_STRUT;
}

static void build(struct force *force, struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT]) {
    brute_system_build(force->roof, rows, force->system);
    force->too_large = force->too_large || force->system->full;
    force->search.system = force->system;
}

/* True if something holds with these rows alone, at the levels sought now. */
static bool can_hold(struct force *force, struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT]) {
    build(force, rows);
    if (force->too_large)
        return false;
    struct brute_search alone = force->search;
    alone.aim = BRUTE_ANY;
    alone.found = alone.miss = false;
    brute_search_run(&alone);
    force->search.failed = force->search.failed || alone.failed;
    return alone.found;
}

/* The struts of one row that hold without the other rows. */
static void fit_row(struct force *force, size_t bracket, int row) {
    size_t count = 0;
    for (size_t i = 0; i < force->counts[bracket][row]; i++) {
        struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT] = {{{false, NULL}}};
        rows[bracket][row] = (struct brute_row){true, &force->struts[bracket][row][i]};
        if (can_hold(force, rows))
            force->fits[bracket][row][count++] = force->struts[bracket][row][i];
    }
    force->fit_counts[bracket][row] = count;
}

static bool enough_found(const struct force *force) {
    return force->too_large || force->search.failed ||
           (force->search.found &&
            (force->search.aim == BRUTE_LEVEL || force->search.aim == BRUTE_ANY));
}

/* Every combination of struts from row number `next` on. */
static void combine(struct force *force, size_t next) {
    size_t bracket = next / ROW_COUNT;
    int row = (int)(next % ROW_COUNT);
    if (bracket >= force->roof->bracket_count || bracket >= BRUTE_BRACKETS_MOST) {
        build(force, force->rows);
        if (!force->too_large)
            brute_search_run(&force->search);
        return;
    }
    force->rows[bracket][row] = (struct brute_row){true, NULL};
    if (!is_strut(force, bracket, row)) {
        combine(force, next + 1);
    } else {
        for (size_t i = 0; i < force->fit_counts[bracket][row] && !enough_found(force); i++) {
            force->rows[bracket][row].strut = &force->fits[bracket][row][i];
            bool first = next == 0, last = next + 1 == ROW_COUNT * force->roof->bracket_count;
            if (first || last || can_hold(force, force->rows))
                combine(force, next + 1);
        }
    }
    force->rows[bracket][row] = (struct brute_row){false, NULL};
}

static void search_all(struct force *force, enum brute_aim aim, double best) {
    force->search.aim = aim;
    force->search.best = best;
    force->search.found = false;
    for (size_t i = 0; i < force->roof->bracket_count; i++)
        for (int row = 0; row < ROW_COUNT; row++)
            if (is_strut(force, i, row))
                fit_row(force, i, row);
    combine(force, 0);
}

/* The greatest level of the brackets in `rising` while the others keep theirs; -INFINITY if there
 * is none.  Each layout found sets a higher level to beat, until nothing beats it. */
static double rise(struct force *force, unsigned rising, const double *levels) {
    double best = -INFINITY, level = NOTHING;
    force->search.rising = rising;
    force->search.miss = false;
    while (best < force->roof->enough - STEP) {
        for (size_t i = 0; i < BRUTE_BRACKETS_MOST; i++)
            force->search.levels[i] = rising >> i & 1 ? level : levels[i];
        search_all(force, BRUTE_LEVEL, best);
        if (!force->search.found || force->too_large || force->search.failed)
            break;
        best = force->search.best;
        level = best + STEP;
    }
    return best;
}

/* Shortfall and cost where each bracket has its level; the lesser of what was known and this. */
static void settle_cost(struct force *force, const double *levels, struct brute_answer *answer) {
    for (size_t i = 0; i < BRUTE_BRACKETS_MOST; i++)
        force->search.levels[i] = levels[i] - SLACK;
    bool miss = levels[0] < -SLACK || (force->roof->bracket_count > 1 && levels[1] < -SLACK);
    double shortfall = 0;
    force->search.miss = miss;
    if (miss) {
        search_all(force, BRUTE_SHORT, INFINITY);
        shortfall = force->search.best;
    }
    if (shortfall > answer->shortfall + SLACK)
        return;
    force->search.shortfall = shortfall + SLACK;
    search_all(force, BRUTE_COST, INFINITY);
    if (shortfall < answer->shortfall - SLACK || force->search.best < answer->cost)
        answer->cost = force->search.best;
    answer->shortfall = fmin(answer->shortfall, shortfall);
}

/* Two brackets: the worst is known; either of them may be the one that does better. */
static void settle_two(struct force *force, struct brute_answer *answer) {
    double worst = answer->forgiveness[0], levels[2][BRUTE_BRACKETS_MOST], next[2];
    for (unsigned i = 0; i < 2; i++) {
        double others[2] = {worst - SLACK, worst - SLACK};
        next[i] = fmax(worst, rise(force, 1u << i, others));
        levels[i][i] = next[i];
        levels[i][1 - i] = worst;
    }
    answer->forgiveness[1] = fmax(next[0], next[1]);
    for (unsigned i = 0; i < 2; i++)
        if (next[i] >= answer->forgiveness[1] - 2 * STEP)
            settle_cost(force, levels[i], answer);
}

static bool list_struts(struct force *force) {
    for (size_t i = 0; i < force->roof->bracket_count; i++)
        for (int row = 0; row < ROW_COUNT; row++) {
            struct brute_strut **list = &force->struts[i][row];
            size_t *count = &force->counts[i][row];
            if (!is_strut(force, i, row))
                continue;
            if (!brute_struts_list(force->roof, i, list, count))
                return false;
            force->fits[i][row] = calloc(*count + 1, sizeof **list);
            if (!force->fits[i][row])
                return false;
            if (*count > 0)
                qsort(*list, *count, sizeof **list, fewer_holes);
        }
    return true;
}

static void solve(struct force *force, struct brute_answer *answer) {
    static const double no_levels[BRUTE_BRACKETS_MOST];
    *answer = (struct brute_answer){.shortfall = INFINITY, .cost = INFINITY};
    unsigned all = (1u << force->roof->bracket_count) - 1;
    answer->forgiveness[0] = rise(force, all, no_levels);
    answer->possible = answer->forgiveness[0] > NOTHING;
    if (!answer->possible || force->too_large || force->search.failed)
        return;
    if (force->roof->bracket_count == 1) {
        double levels[BRUTE_BRACKETS_MOST] = {answer->forgiveness[0], 0};
        settle_cost(force, levels, answer);
    } else {
        settle_two(force, answer);
    }
}

bool brute_force(const struct roof *roof, struct brute_answer *answer) {
    struct force force = {.roof = roof, .search = {.roof = roof}};
    if (roof->bracket_count > BRUTE_BRACKETS_MOST || roof->pipe_count > BRUTE_PIPES_MOST ||
        brute_node_pipe(roof, roof->pipe_count) > BRUTE_NODES_MOST)
        return false;
    force.system = malloc(sizeof *force.system);
    bool good = force.system != NULL && list_struts(&force);
    struct brute_answer found;
    if (good)
        solve(&force, &found);
    good = good && !force.too_large && !force.search.failed;
    for (size_t i = 0; i < roof->bracket_count; i++)
        for (int row = 0; row < ROW_COUNT; row++) {
            free(force.struts[i][row]);
            free(force.fits[i][row]);
        }
    free(force.system);
    if (good)
        *answer = found;
    return good;
}
