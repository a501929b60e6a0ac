/* What parts whose way is known lack, wherever their brackets stand within their bounds.  A foot's
 * lag or a row's line may give way, but by every inch it lacks so much: its worth.  So much of what
 * parts lack counts from where the end gives way for nothing; what is beyond the worth counts from
 * where the level ends; and what is left of the worth counts where parts have to give way, since
 * the level lets them come only so close. */
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

/* The worth of an end in all spots that are left. */
static double least_worth(const struct packing *packing, const struct parted *parted, int which) {
    const struct crossing *crossing = &parted->crossing;
    const struct pile *pile = &packing->piles[crossing->bracket[which]];
    const int axis = packing_axis(parted->way);
    double least = INFINITY;
    for (size_t i = 0; i < pile->left && crossing->kind[which] != PART_BOX; i++)
        least = length_lesser(least, parts_worth(packing->task, crossing, which, &pile->spots[i],
                                                 axis, which == parts_first(parted->way)));
    return least;
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

/* By the mildest ends of both: the one that goes with its bracket where that is the outer one all
 * over the bounds, otherwise the fixed one. */
static void add_due(const struct packing *packing, size_t i, enum drawing drawing, double closer,
                    double weight) {
    const struct parted *parted = &packing->parted[i];
    const struct crossing *crossing = &parted->crossing;
    const int axis = packing_axis(parted->way), first = parts_first(parted->way);
    const struct spread *spread = &packing->axes[axis];
    const struct end high = parts_mildest(packing, crossing, first, axis, true, drawing);
    const struct end low = parts_mildest(packing, crossing, 1 - first, axis, false, drawing);
    struct due due = {.parted = i,
                      .axis = axis,
                      .bracket = {crossing->bracket[first], crossing->bracket[1 - first]},
                      .weight = weight};
    due.goes[0] =
        high.rel > -INFINITY && spread->lo[due.bracket[0]] + high.rel >= high.fixed - SAME;
    due.goes[1] = low.rel < INFINITY && spread->hi[due.bracket[1]] + low.rel <= low.fixed + SAME;
    const double reach[2] = {due.goes[0] ? high.rel : high.fixed,
                             due.goes[1] ? low.rel : low.fixed};
    due.short_of = reach[0] - reach[1] + closer;
    if (weight > SAME && fabs(reach[0]) < INFINITY && fabs(reach[1]) < INFINITY)
        packing->dues->list[packing->dues->count++] = due;
}

static void find_dues(const struct packing *packing) {
    struct taken taken;
    packing->dues->count = 0;
    packing->dues->known = true;
    for (size_t i = 0; i < packing->parted_count; i++)
        for (int which = 0; which < 2; which++) {
            taken.worth[i][which] = least_worth(packing, &packing->parted[i], which);
            taken.by[i][which] = 0;
        }
    for (size_t i = 0; i < packing->parted_count; i++) {
        const double weight = parts_weight(&packing->parted[i].crossing);
        const double free = length_lesser(weight, left_of(packing, &taken, i));
        taken.by[i][0] = taken.by[i][1] = free;
        add_due(packing, i, DRAWN_FREE, 0, free);
        add_due(packing, i, DRAWN_HARD, 0, weight - free);
    }
    for (size_t i = 0; i < packing->parted_count; i++) {
        const double left = left_of(packing, &taken, i);
        if (!(left < INFINITY)) /* nothing gives way */
            continue;
        taken.by[i][0] += left;
        taken.by[i][1] += left;
        add_due(packing, i, DRAWN_FREE, parts_gap(packing->task, &packing->parted[i].crossing),
                left);
    }
}

static const struct dues *dues_of(const struct packing *packing) {
    if (!packing->dues->known)
        find_dues(packing);
    return packing->dues;
}

/* That of a due with the bracket that comes first, and the other one, there. */
static double value_of(const struct due *due, double first, double second) {
    return due->weight * length_greater(0, due->short_of + (due->goes[0] ? first : 0) -
                                               (due->goes[1] ? second : 0));
}

double packing_parted_least(const struct packing *packing) {
    const struct dues *dues = dues_of(packing);
    double sum = 0;
    for (size_t i = 0; i < dues->count; i++) {
        const struct due *due = &dues->list[i];
        const struct spread *spread = &packing->axes[due->axis];
        sum += value_of(due, spread->lo[due->bracket[0]], spread->hi[due->bracket[1]]);
    }
    return sum;
}
