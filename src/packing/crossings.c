/* Which parts of brackets that stand apart are in each other's way, and what they lack. */
#include "parts.h"

#include "length.h"

#include <math.h>

static double overlap_of(const struct packing_task *task, const struct crossing *crossing,
                         const struct seats *seats) {
    double least = INFINITY;
    for (int way = WAY_AFTER; way <= WAY_UNDER && least > SAME; way++)
        least = length_lesser(least, parts_excess(task, crossing, seats, (enum way)way));
    return least;
}

/* The worst crossing of two brackets that is worse than *deepest. */
static void see_pair(const struct packing_task *task, const struct seats *seats, size_t a, size_t b,
                     double *deepest, struct crossing *worst) {
    struct crossing crossing;
    if (!parts_begin(task, seats, a, b, &crossing))
        return;
    while (parts_next(task, seats, &crossing)) {
        const double deep = overlap_of(task, &crossing, seats);
        if (deep <= *deepest)
            continue;
        *deepest = deep;
        *worst = crossing;
    }
}

bool packing_crosses(const struct packing *packing, const struct places *places, size_t b,
                     const struct spot *spot, size_t other) {
    double deepest = SAME;
    struct crossing worst;
    const struct seats seats = parts_seats_in(packing, places, b, spot, other);
    see_pair(packing->task, &seats, b, other, &deepest, &worst);
    return deepest > SAME;
}

bool packing_crossed(const struct packing *packing, const struct places *places,
                     struct crossing *worst) {
    double deepest = SAME;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const struct seats seats = parts_seats(packing, places, a, b);
            see_pair(packing->task, &seats, a, b, &deepest, worst);
        }
    return deepest > SAME;
}

double packing_cross_excess(const struct packing *packing, const struct places *places,
                            const struct crossing *crossing, enum way way) {
    const struct seats seats =
        parts_seats(packing, places, crossing->bracket[0], crossing->bracket[1]);
    return parts_excess(packing->task, crossing, &seats, way);
}

/* What a crossing lacks at its seats, in the way in which that is least. */
static double lack_of(const struct packing_task *task, const struct crossing *crossing,
                      const struct seats *seats) {
    double least = INFINITY;
    for (int way = WAY_AFTER; way <= WAY_UNDER && least > 0; way++)
        least = length_lesser(least, parts_lack(task, crossing, seats, (enum way)way));
    return least;
}

/* What all crossings at places lack, and the one that lacks most beyond the bound. */
struct look {
    const struct packing *packing;
    const struct places *places;
    bool parted; /* only those whose way is known; otherwise only the others */
    double sum, worst;
    struct crossing *lacking; /* NULL: only the sum is asked for */
};

static void look_at(struct look *look, const struct crossing *crossing, const struct seats *seats) {
    const double lack = lack_of(look->packing->task, crossing, seats);
    look->sum += lack;
    if (lack <= look->worst || !look->lacking)
        return;
    const struct parted *parted = packing_parted(look->packing, crossing);
    const double beyond =
        parted ? lack - look->packing->parted_told[parted - look->packing->parted] : lack;
    if ((parted != NULL) != look->parted || beyond <= look->worst)
        return;
    look->worst = beyond;
    *look->lacking = *crossing;
}

static void look_at_all(struct look *look) {
    const struct packing *packing = look->packing;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const struct seats seats = parts_seats(packing, look->places, a, b);
            struct crossing crossing;
            if (!parts_begin(packing->task, &seats, a, b, &crossing))
                continue;
            while (parts_next(packing->task, &seats, &crossing))
                look_at(look, &crossing, &seats);
        }
}

double packing_arms_lack(const struct packing *packing, const struct places *places) {
    struct look look = {.packing = packing, .places = places};
    struct seat seats[ROOF_BRACKETS_MOST];
    double lines[ROOF_BRACKETS_MOST][ROW_COUNT];
    parts_sit(packing, places, seats);
    const double settled = packing_settle_lines(packing->task, seats, lines);
    if (settled < INFINITY)
        return settled;
    look_at_all(&look);
    return look.sum;
}

bool packing_lacking(const struct packing *packing, const struct places *places,
                     struct crossing *worst) {
    const double least = LACK_SAME / 16;
    bool found = false;
    for (int parted = 0; parted < 2 && !found; parted++) {
        struct look look = {.packing = packing,
                            .places = places,
                            .parted = parted != 0,
                            .worst = least,
                            .lacking = worst};
        look_at_all(&look);
        found = look.worst > least;
    }
    return found;
}
