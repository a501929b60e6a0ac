/* `ruddle survey --ask` without a terminal, and the files that it finds. */
#include "folder.h"
#include "random_roof.h"
#include "run_program.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

static const char *folder_of(void **state) {
    const struct folder *folder = *state;
    return folder->path;
}

static char *read_roof(void **state) {
    char path[RUN_PATH];
    return run_file_read(run_path(path, folder_of(state), "roof.yaml"));
}

/* What some question or other takes. */
static const char *const good[] = {
    "",   "back", "?",  "yes", "no", "in", "left", "30'",   "16'",  "5/12",   "96", "72",  "120",
    "12", "6",    "40", "64",  "88", "2",  "1",    "strut", "feet", "probed", "A",  "away"};
enum { GOOD = sizeof good / sizeof good[0] };

/* Runs it with a file for its input. */
static struct run feed(void **state, const char *input, size_t size, unsigned long bytes_most) {
    char path[FOLDER_PATH];
    const struct run_setup setup = {.folder = folder_of(state), .bytes_most = bytes_most};
    folder_write(state, path, "input", input, size);
    return run_program("/bin/sh",
                       WORDS("-c", "exec \"$0\" survey roof.yaml --ask <input", RUDDLE_PROGRAM),
                       &setup);
}

/* Any bytes at all, in lines of any length, with a good answer now and then: whatever is kept of
 * them is gone on with. */
static void nonsense_leaves_a_file_that_is_gone_on_with(void **state) {
    const char *asked_for = getenv("RUDDLE_ROOFS");
    const int most = asked_for != NULL ? atoi(asked_for) / 5 : 12;
    static char input[1 << 14];
    struct random_source source = {11};
    bool any = false;
    for (int i = 0; i < most; i++) {
        size_t used = 0;
        while (used + 600 < sizeof input) {
            if (random_once_in(&source, 3)) {
                used += (size_t)snprintf(input + used, sizeof input - used, "%s\n",
                                         good[random_between(&source, 0, GOOD - 1)]);
            } else {
                const int length = random_between(&source, 0, random_once_in(&source, 9) ? 500 : 9);
                for (int j = 0; j < length; j++) {
                    input[used++] = (char)random_between(&source, 0, 255);
                }
                input[used++] = '\n';
            }
        }
        struct run done = feed(state, input, used, 0);
        assert_string_equal(done.err, "");
        assert_true(done.code == 0 || done.code == 1);
        any = any || strstr(done.out, "has what was answered so far") != NULL;
        run_free(&done);
    }
    assert_true(any);
}

/* A last line without its end was perhaps not typed to its end. */
static void line_without_an_end_is_no_answer(void **state) {
    static const char input[] = "Lane 4\nin\nrig";
    struct run done = feed(state, input, sizeof input - 1, 0);
    assert_int_equal(done.code, 1);
    char *text = read_roof(state);
    assert_string_equal(text, "# A roof file by `ruddle survey FILE --ask`: the same command goes "
                              "on with it.\nroof: Lane 4\nmeasure: in\n");
    free(text);
    run_free(&done);
}

/* No file may grow beyond 100 bytes here: the answer that would need more is a fault, and the file
 * is as the one before left it. */
static void disk_full_leaves_the_file_before(void **state) {
    static const char input[] = "Lane 4\nin\nleft\n\n30'\n16'\n5/12\n";
    struct run done = feed(state, input, sizeof input - 1, 100);
    assert_int_equal(done.code, 3);
    assert_non_null(strstr(done.err, "roof.yaml: "));
    char *text = read_roof(state);
    assert_string_equal(text, "# A roof file by `ruddle survey FILE --ask`: the same command goes "
                              "on with it.\nroof: Lane 4\n");
    free(text);
    run_free(&done);
}

/* ---- Files that are there -------------------------------------------------------------------- */

