/* setback: brackets inside the face less its setbacks, flashings on the face. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static struct finding bracket(void) {
    return about(RULE_SETBACK, 0, CHECK_NONE, CHECK_NONE);
}

static struct finding first_foot(void) {
    return about(RULE_SETBACK, 0, ROW_BOTTOM, 3);
}

static void put(struct trial *trial, double x, double y) {
    trial->marks->brackets[0].x = x;
    trial->marks->brackets[0].y = y;
}

/* From (50 1/2, 32 3/8) to (122 1/2, 116 3/8): 20 3/8 to the eave's setback is the least. */
static void bracket_in_the_open_has_the_least_of_four_distances(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, bracket(), 20.375);
}

/* 12 from the eave and each rake, 18 from the ridge: x from 12 to 360 - 12 - 72 = 276, y from 12 to
 * 196 - 18 - 84 = 94. */
static void bracket_on_each_setback_is_exactly_zero(void **state) {
    struct trial *trial = *state;
    const double places[][2] = {{12, 50}, {276, 50}, {100, 12}, {100, 94}};
    for (size_t i = 0; i < 4; i++) {
        put(trial, places[i][0], places[i][1]);
        expect_margin(trial->roof, trial->marks, bracket(), 0);
    }
}

static void bracket_a_tick_over_each_setback_is_broken(void **state) {
    struct trial *trial = *state;
    const double places[][2] = {
        {12 - TICK, 50}, {276 + TICK, 50}, {100, 12 - TICK}, {100, 94 + TICK}};
    for (size_t i = 0; i < 4; i++) {
        put(trial, places[i][0], places[i][1]);
        expect_margin(trial->roof, trial->marks, bracket(), -TICK);
    }
}

/* Flashings need the face only, no setback: 9 in wide, so x from 4 1/2 to 355 1/2; 3 1/4 below the
 * hole and 8 3/4 above it, so y from 3 1/4 to 187 1/4. */
static void flashing_at_each_edge_of_the_face_is_exactly_zero(void **state) {
    struct trial *trial = *state;
    const double places[][2] = {{4.5, 50}, {355.5, 50}, {100, 3.25}, {100, 187.25}};
    for (size_t i = 0; i < 4; i++) {
        trial->marks->list[3].x = places[i][0];
        trial->marks->list[3].y = places[i][1];
        expect_margin(trial->roof, trial->marks, first_foot(), 0);
    }
}

static void flashing_a_tick_over_each_edge_is_broken(void **state) {
    struct trial *trial = *state;
    const double places[][2] = {
        {4.5 - TICK, 50}, {355.5 + TICK, 50}, {100, 3.25 - TICK}, {100, 187.25 + TICK}};
    for (size_t i = 0; i < 4; i++) {
        trial->marks->list[3].x = places[i][0];
        trial->marks->list[3].y = places[i][1];
        expect_margin(trial->roof, trial->marks, first_foot(), -TICK);
    }
}

/* A hip in place of the far rake, at 3 in 5 and 4 in 5: inside is -0.6 x - 0.8 y + 190 >= 0.  The
 * bracket's upper far corner (122 1/2, 116 3/8) is 190 - 73.5 - 93.1 = 23.4 inside, 23.4 - 12 from
 * its setback.  The flashing of the lag at (112, 105 3/8) ends at (116 1/2, 114 1/8):
 * 190 - 69.9 - 91.3 = 28.8. */
static void slanting_edge_sees_the_corner_that_is_nearest_to_it(void **state) {
    struct trial *trial = *state;
    struct edge *far = trial_edge(trial, EDGE_FAR);
    *far = (struct edge){EDGE_FAR, -0.6, -0.8, -190, 12};
    expect_margin(trial->roof, trial->marks, bracket(), 11.4);
    expect_margin(trial->roof, trial->marks, about(RULE_SETBACK, 0, ROW_TOP, 2), 28.8);
    far->offset = -190 + 11.5;
    expect_margin(trial->roof, trial->marks, bracket(), -0.1);
}

