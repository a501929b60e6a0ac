/* The cut list: struts cut from stock lengths with the least waste. */
#ifndef RUDDLE_SHEET_CUTLIST_H
#define RUDDLE_SHEET_CUTLIST_H

#include "problem.h"

#include <stdbool.h>
#include <stddef.h>

/* Width of a saw cut in inches: common practice, no source. */
#define CUTLIST_KERF 0.125

enum {
    CUTLIST_EXACT_MOST = 16, /* pieces; beyond it the list is good, not proved least */
};

/* Borrowed.  All lengths in inches. */
struct cut_order {
    const double *pieces;
    size_t count;
    const double *stock; /* lengths sold, as many of each as wanted */
    size_t stock_count;
    double kerf;
};

struct cut_bar {
    double stock;     /* the length bought */
    double left_over; /* what is left once its pieces are cut off */
};

struct cutlist {
    bool exact; /* proved: no cutting uses less stock (and, of those, none fewer bars) */
    struct cut_bar *bars;
    size_t bar_count;
    size_t *bar_of; /* one a piece: its bar; SIZE_MAX where no stock is long enough */
    size_t count;
};

/* Cuts the pieces with the least stock, then the fewest bars.  Neighbouring pieces of a bar are a
 * kerf apart; the last may end with the bar.  Up to CUTLIST_EXACT_MOST pieces exact, beyond that
 * first fit, longest first, each bar then changed for the shortest stock that holds its pieces.
 * FAULT: no memory.  *list is untouched unless DONE; owned by the caller (cutlist_free). */
enum outcome cutlist_make(const struct cut_order *order, struct cutlist **list);

void cutlist_free(struct cutlist *list); /* accepts NULL */

#endif
