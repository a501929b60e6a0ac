/* Members while they are read; private to the rafters. */
#ifndef RUDDLE_ROOF_MEMBERS_H
#define RUDDLE_ROOF_MEMBERS_H

#include "build.h"

/* One entry of the list.  x gains `lean` for each inch up the roof; thickness counts along x (the
 * difference to square across is below a thousandth even where a rafter leans by 1 in 30). */
struct member {
    size_t entry;    /* its place in the file, from 0 */
    double at, lean; /* of the original's middle, at the eave */
    double tolerance;
    double gap;          /* between neighbouring plies */
    size_t toward, away; /* extra plies on either side of the original */
    bool ply_sound[ROOF_PLIES_MOST];
    bool sound;       /* any of them */
    double sister[2]; /* from and to of the sisters up the roof; endless unless given */
    bool refused;     /* for overlapping another */
};

/* What holds for all members. */
struct framing {
    double tolerance, thickness;
    bool bonded;
    double heights[2]; /* where `at` and `again` were measured */
    double reach_low;  /* least y of a lag */
    struct span span;  /* of the face */
    double slope;
};

struct member member_read(const struct reader *reader, const struct survey_rafter *survey,
                          const struct framing *framing);

size_t member_plies(const struct member *member);

/* x of its outer face on one side, at height y. */
double member_face(const struct member *member, const struct framing *framing, enum side side,
                   double y);

#endif
