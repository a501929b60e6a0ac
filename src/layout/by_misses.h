/* Nearest misses by stands: where no layout holds every rule, the least sum of shortfalls and then
 * the least cost at the rungs that are known.  Private to this folder. */
#ifndef RUDDLE_BY_MISSES_H
#define RUDDLE_BY_MISSES_H

#include "packing.h"
#include "rungs.h"

/* What came of it; misses_answer_free frees what it holds. */
struct misses_answer {
    enum packing_end end;
    size_t way; /* of the rungs */
    struct placed placed[ROOF_BRACKETS_MOST];
    struct worth worth, bound;
    struct misses *misses[ROOF_BRACKETS_MOST]; /* owned: what the places point to */
};

/* The best packing of all ways to have the rungs.  most: what a layout that is known lacks,
 * INFINITY where none is.  FAULT: no memory. */
enum outcome by_misses(const struct crowd *crowd, const struct rungs *rungs, double most,
                       struct misses_answer *answer);
void misses_answer_free(struct misses_answer *answer);

#endif
