/* Wind pressure: ASCE/SEI 7-16 (and the constants of 7-22, which a jurisdiction may ask for).
 * Speeds in mph (3-second gust, strength level), heights in ft, pressures in psf.  The coefficient
 * that makes a force of it is the engineer's choice, never ours.
 */
#ifndef RUDDLE_WIND_H
#define RUDDLE_WIND_H

#include <stdbool.h>

enum exposure { EXPOSURE_B, EXPOSURE_C, EXPOSURE_D, EXPOSURE_COUNT };
enum wind_edition { WIND_7_16, WIND_7_22, WIND_EDITION_COUNT };

/* "B", "C", "D".  false: another word; *exposure untouched. */
bool wind_read_exposure(const char *word, enum exposure *exposure);
const char *wind_exposure_word(enum exposure exposure);

/* K_z = 2.01 (z/zg)^(2/alpha) by ASCE 7-16 (2.41 and its own alpha and zg by 7-22), Table 26.11-1;
 * below 15 ft as at 15 ft. */
double wind_kz(enum wind_edition edition, enum exposure exposure, double height_ft);

/* K_e = e^(-0.0000362 z), z ft above the sea; 1 is always allowed.  Table 26.9-1, note. */
double wind_ke(double elevation_ft);

#define WIND_DIRECTIONALITY 0.85 /* K_d of buildings and their parts, Table 26.6-1 */

/* q = 0.00256 K_z K_zt K_d K_e V^2, psf.  ASCE 7-16 Eq. 26.10-1. */
struct wind_factors {
    double kz, kzt, kd, ke;
};
double wind_pressure_psf(const struct wind_factors *factors, double speed_mph);

/* Net pressure off the roof, psf, strength level, as a roof file asks for it: ASCE 7-16, K_z by
 * formula, K_d 0.85, K_zt = K_e = 1, times the coefficient given. */
double wind_uplift_psf(double speed_mph, enum exposure exposure, double height_ft,
                       double coefficient);

/* (G C_r) of equipment on a roof, ASCE 7-16 29.4.1: `most` up to a tenth of the building's face,
 * straight down to 1 at the whole of it.  most: 1.9 sideways (share of B h), 1.5 upward (share of
 * B L).  For comparison with the coefficient that a file gives; tanks follow other clauses. */
#define WIND_EQUIPMENT_SIDEWAYS 1.9
#define WIND_EQUIPMENT_UPWARD 1.5
double wind_equipment_factor(double most, double share);

#endif
