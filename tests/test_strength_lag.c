/* Lag screws: withdrawal, dimensions, seat, distances, lead holes, pull and shear at once. */
#include "figures.h"
#include "lag.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const double diameters[] = {1.0 / 4, 5.0 / 16, 3.0 / 8, 1.0 / 2};

static struct lag_screw screw_of(double diameter) {
    struct lag_screw screw;
    assert_true(lag_find(diameter, &screw));
    return screw;
}

/* Source: NDS Table 12.2A, read in a scan (printed to 1 lb); the unrounded ones worked out from
 * W = 1800 G^1.5 D^0.75 apart from the library. */
static void withdrawal_is_that_of_the_table(void **state) {
    (void)state;
    static const struct {
        double gravity, printed[4], unrounded[4];
    } rows[] = {
        {0.55, {260, 307, 352, 437}, {259.58, 306.87, 351.84, 436.56}},
        {0.50, {225, 266, 305, 378}, {225.00, 265.99, 304.97, 378.40}},
        {0.49, {218, 258, 296, 367}, {218.28, 258.05, 295.86, 367.11}},
        {0.46, {199, 235, 269, 334}, {198.55, 234.72, 269.11, 333.92}},
        {0.43, {179, 212, 243, 302}, {179.44, 212.14, 243.22, 301.79}},
        {0.42, {173, 205, 235, 291}, {173.22, 204.78, 234.78, 291.32}},
        {0.36, {137, 163, 186, 231}, {137.46, 162.50, 186.32, 231.18}},
    };
    for (size_t r = 0; r < COUNT(rows); r++)
        for (size_t d = 0; d < COUNT(diameters); d++) {
            const double found = lag_withdrawal_lb_per_in(rows[r].gravity, diameters[d]);
            expect_figure("W", "NDS Table 12.2A, stored page", found, rows[r].printed[d], 0.5);
            expect_figure("W", "Eq. 12.2-1, derived", found, rows[r].unrounded[d], 0.01);
        }
}

/* Source: NDS Tables L2 and I1, stored page; root area pi D_r^2 / 4 and multiples of D derived. */
static void screws_have_the_standards_dimensions(void **state) {
    (void)state;
    static const struct lag_screw wanted[] = {{0.25, 0.173, 0.15625, 70000},
                                              {0.3125, 0.227, 0.1875, 60000},
                                              {0.375, 0.265, 0.21875, 45000},
                                              {0.5, 0.371, 0.3125, 45000}};
    static const double root_area[] = {0.02351, 0.04047, 0.05515, 0.10810};
    for (size_t i = 0; i < COUNT(wanted); i++) {
        const struct lag_screw screw = screw_of(wanted[i].diameter_in);
        expect_figure("D_r", "Table L2", screw.root_in, wanted[i].root_in, 0);
        expect_figure("E", "Table L2", screw.tip_in, wanted[i].tip_in, 0);
        expect_figure("F_yb", "Table I1", screw.yield_psi, wanted[i].yield_psi, 0);
        expect_figure("root area", "derived", acos(-1) * screw.root_in * screw.root_in / 4,
                      root_area[i], 5e-6);
    }
    struct lag_screw screw = {.root_in = 77};
    assert_false(lag_find(0.4375, &screw));
    assert_false(lag_find(NAN, &screw));
    expect_figure("untouched", "header", screw.root_in, 77, 0);
    /* 5/16 in a metric file, to the last bit off. */
    assert_true(lag_find(7.9375 / 25.4, &screw));
}

/* Source: NDS Table L2 and its note, stored page. */
static void thread_is_the_least_of_the_table(void **state) {
    (void)state;
    static const double lengths[][2] = {{2, 1.5}, {2.5, 1.75}, {3, 2},    {4, 2.5}, {5, 3},
                                        {6, 3.5}, {8, 4.5},    {10, 5.5}, {12, 6}};
    for (size_t i = 0; i < COUNT(lengths); i++)
        expect_figure("T", "NDS Table L2, stored page", lag_thread_in(lengths[i][0]), lengths[i][1],
                      0);
}