/* A corner that leans by 3 along to 4 up: both rakes run (0.6, 0.8), the near one's distance is
 * 0.8 x - 0.6 y, the far one's 288 - 0.8 x + 0.6 y. */
static void lean_by_three_to_four(struct trial *trial) {
    struct plain_knobs knobs = plain_knobs();
    knobs.ridge_in[SIDE_NEAR] = 147;
    knobs.ridge_in[SIDE_FAR] = -147;
    trial_rebuild(trial, &knobs);
}

/* The near rake sees the bracket's upper near corner, at height 116 3/8: 12 square to the rake are
 * 0.8 x = 12 + 69.825; the far one sees the lower far corner: 0.8 x = 288 + 19.425 - 12. */
static void bracket_on_the_setback_of_a_leaning_rake(void **state) {
    struct trial *trial = *state;
    lean_by_three_to_four(trial);
    put(trial, 102.28125, PLAIN_Y);
    expect_margin(trial->roof, trial->marks, bracket(), 0);
    put(trial, 102.28125, PLAIN_Y + TICK);
    expect_margin(trial->roof, trial->marks, bracket(), -0.6 * TICK);
    put(trial, 369.28125 - 72, PLAIN_Y);
    expect_margin(trial->roof, trial->marks, bracket(), 0);
    put(trial, 369.28125 - 72 + TICK, PLAIN_Y);
    expect_margin(trial->roof, trial->marks, bracket(), -0.8 * TICK);
}

/* A flashing whose hole is 43 1/2 up ends at 52 1/4, 4 1/2 nearer to the rake than its hole:
 * 0.8 x = 31.35. */
static void flashing_on_a_leaning_rake(void **state) {
    struct trial *trial = *state;
    lean_by_three_to_four(trial);
    trial->marks->list[3].x = 39.1875 + 4.5;
    expect_margin(trial->roof, trial->marks, first_foot(), 0);
    trial->marks->list[3].x -= TICK;
    expect_margin(trial->roof, trial->marks, first_foot(), -0.8 * TICK);
}

/* Hips of 3 to 4 from both sides, the ridge between 147 and 213: the near one as above, the far one
 * 288 - 0.8 x - 0.6 y. */
static void bracket_between_two_hips(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.ridge_in[SIDE_NEAR] = knobs.ridge_in[SIDE_FAR] = 147;
    trial_rebuild(trial, &knobs);
    put(trial, 102.28125, PLAIN_Y);
    expect_margin(trial->roof, trial->marks, bracket(), 0);
    put(trial, 257.71875 - 72, PLAIN_Y);
    expect_margin(trial->roof, trial->marks, bracket(), 0);
    put(trial, 257.71875 - 72, PLAIN_Y + TICK);
    expect_margin(trial->roof, trial->marks, bracket(), -0.6 * TICK);
}

/* The same hips run on to a point at 240: no ridge, no setback from it.  Half way between them the
 * bracket can rise until 0.8 x 144 - 0.6 y = 12: y = 172. */
static void bracket_in_a_triangle(void **state) {
    static const struct point corners[] = {{0, 0}, {360, 0}, {180, 240}};
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.outline = corners;
    knobs.outline_count = 3;
    trial_rebuild(trial, &knobs);
    put(trial, 144, 172 - 84);
    expect_margin(trial->roof, trial->marks, bracket(), 0);
    put(trial, 144, 172 - 84 + TICK);
    expect_margin(trial->roof, trial->marks, bracket(), -0.6 * TICK);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(bracket_in_the_open_has_the_least_of_four_distances,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(bracket_on_each_setback_is_exactly_zero, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(bracket_a_tick_over_each_setback_is_broken, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(flashing_at_each_edge_of_the_face_is_exactly_zero,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(flashing_a_tick_over_each_edge_is_broken, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(slanting_edge_sees_the_corner_that_is_nearest_to_it,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(bracket_on_the_setback_of_a_leaning_rake, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(flashing_on_a_leaning_rake, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(bracket_between_two_hips, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(bracket_in_a_triangle, trial_set_up, trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
