/* foot-reach: the foot meets its leg within its slot. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct finding foot(int mark) {
    return about(RULE_FOOT_REACH, 0, ROW_BOTTOM, mark);
}

/* Legs at 62 1/2 and 110 1/2, lags 1 1/2 beyond: nothing of the slot's 3/4 is used. */
static void foot_in_the_middle_of_its_slot_holds(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, foot(3), 0.75);
    expect_margin(trial->roof, trial->marks, foot(4), 0.75);
}

static void foot_at_both_ends_of_its_slot(void **state) {
    struct trial *trial = *state;
    for (int way = -1; way <= 1; way += 2) {
        trial->marks->brackets[0].x = PLAIN_X + way * 0.75;
        expect_margin(trial->roof, trial->marks, foot(3), 0);
        trial->marks->brackets[0].x = PLAIN_X + way * (0.75 + TICK);
        expect_margin(trial->roof, trial->marks, foot(3), -TICK);
    }
}

/* With the bracket at 53 1/2 the legs are at 65 1/2 and 113 1/2: the same lags are 1 1/2 nearer to
 * the corner.  Half an inch further on, each foot is at slip -1/2. */
static void foot_can_be_turned_to_either_side(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->seats[3].side, SIDE_FAR);
    expect_inches(verdict->seats[3].slip, 0);
    verdict_free(verdict);
    trial->marks->brackets[0].x = 54;
    expect_margin(trial->roof, trial->marks, foot(3), 0.25);
    verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->seats[3].side, SIDE_NEAR);
    expect_inches(verdict->seats[3].slip, -0.5);
    assert_int_equal(verdict->seats[3].leg, 0);
    assert_int_equal(verdict->seats[4].leg, 1);
    verdict_free(verdict);
}

/* A lag straight under its leg misses both sides by the whole reach: 3/4 - 1 1/2. */
static void lag_under_its_leg_is_broken(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].x = 52;
    expect_margin(trial->roof, trial->marks, foot(3), -0.75);
}

/* The order of the list is no matter: by x, the first foot is the first leg's. */
static void feet_belong_to_legs_in_order_of_x(void **state) {
    struct trial *trial = *state;
    trial->marks->list[3].x = 112;
    trial->marks->list[4].x = 64;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->seats[3].leg, 1);
    assert_int_equal(verdict->seats[4].leg, 0);
    assert_int_equal(verdict->order[verdict->rows[0][ROW_BOTTOM].first_mark], 4);
    verdict_free(verdict);
    expect_broken(trial->roof, trial->marks, "");
}

/* A third foot belongs to no leg: complete tells, foot-reach has nothing to say. */
static void foot_too_many_belongs_to_no_leg(void **state) {
    struct trial *trial = *state;
    struct marks *more = NULL;
    assert_int_equal(marks_new(1, 6, &more), OUTCOME_DONE);
    more->brackets[0] = trial->marks->brackets[0];
    for (size_t i = 0; i < 5; i++) {
        more->list[i] = trial->marks->list[i];
    }
    more->list[5] = (struct mark){.row = ROW_BOTTOM, .x = 136, .y = PLAIN_BOTTOM_Y};
    struct verdict *verdict = held(trial->roof, more);
    assert_true(verdict->seats[5].leg == SIZE_MAX);
    assert_null(held_find(verdict, foot(5)));
    verdict_free(verdict);
    expect_broken(trial->roof, more, "complete");
    marks_free(more);
}

static void lag_of_a_strut_is_no_foot(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_true(verdict->seats[0].leg == SIZE_MAX);
    assert_null(held_find(verdict, about(RULE_FOOT_REACH, 0, ROW_TOP, 0)));
    verdict_free(verdict);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(foot_in_the_middle_of_its_slot_holds, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(foot_at_both_ends_of_its_slot, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(foot_can_be_turned_to_either_side, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_under_its_leg_is_broken, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(feet_belong_to_legs_in_order_of_x, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(foot_too_many_belongs_to_no_leg, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lag_of_a_strut_is_no_foot, trial_set_up, trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
