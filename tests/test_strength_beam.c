/* Continuous beams against published coefficients and worked examples.  Positive moments sag. */
#include "beam.h"
#include "figures.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define EXACT 1e-9 /* relative, against fractions */

static struct beam_answer solve(const double *supports, size_t count,
                                const struct beam_point *points, size_t point_count,
                                const struct beam_stretch *stretches, size_t stretch_count) {
    const struct beam beam = {supports, count, points, point_count, stretches, stretch_count};
    struct beam_answer answer;
    assert_true(beam_solve(&beam, &answer));
    return answer;
}

static void expect_list(const char *what, const char *source, const double *found,
                        const double *wanted, size_t count, double tolerance) {
    for (size_t i = 0; i < count; i++)
        expect_figure(what, source, found[i], wanted[i], tolerance);
}

/* Source: Civil Engineering Formulas, Table 2.1, stored page: equal spans, uniform load.  Here
 * w = 10 and L = 48, so w L = 480 and w L^2 = 23040. */
static void equal_spans_under_uniform_load(void **state) {
    (void)state;
    static const struct {
        size_t spans;
        double reactions[6], moments[6], sag; /* in w L, w L^2 */
    } rows[] = {
        {1, {1.0 / 2, 1.0 / 2}, {0, 0}, 1.0 / 8},
        {2, {3.0 / 8, 5.0 / 4, 3.0 / 8}, {0, -1.0 / 8, 0}, 9.0 / 128},
        {3, {2.0 / 5, 11.0 / 10, 11.0 / 10, 2.0 / 5}, {0, -1.0 / 10, -1.0 / 10, 0}, 0.08},
        {4,
         {11.0 / 28, 8.0 / 7, 13.0 / 14, 8.0 / 7, 11.0 / 28},
         {0, -3.0 / 28, -2.0 / 28, -3.0 / 28, 0},
         121.0 / 1568},
        {5,
         {15.0 / 38, 43.0 / 38, 37.0 / 38, 37.0 / 38, 43.0 / 38, 15.0 / 38},
         {0, -4.0 / 38, -3.0 / 38, -3.0 / 38, -4.0 / 38, 0},
         225.0 / 2888},
    };
    for (size_t r = 0; r < COUNT(rows); r++) {
        double supports[6];
        for (size_t i = 0; i <= rows[r].spans; i++)
            supports[i] = 100 + 48.0 * (double)i;
        const struct beam_stretch load = {100, 100 + 48.0 * (double)rows[r].spans, 10};
        const struct beam_answer answer = solve(supports, rows[r].spans + 1, NULL, 0, &load, 1);
        for (size_t i = 0; i <= rows[r].spans; i++) {
            expect_share("R", answer.reaction_lb[i], 480 * rows[r].reactions[i], 480, EXACT);
            expect_share("M", answer.moment_inlb[i], 23040 * rows[r].moments[i], 23040, EXACT);
        }
        expect_share("span's greatest", answer.sag.value, 23040 * rows[r].sag, 0, EXACT);
        /* As printed: 0.0703, 0.080, 0.0772 w L^2. */
        if (rows[r].spans == 2)
            expect_figure("printed", "Table 2.1", answer.sag.value / 23040, 0.0703, 5e-5);
        if (rows[r].spans == 4)
            expect_figure("printed", "Table 2.1", answer.sag.value / 23040, 0.0772, 5e-5);
    }
}

/* The same table: the inner spans' own greatest moments, 0.025 (3 spans), 0.0364 (4 spans). */
static void inner_spans_sag_less(void **state) {
    (void)state;
    const double supports[] = {0, 48, 96, 144, 192};
    const struct beam_stretch three = {0, 144, 10}, four = {0, 192, 10};
    struct beam beam = {supports, 4, NULL, 0, &three, 1};
    struct beam_answer answer;
    assert_true(beam_solve(&beam, &answer));
    expect_figure("middle of 3", "Table 2.1", beam_moment_inlb(&beam, &answer, 72) / 23040, 0.025,
                  1e-9);
    beam = (struct beam){supports, 5, NULL, 0, &four, 1};
    assert_true(beam_solve(&beam, &answer));
    double most = 0;
    for (double x = 48; x <= 96; x += 0.01)
        most = fmax(most, beam_moment_inlb(&beam, &answer, x));
    expect_figure("second of 4", "Table 2.1", most / 23040, 0.0364, 5e-5);
}

