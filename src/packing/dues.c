/* What parts whose way is known lack at the least, wherever their brackets stand within their
 * bounds. A foot's lag or a row's line may give way, but by every inch it lacks so much: its worth.
 * So much of what parts lack counts from where the end gives way for nothing; what is beyond the
 * worth counts from where the level ends.  (riders.c says more of the same, but takes a solution of
 * its own.) */
#include "parts.h"

#include "length.h"

#include <math.h>

/* Whether what gives way at an end of a parted crossing, in its direction, is that of another
 * one's.
 */
static bool same_giver(const struct parted *one, int a, const struct parted *other, int b) {
    const struct crossing *own = &one->crossing, *others = &other->crossing;
    const int axis = packing_axis(one->way);
    return axis == packing_axis(other->way) && own->bracket[a] == others->bracket[b] &&
           own->row[a] == others->row[b] && others->kind[b] != PART_BOX &&
           (a == parts_first(one->way)) == (b == parts_first(other->way)) &&
           (axis == UP || own->kind[a] == others->kind[b]);
}

static double worth_of(const struct packing *packing, const struct parted *parted, int which) {
    return parts_least_worth(packing, &parted->crossing, which, packing_axis(parted->way),
                             which == parts_first(parted->way));
}

/* How much of each end's worth is taken, by what was parted. */
struct taken {
    double worth[PARTED_MOST][2], by[PARTED_MOST][2];
};

/* What is left of the worth of what gives way at both ends. */
static double left_of(const struct packing *packing, const struct taken *taken, size_t i) {
    const struct parted *own = &packing->parted[i];
    double least = INFINITY;
    for (int which = 0; which < 2; which++) {
        double left = taken->worth[i][which];
        for (size_t o = 0; o < packing->parted_count && own->crossing.kind[which] != PART_BOX; o++)
            for (int end = 0; end < 2; end++)
                if (same_giver(own, which, &packing->parted[o], end))
                    left -= taken->by[o][end];
        least = length_lesser(least, left);
    }
    return length_greater(0, least);
}

/* By how much the mildest ends of both overlap at the least. */
static double overlap_of(const struct packing *packing, const struct parted *parted,
                         enum drawing drawing) {
    const struct crossing *crossing = &parted->crossing;
    const int axis = packing_axis(parted->way), first = parts_first(parted->way);
    const struct spread *spread = &packing->axes[axis];
    const size_t before = crossing->bracket[first], after = crossing->bracket[1 - first];
    const struct end high = parts_mildest(packing, crossing, first, axis, true, drawing);
    const struct end low = parts_mildest(packing, crossing, 1 - first, axis, false, drawing);
    const double from = length_greater(high.fixed, spread->lo[before] + high.rel);
    const double to = length_lesser(low.fixed, spread->hi[after] + low.rel);
    return from > -INFINITY && to < INFINITY ? length_greater(0, from - to) : 0;
}

double packing_parted_least(const struct packing *packing) {
    struct taken taken;
    double sum = 0;
    for (size_t i = 0; i < packing->parted_count; i++)
        for (int which = 0; which < 2; which++) {
            taken.worth[i][which] = worth_of(packing, &packing->parted[i], which);
            taken.by[i][which] = 0;
        }
    for (size_t i = 0; i < packing->parted_count; i++) {
        const struct parted *parted = &packing->parted[i];
        const double weight = parts_weight(&parted->crossing);
        const double free = length_lesser(weight, left_of(packing, &taken, i));
        taken.by[i][0] = taken.by[i][1] = free;
        sum += free * overlap_of(packing, parted, DRAWN_FREE) +
               (weight - free) * overlap_of(packing, parted, DRAWN_HARD);
    }
    return sum;
}