/* That file is refused with such a message, and left as it was. */
static void assert_left_alone(void **state, const char *file, const char *message) {
    char path[FOLDER_PATH];
    folder_write_text(state, path, "roof.yaml", file);
    struct run done = feed(state, "x\n", 2, 0);
    assert_int_equal(done.code, 2);
    if (strstr(done.err, message) == NULL) {
        fail_msg("\"%s\" is not in: %s", message, done.err);
    }
    char *text = run_file_read(path);
    assert_string_equal(text, file);
    free(text);
    run_free(&done);
}

#define HEAD "# A roof file by `ruddle survey FILE --ask`: the same command goes on with it.\n"

static void other_files_are_refused_and_left_alone(void **state) {
    assert_left_alone(state, "roof: x\nplane: {width: 30, slope: 16, pitch: 5/12}\n",
                      "roof.yaml:1: ");
    assert_left_alone(state, "", "roof.yaml:1: ");
    assert_left_alone(state, HEAD "# a note of my own\nroof: x\n", "roof.yaml:2: ");
    assert_left_alone(state, HEAD "roof: x\nplane: {width: 30}\n", "roof.yaml:3: ");
    assert_left_alone(state, HEAD "roof: x\nroof: y\n", "roof.yaml:3: ");
    assert_left_alone(state, HEAD "roof: 'x\n", "roof.yaml:2: ");
    assert_left_alone(state, HEAD "roof: x\n   at: 3\n", "roof.yaml:3: ");
    assert_left_alone(state, HEAD "roof: x\ntape: 1/8\n", "roof.yaml:3: tape: ");
    assert_left_alone(state, HEAD "roof: x\nplane:\n  width: wide\n",
                      "roof.yaml:4: plane.width: found \"wide\"");
    assert_left_alone(state, HEAD "roof: x\n# left out: nothing.of.ours\n", "roof.yaml:3: ");
}

static void folder_of_that_name_is_refused(void **state) {
    char path[RUN_PATH];
    assert_int_equal(mkdir(run_path(path, folder_of(state), "roof.yaml"), 0777), 0);
    struct run done = feed(state, "x\n", 2, 0);
    assert_int_equal(done.code, 2);
    run_free(&done);
    assert_int_equal(rmdir(path), 0);
}

/* A figure mended by hand is gone on with; so is one whose line was taken out. */
static void file_mended_by_hand_is_gone_on_with(void **state) {
    char path[FOLDER_PATH];
    folder_write_text(state, path, "roof.yaml",
                      HEAD "roof: x\ncorner: left\nplane:\n  width: 31'\n");
    struct run done = feed(state, "mm\n", 3, 0);
    assert_int_equal(done.code, 1);
    char *text = run_file_read(path);
    assert_string_equal(text, HEAD "roof: x\nmeasure: mm\ncorner: left\nplane:\n  width: 31'\n");
    free(text);
    run_free(&done);
}

/* What is asked of survey beside a file name. */
static void words_that_do_not_go_together_are_refused(void **state) {
    (void)state;
    const char *const *const lines[] = {
        WORDS("survey", "roof.yaml"),        WORDS("survey", "--ask", "--out", "x"),
        WORDS("survey", "--ask", "--quiet"), WORDS("survey", "--ask", "--paper", "a4"),
        WORDS("survey", "--ask", "a", "b"),  WORDS("survey", "--json")};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        struct run done = run_program(RUDDLE_PROGRAM, lines[i], NULL);
        assert_int_equal(done.code, 2);
        assert_string_equal(done.out, "");
        run_free(&done);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        FOLDER_TEST(nonsense_leaves_a_file_that_is_gone_on_with),
        FOLDER_TEST(line_without_an_end_is_no_answer),
        FOLDER_TEST(disk_full_leaves_the_file_before),
        FOLDER_TEST(other_files_are_refused_and_left_alone),
        FOLDER_TEST(folder_of_that_name_is_refused),
        FOLDER_TEST(file_mended_by_hand_is_gone_on_with),
        cmocka_unit_test(words_that_do_not_go_together_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
