/* Parts that are settled to be apart in one way: what that leaves of bounds and spots. */
#include "parts.h"

#include "length.h"

#include <math.h>

static bool same_crossing(const struct crossing *a, const struct crossing *b) {
    bool same = true;
    for (int i = 0; i < 2; i++)
        same = same && a->bracket[i] == b->bracket[i] && a->kind[i] == b->kind[i] &&
               a->row[i] == b->row[i];
    return same;
}

const struct parted *packing_parted(const struct packing *packing,
                                    const struct crossing *crossing) {
    for (size_t i = 0; i < packing->parted_count; i++)
        if (same_crossing(&packing->parted[i].crossing, crossing))
            return &packing->parted[i];
    return NULL;
}

bool packing_part(struct packing *packing, const struct crossing *crossing, enum way way) {
    if (packing->parted_count == PARTED_MOST)
        return false;
    packing->parted[packing->parted_count++] =
        (struct parted){.crossing = *crossing, .way = way, .by = -INFINITY};
    return true;
}

struct end parts_mildest(const struct packing *packing, const struct crossing *crossing, int which,
                         int axis, bool high, enum drawing drawing) {
    const struct pile *pile = &packing->piles[crossing->bracket[which]];
    struct end mildest = {0, 0};
    for (size_t i = 0; i < pile->left; i++) {
        const struct end end =
            parts_end(packing->task, crossing, which, &pile->spots[i], axis, high, drawing);
        if (i == 0)
            mildest = end;
        mildest.fixed = high ? length_lesser(mildest.fixed, end.fixed)
                             : length_greater(mildest.fixed, end.fixed);
        mildest.rel =
            high ? length_lesser(mildest.rel, end.rel) : length_greater(mildest.rel, end.rel);
    }
    return mildest;
}

double parts_least_worth(const struct packing *packing, const struct crossing *crossing, int which,
                         int axis, bool high) {
    const struct pile *pile = &packing->piles[crossing->bracket[which]];
    double least = INFINITY;
    for (size_t i = 0; i < pile->left && crossing->kind[which] != PART_BOX; i++)
        least = length_lesser(
            least, parts_worth(packing->task, crossing, which, &pile->spots[i], axis, high));
    return least;
}

/* Spots of one of both whose end, even where the bracket had best stand, is beyond `limit`. */
static void drop_beyond(struct packing *packing, const struct crossing *crossing, int which,
                        int axis, bool high, double limit, bool *moved) {
    const size_t b = crossing->bracket[which];
    const struct spread *spread = &packing->axes[axis];
    struct pile *pile = &packing->piles[b];
    for (size_t i = pile->left; i-- > 0;) {
        const struct spot *spot = &pile->spots[i];
        const struct interval side = packing_side(spot, axis);
        const struct end end =
            parts_end(packing->task, crossing, which, spot, axis, high, DRAWN_HARD);
        const double at = high ? length_greater(side.lo, spread->lo[b]) + end.rel
                               : length_lesser(side.hi, spread->hi[b]) + end.rel;
        const double reach = high ? length_greater(end.fixed, at) : length_lesser(end.fixed, at);
        if (high ? reach <= limit + SAME : reach >= limit - SAME)
            continue;
        if (packing_drop(packing, b, i))
            *moved = true;
    }
}

/* The order that the ends that go with both brackets ask for, where it asks for more than before.
 */
static bool order_parts(struct packing *packing, struct parted *parted, double by) {
    struct spread *spread = &packing->axes[packing_axis(parted->way)];
    const int first = parts_first(parted->way);
    if (!(by > -INFINITY) || by <= parted->by + SAME)
        return true;
    if (spread->order_count == ORDERS_MOST)
        return false;
    spread->orders[spread->order_count++] =
        (struct order){.before = parted->crossing.bracket[first],
                       .after = parted->crossing.bracket[1 - first],
                       .by = by,
                       .rather = by};
    parted->by = by;
    return true;
}

