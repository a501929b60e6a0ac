/* The search: always the choice with the fewest ways left, and no way that contradicts what is
 * known already. */
#include "brute_search.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define ROUNDING 1e-10 /* inches: sums of a few lengths, held as doubles */
#define BETTER 1e-8    /* a cost or shortfall found later must be lower by this much */

enum { OPEN = -1, ACTIVE_MOST = 4096 };

/* What is known when some of the choices are made.  closed[from][to] is a number that
 * place(to) - place(from) is known to be at least. */
struct known {
    brute_closed closed;
    short made[BRUTE_CHOICES_MOST];     /* the way taken, or OPEN */
    unsigned short active[ACTIVE_MOST]; /* bounds that hold, as indices */
    size_t active_count;
};

static void copy(const struct brute_search *search, const struct known *from, struct known *to) {
    memcpy(to->closed, from->closed, search->system->node_count * sizeof from->closed[0]);
    memcpy(to->made, from->made, search->system->choice_count * sizeof from->made[0]);
    memcpy(to->active, from->active, from->active_count * sizeof from->active[0]);
    to->active_count = from->active_count;
}

double brute_level(const struct brute_search *search, const struct brute_bound *bound) {
    double level = -INFINITY;
    for (size_t i = 0; i < BRUTE_BRACKETS_MOST; i++)
        if (bound->owners >> i & 1)
            level = fmax(level, search->levels[i]);
    return level;
}

static double needed(const struct brute_search *search, const struct brute_bound *bound) {
    if (!(bound->factor > 0))
        return bound->constant;
    return bound->constant + bound->factor * brute_level(search, bound);
}

/* The most that the tilts of a bound can add. */
static double most_tilt(const struct brute_bound *bound, const brute_closed closed) {
    double sum = 0;
    for (size_t i = 0; i < bound->tilt_count; i++) {
        const struct brute_tilt *tilt = &bound->tilts[i];
        sum += tilt->factor * (tilt->factor > 0 ? -closed[tilt->node][0] : closed[0][tilt->node]);
    }
    return sum;
}

static double least_tilt(const struct brute_bound *bound, const brute_closed closed) {
    double sum = 0;
    for (size_t i = 0; i < bound->tilt_count; i++) {
        const struct brute_tilt *tilt = &bound->tilts[i];
        sum += tilt->factor * (tilt->factor > 0 ? closed[0][tilt->node] : -closed[tilt->node][0]);
    }
    return sum;
}

double brute_least(const struct brute_bound *bound, const brute_closed closed) {
    return closed[bound->from][bound->to] + least_tilt(bound, closed);
}

double brute_most(const struct brute_bound *bound, const brute_closed closed) {
    return -closed[bound->to][bound->from] + most_tilt(bound, closed);
}

double brute_side(const struct brute_bound *bound, const double at[BRUTE_NODES_MOST]) {
    double sum = at[bound->to] - at[bound->from];
    for (size_t i = 0; i < bound->tilt_count; i++)
        sum += bound->tilts[i].factor * at[bound->tilts[i].node];
    return sum;
}

static bool contradicts(const struct brute_search *search, const struct known *known,
                        const struct brute_bound *bound) {
    return needed(search, bound) - brute_most(bound, known->closed) > ROUNDING;
}

/* True if the bound holds whatever else is chosen, and without a shortfall where those count. */
static bool implied(const struct brute_search *search, const struct known *known,
                    const struct brute_bound *bound) {
    double least = needed(search, bound);
    if (search->miss)
        least = fmax(least, bound->constant);
    return brute_least(bound, known->closed) >= least;
}

/* Keeps the system closed under what a bound says of the difference of its two nodes: all that it
 * says, or where it has tilts, what follows whatever they add. */
static void close_under(const struct brute_search *search, struct known *known,
                        const struct brute_bound *bound) {
    const struct known *before = known;
    size_t nodes = search->system->node_count;
    double least = needed(search, bound) - most_tilt(bound, before->closed);
    if (known->closed[bound->from][bound->to] >= least || !(least > -INFINITY))
        return;
    for (size_t i = 0; i < nodes; i++) {
        double start = known->closed[i][bound->from] + least;
        for (size_t j = 0; j < nodes; j++)
            if (start + known->closed[bound->to][j] > known->closed[i][j])
                known->closed[i][j] = start + known->closed[bound->to][j];
    }
}

