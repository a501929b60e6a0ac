/* The first stage written for other solvers, whatever came of the search. */
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

/* By the integer program alone, within so many seconds; 0: it is cut short at once. */
static struct layout *find(const struct plain_knobs *knobs, double limit_s, const char *path) {
    const struct layout_options options = {.limit_s = limit_s, .model_path = path, .plain = true};
    struct roof *roof = plain_roof(knobs);
    struct problems problems = {0};
    struct layout *layout = NULL;
    if (layout_find(roof, &options, &layout, &problems) != OUTCOME_DONE) {
        problems_print(&problems, stderr);
        fail_msg("a fault");
    }
    roof_free(roof);
    return layout;
}

/* A member that was only sounded may be off by 1/2 in: 3/4 - 15/32 - 1/2 = -7/32, so there is no
 * wood for any lag at 0 or above, and the window that the search begins with has no program.  The
 * one below it has. */
static void search_cut_short_above_every_answer(void **state) {
    struct plain_knobs knobs = plain_knobs();
    char path[RUN_PATH];
    run_path(path, *state, "cut.lp");
    knobs.tolerance = 0.5;
    struct layout *layout = find(&knobs, 0, path);
    assert_int_equal(layout->state, LAYOUT_UNDECIDED);
    assert_true(layout->model_written);
    char *model = run_file_read(path);
    assert_non_null(strstr(model, "Minimize"));
    free(model);
    layout_free(layout);
}

static void nothing_can_be_placed(void **state) {
    struct plain_knobs knobs = plain_knobs();
    char path[RUN_PATH];
    run_path(path, *state, "nothing.lp");
    knobs.rafter_count = 1; /* a strut asks for two */
    struct layout *layout = find(&knobs, 60, path);
    assert_int_equal(layout->state, LAYOUT_IMPOSSIBLE);
    assert_false(layout->model_written);
    assert_int_not_equal(access(path, F_OK), 0);
    layout_free(layout);
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
