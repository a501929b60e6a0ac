/* The judgement of one layout, situation by situation.  Without another word the frame is that of
 * docs/strength.md: every figure not worked out here stands there. */
#include "figures.h"
#include "judged.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

enum { TOP_1, TOP_2, TOP_3, BOTTOM_1, BOTTOM_2 };       /* marks of the frame */
enum { RAFTER_AT_64 = 2, RAFTER_AT_88, RAFTER_AT_112 }; /* its rafters */
#define SOURCE "by hand, docs/strength.md"

static double ratio_of(const struct judged *judged, enum strength_kind kind, int which) {
    const struct strength_item *item = judged_item(judged, kind, which);
    assert_non_null(item);
    return item->ratio;
}

static void frame_of_the_page_is_over_one(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged_judge(&judged, OUTCOME_DONE);
    const struct strength *strength = judged.strength;
    assert_false(strength->carries);
    assert_true(strength->complete && strength->struts_judged && strength->rafters_judged);
    expect_figure("worst", SOURCE, strength->worst, 1.7678, 5e-5);
    expect_figure("worst rafter", SOURCE, strength->worst_rafter, 2.3952, 5e-5);
    /* Five lags, one strut, the three rafters that it stands over, in that order. */
    assert_int_equal(strength->count, 9);
    for (size_t i = 0; i < strength->count; i++) {
        const struct strength_item *item = &strength->items[i];
        assert_int_equal(item->kind, i < 5   ? STRENGTH_LAG
                                     : i < 6 ? STRENGTH_STRUT
                                             : STRENGTH_RAFTER);
        assert_int_equal(item->bracket, 0);
        assert_true(strlen(item->clause) > 0);
        expect_figure("ratio", "demand / capacity", item->ratio, item->demand / item->capacity,
                      1e-12);
    }
    assert_int_equal(strength->items[1].rafter, RAFTER_AT_88);
    judged_free(&judged);
}

/* Without the gap mode III_s or IV of the standard holds far more: with l_s 1/2, 61 850 psi,
 * D_r 0.227 and G 0.50 mode IV is D^2 sqrt(2 Fem Fyb / 3 (1 + Re)) / 2.77, Re = 5600 / 61850:
 * 0.051529 x sqrt(2 x 5600 x 60000 / 3.271625) / 2.77 = 266.60 lb. */
static void without_the_gap_the_same_frame_carries_on_its_lags(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.loads.gap = false;
    judged_judge(&judged, OUTCOME_DONE);
    const struct strength_item *lag = judged_item(&judged, STRENGTH_LAG, TOP_1);
    expect_figure("capacity", "NDS Table 12.3.1A, by hand", lag->capacity, 266.60 * 1.15, 0.02);
    expect_figure("ratio", "by hand", lag->ratio, 175.62 / (266.60 * 1.15), 1e-4);
    assert_true(judged.strength->carries);
    judged_free(&judged);
}

/* Empty, the feet pull 225.77 lb on legs 1-1/2 beside their lags, toe 1: 2.5 times that, 564.43.
 * Without snow that governs: alpha = atan(564.43 / 10.96), W'p 984.16. */
static void empty_frame_in_the_wind_pries_on_its_feet(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.loads.gap = false;
    judged.loads.snow_psf = 0;
    judged_judge(&judged, OUTCOME_DONE);
    const struct strength_item *lag = judged_item(&judged, STRENGTH_LAG, BOTTOM_2);
    assert_int_equal(lag->combination, COMBINATION_EMPTY);
    expect_figure("pull", SOURCE, lag->pull_lb, 2.5 * 225.77, 0.02);
    expect_figure("shear", SOURCE, lag->shear_lb, 10.96, 0.005);
    const double alpha = atan2(564.43, 10.96);
    expect_figure("ratio", "Eq. 12.4-1, by hand", lag->ratio,
                  10.96 * cos(alpha) / (1.6 * 266.60) + 564.43 * sin(alpha) / 984.16, 1e-4);
    judged.kit_loads.foot_lag_factor = 3;
    judged_judge(&judged, OUTCOME_DONE);
    expect_figure("maker's factor", "by hand",
                  judged_item(&judged, STRENGTH_LAG, BOTTOM_2)->pull_lb, 3 * 225.77, 0.02);
    judged_free(&judged);
}

/* A report's 400 lb stand as they are, whatever the combination; its 100 lb of uplift are less than
 * the computed withdrawal, 5000 are not. */