static bool add_bound(const struct brute_search *search, struct known *known, size_t index) {
    const struct brute_bound *bound = &search->system->bounds[index];
    if (contradicts(search, known, bound))
        return false;
    if (known->active_count == ACTIVE_MOST)
        abort(); /* too few for the largest roof that brute_system_build takes */
    known->active[known->active_count++] = (unsigned short)index;
    close_under(search, known, bound);
    return true;
}

/* What is known by now may say more through bounds with tilts; false at a contradiction. */
static bool tighten(const struct brute_search *search, struct known *known) {
    for (size_t i = 0; i < known->active_count; i++) {
        const struct brute_bound *bound = &search->system->bounds[known->active[i]];
        if (bound->tilt_count == 0)
            continue;
        if (contradicts(search, known, bound))
            return false;
        close_under(search, known, bound);
    }
    return true;
}

static bool take(const struct brute_search *search, struct known *known, size_t choice,
                 size_t way) {
    const struct brute_way *taken =
        &search->system->ways[search->system->choices[choice].first + way];
    known->made[choice] = (short)way;
    for (size_t i = 0; i < taken->count; i++)
        if (!add_bound(search, known, taken->first + i))
            return false;
    return true;
}

/* How many ways of a choice are left; *sure is one that holds anyway, if there is one. */
static size_t ways_left(const struct brute_search *search, const struct known *known, size_t choice,
                        size_t *last, bool *sure) {
    const struct brute_choice *open = &search->system->choices[choice];
    size_t left = 0;
    *sure = false;
    for (size_t w = 0; w < open->count; w++) {
        const struct brute_way *way = &search->system->ways[open->first + w];
        bool possible = true, holds = true;
        for (size_t i = 0; i < way->count && possible; i++) {
            const struct brute_bound *bound = &search->system->bounds[way->first + i];
            possible = !contradicts(search, known, bound);
            holds = holds && implied(search, known, bound);
        }
        if (!possible)
            continue;
        left++;
        *last = w;
        *sure = holds;
        if (holds)
            return left;
    }
    return left;
}

/* The least that a finding's bounds lack, at best, over what is known. */
static double least_lack(const struct known *known, const struct brute_bound *bound) {
    if (!(bound->factor > 0))
        return 0;
    double most = brute_most(bound, known->closed);
    return fmax(0, (bound->constant - most) / bound->factor);
}

static double shortfall_at_least(const struct brute_search *search, const struct known *known) {
    const struct brute_system *system = search->system;
    double lack[BRUTE_FINDINGS_MOST] = {0};
    for (size_t i = 0; i < known->active_count; i++) {
        const struct brute_bound *bound = &system->bounds[known->active[i]];
        if (bound->finding != BRUTE_HARD)
            lack[bound->finding] = fmax(lack[bound->finding], least_lack(known, bound));
    }
    double sum = 0;
    for (size_t i = 0; i < system->finding_count; i++)
        sum += lack[i];
    return sum;
}

static double cost_at_least(const struct brute_search *search, const struct known *known) {
    const struct roof *roof = search->roof;
    double cost = roof->hole_worth * (double)search->system->holes;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        size_t x = brute_node_x(roof, i), y = brute_node_y(roof, i);
        cost += fmax(0, fmax(known->closed[0][x] - roof->brackets[i].want_x,
                             roof->brackets[i].want_x + known->closed[x][0]));
        cost += fmax(0, fmax(known->closed[0][y] - roof->brackets[i].want_y,
                             roof->brackets[i].want_y + known->closed[y][0]));
    }
    return cost;
}

static bool worthless(const struct brute_search *search, const struct known *known) {
    if (search->aim == BRUTE_SHORT)
        return shortfall_at_least(search, known) >= search->best - BETTER;
    if (search->aim != BRUTE_COST)
        return false;
    return cost_at_least(search, known) >= search->best - BETTER ||
           (search->miss && shortfall_at_least(search, known) > search->shortfall + BETTER);
}

/* The best figure for the choices made so far. */
static double figure(struct brute_search *search, const struct known *known,
                     double at[BRUTE_NODES_MOST]) {
    double value = brute_leaf(search, known->active, known->active_count, known->closed, at);
    if (isnan(value))
        search->failed = true;
    return value;
}

/* A level found is to be beaten from now on. */
static void keep_figure(struct brute_search *search, double value) {
    bool better = search->aim == BRUTE_LEVEL ? value > search->best : value < search->best;
    if (!better)
        return;
    search->best = value;
    search->found = true;
    for (size_t i = 0; i < BRUTE_BRACKETS_MOST && search->aim == BRUTE_LEVEL; i++)
        if (search->rising >> i & 1)
            search->levels[i] = value + BETTER;
}

