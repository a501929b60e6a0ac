/* What a frame hangs on its lags: statics from weight, snow and wind down to each lag.
 *
 * Axes of a frame: x along the eave from the frame's side nearer the corner, v up the slope from
 * its lower side, heights square to the roof.  A force *normal* to the roof presses where it is
 * above 0 and pulls where it is below; *down* is down the slope.  lb, in, psf throughout.
 *
 * The model, no more than statics and an even share: by moments about the rows, evenly and by
 * distance over the legs of a row, the down-slope force alike over all legs.  Nothing here is held
 * against what the parts can bear, and forces along the eave, earthquakes, drifted snow and wind
 * that presses are not in it.
 */
#ifndef RUDDLE_LOADS_H
#define RUDDLE_LOADS_H

#include "beam.h"
#include "lumber.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* Allowable-stress combinations, after ASCE 7-22 2.4.1; water counts with D where it is in. */
enum combination {
    COMBINATION_DEAD,      /* D, filled */
    COMBINATION_SNOW,      /* D + S, filled */
    COMBINATION_WIND,      /* D + 0.6 W, filled */
    COMBINATION_SNOW_WIND, /* D + 0.75 S + 0.75 (0.6 W), filled */
    COMBINATION_EMPTY,     /* 0.6 D + 0.6 W, empty */
    COMBINATION_COUNT
};
struct combination_factors {
    const char *text; /* as on a sheet and in the JSON: "D + 0.6W, filled" */
    double dead, snow, wind;
    bool filled;
    enum duration duration; /* of its shortest load */
};
/* Never NULL for a value of the enum. */
const struct combination_factors *loads_combination(enum combination combination);

/* One force on a frame and where it acts. */
struct load {
    double x_in, v_in, height_in;
    double normal_lb; /* pressing */
    double down_lb;   /* down the slope */
};

/* A weight at a centre of gravity (x, v, height), split by the pitch. */
struct load loads_weight(double weight_lb, const double centre_in[3], double pitch_rad);

/* Snow on a frame: psf of horizontal projection on width x height x cos(pitch), at the footprint's
 * middle, at the height of the filled unit's centre. */
struct load loads_snow(const struct kit *kit, double snow_psf, double pitch_rad);

/* Wind off the roof, psf of the frame's area, square to the roof at the footprint's middle. */
struct load loads_wind(const struct kit *kit, double uplift_psf);

struct leg_force {
    double normal_lb, down_lb;
};

/* Adds `factor` times a load to every leg of both rows.  v_in: where up its legs each row meets the
 * frame; they must differ.  By moments about the bottom row, with h the load's height,
 *   N_top (v_top - v_bottom) = N (v - v_bottom) - H h,  N_bottom = N - N_top;
 * over n legs with mean place m, e = x - m: N/n + N e (x_i - m) / sum (x_j - m)^2; and H / 2n each.
 * One leg alone cannot hold a load beside it: it takes the row's force, and the couple is left out.
 */
void loads_add_to_legs(const struct kit *kit, const double v_in[ROW_COUNT], const struct load *load,
                       double factor, struct leg_force legs[ROW_COUNT][ROOF_LEGS_MOST]);

/* The forces on a frame's legs under one combination. */
struct frame_loads {
    double dead_lb;            /* as the combination has it: filled or empty */
    double dead_centre_in[3];  /* x, v, height */
    double snow_psf, wind_psf; /* wind off the roof, strength level */
    double pitch_rad;
};
void loads_on_legs(const struct kit *kit, const double v_in[ROW_COUNT],
                   const struct frame_loads *frame, const struct combination_factors *factors,
                   struct leg_force legs[ROW_COUNT][ROOF_LEGS_MOST]);

/* A strut: a continuous beam on its lags with each leg's normal force at its clamp; the down-slope
 * force of a leg goes to the nearest lag on either side of its clamp by the lever rule, all to one
 * where only one side has a lag.  lag_forces has one entry a lag.  beam (may be NULL) receives the
 * solution, with the strut's moment and shear.
 * false: fewer than two lags, too many, or not strictly rising in x; nothing is then written. */
struct strut_line {
    const double *lags_in; /* x, rising */
    size_t lag_count;
    const double *clamps_in; /* x of each leg's clamp */
    size_t leg_count;
};
bool loads_through_strut(const struct strut_line *strut, const struct leg_force *legs,
                         struct leg_force *lag_forces, struct beam_answer *beam);

/* What a foot asks of its lag when its leg pulls: the foot pries about its toe, so the lag holds
 * the leg's pull times (d + toe) / toe, d from lag to leg; or times the factor that the maker gives
 * (0: none given).  0 while the leg presses: the foot then bears on the roof. */
double loads_foot_pull_lb(double normal_lb, double lag_to_leg_in, double toe_in, double lag_factor);

#endif