static void test_report_stands_in_for_the_computed_values(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.kit_loads.allowable_lateral_lb = 400;
    judged_judge(&judged, OUTCOME_DONE);
    const struct strength_item *lag = judged_item(&judged, STRENGTH_LAG, TOP_1);
    expect_figure("capacity", "by hand", lag->capacity, 400, 1e-9);
    expect_figure("ratio", "by hand", lag->ratio, 175.62 / 400, 2e-5);
    const double before = ratio_of(&judged, STRENGTH_LAG, BOTTOM_1);
    judged.kit_loads.allowable_uplift_lb = 5000;
    judged_judge(&judged, OUTCOME_DONE);
    expect_figure("ratio", "by hand", ratio_of(&judged, STRENGTH_LAG, BOTTOM_1), before, 0);
    judged.kit_loads.allowable_uplift_lb = 100;
    judged_judge(&judged, OUTCOME_DONE);
    const double alpha = atan2(564.43, 10.96);
    expect_figure("ratio", "by hand", ratio_of(&judged, STRENGTH_LAG, BOTTOM_1),
                  10.96 * cos(alpha) / 400 + 564.43 * sin(alpha) / 100, 2e-3);
    judged_free(&judged);
}

static void sistered_rafter_shares_its_bending(void **state) {
    (void)state;
    struct judged single, pair;
    struct plain_knobs knobs = plain_knobs();
    judged_make(&single, NULL);
    judged_judge(&single, OUTCOME_DONE);
    for (int bonded = 0; bonded < 2; bonded++) {
        knobs.plies = 2;
        knobs.bonded = bonded;
        judged_make(&pair, &knobs);
        judged_judge(&pair, OUTCOME_DONE);
        for (int r = RAFTER_AT_64; r <= RAFTER_AT_112; r++) {
            const struct strength_item *one = judged_item(&single, STRENGTH_RAFTER, r);
            const struct strength_item *two = judged_item(&pair, STRENGTH_RAFTER, r);
            expect_share("half", two->demand, one->demand / 2, 0, 1e-12);
            expect_share("half before", two->before, one->before / 2, 0, 1e-12);
            expect_figure("alike", "by hand", two->capacity, one->capacity, 0);
        }
        judged_free(&pair);
    }
    /* A sister that ends at y 100 does not count. */
    knobs.bonded = false;
    judged_make(&pair, &knobs);
    const struct rafter *rafter = &pair.roof->rafters[RAFTER_AT_64];
    pair.roof->plies[rafter->first_ply + 1].reach[1] = 100;
    judged_judge(&pair, OUTCOME_DONE);
    expect_share("short sister", judged_item(&pair, STRENGTH_RAFTER, RAFTER_AT_64)->demand,
                 judged_item(&single, STRENGTH_RAFTER, RAFTER_AT_64)->demand, 0, 1e-12);
    judged_free(&pair);
    judged_free(&single);
}

/* Rafters 24 in apart share load: F'b 1547.325 under snow.  The one at 40 moved to 38 leaves the
 * one at 64 with a neighbour 26 in off, and a strip of 12 + 13 in: F'b 1345.5, before 25/24 x 1.15
 * as much.  Split, the one at 40 carries nothing: strip 12 + 24. */
static void neighbours_decide_strip_and_sharing(void **state) {
    (void)state;
    struct judged judged;
    struct plain_knobs knobs = plain_knobs();
    judged_make(&judged, NULL);
    judged_judge(&judged, OUTCOME_DONE);
    const struct strength_item *item = judged_item(&judged, STRENGTH_RAFTER, RAFTER_AT_64);
    expect_figure("F'b", SOURCE, item->capacity, 1547.325, 1e-9);
    expect_figure("before", SOURCE, item->before, 1.147787, 1e-6);
    judged.roof->rafters[1].at = 38;
    judged_judge(&judged, OUTCOME_DONE);
    item = judged_item(&judged, STRENGTH_RAFTER, RAFTER_AT_64);
    expect_figure("F'b", "by hand", item->capacity, 1345.5, 1e-9);
    expect_figure("before", "by hand", item->before, 1.147787 * 1.15 * 25 / 24, 2e-6);
    expect_figure("F'b of the next", "by hand",
                  judged_item(&judged, STRENGTH_RAFTER, RAFTER_AT_88)->capacity, 1547.325, 1e-9);
    judged_free(&judged);
    knobs.unsound = 2;
    judged_make(&judged, &knobs);
    judged_judge(&judged, OUTCOME_DONE);
    item = judged_item(&judged, STRENGTH_RAFTER, RAFTER_AT_64);
    expect_figure("F'b", "by hand", item->capacity, 1345.5, 1e-9);
    expect_figure("before", "by hand", item->before, 1.147787 * 1.15 * 36 / 24, 2e-6);
    judged_free(&judged);
}

