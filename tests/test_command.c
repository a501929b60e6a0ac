/* The program's command line: words in, exit codes and messages out. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "run_program.h"

#define EASY RUDDLE_ROOT "/roofs/easy.yaml"
#define NOTHING_FITS RUDDLE_ROOT "/roofs/nothing-fits.yaml"
#define METRIC RUDDLE_ROOT "/roofs/vent-in-the-way.yaml"
#define TWO_FAULTS RUDDLE_ROOT "/tests/roofs/bad/survey_two_faults.yaml"

#define EVERY_COMMAND "layout, check, compare, explain, revise, fleet, survey or practice"

static struct run run(const char *const *words) {
    return run_program(RUDDLE_PROGRAM, words, NULL);
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL) {
        fail_msg("\"%s\" is not in:\n%s", part, text);
    }
}

static size_t count_of(const char *text, const char *part) {
    size_t count = 0;
    for (const char *at = strstr(text, part); at != NULL; at = strstr(at + 1, part)) {
        count++;
    }
    return count;
}

/* A command line that is wrong: code 2, nothing on standard output, one line that says so. */
static void assert_refused(const char *const *words, const char *message) {
    struct run done = run(words);
    assert_int_equal(done.code, 2);
    assert_string_equal(done.out, "");
    assert_has(done.err, message);
    assert_int_equal(count_of(done.err, "\n"), 1);
    run_free(&done);
}

/* ---- Help ----------------------------------------------------------------------------------- */

/* 24 lines by 80 columns, and one example. */
static void assert_one_screen(const char *const *words) {
    struct run done = run(words);
    assert_int_equal(done.code, 0);
    assert_string_equal(done.err, "");
    assert_true(count_of(done.out, "\n") <= 24);
    for (const char *line = done.out; *line != '\0'; line += strcspn(line, "\n") + 1) {
        assert_true(strcspn(line, "\n") <= 80);
    }
    assert_int_equal(count_of(done.out, "\nExample: ruddle "), 1);
    run_free(&done);
}

static void help_fits_one_screen(void **state) {
    (void)state;
    assert_one_screen(WORDS("--help"));
    assert_one_screen(WORDS("layout", "--help"));
    assert_one_screen(WORDS("compare", "--help"));
    assert_one_screen(WORDS("revise", "--help"));
    assert_one_screen(WORDS("check", "--help"));
    assert_one_screen(WORDS("fleet", "--help"));
    assert_one_screen(WORDS("explain", "--help"));
    assert_one_screen(WORDS("survey", "--help"));
    assert_one_screen(WORDS("practice", "--help"));
}

static void help_of_the_program_names_its_commands(void **state) {
    (void)state;
    struct run done = run(WORDS("--help"));
    assert_has(done.out, "ruddle layout ROOF");
    assert_has(done.out, "ruddle check ROOF LAYOUT");
    run_free(&done);
}

/* The examples are what somebody tries first. */
static void examples_of_the_help_run(void **state) {
    (void)state;
    const struct run_setup in_tree = {.folder = RUDDLE_ROOT};
    struct run help = run(WORDS("--help"));
    assert_has(help.out, "\nExample: ruddle layout roofs/easy.yaml\n");
    struct run done = run_program(RUDDLE_PROGRAM, WORDS("layout", "roofs/easy.yaml"), &in_tree);
    assert_int_equal(done.code, 0);
    run_free(&done);
    run_free(&help);
}

static void version_is_one_line(void **state) {
    (void)state;
    struct run done = run(WORDS("--version"));
    assert_int_equal(done.code, 0);
    assert_int_equal(strncmp(done.out, "ruddle ", 7), 0);
    assert_int_equal(count_of(done.out, "\n"), 1);
    run_free(&done);
}

/* ---- Wrong words ---------------------------------------------------------------------------- */

static void no_command_is_refused(void **state) {
    (void)state;
    assert_refused(WORDS("--json"), "ruddle: wanted a command: " EVERY_COMMAND);
    const char *const none[] = {NULL};
    assert_refused(none, "see ruddle --help");
}

static void unknown_command_names_the_nearest(void **state) {
    (void)state;
    assert_refused(WORDS("layuot", EASY), "found \"layuot\"");
    assert_refused(WORDS("layuot", EASY), "the nearest is layout");
    assert_refused(WORDS("chek", EASY), "the nearest is check");
    assert_refused(WORDS("lay", EASY), "the nearest is layout");
    assert_refused(WORDS("zebra", EASY), "found \"zebra\", wanted a command: " EVERY_COMMAND);
    assert_refused(WORDS("practise"), "the nearest is practice");
    assert_refused(WORDS("surveys"), "the nearest is survey");
}

