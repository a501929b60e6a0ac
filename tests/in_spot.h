/* A bracket that stands somewhere in one of its spots, as marks.  For roofs with one bracket. */
#ifndef RUDDLE_IN_SPOT_H
#define RUDDLE_IN_SPOT_H

#include "marks.h"
#include "stands.h"

#include <stddef.h>
#include <stdint.h>

/* rather: as of stands_stand.  Owned by the caller. */
struct marks *marks_in_spot(const struct stands *stands, const struct spot *spot, double level,
                            const double at[2], const struct rather *rather);

/* Fails the test unless the check finds every rule of the level kept at all corners of the spots at
 * it, or of enough of them; returns how many there are.  For roofs with one bracket. */
size_t hold_spots(const struct stands *stands, double level, uint64_t seed);

#endif
