#include "band.h"

#include <math.h>

void band_open(struct band *band) {
    for (int k = 0; k < STAND_SLOPES; k++) {
        band->lo[k] = -INFINITY;
        band->hi[k] = INFINITY;
    }
    band->slopes = 0;
}

static void reach(struct band *band, int slope) {
    if (band->slopes <= slope)
        band->slopes = slope + 1;
}

void band_least(struct band *band, int slope, double at) {
    if (at > band->lo[slope]) {
        band->lo[slope] = at;
        reach(band, slope);
    }
}

void band_most(struct band *band, int slope, double at) {
    if (at < band->hi[slope]) {
        band->hi[slope] = at;
        reach(band, slope);
    }
}

void band_meet(struct band *band, const struct band *other) {
    for (int k = 0; k < other->slopes; k++) {
        band_least(band, k, other->lo[k]);
        band_most(band, k, other->hi[k]);
    }
}

double band_level(const struct band *band) {
    double level = INFINITY;
    for (int i = 0; i < band->slopes; i++)
        for (int j = 0; j < band->slopes && band->lo[i] > -INFINITY; j++) {
            if (band->hi[j] == INFINITY)
                continue;
            double room = band->hi[j] - band->lo[i];
            if (i + j > 0)
                level = length_lesser(level, room / (i + j));
            else if (room < -BAND_TOUCH)
                return -INFINITY;
        }
    return level;
}
