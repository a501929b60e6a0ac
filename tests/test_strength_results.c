/* Strength in what the program prints: sheets, JSON and the lines of a check. */
#include "run_program.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <jansson.h>

enum { COLUMNS = 80 };

static struct run run(const char *const *words) {
    return run_program(RUDDLE_PROGRAM, words, NULL);
}

static size_t count_of(const char *text, const char *part) {
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, part)) != NULL; at += strlen(part)) {
        count++;
    }
    return count;
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL) {
        fail_msg("\"%s\" is not in:\n%s", part, text);
    }
}

static void assert_narrow(const char *text) {
    for (const char *line = text; *line != '\0';) {
        const size_t length = strcspn(line, "\n");
        if (length > COLUMNS) {
            fail_msg("%zu columns: %.*s", length, (int)length, line);
        }
        line += length + (line[length] == '\n');
    }
}

/* The sheet of a roof in roofs/; freed by the caller. */
static struct run sheet_of(const char *name, int code) {
    char path[RUN_PATH];
    struct run done = run(WORDS("layout", run_path(path, RUDDLE_ROOT "/roofs", name)));
    assert_int_equal(done.code, code);
    assert_narrow(done.out);
    return done;
}

static void sheet_without_loads_says_that_strength_was_not_looked_at(void **state) {
    (void)state;
    struct run done = sheet_of("easy.yaml", 0);
    assert_int_equal(count_of(done.out, "STRENGTH WAS NOT LOOKED AT HERE"), 1);
    assert_int_equal(count_of(done.out, "STRENGTH: A SCREEN"), 0);
    run_free(&done);
}

static void sheet_that_carries_shows_what_each_part_is_asked(void **state) {
    (void)state;
    struct run done = sheet_of("carries.yaml", 0);
    assert_int_equal(count_of(done.out, "STRENGTH WAS NOT LOOKED AT"), 0);
    assert_has(done.out, "STRENGTH IS SCREENED HERE, NOT CERTIFIED");
    assert_has(done.out, "STRENGTH: A SCREEN, NOT A CERTIFICATE");
    assert_has(done.out, "A licensed engineer and local code say");
    assert_has(done.out, "lag A-top-");
    assert_has(done.out, "strut top A");
    assert_has(done.out, "rafter 6 (");
    assert_has(done.out, "NOT looked at: earthquake; drifted");
    assert_has(done.out, "outside the standard for a single");
    assert_true(strstr(done.out, "STRENGTH: A SCREEN") > strstr(done.out, "What to carry"));
    assert_true(strstr(done.out, "STRENGTH: A SCREEN") < strstr(done.out, "ON THE ROOF"));
    run_free(&done);
}

static void sheet_found_after_one_that_did_not_carry_is_not_called_proved(void **state) {
    (void)state;
    struct run done = sheet_of("carries-after-moving.yaml", 0);
    assert_has(done.out, "! NOT PROVED: ");
    assert_has(done.out, "did not carry");
    assert_int_equal(count_of(done.out, "the limit of"), 0);
    assert_has(done.out, "Rafters NOT judged");
    run_free(&done);
}

static void sheet_that_cannot_carry_is_not_to_be_drilled_by(void **state) {
    (void)state;
    struct run done = sheet_of("cannot-carry.yaml", 1);
    assert_has(done.out, "CLOSEST FIT (does NOT work).   DO NOT DRILL.");
    assert_has(done.out, "no layout carries the load");
    assert_has(done.out, "WHAT DOES NOT CARRY (a screen, not a certificate)");
    assert_has(done.out, "lag hole A-bottom-1: asked 240 lb, holds 98 lb: 2.46 times");
    assert_has(done.out, "Proved: with this hardware no place on this roof carries.");
    assert_has(done.out, "times the bending it may bear");
    assert_has(done.out, "ask a licensed engineer before anything is lifted");
    run_free(&done);
}

static void json_has_the_worst_of_each_part(void **state) {
    (void)state;
    static const char *const keys[] = {"item",        "bracket", "row",      "mark",  "rafter",
                                       "combination", "demand",  "capacity", "ratio", "clause"};
    struct run done = run(WORDS("layout", RUDDLE_ROOT "/roofs/cannot-carry.yaml", "--json"));
    assert_int_equal(done.code, 1);
    json_t *json = json_loads(done.out, 0, NULL);
    const json_t *items = json_object_get(json, "strength");
    assert_true(json_array_size(items) >= 5 + 2);
    size_t lags = 0;
    for (size_t i = 0; i < json_array_size(items); i++) {
        const json_t *item = json_array_get(items, i);
        assert_int_equal(json_object_size(item), sizeof keys / sizeof *keys);
        for (size_t k = 0; k < sizeof keys / sizeof *keys; k++) {
            assert_non_null(json_object_get(item, keys[k]));
        }
        const double demand = json_number_value(json_object_get(item, "demand"));
        const double capacity = json_number_value(json_object_get(item, "capacity"));
        const double ratio = json_number_value(json_object_get(item, "ratio"));
        assert_true(fabs(ratio - demand / capacity) <= 2e-6);
        lags += strcmp(json_string_value(json_object_get(item, "item")), "lag") == 0;
    }
    assert_int_equal(lags, 5);
    const json_t *rules = json_object_get(json, "rules");
    const json_t *last = json_array_get(rules, json_array_size(rules) - 1);
    assert_string_equal(json_string_value(json_object_get(last, "rule")), "strength");
    assert_true(json_is_false(json_object_get(last, "holds")));
    assert_true(json_number_value(json_object_get(last, "margin")) < 0);
    assert_string_equal(json_string_value(json_object_get(json, "status")), "blocked");
    assert_true(json_is_true(json_object_get(json, "proved")));
    json_decref(json);
    run_free(&done);
}

/* Somebody else's layout: every rule holds, and it does not carry. */
static void check_tells_each_part_that_does_not_carry(void **state) {
    (void)state;
    char folder[RUN_PATH], layout[RUN_PATH];
    run_folder_make(folder);
    struct run done =
        run(WORDS("layout", RUDDLE_ROOT "/roofs/cannot-carry.yaml", "--quiet", "--out", folder));
    assert_int_equal(done.code, 1);
    run_free(&done);
    done = run(WORDS("check", RUDDLE_ROOT "/roofs/cannot-carry.yaml",
                     run_path(layout, folder, "layout.json")));
    assert_int_equal(done.code, 1);
    assert_has(done.out, "lag hole A-top-1: asked 240 lb, holds 98 lb: 2.46 times");
    assert_has(done.out, "rafter 3: asked ");
    assert_has(done.out, "strength is screened, not certified: a licensed engineer decides");
    run_free(&done);
    done = run(WORDS("layout", RUDDLE_ROOT "/roofs/carries.yaml", "--quiet", "--out", folder));
    assert_int_equal(done.code, 0);
    run_free(&done);
    done = run(WORDS("check", RUDDLE_ROOT "/roofs/carries.yaml", layout));
    assert_int_equal(done.code, 0);
    assert_has(done.out, "every rule holds");
    assert_has(done.out, "strength is screened, not certified: a licensed engineer decides");
    run_free(&done);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sheet_without_loads_says_that_strength_was_not_looked_at),
        cmocka_unit_test(sheet_that_carries_shows_what_each_part_is_asked),
        cmocka_unit_test(sheet_found_after_one_that_did_not_carry_is_not_called_proved),
        cmocka_unit_test(sheet_that_cannot_carry_is_not_to_be_drilled_by),
        cmocka_unit_test(json_has_the_worst_of_each_part),
        cmocka_unit_test(check_tells_each_part_that_does_not_carry),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
