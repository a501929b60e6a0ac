/* row and clearance: where rows meet their bracket. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static struct finding row_of(enum row row) {
    return about(RULE_ROW, 0, (int)row, CHECK_NONE);
}

static struct finding clearance(void) {
    return about(RULE_CLEARANCE, 0, ROW_BOTTOM, CHECK_NONE);
}

/* The top row is 73 up the legs, in the middle of 70 ... 76; the bottom row 11 1/8, of 4 ... 20. */
static void rows_inside_their_windows_hold(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, row_of(ROW_TOP), 3);
    expect_margin(trial->roof, trial->marks, row_of(ROW_BOTTOM), 7.125);
}

static void top_row_at_both_ends_of_its_window(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].y = PLAIN_TOP_Y - 76;
    expect_margin(trial->roof, trial->marks, row_of(ROW_TOP), 0);
    trial->marks->brackets[0].y = PLAIN_TOP_Y - 76 - TICK;
    expect_margin(trial->roof, trial->marks, row_of(ROW_TOP), -TICK);
    trial->marks->brackets[0].y = PLAIN_TOP_Y - 70;
    expect_margin(trial->roof, trial->marks, row_of(ROW_TOP), 0);
    trial->marks->brackets[0].y = PLAIN_TOP_Y - 70 + TICK;
    expect_margin(trial->roof, trial->marks, row_of(ROW_TOP), -TICK);
}

static void bottom_row_at_both_ends_of_its_window(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 20;
    expect_margin(trial->roof, trial->marks, row_of(ROW_BOTTOM), 0);
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 20 - TICK;
    expect_margin(trial->roof, trial->marks, row_of(ROW_BOTTOM), -TICK);
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 4;
    expect_margin(trial->roof, trial->marks, row_of(ROW_BOTTOM), 0);
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 4 + TICK;
    expect_margin(trial->roof, trial->marks, row_of(ROW_BOTTOM), -TICK);
}

/* Where the marks of a row differ, the worst of them counts: 11 1/8 and 20 1/2, of 4 ... 20. */
static void row_is_as_good_as_its_worst_mark(void **state) {
    struct trial *trial = *state;
    trial->marks->list[4].y = PLAIN_Y + 20.5;
    expect_margin(trial->roof, trial->marks, row_of(ROW_BOTTOM), -0.5);
}

/* Feet half 1, wrench 1/2, the greater gap 1 1/2, depth 2: 5 in are needed up the legs. */
static void feet_above_the_bottom_bracket(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, clearance(), 6.125);
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 5;
    expect_margin(trial->roof, trial->marks, clearance(), 0);
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 5 + TICK;
    expect_margin(trial->roof, trial->marks, clearance(), -TICK);
}

/* A strut takes 7/8 where a foot takes 1: 4 7/8 are needed. */
static void strut_above_the_bottom_bracket(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].hardware[ROW_BOTTOM] = HARDWARE_STRUT;
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 4.875;
    expect_margin(trial->roof, trial->marks, clearance(), 0);
    trial->marks->brackets[0].y = PLAIN_BOTTOM_Y - 4.875 + TICK;
    expect_margin(trial->roof, trial->marks, clearance(), -TICK);
}

static void top_row_has_no_clearance_to_keep(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_null(held_find(verdict, about(RULE_CLEARANCE, 0, ROW_TOP, CHECK_NONE)));
    verdict_free(verdict);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(rows_inside_their_windows_hold, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(top_row_at_both_ends_of_its_window, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(bottom_row_at_both_ends_of_its_window, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(row_is_as_good_as_its_worst_mark, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(feet_above_the_bottom_bracket, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_above_the_bottom_bracket, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(top_row_has_no_clearance_to_keep, trial_set_up,
                                        trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
