/* Butt edges that were checked, or measured one by one. */
#include "edited_roof.h"
#include "roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static struct roof *roof_on(const char *courses) {
    const struct edit edits[] = {{"courses: {first: 6, exposure: 5 5/8}", courses}, {0}};
    return edited_roof_good(&(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits});
}

/* The 19th edge at 107 1/4, the first at 6: 101 1/4 over 18 courses is 5 5/8 to the last bit. */
static void exposure_is_what_first_and_checked_edge_say(void **state) {
    (void)state;
    struct roof *roof = roof_on("courses: {first: 6, check: {edge: 19, at: 107 1/4}}");
    assert_true(roof->courses_checked);
    assert_near(roof->courses[1], 11.625);
    assert_near(roof->courses[18], 107.25);
    assert_int_equal(roof->course_count, 34);
    assert_int_equal(roof->warning_count, 0);
    roof_free(roof);
    /* E_13 and E_20 as published for first 6 and exposure 5 5/8. */
    roof = roof_on("courses: {first: 6, exposure: 5 5/8}");
    assert_false(roof->courses_checked);
    assert_near(roof->courses[12], 73.5);
    assert_near(roof->courses[19], 112.875);
    roof_free(roof);
}

/* Written 5 5/8, measured 107 7/8 at the 19th: 5 5/8 + 5/8 / 18, and that is what counts. */
static void checked_edge_goes_before_the_written_exposure(void **state) {
    (void)state;
    struct roof *roof =
        roof_on("courses: {first: 6, exposure: 5 5/8, check: {edge: 19, at: 107 7/8}}");
    assert_near(roof->courses[18], 107.875);
    assert_near(roof->courses[1] - roof->courses[0], 5.625 + 0.625 / 18);
    assert_int_equal(roof->warning_count, 0);
    roof_free(roof);
}

/* 107 1/4 called the 18th: 101 1/4 / 17 = 5.95588, and 17 courses of 5 5/8 end 5 5/8 lower; more
 * than half a course is worth a word. Half a course is not: 101 5/8 + 2 13/16 is 104 7/16. */
static void miscounted_edge_is_worth_a_word(void **state) {
    (void)state;
    struct roof *roof =
        roof_on("courses: {first: 6, exposure: 5 5/8, check: {edge: 18, at: 107 1/4}}");
    assert_near(roof->courses[17], 107.25);
    assert_int_equal(roof->warning_count, 1);
    assert_non_null(strstr(roof->warnings[0].text, "5.95588 in, not 5.625 in"));
    roof_free(roof);
    roof = roof_on("courses: {first: 6, exposure: 5 5/8, check: {edge: 18, at: 104 7/16}}");
    assert_int_equal(roof->warning_count, 0);
    roof_free(roof);
    roof = roof_on("courses: {first: 6, exposure: 5 5/8, check: {edge: 18, at: 104 1/2}}");
    assert_int_equal(roof->warning_count, 1);
    roof_free(roof);
}

/* As measured, uneven as they are; 196 is the ridge itself, 201 lies beyond it. */
static void measured_edges_are_taken_as_they_are(void **state) {
    (void)state;
    struct roof *roof = roof_on("courses: {tolerance: 1/16, edges: [5 3/4, 11 1/2, 17, 196, 201]}");
    static const double edges[] = {5.75, 11.5, 17, 196};
    assert_true(roof->courses_checked);
    assert_int_equal(roof->course_count, 4);
    for (size_t k = 0; k < 4; k++)
        assert_near(roof->courses[k], edges[k]);
    assert_near(roof->course_tolerance, 0.0625);
    assert_true(roof_course_usable(roof, 2));
    assert_false(roof_course_usable(roof, 3));
    roof_free(roof);
}

/* First edge and exposure may stand beside measured edges that agree with them. */
static void measured_edges_may_agree_with_what_stands_beside_them(void **state) {
    (void)state;
    struct roof *roof =
        roof_on("courses: {first: 6 1/4, exposure: 5 1/2, edges: [6, 11 5/8, 17 1/2, 23 1/4]}");
    assert_near(roof->courses[0], 6);
    assert_near(roof->courses[3], 23.25);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(exposure_is_what_first_and_checked_edge_say),
        cmocka_unit_test(checked_edge_goes_before_the_written_exposure),
        cmocka_unit_test(miscounted_edge_is_worth_a_word),
        cmocka_unit_test(measured_edges_are_taken_as_they_are),
        cmocka_unit_test(measured_edges_may_agree_with_what_stands_beside_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
