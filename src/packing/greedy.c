/* A first packing, one bracket after the other: each as cheap as those before it leave it.  It is
 * mostly there at once, and bounds the search from above. */
#include "node.h"

#include <math.h>

/* Places worth a look along one axis: nearest to the wish, and just beside each bracket that stands
 * already. */
struct tries {
    double at[2 * ROOF_BRACKETS_MOST + 1];
    size_t count;
};

static void list_tries(const struct packing *packing, const struct places *places, size_t b,
                       struct interval side, int axis, struct tries *tries) {
    const struct parcel *own = &packing->task->parcels[b];
    const double nearest = fmax(side.lo, fmin(side.hi, packing_want(packing, b, axis)));
    tries->count = 0;
    tries->at[tries->count++] = nearest;
    for (size_t o = 0; o < b; o++) {
        const struct parcel *other = &packing->task->parcels[o];
        const double room = fmax(own->room, other->room), at = places->at[axis][o];
        const double beside[2] = {at + (axis == ALONG ? other->width : other->height) + room,
                                  at - (axis == ALONG ? own->width : own->height) - room};
        for (int i = 0; i < 2; i++)
            if (beside[i] >= side.lo && beside[i] <= side.hi)
                tries->at[tries->count++] = beside[i];
    }
}

/* Whether the bracket stands clear of all before it. */
static bool is_clear(const struct packing *packing, const struct places *places, size_t b) {
    for (size_t o = 0; o < b; o++)
        if (packing_overlap(packing, places, o, b) > SAME)
            return false;
    return true;
}

/* The best place of bracket b in one of its spots; *best is its cost so far. */
static void try_spot(const struct packing *packing, struct places *places, size_t b, size_t i,
                     double *best, double found[AXIS_COUNT]) {
    const struct spot *spot = &packing->piles[b].spots[i];
    const double holes = packing->task->hole_worth * (double)spot->holes;
    struct tries tries[AXIS_COUNT];
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        list_tries(packing, places, b, packing_side(spot, axis), axis, &tries[axis]);
    for (size_t x = 0; x < tries[ALONG].count; x++)
        for (size_t y = 0; y < tries[UP].count; y++) {
            const double cost = fabs(tries[ALONG].at[x] - packing_want(packing, b, ALONG)) +
                                fabs(tries[UP].at[y] - packing_want(packing, b, UP)) + holes;
            if (cost >= *best)
                continue;
            places->at[ALONG][b] = tries[ALONG].at[x];
            places->at[UP][b] = tries[UP].at[y];
            if (!is_clear(packing, places, b))
                continue;
            *best = cost;
            found[ALONG] = places->at[ALONG][b];
            found[UP] = places->at[UP][b];
            places->spot[b] = i;
        }
}

bool packing_greedy(const struct packing *packing, struct places *places) {
    for (size_t b = 0; b < packing->count; b++) {
        double best = INFINITY, found[AXIS_COUNT] = {0, 0};
        for (size_t i = 0; i < packing->piles[b].left; i++)
            try_spot(packing, places, b, i, &best, found);
        if (!(best < INFINITY))
            return false;
        places->at[ALONG][b] = found[ALONG];
        places->at[UP][b] = found[UP];
    }
    return true;
}
