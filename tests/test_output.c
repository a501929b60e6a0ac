/* Where results go: files whole or not at all, and writes that fail are told. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "run_program.h"

#define EASY RUDDLE_ROOT "/roofs/easy.yaml"
#define TWO_FAULTS RUDDLE_ROOT "/tests/roofs/bad/survey_two_faults.yaml"

static struct run run(const char *const *words) {
    return run_program(RUDDLE_PROGRAM, words, NULL);
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL) {
        fail_msg("\"%s\" is not in:\n%s", part, text);
    }
}

/* Code 3 and a message that names what could not be written. */
static void assert_fault(struct run *done, const char *named) {
    assert_int_equal(done->code, 3);
    assert_has(done->err, named);
    run_free(done);
}

static void assert_file(const char *folder, const char *name, const char *wanted) {
    char path[RUN_PATH];
    char *text = run_file_read(run_path(path, folder, name));
    assert_string_equal(text, wanted);
    free(text);
}

/* ---- Standard output ------------------------------------------------------------------------ */

static void full_disk_behind_standard_output(void **state) {
    (void)state;
    const struct run_setup full = {.stdout_to = "/dev/full"};
    static const char *const lines[][4] = {
        {"layout", EASY}, {"layout", EASY, "--json"}, {"--help"}, {"--version"}};
    if (access("/dev/full", W_OK) != 0) {
        skip();
    }
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct run done = run_program(RUDDLE_PROGRAM, lines[i], &full);
        assert_fault(&done, "standard output: found \"No space left on device\"");
    }
}

static void closed_standard_output(void **state) {
    (void)state;
    const struct run_setup closed = {.stdout_closed = true};
    struct run done = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY), &closed);
    assert_fault(&done, "standard output: ");
    done = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY, "--quiet"), &closed);
    assert_int_equal(done.code, 0); /* nothing was to be written there */
    run_free(&done);
}

static void pipe_that_nobody_reads(void **state) {
    (void)state;
    const struct run_setup broken = {.stdout_broken = true};
    struct run done = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY), &broken);
    assert_fault(&done, "standard output: found \"Broken pipe\"");
}

static void closed_standard_error_leaves_the_exit_code(void **state) {
    (void)state;
    const struct run_setup closed = {.stderr_closed = true};
    struct run done = run_program(RUDDLE_PROGRAM, WORDS("layout", TWO_FAULTS), &closed);
    assert_int_equal(done.code, 2);
    assert_string_equal(done.out, "");
    run_free(&done);
}

/* A file opened while number 1 is free would get that number, and the sheet with it. */
static void files_are_whole_though_standard_output_is_closed(void **state) {
    (void)state;
    const struct run_setup closed = {.stdout_closed = true};
    char folder[RUN_PATH];
    run_folder_make(folder);
    struct run sheet = run(WORDS("layout", EASY));
    struct run json = run(WORDS("layout", EASY, "--json"));
    struct run done = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY, "--out", folder), &closed);
    assert_fault(&done, "standard output: ");
    assert_file(folder, "sheet.txt", sheet.out);
    assert_file(folder, "layout.json", json.out);
    run_free(&sheet);
    run_free(&json);
    run_folder_remove(folder);
}

/* ---- Files ---------------------------------------------------------------------------------- */

static void folder_is_made_and_gets_what_is_printed(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char inner[RUN_PATH];
    run_folder_make(folder);
    run_path(inner, folder, "easy");
    struct run sheet = run(WORDS("layout", EASY, "--out", inner));
    assert_int_equal(sheet.code, 0);
    struct run json = run(WORDS("layout", EASY, "--out", inner, "--json")); /* over the first */
    assert_int_equal(json.code, 0);
    assert_int_equal(run_folder_count(inner), 9);
    assert_file(inner, "sheet.txt", sheet.out);
    assert_file(inner, "layout.json", json.out);
    run_free(&sheet);
    run_free(&json);
    run_folder_remove(folder);
}

static void files_are_written_for_a_quiet_check_too(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char layout[RUN_PATH];
    run_folder_make(folder);
    struct run done = run(WORDS("layout", EASY, "--quiet", "--out", folder));
    run_free(&done);
    run_path(layout, folder, "layout.json");
    done = run(WORDS("check", EASY, layout, "--quiet", "--out", folder));
    assert_int_equal(done.code, 0);
    assert_string_equal(done.out, "");
    assert_int_equal(run_folder_count(folder), 11);
    run_free(&done);
    done = run(WORDS("check", EASY, layout));
    assert_file(folder, "check.txt", done.out);
    run_free(&done);
    run_folder_remove(folder);
}

static void only_one_level_of_folders_is_made(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char inner[RUN_PATH];
    run_folder_make(folder);
    run_path(inner, folder, "a/b");
    struct run done = run(WORDS("layout", EASY, "--out", inner));
    assert_string_equal(done.out, "");
    assert_fault(&done, inner);
    assert_int_equal(run_folder_count(folder), 0);
    run_folder_remove(folder);
}

