/* row-line and complete: one line a row, one foot a leg, two lags a strut. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static struct finding of_row(enum rule rule, enum row row) {
    return about(rule, 0, (int)row, CHECK_NONE);
}

static void marks_on_one_line_are_exactly_zero(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, of_row(RULE_ROW_LINE, ROW_TOP), 0);
    expect_margin(trial->roof, trial->marks, of_row(RULE_ROW_LINE, ROW_BOTTOM), 0);
}

static void mark_a_tick_off_its_line_is_broken(void **state) {
    struct trial *trial = *state;
    trial->marks->list[1].y += TICK;
    trial->marks->list[4].y -= TICK;
    expect_margin(trial->roof, trial->marks, of_row(RULE_ROW_LINE, ROW_TOP), -TICK);
    expect_margin(trial->roof, trial->marks, of_row(RULE_ROW_LINE, ROW_BOTTOM), -TICK);
    expect_broken(trial->roof, trial->marks, "row-line");
}

static void one_foot_a_leg_and_two_lags_a_strut_are_complete(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, of_row(RULE_COMPLETE, ROW_TOP), 0);
    expect_margin(trial->roof, trial->marks, of_row(RULE_COMPLETE, ROW_BOTTOM), 0);
    trial->roof->kits[0].every_rafter = false;
    trial_drop(trial, 1);
    expect_margin(trial->roof, trial->marks, of_row(RULE_COMPLETE, ROW_TOP), 0);
}

static void missing_foot_is_one_too_few(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, 4);
    expect_margin(trial->roof, trial->marks, of_row(RULE_COMPLETE, ROW_BOTTOM), -1);
    expect_broken(trial->roof, trial->marks, "complete");
}

static void row_without_marks_lacks_them_all(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, 4);
    trial_drop(trial, 3);
    expect_margin(trial->roof, trial->marks, of_row(RULE_COMPLETE, ROW_BOTTOM), -2);
    expect_broken(trial->roof, trial->marks, "complete");
}

static void strut_on_one_lag_is_one_too_few(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, 2);
    trial_drop(trial, 1);
    expect_margin(trial->roof, trial->marks, of_row(RULE_COMPLETE, ROW_TOP), -1);
}

static void no_marks_at_all_are_judged_without_a_crash(void **state) {
    struct trial *trial = *state;
    trial->marks->count = 0;
    expect_margin(trial->roof, trial->marks, of_row(RULE_COMPLETE, ROW_TOP), -2);
    expect_broken(trial->roof, trial->marks, "complete");
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->holes, 0);
    expect_inches(verdict->hard_least, -2);
    verdict_free(verdict);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(marks_on_one_line_are_exactly_zero, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(mark_a_tick_off_its_line_is_broken, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(one_foot_a_leg_and_two_lags_a_strut_are_complete,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(missing_foot_is_one_too_few, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(row_without_marks_lacks_them_all, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_on_one_lag_is_one_too_few, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(no_marks_at_all_are_judged_without_a_crash, trial_set_up,
                                        trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