/* The rafter rests at 60 and at 60 + 36 x 13/12 = 99: the foot's lag at 43.5 is on its tail, the
 * strut's at 105.375 beyond the upper support.  Under D + S the tail's moment governs:
 * 342.33 x 16.5, and 37 psf on 24 in, x cos^2 = 5.2544 lb/in, over 60 in, less the roof's snow
 * under the frame, 3.5503 lb/in from 32.375 to 60: 5648.4 + 9457.9 - 1354.7 = 13751.7 in-lb. */
static void lag_on_the_tail_bends_it_over_the_bearing(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.loads.rafter.bearing_in = 60;
    judged.loads.rafter.span_in = 36;
    judged_judge(&judged, OUTCOME_DONE);
    const struct strength_item *item = judged_item(&judged, STRENGTH_RAFTER, RAFTER_AT_64);
    assert_int_equal(item->combination, COMBINATION_SNOW);
    expect_figure("fb", "by hand", item->demand, 13751.7 / 7.5625, 0.05);
    judged_free(&judged);
}

static void unknown_rafters_are_light_and_not_judged(void **state) {
    (void)state;
    struct judged judged;
    struct strength_lag lag;
    judged_make(&judged, NULL);
    judged.loads.has_rafter = false;
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->rafters_judged);
    assert_null(judged_item(&judged, STRENGTH_RAFTER, RAFTER_AT_64));
    expect_figure("none", "by hand", judged.strength->worst_rafter, 0, 0);
    assert_int_equal(
        strength_lag_find(&judged.roof->kits[0], &judged.kit_loads, &judged.loads, &lag), LAG_GOOD);
    expect_figure("G", "the lightest", lag.gravity, 0.36, 0);
    expect_figure("W p_t", "by hand: 1800 x 0.216 x 0.3125^0.75 x 2.3125", lag.withdrawal_lb,
                  375.79, 0.005);
    judged_free(&judged);
}

static void trusses_are_not_judged_as_rafters(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.roof->trusses = true;
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->rafters_judged);
    assert_null(judged_item(&judged, STRENGTH_RAFTER, RAFTER_AT_64));
    expect_figure("lags all the same", SOURCE, judged.strength->worst, 1.7678, 5e-5);
    judged_free(&judged);
}

static void strut_without_section_or_stress_is_not_judged(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.kit_loads.strut_section_in3 = 0;
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->struts_judged);
    assert_null(judged_item(&judged, STRENGTH_STRUT, ROW_TOP));
    assert_non_null(judged_item(&judged, STRENGTH_LAG, TOP_1));
    judged_free(&judged);
    /* On feet alone there is no strut to miss. */
    struct plain_knobs knobs = plain_knobs();
    knobs.hardware[ROW_TOP] = HARDWARE_FEET;
    judged_make(&judged, &knobs);
    judged.kit_loads.strut_section_in3 = 0;
    judged_judge(&judged, OUTCOME_DONE);
    assert_true(judged.strength->struts_judged && judged.strength->complete);
    /* A foot takes its leg's force: down the slope 175.62 each. */
    for (int mark = 0; mark < 4; mark++)
        expect_figure("demand", SOURCE, judged_item(&judged, STRENGTH_LAG, mark)->demand, 175.62,
                      0.005);
    judged_free(&judged);
}

static void strut_over_its_stress_does_not_carry(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.loads.gap = false;
    judged.kit_loads.strut_stress_psi = 6430; /* it bends to 6430.5 */
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->carries);
    judged.kit_loads.strut_stress_psi = 6431;
    judged_judge(&judged, OUTCOME_DONE);
    assert_true(judged.strength->carries);
    /* A rafter over 1 is a warning; it does not stop a layout. */
    assert_true(judged.strength->worst_rafter > 1);
    judged_free(&judged);
}

static void row_without_all_its_lags_is_left_out_and_said_so(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    const size_t all = judged.marks->count;
    judged.marks->count = all - 1; /* a foot is missing */
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->complete);
    assert_non_null(judged_item(&judged, STRENGTH_LAG, TOP_1));
    assert_null(judged_item(&judged, STRENGTH_LAG, BOTTOM_1));
    judged.marks->count = all - 2; /* no bottom row: no moment to reckon with */
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->complete);
    assert_null(judged_item(&judged, STRENGTH_LAG, TOP_1));
    judged.marks->count = 0;
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->complete);
    judged.marks->count = all;
    judged.marks->list[TOP_2].x = judged.marks->list[TOP_1].x; /* two lags in one place */
    judged_judge(&judged, OUTCOME_DONE);
    assert_false(judged.strength->complete);
    assert_null(judged_item(&judged, STRENGTH_STRUT, ROW_TOP));
    judged_free(&judged);
}

