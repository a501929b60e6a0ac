#include "node.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct clipped state_of(const struct packing *packing, size_t b) {
    struct clipped state = {.left = packing->piles[b].left};
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        state.lo[axis] = packing->axes[axis].lo[b];
        state.hi[axis] = packing->axes[axis].hi[b];
    }
    return state;
}

bool packing_keep(struct packing *packing, struct kept *kept) {
    const size_t brackets = packing->count * sizeof *kept->brackets;
    *kept = (struct kept){.settled = packing->settled_count, .parted = packing->parted_count};
    kept->brackets = malloc(brackets + kept->parted * sizeof *kept->by);
    if (!kept->brackets) {
        packing->failed = packing->stopped = true;
        return false;
    }
    kept->by = (double *)(void *)&kept->brackets[packing->count];
    for (size_t b = 0; b < packing->count; b++) {
        kept->brackets[b].now = state_of(packing, b);
        kept->brackets[b].clipped = packing->clipped[b];
    }
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        kept->orders[axis] = packing->axes[axis].order_count;
    for (size_t i = 0; i < kept->parted; i++)
        kept->by[i] = packing->parted[i].by;
    return true;
}

void packing_put_back(struct packing *packing, const struct kept *kept) {
    for (size_t b = 0; b < packing->count; b++) {
        const struct kept_bracket *own = &kept->brackets[b];
        packing->piles[b].left = own->now.left;
        packing->clipped[b] = own->clipped;
        for (int axis = 0; axis < AXIS_COUNT; axis++) {
            packing->axes[axis].lo[b] = own->now.lo[axis];
            packing->axes[axis].hi[b] = own->now.hi[axis];
        }
    }
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        packing->axes[axis].order_count = kept->orders[axis];
    packing->parted_count = kept->parted;
    for (size_t i = 0; i < kept->parted; i++)
        packing->parted[i].by = kept->by[i];
    while (packing->settled_count > kept->settled) {
        const uint8_t *pair = packing->settled[--packing->settled_count];
        packing->ways[pair[0]][pair[1]] = WAY_NONE;
    }
}

void packing_release(struct kept *kept) {
    free(kept->brackets);
}

struct interval packing_side(const struct spot *spot, int axis) {
    return axis == ALONG ? spot->x : spot->y;
}

/* Lists may be long and brackets alike: each has its own only where that is another one. */
static bool have_own(struct packing *packing, size_t b) {
    struct pile *pile = &packing->piles[b];
    const size_t count = packing->task->parcels[b].spot_count;
    if (pile->own)
        return true;
    pile->own = malloc((count + 1) * sizeof *pile->own);
    if (!pile->own) {
        packing->failed = packing->stopped = true;
        return false;
    }
    memcpy(pile->own, pile->spots, count * sizeof *pile->own);
    pile->spots = pile->own;
    return true;
}

bool packing_drop(struct packing *packing, size_t b, size_t i) {
    struct pile *pile = &packing->piles[b];
    const size_t last = pile->left - 1;
    if (i != last) {
        if (!have_own(packing, b))
            return false;
        const struct spot dropped = pile->own[i];
        pile->own[i] = pile->own[last];
        pile->own[last] = dropped;
    }
    pile->left = last;
    return true;
}

static bool outside(struct interval side, double lo, double hi) {
    return side.lo > hi + SAME || side.hi < lo - SAME;
}

/* Draws the bounds of a bracket along an axis in to what its spots leave. */
static void draw_in(struct packing *packing, size_t b, int axis, struct interval left,
                    bool *moved) {
    double *lo = &packing->axes[axis].lo[b], *hi = &packing->axes[axis].hi[b];
    *moved = *moved || left.lo > *lo + SAME || left.hi < *hi - SAME;
    *lo = length_greater(*lo, left.lo);
    *hi = length_lesser(*hi, left.hi);
    if (*lo > *hi) /* by a rounding */
        *lo = *hi = (*lo + *hi) / 2;
}

/* Drops the spots outside the bounds and draws the bounds in to the rest; false where none is left.
 * *moved: the bounds were drawn in. */
static bool clip_all(struct packing *packing, size_t b, bool *moved) {
    struct pile *pile = &packing->piles[b];
    const struct clipped now = state_of(packing, b);
    struct interval x = {INFINITY, -INFINITY}, y = {INFINITY, -INFINITY};
    for (size_t i = pile->left; i-- > 0;) {
        const struct spot *spot = &pile->spots[i];
        if (outside(spot->x, now.lo[ALONG], now.hi[ALONG]) ||
            outside(spot->y, now.lo[UP], now.hi[UP])) {
            if (!packing_drop(packing, b, i))
                return false;
            continue;
        }
        x.lo = length_lesser(x.lo, spot->x.lo);
        x.hi = length_greater(x.hi, spot->x.hi);
        y.lo = length_lesser(y.lo, spot->y.lo);
        y.hi = length_greater(y.hi, spot->y.hi);
    }
    if (pile->left == 0)
        return false;
    draw_in(packing, b, ALONG, x, moved);
    draw_in(packing, b, UP, y, moved);
    return true;
}

