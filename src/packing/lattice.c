/* How many brackets fit at all: a bound that needs no search. */
#include "node.h"

#include "length.h"

#include <math.h>

/* Brackets at least so long along an axis, so far apart, that fit into what they reach at all. */
static double abreast(const struct packing *packing, int axis) {
    double size = INFINITY, room = INFINITY, lo = INFINITY, hi = -INFINITY;
    for (size_t b = 0; b < packing->count; b++) {
        const double own = packing_size(packing, b, axis);
        size = length_lesser(size, own);
        room = length_lesser(room, packing->task->parcels[b].room);
        lo = length_lesser(lo, packing->axes[axis].lo[b]);
        hi = length_greater(hi, packing->axes[axis].hi[b] + own);
    }
    return size + room > SAME ? floor((hi - lo + room + SAME) / (size + room)) : INFINITY;
}

/* More than so many columns of so many brackets do not fit.  Let each be as small as the smallest
 * and take the least room with it, to its right and above: boxes that do not overlap.  Every one of
 * them holds just one point of a lattice as fine as they are large, and the lattice can be laid so
 * that no more of its points lie where they may be than there are columns times rows. */
bool packing_too_many(const struct packing *packing) {
    return (double)packing->count > abreast(packing, ALONG) * abreast(packing, UP);
}