/* Source: Solved Example Problems E2.3 of the American Wood Council, quoted in a test that a
 * stored page holds: a 1/2 x 4 lag through a 1-1/2 side member into G 0.55.
 * Embedment 2-1/2; thread min(2-1/2, 2-1/2) - 5/16 = 2.1875; 436.56 x 2.1875 = 954.98 lb. */
static void worked_example_of_the_council(void **state) {
    (void)state;
    const struct lag_screw screw = screw_of(0.5);
    struct lag_seat seat;
    assert_int_equal(lag_seat_find(&screw, 4, 1.5, 0, &seat), LAG_GOOD);
    expect_figure("p_t", "E2.3", seat.thread_in, 2.1875, 0);
    expect_figure("W p_t", "E2.3, stored page",
                  lag_withdrawal_lb_per_in(0.55, 0.5) * seat.thread_in, 954.98, 0.01);
}

/* By hand: a 5/16 x 4 lag through 1/2 of metal, 1/4 of roofing, 1/2 of sheathing: embedment
 * 4 - 1-1/4 = 2-3/4; thread min(2-1/2, 2-3/4) - 3/16 = 2.3125; bearing 2-3/4 - 3/32 = 2.65625.
 * G 0.50: W p_t 615.10; x 0.9, 1.15, 1.6: 553.59, 707.37, 984.16 lb.  Derived from the formula. */
static void sample_kit_chain(void **state) {
    (void)state;
    const struct lag_screw screw = screw_of(0.3125);
    struct lag_seat seat;
    assert_int_equal(lag_seat_find(&screw, 4, 1.25, 5.5, &seat), LAG_GOOD);
    expect_figure("embedment", "by hand", seat.embedment_in, 2.75, 0);
    expect_figure("p_t", "by hand", seat.thread_in, 2.3125, 0);
    expect_figure("l_m", "by hand", seat.bearing_in, 2.65625, 0);
    const double hold = lag_withdrawal_lb_per_in(0.5, 0.3125) * seat.thread_in;
    expect_figure("W p_t", "derived", hold, 615.10, 0.01);
    expect_figure("x 0.9", "derived", hold * 0.9, 553.59, 0.01);
    expect_figure("x 1.15", "derived", hold * 1.15, 707.37, 0.01);
    expect_figure("x 1.6", "derived", hold * 1.6, 984.16, 0.01);
}

/* A 3/8 x 8 lag (thread 4-1/2, tip 7/32) with 1 in above a 2x6: embedment 7, tip out beyond the
 * bottom by 7 - 7/32 - 5-1/2 = 1.28125 in.  Thread in the wood runs from 7 - 4-1/2 = 2-1/2 to
 * 5-1/2 deep: 3 in.  Bearing is the whole depth. */
static void lag_that_comes_out_below_holds_by_its_thread_in_the_wood(void **state) {
    (void)state;
    const struct lag_screw screw = screw_of(0.375);
    struct lag_seat seat;
    assert_int_equal(lag_seat_find(&screw, 8, 1, 5.5, &seat), LAG_GOOD);
    expect_figure("p_t", "by hand", seat.thread_in, 3, 1e-15);
    expect_figure("l_m", "by hand", seat.bearing_in, 5.5, 0);
}

