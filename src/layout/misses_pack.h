/* One packing of a nearest miss.  Private to this folder. */
#ifndef RUDDLE_MISSES_PACK_H
#define RUDDLE_MISSES_PACK_H

#include "by_misses.h"

/* The best packing of the spots in `way`, into it.  than: only what is better is of use; may be
 * NULL.  FAULT: no memory. */
enum outcome misses_pack(const struct crowd *crowd, const double *levels, const struct worth *than,
                         struct misses_answer *way);

/* The least that all lack with every bracket just where a packing has it: its lines and lags are
 * anybody's choice still.  *answer is to be freed even where it is FAULT: no memory. */
enum outcome misses_there(const struct crowd *crowd, const double *levels,
                          const struct placed *placed, struct misses_answer *answer);

#endif
