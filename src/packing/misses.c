/* Spots in which rules are missed: what brackets lack there comes before what they cost. */
#include "node.h"

#include "length.h"

#include <math.h>

double packing_lack(const struct parcel *parcel, const struct spot *spot, double x, double y) {
    const struct miss *miss = spot->miss;
    if (!miss)
        return 0;
    return lack_at(miss->lack[ALONG], x) + lack_at(miss->lack[UP], y) +
           length_greater(lack_beyond(parcel->inside[ALONG], x),
                          lack_beyond(parcel->inside[UP], y));
}

/* The part of a spot that the bounds leave; settled where rounding turned it about. */
static struct interval left_of(const struct packing *packing, size_t b, const struct spot *spot,
                               int axis) {
    const struct interval side = packing_side(spot, axis);
    const struct interval left = {length_greater(side.lo, packing->axes[axis].lo[b]),
                                  length_lesser(side.hi, packing->axes[axis].hi[b])};
    const double middle = (left.lo + left.hi) / 2;
    return left.lo <= left.hi ? left : (struct interval){middle, middle};
}

/* The least that a bracket lacks in a spot, and where that is nearest to its wish. */
static struct worth best_in(const struct packing *packing, size_t b, const struct spot *spot,
                            double at[AXIS_COUNT]) {
    struct worth worth = {0, packing->task->hole_worth * (double)spot->holes};
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        double lack;
        const struct interval best =
            lack_best(spot->miss->held[axis], left_of(packing, b, spot, axis), &lack);
        const double want = packing_want(packing, b, axis);
        at[axis] = length_greater(best.lo, length_lesser(best.hi, want));
        worth.lack += lack;
        worth.cost += fabs(at[axis] - want);
    }
    return worth;
}

bool packing_better(struct worth a, struct worth b) {
    return a.lack < b.lack - LACK_SAME || (a.lack <= b.lack + LACK_SAME && a.cost < b.cost);
}

double packing_least_lack(const struct packing *packing, size_t b, const struct spot *spot) {
    double at[AXIS_COUNT];
    return best_in(packing, b, spot, at).lack;
}

/* How far the bracket that comes first ends short of the other at most, or at the places. */
static double pair_lack(const struct packing *packing, const struct places *places, size_t a,
                        size_t b) {
    const struct parcel *one = &packing->task->parcels[a], *other = &packing->task->parcels[b];
    const double apart = packing->task->apart;
    const enum way way = packing->ways[a][b];
    double gap = INFINITY;
    if (places) {
        const double *x = places->at[ALONG], *y = places->at[UP];
        gap =
            length_greater(length_greater(x[b] - x[a] - one->width, x[a] - x[b] - other->width),
                           length_greater(y[b] - y[a] - one->height, y[a] - y[b] - other->height));
    } else if (way != WAY_NONE) {
        const struct spread *axis =
            &packing->axes[way == WAY_AFTER || way == WAY_BEFORE ? ALONG : UP];
        gap = way == WAY_AFTER    ? axis->hi[b] - axis->lo[a] - one->width
              : way == WAY_BEFORE ? axis->hi[a] - axis->lo[b] - other->width
              : way == WAY_OVER   ? axis->hi[b] - axis->lo[a] - one->height
                                  : axis->hi[a] - axis->lo[b] - other->height;
    }
    return length_greater(0, (apart - gap) / 2);
}

double packing_pairs_lack(const struct packing *packing, const struct places *places) {
    double sum = 0;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++)
            sum += pair_lack(packing, places, a, b);
    return sum;
}

/* Spots that lack more than the best packing leaves this bracket are of no use. */
static void drop_lacking(struct packing *packing, size_t b, double most) {
    struct pile *pile = &packing->piles[b];
    for (size_t i = pile->left; i-- > 0;)
        if (pile->lacks[i] > most && packing_drop(packing, b, i))
            pile->lacks[i] = pile->lacks[pile->left];
}

/* The least that each bracket lacks, in every spot and in all, and the sum with what pairs do. */
static double least_lack(const struct packing *packing, double least[ROOF_BRACKETS_MOST]) {
    double sum = packing_pairs_lack(packing, NULL) + packing_parted_least(packing);
    for (size_t b = 0; b < packing->count; b++) {
        const struct pile *pile = &packing->piles[b];
        least[b] = INFINITY;
        for (size_t i = 0; i < pile->left; i++) {
            pile->lacks[i] = packing_least_lack(packing, b, &pile->spots[i]);
            least[b] = length_lesser(least[b], pile->lacks[i]);
        }
        sum += least[b];
    }
    return sum;
}

void packing_place_missing(struct packing *packing, struct places *places) {
    const double sum = least_lack(packing, places->lack);
    places->worth = (struct worth){sum, 0};
    places->bounds = true;
    for (size_t b = 0; b < packing->count; b++) {
        struct pile *pile = &packing->piles[b];
        struct worth best = {INFINITY, INFINITY};
        if (packing->bettered)
            drop_lacking(packing, b, packing->best_worth.lack - sum + places->lack[b] + LACK_SAME);
        for (size_t i = 0; i < pile->left; i++) {
            double at[AXIS_COUNT];
            if (pile->lacks[i] > best.lack + LACK_SAME)
                continue;
            const struct worth worth = best_in(packing, b, &pile->spots[i], at);
            if (!packing_better(worth, best))
                continue;
            best = worth;
            places->at[ALONG][b] = at[ALONG];
            places->at[UP][b] = at[UP];
            places->spot[b] = i;
        }
        places->worth.cost += best.cost;
    }
}