static void each_fault_is_found_and_leaves_the_seat_alone(void **state) {
    (void)state;
    const struct lag_screw screw = screw_of(0.3125);
    struct lag_seat seat = {.thread_in = 77};
    /* 3-3/4 above 4 in of lag leave 1/4 in, 3/16 of it tip: 1/16 in the wood. */
    assert_int_equal(lag_seat_find(&screw, 4, 4.5, 5.5, &seat), LAG_NO_WOOD);
    assert_int_equal(lag_seat_find(&screw, 4, 3.8125, 5.5, &seat), LAG_NO_WOOD);
    assert_int_equal(lag_seat_find(&screw, 4, 3.75, 5.5, &seat), LAG_SHALLOW);
    /* 4 diameters are 1.25: embedment 1.4375 is just enough, a 64th less is not. */
    assert_int_equal(lag_seat_find(&screw, 4, 2.578125, 5.5, &seat), LAG_SHALLOW);
    /* 12 in of lag have 6 of thread, 5.8125 without the tip: more than 5-1/2. */
    assert_int_equal(lag_seat_find(&screw, 12, 1, 5.5, &seat), LAG_TOO_DEEP);
    assert_int_equal(lag_seat_find(&screw, NAN, 1, 5.5, &seat), LAG_NO_WOOD);
    expect_figure("untouched", "header", seat.thread_in, 77, 0);
    assert_int_equal(lag_seat_find(&screw, 4, 2.5625, 5.5, &seat), LAG_GOOD);
    assert_int_equal(lag_seat_find(&screw, 12, 1, 7.25, &seat), LAG_GOOD);
    assert_int_equal(lag_seat_find(&screw, 12, 1, 0, &seat), LAG_GOOD);
    assert_true(lag_gravity_holds(0.31) && lag_gravity_holds(0.73));
    assert_false(lag_gravity_holds(0.30) || lag_gravity_holds(0.74) || lag_gravity_holds(NAN));
}

static void every_fault_has_its_own_text(void **state) {
    (void)state;
    for (int i = 0; i < LAG_FAULT_COUNT; i++)
        for (int k = 0; k < i; k++)
            assert_string_not_equal(lag_fault_text((enum lag_fault)i),
                                    lag_fault_text((enum lag_fault)k));
}

/* Source: NDS Tables 12.5.1A, B, C, E, stored pages. */
static void distances_are_those_of_the_tables(void **state) {
    (void)state;
    static const double edge[] = {0.375, 0.46875, 0.5625, 0.75};
    static const double four[] = {1, 1.25, 1.5, 2};
    for (size_t i = 0; i < COUNT(diameters); i++) {
        const double d = diameters[i];
        const struct lag_distances pull = lag_distances(LAG_LOAD_PULL, d, 6 * d, 0);
        expect_figure("edge 1.5D", "Table 12.5.1E", pull.edge_in, edge[i], 0);
        expect_figure("end 4D", "Table 12.5.1E", pull.end_full_in, four[i], 0);
        expect_figure("end 4D", "Table 12.5.1E", pull.end_least_in, four[i], 0);
        expect_figure("spacing 4D", "Table 12.5.1E", pull.row_least_in, four[i], 0);
        const struct lag_distances tension = lag_distances(LAG_LOAD_TENSION, d, 6 * d, 9);
        expect_figure("edge", "Table 12.5.1C, l/D 6", tension.edge_in, edge[i], 0);
        expect_figure("end 7D", "Table 12.5.1A", tension.end_full_in, 7 * d, 0);
        expect_figure("end 3.5D", "Table 12.5.1A", tension.end_least_in, 3.5 * d, 0);
        expect_figure("row 4D", "Table 12.5.1B", tension.row_full_in, four[i], 0);
        expect_figure("row 3D", "Table 12.5.1B", tension.row_least_in, 3 * d, 0);
        const struct lag_distances press = lag_distances(LAG_LOAD_COMPRESSION, d, 7 * d, 9);
        expect_figure("edge", "Table 12.5.1C, l/D above 6", press.edge_in, 4.5, 0);
        expect_figure("end 4D", "Table 12.5.1A", press.end_full_in, four[i], 0);
        expect_figure("end 2D", "Table 12.5.1A", press.end_least_in, 2 * d, 0);
        const struct lag_distances across = lag_distances(LAG_LOAD_ACROSS, d, 9 * d, 0);
        expect_figure("loaded edge 4D", "Table 12.5.1C", across.loaded_edge_in, four[i], 0);
        expect_figure("unloaded edge", "Table 12.5.1C", across.edge_in, edge[i], 0);
        /* No single ply of 1-1/2 in leaves 4D beside a lag in its middle: 3/4 < 4D. */
        assert_true(across.loaded_edge_in > 0.75);
    }
}

