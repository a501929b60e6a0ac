/* wood: the lag is in sound wood, clear of its faces. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static const struct finding second_foot = {RULE_WOOD,  0,          ROW_BOTTOM, 4, CHECK_NONE,
                                           CHECK_NONE, CHECK_NONE, CHECK_NONE, 0};

/* A ply of 1 1/2 known to 1/8, a lag of 5/16: 3/4 - 1 1/2 x 5/16 - 1/8 = 5/32. */
static void lag_in_the_middle_of_a_ply_holds(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, second_foot, 0.15625);
}

/* 5/32 off the middle nothing is left, to either side. */
static void lag_at_its_edge_distance_is_exactly_zero(void **state) {
    struct trial *trial = *state;
    trial->marks->list[4].x = 112.15625;
    expect_margin(trial->roof, trial->marks, second_foot, 0);
    trial->marks->list[4].x = 111.84375;
    expect_margin(trial->roof, trial->marks, second_foot, 0);
}

static void lag_a_tick_beyond_is_broken_by_a_tick(void **state) {
    struct trial *trial = *state;
    trial->marks->list[4].x = 112.15625 + TICK;
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
    trial->marks->list[4].x = 111.84375 - TICK;
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
}

/* Margins of a millionth of an inch below zero are arithmetic, not wood. */
static void tolerance_of_arithmetic_is_a_millionth_of_an_inch(void **state) {
    struct trial *trial = *state;
    trial->marks->list[4].x = 112.15625 + 0.9e-6;
    expect_broken(trial->roof, trial->marks, "");
    trial->marks->list[4].x = 112.15625 + 1.1e-6;
    expect_broken(trial->roof, trial->marks, "wood");
}

/* Lagging to one that is split does not count: rafter 4, 24 in off, is the nearest sound one.
 * 3/4 - 24 - 15/32 - 1/8. */
static void lag_in_an_unsound_rafter_is_judged_by_the_nearest_sound_one(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.unsound = 5;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    expect_margin(trial->roof, trial->marks, second_foot, 0.75 - 24 - 0.59375);
}

/* No wood at all: the whole width of the face is missing, and nothing falls over. */
static void face_without_sound_wood_is_broken(void **state) {
    struct trial *trial = *state;
    trial->roof->ply_count = 0;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(held_margin(verdict, second_foot), -360);
    assert_true(verdict->seats[4].ply == SIZE_MAX);
    assert_false(verdict->holds);
    verdict_free(verdict);
}

/* Original ply 111 1/4 ... 112 3/4, its sister 112 3/4 ... 114 1/4.  In the middle of the sister,
 * at 113 1/2, 5/32 is left; the seam has edge distance 0 to both: 0 - 15/32 - 1/8. */
static void lag_on_the_seam_of_a_sistered_rafter_is_broken(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    trial->marks->list[4].x = 113.5;
    expect_margin(trial->roof, trial->marks, second_foot, 0.15625);
    trial->marks->list[4].x = 112.75;
    expect_margin(trial->roof, trial->marks, second_foot, -0.59375);
}

/* Bonded, the same two are one target 3 in thick, its middle where the seam was:
 * 1 1/2 - 15/32 - 1/8, and zero 29/32 to its side. */
static void lag_on_the_seam_of_a_bonded_rafter_has_the_whole_thickness(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    knobs.bonded = true;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    trial->marks->list[4].x = 112.75;
    expect_margin(trial->roof, trial->marks, second_foot, 0.90625);
    trial->marks->list[4].x = 112.75 + 0.90625;
    expect_margin(trial->roof, trial->marks, second_foot, 0);
    trial->marks->list[4].x += TICK;
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
}

/* Between rafter 5 (112, known to 1/8) and rafter 6 (136, known to 3 in only): at
 * 125 the nearer is 6 (11), but 3/4 - 11 - 15/32 - 3 is less
 * than 3/4 - 13 - 15/32 - 1/8. */
static void ply_is_the_one_with_most_margin_not_the_nearest(void **state) {
    struct trial *trial = *state;
    trial->roof->plies[5].tolerance = 3;
    trial->marks->list[4].x = 125;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(held_margin(verdict, second_foot), 0.75 - 13 - 0.46875 - 0.125);
    assert_int_equal(verdict->seats[4].ply, 4);
    verdict_free(verdict);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(lag_in_the_middle_of_a_ply_holds, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_at_its_edge_distance_is_exactly_zero, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_a_tick_beyond_is_broken_by_a_tick, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(tolerance_of_arithmetic_is_a_millionth_of_an_inch,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_in_an_unsound_rafter_is_judged_by_the_nearest_sound_one,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(face_without_sound_wood_is_broken, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_on_the_seam_of_a_sistered_rafter_is_broken,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_on_the_seam_of_a_bonded_rafter_has_the_whole_thickness,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(ply_is_the_one_with_most_margin_not_the_nearest,
                                        trial_set_up, trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
