/* `ruddle explain` as it is run: its page, one hole of it, its JSON against that of the layout, and
 * what `ruddle check` says to whoever has broken a rule. */
#include "../src/sheet/reasons.h"
#include "../src/sheet/words.h"
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

#define EASY RUDDLE_ROOT "/roofs/easy.yaml"
#define BLOCKED RUDDLE_ROOT "/roofs/nothing-fits.yaml"
#define METRIC RUDDLE_ROOT "/roofs/vent-in-the-way.yaml"
#define LOADED RUDDLE_ROOT "/roofs/carries.yaml"

static json_t *parsed(struct run *run) {
    json_t *json = json_loads(run->out, 0, NULL);
    assert_non_null(json);
    run_free(run);
    return json;
}

static size_t count_of(const char *text, const char *word) {
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, word)) != NULL; at++)
        count++;
    return count;
}

/* No line longer than 80 letters, and no word of the files. */
static void is_a_page_for_people(const char *text) {
    for (const char *line = text; *line != '\0';) {
        const size_t length = strcspn(line, "\n");
        size_t letters = 0;
        for (size_t i = 0; i < length; i++)
            letters += ((unsigned char)line[i] & 0xC0U) != 0x80U;
        if (letters > 80)
            fail_msg("%.*s", (int)length, line);
        line += length + (line[length] == '\n');
    }
    if (words_kept_off(text) != NULL)
        fail_msg("%s", words_kept_off(text));
}

static void pages_are_eighty_columns_of_trade_words(void **state) {
    (void)state;
    const char *const roofs[] = {EASY, METRIC, LOADED, RUDDLE_ROOT "/roofs/side-by-side.yaml"};
    for (size_t i = 0; i < sizeof roofs / sizeof *roofs; i++) {
        struct run run = run_program(RUDDLE_PROGRAM, WORDS("explain", roofs[i]), NULL);
        assert_int_equal(run.code, 0);
        is_a_page_for_people(run.out);
        assert_non_null(strstr(run.out, "could move"));
        assert_non_null(strstr(run.out, "WHY THESE RULES, and where they come from"));
        assert_null(strstr(run.out, "WHAT STANDS IN THE WAY"));
        run_free(&run);
    }
}

/* A limit too short to try anything: what stands in the way is told all the same. */
static void page_of_a_blocked_roof_says_so_at_its_head(void **state) {
    (void)state;
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("explain", BLOCKED, "--limit", "1"), NULL);
    assert_int_equal(run.code, 1);
    is_a_page_for_people(run.out);
    const char *way = strstr(run.out, "WHAT STANDS IN THE WAY");
    assert_true(way != NULL && way < strstr(run.out, "WHY THESE RULES"));
    assert_non_null(strstr(run.out, "does NOT work.   DO NOT DRILL."));
    run_free(&run);
}

static void one_hole_is_told_of_alone(void **state) {
    (void)state;
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("explain", EASY, "A-top-2"), NULL);
    assert_int_equal(run.code, 0);
    assert_int_equal(count_of(run.out, "LAG HOLE "), 1);
    assert_non_null(strstr(run.out, "LAG HOLE A-top-2"));
    run_free(&run);
    run = run_program(RUDDLE_PROGRAM, WORDS("explain", EASY, "A-top-9"), NULL);
    assert_int_equal(run.code, 2);
    assert_string_equal(run.out, "");
    assert_int_equal(count_of(run.err, "\n"), 1);
    assert_non_null(strstr(run.err, "found \"A-top-9\", wanted the name of a hole: A-top-1, "));
    run_free(&run);
}

/* The mark of that id; NULL: none. */
static const json_t *find_mark(const json_t *json, const char *id) {
    const json_t *marks = json_object_get(json, "marks");
    for (size_t i = 0; i < json_array_size(marks); i++) {
        const json_t *mark = json_array_get(marks, i);
        if (strcmp(json_string_value(json_object_get(mark, "id")), id) == 0)
            return mark;
    }
    return NULL;
}

