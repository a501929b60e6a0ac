#include "ranks.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

enum { PIECES_KEPT_MOST = 4000000, LOOK = 256 };

/* Functions go on for so much beyond where a bracket may be, as its spots may by a rounding. */
#define MARGIN 1.0

/* Places closer than this are the same. */
#define NEAR 1e-7

static size_t had(const struct ranks *ranks, size_t state, size_t c) {
    const struct rank_class *class = &ranks->classes[c];
    return state / class->stride % (class->size + 1);
}

static struct pieces *costs_of(const struct ranks *ranks, int rank, size_t state, size_t last) {
    return &ranks->costs[rank][state * ranks->class_count + last];
}

/* Whether one of a class may stand behind all of a state. */
static bool may_follow(const struct ranks *ranks, size_t state, size_t next) {
    bool may = had(ranks, state, next) < ranks->classes[next].size;
    for (size_t c = 0; c < ranks->class_count && may; c++)
        may = !ranks->barred[c][next] || had(ranks, state, c) == 0;
    return may;
}

/* Y up to which others can stand above one of a class, and from which on they can below it: where
 * it is of which rank.  How many ranks there are at the least. */
static size_t find_parts(struct ranks *ranks, size_t c) {
    struct rank_class *class = &ranks->classes[c];
    double below = -INFINITY, above = INFINITY;
    for (size_t o = 0; o < ranks->class_count; o++) {
        const struct rank_class *other = &ranks->classes[o];
        if (o == c && class->size == 1)
            continue;
        below = length_greater(below, other->up.hi - class->height - ranks->over[c][o]);
        above = length_lesser(above, other->up.lo + other->height + ranks->over[c][o]);
    }
    class->part[RANK_LOWER] = (struct interval){-INFINITY, above};
    class->part[RANK_MIDDLE] = (struct interval){above, below};
    class->part[RANK_UPPER] = (struct interval){length_greater(above, below), INFINITY};
    if (below >= above)
        return RANK_COUNT;
    return below < class->up.lo && above > class->up.hi ? 1 : RANKS_COSTED;
}

/* Whether two of the middle rank could stand above each other. */
static bool is_deep(const struct ranks *ranks) {
    bool deep = false;
    for (size_t c = 0; c < ranks->class_count && !deep; c++)
        for (size_t o = 0; o < ranks->class_count && !deep; o++) {
            const struct rank_class *lower = &ranks->classes[c], *upper = &ranks->classes[o];
            const struct interval *from = &lower->part[RANK_MIDDLE],
                                  *to = &upper->part[RANK_MIDDLE];
            deep = (c != o || lower->size > 1) && from->lo <= from->hi && to->lo <= to->hi &&
                   from->lo + lower->height + ranks->over[c][o] <= to->hi;
        }
    return deep;
}

bool ranks_begin(struct ranks *ranks) {
    ranks->states = 1;
    for (size_t c = 0; c < ranks->class_count && ranks->states <= RANK_STATES_MOST; c++) {
        ranks->classes[c].stride = ranks->states;
        ranks->states *= ranks->classes[c].size + 1;
    }
    if (ranks->states > RANK_STATES_MOST)
        return false;
    ranks->ranks = 1;
    for (size_t c = 0; c < ranks->class_count; c++) {
        const size_t least = find_parts(ranks, c);
        ranks->ranks = ranks->ranks < least ? least : ranks->ranks;
    }
    return ranks->ranks <= RANKS_COSTED || !is_deep(ranks);
}

/* What a state costs to one behind it, by that one's place. */
static void find_behind(struct ranks *ranks, int rank, size_t state, size_t next,
                        struct pieces *least) {
    struct pieces many[RANK_CLASSES_MOST];
    const double end = ranks->classes[next].along.hi + MARGIN;
    size_t count = 0;
    bool good = true;
    for (size_t last = 0; last < ranks->class_count && good; last++) {
        const struct pieces *costs = costs_of(ranks, rank, state, last);
        if (costs->count == 0)
            continue;
        many[count] = (struct pieces){.list = NULL};
        good = pieces_behind(costs, &ranks->behind[last][next], end, last, &many[count]);
        count++;
    }
    good = pieces_least(many, count, least) && good;
    ranks->failed = ranks->failed || !good;
}

