#include "band.h"

#include <math.h>

void band_open(struct band *band) {
    for (int k = 0; k < STAND_SLOPES; k++) {
        band->lo[k] = -INFINITY;
        band->hi[k] = INFINITY;
    }
}

void band_least(struct band *band, int slope, double at) {
    band->lo[slope] = fmax(band->lo[slope], at);
}

void band_most(struct band *band, int slope, double at) {
    band->hi[slope] = fmin(band->hi[slope], at);
}

void band_meet(struct band *band, const struct band *other) {
    for (int k = 0; k < STAND_SLOPES; k++) {
        band_least(band, k, other->lo[k]);
        band_most(band, k, other->hi[k]);
    }
}

struct interval band_at(const struct band *band, double level) {
    struct interval at = {-INFINITY, INFINITY};
    for (int k = 0; k < STAND_SLOPES; k++) {
        at.lo = fmax(at.lo, band->lo[k] + k * level);
        at.hi = fmin(at.hi, band->hi[k] - k * level);
    }
    return at;
}

double band_level(const struct band *band) {
    double level = INFINITY;
    for (int i = 0; i < STAND_SLOPES; i++)
        for (int j = 0; j < STAND_SLOPES && band->lo[i] > -INFINITY; j++) {
            if (band->hi[j] == INFINITY)
                continue;
            double room = band->hi[j] - band->lo[i];
            if (i + j > 0)
                level = fmin(level, room / (i + j));
            else if (room < -BAND_TOUCH)
                return -INFINITY;
        }
    return level;
}

bool interval_there(struct interval interval) {
    return interval.lo <= interval.hi + BAND_TOUCH;
}
