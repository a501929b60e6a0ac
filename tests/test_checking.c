/* `ruddle check` and the fingerprint, through the real program. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "run_program.h"

#define EASY RUDDLE_ROOT "/roofs/easy.yaml"

enum { FINGERPRINT = 8 };

static struct run run(const char *const *words) {
    return run_program(RUDDLE_PROGRAM, words, NULL);
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL) {
        fail_msg("\"%s\" is not in:\n%s", part, text);
    }
}

/* The text with its first `old` exchanged; the caller frees it. */
static char *exchange(const char *text, const char *old, const char *new) {
    const char *at = strstr(text, old);
    const size_t size = strlen(text) + strlen(new) + 1;
    char *changed = malloc(size);
    if (at == NULL || changed == NULL) {
        fail_msg("\"%s\" is not in:\n%s", old, text);
    }
    snprintf(changed, size, "%.*s%s%s", (int)(at - text), text, new, at + strlen(old));
    return changed;
}

/* ---- Check ---------------------------------------------------------------------------------- */

/* A layout of the easy roof in a file; *folder is removed by the test. */
static void write_layout(char folder[RUN_PATH], char path[RUN_PATH], const char *old,
                         const char *new) {
    struct run done = run(WORDS("layout", EASY, "--json"));
    assert_int_equal(done.code, 0);
    char *text = exchange(done.out, old, new);
    run_folder_make(folder);
    run_file_write(run_path(path, folder, "layout.json"), text);
    free(text);
    run_free(&done);
}

static void own_layout_passes(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char path[RUN_PATH];
    write_layout(folder, path, "{", "{");
    struct run done = run(WORDS("check", EASY, path));
    assert_int_equal(done.code, 0);
    assert_string_equal(done.err, "");
    assert_string_equal(done.out, "every rule holds; room to miss 0.125 in\n");
    run_free(&done);
    run_folder_remove(folder);
}

/* Rafter 3 of that roof is at 72 and its faces are 3/4 in away.  A lag at 73 is beyond one of them:
 * it lacks 1 in less the play of 5/32 (3/4 - 15/32 - 1/8) = 27/32 = 0.84375 in. */
static void lag_beside_its_rafter_is_told(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char path[RUN_PATH];
    write_layout(folder, path, "\"rafter\": 3, \"x\": 72.0", "\"rafter\": 3, \"x\": 73.0");
    struct run done = run(WORDS("check", EASY, path));
    assert_int_equal(done.code, 1);
    assert_string_equal(done.err, "");
    assert_has(done.out, "lag hole A-top-1: ");
    assert_has(done.out, "27/32");
    run_free(&done);
    done = run(WORDS("check", EASY, path, "--json"));
    assert_int_equal(done.code, 1);
    assert_has(done.out, "{\n \"ruddle\": \"check/1\",\n");
    assert_has(done.out, "\"status\": \"blocked\"");
    assert_has(done.out, "{\"rule\": \"wood\", \"bracket\": \"A\", \"row\": \"top\", \"mark\": "
                         "\"A-top-1\", \"other\": null, \"margin\": -0.84375, \"counted\": true, "
                         "\"holds\": false}");
    run_free(&done);
    done = run(WORDS("check", EASY, path, "--quiet"));
    assert_int_equal(done.code, 1);
    assert_string_equal(done.out, "");
    run_free(&done);
    run_folder_remove(folder);
}

/* Nothing is known of who wrote it: short YAML by hand, hardware from the roof or the words. */
static void layout_written_by_hand_is_held_against_the_rules(void **state) {
    (void)state;
    static const char hand[] = "brackets: [{name: A, x: 60 7/8, y: 40}]\n"
                               "marks:\n"
                               "  - {bracket: A, row: top, x: 72, y: 110 3/4}\n"
                               "  - {bracket: A, row: top, x: 95 7/8, y: 110 3/4}\n"
                               "  - {bracket: A, row: top, x: 120, y: 110 3/4}\n"
                               "  - {bracket: A, row: bottom, x: 120, y: 54 1/2}\n"
                               "  - {bracket: A, row: bottom, x: 72, y: 54 1/2}\n";
    char folder[RUN_PATH];
    char path[RUN_PATH];
    run_folder_make(folder);
    run_file_write(run_path(path, folder, "hand.yaml"), hand);
    struct run done = run(WORDS("check", EASY, path));
    assert_int_equal(done.code, 0);
    run_free(&done);
    done = run(WORDS("check", EASY, path, "--bottom", "strut")); /* it skips the rafter between */
    assert_int_equal(done.code, 1);
    run_free(&done);
    run_folder_remove(folder);
}

