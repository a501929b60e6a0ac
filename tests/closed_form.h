/* Roofs whose best forgiveness is worked out by hand. */
#ifndef RUDDLE_CLOSED_FORM_H
#define RUDDLE_CLOSED_FORM_H

#include "plain_roof.h"

/* The plain roof with that hardware on both rows, and so much worth having that nothing is capped:
 * `enough` is 1 in.  Freed with roof_free. */
struct roof *uncapped_roof(struct plain_knobs knobs, enum hardware hardware);

/* Fails the test unless both the optimiser and trying every choice find that forgiveness, to
 * 1e-6 in; `what` and `parameter` name the case. */
void expect_forgiveness(const struct roof *roof, const char *what, double parameter, double wanted);

/* The play of the plain roof's lag in its ply: half the ply - edge distance - tolerance
 * = 3/4 - 15/32 - 1/8. */
#define PLAIN_PLAY 0.15625
/* The play of the plain roof's flashing on its course: half of edge[1] - edge[0], less the course
 * tolerance: 1/2 - 1/8.  (The block binds later: 5 5/8 - 1/4 - 1 - 3 1/4 = 1 1/8 above the edge,
 * the lap sooner: 2 x 5 5/8 + 1/2 - 12 = -1/4.) */
#define PLAIN_COURSE_PLAY 0.375

#endif
