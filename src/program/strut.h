/* A strut while its rows are written.  Private to this folder. */
#ifndef RUDDLE_STRUT_H
#define RUDDLE_STRUT_H

#include "parts.h"

/* Arrays are owned by place_strut and have one entry a candidate ply, in order of x, but `running`,
 * which has one for each rafter from the first to the last candidate's. */
struct strut {
    size_t bracket;
    enum row row;
    const struct kit *kit;
    const struct candidate_row *found;
    struct model_row *columns;
    size_t *first, *last; /* 1 where the ply takes the strut's first, last lag */
    size_t first_rafter, last_rafter;
    size_t *running; /* 1 where the rafter lies between the first and last lag,
                        both counted */
};

/* Where lag `i` of the candidates lies while the row's height runs through its candidates. */
struct interval strut_lag_reach(const struct parts *parts, const struct strut *strut, size_t i);

/* clamps.c: clamps within the overhang and off the lags, ends beyond both, a length in stock.  Sets
 * columns->from and ->to. */
void hold_strut_ends(struct parts *parts, const struct strut *strut);

#endif
