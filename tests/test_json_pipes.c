/* Pipe holes in the machine-readable result. */
#include "json.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct sheet_answer made;

enum { HOT = 5, COLD = 6 }; /* marks: after the five lags of frame A */

static json_t *result(void) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_int_equal(json_write(&made.answer, stream), OUTCOME_DONE);
    assert_int_equal(fclose(stream), 0);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    free(text);
    assert_non_null(root);
    return root;
}

static const json_t *entry(const json_t *root, const char *list, size_t index) {
    const json_t *value = json_array_get(json_object_get(root, list), index);
    assert_non_null(value);
    return value;
}

static void assert_number(const json_t *object, const char *key, double wanted) {
    const json_t *value = json_object_get(object, key);
    assert_true(json_is_number(value));
    if (!(fabs(json_number_value(value) - wanted) <= 1e-9)) {
        fail_msg("%s: %.12g, not %.12g", key, json_number_value(value), wanted);
    }
}

static void assert_text(const json_t *object, const char *key, const char *wanted) {
    const char *text = json_string_value(json_object_get(object, key));
    assert_non_null(text);
    assert_string_equal(text, wanted);
}

/* On the 14th butt edge at 79 1/8: 4 in below the hole at 83 1/8. */
static void pipe_hole_is_a_mark_without_a_rafter(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    json_t *root = result();
    const json_t *hot = entry(root, "marks", HOT);
    assert_text(hot, "id", "A-pipe-hot");
    assert_text(hot, "bracket", "A");
    assert_text(hot, "row", "pipe");
    assert_true(json_is_null(json_object_get(hot, "rafter")));
    assert_true(json_is_null(json_object_get(hot, "turned")));
    assert_number(hot, "x", 77);
    assert_number(hot, "y", 83.125);
    assert_text(hot, "pipe", "hot");
    assert_number(hot, "course", 14);
    assert_number(hot, "above_edge", 4);
    assert_number(json_object_get(hot, "margins"), "pipe-bay", 7.6875);
    assert_number(json_object_get(hot, "margins"), "pipe-reach", 1.75);
    assert_text(entry(root, "marks", COLD), "id", "A-pipe-cold");
    assert_null(json_object_get(entry(root, "marks", 0), "pipe"));
    assert_int_equal(json_array_size(json_object_get(root, "rows")), 2); /* lines only */
    assert_number(root, "holes", 7);
    json_decref(root);
}

static const char *first_reason(json_t *root) {
    return json_string_value(entry(root, "reasons", 0));
}

static void break_rule(struct finding finding) {
    answer_break(&made);
    made.findings[0] = finding;
    made.verdict.count = 1;
}

/* At 86 the face of rafter 4, at 87 1/4, is nearest. */
static void rafter_in_the_way_is_a_reason(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[HOT].x = 86;
    break_rule((struct finding){RULE_PIPE_BAY, 0, ROW_PIPE, HOT, -1, -1, -1, -1, -0.3125});
    json_t *root = result();
    assert_string_equal(first_reason(root),
                        "pipe-bay: A-pipe-hot is short by 0.3125 in, rafter 4 is in the way");
    json_decref(root);
    made.findings[0].other_bracket = 0; /* a foot is in the way, no rafter */
    made.findings[0].other_mark = 3;
    root = result();
    assert_string_equal(first_reason(root),
                        "pipe-bay: A-pipe-hot and A-bottom-1 is short by 0.3125 in");
    json_decref(root);
}

static void pipe_without_its_hole_is_named_in_the_reason(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[COLD].pipe = 0;
    break_rule((struct finding){RULE_COMPLETE, 0, ROW_PIPE, -1, -1, -1, -1, -1, -1});
    json_t *root = result();
    assert_string_equal(first_reason(root), "complete: A-pipe-cold is 1 hole out");
    const json_t *rule = entry(root, "rules", 0);
    assert_true(json_is_null(json_object_get(rule, "mark")));
    json_decref(root);
}

static void holes_of_one_pipe_have_ids_of_their_own(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[COLD].pipe = 0;
    json_t *root = result();
    assert_text(entry(root, "marks", HOT), "id", "A-pipe-hot");
    assert_text(entry(root, "marks", COLD), "id", "A-pipe-hot-2");
    json_decref(root);
}

/* Rafter 4 at 88 is under frame A; the survey's own warning comes first. */
static void unsound_rafter_under_a_frame_is_a_warning(void **state) {
    (void)state;
    answer_make(&made, 1);
    made.rafters[3].sound = false;
    json_t *root = result();
    assert_int_equal(json_array_size(json_object_get(root, "warnings")), 2);
    assert_string_equal(json_string_value(entry(root, "warnings", 1)),
                        "Rafter 4 is not sound and lies under frame A: ask a licensed engineer "
                        "before the frame goes up.");
    json_decref(root);
    made.answer.marks = NULL; /* nothing is placed: nothing lies under it */
    made.answer.verdict = NULL;
    made.layout.marks = NULL;
    root = result();
    assert_int_equal(json_array_size(json_object_get(root, "warnings")), 1);
    json_decref(root);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pipe_hole_is_a_mark_without_a_rafter),
        cmocka_unit_test(rafter_in_the_way_is_a_reason),
        cmocka_unit_test(pipe_without_its_hole_is_named_in_the_reason),
        cmocka_unit_test(holes_of_one_pipe_have_ids_of_their_own),
        cmocka_unit_test(unsound_rafter_under_a_frame_is_a_warning),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
