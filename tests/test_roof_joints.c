/* Joints and cutouts of the shingles, as a survey tells them. */
#include "edited_roof.h"
#include "roof.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static struct roof *roof_on(const char *courses) {
    const struct edit edits[] = {{"courses: {first: 6, exposure: 5 5/8}", courses}, {0}};
    return edited_roof_good(&(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits});
}

static void nothing_said_is_nothing_known(void **state) {
    (void)state;
    struct roof *roof = roof_on("courses: {first: 6, exposure: 5 5/8}");
    assert_false(roof_has_joints(roof));
    roof_free(roof);
}

static void cutouts_with_the_usual_keep_and_half_a_tab_over(void **state) {
    (void)state;
    struct roof *roof =
        roof_on("courses: {first: 6, exposure: 5 5/8, joints: {tab: 12, first_cutout: 4 1/2}}");
    assert_true(roof_has_joints(roof));
    assert_near(roof->cutouts.tab, 12);
    assert_near(roof->cutouts.stagger, 6);
    assert_near(roof->cutouts.first, 4.5);
    assert_near(roof->keep_joint, 2);
    assert_int_equal(roof->joint_count, 0);
    roof_free(roof);
}

static void cutouts_as_written_in_another_measure(void **state) {
    (void)state;
    struct roof *roof = roof_on("courses: {first: 6, exposure: 5 5/8, joints: {tab: 333 mm, "
                                "first_cutout: 0, stagger: 127 mm, keep: 1 1/2}}");
    assert_near(roof->cutouts.tab, 333 / 25.4);
    assert_near(roof->cutouts.stagger, 5);
    assert_near(roof->cutouts.first, 0);
    assert_near(roof->keep_joint, 1.5);
    roof_free(roof);
}

static void joints_one_by_one_without_cutouts(void **state) {
    (void)state;
    struct roof *roof = roof_on("courses: {first: 6, exposure: 5 5/8, joints: {list: "
                                "[{course: 8, at: 6'}, {course: 19, at: 64 1/4}]}}");
    assert_true(roof_has_joints(roof));
    assert_near(roof->cutouts.tab, 0);
    assert_int_equal(roof->joint_count, 2);
    assert_int_equal(roof->joints[0].course, 8);
    assert_near(roof->joints[0].x, 72);
    assert_int_equal(roof->joints[1].course, 19);
    assert_near(roof->joints[1].x, 64.25);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_said_is_nothing_known),
        cmocka_unit_test(cutouts_with_the_usual_keep_and_half_a_tab_over),
        cmocka_unit_test(cutouts_as_written_in_another_measure),
        cmocka_unit_test(joints_one_by_one_without_cutouts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