/* Source: three-moment equation, derived; both loaded also in a stored page. */
static void two_spans_with_loads_at_their_middles(void **state) {
    (void)state;
    const double supports[] = {0, 60, 120};
    const struct beam_point loads[] = {{30, 160}, {90, 160}};
    struct beam_answer answer = solve(supports, 3, loads, 2, NULL, 0);
    const double both[] = {160 * 5.0 / 16, 160 * 11.0 / 8, 160 * 5.0 / 16};
    expect_list("R, both", "5/16, 11/8 P", answer.reaction_lb, both, 3, 1e-9);
    expect_figure("M", "-3/16 P L", answer.moment_inlb[1], -3.0 / 16 * 160 * 60, 1e-9);
    answer = solve(supports, 3, loads, 1, NULL, 0);
    const double one[] = {160 * 13.0 / 32, 160 * 11.0 / 16, 160 * -3.0 / 32};
    expect_list("R, one", "13/32, 11/16, -3/32 P", answer.reaction_lb, one, 3, 1e-9);
    expect_figure("M", "-3/32 P L", answer.moment_inlb[1], -3.0 / 32 * 160 * 60, 1e-9);
}

/* Statics: R P b / L, P a / L; M P a b / L under the load; the shear jumps there. */
static void simple_beam_with_one_load(void **state) {
    (void)state;
    const double supports[] = {10, 70};
    const struct beam_point load = {25, 120};
    const struct beam_answer answer = solve(supports, 2, &load, 1, NULL, 0);
    expect_figure("R1", "P b / L", answer.reaction_lb[0], 90, 1e-12);
    expect_figure("R2", "P a / L", answer.reaction_lb[1], 30, 1e-12);
    expect_figure("M", "P a b / L", answer.sag.value, 1350, 1e-9);
    expect_figure("at", "under it", answer.sag.at_in, 25, 0);
    expect_figure("hog", "none", answer.hog.value, 0, 1e-9);
    expect_figure("shear", "R1", answer.shear.value, 90, 1e-12);
}

/* Source: a beam-formula page (its R3 corrected): M = -w (a^3 + b^3) / 8 (a + b). */
static void two_unequal_spans(void **state) {
    (void)state;
    const double supports[] = {0, 48, 120};
    const struct beam_stretch load = {0, 120, 10};
    const struct beam_answer answer = solve(supports, 3, NULL, 0, &load, 1);
    const double reactions[] = {135, 775, 290};
    expect_figure("M", "stored page, derived", answer.moment_inlb[1], -5040, 1e-9);
    expect_list("R", "stored page, derived", answer.reaction_lb, reactions, 3, 1e-9);
    expect_figure("shear", "R3 - w b", answer.shear.value, 430, 1e-9);
}

/* Source: a beam-formula page: overhangs a, c beyond span b; R1 = w L (L - 2c) / 2b.
 * By hand a 12, b 48, c 18, w 10, L 78: R 341.25, 438.75; M -720, -1620. */
static void overhangs_at_both_ends(void **state) {
    (void)state;
    const double supports[] = {12, 60};
    const struct beam_stretch load = {0, 78, 10};
    const struct beam_answer answer = solve(supports, 2, NULL, 0, &load, 1);
    const double reactions[] = {341.25, 438.75}, moments[] = {-720, -1620};
    expect_list("R", "stored page, by hand", answer.reaction_lb, reactions, 2, 1e-9);
    expect_list("M", "-w a2/2, -w c2/2", answer.moment_inlb, moments, 2, 1e-9);
    expect_figure("hog", "at the second", answer.hog.value, -1620, 1e-9);
    expect_figure("at", "the second", answer.hog.at_in, 60, 0);
    /* Shear just right of the first support 341.25 - 120, just left of the second 180 - 438.75. */
    expect_figure("shear", "by hand", answer.shear.value, -258.75, 1e-9);
}

