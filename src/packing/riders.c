/* Riders: what gives way to parts whose way is known, a row's line up the slope or an outer foot's
 * lag along the eave, as a point of its own beside those of the brackets.  It costs nothing while
 * it is where that is for nothing, its worth for every inch beyond that, and goes no further than
 * the level lets it; and parts lack what they are closer than they should be.  So what all lack at
 * the least together is one sum of pulls and ties. */
#include "parts.h"

#include "length.h"

#include <math.h>

/* Between what a rider lies, at the mildest of all spots that are left: fixed places, and such as
 * go with its bracket. */
struct range {
    struct end low, high;
};

struct riding {
    const struct packing *packing;
    int axis;
    struct pulls *pulls;
};

/* One end of a parted crossing: a fixed place, or beyond a point. */
struct hook {
    bool there, goes;
    size_t point;
    double off;
};

static double off_of(const struct packing_task *task, const struct crossing *crossing, int which,
                     int axis, bool high) {
    const double side = parts_parcel(task, crossing->bracket[which])->arms->side;
    if (axis == UP)
        return parts_off(task, crossing, which, high);
    return high ? side : -side;
}

/* As low as the rider may be and as high, beyond which it costs something or is not let. */
static struct range range_of(const struct riding *riding, const struct crossing *crossing,
                             int which, enum drawing drawing) {
    const struct packing *packing = riding->packing;
    const double up = off_of(packing->task, crossing, which, riding->axis, true);
    const double down = off_of(packing->task, crossing, which, riding->axis, false);
    struct range range = {
        .low = parts_mildest(packing, crossing, which, riding->axis, true, drawing),
        .high = parts_mildest(packing, crossing, which, riding->axis, false, drawing)};
    range.low.fixed -= up;
    range.low.rel -= up;
    range.high.fixed -= down;
    range.high.rel -= down;
    return range;
}

static bool is_known(double place) {
    return fabs(place) < ROOF_ENDLESS;
}

/* Of holds and claims that there is no room for less is bounded, which is sound. */
static void hold(struct pulls *pulls, size_t before, size_t after, double by) {
    if (is_known(by) && pulls->hold_count < HOLDS_MOST)
        pulls->holds[pulls->hold_count++] = (struct tie){before, after, by, INFINITY};
}

static void note_claim(struct pulls *pulls, struct claim claim) {
    if (claim.weight < INFINITY && is_known(claim.by) && pulls->claim_count < CLAIMS_MOST)
        pulls->claims[pulls->claim_count++] = claim;
}

/* It costs `worth` an inch below the outer one of both kinds of ends, or above it. */
static void charge(const struct riding *riding, size_t rider, size_t b, struct end end, bool below,
                   double worth) {
    const struct spread *spread = &riding->packing->axes[riding->axis];
    const bool goes = below ? spread->lo[b] + end.rel >= end.fixed - SAME
                            : spread->hi[b] + end.rel <= end.fixed + SAME;
    const size_t other = goes ? b : NO_POINT;
    const double at = goes ? end.rel : end.fixed;
    note_claim(riding->pulls, below ? (struct claim){NO_PARTED, other, rider, at, worth}
                                    : (struct claim){NO_PARTED, rider, other, -at, worth});
}

static bool same_rider(const struct rider *rider, const struct crossing *crossing, int which,
                       int axis) {
    return rider->bracket == crossing->bracket[which] && rider->row == crossing->row[which] &&
           (axis == UP || rider->kind == crossing->kind[which]);
}

static struct rider *rider_at(const struct riding *riding, size_t point) {
    return &riding->pulls->riders[point - riding->packing->count];
}

/* Its point, a new one where there is none yet; NO_POINT where there is no more room. */
static size_t rider_of(const struct riding *riding, const struct crossing *crossing, int which) {
    struct pulls *pulls = riding->pulls;
    const size_t b = crossing->bracket[which], first = riding->packing->count;
    for (size_t i = 0; i < pulls->rider_count; i++)
        if (same_rider(&pulls->riders[i], crossing, which, riding->axis))
            return first + i;
    if (pulls->rider_count == RIDERS_MOST)
        return NO_POINT;
    const struct range hard = range_of(riding, crossing, which, DRAWN_HARD);
    const struct range free = range_of(riding, crossing, which, DRAWN_FREE);
    const size_t point = first + pulls->rider_count;
    pulls->riders[pulls->rider_count++] =
        (struct rider){.bracket = b,
                       .row = crossing->row[which],
                       .kind = crossing->kind[which],
                       .lo = length_greater(hard.low.fixed, -ROOF_ENDLESS),
                       .hi = length_lesser(hard.high.fixed, ROOF_ENDLESS)};
    hold(pulls, b, point, hard.low.rel);
    hold(pulls, point, b, -hard.high.rel);
    charge(riding, point, b, free.low, true,
           parts_least_worth(riding->packing, crossing, which, riding->axis, true));
    charge(riding, point, b, free.high, false,
           parts_least_worth(riding->packing, crossing, which, riding->axis, false));
    return point;
}

