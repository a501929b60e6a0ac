/* How deep a bracket's stands are listed.  Private to this folder. */
#ifndef RUDDLE_DEEPEN_H
#define RUDDLE_DEEPEN_H

#include "hunt.h"
#include "stands.h"

/* How a bracket's stands are listed: all of them, or those of its best level. */
struct deepening {
    const struct roof *roof;
    const struct terms *terms;
    size_t bracket;
    bool best_only;
    enum ends arms; /* as of stands_ask */
};

/* Whether the terms' time is over; counts as PACKING_LOOK steps.  For whoever asks when to stop. */
bool deepen_late(void *terms);

/* Lists them at the first depth that leaves any; where that leaves too many, and only the best
 * level matters, at one between it and the depth before, or it stays crowded: then only some of
 * those of the best level are listed, but that is known even so.  *stands, which is
 * NULL or a list to be freed, is the caller's afterwards too; *best is the best level in it,
 * -INFINITY where it is empty. */
enum outcome deepen_stands(const struct deepening *deepening, struct stands **stands, double *best);

#endif
