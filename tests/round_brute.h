/* Rounding by brute force: every reading within two ticks, each held by the check as a whole.  No
 * bound, no search and nothing of src/layout is used. */
#ifndef RUDDLE_ROUND_BRUTE_H
#define RUDDLE_ROUND_BRUTE_H

#include "layout.h"
#include "marks.h"
#include "roof.h"

#include <stdbool.h>

/* What marks come to, in the order of preference; a better layout has the greater rank. */
enum { RANK_MOST = 16 };
struct rank {
    double figures[RANK_MOST];
    size_t count;
    bool holds, keeps; /* every rule; every target and course */
};

/* away: how far the readings are from the unrounded ones. */
struct rank round_rank(const struct roof *roof, const struct layout *layout,
                       const struct marks *marks, double away);

/* Negative, 0 or positive as a is worse than b, equal, or better; 1e-9 either way is equal. */
int round_rank_compare(const struct rank *a, const struct rank *b);

/* How far a layout's readings are from those of rounded marks, summed. */
double round_away(const struct roof *roof, const struct layout *layout, enum side from,
                  const struct marks *marks);

/* The best marks, owned by the caller.  *tried counts what was enumerated; 0 where plain rounding
 * kept everything. */
struct marks *round_brute(const struct roof *roof, const struct layout *layout, enum side from,
                          size_t *tried);

/* A layout around exact marks in their order: targets, courses and figures as the check finds them.
 * marks stay the caller's. */
struct layout *round_layout(const struct roof *roof, struct marks *marks);
void round_layout_free(struct layout *layout);

#endif
