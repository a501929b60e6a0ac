/* Steps of laying out again; private to this folder. */
#ifndef RUDDLE_REVISING_H
#define RUDDLE_REVISING_H

#include "revise.h"

/* corrected.c.  False without memory. */

/* What the holes say of each member. */
bool corrected_learn(const struct roof *roof, struct revised *revised);
/* revised->roof as learned, nothing drilled yet; the holes then name its plies (SIZE_MAX: their
 * member takes no lag). */
bool corrected_build(const struct roof *roof, struct revised *revised);
/* Its keepouts and given holes, as the fates of the holes have them. */
void corrected_set(const struct roof *roof, struct revised *revised);
/* Along the rafter, how far a lag keeps from that hole. */
double corrected_keep(const struct roof *roof, const struct hole *hole);
bool corrected_in_wood(const struct hole *hole);

/* fates.c */

/* Which holes could stay, each looked at alone. */
void fates_judge(const struct roof *roof, struct revised *revised);
/* True where all that are kept can be lags of one layout as far as the holes themselves say. */
bool fates_agree(const struct roof *roof, const struct revised *revised);
/* Which flashing of the new layout covers each dead hole. */
void fates_cover(struct revised *revised);

#endif
