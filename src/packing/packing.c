/* Branch and bound.  A node knows, of some pairs, which of four ways they are apart, and of every
 * bracket, which spots are left.  Two bounds hold there: each bracket on its own best spot; and all
 * of them in their orders, each anywhere between the outermost of its spots.  Where the brackets
 * that a bound puts somewhere do not get in each other's way and stand in spots, they are the best
 * packing of the node; otherwise what they violate is what the node is split by: a pair by its four
 * ways, a bracket's spots into those that reach over its place along the eave (up the slope) and
 * the others, or by their holes. */
#include "packing.h"

#include "node.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MANY = 12, CLOSE = 16 };

/* A packing that is better by less than this is not looked for. */
#define WORTH 1e-6

/* Of the pairs that are in each other's way, one with the fewest ways out, the deepest of them;
 * false where none is. */
static bool find_clash(const struct packing *packing, const struct places *places, size_t pair[2]) {
    double worst = SAME;
    size_t fewest = SIZE_MAX;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const double deep = packing_overlap(packing, places, a, b);
            if (deep <= SAME || packing->ways[a][b] != WAY_NONE)
                continue;
            const size_t ways = packing_ways(packing, a, b, &(enum way){WAY_NONE});
            if (ways > fewest || (ways == fewest && deep <= worst))
                continue;
            fewest = ways;
            worst = deep;
            pair[0] = a;
            pair[1] = b;
        }
    return fewest < SIZE_MAX;
}

/* Whether every pair stands as its order asks. */
static bool orders_hold(const struct packing *packing, const struct places *places) {
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        for (size_t i = 0; i < packing->axes[axis].order_count; i++) {
            const struct order *order = &packing->axes[axis].orders[i];
            if (places->at[axis][order->after] - places->at[axis][order->before] < order->by - SAME)
                return false;
        }
    return true;
}

static struct worth worth_of(const struct packing *packing, const struct places *places) {
    struct worth worth = {0, 0};
    if (packing->task->misses)
        worth.lack = packing_pairs_lack(packing, places) + packing_arms_lack(packing, places);
    for (size_t b = 0; b < packing->count; b++) {
        const struct spot *spot = &packing->piles[b].spots[places->spot[b]];
        const double x = places->at[ALONG][b], y = places->at[UP][b];
        worth.lack += packing_lack(&packing->task->parcels[b], spot, x, y);
        worth.cost += fabs(x - packing_want(packing, b, ALONG)) +
                      fabs(y - packing_want(packing, b, UP)) +
                      packing->task->hole_worth * (double)spot->holes;
    }
    return worth;
}

/* A packing: all brackets stand in spots and apart. */
static void take(struct packing *packing, const struct places *places) {
    const struct worth worth = worth_of(packing, places);
    if (packing->found && !packing_better(worth, packing->best_worth))
        return;
    packing->found = true;
    packing->best_worth = worth;
    for (size_t b = 0; b < packing->count; b++)
        packing->best[b] = (struct placed){.x = places->at[ALONG][b],
                                           .y = places->at[UP][b],
                                           .spot = packing->piles[b].spots[places->spot[b]]};
}

static bool over(struct packing *packing) {
    const struct packing_task *task = packing->task;
    const size_t often = packing->count > MANY ? 1 : PACKING_LOOK; /* nodes of many take long */
    if (task->stop && packing->nodes % often == 0 && task->stop(task->subject))
        packing->stopped = true;
    if (task->any && packing->nodes > task->most_nodes && task->most_nodes > 0)
        packing->stopped = true;
    return packing->stopped || (task->any && packing->found);
}

static void search(struct packing *packing);

/* The four ways of a pair, the one that asks for least first. */
static void split_pair(struct packing *packing, const struct places *places, const size_t pair[2]) {
    enum way ways[] = {WAY_AFTER, WAY_BEFORE, WAY_OVER, WAY_UNDER};
    for (size_t i = 0; i < 4; i++)
        for (size_t j = i + 1; j < 4; j++)
            if (packing_excess(packing, places, pair[0], pair[1], ways[j]) <
                packing_excess(packing, places, pair[0], pair[1], ways[i])) {
                const enum way way = ways[i];
                ways[i] = ways[j];
                ways[j] = way;
            }
    struct kept kept;
    packing_keep(packing, &kept);
    for (size_t i = 0; i < 4 && !over(packing); i++) {
        if (!packing_can(packing, pair[0], pair[1], ways[i]))
            continue;
        packing_settle(packing, pair[0], pair[1], ways[i]);
        search(packing);
        packing_put_back(packing, &kept);
    }
}