/* By hand: full 7D of a 5/16 lag is 2.1875, the least 1.09375. */
static void geometry_factor_is_actual_over_full(void **state) {
    (void)state;
    expect_figure("C_delta", "NDS 12.5.1.2", lag_geometry_factor(1.640625, 2.1875, 1.09375), 0.75,
                  0);
    expect_figure("C_delta", "NDS 12.5.1.2", lag_geometry_factor(9, 2.1875, 1.09375), 1, 0);
    expect_figure("C_delta", "NDS 12.5.1.2", lag_geometry_factor(1, 2.1875, 1.09375), 0, 0);
    expect_figure("C_delta", "NaN", lag_geometry_factor(NAN, 2.1875, 1.09375), 0, 0);
}

/* Source: NDS 12.1.4.2, percentages from a stored page, class limits from memory. */
static void lead_holes_by_class_of_wood(void **state) {
    (void)state;
    static const struct {
        double gravity, diameter, from, to, tolerance;
    } holes[] = {
        {0.50, 0.25, 0.100, 0.175, 1e-12},   {0.50, 0.3125, 0.125, 0.21875, 1e-12},
        {0.50, 0.375, 0.150, 0.2625, 1e-12}, {0.55, 0.3125, 0.1875, 0.234375, 1e-12},
        {0.65, 0.5, 0.325, 0.425, 1e-12},    {0.36, 0.25, 0.100, 0.175, 1e-12},
    };
    for (size_t i = 0; i < COUNT(holes); i++) {
        const struct lag_pilot pilot = lag_pilot(holes[i].gravity, holes[i].diameter);
        expect_figure("from", "NDS 12.1.4.2", pilot.from_in, holes[i].from, holes[i].tolerance);
        expect_figure("to", "NDS 12.1.4.2", pilot.to_in, holes[i].to, holes[i].tolerance);
    }
}

/* Derived from Eq. 12.4-1 at Z' 431.7875, W'p 984.1624 (C_D 1.6). */
static void pull_and_shear_at_once(void **state) {
    (void)state;
    static const struct {
        double shear, pull, angle, capacity, ratio;
    } rows[] = {{60, 150, 68.1986, 836.551, 0.193120}, {100, 300, 71.5651, 872.540, 0.362422}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct lag_combined both =
            lag_combined(rows[i].pull, rows[i].shear, 984.1624, 431.7875);
        expect_figure("alpha", "Eq. 12.4-1, derived", both.angle_deg, rows[i].angle, 1e-3);
        expect_figure("Z'a", "Eq. 12.4-1, derived", both.capacity_lb, rows[i].capacity, 0.01);
        expect_figure("ratio", "Eq. 12.4-1, derived", both.ratio, rows[i].ratio, 1e-5);
        /* The other form of the same equation. */
        const double alpha = atan2(rows[i].pull, rows[i].shear);
        expect_figure("ratio", "V cos/Z' + T sin/W'p", both.ratio,
                      rows[i].shear * cos(alpha) / 431.7875 + rows[i].pull * sin(alpha) / 984.1624,
                      1e-12);
    }
}

/* The squares of the angle count, unlike a nail's straight line (Eq. 12.4-2), which would reach 1
 * at 50: with Z' = W'p = 100 and V = T the ratio is 1 at 100 / sqrt 2. */
static void equal_strengths_give_a_circle(void **state) {
    (void)state;
    expect_figure("ratio", "Eq. 12.4-1", lag_combined(70.7107, 70.7107, 100, 100).ratio, 1, 1e-5);
    expect_figure("ratio at 50", "Eq. 12.4-1", lag_combined(50, 50, 100, 100).ratio, 1 / sqrt(2),
                  1e-12);
}

static void pressed_or_idle_lag_holds_by_shear_alone(void **state) {
    (void)state;
    const struct lag_combined pressed = lag_combined(-500, 80, 300, 160);
    expect_figure("ratio", "by hand", pressed.ratio, 0.5, 1e-15);
    expect_figure("capacity", "by hand", pressed.capacity_lb, 160, 1e-12);
    expect_figure("shear up the slope", "by hand", lag_combined(0, -80, 300, 160).ratio, 0.5,
                  1e-15);
    expect_figure("pull alone", "by hand", lag_combined(150, 0, 300, 160).ratio, 0.5, 1e-15);
    expect_figure("nothing", "by hand", lag_combined(0, 0, 300, 160).ratio, 0, 0);
}