static void unknown_option_names_the_nearest(void **state) {
    (void)state;
    assert_refused(WORDS("layout", EASY, "--jsno"), "the nearest is --json");
    assert_refused(WORDS("layout", EASY, "--botom=feet"), "the nearest is --bottom");
    assert_refused(WORDS("layout", EASY, "--zzz"), "ruddle layout --help lists them");
    /* What the command does not take is not proposed, and a value behind it is no fault of its own.
     */
    assert_refused(WORDS("survey", "--jsn"), "ruddle survey --help lists them");
    struct run value = run(WORDS("layout", EASY, "--form", "near"));
    assert_has(value.err, "the nearest is --from\n");
    assert_int_equal(count_of(value.err, "\n"), 1);
    run_free(&value);
    assert_refused(WORDS("layout", EASY, "-q"), "the nearest is --quiet");
    assert_refused(WORDS("layout", EASY, "-xyz"), "found \"-xyz\"");
}

/* A later version may know another option of that beginning. */
static void abbreviated_option_is_refused(void **state) {
    (void)state;
    assert_refused(WORDS("layout", EASY, "--js"), "found \"--js\", wanted an option that exists");
    assert_refused(WORDS("layout", EASY, "--lim", "5"), "the nearest is --limit");
    assert_refused(WORDS("layout", EASY, "--lim=5"), "the nearest is --limit");
    assert_refused(WORDS("layout", EASY, "--t"), "found \"--t\"");
}

static void option_without_its_value_is_refused(void **state) {
    (void)state;
    assert_refused(WORDS("layout", EASY, "--limit"), "--limit: wanted a number of seconds");
    assert_refused(WORDS("layout", EASY, "--out", "--json"), "--out: wanted a folder");
    assert_refused(WORDS("layout", EASY, "--out="), "--out: wanted a folder");
    assert_refused(WORDS("layout", EASY, "--json=yes"), "--json: found \"yes\", wanted no value");
}

