/* A bracket that stands somewhere in one of its spots, as marks.  For roofs with one bracket. */
#ifndef RUDDLE_IN_SPOT_H
#define RUDDLE_IN_SPOT_H

#include "marks.h"
#include "stands.h"

/* rather: as of stands_stand.  Owned by the caller. */
struct marks *marks_in_spot(const struct stands *stands, const struct spot *spot, double level,
                            const double at[2], const struct rather *rather);

#endif