/* The equation is not monotone in the pull, and the program must know it.  Z' 300, W'p 984, both
 * near a real lag's: by hand, with V 100 and no pull the ratio is 1/3; with T 50,
 * (V^2/Z' + T^2/W'p) / hypot = (33.3333 + 2.5407) / 111.8034 = 0.3209: less.  Where W'p <= 2 Z'
 * more pull never helps; and scaling both never helps. */
static void a_little_pull_can_lower_the_ratio(void **state) {
    (void)state;
    const double without = lag_combined(0, 100, 984, 300).ratio;
    const double with = lag_combined(50, 100, 984, 300).ratio;
    expect_figure("without pull", "by hand", without, 1.0 / 3, 1e-12);
    expect_figure("with pull", "by hand", with, 0.3209, 5e-5);
    assert_true(with < without);
    double last = 0;
    for (int pull = 0; pull <= 400; pull++) {
        const double ratio = lag_combined(pull, 100, 600, 300).ratio; /* W'p = 2 Z' */
        assert_true(ratio >= last - 1e-15);
        last = ratio;
    }
}

static void scaling_pull_and_shear_together_scales_the_ratio(void **state) {
    (void)state;
    uint64_t seed = 4;
    for (int i = 0; i < 10000; i++) {
        const double pull = figures_random(&seed, -300, 900);
        const double shear = figures_random(&seed, 0, 400);
        const double hold = figures_random(&seed, 50, 1500), slip = figures_random(&seed, 20, 500);
        const double factor = figures_random(&seed, 1, 5);
        const double one = lag_combined(pull, shear, hold, slip).ratio;
        const double more = lag_combined(factor * pull, factor * shear, hold, slip).ratio;
        expect_share("scaled ratio", more, factor * one, 1e-6, 1e-12);
        /* A stronger lag, either way, never has a higher ratio. */
        assert_true(lag_combined(pull, shear, hold * factor, slip).ratio <= one * (1 + 1e-12));
        assert_true(lag_combined(pull, shear, hold, slip * factor).ratio <= one * (1 + 1e-12));
    }
}

/* Lags stay 4 in inside a short sister, and 1.5 diameters off a face; two of one rafter are a
 * flashing's height apart, 6 in at the very least of any flashing that laps two courses. */
static void distances_are_within_what_the_rules_keep(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof diameters / sizeof *diameters; i++) {
        const double d = diameters[i];
        for (int load = LAG_LOAD_PULL; load <= LAG_LOAD_COMPRESSION; load++) {
            const struct lag_distances least = lag_distances((enum lag_load)load, d, 6 * d, 9);
            assert_true(least.edge_in <= 1.5 * d + 1e-12);
            assert_true(least.end_full_in <= 4);
            assert_true(least.row_full_in <= 2);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(withdrawal_is_that_of_the_table),
        cmocka_unit_test(screws_have_the_standards_dimensions),
        cmocka_unit_test(thread_is_the_least_of_the_table),
        cmocka_unit_test(worked_example_of_the_council),
        cmocka_unit_test(sample_kit_chain),
        cmocka_unit_test(lag_that_comes_out_below_holds_by_its_thread_in_the_wood),
        cmocka_unit_test(each_fault_is_found_and_leaves_the_seat_alone),
        cmocka_unit_test(every_fault_has_its_own_text),
        cmocka_unit_test(distances_are_those_of_the_tables),
        cmocka_unit_test(geometry_factor_is_actual_over_full),
        cmocka_unit_test(lead_holes_by_class_of_wood),
        cmocka_unit_test(pull_and_shear_at_once),
        cmocka_unit_test(equal_strengths_give_a_circle),
        cmocka_unit_test(pressed_or_idle_lag_holds_by_shear_alone),
        cmocka_unit_test(a_little_pull_can_lower_the_ratio),
        cmocka_unit_test(scaling_pull_and_shear_together_scales_the_ratio),
        cmocka_unit_test(distances_are_within_what_the_rules_keep),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
