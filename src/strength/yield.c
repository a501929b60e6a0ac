/* Lag screws in shear: dowel bearing strength and the six yield modes. */
#include "lag.h"

#include <math.h>

static const double RADIANS = 3.14159265358979323846 / 180;

/* The standard rounds bearing strengths to 50 psi; half-way cases go up. */
static double to_fifty(double psi) {
    return 50 * floor(psi / 50 + 0.5);
}

double lag_bearing_along_psi(double gravity) {
    return to_fifty(11200 * gravity);
}

double lag_bearing_across_psi(double gravity, double diameter_in) {
    return to_fifty(6100 * pow(gravity, 1.45) / sqrt(diameter_in));
}

double lag_bearing_angle_psi(double along_psi, double across_psi, double angle_deg) {
    const double sine = sin(angle_deg * RADIANS), cosine = cos(angle_deg * RADIANS);
    return along_psi * across_psi / (along_psi * sine * sine + across_psi * cosine * cosine);
}

const char *lag_mode_word(enum lag_mode mode) {
    static const char *const words[LAG_MODE_COUNT] = {
        [LAG_MODE_IM] = "I_m",     [LAG_MODE_IS] = "I_s",     [LAG_MODE_II] = "II",
        [LAG_MODE_IIIM] = "III_m", [LAG_MODE_IIIS] = "III_s", [LAG_MODE_IV] = "IV",
    };
    return (unsigned)mode < LAG_MODE_COUNT ? words[mode] : "";
}

double lag_reduction(enum lag_mode mode, double root_in, double angle_deg) {
    const double turned = 1 + angle_deg / 360;
    if (root_in < 0.25)
        return fmax(2.2, 10 * root_in + 0.5) * turned;
    if (mode == LAG_MODE_IM || mode == LAG_MODE_IS)
        return 4 * turned;
    return (mode == LAG_MODE_II ? 3.6 : 3.2) * turned;
}

/* The load P at which a screw yields, from A P^2 + B P + C = 0 with A, B >= 0 >= C: the root
 * above 0, in the form that loses no digits where B is large beside A and C (a wide gap). */
static double yield_load(double a, double b, double c) {
    return -2 * c / (b + sqrt(b * b - 4 * a * c));
}

/* q: lb of bearing for each inch of screw; moment: of the screw at yield, in-lb, the same in both
 * members as the thread may reach into either. */
static void mode_loads(const struct lag_joint *joint, double load_lb[LAG_MODE_COUNT]) {
    const double d = joint->root_in, gap = joint->gap_in;
    const double lm = joint->main_in, ls = joint->side_in;
    const double qm = joint->main_psi * d, qs = joint->side_psi * d;
    const double moment = joint->yield_psi * d * d * d / 6;
    const double rafter = qm * lm * lm / 4, side = qs * ls * ls / 4;
    load_lb[LAG_MODE_IM] = qm * lm;
    load_lb[LAG_MODE_IS] = qs * ls;
    load_lb[LAG_MODE_II] =
        yield_load(1 / (4 * qs) + 1 / (4 * qm), ls / 2 + gap + lm / 2, -(side + rafter));
    load_lb[LAG_MODE_IIIM] =
        yield_load(1 / (2 * qs) + 1 / (4 * qm), gap + lm / 2, -(moment + rafter));
    load_lb[LAG_MODE_IIIS] =
        yield_load(1 / (4 * qs) + 1 / (2 * qm), ls / 2 + gap, -(side + moment));
    load_lb[LAG_MODE_IV] = yield_load(1 / (2 * qs) + 1 / (2 * qm), gap, -2 * moment);
}

struct lag_yield lag_yield(const struct lag_joint *joint) {
    struct lag_yield yield = {.governs = LAG_MODE_IM};
    mode_loads(joint, yield.mode_lb);
    for (int i = 0; i < LAG_MODE_COUNT; i++) {
        yield.mode_lb[i] /= lag_reduction((enum lag_mode)i, joint->root_in, joint->angle_deg);
        if (yield.mode_lb[i] < yield.mode_lb[yield.governs])
            yield.governs = (enum lag_mode)i;
    }
    yield.least_lb = yield.mode_lb[yield.governs];
    return yield;
}
