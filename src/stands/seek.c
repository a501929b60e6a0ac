/* The best level that a bracket can have, without a list of its stands: pairs of holds are looked
 * at in the order of what they could come to, and no further than what was found. */
#include "listing.h"

#include <math.h>
#include <stdlib.h>

/* A hold and the level that it could come to in the best company. */
struct promise {
    double level;
    size_t hold;
    struct interval x; /* of the bracket, at the lowest level of interest when that was asked */
};

static int by_promise(const void *a, const void *b) {
    const struct promise *x = a, *y = b;
    if (x->level < y->level || x->level > y->level)
        return x->level > y->level ? -1 : 1;
    return (x->hold > y->hold) - (x->hold < y->hold);
}

static void set_x(const struct listing *listing, enum row row, struct promise *order) {
    const struct stands *stands = listing->stands;
    for (size_t i = 0; i < stands->hold_counts[row]; i++)
        order[i].x = band_at(&stands->holds[row][order[i].hold].x, listing->lowest);
}

/* Every hold of a row, the most promising first; NULL without memory. */
static struct promise *order_row(const struct listing *listing, enum row row) {
    const struct stands *stands = listing->stands;
    const size_t count = stands->hold_counts[row];
    struct promise *order = calloc(count + 1, sizeof *order);
    for (size_t i = 0; order && i < count; i++) {
        const struct hold *hold = &stands->holds[row][i];
        const double height = (hold->y[1] - hold->y[0]) / 2;
        order[i].level = length_lesser(length_lesser(hold->cap, band_level(&hold->x)), height);
        order[i].hold = i;
    }
    if (order && count > 0)
        qsort(order, count, sizeof *order, by_promise);
    return order;
}

static bool go_on(const struct listing *listing, double promised) {
    return !listing->failed && !listing->stands->crowded && promised > listing->best->level &&
           promised >= listing->lowest - BAND_TOUCH;
}

static void seek_among(struct listing *listing, struct promise *tops, struct promise *bottoms) {
    const size_t *counts = listing->stands->hold_counts;
    double asked = listing->lowest;
    set_x(listing, ROW_TOP, tops);
    set_x(listing, ROW_BOTTOM, bottoms);
    for (size_t i = 0; i < counts[ROW_TOP] && go_on(listing, tops[i].level); i++) {
        if (listing->lowest > asked) {
            asked = listing->lowest;
            set_x(listing, ROW_TOP, tops);
            set_x(listing, ROW_BOTTOM, bottoms);
        }
        const struct interval x = tops[i].x;
        for (size_t j = 0; j < counts[ROW_BOTTOM] && go_on(listing, bottoms[j].level); j++)
            if (x.lo <= bottoms[j].x.hi + BAND_TOUCH && bottoms[j].x.lo <= x.hi + BAND_TOUCH)
                list_pair(listing, tops[i].hold, bottoms[j].hold);
    }
}

double seek_best(struct listing *listing) {
    struct best_stand best = {.level = -INFINITY};
    struct promise *tops = order_row(listing, ROW_TOP), *bottoms = order_row(listing, ROW_BOTTOM);
    listing->best = &best;
    if (tops && bottoms)
        seek_among(listing, tops, bottoms);
    else
        listing->failed = true;
    listing->best = NULL;
    free(tops);
    free(bottoms);
    return best.level;
}
