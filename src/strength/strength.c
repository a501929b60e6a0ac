/* Words of strength, and a kit's lag in a roof's rafters. */
#include "strength.h"

#include "check.h"

#include <math.h>
#include <stdlib.h>

const char *strength_kind_word(enum strength_kind kind) {
    static const char *const words[STRENGTH_KIND_COUNT] = {
        [STRENGTH_LAG] = "lag", [STRENGTH_STRUT] = "strut", [STRENGTH_RAFTER] = "rafter"};
    return (unsigned)kind < STRENGTH_KIND_COUNT ? words[kind] : "";
}

enum lag_fault strength_lag_find(const struct kit *kit, const struct kit_loads *kit_loads,
                                 const struct loads *loads, struct strength_lag *lag) {
    struct strength_lag found = {.gravity = loads->has_rafter
                                                ? lumber_gravity(loads->rafter.species)
                                                : LUMBER_UNKNOWN_GRAVITY};
    const double layers = loads->roofing_in + loads->sheathing_in;
    const double depth = loads->has_rafter ? lumber_depth_in(loads->rafter.size) : 0;
    if (!lag_find(kit->lag_diameter, &found.screw))
        return LAG_UNLISTED;
    if (!lag_gravity_holds(found.gravity))
        return LAG_NO_GRAVITY;
    const enum lag_fault fault =
        lag_seat_find(&found.screw, kit->lag_length, kit->lag_through + layers, depth, &found.seat);
    if (fault != LAG_GOOD)
        return fault;
    /* The load runs down the rafter, along its grain; steel has no grain. */
    const struct lag_joint joint = {.root_in = found.screw.root_in,
                                    .yield_psi = found.screw.yield_psi,
                                    .main_psi = lag_bearing_along_psi(found.gravity),
                                    .main_in = found.seat.bearing_in,
                                    .side_psi = kit_loads->side_psi,
                                    .side_in = kit_loads->side_in,
                                    .angle_deg = 0,
                                    .gap_in = loads->gap ? layers : 0};
    found.yield = lag_yield(&joint);
    found.lateral_lb = found.yield.least_lb;
    found.withdrawal_lb =
        lag_withdrawal_lb_per_in(found.gravity, found.screw.diameter_in) * found.seat.thread_in;
    *lag = found;
    return LAG_GOOD;
}

struct lag_limits strength_limits(const struct strength_lag *lag, const struct kit_loads *kit_loads,
                                  const struct combination_factors *factors) {
    const double longer = lumber_duration_factor(factors->duration);
    struct lag_limits limits = {lag->withdrawal_lb * longer, lag->lateral_lb * longer};
    if (kit_loads->allowable_uplift_lb > 0)
        limits.withdrawal_lb = fmin(limits.withdrawal_lb, kit_loads->allowable_uplift_lb);
    if (kit_loads->allowable_lateral_lb > 0)
        limits.lateral_lb = kit_loads->allowable_lateral_lb;
    return limits;
}

enum outcome strength_hold(const struct roof *roof, const struct marks *marks,
                           struct verdict **verdict, struct strength **strength) {
    const enum outcome outcome = check_marks(roof, marks, verdict);
    return outcome == OUTCOME_DONE && roof->loads
               ? strength_judge(roof, marks, *verdict, roof->loads, strength)
               : outcome;
}

void strength_free(struct strength *strength) {
    if (strength) {
        free(strength->items);
        free(strength);
    }
}
