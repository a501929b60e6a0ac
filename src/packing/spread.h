/* Points on a line, in their order, as near as possible to where they are wanted.  Private to this
 * folder. */
#ifndef RUDDLE_SPREAD_H
#define RUDDLE_SPREAD_H

#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* x[after] - x[before] >= by */
struct order {
    size_t before, after;
    double by;
};

enum { ORDERS_MOST = ROOF_BRACKETS_MOST * (ROOF_BRACKETS_MOST - 1) / 2 };

struct spread {
    size_t count;
    double lo[ROOF_BRACKETS_MOST], hi[ROOF_BRACKETS_MOST], want[ROOF_BRACKETS_MOST];
    struct order orders[ORDERS_MOST];
    size_t order_count;
};

/* Narrows lo and hi to what the orders leave of them; false where that is nothing. */
bool spread_narrow(struct spread *spread);

/* The least sum of |x - want|, at x; the bounds are narrowed and not empty. */
double spread_solve(const struct spread *spread, double *x);

#endif