/* Each mark is where the layout has it, with the margins that the layout gives, and no way that it
 * could move is longer than the least of those of `wood` where wood is what stops it. */
static void marks_agree_with_the_layouts(const char *path) {
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("layout", path, "--json"), NULL);
    assert_int_equal(run.code, 0);
    json_t *layout = parsed(&run);
    run = run_program(RUDDLE_PROGRAM, WORDS("explain", path, "--json"), NULL);
    assert_int_equal(run.code, 0);
    json_t *json = parsed(&run);
    const json_t *marks = json_object_get(json, "marks");
    assert_string_equal(json_string_value(json_object_get(json, "ruddle")), "explain/1");
    assert_int_equal(json_array_size(marks), json_array_size(json_object_get(layout, "marks")));
    assert_int_equal(json_array_size(json_object_get(json, "changes")), 0);
    for (size_t i = 0; i < json_array_size(marks); i++) {
        const json_t *mark = json_array_get(marks, i), *rule = NULL;
        const json_t *same = find_mark(layout, json_string_value(json_object_get(mark, "id")));
        const json_t *margins = json_object_get(same, "margins");
        assert_true(json_equal(json_object_get(mark, "x"), json_object_get(same, "x")));
        assert_true(json_equal(json_object_get(mark, "y"), json_object_get(same, "y")));
        size_t j = 0;
        json_array_foreach(json_object_get(mark, "rules"), j, rule) {
            const char *name = json_string_value(json_object_get(rule, "rule"));
            const json_t *margin = json_object_get(margins, name);
            assert_non_null(margin);
            assert_true(json_equal(margin, json_object_get(rule, "margin")));
            assert_true(strlen(json_string_value(json_object_get(rule, "needs"))) > 0);
        }
        const char *way = NULL;
        json_t *move = NULL;
        json_object_foreach(json_object_get(mark, "moves"), way, move) {
            const char *name = json_string_value(json_object_get(move, "rule"));
            const double by = json_number_value(json_object_get(move, "by"));
            const double wood = json_number_value(json_object_get(margins, "wood"));
            assert_true(by >= 0);
            if (name != NULL && strcmp(name, "wood") == 0 && strcmp(way, "up") != 0 &&
                strcmp(way, "down") != 0)
                assert_true(by >= wood - 2e-6);
        }
    }
    json_decref(json);
    json_decref(layout);
}

static void result_for_machines_agrees_with_the_layouts(void **state) {
    (void)state;
    marks_agree_with_the_layouts(EASY);
    marks_agree_with_the_layouts(METRIC);
}

/* The frame of that roof is wanted where the stack is: which way it stands from there, and why not
 * there, as the layout has it. */
static void frames_say_why_they_are_not_where_they_were_wanted(void **state) {
    (void)state;
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("explain", METRIC), NULL);
    const char *frame = strstr(run.out, "FRAME A\n");
    assert_non_null(frame);
    assert_non_null(strstr(frame, "LEFT of where it is wanted: frame to vent (vent soil"));
    assert_non_null(strstr(frame, "its holes find nothing as good"));
    run_free(&run);
    run = run_program(RUDDLE_PROGRAM, WORDS("layout", METRIC, "--json"), NULL);
    json_t *layout = parsed(&run);
    run = run_program(RUDDLE_PROGRAM, WORDS("explain", METRIC, "--json"), NULL);
    json_t *json = parsed(&run), *move = NULL;
    const json_t *own = json_array_get(json_object_get(json, "frames"), 0);
    const json_t *moved = json_object_get(own, "moved");
    assert_true(fabs(json_number_value(json_array_get(moved, 0))) +
                    fabs(json_number_value(json_array_get(moved, 1))) ==
                json_number_value(json_object_get(layout, "moved")));
    assert_string_equal(
        json_string_value(json_object_get(json_object_get(own, "kept_off"), "rule")),
        check_rule_name(RULE_VENT_BRACKET));
    const char *way = NULL;
    size_t ways = 0;
    json_object_foreach(json_object_get(own, "moves"), way, move) {
        assert_true(json_number_value(json_object_get(move, "by")) >= 0);
        ways++;
    }
    assert_int_equal(ways, 4);
    json_decref(json);
    json_decref(layout);
}

