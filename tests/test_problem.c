/* Messages of faults: bounded, one line each, whatever the input holds. */
#include "problem.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* What problems_print writes; the caller frees it. */
static char *printed(const struct problems *problems) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    problems_print(problems, stream);
    assert_int_equal(fclose(stream), 0);
    return text;
}

static void expect_printed(struct problems *problems, const char *wanted) {
    char *text = printed(problems);
    assert_string_equal(text, wanted);
    free(text);
    problems_free(problems);
}

static void parts_that_are_empty_are_left_out(void **state) {
    (void)state;
    struct problems problems = {0};
    problems_add(&problems, "roof.yaml", 7, "plane.width", "wide", "a length such as 30'");
    problems_add(&problems, "roof.yaml", 0, NULL, NULL, "a file that can be read");
    problems_add(&problems, "roof.yaml", 3, "plane.pitch", NULL, "this key");
    problems_add(&problems, NULL, 0, "--tape", "1/0", "a length");
    problems_add(&problems, NULL, 0, NULL, NULL, "a roof file");
    expect_printed(&problems,
                   "roof.yaml:7: plane.width: found \"wide\", wanted a length such as 30'\n"
                   "roof.yaml: wanted a file that can be read\n"
                   "roof.yaml:3: plane.pitch: wanted this key\n"
                   "--tape: found \"1/0\", wanted a length\n"
                   "wanted a roof file\n");
}

/* ESC, DEL, line ends, U+009B (a terminal's control in one character), U+2028 and U+202E are
 * shown as '?'; so are bytes that are no UTF-8.  Letters beyond ASCII stay. */
static void control_bytes_are_shown_as_question_marks(void **state) {
    (void)state;
    struct problems problems = {0};
    problems_add(&problems, "a\nb.yaml", 1, "k\x7Fy", "\x1B[2J\r\t\xC2\x9B\xE2\x80\xA8\xE2\x80\xAE",
                 "caf\xC3\xA9 \xE2\x82\xAC \xFF\xC3");
    expect_printed(&problems, "a?b.yaml:1: k?y: found \"?[2J??"
                              "?"
                              "?"
                              "?"
                              "\", wanted caf\xC3\xA9 \xE2\x82\xAC ??\n");
}

static void long_texts_are_cut_between_letters(void **state) {
    (void)state;
    struct problems problems = {0};
    char text[400];
    for (size_t i = 0; i + 2 < sizeof text; i += 2) {
        memcpy(text + i, "\xC3\xA9", 3);
    }
    problems_add(&problems, text, 1, text, text, text);
    const struct problem *problem = &problems.list[0];
    assert_int_equal(strlen(problem->file), 254);
    assert_int_equal(strlen(problem->key), 94);
    assert_int_equal(strlen(problem->found), 94);
    assert_int_equal(strlen(problem->wanted), 222);
    problems_free(&problems);
}

static void faults_beyond_the_most_are_counted(void **state) {
    (void)state;
    struct problems problems = {0};
    for (int i = 0; i < PROBLEMS_MOST + 23; i++) {
        problems_add(&problems, "roof.yaml", i + 1, NULL, NULL, "something else");
    }
    assert_int_equal(problems.count, PROBLEMS_MOST);
    assert_int_equal(problems.total, PROBLEMS_MOST + 23);
    assert_int_equal(problems.list[PROBLEMS_MOST - 1].line, PROBLEMS_MOST);
    char *text = printed(&problems);
    assert_non_null(strstr(text, "roof.yaml:100: wanted something else\n23 more faults"));
    free(text);
    problems_free(&problems);
    assert_null(problems.list);
    assert_int_equal(problems.total, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(parts_that_are_empty_are_left_out),
        cmocka_unit_test(control_bytes_are_shown_as_question_marks),
        cmocka_unit_test(long_texts_are_cut_between_letters),
        cmocka_unit_test(faults_beyond_the_most_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