/* Spots of a bracket that do not reach as far as its own one does, and the others. */
static void split_reach(struct packing *packing, const struct reach *reach) {
    struct kept kept;
    packing_keep(packing, &kept);
    for (int far = 0; far < 2 && !over(packing); far++) {
        struct pile *pile = &packing->piles[reach->bracket];
        for (size_t i = pile->left; i-- > 0;)
            if (packing_reaches(packing, reach, &pile->spots[i]) != (far != 0))
                packing_drop(pile, i);
        search(packing);
        packing_put_back(packing, &kept);
    }
}

/* The four ways of two parts, the one that asks for least first; where theirs is known, spots that
 * still leave them in each other's way are told from others. */
static void split_crossing(struct packing *packing, const struct places *places,
                           const struct crossing *crossing) {
    enum way ways[] = {WAY_AFTER, WAY_BEFORE, WAY_OVER, WAY_UNDER};
    const struct parted *parted = packing_parted(packing, crossing);
    struct reach reach;
    if (parted && packing_find_reach(packing, places, parted, &reach)) {
        split_reach(packing, &reach);
        return;
    }
    if (parted) {
        packing->loose = true;
        return;
    }
    for (size_t i = 0; i < 4; i++)
        for (size_t j = i + 1; j < 4; j++)
            if (packing_cross_excess(packing, places, crossing, ways[j]) <
                packing_cross_excess(packing, places, crossing, ways[i])) {
                const enum way way = ways[i];
                ways[i] = ways[j];
                ways[j] = way;
            }
    struct kept kept;
    packing_keep(packing, &kept);
    for (size_t i = 0; i < 4 && !over(packing); i++) {
        if (packing_part(packing, crossing, ways[i]))
            search(packing);
        else
            packing->loose = true;
        packing_put_back(packing, &kept);
    }
}

/* A bracket before a place along an axis, and beyond it. */
static void split_at(struct packing *packing, size_t b, int axis, double at) {
    struct kept kept;
    packing_keep(packing, &kept);
    for (int beyond = 0; beyond < 2 && !over(packing); beyond++) {
        *(beyond ? &packing->axes[axis].lo[b] : &packing->axes[axis].hi[b]) = at;
        search(packing);
        packing_put_back(packing, &kept);
    }
}

/* Parts that lack more of being apart than the bound has of it; false where nothing is left to tell
 * apart. */
static bool split_lacking(struct packing *packing, const struct places *places,
                          const struct crossing *crossing) {
    const struct parted *parted = packing_parted(packing, crossing);
    struct reach reach;
    size_t b = 0;
    double at = 0;
    if (!parted || packing_find_reach(packing, places, parted, &reach))
        split_crossing(packing, places, crossing);
    else if (packing_find_turn(packing, parted, &b, &at))
        split_at(packing, b, packing_axis(parted->way), at);
    else
        return false;
    return true;
}

/* What a bracket's spots are split by. */
struct cut {
    bool by_holes;
    size_t holes;
    int axis;
    double at;
};

static bool on_first_side(const struct spot *spot, const struct cut *cut) {
    if (cut->by_holes)
        return spot->holes <= cut->holes;
    const struct interval side = packing_side(spot, cut->axis);
    return side.lo - SAME <= cut->at && cut->at <= side.hi + SAME;
}

/* Both parts, one after the other. */
static void split_pile(struct packing *packing, size_t b, const struct cut *cut) {
    struct kept kept;
    packing_keep(packing, &kept);
    for (int first = 1; first >= 0 && !over(packing); first--) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if (on_first_side(&pile->spots[i], cut) != (first != 0))
                packing_drop(pile, i);
        search(packing);
        packing_put_back(packing, &kept);
    }
}

/* Spots to one side of the place along an axis, and to the other: none reaches over it. */
static void split_apart(struct packing *packing, size_t b, int axis, double at) {
    struct kept kept;
    packing_keep(packing, &kept);
    for (int low = 0; low < 2 && !over(packing); low++) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if ((packing_side(&pile->spots[i], axis).lo < at) != (low != 0))
                packing_drop(pile, i);
        search(packing);
        packing_put_back(packing, &kept);
    }
}

/* Spots that lack less than `at` at the least, and the others. */
static void split_lacks(struct packing *packing, size_t b, double at) {
    struct kept kept;
    packing_keep(packing, &kept);
    for (int less = 1; less >= 0 && !over(packing); less--) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if ((packing_least_lack(packing, b, &pile->spots[i]) < at) != (less != 0))
                packing_drop(pile, i);
        search(packing);
        packing_put_back(packing, &kept);
    }
}

