/* How a bracket may stand up the slope, with the lines of its rows.  Private to this folder. */
#ifndef RUDDLE_LEEWAY_H
#define RUDDLE_LEEWAY_H

#include "stands.h"

#include <stdbool.h>
#include <stddef.h>

/* A row's line, by row, and the bracket's own Y. */
enum { LEEWAY_UP = ROW_COUNT, LEEWAY_PLACES };
struct leeway {
    struct interval at[LEEWAY_PLACES];
    struct interval rise[ROW_COUNT]; /* of a line above Y; endless where it does not matter */
    const struct strips *strips[ROW_COUNT]; /* that a line lies on; borrowed; NULL: anywhere */
};

/* Whether all that another one lets be is in it, too. */
bool leeway_holds(const struct leeway *leeway, const struct leeway *other);
/* Any order of those of one class, whose lines are on the same strips or on none: 0 where they are
 * the same. */
int leeway_order(const struct leeway *a, const struct leeway *b);

/* A place at `by` or above (below) it, and all others as that asks of them.  False: nothing is
 * left. */
bool leeway_raise(struct leeway *leeway, size_t place, double by);
bool leeway_lower(struct leeway *leeway, size_t place, double by);

#endif