/* Not even the superuser may write into /proc; anybody else is stopped by the mode as well. */
static void folder_that_cannot_be_written_to(void **state) {
    (void)state;
    char folder[RUN_PATH];
    if (access("/proc/self", F_OK) == 0) {
        struct run done = run(WORDS("layout", EASY, "--out", "/proc"));
        assert_string_equal(done.out, "");
        assert_fault(&done, "/proc/sheet.txt: ");
    }
    if (geteuid() == 0) {
        return;
    }
    run_folder_make(folder);
    assert_int_equal(chmod(folder, 0500), 0);
    struct run done = run(WORDS("layout", EASY, "--out", folder));
    assert_string_equal(done.out, "");
    assert_fault(&done, "/sheet.txt: ");
    assert_int_equal(run_folder_count(folder), 0);
    run_folder_remove(folder);
}

static void name_of_the_folder_is_a_file(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char path[RUN_PATH];
    run_folder_make(folder);
    run_path(path, folder, "taken");
    run_file_write(path, "old\n");
    struct run done = run(WORDS("layout", EASY, "--out", path));
    assert_fault(&done, "Not a directory");
    assert_file(folder, "taken", "old\n");
    run_folder_remove(folder);
}

static void name_of_a_file_is_a_folder(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char path[RUN_PATH];
    run_folder_make(folder);
    assert_int_equal(mkdir(run_path(path, folder, "sheet.txt"), 0777), 0);
    struct run done = run(WORDS("layout", EASY, "--out", folder));
    assert_fault(&done, "/sheet.txt: ");
    assert_int_equal(run_folder_count(folder), 1); /* nothing half done beside it */
    run_folder_remove(folder);
}

/* The sheet is longer than 4096 bytes, so writing it fails half way. */
static void disk_that_fills_up_leaves_no_half_file(void **state) {
    (void)state;
    const struct run_setup small = {.bytes_most = 4096};
    char folder[RUN_PATH];
    char fresh[RUN_PATH];
    char old[RUN_PATH];
    run_folder_make(folder);
    run_path(fresh, folder, "fresh");
    struct run done = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY, "--out", fresh), &small);
    assert_string_equal(done.out, "");
    assert_fault(&done, "sheet.txt: found \"File too large\"");
    assert_int_equal(run_folder_count(folder), 0);
    run_file_write(run_path(old, folder, "sheet.txt"), "old\n");
    done = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY, "--out", folder), &small);
    assert_fault(&done, "sheet.txt: found \"File too large\"");
    assert_file(folder, "sheet.txt", "old\n");
    assert_int_equal(run_folder_count(folder), 1);
    run_folder_remove(folder);
}

/* exec keeps the number of the process, under which a killed one left its half of a file. */
static void half_file_of_a_killed_one_with_our_number_is_not_in_the_way(void **state) {
    (void)state;
    char folder[RUN_PATH];
    run_folder_make(folder);
    struct run done = run_program(
        "/bin/sh",
        WORDS("-c", "echo half >\"$1/.sheet.txt.$$\" && exec \"$0\" layout \"$2\" --out \"$1\"",
              RUDDLE_PROGRAM, folder, EASY),
        NULL);
    assert_int_equal(done.code, 0);
    assert_file(folder, "sheet.txt", done.out);
    run_free(&done);
    run_folder_remove(folder);
}

static void bad_input_makes_no_folder(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char inner[RUN_PATH];
    run_folder_make(folder);
    struct run done = run(WORDS("layout", TWO_FAULTS, "--out", run_path(inner, folder, "none")));
    assert_int_equal(done.code, 2);
    assert_int_equal(run_folder_count(inner), -1);
    run_free(&done);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(full_disk_behind_standard_output),
        cmocka_unit_test(closed_standard_output),
        cmocka_unit_test(pipe_that_nobody_reads),
        cmocka_unit_test(closed_standard_error_leaves_the_exit_code),
        cmocka_unit_test(files_are_whole_though_standard_output_is_closed),
        cmocka_unit_test(folder_is_made_and_gets_what_is_printed),
        cmocka_unit_test(files_are_written_for_a_quiet_check_too),
        cmocka_unit_test(only_one_level_of_folders_is_made),
        cmocka_unit_test(folder_that_cannot_be_written_to),
        cmocka_unit_test(name_of_the_folder_is_a_file),
        cmocka_unit_test(name_of_a_file_is_a_folder),
        cmocka_unit_test(disk_that_fills_up_leaves_no_half_file),
        cmocka_unit_test(half_file_of_a_killed_one_with_our_number_is_not_in_the_way),
        cmocka_unit_test(bad_input_makes_no_folder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
