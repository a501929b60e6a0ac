/* Rounding the nearest miss of an old house whose pipe has no bay wide enough: 7 in are to be kept
 * free beside a bore of 1 3/8, 15 3/8 in all, between rafters 16 in apart and 1 1/2 in thick.  The
 * search over readings cannot try them all within its budget; it may lose some room, but never a
 * hard rule that the layout keeps. */
#include "check.h"
#include "layout.h"
#include "length.h"
#include "marks.h"
#include "roof.h"
#include "survey.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

static struct roof *read_old_house(void) {
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    const struct roof_options options = {{NULL, NULL}, NULL};
    assert_int_equal(survey_read(RUDDLE_ROOT "/roofs/old-house.yaml", &survey, &problems),
                     OUTCOME_DONE);
    assert_int_equal(roof_build(survey, &options, &roof, &problems), OUTCOME_DONE);
    survey_free(survey);
    return roof;
}

static void nearest_miss_keeps_hard_rules_on_the_tape(void **state) {
    (void)state;
    if (getenv("RUDDLE_ROOFS") != NULL)
        skip(); /* some 10 s, and a minute under sanitizers */
    struct roof *roof = read_old_house();
    assert_int_equal(roof->pipe_count, 2);
    for (size_t p = 0; p < roof->pipe_count; p++)
        roof->pipes[p].keep_rafter = 7;
    const struct layout_options options = {.limit_s = 120};
    struct problems problems = {0};
    struct layout *layout = NULL;
    struct verdict *exact = NULL, *verdict = NULL;
    struct marks *marks = NULL;
    bool obeyed = true;
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    assert_int_equal(layout->state, LAYOUT_PROVED);
    assert_true(layout->forgiveness < -LENGTH_TOLERANCE);
    assert_int_equal(check_marks(roof, layout->marks, &exact), OUTCOME_DONE);
    assert_true(length_holds(exact->hard_least));
    assert_int_equal(layout_round(roof, layout, SIDE_NEAR, &marks, &obeyed), OUTCOME_DONE);
    assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
    assert_true(length_holds(verdict->hard_least));
    assert_false(obeyed);
    verdict_free(exact);
    verdict_free(verdict);
    marks_free(marks);
    layout_free(layout);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nearest_miss_keeps_hard_rules_on_the_tape),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
