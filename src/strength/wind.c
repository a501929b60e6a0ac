/* Wind pressure; sources in wind.h. */
#include "wind.h"

#include <math.h>
#include <string.h>

static const char *const words[EXPOSURE_COUNT] = {"B", "C", "D"};

bool wind_read_exposure(const char *word, enum exposure *exposure) {
    for (int i = 0; i < EXPOSURE_COUNT; i++) {
        if (strcmp(word, words[i]) == 0) {
            *exposure = (enum exposure)i;
            return true;
        }
    }
    return false;
}

const char *wind_exposure_word(enum exposure exposure) {
    return words[exposure];
}

double wind_kz(enum wind_edition edition, enum exposure exposure, double height_ft) {
    static const struct {
        double alpha, gradient_ft;
    } terrain[WIND_EDITION_COUNT][EXPOSURE_COUNT] = {
        [WIND_7_16] = {{7.0, 1200}, {9.5, 900}, {11.5, 700}},
        [WIND_7_22] = {{7.5, 3280}, {9.8, 2460}, {11.5, 1935}},
    };
    static const double leading[WIND_EDITION_COUNT] = {[WIND_7_16] = 2.01, [WIND_7_22] = 2.41};
    return leading[edition] * pow(fmax(15, height_ft) / terrain[edition][exposure].gradient_ft,
                                  2 / terrain[edition][exposure].alpha);
}

double wind_ke(double elevation_ft) {
    return exp(-0.0000362 * elevation_ft);
}

double wind_pressure_psf(const struct wind_factors *factors, double speed_mph) {
    return 0.00256 * factors->kz * factors->kzt * factors->kd * factors->ke * speed_mph * speed_mph;
}

double wind_uplift_psf(double speed_mph, enum exposure exposure, double height_ft,
                       double coefficient) {
    const struct wind_factors factors = {.kz = wind_kz(WIND_7_16, exposure, height_ft),
                                         .kzt = 1,
                                         .kd = WIND_DIRECTIONALITY,
                                         .ke = 1};
    return coefficient * wind_pressure_psf(&factors, speed_mph);
}

double wind_equipment_factor(double most, double share) {
    if (share <= 0.1)
        return most;
    return share >= 1 ? 1 : most - (most - 1) * (share - 0.1) / 0.9;
}
