/* Balanced snow; sources in snow.h. */
#include "snow.h"

#include <math.h>

double snow_flat_psf(const struct snow_factors *factors, double ground_psf) {
    return 0.7 * factors->exposure * factors->thermal * factors->importance * ground_psf;
}

double snow_slope_factor(double pitch_deg, double thermal, bool slippery) {
    static const double breaks_deg[][2] = {{30, 5}, {37.5, 10}, {45, 15}};
    const int warmth = thermal <= 1.0 ? 0 : thermal <= 1.1 ? 1 : 2;
    const double break_deg = breaks_deg[warmth][slippery ? 1 : 0];
    if (pitch_deg <= break_deg)
        return 1;
    return fmax(0, (70 - pitch_deg) / (70 - break_deg));
}

double snow_sloped_psf(const struct snow_factors *factors, double ground_psf, double pitch_deg,
                       bool slippery) {
    return snow_slope_factor(pitch_deg, factors->thermal, slippery) *
           snow_flat_psf(factors, ground_psf);
}
