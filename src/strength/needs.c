/* How many lags a row needs at the least, wherever its frame stands. */
#include "strength.h"

#include <math.h>
#include <stdint.h>

/* As in the judgement: a ratio that comes out at 1 but for the last bits still carries. */
static const double RATIO_TOLERANCE = 1e-9;

double strength_least_ratio(double shear_lb, double withdrawal_lb, double lateral_lb) {
    const double stronger = withdrawal_lb / lateral_lb;
    if (!(stronger > 2))
        return shear_lb / lateral_lb;
    return 2 * shear_lb * sqrt(stronger - 1) / withdrawal_lb;
}

/* The shear that each leg passes on; it is the same wherever the rows meet the frame. */
static double shear_of_leg(const struct roof *roof, const struct kit *kit,
                           const struct kit_loads *more,
                           const struct combination_factors *factors) {
    const double v[ROW_COUNT] = {
        [ROW_TOP] = kit->window[ROW_TOP][0], [ROW_BOTTOM] = kit->window[ROW_BOTTOM][0]};
    const double *centre = factors->filled ? kit->centre : more->centre_dry_in;
    const struct frame_loads frame = {.dead_lb = factors->filled ? kit->filled_lb : kit->dry_lb,
                                      .dead_centre_in = {centre[0], centre[1], centre[2]},
                                      .snow_psf = roof->loads->snow_psf,
                                      .wind_psf = roof->loads->uplift_psf,
                                      .pitch_rad = roof->pitch_rad};
    struct leg_force legs[ROW_COUNT][ROOF_LEGS_MOST];
    loads_on_legs(kit, v, &frame, factors, legs);
    return fabs(legs[ROW_TOP][0].down_lb);
}

/* The worst least ratio of a lag that takes the shear of one leg. */
static double ratio_of_leg(const struct roof *roof, size_t bracket,
                           const struct strength_lag *lag) {
    const struct kit *kit = roof_kit(roof, bracket);
    const struct kit_loads *more = &roof->loads->kits[roof->brackets[bracket].kit];
    double worst = 0;
    for (int c = 0; c < COMBINATION_COUNT; c++) {
        const struct combination_factors *factors = loads_combination((enum combination)c);
        const struct lag_limits limits = strength_limits(lag, more, factors);
        worst = fmax(worst, strength_least_ratio(shear_of_leg(roof, kit, more, factors),
                                                 limits.withdrawal_lb, limits.lateral_lb));
    }
    return worst;
}

size_t strength_least_lags(const struct roof *roof, size_t bracket, enum row row) {
    const struct kit *kit = roof_kit(roof, bracket);
    struct strength_lag lag;
    if (!roof->loads || !kit->has_weight ||
        strength_lag_find(kit, &roof->loads->kits[roof->brackets[bracket].kit], roof->loads,
                          &lag) != LAG_GOOD)
        return 0;
    const double ratio = ratio_of_leg(roof, bracket, &lag);
    if (roof->brackets[bracket].hardware[row] == HARDWARE_FEET)
        return ratio <= 1 + RATIO_TOLERANCE ? 0 : SIZE_MAX;
    const double needed = ratio * (double)kit->leg_count - RATIO_TOLERANCE;
    return needed < 1e6 ? (size_t)ceil(fmax(0, needed)) : SIZE_MAX;
}
