/* apart: no two flashings overlap, nor two struts; brackets keep their distance.  Half of what is
 * left. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static struct finding flashings(int row, int mark, int other) {
    struct finding finding = about(RULE_APART, 0, row, mark);
    finding.other_bracket = 0;
    finding.other_mark = other;
    return finding;
}

/* 9 in wide, holes 24 in apart: 15 in are left, half of it to each. */
static void flashings_of_one_row(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, flashings(ROW_TOP, 0, 1), 7.5);
    trial->marks->list[1].x = 64 + 9;
    expect_margin(trial->roof, trial->marks, flashings(ROW_TOP, 0, 1), 0);
    trial->marks->list[1].x = 64 + 9 - TICK;
    expect_margin(trial->roof, trial->marks, flashings(ROW_TOP, 0, 1), -TICK / 2);
}

/* 12 in high, one above the other at x 64: rows 12 in apart just touch. */
static void flashings_of_top_and_bottom_row(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, flashings(ROW_TOP, 0, 3), (61.875 - 12) / 2);
    trial->marks->list[3].y = PLAIN_TOP_Y - 12;
    expect_margin(trial->roof, trial->marks, flashings(ROW_TOP, 0, 3), 0);
    trial->marks->list[3].y = PLAIN_TOP_Y - 12 + TICK;
    expect_margin(trial->roof, trial->marks, flashings(ROW_TOP, 0, 3), -TICK / 2);
}

/* The last lag of A at 112 and the first of B at 160. */
static void flashings_of_two_brackets(void **state) {
    struct trial *trial = *state;
    struct finding pair = about(RULE_APART, 0, ROW_TOP, 2);
    pair.other_bracket = 1;
    pair.other_mark = 5;
    expect_margin(trial->roof, trial->marks, pair, (48 - 9) / 2.0);
    trial->marks->list[5].x = 112 + 9;
    expect_margin(trial->roof, trial->marks, pair, 0);
    trial->marks->list[5].x = 112 + 9 - TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK / 2);
}

/* From 50 1/2 + 72 to 146 1/2 there are 24 in, 12 are asked for. */
static void two_brackets(void **state) {
    struct trial *trial = *state;
    struct finding pair = about(RULE_APART, 0, CHECK_NONE, CHECK_NONE);
    pair.other_bracket = 1;
    expect_margin(trial->roof, trial->marks, pair, 6);
    trial->roof->apart = 24;
    expect_margin(trial->roof, trial->marks, pair, 0);
    trial->roof->apart = 24 + TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK / 2);
}

/* One above the other, 12 in between them, is as good as beside each other. */
static void bracket_above_another(void **state) {
    struct trial *trial = *state;
    struct finding pair = about(RULE_APART, 0, CHECK_NONE, CHECK_NONE);
    pair.other_bracket = 1;
    trial->marks->brackets[1] = trial->marks->brackets[0];
    trial->marks->brackets[1].y = PLAIN_Y + 84 + 12;
    expect_margin(trial->roof, trial->marks, pair, 0);
    trial->marks->brackets[1].y -= TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK / 2);
}

static struct finding struts(int other) {
    struct finding finding = about(RULE_APART, 0, ROW_TOP, CHECK_NONE);
    finding.other_bracket = other;
    finding.other_row = other == 0 ? ROW_BOTTOM : ROW_TOP;
    return finding;
}

/* Struts of one bracket, each 7/8 to either side of its row. */
static void struts_of_top_and_bottom_row(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].hardware[ROW_BOTTOM] = HARDWARE_STRUT;
    expect_margin(trial->roof, trial->marks, struts(0), (61.875 - 1.75) / 2);
    trial_raise_row(trial, 0, ROW_BOTTOM, 61.875 - 1.75);
    expect_margin(trial->roof, trial->marks, struts(0), 0);
    trial_raise_row(trial, 0, ROW_BOTTOM, TICK);
    expect_margin(trial->roof, trial->marks, struts(0), -TICK / 2);
}

/* A's strut ends at 113, B's starts at 156 1/4. */
static void struts_of_two_brackets(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, struts(1), 43.25 / 2);
    trial_shift(trial, 1, -43.25, 0);
    expect_margin(trial->roof, trial->marks, struts(1), 0);
    trial_shift(trial, 1, -TICK, 0);
    expect_margin(trial->roof, trial->marks, struts(1), -TICK / 2);
}

/* Ten marks are 45 pairs, two struts 1, two brackets 1: each once. */
static void every_pair_is_told_once(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    size_t count = 0;
    for (size_t i = 0; i < verdict->count; i++) {
        count += verdict->findings[i].rule == RULE_APART;
    }
    verdict_free(verdict);
    assert_int_equal(count, 47);
}

/* Brackets 24 in apart where 26 are asked for: both have -1, the sum of shortfalls has it once. */
static void pair_counts_for_both_and_once_in_the_sum(void **state) {
    struct trial *trial = *state;
    trial->roof->apart = 26;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(verdict->forgiveness[0], -1);
    expect_inches(verdict->forgiveness[1], -1);
    expect_inches(verdict->least, -1);
    expect_inches(verdict->shortfall, 1);
    verdict_free(verdict);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(flashings_of_one_row, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(flashings_of_top_and_bottom_row, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(flashings_of_two_brackets, trial_set_up_pair,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(two_brackets, trial_set_up_pair, trial_tear_down),
        cmocka_unit_test_setup_teardown(bracket_above_another, trial_set_up_pair, trial_tear_down),
        cmocka_unit_test_setup_teardown(struts_of_top_and_bottom_row, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(struts_of_two_brackets, trial_set_up_pair, trial_tear_down),
        cmocka_unit_test_setup_teardown(every_pair_is_told_once, trial_set_up_pair,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(pair_counts_for_both_and_once_in_the_sum, trial_set_up_pair,
                                        trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