static bool finished(const struct brute_search *search) {
    return search->failed || (search->found && search->aim == BRUTE_ANY);
}

/* Settles what leaves no choice, and finds the choice with the fewest ways; the number of choices
 * if none is open.  False at a contradiction. */
static bool settle(const struct brute_search *search, struct known *known, size_t *next) {
    size_t count = search->system->choice_count;
    bool changed = true;
    if (!tighten(search, known))
        return false;
    while (changed) {
        size_t fewest = SIZE_MAX;
        changed = false;
        *next = count;
        for (size_t c = 0; c < count; c++) {
            if (known->made[c] != OPEN)
                continue;
            size_t last = 0;
            bool sure = false;
            size_t left = ways_left(search, known, c, &last, &sure);
            if (left == 0)
                return false;
            if (sure || left == 1) {
                if (!take(search, known, c, last))
                    return false;
                changed = changed || !sure;
            } else if (left < fewest) {
                fewest = left;
                *next = c;
            }
        }
    }
    return true;
}

/* How far a choice is from being kept, in inches, with everything where `at` says: 0 if one of its
 * ways holds, without a shortfall where those count. */
static double broken_by(const struct brute_search *search, size_t choice,
                        const double at[BRUTE_NODES_MOST]) {
    const struct brute_choice *open = &search->system->choices[choice];
    double least = INFINITY;
    for (size_t w = 0; w < open->count; w++) {
        const struct brute_way *way = &search->system->ways[open->first + w];
        double most = 0;
        for (size_t i = 0; i < way->count; i++) {
            const struct brute_bound *bound = &search->system->bounds[way->first + i];
            double wanted = needed(search, bound);
            if (search->miss)
                wanted = fmax(wanted, bound->constant);
            most = fmax(most, wanted - brute_side(bound, at));
        }
        least = fmin(least, most);
    }
    return least;
}

/* Most choices make no difference in the end, so they are not all made: where the best figure
 * keeps the open ones anyway, it is the figure of this branch; else the one that it breaks most is
 * next.  False if nothing is left to do here. */
static bool next_to_make(struct brute_search *search, const struct known *known, size_t *next) {
    double at[BRUTE_NODES_MOST];
    double value = figure(search, known, at);
    bool rising = search->aim == BRUTE_LEVEL;
    if (!(rising ? value > search->best + BETTER : value < search->best - BETTER))
        return false;
    struct brute_search there = *search;
    for (size_t i = 0; i < BRUTE_BRACKETS_MOST && rising; i++)
        if (search->rising >> i & 1)
            there.levels[i] = value;
    double most = ROUNDING * 10;
    *next = search->system->choice_count;
    for (size_t i = 0; i < search->system->choice_count; i++) {
        double broken = known->made[i] == OPEN ? broken_by(&there, i, at) : 0;
        if (broken > most) {
            most = broken;
            *next = i;
        }
    }
    if (*next < search->system->choice_count)
        return true;
    keep_figure(search, value);
    return false;
}

static void try_ways(struct brute_search *search, struct known *known) {
    size_t choice = 0;
    if (!settle(search, known, &choice) || worthless(search, known))
        return;
    if (search->aim != BRUTE_ANY && !next_to_make(search, known, &choice))
        return;
    if (choice == search->system->choice_count) {
        search->found = true;
        return;
    }
    struct known *after = malloc(sizeof *after);
    if (!after) {
        search->failed = true;
        return;
    }
    size_t count = search->system->choices[choice].count;
    for (size_t w = 0; w < count && !finished(search); w++) {
        copy(search, known, after);
        if (take(search, after, choice, w))
            try_ways(search, after);
    }
    free(after);
}

void brute_search_run(struct brute_search *search) {
    struct known *known = malloc(sizeof *known);
    if (!known) {
        search->failed = true;
        return;
    }
    known->active_count = 0;
    for (size_t i = 0; i < BRUTE_NODES_MOST; i++)
        for (size_t j = 0; j < BRUTE_NODES_MOST; j++)
            known->closed[i][j] = i == j ? 0 : -INFINITY;
    for (size_t i = 0; i < search->system->choice_count; i++)
        known->made[i] = OPEN;
    bool holds = true;
    for (size_t i = 0; i < search->system->fixed_count && holds; i++)
        holds = add_bound(search, known, i);
    if (holds)
        try_ways(search, known);
    free(known);
}
