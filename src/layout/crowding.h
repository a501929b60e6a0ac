/* A company as a crowd: the stands of each bracket listed, and packed.  Private to this folder.
 */
#ifndef RUDDLE_CROWDING_H
#define RUDDLE_CROWDING_H

#include "by_stands.h"
#include "rungs.h"

#include <stdbool.h>

/* Every bracket with the best level that it has alone, into the answer and the crowd; false in
 * *good where the stands of one are not listed.  FAULT: no memory. */
enum outcome crowding_list(const struct roof *roof, const struct terms *terms,
                           struct stands_answer *answer, struct crowd *crowd, bool *good);

/* A packing, and what is proved of it and of all that were looked at. */
struct packed {
    const double *levels;
    struct rungs_packing packing; /* owned */
    double bound;                 /* of the cost */
    bool found, proved;
};

/* The cheapest packing of all ways to have the rungs; any: the first one.  FAULT: no memory; *best
 * is to be freed even then (rungs_packing_free). */
enum outcome crowding_pack(const struct crowd *crowd, const struct rungs *rungs, bool any,
                           struct packed *best);

#endif