static enum like like_of(const struct pile *pile, int axis) {
    const struct miss *first = pile->spots[0].miss;
    bool all = true, edge = true;
    for (size_t i = 0; i < pile->left; i++) {
        const struct miss *miss = pile->spots[i].miss;
        all = all && (miss->held[axis] == first->held[axis] ||
                      lack_same(miss->held[axis], first->held[axis]));
        edge = edge && miss->edge[axis];
    }
    return all ? LIKE_ALL : edge ? LIKE_EDGE : LIKE_NONE;
}

static void add_pull(struct pulls *pulls, size_t b, double at, double below, double above) {
    pulls->list[pulls->count++] = (struct pull){b, at, SPREAD_LACK * below, SPREAD_LACK * above};
}

static void pull_inside(struct interval inside, size_t b, struct pulls *pulls) {
    if (inside.lo > inside.hi) {
        add_pull(pulls, b, (inside.lo + inside.hi) / 2, 1, 1);
        return;
    }
    add_pull(pulls, b, inside.lo, 1, 0);
    add_pull(pulls, b, inside.hi, 0, 1);
}

void packing_pulls(const struct packing *packing, int axis, struct pulls *pulls,
                   enum like like[ROOF_BRACKETS_MOST]) {
    for (size_t b = 0; b < packing->count; b++) {
        like[b] = like_of(&packing->piles[b], axis);
        const struct lack *held = packing->piles[b].spots[0].miss->held[axis];
        if (like[b] == LIKE_ALL && pulls->count + held->count > PULLS_OWN_MOST)
            like[b] = packing->piles[b].spots[0].miss->edge[axis] ? LIKE_EDGE : LIKE_NONE;
        if (like[b] == LIKE_EDGE)
            pull_inside(packing->task->parcels[b].inside[axis], b, pulls);
        for (size_t i = 0; like[b] == LIKE_ALL && i < held->count; i++)
            add_pull(pulls, b, held->hinges[i].at, held->hinges[i].below, held->hinges[i].above);
    }
    packing_add_riders(packing, axis, pulls);
}

/* What a bracket lacks at the least beside what pulls at it, in one of its spots. */
static double rest_of(const struct packing *packing, size_t b, const struct spot *spot,
                      enum like like[AXIS_COUNT][ROOF_BRACKETS_MOST]) {
    double sum = 0;
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        const struct miss *miss = spot->miss;
        double lack = miss->held[axis]->base;
        if (like[axis][b] != LIKE_ALL)
            lack_best(like[axis][b] == LIKE_EDGE ? miss->lack[axis] : miss->held[axis],
                      left_of(packing, b, spot, axis), &lack);
        sum += lack;
    }
    return sum;
}

/* What pulls at it. */
static double pulled(const struct packing *packing, size_t b, const struct places *places,
                     enum like like[AXIS_COUNT][ROOF_BRACKETS_MOST]) {
    double sum = 0;
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        const struct lack *held = packing->piles[b].spots[0].miss->held[axis];
        if (like[axis][b] == LIKE_ALL)
            sum += lack_at(held, places->at[axis][b]) - held->base;
        else if (like[axis][b] == LIKE_EDGE)
            sum += lack_beyond(packing->task->parcels[b].inside[axis], places->at[axis][b]);
    }
    return sum;
}

static double orders_lack(const struct packing *packing, const struct places *places) {
    double sum = 0;
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        for (size_t i = 0; i < packing->axes[axis].order_count; i++) {
            const struct order *order = &packing->axes[axis].orders[i];
            const double apart = places->at[axis][order->after] - places->at[axis][order->before];
            if (order->weight > 0)
                sum += order->weight / SPREAD_LACK * length_greater(0, order->rather - apart);
        }
    return sum;
}

void packing_settle_missing(const struct packing *packing, struct places *places,
                            enum like like[AXIS_COUNT][ROOF_BRACKETS_MOST]) {
    places->worth.lack += orders_lack(packing, places);
    for (size_t b = 0; b < packing->count; b++) {
        const struct pile *pile = &packing->piles[b];
        const double x = places->at[ALONG][b], y = places->at[UP][b];
        double rest = INFINITY;
        struct worth best = {INFINITY, INFINITY};
        places->spot[b] = NO_SPOT;
        for (size_t i = 0; i < pile->left; i++) {
            const struct spot *spot = &pile->spots[i];
            rest = length_lesser(rest, rest_of(packing, b, spot, like));
            if (!packing_holds(spot, x, y))
                continue;
            const struct worth worth = {packing_lack(&packing->task->parcels[b], spot, x, y),
                                        (double)spot->holes};
            if (!packing_better(worth, best))
                continue;
            best = worth;
            places->spot[b] = i;
        }
        places->lack[b] = rest + pulled(packing, b, places, like);
        places->worth.lack += places->lack[b];
    }
}