static void kit_that_cannot_be_reckoned_with_is_refused(void **state) {
    (void)state;
    struct judged judged;
    struct strength_lag lag = {.gravity = 77};
    judged_make(&judged, NULL);
    struct kit *kit = &judged.roof->kits[0];
    static const struct {
        double diameter, length;
        enum lag_fault fault;
    } rows[] = {{0.3125, 1.5, LAG_NO_WOOD},
                {0.3125, 2.5, LAG_SHALLOW},
                {0.4375, 4, LAG_UNLISTED},
                {0.3125, 12, LAG_TOO_DEEP}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        kit->lag_diameter = rows[i].diameter;
        kit->lag_length = rows[i].length;
        judged_judge(&judged, OUTCOME_BAD_INPUT);
        assert_int_equal(strength_lag_find(kit, &judged.kit_loads, &judged.loads, &lag),
                         rows[i].fault);
    }
    expect_figure("untouched", "header", lag.gravity, 77, 0);
    kit->lag_diameter = 0.3125;
    kit->lag_length = 4;
    kit->has_weight = false;
    judged_judge(&judged, OUTCOME_BAD_INPUT);
    judged_free(&judged);
}

static void two_frames_are_judged_each_on_its_own_rafters(void **state) {
    (void)state;
    struct judged one, two;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    judged_make(&one, NULL);
    judged_judge(&one, OUTCOME_DONE);
    judged_make(&two, &knobs);
    judged_judge(&two, OUTCOME_DONE);
    assert_int_equal(two.strength->count, 2 * one.strength->count);
    /* B is A four rafters further on; nothing else differs. */
    for (int r = RAFTER_AT_64; r <= RAFTER_AT_112; r++) {
        const struct strength_item *a = judged_item(&two, STRENGTH_RAFTER, r);
        const struct strength_item *b = judged_item(&two, STRENGTH_RAFTER, r + 4);
        assert_int_equal(a->bracket, 0);
        assert_int_equal(b->bracket, 1);
        expect_share("A", a->ratio, ratio_of(&one, STRENGTH_RAFTER, r), 0, 1e-12);
        expect_share("B", b->ratio, a->ratio, 0, 1e-12);
    }
    for (int mark = 0; mark < 5; mark++)
        expect_share("B", ratio_of(&two, STRENGTH_LAG, mark + 5),
                     ratio_of(&one, STRENGTH_LAG, mark), 0, 1e-9);
    judged_free(&two);
    judged_free(&one);
}

static void every_kind_has_its_own_word(void **state) {
    (void)state;
    static const char *const words[] = {"lag", "strut", "rafter"};
    for (int i = 0; i < STRENGTH_KIND_COUNT; i++)
        assert_string_equal(strength_kind_word((enum strength_kind)i), words[i]);
    strength_free(NULL);
}

/* 1 kPa is 1000 N/m2: 20.885 psf; 1 MPa 145.038 psi; 1 m/s 2.23694 mph; from the exact pound,
 * 4.4482216152605 N, foot, 0.3048 m, and mile, 1609.344 m. */
static void metric_files_are_converted_exactly(void **state) {
    (void)state;
    const double newtons = 4.4482216152605, foot = 0.3048;
    expect_share("psf", UNIT_PSF_PER_KPA, 1000 * foot * foot / newtons, 0, 1e-15);
    expect_share("psi", UNIT_PSI_PER_MPA, 1e6 * (foot / 12) * (foot / 12) / newtons, 0, 1e-15);
    expect_share("mph", UNIT_MPH_PER_MPS, 3600 / 1609.344, 0, 1e-15);
    expect_share("ft", UNIT_FT_PER_M, 1 / foot, 0, 1e-15);
    expect_figure("N", "exact", UNIT_N_PER_LB, newtons, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(frame_of_the_page_is_over_one),
        cmocka_unit_test(without_the_gap_the_same_frame_carries_on_its_lags),
        cmocka_unit_test(empty_frame_in_the_wind_pries_on_its_feet),
        cmocka_unit_test(test_report_stands_in_for_the_computed_values),
        cmocka_unit_test(sistered_rafter_shares_its_bending),
        cmocka_unit_test(neighbours_decide_strip_and_sharing),
        cmocka_unit_test(lag_on_the_tail_bends_it_over_the_bearing),
        cmocka_unit_test(unknown_rafters_are_light_and_not_judged),
        cmocka_unit_test(trusses_are_not_judged_as_rafters),
        cmocka_unit_test(strut_without_section_or_stress_is_not_judged),
        cmocka_unit_test(strut_over_its_stress_does_not_carry),
        cmocka_unit_test(row_without_all_its_lags_is_left_out_and_said_so),
        cmocka_unit_test(kit_that_cannot_be_reckoned_with_is_refused),
        cmocka_unit_test(two_frames_are_judged_each_on_its_own_rafters),
        cmocka_unit_test(every_kind_has_its_own_word),
        cmocka_unit_test(metric_files_are_converted_exactly),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