/* One more behind a state. */
static void go_on(struct ranks *ranks, int rank, size_t state, size_t next) {
    const struct rank_class *class = &ranks->classes[next];
    struct pieces *costs = costs_of(ranks, rank, state + class->stride, next);
    struct pieces least = {.list = NULL};
    double at;
    find_behind(ranks, rank, state, next, &least);
    if (!pieces_sum(&least, &class->costs[rank], costs))
        ranks->failed = true;
    pieces_free(&least);
    double *lowest = &ranks->lowest[rank][state + class->stride];
    *lowest = length_lesser(*lowest, pieces_lowest(costs, &at));
    ranks->kept += costs->count;
    ranks->ended = ranks->ended || ranks->kept > PIECES_KEPT_MOST;
}

static bool stopped(struct ranks *ranks) {
    const bool asked = ranks->stop && ++ranks->looks % LOOK == 0;
    ranks->ended = ranks->ended || (asked && ranks->stop(ranks->subject));
    return ranks->failed || ranks->ended;
}

/* One of each class alone; then one more at a time. */
static void run(struct ranks *ranks, int rank) {
    double at;
    for (size_t state = 0; state < ranks->states; state++)
        ranks->lowest[rank][state] = state == 0 ? 0 : INFINITY;
    for (size_t c = 0; c < ranks->class_count && !ranks->failed; c++) {
        const struct rank_class *class = &ranks->classes[c];
        ranks->failed = !pieces_copy(&class->costs[rank], costs_of(ranks, rank, class->stride, c));
        ranks->lowest[rank][class->stride] = pieces_lowest(&class->costs[rank], &at);
    }
    for (size_t state = 1; state < ranks->states && !stopped(ranks); state++) {
        if (!(ranks->lowest[rank][state] < INFINITY))
            continue;
        for (size_t next = 0; next < ranks->class_count; next++)
            if (may_follow(ranks, state, next))
                go_on(ranks, rank, state, next);
    }
}

bool ranks_run(struct ranks *ranks) {
    if (ranks->ranks > RANKS_COSTED)
        return false;
    for (size_t rank = 0; rank < ranks->ranks && !ranks->failed; rank++) {
        ranks->costs[rank] = calloc(ranks->states * ranks->class_count, sizeof **ranks->costs);
        ranks->lowest[rank] = malloc(ranks->states * sizeof **ranks->lowest);
        ranks->failed = !ranks->costs[rank] || !ranks->lowest[rank];
        if (!ranks->failed)
            run(ranks, (int)rank);
    }
    return !stopped(ranks);
}

/* What those who are not in a state come to in the other rank. */
static double others_lowest(const struct ranks *ranks, int rank, size_t state) {
    const size_t left = ranks->states - 1 - state;
    if (ranks->ranks == 1)
        return left == 0 ? 0 : INFINITY;
    return ranks->lowest[RANK_UPPER - rank][left];
}

/* The last before one at x: its class, and the place at which it comes to least. */
static size_t find_before(const struct ranks *ranks, int rank, size_t state, size_t next, double x,
                          double *at) {
    double least = INFINITY;
    size_t found = 0;
    for (size_t last = 0; last < ranks->class_count; last++) {
        const struct pieces *costs = costs_of(ranks, rank, state, last);
        const struct behind *behind = &ranks->behind[last][next];
        for (size_t i = 0; i < costs->count; i++) {
            double place;
            const double value = piece_before(&costs->list[i], behind, x, &place);
            if (!(value < least))
                continue;
            least = value;
            found = last;
            *at = place;
        }
    }
    return found;
}

/* Those of a state, the last first. */
static void trace(const struct ranks *ranks, int rank, size_t state, struct rank_turns *turns) {
    double x = 0, least = INFINITY;
    size_t last = 0;
    for (size_t c = 0; c < ranks->class_count && state > 0; c++) {
        double at = 0;
        const double lowest = pieces_lowest(costs_of(ranks, rank, state, c), &at);
        if (!(lowest < least))
            continue;
        least = lowest;
        last = c;
        x = at;
    }
    while (state > 0) {
        double value;
        const struct piece *piece = pieces_at(&ranks->classes[last].costs[rank], x, NEAR, &value);
        turns->list[turns->count++] = (struct rank_turn){
            .class = last, .tag = piece ? piece->tag : 0, .x = x, .y = NAN, .rank = rank};
        state -= ranks->classes[last].stride;
        if (state > 0)
            last = find_before(ranks, rank, state, last, x, &x);
    }
}

