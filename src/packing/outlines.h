/* Which berths are worth looking at.  Private to this folder. */
#ifndef RUDDLE_OUTLINES_H
#define RUDDLE_OUTLINES_H

#include "sweep.h"

bool berths_add(struct berths *berths, const struct berth *berth); /* false without memory */

/* The berths of one class in a rank, behind others that there are, in the order of `from`: of those
 * with the same flanks the outline, the side towards another rank by X; and none that another one
 * goes as far as on both ends, with as much room for other ranks, and reaching nowhere further.
 * some: put in another order.  False without memory. */
bool outline_berths(struct berths *some, const struct flanks *near, const struct flanks *far,
                    struct berths *berths);

/* Whether one that such a berth may stand for was marked: *from is X from which on. `some` is one
 * of those that the marked ones come from. */
bool outline_marked(const struct berth *some, const struct flanks *near, const struct flanks *far,
                    const struct berths *marked, double *from);

#endif