/* Source: NPTEL structural analysis, example 5.22, stored page (m, kN). */
static void nptel_two_spans(void **state) {
    (void)state;
    const double supports[] = {0, 3, 6};
    const struct beam_point load = {1.5, 120};
    const struct beam_stretch uniform = {3, 6, 40};
    const struct beam_answer answer = solve(supports, 3, &load, 1, &uniform, 1);
    const double reactions[] = {41.25, 157.5, 41.25};
    expect_figure("M_B", "NPTEL 5.22", answer.moment_inlb[1], -56.25, 1e-9);
    expect_list("R", "NPTEL 5.22", answer.reaction_lb, reactions, 3, 1e-9);
}

/* Source: Kassimali, Structural Analysis, example D.3, stored page (ft, k): A fixed, AB 20 ft with
 * 45 k at its middle, BC 30 ft with 1.8 k/ft, -90 k-ft at C.  A fixed end is the middle of a beam
 * with its mirror image; the end moments come from 18 k at 5 ft beyond each C, which only adds 18 k
 * to its reaction. */
static void kassimali_fixed_end_mirrored(void **state) {
    (void)state;
    const double supports[] = {0, 30, 50, 70, 100};
    const struct beam_point loads[] = {{-5, 18}, {40, 45}, {60, 45}, {105, 18}};
    const struct beam_stretch uniform[] = {{0, 30, 1.8}, {70, 100, 1.8}};
    const struct beam_answer answer = solve(supports, 5, loads, 4, uniform, 2);
    const double moments[] = {-90, -142.5, -97.5, -142.5, -90};
    const double reactions[] = {25.25 + 18, 53.5, 40.5, 53.5, 25.25 + 18};
    expect_list("M", "Kassimali D.3", answer.moment_inlb, moments, 5, 1e-9);
    expect_list("R", "Kassimali D.3, derived", answer.reaction_lb, reactions, 5, 1e-9);
}

/* Source: a review problem, stored page: 3 + 3 m, equal overhangs x, 300 N/m, equal reactions;
 * printed 1.319 m, -207 N m, 863.8 N. */
static void overhangs_that_make_the_reactions_equal(void **state) {
    (void)state;
    const double x = 1.3194, supports[] = {x, x + 3, x + 6};
    const struct beam_stretch load = {0, 6 + 2 * x, 300};
    const struct beam_answer answer = solve(supports, 3, NULL, 0, &load, 1);
    expect_figure("M_B", "review problem", answer.moment_inlb[1], -206.94, 0.1);
    for (int i = 0; i < 3; i++)
        expect_figure("R", "review problem", answer.reaction_lb[i], 863.88, 0.1);
}

/* Problem 824 of the same collection: statement stored, answer derived in fractions. */
static void three_spans_loaded_differently(void **state) {
    (void)state;
    const double supports[] = {0, 4, 6, 10};
    const struct beam_point load = {5, 10};
    const struct beam_stretch outer[] = {{0, 4, 2}, {6, 10, 2}};
    const struct beam_answer answer = solve(supports, 4, &load, 1, outer, 2);
    const double reactions[] = {177.0 / 56, 551.0 / 56, 551.0 / 56, 177.0 / 56};
    expect_figure("M", "-47/14", answer.moment_inlb[1], -47.0 / 14, 1e-12);
    expect_figure("M", "-47/14", answer.moment_inlb[2], -47.0 / 14, 1e-12);
    expect_list("R", "fractions", answer.reaction_lb, reactions, 4, 1e-12);
}

