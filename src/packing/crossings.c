/* Which parts of brackets that stand apart are in each other's way, and what they lack. */
#include "node.h"
#include "parts.h"

#include "length.h"

#include <math.h>

static double overlap_of(const struct packing *packing, const struct crossing *crossing,
                         const struct seats *seats) {
    double least = INFINITY;
    for (int way = WAY_AFTER; way <= WAY_UNDER && least > SAME; way++)
        least = length_lesser(least, parts_excess(packing, crossing, seats, (enum way)way));
    return least;
}

static void see_pair(const struct packing *packing, const struct seats *seats, size_t a, size_t b,
                     double *deepest, struct crossing *worst) {
    struct crossing crossing = parts_begin(a, b);
    if (!parts_parcel(packing, a)->arms || !parts_parcel(packing, b)->arms ||
        parts_far_apart(packing, &crossing, seats))
        return;
    while (parts_next(packing, seats, &crossing)) {
        const double deep = overlap_of(packing, &crossing, seats);
        if (deep <= *deepest)
            continue;
        *deepest = deep;
        *worst = crossing;
    }
}

bool packing_crosses_before(const struct packing *packing, const struct places *places, size_t b,
                            const struct spot *spot) {
    double deepest = SAME;
    struct crossing worst;
    for (size_t o = 0; o < b && deepest <= SAME; o++) {
        const struct seats seats = parts_seats(packing, places, b, spot, o);
        see_pair(packing, &seats, b, o, &deepest, &worst);
    }
    return deepest > SAME;
}

bool packing_crossed(const struct packing *packing, const struct places *places,
                     struct crossing *worst) {
    double deepest = SAME;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const struct seats seats =
                parts_seats(packing, places, a, &packing->piles[a].spots[places->spot[a]], b);
            see_pair(packing, &seats, a, b, &deepest, worst);
        }
    return deepest > SAME;
}

double packing_cross_excess(const struct packing *packing, const struct places *places,
                            const struct crossing *crossing, enum way way) {
    const size_t a = crossing->bracket[0];
    const struct seats seats = parts_seats(
        packing, places, a, &packing->piles[a].spots[places->spot[a]], crossing->bracket[1]);
    return parts_excess(packing, crossing, &seats, way);
}

/* What a crossing lacks at its seats, in the way in which that is least. */
static double lack_of(const struct packing *packing, const struct crossing *crossing,
                      const struct seats *seats) {
    double least = INFINITY;
    for (int way = WAY_AFTER; way <= WAY_UNDER && least > 0; way++)
        least = length_lesser(least, parts_depth(packing, crossing, seats, (enum way)way));
    return parts_weight(crossing) * length_greater(0, least);
}

/* Calls for every crossing of all brackets at places. */
struct look {
    const struct packing *packing;
    const struct places *places;
    double sum, worst;
    struct crossing *lacking;
};

static void look_at(struct look *look, const struct crossing *crossing, const struct seats *seats) {
    const double lack = lack_of(look->packing, crossing, seats);
    look->sum += lack;
    if (lack <= look->worst || !look->lacking)
        return;
    const double beyond = lack - packing_parted_told(look->packing, crossing, look->places);
    if (beyond <= look->worst)
        return;
    look->worst = beyond;
    *look->lacking = *crossing;
}

static void look_at_all(struct look *look) {
    const struct packing *packing = look->packing;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            if (!parts_parcel(packing, a)->arms || !parts_parcel(packing, b)->arms)
                continue;
            const struct seats seats = parts_seats(
                packing, look->places, a, &packing->piles[a].spots[look->places->spot[a]], b);
            struct crossing crossing = parts_begin(a, b);
            while (!parts_far_apart(packing, &crossing, &seats) &&
                   parts_next(packing, &seats, &crossing))
                look_at(look, &crossing, &seats);
        }
}

double packing_arms_lack(const struct packing *packing, const struct places *places) {
    struct look look = {.packing = packing, .places = places};
    look_at_all(&look);
    return look.sum;
}

bool packing_lacking(const struct packing *packing, const struct places *places,
                     struct crossing *worst) {
    const double least = LACK_SAME / 16;
    struct look look = {.packing = packing, .places = places, .worst = least, .lacking = worst};
    look_at_all(&look);
    return look.worst > least;
}
