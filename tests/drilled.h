/* Files of drilled holes made in memory, for the tests of laying out again. */
#ifndef RUDDLE_TESTS_DRILLED_H
#define RUDDLE_TESTS_DRILLED_H

#include "revise.h"

enum { DRILLED_MOST = 32, DRILLED_TEXT = 32 };

struct drilled {
    struct survey_drilled file; /* file.measure stays NULL: as the roof's */
    struct survey_hole holes[DRILLED_MOST];
    char texts[DRILLED_MOST][2][DRILLED_TEXT]; /* of x and y */
};

/* One more hole, of that mark's line of frame A, B, ...; at the mark's height, and at `x` along the
 * eave, both in inches. */
void drilled_add(struct drilled *drilled, const struct mark *mark, double x, enum drill found);

/* Lays out again with readings from near, in good time. */
enum outcome drilled_revise(const struct roof *roof, const struct drilled *drilled,
                            struct revised *revised);

/* The best layout of the roof, which has to obey every rule; freed with carried_free. */
struct carried drilled_best(const struct roof *roof);

/* Holds a result against the rules, by arithmetic of its own: what is kept is a mark, no new lag
 * lies within 4 diameters of a dead hole that cut into its rafter, and what is said to cover a dead
 * hole does.  Fails the test otherwise. */
void drilled_judge(const struct revised *revised);

#endif