/* Whether a part is there in all spots that are left. */
static bool is_everywhere(const struct riding *riding, const struct crossing *crossing, int which,
                          bool high) {
    const struct end end =
        parts_mildest(riding->packing, crossing, which, riding->axis, high, DRAWN_HARD);
    return fabs(end.fixed) < INFINITY || fabs(end.rel) < INFINITY;
}

/* What an end of a parted crossing hangs on: its rider, or where nothing gives way its bracket or a
 * fixed place, whichever is the outer one all over the bounds. */
static struct hook hook_of(const struct riding *riding, const struct parted *parted, bool first) {
    const struct packing *packing = riding->packing;
    const struct crossing *crossing = &parted->crossing;
    const int which = first ? parts_first(parted->way) : 1 - parts_first(parted->way);
    const struct spread *spread = &packing->axes[riding->axis];
    const size_t b = crossing->bracket[which];
    struct hook hook = {.there = is_everywhere(riding, crossing, which, first), .point = b};
    if (hook.there && crossing->kind[which] != PART_BOX &&
        parts_least_worth(packing, crossing, which, riding->axis, first) < INFINITY) {
        hook.point = rider_of(riding, crossing, which);
        hook.goes = hook.point != NO_POINT;
        hook.off = off_of(packing->task, crossing, which, riding->axis, first);
    }
    if (!hook.there || hook.goes)
        return hook;
    const struct end end = parts_mildest(packing, crossing, which, riding->axis, first, DRAWN_HARD);
    hook.point = b;
    hook.goes = first ? spread->lo[b] + end.rel >= end.fixed - SAME
                      : spread->hi[b] + end.rel <= end.fixed + SAME;
    hook.off = hook.goes ? end.rel : end.fixed;
    hook.there = fabs(hook.off) < INFINITY;
    return hook;
}

/* What two parts lack that are closer than they should be, and that they are no closer than the
 * level lets them. */
static void tie_parts(const struct riding *riding, size_t i) {
    const struct packing *packing = riding->packing;
    const struct parted *parted = &packing->parted[i];
    struct pulls *pulls = riding->pulls;
    const struct hook first = hook_of(riding, parted, true),
                      second = hook_of(riding, parted, false);
    const double by = first.off - second.off;
    const double apart = by + parts_gap(packing->task, &parted->crossing);
    if (!first.there || !second.there)
        return;
    note_claim(pulls, (struct claim){.parted = i,
                                     .first = first.goes ? first.point : NO_POINT,
                                     .second = second.goes ? second.point : NO_POINT,
                                     .by = by,
                                     .weight = parts_weight(&parted->crossing)});
    if (first.goes && second.goes)
        hold(pulls, first.point, second.point, apart);
    else if (first.goes && first.point >= packing->count)
        rider_at(riding, first.point)->hi =
            length_lesser(rider_at(riding, first.point)->hi, -apart);
    else if (second.goes && second.point >= packing->count)
        rider_at(riding, second.point)->lo =
            length_greater(rider_at(riding, second.point)->lo, apart);
}

/* A claim as what it is between two points, one and a fixed place, or two fixed places. */
static void add_claim(struct pulls *pulls, const struct claim *claim) {
    const double weight = claim->weight * SPREAD_LACK;
    if (claim->first != NO_POINT && claim->second != NO_POINT)
        pulls->ties[pulls->tie_count++] =
            (struct tie){claim->first, claim->second, claim->by, weight};
    else if (claim->first != NO_POINT)
        pulls->list[pulls->count++] = (struct pull){claim->first, -claim->by, 0, weight};
    else if (claim->second != NO_POINT)
        pulls->list[pulls->count++] = (struct pull){claim->second, claim->by, weight, 0};
}

void packing_add_riders(const struct packing *packing, int axis, struct pulls *pulls) {
    const struct riding riding = {packing, axis, pulls};
    for (size_t i = 0; i < packing->parted_count; i++)
        if (packing_axis(packing->parted[i].way) == axis)
            tie_parts(&riding, i);
    for (size_t i = 0; i < pulls->claim_count; i++)
        add_claim(pulls, &pulls->claims[i]);
}

double packing_riders_lack(const struct pulls *pulls, const double *x, double told[PARTED_MOST]) {
    double sum = 0;
    for (size_t i = 0; i < pulls->claim_count; i++) {
        const struct claim *claim = &pulls->claims[i];
        const double first = claim->first != NO_POINT ? x[claim->first] : 0;
        const double second = claim->second != NO_POINT ? x[claim->second] : 0;
        const double lack = claim->weight * length_greater(0, claim->by + first - second);
        if (claim->parted != NO_PARTED)
            told[claim->parted] = lack;
        sum += lack;
    }
    return sum;
}