/* The next four derived by the three-moment equation in exact fractions. */
static void unequal_spans_uniform(void **state) {
    (void)state;
    const double supports[] = {0, 24, 40, 76};
    const struct beam_stretch load = {0, 76, 10};
    const struct beam_answer answer = solve(supports, 4, NULL, 0, &load, 1);
    const double moments[] = {0, -20540.0 / 63, -73700.0 / 63, 0};
    const double reactions[] = {40225.0 / 378, 30400.0 / 189, 391495.0 / 1134, 83635.0 / 567};
    expect_list("M", "derived", answer.moment_inlb, moments, 4, 1e-9);
    expect_list("R", "derived", answer.reaction_lb, reactions, 4, 1e-9);
}

static void uplift_at_a_short_last_span(void **state) {
    (void)state;
    const double supports[] = {0, 48, 80, 128, 144};
    const struct beam_point load = {20, 300};
    const struct beam_stretch uniform = {0, 144, 12.5};
    const struct beam_answer answer = solve(supports, 5, &load, 1, &uniform, 1);
    const double moments[] = {0, -910175.0 / 226, -147000.0 / 113, -261275.0 / 113, 0};
    const double reactions[] = {4242625.0 / 10848, 17228875.0 / 21696, 8542375.0 / 21696,
                                766925.0 / 1356, -80475.0 / 1808};
    expect_list("M", "derived", answer.moment_inlb, moments, 5, 1e-9);
    expect_list("R", "derived", answer.reaction_lb, reactions, 5, 1e-9);
}

static void overhangs_and_two_spans(void **state) {
    (void)state;
    const double supports[] = {12, 60, 120};
    const struct beam_stretch load = {0, 138, 10};
    const struct beam_answer answer = solve(supports, 3, NULL, 0, &load, 1);
    const double moments[] = {-720, -3170, -1620};
    const double reactions[] = {7415.0 / 24, 4935.0 / 8, 2725.0 / 6};
    expect_list("M", "derived", answer.moment_inlb, moments, 3, 1e-9);
    expect_list("R", "derived", answer.reaction_lb, reactions, 3, 1e-9);
}

static void strut_with_four_clamps(void **state) {
    (void)state;
    const double supports[] = {0, 16, 32, 48};
    const struct beam_point loads[] = {{6.75, 150}, {9.25, 150}, {40.75, 150}, {43.25, 150}};
    const struct beam_answer answer = solve(supports, 4, loads, 4, NULL, 0);
    const double moments[] = {0, -188085.0 / 512, -18345.0 / 64, 0};
    const double reactions[] = {1040715.0 / 8192, 729105.0 / 4096, 1027035.0 / 8192,
                                173655.0 / 1024};
    expect_list("M", "derived", answer.moment_inlb, moments, 4, 1e-9);
    expect_list("R", "derived", answer.reaction_lb, reactions, 4, 1e-9);
}

/* Derived, statics: total uniform load 8 F S / L of a simple braced strut, S 0.200 in3, printed to
 * 1 lb, at 25 ksi (from memory) and at 33 / 1.67 = 19.76 ksi: it must bend it to F within 0.1 %. */
static void strut_under_its_listed_load(void **state) {
    (void)state;
    static const double lengths[] = {24, 36, 48, 60, 72};
    static const double totals[2][5] = {{1667, 1111, 833, 667, 556}, {1317, 878, 659, 527, 439}};
    static const double stresses[] = {25000, 19760};
    for (int f = 0; f < 2; f++)
        for (size_t i = 0; i < COUNT(lengths); i++) {
            const double supports[] = {0, lengths[i]};
            const struct beam_stretch load = {0, lengths[i], totals[f][i] / lengths[i]};
            const struct beam_answer answer = solve(supports, 2, NULL, 0, &load, 1);
            expect_share("F = M / S", answer.sag.value / 0.200, stresses[f], 0, 1e-3);
        }
}

