/* A frame on the plain roof with loads on it: the one that docs/strength.md works by hand, for
 * tests to alter before they judge it.
 */
#ifndef RUDDLE_JUDGED_H
#define RUDDLE_JUDGED_H

#include "check.h"
#include "plain_roof.h"
#include "strength.h"

struct judged {
    struct roof *roof;
    struct marks *marks;
    struct kit_loads kit_loads;
    struct loads loads; /* its kits are kit_loads */
    struct verdict *verdict;
    struct strength *strength;
};

/* Roof, marks and loads of the page; nothing judged yet.  NULL: the plain roof's own knobs.  Must
 * stay where it is, as its loads point into it; freed with judged_free. */
void judged_make(struct judged *judged, const struct plain_knobs *knobs);

/* Checks and judges; fails the test unless that comes to `wanted`.  May be called again. */
void judged_judge(struct judged *judged, enum outcome wanted);

void judged_free(struct judged *judged);

/* The item of a kind for that mark (lags), row (struts) or rafter; NULL if there is none. */
const struct strength_item *judged_item(const struct judged *judged, enum strength_kind kind,
                                        int which);

#endif
