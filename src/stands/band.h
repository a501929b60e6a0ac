/* Bands: intervals whose sides move inwards as the level rises.  Private to this folder. */
#ifndef RUDDLE_BAND_H
#define RUDDLE_BAND_H

#include "length.h"
#include "stands.h"

#include <math.h>
#include <stdbool.h>

/* Sides that miss each other by no more than this meet: figures of a few hundred inches are exact
 * to 1e-13, and a rule holds down to 1e-6. */
#define BAND_TOUCH 1e-9

void band_open(struct band *band); /* no sides at all */
/* value >= at + slope * level, value <= at - slope * level */
void band_least(struct band *band, int slope, double at);
void band_most(struct band *band, int slope, double at);
void band_meet(struct band *band, const struct band *other);

/* The interval at a level; empty where lo > hi. */
static inline struct interval band_at(const struct band *band, double level) {
    struct interval at = {-INFINITY, INFINITY};
    for (int k = 0; k < band->slopes; k++) {
        at.lo = length_greater(at.lo, band->lo[k] + k * level);
        at.hi = length_lesser(at.hi, band->hi[k] - k * level);
    }
    return at;
}

/* The highest level at which it is not empty; -INFINITY: at none, INFINITY: at any. */
double band_level(const struct band *band);

/* True where the interval has a point, or misses one by a rounding. */
static inline bool interval_there(struct interval interval) {
    return interval.lo <= interval.hi + BAND_TOUCH;
}

static inline struct interval interval_open(void) {
    return (struct interval){-INFINITY, INFINITY};
}

/* What is in both. */
static inline struct interval interval_meet(struct interval a, struct interval b) {
    return (struct interval){length_greater(a.lo, b.lo), length_lesser(a.hi, b.hi)};
}

/* -1, 0, 1: those that begin lower come first, of those the ones that end higher: what holds
 * another comes before it. */
static inline int interval_order(struct interval a, struct interval b) {
    if (a.lo < b.lo || a.lo > b.lo)
        return a.lo < b.lo ? -1 : 1;
    return (a.hi < b.hi) - (a.hi > b.hi);
}

static inline bool interval_holds(struct interval outer, struct interval inner) {
    return outer.lo <= inner.lo && outer.hi >= inner.hi;
}

/* Such an interval with lo no more than hi. */
static inline struct interval interval_settled(struct interval interval) {
    const double middle = (interval.lo + interval.hi) / 2;
    return interval.lo <= interval.hi ? interval : (struct interval){middle, middle};
}

#endif