/* Spots that lack alike along an axis, and the others. */
static void split_alike(struct packing *packing, size_t b, int axis, const struct lack *lack) {
    struct kept kept;
    packing_keep(packing, &kept);
    for (int alike = 1; alike >= 0 && !over(packing); alike--) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if (lack_same(pile->spots[i].miss->held[axis], lack) != (alike != 0))
                packing_drop(pile, i);
        search(packing);
        packing_put_back(packing, &kept);
    }
}

/* A bracket lacks more in its spot than the bound has it: what is bounded too low is told apart. */
static void split_missing(struct packing *packing, const struct places *places, size_t b) {
    const struct pile *pile = &packing->piles[b];
    const struct spot own = pile->spots[places->spot[b]];
    double least = INFINITY, most = -INFINITY;
    for (size_t i = 0; i < pile->left; i++) {
        const double lack = packing_least_lack(packing, b, &pile->spots[i]);
        least = length_lesser(least, lack);
        most = length_greater(most, lack);
    }
    if (most > least + LACK_SAME) {
        split_lacks(packing, b, (least + most) / 2);
        return;
    }
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        for (size_t i = 0; i < pile->left; i++)
            if (!lack_same(pile->spots[i].miss->held[axis], own.miss->held[axis])) {
                split_alike(packing, b, axis, own.miss->held[axis]);
                return;
            }
    packing->loose = true;
}

/* Splits the spots of a bracket that does not stand in one along one of the axes. */
static bool split_along(struct packing *packing, const struct places *places, size_t b) {
    const struct pile *pile = &packing->piles[b];
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        const struct cut cut = {.axis = axis, .at = places->at[axis][b]};
        size_t over_it = 0;
        for (size_t i = 0; i < pile->left; i++)
            over_it += on_first_side(&pile->spots[i], &cut);
        if (over_it == pile->left)
            continue;
        if (over_it == 0)
            split_apart(packing, b, axis, cut.at);
        else
            split_pile(packing, b, &cut);
        return true;
    }
    return false;
}

/* Splits the spots of the first bracket that does not stand in one, or not in one of the fewest
 * holes; of one that lacks more than the bound says; nothing where all is as bounded. */
static void split_spots(struct packing *packing, const struct places *places) {
    for (size_t b = 0; b < packing->count; b++)
        if (places->spot[b] == NO_SPOT && split_along(packing, places, b))
            return;
    for (size_t b = 0; b < packing->count && packing->task->misses; b++) {
        const struct spot *spot = &packing->piles[b].spots[places->spot[b]];
        const double lack =
            packing_lack(&packing->task->parcels[b], spot, places->at[ALONG][b], places->at[UP][b]);
        if (lack > places->lack[b] + LACK_SAME / (double)(2 * packing->count)) {
            split_missing(packing, places, b);
            return;
        }
    }
    for (size_t b = 0; b < packing->count && !packing->task->any; b++) {
        const struct pile *pile = &packing->piles[b];
        const size_t least = packing_least_holes(pile);
        if (pile->spots[places->spot[b]].holes == least)
            continue;
        split_pile(packing, b, &(struct cut){.by_holes = true, .holes = least});
        return;
    }
}

static bool hopeless(const struct packing *packing, const struct places *places) {
    const struct worth *best = &packing->best_worth, *bound = &places->worth;
    if (!packing->found || packing->task->any || !places->bounds)
        return false;
    return bound->lack > best->lack + LACK_SAME ||
           (bound->lack > best->lack - LACK_SAME && bound->cost > best->cost - WORTH);
}

/* Whether the places are worth what the bound says. */
static bool as_good_as_bound(const struct packing *packing, const struct places *places) {
    return !packing->task->misses ||
           worth_of(packing, places).lack <= places->worth.lack + LACK_SAME / 2;
}

static void place_alone(struct packing *packing, struct places *places) {
    if (packing->task->misses)
        packing_place_missing(packing, places);
    else
        packing_place_alone(packing, places);
}