static void layout_of_an_unknown_bracket_is_bad_input(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char path[RUN_PATH];
    char message[RUN_PATH + 2];
    write_layout(folder, path, "\"bracket\": \"A\", \"row\": \"top\", \"rafter\"",
                 "\"bracket\": \"Z\", \"row\": \"top\", \"rafter\"");
    struct run done = run(WORDS("check", EASY, path));
    assert_int_equal(done.code, 2);
    assert_string_equal(done.out, "");
    snprintf(message, sizeof message, "%s:", path);
    assert_has(done.err, message);
    run_free(&done);
    run_folder_remove(folder);
}

/* ---- Fingerprint ---------------------------------------------------------------------------- */

/* It stands at the end of the sheet's second line. */
static void take_fingerprint(const char *const *words, char fingerprint[FINGERPRINT + 1]) {
    struct run done = run(words);
    assert_int_equal(done.code, 0);
    const char *line = strchr(done.out, '\n');
    assert_non_null(line);
    const char *end = strchr(line + 1, '\n');
    assert_true(end != NULL && end - line > FINGERPRINT);
    snprintf(fingerprint, FINGERPRINT + 1, "%s", end - FINGERPRINT);
    assert_int_equal(strspn(fingerprint, "0123456789abcdef"), FINGERPRINT);
    run_free(&done);
}

static void fingerprint_follows_the_options_that_change_the_sheet(void **state) {
    (void)state;
    static const char *const others[][5] = {{"layout", EASY, "--from", "far"},
                                            {"layout", EASY, "--burn", "1"},
                                            {"layout", EASY, "--tape", "1/8"},
                                            {"layout", EASY, "--bottom", "strut"}};
    static const char *const equals[][5] = {{"layout", EASY, "--top", "strut"},
                                            {"layout", EASY, "--tape", "1/16"},
                                            {"layout", EASY, "--limit", "50"}};
    char first[FINGERPRINT + 1];
    char other[FINGERPRINT + 1];
    take_fingerprint(WORDS("layout", EASY), first);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        take_fingerprint(others[i], other);
        assert_string_not_equal(other, first);
    }
    for (size_t i = 0; i < sizeof equals / sizeof *equals; i++) {
        take_fingerprint(equals[i], other);
        assert_string_equal(other, first);
    }
}

static void fingerprint_follows_the_bytes_of_roof_and_kit(void **state) {
    (void)state;
    char folder[RUN_PATH];
    char roof[RUN_PATH];
    char kit[RUN_PATH];
    char first[FINGERPRINT + 1];
    char other[FINGERPRINT + 1];
    char *text = run_file_read(EASY);
    char *moved = exchange(text, "kits/two-leg.yaml", "two-leg.yaml");
    char *hardware = run_file_read(RUDDLE_ROOT "/roofs/kits/two-leg.yaml");
    run_folder_make(folder);
    run_file_write(run_path(roof, folder, "roof.yaml"), moved);
    run_file_write(run_path(kit, folder, "two-leg.yaml"), hardware);
    take_fingerprint(WORDS("layout", roof), first);
    char *longer = exchange(hardware, "kit:", "# another tin of the same\nkit:");
    run_file_write(kit, longer);
    take_fingerprint(WORDS("layout", roof), other);
    assert_string_not_equal(other, first);
    run_file_write(kit, hardware);
    take_fingerprint(WORDS("layout", roof), other);
    assert_string_equal(other, first);
    char *named = exchange(moved, "roof:", "# seen twice\nroof:");
    run_file_write(roof, named);
    take_fingerprint(WORDS("layout", roof), other);
    assert_string_not_equal(other, first);
    free(text);
    free(moved);
    free(hardware);
    free(longer);
    free(named);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(own_layout_passes),
        cmocka_unit_test(lag_beside_its_rafter_is_told),
        cmocka_unit_test(layout_written_by_hand_is_held_against_the_rules),
        cmocka_unit_test(layout_of_an_unknown_bracket_is_bad_input),
        cmocka_unit_test(fingerprint_follows_the_options_that_change_the_sheet),
        cmocka_unit_test(fingerprint_follows_the_bytes_of_roof_and_kit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
