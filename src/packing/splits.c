/* What a node is split by.  Every split leaves out something that is in no spot, overlaps or is
 * worth less than the bound has it, and nothing else. */
#include "node.h"

#include "length.h"

#include <math.h>

enum { WAYS = WAY_UNDER };

/* All four, the one that asks for least first; excess[] by way. */
static void sort_ways(const double excess[WAYS + 1], enum way ways[WAYS]) {
    for (int i = 0; i < WAYS; i++)
        ways[i] = (enum way)(WAY_AFTER + i);
    for (int i = 0; i < WAYS; i++)
        for (int j = i + 1; j < WAYS; j++)
            if (excess[ways[j]] < excess[ways[i]]) {
                const enum way way = ways[i];
                ways[i] = ways[j];
                ways[j] = way;
            }
}

void packing_split_pair(struct packing *packing, const struct places *places,
                        const size_t pair[2]) {
    double excess[WAYS + 1] = {0};
    enum way ways[WAYS];
    struct kept kept;
    for (int way = WAY_AFTER; way <= WAY_UNDER; way++)
        excess[way] = packing_excess(packing, places, pair[0], pair[1], (enum way)way);
    sort_ways(excess, ways);
    if (!packing_keep(packing, &kept))
        return;
    for (size_t i = 0; i < WAYS && !packing_over(packing); i++) {
        if (!packing_can(packing, pair[0], pair[1], ways[i]))
            continue;
        packing_settle(packing, pair[0], pair[1], ways[i]);
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

/* Two parts by their ways. */
static void split_parts(struct packing *packing, const struct places *places,
                        const struct crossing *crossing) {
    double excess[WAYS + 1] = {0};
    enum way ways[WAYS];
    struct kept kept;
    for (int way = WAY_AFTER; way <= WAY_UNDER; way++)
        excess[way] = packing_cross_excess(packing, places, crossing, (enum way)way);
    sort_ways(excess, ways);
    if (!packing_keep(packing, &kept))
        return;
    for (size_t i = 0; i < WAYS && !packing_over(packing); i++) {
        if (packing_part(packing, crossing, ways[i]))
            packing_search(packing);
        else
            packing_leave(packing, NULL);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

/* What tells the spots of a bracket apart: some are in, the others are not. */
struct split {
    size_t bracket;
    bool (*is_in)(const struct packing *packing, const struct split *split,
                  const struct spot *spot);
    bool in_last; /* otherwise those that are in come first */
    int axis;
    double at;
    size_t holes;
    const struct lack *lack;
    const struct reach *reach;
    const struct miss *miss;
};

/* Both kinds, one after the other. */
static void split_by(struct packing *packing, const struct split *split) {
    struct kept kept;
    if (!packing_keep(packing, &kept))
        return;
    for (int second = 0; second < 2 && !packing_over(packing); second++) {
        struct pile *pile = &packing->piles[split->bracket];
        const bool in = split->in_last == (second != 0);
        for (size_t i = pile->left; i-- > 0;)
            if (split->is_in(packing, split, &pile->spots[i]) != in &&
                !packing_drop(packing, split->bracket, i))
                break;
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

static bool reaches(const struct packing *packing, const struct split *split,
                    const struct spot *spot) {
    return packing_reaches(packing, split->reach, spot);
}

static bool spans(const struct packing *packing, const struct split *split,
                  const struct spot *spot) {
    (void)packing;
    const struct interval side = packing_side(spot, split->axis);
    return side.lo - SAME <= split->at && split->at <= side.hi + SAME;
}

static bool begins_below(const struct packing *packing, const struct split *split,
                         const struct spot *spot) {
    (void)packing;
    return packing_side(spot, split->axis).lo < split->at;
}

static bool has_few_holes(const struct packing *packing, const struct split *split,
                          const struct spot *spot) {
    (void)packing;
    return spot->holes <= split->holes;
}

static bool lacks_less(const struct packing *packing, const struct split *split,
                       const struct spot *spot) {
    return packing_least_lack(packing, split->bracket, spot) < split->at;
}

static bool lacks_alike(const struct packing *packing, const struct split *split,
                        const struct spot *spot) {
    (void)packing;
    return lack_same(spot->miss->held[split->axis], split->lack);
}

static bool misses_so(const struct packing *packing, const struct split *split,
                      const struct spot *spot) {
    (void)packing;
    return spot->miss == split->miss;
}

/* Spots that still leave two parts in each other's way, though theirs is known, and others; false
 * where all reach as far. */
static bool split_reach(struct packing *packing, const struct places *places,
                        const struct parted *parted) {
    struct reach reach;
    if (!packing_find_reach(packing, places, parted, &reach))
        return false;
    split_by(packing,
             &(struct split){
                 .bracket = reach.bracket, .is_in = reaches, .in_last = true, .reach = &reach});
    return true;
}

void packing_split_crossing(struct packing *packing, const struct places *places,
                            const struct crossing *crossing) {
    const struct parted *parted = packing_parted(packing, crossing);
    if (!parted)
        split_parts(packing, places, crossing);
    else if (!split_reach(packing, places, parted))
        packing_leave(packing, places);
}

/* A bracket before a place along an axis, and beyond it. */
static void split_at(struct packing *packing, size_t b, int axis, double at) {
    struct kept kept;
    if (!packing_keep(packing, &kept))
        return;
    for (int beyond = 0; beyond < 2 && !packing_over(packing); beyond++) {
        *(beyond ? &packing->axes[axis].lo[b] : &packing->axes[axis].hi[b]) = at;
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

bool packing_split_lacking(struct packing *packing, const struct places *places,
                           const struct crossing *crossing) {
    const struct parted *parted = packing_parted(packing, crossing);
    size_t b = 0;
    double at = 0;
    if (!parted) {
        split_parts(packing, places, crossing);
        return true;
    }
    for (size_t i = 0; i <= packing->parted_count; i++) {
        const struct parted *own = i > 0 ? &packing->parted[i - 1] : parted;
        if (split_reach(packing, places, own))
            return true;
        if (!packing_find_turn(packing, own, &b, &at))
            continue;
        split_at(packing, b, packing_axis(own->way), at);
        return true;
    }
    return false;
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
        split_by(packing,
                 &(struct split){.bracket = b, .is_in = lacks_less, .at = (least + most) / 2});
        return;
    }
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        for (size_t i = 0; i < pile->left; i++)
            if (!lack_same(pile->spots[i].miss->held[axis], own.miss->held[axis])) {
                split_by(packing, &(struct split){.bracket = b,
                                                  .is_in = lacks_alike,
                                                  .axis = axis,
                                                  .lack = own.miss->held[axis]});
                return;
            }
    packing_leave(packing, places);
}

/* Splits the spots of a bracket that does not stand in one along one of the axes. */
static bool split_along(struct packing *packing, const struct places *places, size_t b) {
    const struct pile *pile = &packing->piles[b];
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        struct split split = {
            .bracket = b, .is_in = spans, .axis = axis, .at = places->at[axis][b]};
        size_t over_it = 0;
        for (size_t i = 0; i < pile->left; i++)
            over_it += spans(packing, &split, &pile->spots[i]);
        if (over_it == pile->left)
            continue;
        if (over_it == 0) { /* to one side of the place, and to the other */
            split.is_in = begins_below;
            split.in_last = true;
        }
        split_by(packing, &split);
        return true;
    }
    return false;
}

/* Splits the spots of the first bracket that does not stand in one, or not in one of the fewest
 * holes; of one that lacks more than the bound says; false where all is as bounded. */
bool packing_split_spots(struct packing *packing, const struct places *places) {
    for (size_t b = 0; b < packing->count; b++)
        if (places->spot[b] == NO_SPOT && split_along(packing, places, b))
            return true;
    for (size_t b = 0; b < packing->count && packing->task->misses; b++) {
        const struct spot *spot = &packing->piles[b].spots[places->spot[b]];
        const double lack =
            packing_lack(&packing->task->parcels[b], spot, places->at[ALONG][b], places->at[UP][b]);
        if (lack > places->lack[b] + LACK_SAME / (double)(2 * packing->count)) {
            split_missing(packing, places, b);
            return true;
        }
    }
    for (size_t b = 0; b < packing->count && !packing->task->any; b++) {
        const struct pile *pile = &packing->piles[b];
        const size_t least = packing_least_holes(pile);
        if (pile->spots[places->spot[b]].holes == least)
            continue;
        split_by(packing, &(struct split){.bracket = b, .is_in = has_few_holes, .holes = least});
        return true;
    }
    return false;
}

bool packing_split_misses(struct packing *packing, const struct places *places) {
    for (size_t b = 0; b < packing->count; b++) {
        const struct pile *pile = &packing->piles[b];
        const struct miss *own = pile->spots[places->spot[b]].miss;
        for (size_t i = 0; i < pile->left; i++)
            if (pile->spots[i].miss != own) {
                split_by(packing, &(struct split){.bracket = b, .is_in = misses_so, .miss = own});
                return true;
            }
    }
    return false;
}
