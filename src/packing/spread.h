/* Points on a line, in their order, as near as possible to where they are wanted.  Private to this
 * folder. */
#ifndef RUDDLE_SPREAD_H
#define RUDDLE_SPREAD_H

#include "candidates.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* x[after] - x[before] >= by, and every inch that it is short of `rather` costs `weight`. */
struct order {
    size_t before, after;
    double by, rather, weight;
};

/* What an inch of lack weighs: beyond anything that brackets could save by it.  Along a chain of 64
 * brackets an inch moves 64 of them, and half an inch is lacked at the least. */
#define SPREAD_LACK 4096.0

/* Every inch that x of a point lies below `at` costs `below`, beyond it `above`. */
struct pull {
    size_t point;
    double at, below, above;
};

enum {
    /* every pair; twins; arms that cross */
    ORDERS_MOST = ROOF_BRACKETS_MOST * (ROOF_BRACKETS_MOST + 1) / 2 + 1024,
    /* of the brackets themselves, beside two each; and all, with those of parts */
    PULLS_OWN_MOST = 8 * ROOF_BRACKETS_MOST,
    RIDERS_MOST = 128,
    HOLDS_MOST = 512,
    CLAIMS_MOST = 512,
    PULLS_MOST = PULLS_OWN_MOST + 2 * ROOF_BRACKETS_MOST + CLAIMS_MOST,
    POINTS_MOST = ROOF_BRACKETS_MOST + RIDERS_MOST
};

struct spread {
    size_t count;
    double lo[ROOF_BRACKETS_MOST], hi[ROOF_BRACKETS_MOST], want[ROOF_BRACKETS_MOST];
    struct order orders[ORDERS_MOST];
    size_t order_count;
};

/* Every inch that x[after] - x[before] is short of `rather` costs `weight`. */
struct tie {
    size_t before, after;
    double rather, weight;
};

/* A point more, which has no wish: behind those of a spread, what is told apart by the rest. */
struct rider {
    size_t bracket;
    int row, kind;
    double lo, hi;
};

/* What is lacked of one point being before another one: so much for every inch by which
 *     by + x[first] - x[second]
 * is above 0.  NO_POINT: a fixed place, which `by` has. */
#define NO_POINT SIZE_MAX
#define NO_PARTED SIZE_MAX
struct claim {
    size_t parted; /* of two parts that are settled; NO_PARTED: what a rider costs */
    size_t first, second;
    double by, weight;
};

/* Beside the wishes, which weigh 1 an inch, and the orders. */
struct pulls {
    struct pull list[PULLS_MOST];
    struct tie ties[CLAIMS_MOST], holds[HOLDS_MOST]; /* holds: x[after] - x[before] >= rather */
    struct rider riders[RIDERS_MOST];
    struct claim claims[CLAIMS_MOST];
    size_t count, tie_count, hold_count, rider_count, claim_count;
};

/* Narrows lo and hi to what the orders leave of them; false where that is nothing. */
bool spread_narrow(struct spread *spread);

/* Where the sum of |x - want|, of pulls and ties and of what orders are short of is least; the
 * bounds are narrowed and not empty.  False where that was not found: x is then anywhere. */
bool spread_solve(const struct spread *spread, const struct pulls *pulls, double x[POINTS_MOST]);

#endif