static bool narrow_one(struct packing *packing, struct parted *parted, bool *moved) {
    const struct crossing *crossing = &parted->crossing;
    const int axis = packing_axis(parted->way), first = parts_first(parted->way),
              second = 1 - first;
    struct spread *spread = &packing->axes[axis];
    const size_t u = crossing->bracket[first], v = crossing->bracket[second];
    const double gap = parts_gap(packing->task, crossing);
    const struct end high = parts_mildest(packing, crossing, first, axis, true, DRAWN_HARD);
    const struct end low = parts_mildest(packing, crossing, second, axis, false, DRAWN_HARD);
    const double lo = high.fixed + gap - low.rel, hi = low.fixed - gap - high.rel;
    if (high.fixed + gap > low.fixed + SAME)
        return false;
    *moved = *moved || lo > spread->lo[v] + SAME || hi < spread->hi[u] - SAME;
    spread->lo[v] = length_greater(spread->lo[v], lo);
    spread->hi[u] = length_lesser(spread->hi[u], hi);
    const double before = parted->by;
    if (!order_parts(packing, parted, high.rel + gap - low.rel))
        packing_leave(packing, NULL);
    *moved = *moved || parted->by > before;
    drop_beyond(packing, crossing, first, axis, true,
                length_lesser(low.fixed, spread->hi[v] + low.rel) - gap, moved);
    drop_beyond(packing, crossing, second, axis, false,
                length_greater(high.fixed, spread->lo[u] + high.rel) + gap, moved);
    return packing->piles[u].left > 0 && packing->piles[v].left > 0;
}

bool packing_narrow_parted(struct packing *packing, bool *moved) {
    for (size_t i = 0; i < packing->parted_count; i++)
        if (!narrow_one(packing, &packing->parted[i], moved))
            return false;
    return true;
}

bool packing_find_turn(const struct packing *packing, const struct parted *parted, size_t *bracket,
                       double *at) {
    const int axis = packing_axis(parted->way), first = parts_first(parted->way);
    const struct spread *spread = &packing->axes[axis];
    for (int i = 0; i < 4; i++) {
        const int which = i % 2 == 0 ? first : 1 - first;
        const enum drawing drawing = i / 2 == 0 ? DRAWN_FREE : DRAWN_HARD;
        const struct end end =
            parts_mildest(packing, &parted->crossing, which, axis, i % 2 == 0, drawing);
        const size_t b = parted->crossing.bracket[which];
        *bracket = b;
        *at = end.fixed - end.rel;
        if (*at > spread->lo[b] + SAME && *at < spread->hi[b] - SAME)
            return true;
    }
    return false;
}

static double figure_of(const struct end *end, bool fixed) {
    return fixed ? end->fixed : end->rel;
}

bool packing_reaches(const struct packing *packing, const struct reach *reach,
                     const struct spot *spot) {
    const struct crossing crossing = {
        .bracket = {reach->bracket}, .kind = {(int)reach->kind}, .row = {(int)reach->row}};
    const struct end end =
        parts_end(packing->task, &crossing, 0, spot, reach->axis, reach->high, reach->drawing);
    const double at = figure_of(&end, reach->fixed);
    return reach->high ? at >= reach->at - SAME : at <= reach->at + SAME;
}

bool packing_find_reach(const struct packing *packing, const struct places *places,
                        const struct parted *parted, struct reach *reach) {
    const int first = parts_first(parted->way);
    for (int i = 0; i < 8; i++) {
        const int which = i / 4 == 0 ? first : 1 - first;
        const size_t b = parted->crossing.bracket[which];
        const struct pile *pile = &packing->piles[b];
        *reach = (struct reach){.bracket = b,
                                .kind = (enum part)parted->crossing.kind[which],
                                .row = (enum row)parted->crossing.row[which],
                                .axis = packing_axis(parted->way),
                                .high = which == first,
                                .fixed = i / 2 % 2 == 0,
                                .drawing = (enum drawing)(i % 2)};
        const struct end own =
            parts_end(packing->task, &parted->crossing, which, &pile->spots[places->spot[b]],
                      reach->axis, reach->high, reach->drawing);
        reach->at = figure_of(&own, reach->fixed);
        for (size_t s = 0; s < pile->left; s++)
            if (!packing_reaches(packing, reach, &pile->spots[s]))
                return true;
    }
    return false;
}
