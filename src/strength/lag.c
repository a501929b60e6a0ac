/* Lag screws: how they sit, what they hold against pull, distances and lead holes. */
#include "lag.h"

#include <math.h>
#include <stddef.h>

static const double GRAVITY_LEAST = 0.31, GRAVITY_MOST = 0.73; /* of the withdrawal formula */
static const double DEGREES = 180 / 3.14159265358979323846;

bool lag_find(double diameter_in, struct lag_screw *screw) {
    static const struct lag_screw listed[] = {
        {1.0 / 4, 0.173, 5.0 / 32, 70000},
        {5.0 / 16, 0.227, 3.0 / 16, 60000},
        {3.0 / 8, 0.265, 7.0 / 32, 45000},
        {1.0 / 2, 0.371, 5.0 / 16, 45000},
    };
    for (size_t i = 0; i < sizeof listed / sizeof *listed; i++) {
        /* A diameter in millimetres comes back with the last bits off. */
        if (fabs(diameter_in - listed[i].diameter_in) <= 1e-6) {
            *screw = listed[i];
            return true;
        }
    }
    return false;
}

double lag_thread_in(double length_in) {
    return fmin(length_in, fmin(6, length_in / 2 + 0.5));
}

const char *lag_fault_text(enum lag_fault fault) {
    static const char *const texts[LAG_FAULT_COUNT] = {
        [LAG_GOOD] = "good",
        [LAG_UNLISTED] = "a lag of a diameter held here: 1/4, 5/16, 3/8 or 1/2",
        [LAG_NO_WOOD] = "a longer lag: this one never reaches the rafter with its thread",
        [LAG_SHALLOW] = "a longer lag: it must be 4 diameters in the rafter, its tip left out",
        [LAG_TOO_DEEP] = "a shorter lag: its thread is longer than the rafter is deep",
        [LAG_NO_GRAVITY] = "wood of a specific gravity from 0.31 to 0.73",
    };
    return (unsigned)fault < LAG_FAULT_COUNT ? texts[fault] : "a lag that fits";
}

enum lag_fault lag_seat_find(const struct lag_screw *screw, double length_in, double above_in,
                             double depth_in, struct lag_seat *seat) {
    const double embedment = length_in - above_in;
    const double held = embedment - screw->tip_in; /* tip left out */
    if (!(held > 0))
        return LAG_NO_WOOD;
    if (held < 4 * screw->diameter_in)
        return LAG_SHALLOW;
    double thread = fmin(lag_thread_in(length_in), embedment) - screw->tip_in;
    double bearing = embedment - screw->tip_in / 2;
    if (depth_in > 0) {
        if (thread > depth_in)
            return LAG_TOO_DEEP;
        /* What comes out at the rafter's bottom holds nothing either. */
        thread -= fmax(0, held - depth_in);
        bearing = fmin(bearing, depth_in);
    }
    *seat = (struct lag_seat){embedment, thread, bearing};
    return LAG_GOOD;
}

bool lag_gravity_holds(double gravity) {
    return gravity >= GRAVITY_LEAST && gravity <= GRAVITY_MOST;
}

double lag_withdrawal_lb_per_in(double gravity, double diameter_in) {
    return 1800 * gravity * sqrt(gravity) * sqrt(diameter_in) * sqrt(sqrt(diameter_in));
}

struct lag_combined lag_combined(double pull_lb, double shear_lb, double withdrawal_lb,
                                 double lateral_lb) {
    const double pull = fmax(0, pull_lb), shear = fabs(shear_lb);
    const double demand = hypot(pull, shear);
    struct lag_combined combined = {.demand_lb = demand, .capacity_lb = lateral_lb};
    if (demand > 0) {
        const double cosine = shear / demand, sine = pull / demand;
        combined.angle_deg = atan2(pull, shear) * DEGREES;
        combined.capacity_lb = withdrawal_lb * lateral_lb /
                               (withdrawal_lb * cosine * cosine + lateral_lb * sine * sine);
        combined.ratio = demand / combined.capacity_lb;
    }
    return combined;
}

struct lag_distances lag_distances(enum lag_load load, double diameter_in, double bearing_in,
                                   double row_spacing_in) {
    const double d = diameter_in;
    struct lag_distances distances = {.edge_in = 1.5 * d,
                                      .loaded_edge_in = 1.5 * d,
                                      .end_full_in = 4 * d,
                                      .end_least_in = 2 * d,
                                      .row_full_in = 4 * d,
                                      .row_least_in = 3 * d};
    if (load == LAG_LOAD_PULL) {
        distances.end_least_in = 4 * d;
        distances.row_least_in = 4 * d;
    } else if (load == LAG_LOAD_ACROSS) {
        distances.loaded_edge_in = 4 * d;
    } else {
        if (bearing_in > 6 * d) /* l/D above 6 */
            distances.edge_in = fmax(1.5 * d, row_spacing_in / 2);
        distances.loaded_edge_in = distances.edge_in;
        if (load == LAG_LOAD_TENSION) {
            distances.end_full_in = 7 * d;
            distances.end_least_in = 3.5 * d;
        }
    }
    return distances;
}

double lag_geometry_factor(double actual_in, double full_in, double least_in) {
    if (!(actual_in >= least_in))
        return 0;
    return fmin(1, actual_in / full_in);
}

struct lag_pilot lag_pilot(double gravity, double diameter_in) {
    if (gravity > 0.6)
        return (struct lag_pilot){0.65 * diameter_in, 0.85 * diameter_in};
    if (gravity > 0.5)
        return (struct lag_pilot){0.60 * diameter_in, 0.75 * diameter_in};
    return (struct lag_pilot){0.40 * diameter_in, 0.70 * diameter_in};
}
