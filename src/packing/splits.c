/* What a node is split by.  Every split leaves out something that is in no spot, overlaps or is
 * worth less than the bound has it, and nothing else. */
#include "node.h"

#include "length.h"

#include <math.h>

/* The four ways of a pair, the one that asks for least first. */
void packing_split_pair(struct packing *packing, const struct places *places,
                        const size_t pair[2]) {
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
    if (!packing_keep(packing, &kept))
        return;
    for (size_t i = 0; i < 4 && !packing_over(packing); i++) {
        if (!packing_can(packing, pair[0], pair[1], ways[i]))
            continue;
        packing_settle(packing, pair[0], pair[1], ways[i]);
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

/* Spots of a bracket that do not reach as far as its own one does, and the others. */
static void split_reach(struct packing *packing, const struct reach *reach) {
    struct kept kept;
    if (!packing_keep(packing, &kept))
        return;
    for (int far = 0; far < 2 && !packing_over(packing); far++) {
        struct pile *pile = &packing->piles[reach->bracket];
        for (size_t i = pile->left; i-- > 0;)
            if (packing_reaches(packing, reach, &pile->spots[i]) != (far != 0))
                packing_drop(pile, i);
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

/* The four ways of two parts, the one that asks for least first; where theirs is known, spots that
 * still leave them in each other's way are told from others. */
void packing_split_crossing(struct packing *packing, const struct places *places,
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
    if (!packing_keep(packing, &kept))
        return;
    for (size_t i = 0; i < 4 && !packing_over(packing); i++) {
        if (packing_part(packing, crossing, ways[i]))
            packing_search(packing);
        else
            packing->loose = true;
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
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

/* Parts that lack more of being apart than the bound has of it; false where nothing is left to tell
 * apart. */
bool packing_split_lacking(struct packing *packing, const struct places *places,
                           const struct crossing *crossing) {
    const struct parted *parted = packing_parted(packing, crossing);
    struct reach reach;
    size_t b = 0;
    double at = 0;
    if (!parted || packing_find_reach(packing, places, parted, &reach))
        packing_split_crossing(packing, places, crossing);
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
    if (!packing_keep(packing, &kept))
        return;
    for (int first = 1; first >= 0 && !packing_over(packing); first--) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if (on_first_side(&pile->spots[i], cut) != (first != 0))
                packing_drop(pile, i);
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

/* Spots to one side of the place along an axis, and to the other: none reaches over it. */
static void split_apart(struct packing *packing, size_t b, int axis, double at) {
    struct kept kept;
    if (!packing_keep(packing, &kept))
        return;
    for (int low = 0; low < 2 && !packing_over(packing); low++) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if ((packing_side(&pile->spots[i], axis).lo < at) != (low != 0))
                packing_drop(pile, i);
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

/* Spots that lack less than `at` at the least, and the others. */
static void split_lacks(struct packing *packing, size_t b, double at) {
    struct kept kept;
    if (!packing_keep(packing, &kept))
        return;
    for (int less = 1; less >= 0 && !packing_over(packing); less--) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if ((packing_least_lack(packing, b, &pile->spots[i]) < at) != (less != 0))
                packing_drop(pile, i);
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
}

/* Spots that lack alike along an axis, and the others. */
static void split_alike(struct packing *packing, size_t b, int axis, const struct lack *lack) {
    struct kept kept;
    if (!packing_keep(packing, &kept))
        return;
    for (int alike = 1; alike >= 0 && !packing_over(packing); alike--) {
        struct pile *pile = &packing->piles[b];
        for (size_t i = pile->left; i-- > 0;)
            if (lack_same(pile->spots[i].miss->held[axis], lack) != (alike != 0))
                packing_drop(pile, i);
        packing_search(packing);
        packing_put_back(packing, &kept);
    }
    packing_release(&kept);
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
void packing_split_spots(struct packing *packing, const struct places *places) {
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
