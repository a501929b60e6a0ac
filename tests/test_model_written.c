/* The first stage written for other solvers, whatever came of the search. */
#include "../src/layout/hunt.h"
#include "layout.h"
#include "plain_roof.h"
#include "run_program.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

/* A member that was only sounded may be off by 1/2 in: 3/4 - 15/32 - 1/2 = -7/32, so there is no
 * wood for any lag at 0 or above, and the window that the search begins with has no program.  A
 * search cut short there knows no more than that nothing is better than `enough`; the window below
 * has a program. */
static void search_cut_short_above_every_answer(void **state) {
    struct plain_knobs knobs = plain_knobs();
    const struct terms terms = {.deadline_s = 0};
    struct problems problems = {0};
    bool written = false;
    char path[RUN_PATH];
    run_path(path, *state, "cut.lp");
    knobs.tolerance = 0.5;
    struct roof *roof = plain_roof(&knobs);
    assert_int_equal(hunt_write_model(roof, &terms, roof->enough, path, &written, &problems),
                     OUTCOME_DONE);
    assert_true(written);
    char *model = run_file_read(path);
    assert_non_null(strstr(model, "Minimize"));
    free(model);
    roof_free(roof);
}

static void nothing_can_be_placed(void **state) {
    struct plain_knobs knobs = plain_knobs();
    char path[RUN_PATH];
    run_path(path, *state, "nothing.lp");
    knobs.rafter_count = 1; /* a strut asks for two */
    const struct layout_options options = {.limit_s = 60, .model_path = path};
    struct roof *roof = plain_roof(&knobs);
    struct problems problems = {0};
    struct layout *layout = NULL;
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    assert_int_equal(layout->state, LAYOUT_IMPOSSIBLE);
    assert_false(layout->model_written);
    assert_int_not_equal(access(path, F_OK), 0);
    layout_free(layout);
    roof_free(roof);
}

static void no_place_for_the_file(void **state) {
    char path[RUN_PATH];
    run_path(path, *state, "no such folder/model.lp");
    const struct layout_options options = {.limit_s = 60, .model_path = path};
    struct roof *roof = plain_roof(NULL);
    struct problems problems = {0};
    struct layout *layout = NULL;
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_FAULT);
    assert_null(layout);
    assert_int_equal(problems.count, 1);
    assert_non_null(strstr(problems.list[0].file, "no such folder"));
    problems_free(&problems);
    roof_free(roof);
}

static int make_folder(void **state) {
    char *folder = malloc(RUN_PATH);
    if (folder == NULL)
        return -1;
    run_folder_make(folder);
    *state = folder;
    return 0;
}

static int remove_folder(void **state) {
    run_folder_remove(*state);
    free(*state);
    return 0;
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(search_cut_short_above_every_answer),
        cmocka_unit_test(nothing_can_be_placed),
        cmocka_unit_test(no_place_for_the_file),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
