/* joints: the sides of a flashing and the joints and cutouts of the course that covers it. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static struct finding first_foot(void) {
    return about(RULE_JOINTS, 0, ROW_BOTTOM, 3);
}

static bool is_asked(struct trial *trial) {
    struct verdict *verdict = held(trial->roof, trial->marks);
    const bool asked = held_find(verdict, first_foot()) != NULL;
    verdict_free(verdict);
    return asked;
}

static void put_cutouts(struct trial *trial, double first) {
    trial->roof->cutouts = (struct cutouts){.tab = 12, .stagger = 6, .first = first};
    trial->roof->keep_joint = 2;
}

static void put_joint(struct trial *trial, struct joint *joint) {
    trial->roof->joints = joint;
    trial->roof->joint_count = 1;
    trial->roof->keep_joint = 2;
}

static void take_joint_away(struct trial *trial) {
    trial->roof->joints = NULL; /* it was the test's own */
    trial->roof->joint_count = 0;
}

/* The foot at 64 lies on course 7, its flashing from 59 1/2 to 68 1/2.  Cutouts of course 8 lie
 * 7 x 6 = 42 further on than those of the first: with one at 10 there is one at 52, so others at 64
 * (4 1/2 from either side) and nowhere nearer: 4 1/2 - 2. */
static void sides_midway_between_cutouts(void **state) {
    struct trial *trial = *state;
    put_cutouts(trial, 10);
    expect_margin(trial->roof, trial->marks, first_foot(), 2.5);
}

/* 2 1/2 further on a cutout is at 66 1/2, 2 in from the far side; as much nearer one is at
 * 61 1/2. */
static void a_side_just_as_far_from_a_cutout_as_it_must_be(void **state) {
    struct trial *trial = *state;
    put_cutouts(trial, 12.5);
    expect_margin(trial->roof, trial->marks, first_foot(), 0);
    put_cutouts(trial, 7.5);
    expect_margin(trial->roof, trial->marks, first_foot(), 0);
}

static void a_side_a_tick_too_near_to_a_cutout(void **state) {
    struct trial *trial = *state;
    put_cutouts(trial, 12.5 + TICK);
    expect_margin(trial->roof, trial->marks, first_foot(), -TICK);
    put_cutouts(trial, 7.5 - TICK);
    expect_margin(trial->roof, trial->marks, first_foot(), -TICK);
}

/* One tab further on along the course is the same cutouts. */
static void any_cutout_of_the_first_course_may_be_the_measured_one(void **state) {
    struct trial *trial = *state;
    put_cutouts(trial, 10 + 5 * 12.0);
    expect_margin(trial->roof, trial->marks, first_foot(), 2.5);
}

/* Without a shift from course to course the cutouts of course 8 are those of the first: at 10 and
 * so at 58 and 70, 1 1/2 from either side. */
static void cutouts_one_above_the_other(void **state) {
    struct trial *trial = *state;
    put_cutouts(trial, 10);
    trial->roof->cutouts.stagger = 0;
    expect_margin(trial->roof, trial->marks, first_foot(), -0.5);
}

/* 71 is 2 1/2 beyond the far side, 70 1/2 just 2. */
static void a_joint_measured_alone(void **state) {
    struct trial *trial = *state;
    struct joint joint = {.course = 8, .x = 71};
    put_joint(trial, &joint);
    expect_margin(trial->roof, trial->marks, first_foot(), 0.5);
    trial->roof->joints->x = 70.5;
    expect_margin(trial->roof, trial->marks, first_foot(), 0);
    trial->roof->joints->x = 70.5 - TICK;
    expect_margin(trial->roof, trial->marks, first_foot(), -TICK);
    trial->roof->joints->x = 57.5 + TICK;
    expect_margin(trial->roof, trial->marks, first_foot(), -TICK);
    take_joint_away(trial);
}

/* What runs down it lands in the middle: 4 1/2 to either side. */
static void a_joint_over_the_middle_of_a_flashing(void **state) {
    struct trial *trial = *state;
    struct joint joint = {.course = 8, .x = 64};
    put_joint(trial, &joint);
    expect_margin(trial->roof, trial->marks, first_foot(), 2.5);
    take_joint_away(trial);
}

/* Hot's flashing on course 13 reaches from 71 1/2 to 80 1/2. */
static void a_pipe_has_a_flashing_of_its_own(void **state) {
    struct trial *trial = *state;
    struct joint joint = {.course = 14, .x = 83};
    put_joint(trial, &joint);
    expect_margin(trial->roof, trial->marks, about(RULE_JOINTS, 0, ROW_PIPE, 5), 0.5);
    take_joint_away(trial);
}

static void joints_of_other_courses_do_not_count(void **state) {
    struct trial *trial = *state;
    struct joint joint = {.course = 7, .x = 68.5};
    put_joint(trial, &joint);
    assert_false(is_asked(trial));
    trial->roof->joints->course = 9;
    assert_false(is_asked(trial));
    trial->roof->joints->course = 8;
    assert_true(is_asked(trial));
    take_joint_away(trial);
    assert_false(is_asked(trial));
}

/* A flashing lies on a course with two above it: with two butt edges in all there is none, and what
 * covers nothing has no joint over it.  That is broken by course-edge, not by joints. */
static void a_roof_with_no_course_for_a_flashing(void **state) {
    struct trial *trial = *state;
    put_cutouts(trial, 12.5 + TICK);
    assert_true(is_asked(trial));
    trial->roof->course_count = 2;
    assert_false(is_asked(trial));
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_false(verdict->holds);
    verdict_free(verdict);
}

static int bottom_course(struct trial *trial) {
    struct verdict *verdict = held(trial->roof, trial->marks);
    const int course = (int)verdict->rows[0][ROW_BOTTOM].course;
    verdict_free(verdict);
    return course;
}

/* Half a course up, a row's flashings start 3 5/16 above the edge of course 7 and 2 5/16 below that
 * of course 8: both break course-edge by 2 5/16 + 1/8.  A joint right at a flashing's side breaks
 * joints by all of `keep`, here 4, so the other course is taken. */
static void a_line_between_two_courses_goes_to_the_one_without_a_joint(void **state) {
    struct trial *trial = *state;
    struct joint joint = {.course = 8, .x = 68.5};
    put_joint(trial, &joint);
    trial->roof->keep_joint = 4;
    trial_raise_row(trial, 0, ROW_BOTTOM, 5.625 / 2);
    assert_int_equal(bottom_course(trial), 8);
    trial->roof->joints->course = 9;
    assert_int_equal(bottom_course(trial), 7);
    take_joint_away(trial);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(sides_midway_between_cutouts, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(a_side_just_as_far_from_a_cutout_as_it_must_be,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(a_side_a_tick_too_near_to_a_cutout, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(any_cutout_of_the_first_course_may_be_the_measured_one,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(cutouts_one_above_the_other, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(a_joint_measured_alone, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(a_joint_over_the_middle_of_a_flashing, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(a_pipe_has_a_flashing_of_its_own, trial_set_up_pipes,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(joints_of_other_courses_do_not_count, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(a_roof_with_no_course_for_a_flashing, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(a_line_between_two_courses_goes_to_the_one_without_a_joint,
                                        trial_set_up, trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