static void bad_values_are_refused(void **state) {
    (void)state;
    static const char *const bad[][2] = {
        {"--top", "legs"},   {"--bottom", "Feet"},  {"--from", "left"},   {"--burn", "-1"},
        {"--burn", "one"},   {"--burn", "1,5"},     {"--tape", "0"},      {"--tape", "1/0"},
        {"--tape", "2"},     {"--limit", "0"},      {"--limit", "nan"},   {"--limit", "1e3"},
        {"--limit", "-5"},   {"--limit", "100000"}, {"--model", "m.txt"}, {"--model", ".lp"},
        {"--limit", "0x10"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        char message[80];
        snprintf(message, sizeof message, "ruddle: %s: found \"%s\", wanted ", bad[i][0],
                 bad[i][1]);
        assert_refused(WORDS("layout", EASY, bad[i][0], bad[i][1]), message);
    }
}

static void every_wrong_word_is_told_at_once(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", EASY, "--top", "legs", "--zzz", "--limit", "no"));
    assert_int_equal(done.code, 2);
    assert_int_equal(count_of(done.err, "\n"), 3);
    run_free(&done);
}

static void operands_too_few_or_too_many_are_refused(void **state) {
    (void)state;
    assert_refused(WORDS("layout"), "wanted the roof file: ruddle layout ROOF");
    assert_refused(WORDS("check"), "wanted the roof file: ruddle check ROOF LAYOUT");
    assert_refused(WORDS("check", EASY), "wanted the layout file: ruddle check ROOF LAYOUT");
    assert_refused(WORDS("layout", EASY, "b"), "found \"b\", wanted nothing after");
    assert_refused(WORDS("check", EASY, "b", "c", "d"), "found \"c\", wanted nothing after");
    assert_refused(WORDS("layout", ""), "a file name that is not empty");
}

static void check_takes_no_model(void **state) {
    (void)state;
    assert_refused(WORDS("check", EASY, "x.json", "--model", "m.lp"), "ruddle: --model:");
}

/* ---- Files that are wrong ------------------------------------------------------------------- */

static void faults_of_a_file_are_told_with_their_lines(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", TWO_FAULTS, "--json"));
    assert_int_equal(done.code, 2);
    assert_string_equal(done.out, "");
    assert_has(done.err, TWO_FAULTS ":2: plane.pitch: ");
    assert_has(done.err, TWO_FAULTS ":7: rafters.list[2].ply: ");
    run_free(&done);
}

static void file_that_is_not_there(void **state) {
    (void)state;
    assert_refused(WORDS("layout", "no-such-roof.yaml"), "no-such-roof.yaml: ");
    assert_refused(WORDS("check", EASY, "no-such-layout.json"), "no-such-layout.json: ");
    assert_refused(WORDS("layout", RUDDLE_ROOT), RUDDLE_ROOT ": ");
}

/* ---- What is printed ------------------------------------------------------------------------ */

static void good_roof_prints_its_sheet(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", EASY));
    assert_int_equal(done.code, 0);
    assert_string_equal(done.err, "");
    assert_has(done.out, "A-top-1");
    run_free(&done);
}

static void json_is_all_that_is_printed(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", EASY, "--json"));
    assert_int_equal(done.code, 0);
    assert_string_equal(done.err, "");
    assert_int_equal(strncmp(done.out, "{\n \"ruddle\": \"layout/1\",\n", 25), 0);
    assert_string_equal(done.out + strlen(done.out) - 3, "\n}\n");
    run_free(&done);
}

static void options_may_stand_anywhere(void **state) {
    (void)state;
    struct run first = run(WORDS("--json", "layout", EASY));
    static const char *const orders[][4] = {{"layout", "--json", EASY, NULL},
                                            {"layout", EASY, "--json", NULL}};
    for (size_t i = 0; i < 2; i++) {
        struct run other = run(orders[i]);
        assert_int_equal(other.code, 0);
        assert_string_equal(other.out, first.out);
        run_free(&other);
    }
    struct run dashes = run(WORDS("layout", "--json", "--", EASY));
    assert_string_equal(dashes.out, first.out);
    run_free(&dashes);
    run_free(&first);
}

static void blocked_roof_exits_with_1(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", NOTHING_FITS));
    assert_int_equal(done.code, 1);
    assert_string_equal(done.err, "");
    assert_has(done.out, "does NOT work");
    run_free(&done);
    done = run(WORDS("layout", NOTHING_FITS, "--json"));
    assert_int_equal(done.code, 1);
    assert_string_equal(done.err, "");
    assert_has(done.out, "\"status\": \"blocked\"");
    assert_has(done.out, "\"wood: A-top-1 is short by ");
    run_free(&done);
}

static void quiet_leaves_the_exit_code(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", EASY, "--quiet", "--json"));
    assert_int_equal(done.code, 0);
    assert_string_equal(done.out, "");
    assert_string_equal(done.err, "");
    run_free(&done);
    done = run(WORDS("layout", "--quiet", NOTHING_FITS));
    assert_int_equal(done.code, 1);
    assert_string_equal(done.out, "");
    assert_string_equal(done.err, "");
    run_free(&done);
}

static void hardware_of_the_command_line_goes_over_the_file(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", EASY, "--json", "--top", "feet", "--bottom=strut"));
    assert_has(done.out, "\"row\": \"top\", \"kind\": \"feet\"");
    assert_has(done.out, "\"row\": \"bottom\", \"kind\": \"strut\"");
    run_free(&done);
}

static void readings_start_from_the_rake_asked_for(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", EASY, "--from", "far"));
    assert_int_equal(done.code, 0);
    assert_has(done.out, "from the RIGHT rake");
    run_free(&done);
}

/* In a file in millimetres a bare 100 is 100 mm, on the command line too. */
static void bare_number_counts_in_the_measure_of_the_file(void **state) {
    (void)state;
    struct run bare = run(WORDS("layout", METRIC, "--burn", "100"));
    struct run metric = run(WORDS("layout", METRIC, "--burn", "100 mm"));
    struct run inches = run(WORDS("layout", METRIC, "--burn", "100\""));
    assert_int_equal(bare.code, 0);
    assert_string_equal(bare.out, metric.out);
    assert_string_not_equal(bare.out, inches.out);
    run_free(&bare);
    run_free(&metric);
    run_free(&inches);
}

static void model_is_written(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char path[RUN_PATH];
    run_folder_make(folder);
    run_path(path, folder, "first.lp");
    struct run done = run(WORDS("layout", EASY, "--quiet", "--model", path));
    assert_int_equal(done.code, 0);
    char *model = run_file_read(path);
    assert_has(model, "Minimize");
    free(model);
    run_free(&done);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(help_fits_one_screen),
        cmocka_unit_test(help_of_the_program_names_its_commands),
        cmocka_unit_test(examples_of_the_help_run),
        cmocka_unit_test(version_is_one_line),
        cmocka_unit_test(no_command_is_refused),
        cmocka_unit_test(unknown_command_names_the_nearest),
        cmocka_unit_test(unknown_option_names_the_nearest),
        cmocka_unit_test(abbreviated_option_is_refused),
        cmocka_unit_test(option_without_its_value_is_refused),
        cmocka_unit_test(bad_values_are_refused),
        cmocka_unit_test(every_wrong_word_is_told_at_once),
        cmocka_unit_test(operands_too_few_or_too_many_are_refused),
        cmocka_unit_test(check_takes_no_model),
        cmocka_unit_test(faults_of_a_file_are_told_with_their_lines),
        cmocka_unit_test(file_that_is_not_there),
        cmocka_unit_test(good_roof_prints_its_sheet),
        cmocka_unit_test(json_is_all_that_is_printed),
        cmocka_unit_test(options_may_stand_anywhere),
        cmocka_unit_test(blocked_roof_exits_with_1),
        cmocka_unit_test(quiet_leaves_the_exit_code),
        cmocka_unit_test(hardware_of_the_command_line_goes_over_the_file),
        cmocka_unit_test(readings_start_from_the_rake_asked_for),
        cmocka_unit_test(bare_number_counts_in_the_measure_of_the_file),
        cmocka_unit_test(model_is_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
