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

/* Rafters gain 1/32 an inch: 48 up, rafter 5 has its middle at 113 1/2. */
static void lag_in_a_leaning_rafter(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.lean = 1.0 / 32;
    trial_rebuild(trial, &knobs);
    struct mark *mark = &trial->marks->list[4];
    mark->x = 113.5;
    mark->y = 48;
    expect_margin(trial->roof, trial->marks, second_foot, 0.15625);
    mark->x = 113.5 - 0.15625;
    expect_margin(trial->roof, trial->marks, second_foot, 0);
    mark->x -= TICK;
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
}

/* The rafter at the mark's own height is what counts: the same x, 5 in higher, is 5/32 off; a tick
 * more of lean's worth (2 in) and it is broken by that. */
static void lag_straight_up_a_leaning_rafter(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.lean = 1.0 / 32;
    trial_rebuild(trial, &knobs);
    struct mark *mark = &trial->marks->list[4];
    mark->x = 113.5;
    mark->y = 48 + 5;
    expect_margin(trial->roof, trial->marks, second_foot, 0);
    mark->y += 2;
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
}

/* Rafter 6 runs toward rafter 5: 48 up, at 136 - 24 + 6 = 118, it is nearer to a lag at 117. */
static void ply_is_found_at_the_height_of_the_mark(void **state) {
    struct trial *trial = *state;
    struct mark *mark = &trial->marks->list[4];
    trial->roof->plies[5].lean = -18.0 / 48;
    mark->x = 117;
    mark->y = 48;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(held_margin(verdict, second_foot), 0.75 - 1 - 0.46875 - 0.125);
    assert_int_equal(verdict->seats[4].ply, 5);
    verdict_free(verdict);
}

/* The sister of rafter 5, its middle at 113 1/2, takes lags from 60 to 150 up the roof. */
static void lag_near_the_ends_of_a_short_sister(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    knobs.sister_reach[0] = 60;
    knobs.sister_reach[1] = 150;
    trial_rebuild(trial, &knobs);
    struct mark *mark = &trial->marks->list[4];
    const double heights[] = {60, 150}, inward[] = {1, -1};
    mark->x = 113.5;
    mark->y = 100;
    expect_margin(trial->roof, trial->marks, second_foot, 0.15625);
    for (size_t i = 0; i < 2; i++) {
        mark->y = heights[i] + inward[i] * 0.125;
        expect_margin(trial->roof, trial->marks, second_foot, 0.125);
        mark->y = heights[i];
        expect_margin(trial->roof, trial->marks, second_foot, 0);
        mark->y = heights[i] - inward[i] * TICK;
        expect_margin(trial->roof, trial->marks, second_foot, -TICK);
    }
}

/* 10 in short of it the original ply, 1 1/2 away, is the better target: 3/4 - 1 1/2 - 19/32. */
static void lag_beyond_a_short_sister_is_judged_by_the_original(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    knobs.sister_reach[0] = 60;
    knobs.sister_reach[1] = 150;
    trial_rebuild(trial, &knobs);
    trial->marks->list[4].x = 113.5;
    trial->marks->list[4].y = 50;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(held_margin(verdict, second_foot), -1.34375);
    assert_int_equal(verdict->seats[4].ply, 8);
    verdict_free(verdict);
}

/* The feet are 43 1/2 up; a wall line that keeps lags above that, and then a tick higher. */
static void lag_uphill_of_the_wall_line(void **state) {
    struct trial *trial = *state;
    for (size_t i = 0; i < trial->roof->ply_count; i++) {
        trial->roof->plies[i].reach[0] = PLAIN_BOTTOM_Y;
    }
    expect_margin(trial->roof, trial->marks, second_foot, 0);
    for (size_t i = 0; i < trial->roof->ply_count; i++) {
        trial->roof->plies[i].reach[0] += TICK;
    }
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
}

/* A splice in rafter 5, above the foot at 43 1/2, or below it. */
static void lag_beside_a_keepout(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.keepout = 5;
    knobs.keepout_at[0] = PLAIN_BOTTOM_Y + 0.125;
    knobs.keepout_at[1] = 60;
    trial_rebuild(trial, &knobs);
    struct keepout *keepout = &trial->roof->keepouts[0];
    expect_margin(trial->roof, trial->marks, second_foot, 0.125);
    keepout->y0 = PLAIN_BOTTOM_Y;
    expect_margin(trial->roof, trial->marks, second_foot, 0);
    keepout->y0 = PLAIN_BOTTOM_Y - TICK;
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
    keepout->y0 = 30;
    keepout->y1 = PLAIN_BOTTOM_Y;
    expect_margin(trial->roof, trial->marks, second_foot, 0);
    keepout->y1 = PLAIN_BOTTOM_Y + TICK;
    expect_margin(trial->roof, trial->marks, second_foot, -TICK);
    keepout->y1 = 60;
    expect_margin(trial->roof, trial->marks, second_foot, 30 - PLAIN_BOTTOM_Y);
}

/* One of another rafter is none of this lag's business, nor one at the top row's height. */
static void keepout_of_another_rafter_or_height(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.keepout = 6;
    knobs.keepout_at[0] = 30;
    knobs.keepout_at[1] = 60;
    trial_rebuild(trial, &knobs);
    expect_broken(trial->roof, trial->marks, "");
    trial->roof->keepouts[0] = (struct keepout){.rafter = 4, .y0 = 50, .y1 = 60};
    expect_margin(trial->roof, trial->marks, second_foot, 0.15625);
}

/* It holds for every ply of its rafter. */
static void keepout_of_a_sistered_rafter(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    knobs.keepout = 5;
    knobs.keepout_at[0] = 40;
    knobs.keepout_at[1] = 45;
    trial_rebuild(trial, &knobs);
    expect_margin(trial->roof, trial->marks, second_foot, PLAIN_BOTTOM_Y - 45);
    trial->marks->list[4].x = 113.5;
    expect_margin(trial->roof, trial->marks, second_foot, PLAIN_BOTTOM_Y - 45);
}

/* Out of one this long a lag comes sooner by going to the next rafter: 3/4 - 24 - 19/32. */
static void lag_in_a_long_keepout_is_judged_by_the_next_rafter(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.keepout = 5;
    knobs.keepout_at[0] = 0;
    knobs.keepout_at[1] = 120;
    trial_rebuild(trial, &knobs);
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(held_margin(verdict, second_foot), 0.75 - 24 - 0.59375);
    assert_int_equal(verdict->seats[4].ply, 3);
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
        cmocka_unit_test_setup_teardown(lag_in_a_leaning_rafter, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_straight_up_a_leaning_rafter, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(ply_is_found_at_the_height_of_the_mark, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_near_the_ends_of_a_short_sister, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_beyond_a_short_sister_is_judged_by_the_original,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_uphill_of_the_wall_line, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_beside_a_keepout, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(keepout_of_another_rafter_or_height, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(keepout_of_a_sistered_rafter, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_in_a_long_keepout_is_judged_by_the_next_rafter,
                                        trial_set_up, trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
