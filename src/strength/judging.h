/* What the judging of one layout passes on from frames to lags and rafters. */
#ifndef RUDDLE_STRENGTH_JUDGING_H
#define RUDDLE_STRENGTH_JUDGING_H

#include "check.h"
#include "marks.h"
#include "strength.h"

/* What one mark asks of its lag and of its rafter, under one combination. */
struct mark_force {
    double pull_lb;   /* of the lag; 0 where it is pressed */
    double shear_lb;  /* of the lag, down the slope */
    double normal_lb; /* on the rafter, pressing */
    bool known;       /* false for pipes and where the row could not be reckoned with */
};

struct judging {
    const struct roof *roof;
    const struct marks *marks;
    const struct verdict *verdict;
    const struct loads *loads;
    struct strength_lag lags[ROOF_BRACKETS_MOST];   /* one a bracket */
    struct mark_force (*forces)[COMBINATION_COUNT]; /* one row a mark */
    struct beam_point *points;                      /* room for one a mark */
    struct strength *strength;                      /* room for every item */
};

/* Adds an item, and keeps the worst of its kind. */
void judging_add(struct strength *strength, const struct strength_item *item);

/* Makes `item` the worse of itself and another; the first of two that are alike. */
void judging_worse(struct strength_item *item, const struct strength_item *other);

/* Adds an item for each sound rafter that a frame bears on or stands over. */
void judging_rafters(struct judging *judging);

#endif
