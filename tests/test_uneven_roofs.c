/* Roofs that are not neat, from the file to marks that hold: a hip, a leaning corner, an old house
 * with crooked and short members and two pipes.  Every one reaches `enough`, 1/8 in, before
 * rounding; their holes are counted by hand: a strut on three or four rafters, two feet, the pipes.
 */
#include "check.h"
#include "layout.h"
#include "marks.h"
#include "roof.h"
#include "survey.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

static struct roof *read_roof(const char *name) {
    char path[512];
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    const struct roof_options options = {{NULL, NULL}, NULL};
    snprintf(path, sizeof path, RUDDLE_ROOT "/roofs/%s", name);
    if (survey_read(path, &survey, &problems) != OUTCOME_DONE ||
        roof_build(survey, &options, &roof, &problems) != OUTCOME_DONE) {
        problems_print(&problems, stderr);
        fail_msg("%s: refused", name);
    }
    survey_free(survey);
    return roof;
}

/* Lays a roof out, rounds it from both rakes, and holds it against every rule. */
static void holds_from_both_rakes(const char *name, size_t holes) {
    struct roof *roof = read_roof(name);
    const struct layout_options options = {.limit_s = 60};
    struct problems problems = {0};
    struct layout *layout = NULL;
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    assert_int_equal(layout->state, LAYOUT_PROVED);
    assert_true(fabs(layout->forgiveness - 0.125) <= 1e-6);
    assert_int_equal(layout->holes, holes);
    struct verdict *exact = NULL;
    assert_int_equal(check_marks(roof, layout->marks, &exact), OUTCOME_DONE);
    assert_true(exact->holds);
    assert_true(exact->least >= 0.125 - 1e-6);
    verdict_free(exact);
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        struct marks *marks = NULL;
        struct verdict *verdict = NULL;
        bool obeyed = false;
        assert_int_equal(layout_round(roof, layout, (enum side)side, &marks, &obeyed),
                         OUTCOME_DONE);
        assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
        assert_true(obeyed && verdict->holds);
        verdict_free(verdict);
        marks_free(marks);
    }
    layout_free(layout);
    roof_free(roof);
}

static void hip(void **state) {
    (void)state;
    holds_from_both_rakes("hip.yaml", 5);
}

static void leaning_corner(void **state) {
    (void)state;
    holds_from_both_rakes("leaning-corner.yaml", 6);
}

static void old_house_with_pipes(void **state) {
    (void)state;
    holds_from_both_rakes("old-house.yaml", 8);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hip),
        cmocka_unit_test(leaning_corner),
        cmocka_unit_test(old_house_with_pipes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