static bool same(const struct clipped *a, const struct clipped *b) {
    bool same = a->left == b->left;
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        same =
            same && length_same(a->lo[axis], b->lo[axis]) && length_same(a->hi[axis], b->hi[axis]);
    return same;
}

/* The same, where anything has changed since it was last done: as many spots as then are the same
 * ones, for on the way down spots are only dropped. */
static bool clip(struct packing *packing, size_t b, bool *moved) {
    const struct clipped now = state_of(packing, b);
    if (now.left > 0 && same(&now, &packing->clipped[b]))
        return true;
    if (!clip_all(packing, b, moved))
        return false;
    packing->clipped[b] = state_of(packing, b);
    return true;
}

size_t packing_first(size_t a, size_t b, enum way way) {
    return way == WAY_AFTER || way == WAY_OVER ? a : b;
}

int packing_axis(enum way way) {
    return way == WAY_AFTER || way == WAY_BEFORE ? ALONG : UP;
}

double packing_size(const struct packing *packing, size_t b, int axis) {
    const struct parcel *parcel = &packing->task->parcels[b];
    return axis == ALONG ? parcel->width : parcel->height;
}

void packing_settle(struct packing *packing, size_t a, size_t b, enum way way) {
    const int axis = packing_axis(way);
    const size_t first = packing_first(a, b, way);
    const double room = packing_room(packing, a, b, axis);
    const double rather = packing_rather(packing, a, b, axis);
    const double size = packing_size(packing, first, axis);
    struct spread *spread = &packing->axes[axis];
    spread->orders[spread->order_count++] = (struct order){
        .before = first,
        .after = first == a ? b : a,
        .by = size + room,
        .rather = size + rather,
        .weight = rather > room ? SPREAD_LACK / 2 : 0,
    };
    packing->ways[a][b] = way;
    packing->settled[packing->settled_count][0] = (uint8_t)a;
    packing->settled[packing->settled_count++][1] = (uint8_t)b;
}

/* Whether the bounds leave two brackets a way.  Of two that can be exchanged for each other the
 * later one never comes first along the eave. */
bool packing_can(const struct packing *packing, size_t a, size_t b, enum way way) {
    const int axis = packing_axis(way);
    const size_t first = packing_first(a, b, way), second = first == a ? b : a;
    if (way == WAY_BEFORE && packing->twin[a] == packing->twin[b])
        return false;
    return packing->axes[axis].lo[first] + packing_size(packing, first, axis) +
               packing_room(packing, a, b, axis) <=
           packing->axes[axis].hi[second] + SAME;
}

size_t packing_ways(const struct packing *packing, size_t a, size_t b, enum way *way) {
    size_t count = 0;
    for (int w = WAY_AFTER; w <= WAY_UNDER; w++)
        if (packing_can(packing, a, b, (enum way)w)) {
            *way = (enum way)w;
            count++;
        }
    return count;
}

/* Settles the pairs that have one way left; false where one has none. */
static bool settle_pairs(struct packing *packing, bool *moved) {
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            enum way way = WAY_NONE;
            if (packing->ways[a][b] != WAY_NONE)
                continue;
            const size_t ways = packing_ways(packing, a, b, &way);
            if (ways == 0)
                return false;
            if (ways > 1)
                continue;
            packing_settle(packing, a, b, way);
            *moved = true;
        }
    return true;
}

bool packing_narrow(struct packing *packing) {
    for (bool moved = true; moved;) {
        moved = false;
        for (int axis = 0; axis < AXIS_COUNT; axis++)
            if (!spread_narrow(&packing->axes[axis]))
                return false;
        for (size_t b = 0; b < packing->count; b++)
            if (!clip(packing, b, &moved))
                return false;
        if (!packing_narrow_parted(packing, &moved))
            return false;
        if (!moved && !settle_pairs(packing, &moved))
            return false;
    }
    return true;
}

static double inside(double want, double lo, double hi) {
    return length_greater(lo, length_lesser(hi, want));
}

double packing_want(const struct packing *packing, size_t b, int axis) {
    const struct parcel *parcel = &packing->task->parcels[b];
    return axis == ALONG ? parcel->want_x : parcel->want_y;
}

/* The nearest point of a spot within the bounds. */
static double nearest(const struct packing *packing, size_t b, const struct spot *spot, int axis) {
    const struct interval side = packing_side(spot, axis);
    return inside(packing_want(packing, b, axis),
                  length_greater(side.lo, packing->axes[axis].lo[b]),
                  length_lesser(side.hi, packing->axes[axis].hi[b]));
}

