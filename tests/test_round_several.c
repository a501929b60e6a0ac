/* Rounding several brackets that do not meet: each on its own, whatever memory held before. */
#include "check.h"
#include "random_mix.h"
#include "random_trial.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

/* Plain rounding costs one of three brackets forgiveness.  Searched together they would need more
 * work than there is; apart each lacks half an inch, in every build, also in the one with
 * sanitizers, where what nobody set is 0. */
static void brackets_apart_are_searched_apart(void **state) {
    struct random_roof made;
    enum random_form form;
    random_mix_make(3, &made, &form);
    struct roof *roof = random_roof_read(&made, form, *state, NULL);
    struct layout *layout = random_proved_layout(roof, 3);
    struct marks *marks = NULL;
    bool obeyed;
    assert_int_equal(roof->bracket_count, 3);
    assert_int_equal(layout_round(roof, layout, SIDE_NEAR, &marks, &obeyed), OUTCOME_DONE);
    struct verdict *verdict = NULL;
    assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
    expect_of_seed("shortfall", 3, verdict->shortfall, 1.5, 1e-9);
    verdict_free(verdict);
    marks_free(marks);
    layout_free(layout);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(brackets_apart_are_searched_apart),
    };
    return cmocka_run_group_tests(tests, random_folder_make, random_folder_remove);
}