static void load_on_a_support_goes_straight_into_it(void **state) {
    (void)state;
    const double supports[] = {0, 24, 48};
    const struct beam_point loads[] = {{0, 7}, {24, 11}, {48, 13}};
    const struct beam_answer answer = solve(supports, 3, loads, 3, NULL, 0);
    const double reactions[] = {7, 11, 13};
    expect_list("R", "by hand", answer.reaction_lb, reactions, 3, 0);
    expect_figure("M", "none", beam_greatest_inlb(&answer), 0, 0);
    expect_figure("shear", "none", answer.shear.value, 0, 0);
}

/* A clamp 3 in beyond the end lag, 24 in to the next: R = P 27/24, -P 3/24; M = -3 P. */
static void clamp_beyond_the_last_lag_lifts_the_next(void **state) {
    (void)state;
    const double supports[] = {3, 27};
    const struct beam_point load = {0, 240};
    const struct beam_answer answer = solve(supports, 2, &load, 1, NULL, 0);
    expect_figure("R1", "by hand", answer.reaction_lb[0], 270, 1e-9);
    expect_figure("R2", "by hand", answer.reaction_lb[1], -30, 1e-9);
    expect_figure("M", "by hand", answer.hog.value, -720, 1e-9);
    expect_figure("shear", "by hand", answer.shear.value, -240, 1e-9);
}

static void senseless_beams_are_refused_and_leave_the_answer(void **state) {
    (void)state;
    const double two[] = {0, 24}, twice[] = {24, 24}, falling[] = {24, 0}, odd[] = {0, NAN};
    const struct beam_point lost = {INFINITY, 1};
    const struct beam_stretch none = {0, NAN, 1};
    double many[BEAM_SUPPORTS_MOST + 1];
    for (int i = 0; i <= BEAM_SUPPORTS_MOST; i++)
        many[i] = i;
    const struct beam beams[] = {{two, 1, NULL, 0, NULL, 0},   {two, 0, NULL, 0, NULL, 0},
                                 {twice, 2, NULL, 0, NULL, 0}, {falling, 2, NULL, 0, NULL, 0},
                                 {odd, 2, NULL, 0, NULL, 0},   {two, 2, &lost, 1, NULL, 0},
                                 {two, 2, NULL, 0, &none, 1},  {many, 201, NULL, 0, NULL, 0}};
    struct beam_answer answer = {.sag.value = 77};
    for (size_t i = 0; i < COUNT(beams); i++)
        assert_false(beam_solve(&beams[i], &answer));
    expect_figure("untouched", "header", answer.sag.value, 77, 0);
    const struct beam most = {many, BEAM_SUPPORTS_MOST, NULL, 0, NULL, 0};
    assert_true(beam_solve(&most, &answer));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(equal_spans_under_uniform_load),
        cmocka_unit_test(inner_spans_sag_less),
        cmocka_unit_test(two_spans_with_loads_at_their_middles),
        cmocka_unit_test(simple_beam_with_one_load),
        cmocka_unit_test(two_unequal_spans),
        cmocka_unit_test(overhangs_at_both_ends),
        cmocka_unit_test(nptel_two_spans),
        cmocka_unit_test(kassimali_fixed_end_mirrored),
        cmocka_unit_test(overhangs_that_make_the_reactions_equal),
        cmocka_unit_test(three_spans_loaded_differently),
        cmocka_unit_test(unequal_spans_uniform),
        cmocka_unit_test(uplift_at_a_short_last_span),
        cmocka_unit_test(overhangs_and_two_spans),
        cmocka_unit_test(strut_with_four_clamps),
        cmocka_unit_test(strut_under_its_listed_load),
        cmocka_unit_test(load_on_a_support_goes_straight_into_it),
        cmocka_unit_test(clamp_beyond_the_last_lag_lifts_the_next),
        cmocka_unit_test(senseless_beams_are_refused_and_leave_the_answer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