/* Each bracket on the best of its spots, whatever the others do. */
void packing_place_alone(const struct packing *packing, struct places *places) {
    places->worth = (struct worth){0, 0};
    places->bounds = true;
    for (size_t b = 0; b < packing->count; b++) {
        const struct pile *pile = &packing->piles[b];
        double best = INFINITY;
        for (size_t i = 0; i < pile->left; i++) {
            const double x = nearest(packing, b, &pile->spots[i], ALONG);
            const double y = nearest(packing, b, &pile->spots[i], UP);
            const double cost = fabs(x - packing_want(packing, b, ALONG)) +
                                fabs(y - packing_want(packing, b, UP)) +
                                packing->task->hole_worth * (double)pile->spots[i].holes;
            if (cost >= best)
                continue;
            best = cost;
            places->at[ALONG][b] = x;
            places->at[UP][b] = y;
            places->spot[b] = i;
        }
        places->worth.cost += best;
    }
}

size_t packing_least_holes(const struct pile *pile) {
    size_t least = SIZE_MAX;
    for (size_t i = 0; i < pile->left; i++)
        least = pile->spots[i].holes < least ? pile->spots[i].holes : least;
    return least;
}

bool packing_holds(const struct spot *spot, double x, double y) {
    return x >= spot->x.lo - SAME && x <= spot->x.hi + SAME && y >= spot->y.lo - SAME &&
           y <= spot->y.hi + SAME;
}

static void settle_spots(const struct packing *packing, struct places *places) {
    for (size_t b = 0; b < packing->count; b++) {
        const struct pile *pile = &packing->piles[b];
        places->spot[b] = NO_SPOT;
        for (size_t i = 0; i < pile->left; i++)
            if (packing_holds(&pile->spots[i], places->at[ALONG][b], places->at[UP][b]) &&
                (places->spot[b] == NO_SPOT ||
                 pile->spots[i].holes < pile->spots[places->spot[b]].holes))
                places->spot[b] = i;
    }
}

/* All brackets in their orders, as if every place between the bounds were as good as the best spot.
 * spot: one with the fewest holes at that place, NO_SPOT where none is there. */
void packing_place_in_order(struct packing *packing, struct places *places) {
    struct pulls pulls;
    enum like like[AXIS_COUNT][ROOF_BRACKETS_MOST];
    places->worth = (struct worth){0, 0};
    places->bounds = true;
    memset(packing->parted_told, 0, packing->parted_count * sizeof *packing->parted_told);
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        double x[POINTS_MOST];
        pulls.count = pulls.tie_count = pulls.hold_count = 0;
        pulls.rider_count = pulls.claim_count = 0;
        if (packing->task->misses)
            packing_pulls(packing, axis, &pulls, like[axis]);
        places->bounds = spread_solve(&packing->axes[axis], &pulls, x) && places->bounds;
        memcpy(places->at[axis], x, packing->count * sizeof *x);
        if (packing->task->misses)
            places->worth.lack += packing_riders_lack(&pulls, x, packing->parted_told);
    }
    for (size_t b = 0; b < packing->count; b++) {
        for (int axis = 0; axis < AXIS_COUNT; axis++)
            places->worth.cost += fabs(places->at[axis][b] - packing_want(packing, b, axis));
        places->worth.cost +=
            packing->task->hole_worth * (double)packing_least_holes(&packing->piles[b]);
    }
    if (packing->task->misses)
        packing_settle_missing(packing, places, like);
    else
        settle_spots(packing, places);
}

static double wider_by(const struct packing *packing, size_t a, size_t b, int axis) {
    const struct packing_task *task = packing->task;
    return task->wider ? task->wider[axis][a < b ? a : b][a < b ? b : a] : 0;
}

static double own_room(const struct packing *packing, size_t a, size_t b) {
    return length_greater(packing->task->parcels[a].room, packing->task->parcels[b].room);
}

double packing_room(const struct packing *packing, size_t a, size_t b, int axis) {
    return own_room(packing, a, b) + wider_by(packing, a, b, axis);
}

double packing_rather(const struct packing *packing, size_t a, size_t b, int axis) {
    const double room = own_room(packing, a, b);
    return wider_by(packing, a, b, axis) +
           (packing->task->misses ? length_greater(room, packing->task->apart) : room);
}

double packing_excess(const struct packing *packing, const struct places *places, size_t a,
                      size_t b, enum way way) {
    const int axis = packing_axis(way);
    const size_t first = packing_first(a, b, way), second = first == a ? b : a;
    return places->at[axis][first] + packing_size(packing, first, axis) +
           packing_rather(packing, a, b, axis) - places->at[axis][second];
}

double packing_overlap(const struct packing *packing, const struct places *places, size_t a,
                       size_t b) {
    double least = INFINITY;
    for (int way = WAY_AFTER; way <= WAY_UNDER; way++)
        least = length_lesser(least, packing_excess(packing, places, a, b, (enum way)way));
    return least;
}
