/* Brackets that are packed so closely that their lags or struts get in each other's way are packed
 * again with more room.  Private to this folder.
 */
#ifndef RUDDLE_RETREAT_H
#define RUDDLE_RETREAT_H

#include "by_stands.h"
#include "rungs.h"

/* More forgiveness, or less shortfall on the same, or less cost on both. */
bool retreat_is_better(const struct roof *roof, const struct layout *a, const struct layout *b);

/* A layout takes the place of none, or of one that is worse; otherwise it is freed. */
void retreat_keep_better(const struct roof *roof, struct stands_answer *answer,
                         struct layout *layout, bool held);

/* The packing that was met as a layout, nothing proved of it; *layout is NULL where its marks break
 * a hard rule.  *held: every bracket keeps its level.  Room is asked for as of places_hold.  FAULT:
 * no memory. */
enum outcome retreat_read(const struct crowd *crowd, const struct rungs *met,
                          struct layout **layout, bool *held);

/* Looks for a layout with the rungs of the answer, or the best worst rung there still is, until no
 * rule between different brackets takes anything from it; answer->layout becomes the best that was
 * met.  The room between pairs is what crowd->widened has; it grows.  Nothing is proved by it but
 * what the rungs prove.  FAULT: no memory. */
enum outcome retreat(const struct crowd *crowd, struct stands_answer *answer);

#endif