/* Every rule of the program has its reason and its source in the result. */
static void every_rule_has_its_reason_in_the_result(void **state) {
    (void)state;
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("explain", EASY, "A-top-1", "--json"), NULL);
    json_t *json = parsed(&run);
    const json_t *rules = json_object_get(json, "rules");
    assert_int_equal(json_object_size(rules), RULE_COUNT);
    for (int i = 0; i < RULE_COUNT; i++) {
        const json_t *rule = json_object_get(rules, check_rule_name((enum rule)i));
        assert_string_equal(json_string_value(json_object_get(rule, "why")),
                            reasons_why((enum rule)i));
        assert_string_equal(json_string_value(json_object_get(rule, "source")),
                            reasons_source((enum rule)i));
    }
    json_decref(json);
}

/* The easy roof's own layout with one lag 1/2 in aside and the lower line 1 in up. */
static void spoil(const char *path) {
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY, "--json"), NULL);
    json_t *json = parsed(&run);
    json_t *marks = json_object_get(json, "marks");
    for (size_t i = 0; i < json_array_size(marks); i++) {
        json_t *mark = json_array_get(marks, i);
        const double x = json_number_value(json_object_get(mark, "x"));
        const double y = json_number_value(json_object_get(mark, "y"));
        if (strcmp(json_string_value(json_object_get(mark, "id")), "A-top-2") == 0)
            json_object_set_new(mark, "x", json_real(x + 0.5));
        if (strcmp(json_string_value(json_object_get(mark, "row")), "bottom") == 0)
            json_object_set_new(mark, "y", json_real(y + 1));
    }
    assert_int_equal(json_dump_file(json, path, 0), 0);
    json_decref(json);
}

/* Three rules break, two of them twice: each is given its reason, once. */
static void check_says_why_each_broken_rule_exists(void **state) {
    (void)state;
    char folder[RUN_PATH], path[RUN_PATH], wanted[400];
    const enum rule broken[] = {RULE_WOOD, RULE_COURSE_EDGE, RULE_COURSE_BLOCK};
    run_folder_make(folder);
    spoil(run_path(path, folder, "layout.json"));
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("check", EASY, path), NULL);
    assert_int_equal(run.code, 1);
    for (size_t i = 0; i < sizeof broken / sizeof *broken; i++) {
        snprintf(wanted, sizeof wanted, "why %s: %s\n", words_rule(broken[i]),
                 reasons_why(broken[i]));
        assert_int_equal(count_of(run.out, wanted), 1);
    }
    assert_int_equal(count_of(run.out, "\nwhy "), 3);
    if (words_kept_off(run.out) != NULL)
        fail_msg("%s", words_kept_off(run.out));
    run_free(&run);
    run_folder_remove(folder);
}

static void check_gives_no_reasons_where_every_rule_holds(void **state) {
    (void)state;
    char folder[RUN_PATH], path[RUN_PATH];
    run_folder_make(folder);
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("layout", EASY, "--json"), NULL);
    run_file_write(run_path(path, folder, "layout.json"), run.out);
    run_free(&run);
    run = run_program(RUDDLE_PROGRAM, WORDS("check", EASY, path), NULL);
    assert_int_equal(run.code, 0);
    assert_null(strstr(run.out, "why "));
    run_free(&run);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pages_are_eighty_columns_of_trade_words),
        cmocka_unit_test(page_of_a_blocked_roof_says_so_at_its_head),
        cmocka_unit_test(one_hole_is_told_of_alone),
        cmocka_unit_test(result_for_machines_agrees_with_the_layouts),
        cmocka_unit_test(frames_say_why_they_are_not_where_they_were_wanted),
        cmocka_unit_test(every_rule_has_its_reason_in_the_result),
        cmocka_unit_test(check_says_why_each_broken_rule_exists),
        cmocka_unit_test(check_gives_no_reasons_where_every_rule_holds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