double ranks_least(const struct ranks *ranks, struct rank_turns *turns) {
    const size_t all = ranks->states - 1;
    double least = INFINITY;
    size_t share = all;
    turns->count = 0;
    for (size_t state = 0; state < ranks->states; state++) {
        const double sum =
            ranks->lowest[RANK_LOWER][state] + others_lowest(ranks, RANK_LOWER, state);
        if (!(sum < least))
            continue;
        least = sum;
        share = state;
    }
    if (!(least < INFINITY))
        return least;
    trace(ranks, RANK_LOWER, share, turns);
    if (ranks->ranks > 1)
        trace(ranks, RANK_UPPER, all - share, turns);
    return least;
}

/* What is still to come once a state stands, by the place of the last: nothing more in this rank,
 * or one of a class behind it. */
static bool find_after(const struct ranks *ranks, int rank, size_t state, size_t last,
                       const struct pieces *after, struct pieces *least) {
    const struct interval along = {ranks->classes[last].along.lo - MARGIN,
                                   ranks->classes[last].along.hi + MARGIN};
    struct pieces many[RANK_CLASSES_MOST + 1];
    const double alone = others_lowest(ranks, rank, state);
    size_t count = 0;
    bool good = true;
    for (size_t next = 0; next < ranks->class_count && good; next++) {
        const struct rank_class *class = &ranks->classes[next];
        struct pieces both = {.list = NULL};
        if (!may_follow(ranks, state, next))
            continue;
        const struct pieces *then = &after[(state + class->stride) * ranks->class_count + next];
        many[count] = (struct pieces){.list = NULL};
        good = pieces_sum(&class->costs[rank], then, &both) &&
               pieces_ahead(&both, &ranks->behind[last][next], along.lo, &many[count]);
        count++;
        pieces_free(&both);
    }
    if (alone < INFINITY) {
        many[count] = (struct pieces){.list = NULL};
        good =
            pieces_add(&many[count], (struct piece){along.lo, along.hi, alone, alone, 0}) && good;
        count++;
    }
    return pieces_least(many, count, least) && good;
}

/* The least of what was known and of what all before and after one of a class come to. */
static bool add_rest(struct ranks *ranks, int rank, size_t state, size_t c,
                     const struct pieces *after, struct pieces *rest) {
    const size_t before = state - ranks->classes[c].stride;
    struct pieces led = {.list = NULL}, both = {.list = NULL}, least = {.list = NULL};
    bool good = true;
    if (before == 0) {
        good = pieces_copy(after, &both);
    } else {
        find_behind(ranks, rank, before, c, &led);
        good = !ranks->failed && pieces_sum(&led, after, &both);
    }
    good = good && pieces_lesser(rest, &both, &least);
    pieces_free(&led);
    pieces_free(&both);
    pieces_free(rest);
    *rest = least;
    return good;
}

static bool find_rest(struct ranks *ranks, int rank, struct pieces *after, struct pieces *rest) {
    bool good = true;
    for (size_t state = ranks->states - 1; state > 0 && good && !stopped(ranks); state--)
        for (size_t c = 0; c < ranks->class_count && good; c++) {
            struct pieces *own = &after[state * ranks->class_count + c];
            if (had(ranks, state, c) == 0 || costs_of(ranks, rank, state, c)->count == 0)
                continue;
            good = find_after(ranks, rank, state, c, after, own) &&
                   add_rest(ranks, rank, state, c, own, &rest[c]);
            ranks->kept += own->count;
            ranks->ended = ranks->ended || ranks->kept > 2 * PIECES_KEPT_MOST;
        }
    return good && !stopped(ranks);
}

bool ranks_rest(struct ranks *ranks, struct pieces rest[RANK_CLASSES_MOST]) {
    const size_t count = ranks->states * ranks->class_count;
    bool good = true;
    for (size_t rank = 0; rank < ranks->ranks && good; rank++) {
        struct pieces *after = calloc(count, sizeof *after);
        good = after && find_rest(ranks, (int)rank, after, rest);
        ranks->failed = ranks->failed || !after;
        for (size_t i = 0; i < count && after; i++)
            pieces_free(&after[i]);
        free(after);
    }
    return good;
}

void ranks_free(struct ranks *ranks) {
    for (int rank = 0; rank < RANK_COUNT; rank++) {
        for (size_t c = 0; c < ranks->class_count; c++)
            pieces_free(&ranks->classes[c].costs[rank]);
        for (size_t i = 0; ranks->costs[rank] && i < ranks->states * ranks->class_count; i++)
            pieces_free(&ranks->costs[rank][i]);
        free(ranks->costs[rank]);
        free(ranks->lowest[rank]);
    }
}
