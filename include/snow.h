/* Balanced snow on a sloped roof: ASCE/SEI 7-16, 7.3 and 7.4.  A roof file gives the result itself
 * (`snow`, psf of horizontal projection); these formulas say how it comes from the ground snow.
 * Drifts, sliding and unbalanced snow are not in it.
 */
#ifndef RUDDLE_SNOW_H
#define RUDDLE_SNOW_H

#include <stdbool.h>

/* p_f = 0.7 C_e C_t I_s p_g, psf.  Eq. 7.3-1. */
struct snow_factors {
    double exposure, thermal, importance; /* C_e, C_t, I_s */
};
double snow_flat_psf(const struct snow_factors *factors, double ground_psf);

/* C_s: 1 up to a pitch, then straight down to 0 at 70 degrees.  The pitch is 30, 37.5, 45 degrees
 * for C_t up to 1.0, up to 1.1 and above; 5, 10, 15 on a slippery surface (shingles are not).
 * Figure 7.4-1. */
double snow_slope_factor(double pitch_deg, double thermal, bool slippery);

/* p_s = C_s p_f, psf of horizontal projection.  Eq. 7.4-1. */
double snow_sloped_psf(const struct snow_factors *factors, double ground_psf, double pitch_deg,
                       bool slippery);

#endif
