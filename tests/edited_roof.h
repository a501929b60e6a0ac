/* The plain roof of tests/roofs with a few texts exchanged: what a test needs to change one thing
 * and leave the rest alone. */
#ifndef RUDDLE_TESTS_EDITED_ROOF_H
#define RUDDLE_TESTS_EDITED_ROOF_H

#include "problem.h"
#include "roof.h"

/* Exchanges the one place where `old` stands; a test fails where it stands never or twice. */
struct edit {
    const char *old, *new;
};

/* What to build.  Lists end with {0}; NULL leaves a file as it is. */
struct edited_roof {
    const char *root; /* the tree that holds tests/roofs: RUDDLE_ROOT */
    const struct edit *roof, *kit;
    const struct roof_options *options;
};

/* Builds tests/roofs/plain.yaml with plain-kit.yaml, both edited.  Outcomes and ownership as
 * roof_build. */
enum outcome edited_roof_build(const struct edited_roof *edited, struct roof **roof,
                               struct problems *problems);

/* The same where the roof must be a good one: fails the test otherwise, and prints why. */
struct roof *edited_roof_good(const struct edited_roof *edited);

/* Inches, pounds, gallons or radians, to 1e-9; NaN fails. */
#define assert_near(found, wanted) near_or_fail(found, wanted, __FILE__, __LINE__)
void near_or_fail(double found, double wanted, const char *file, int line);

#endif