static void search(struct packing *packing) {
    struct places places;
    size_t pair[2] = {0, 0};
    struct crossing crossing;
    packing->nodes++;
    if (over(packing) || !packing_narrow(packing))
        return;
    place_alone(packing, &places);
    if (hopeless(packing, &places))
        return;
    if (find_clash(packing, &places, pair)) {
        split_pair(packing, &places, pair);
        return;
    }
    if (orders_hold(packing, &places) && !packing_crossed(packing, &places, &crossing)) {
        take(packing, &places);
        if (as_good_as_bound(packing, &places))
            return;
    }
    packing_place_in_order(packing, &places);
    if (hopeless(packing, &places))
        return;
    if (find_clash(packing, &places, pair)) {
        split_pair(packing, &places, pair);
        return;
    }
    bool all_in_spots = true;
    for (size_t b = 0; b < packing->count; b++)
        all_in_spots = all_in_spots && places.spot[b] != NO_SPOT;
    if (all_in_spots && packing_crossed(packing, &places, &crossing)) {
        split_crossing(packing, &places, &crossing);
        return;
    }
    if (all_in_spots)
        take(packing, &places);
    if (all_in_spots && packing->task->misses && packing_lacking(packing, &places, &crossing) &&
        split_lacking(packing, &places, &crossing))
        return;
    split_spots(packing, &places);
}

static bool same_arms(const struct parcel *a, const struct parcel *b) {
    return (a->arms ? a->arms->list : NULL) == (b->arms ? b->arms->list : NULL);
}

/* Where any packing will do, brackets that can be exchanged stand in their order along the eave. */
static void begin_twins(struct packing *packing) {
    size_t last[ROOF_BRACKETS_MOST]; /* of those that can be exchanged for the same one */
    for (size_t b = 0; b < packing->count; b++) {
        const struct parcel *own = &packing->task->parcels[b];
        packing->twin[b] = last[b] = b;
        const bool alike = packing->task->any && !packing->task->wider;
        for (size_t a = 0; a < b && packing->twin[b] == b && alike; a++) {
            const struct parcel *other = &packing->task->parcels[a];
            if (own->spots == other->spots && own->spot_count == other->spot_count &&
                own->width == other->width && own->height == other->height &&
                own->room == other->room && same_arms(own, other))
                packing->twin[b] = packing->twin[a];
        }
        const size_t first = packing->twin[b];
        if (first == b)
            continue;
        struct spread *along = &packing->axes[ALONG];
        along->orders[along->order_count++] = (struct order){.before = last[first], .after = b};
        last[first] = b;
    }
}

static bool begin(struct packing *packing, const struct packing_task *task, struct placed *placed) {
    memset(packing, 0, sizeof *packing);
    packing->task = task;
    packing->count = task->count;
    packing->best = placed;
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        packing->axes[axis].count = task->count;
    for (size_t b = 0; b < task->count; b++) {
        const struct parcel *parcel = &task->parcels[b];
        struct pile *pile = &packing->piles[b];
        pile->spots = malloc((parcel->spot_count + 1) * sizeof *pile->spots);
        if (!pile->spots)
            return false;
        if (parcel->spot_count > 0)
            memcpy(pile->spots, parcel->spots, parcel->spot_count * sizeof *pile->spots);
        pile->left = parcel->spot_count;
        for (int axis = 0; axis < AXIS_COUNT; axis++) {
            packing->axes[axis].lo[b] = -ROOF_ENDLESS;
            packing->axes[axis].hi[b] = ROOF_ENDLESS;
            packing->axes[axis].want[b] = packing_want(packing, b, axis);
        }
    }
    begin_twins(packing);
    return true;
}

enum outcome packing_find(const struct packing_task *task, enum packing_end *end,
                          struct placed *placed, struct worth *worth, struct worth *bound) {
    struct packing *packing = malloc(sizeof *packing);
    if (!packing)
        return OUTCOME_FAULT;
    const bool good = begin(packing, task, placed);
    if (good) {
        struct places places;
        *bound = (struct worth){INFINITY, INFINITY};
        if (packing_narrow(packing) && !packing_too_many(packing)) {
            place_alone(packing, &places);
            *bound = places.worth;
            /* Of a few the search soon finds better ones than those close to a corner. */
            const int last = packing->count > CLOSE ? GREED_COLUMNS : GREED_WISH;
            for (int greed = GREED_WISH; greed <= last && !packing->found; greed++)
                if (packing_greedy(packing, (enum greed)greed, &places))
                    take(packing, &places);
            search(packing);
        }
        if (packing->found)
            packing_set_lines(packing, placed);
        *worth = packing->best_worth;
        const bool cut_short = packing->stopped || packing->loose;
        *end = packing->found ? (cut_short ? PACKING_FOUND : PACKING_PROVED)
                              : (cut_short ? PACKING_UNDECIDED : PACKING_NONE);
        if (*end == PACKING_PROVED && !task->any)
            *bound = *worth;
    }
    for (size_t b = 0; b < task->count; b++)
        free(packing->piles[b].spots);
    free(packing);
    return good ? OUTCOME_DONE : OUTCOME_FAULT;
}
