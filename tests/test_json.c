/* The machine-readable result: fields and their order, units, names, and what is null. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <jansson.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "json.h"
#include "sheet_answer.h"

/* NaN passes no comparison, so "not (close)" fails on it. */
static void assert_close(double found, double wanted) {
    if (!(fabs(found - wanted) <= 1e-12)) {
        fail_msg("found %.17g, wanted %.17g", found, wanted);
    }
}

static char *layout_text(const struct answer *answer) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_int_equal(json_write(answer, stream), OUTCOME_DONE);
    assert_int_equal(fclose(stream), 0);
    return text;
}

static json_t *parse(char *text) {
    json_error_t error;
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    if (root == NULL) {
        print_error("line %d: %s\n%s", error.line, error.text, text);
    }
    free(text);
    assert_non_null(root);
    return root;
}

static json_t *layout_json(const struct answer *answer) {
    return parse(layout_text(answer));
}

static const json_t *entry(const json_t *root, const char *list, size_t index) {
    const json_t *value = json_array_get(json_object_get(root, list), index);
    assert_non_null(value);
    return value;
}

static void assert_number(const json_t *object, const char *key, double wanted) {
    const json_t *value = json_object_get(object, key);
    assert_true(json_is_number(value));
    assert_close(json_number_value(value), wanted);
}

static void assert_text(const json_t *object, const char *key, const char *wanted) {
    const json_t *value = json_object_get(object, key);
    assert_true(json_is_string(value));
    assert_string_equal(json_string_value(value), wanted);
}

static void assert_is_null(const json_t *object, const char *key) {
    assert_true(json_is_null(json_object_get(object, key)));
}

/* The keys of an object in the order in which they are written; `wanted` ends with NULL. */
static void assert_keys(const json_t *object, const char *const *wanted) {
    json_t *copy = json_copy((json_t *)(uintptr_t)object); /* iterating asks for no const */
    void *at = json_object_iter(copy);
    for (size_t i = 0; wanted[i] != NULL; i++) {
        assert_non_null(at);
        assert_string_equal(json_object_iter_key(at), wanted[i]);
        at = json_object_iter_next(copy, at);
    }
    assert_null(at);
    json_decref(copy);
}

static const char *const layout_keys[] = {
    "ruddle",      "roof",    "measure", "corner",   "status",   "tight",   "proved",
    "forgiveness", "holes",   "moved",   "brackets", "rows",     "struts",  "marks",
    "rules",       "optimum", "bound",   "strength", "warnings", "reasons", NULL};

/* The answer of sheet_answer.h: frame A at (54 1/8, 40), wanted at (60, 40), so moved 5 7/8. */

static void layout_has_the_fields_in_their_order(void **state) {
    (void)state;
    static const char *const bracket_keys[] = {
        "name", "x", "y", "forgiveness", "top", "bottom", "bottom_bracket_gap", NULL};
    static const char *const row_keys[] = {"bracket", "row",        "kind", "y",
                                           "course",  "above_edge", NULL};
    static const char *const strut_keys[] = {"bracket", "row",    "from", "to",
                                             "length",  "clamps", NULL};
    static const char *const mark_keys[] = {"id", "bracket", "row",     "rafter", "x",
                                            "y",  "turned",  "margins", NULL};
    static const char *const rule_keys[] = {"rule",   "bracket", "mark",  "other",
                                            "margin", "counted", "holds", NULL};
    static const char *const optimum_keys[] = {"forgiveness", "holes", "moved", NULL};
    struct sheet_answer made;
    answer_make(&made, 1);
    json_t *root = layout_json(&made.answer);
    assert_keys(root, layout_keys);
    assert_keys(entry(root, "brackets", 0), bracket_keys);
    assert_keys(entry(root, "rows", 0), row_keys);
    assert_keys(entry(root, "struts", 0), strut_keys);
    assert_keys(entry(root, "marks", 0), mark_keys);
    assert_keys(entry(root, "rules", 0), rule_keys);
    assert_keys(json_object_get(root, "optimum"), optimum_keys);
    json_decref(root);
}

static void good_layout_in_inches(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    json_t *root = layout_json(&made.answer);
    assert_text(root, "ruddle", "layout/1");
    assert_text(root, "roof", "Alder Row 7, south face");
    assert_text(root, "measure", "in");
    assert_text(root, "corner", "left");
    assert_text(root, "status", "ok");
    assert_true(json_is_false(json_object_get(root, "tight")));
    assert_true(json_is_true(json_object_get(root, "proved")));
    assert_number(root, "forgiveness", 0.125);
    assert_number(root, "holes", 5);
    assert_number(root, "moved", 5.875);
    assert_is_null(root, "bound");
    assert_is_null(root, "strength");
    assert_int_equal(json_array_size(json_object_get(root, "reasons")), 0);
    assert_int_equal(json_array_size(json_object_get(root, "warnings")), 1);
    json_decref(root);
}

static void rows_and_struts_of_a_frame(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    json_t *root = layout_json(&made.answer);
    const json_t *bracket = entry(root, "brackets", 0);
    assert_text(bracket, "name", "A");
    assert_number(bracket, "x", 54.125);
    assert_text(bracket, "top", "strut");
    assert_text(bracket, "bottom", "feet");
    const json_t *gap = json_object_get(bracket, "bottom_bracket_gap");
    assert_close(json_real_value(json_array_get(gap, 0)), 1);
    assert_close(json_real_value(json_array_get(gap, 1)), 1.5);
    /* E_19 = 6 + 18 x 5 5/8 = 107 1/4; 110 3/4 is 3 1/2 above it */
    assert_text(entry(root, "rows", 0), "kind", "strut");
    assert_number(entry(root, "rows", 0), "course", 19);
    assert_number(entry(root, "rows", 0), "above_edge", 3.5);
    assert_text(entry(root, "rows", 1), "kind", "feet");
    /* only the top row is a strut: 116 3/8 - 63 = 53 3/8 */
    assert_int_equal(json_array_size(json_object_get(root, "struts")), 1);
    assert_number(entry(root, "struts", 0), "length", 53.375);
    const json_t *clamps = json_object_get(entry(root, "struts", 0), "clamps");
    assert_int_equal(json_array_size(clamps), 2);
    assert_close(json_real_value(json_array_get(clamps, 1)), 115.375);
    json_decref(root);
}

static void marks_carry_their_least_margins(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    json_t *root = layout_json(&made.answer);
    const json_t *lag = entry(root, "marks", 0);
    assert_text(lag, "id", "A-top-1");
    assert_number(lag, "rafter", 3); /* at 64, counted from 1 */
    assert_is_null(lag, "turned");
    const json_t *foot = entry(root, "marks", 4);
    assert_text(foot, "id", "A-bottom-2");
    assert_text(foot, "turned", "near");
    const json_t *margins = json_object_get(foot, "margins");
    assert_int_equal(json_object_size(margins), 2);
    assert_number(margins, "wood", 0.15625);
    assert_number(margins, "foot-reach", 0.125);
    json_decref(root);
}

/* Two findings of one rule at one mark, one of them seen from its other end. */
static void pair_of_marks_counts_for_both_and_names_the_other(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    made.findings[made.verdict.count++] =
        (struct finding){RULE_APART, 0, ROW_TOP, 0, 0, ROW_TOP, 1, CHECK_NONE, 3.75};
    made.findings[made.verdict.count++] =
        (struct finding){RULE_APART, 0, ROW_TOP, 1, 0, ROW_TOP, 2, CHECK_NONE, 2.5};
    json_t *root = layout_json(&made.answer);
    assert_number(json_object_get(entry(root, "marks", 0), "margins"), "apart", 3.75);
    assert_number(json_object_get(entry(root, "marks", 1), "margins"), "apart", 2.5);
    assert_number(json_object_get(entry(root, "marks", 2), "margins"), "apart", 2.5);
    const json_t *rules = json_object_get(root, "rules");
    const json_t *apart = json_array_get(rules, json_array_size(rules) - 1);
    assert_text(apart, "rule", "apart");
    assert_text(apart, "mark", "A-top-2");
    assert_text(apart, "other", "A-top-3");
    assert_number(apart, "margin", 2.5);
    json_decref(root);
}

static void other_party_is_vent_bracket_or_null(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 2);
    made.verdict.count = 0;
    made.findings[made.verdict.count++] = (struct finding){
        RULE_VENT_BRACKET, 1, CHECK_NONE, CHECK_NONE, CHECK_NONE, CHECK_NONE, CHECK_NONE, 0, 7};
    made.findings[made.verdict.count++] = (struct finding){
        RULE_ROW, 0, ROW_TOP, CHECK_NONE, CHECK_NONE, CHECK_NONE, CHECK_NONE, CHECK_NONE, 1};
    made.findings[made.verdict.count++] = (struct finding){
        RULE_APART, 0, CHECK_NONE, CHECK_NONE, 1, CHECK_NONE, CHECK_NONE, CHECK_NONE, 30};
    made.findings[made.verdict.count++] =
        (struct finding){RULE_STRUT_STOCK, 0,          ROW_TOP,    CHECK_NONE, CHECK_NONE,
                         CHECK_NONE,       CHECK_NONE, CHECK_NONE, -1.5};
    json_t *root = layout_json(&made.answer);
    assert_int_equal(json_array_size(json_object_get(root, "rules")), 4);
    assert_text(entry(root, "rules", 0), "other", "soil stack");
    assert_text(entry(root, "rules", 0), "bracket", "B");
    assert_is_null(entry(root, "rules", 0), "mark");
    assert_is_null(entry(root, "rules", 1), "other");
    assert_text(entry(root, "rules", 2), "other", "B");
    assert_true(json_is_true(json_object_get(entry(root, "rules", 2), "counted")));
    assert_true(json_is_false(json_object_get(entry(root, "rules", 3), "counted")));
    assert_true(json_is_false(json_object_get(entry(root, "rules", 3), "holds")));
    json_decref(root);
}

/* 54 1/8 in = 1374.775 mm, 1/8 in = 3.175 mm; what is missing of a row stays a count. */
static void file_in_millimetres_gets_millimetres(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    made.roof.measure = MEASURE_MM;
    made.roof.corner = CORNER_RIGHT;
    made.findings[made.verdict.count++] =
        (struct finding){RULE_COMPLETE, 0,          ROW_BOTTOM, CHECK_NONE, CHECK_NONE,
                         CHECK_NONE,    CHECK_NONE, CHECK_NONE, -2};
    json_t *root = layout_json(&made.answer);
    assert_text(root, "measure", "mm");
    assert_text(root, "corner", "right");
    assert_number(root, "forgiveness", 3.175);
    assert_number(root, "moved", 149.225);
    assert_number(root, "holes", 5);
    assert_number(entry(root, "brackets", 0), "x", 1374.775);
    assert_number(entry(root, "marks", 0), "x", 1625.6);
    assert_number(json_object_get(entry(root, "marks", 0), "margins"), "wood", 3.96875);
    assert_number(entry(root, "rows", 0), "above_edge", 88.9);
    const json_t *rules = json_object_get(root, "rules");
    const json_t *complete = json_array_get(rules, json_array_size(rules) - 1);
    assert_text(complete, "rule", "complete");
    assert_number(complete, "margin", -2);
    json_decref(root);
}

static void marks_out_of_order_are_numbered_by_x(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    const double x = made.list[0].x;
    made.list[0].x = made.list[2].x;
    made.list[2].x = x;
    json_t *root = layout_json(&made.answer);
    assert_text(entry(root, "marks", 0), "id", "A-top-3");
    assert_text(entry(root, "marks", 1), "id", "A-top-2");
    assert_text(entry(root, "marks", 2), "id", "A-top-1");
    json_decref(root);
}

static void no_layout_has_nulls_and_empty_lists(void **state) {
    (void)state;
    static const char *const empty[] = {"brackets", "rows", "struts", "marks", "rules"};
    static const char *const null[] = {"forgiveness", "holes", "moved", "optimum", "bound"};
    struct sheet_answer made;
    answer_make(&made, 1);
    made.answer.marks = NULL;
    made.answer.verdict = NULL;
    made.layout.marks = NULL;
    made.layout.state = LAYOUT_IMPOSSIBLE;
    made.layout.reason_count = 1;
    snprintf(made.reasons[0].text, sizeof made.reasons[0].text, "A: one sound rafter only");
    made.answer.status = STATUS_BLOCKED;
    json_t *root = layout_json(&made.answer);
    assert_keys(root, layout_keys);
    for (size_t i = 0; i < sizeof empty / sizeof *empty; i++) {
        assert_true(json_is_array(json_object_get(root, empty[i])));
        assert_int_equal(json_array_size(json_object_get(root, empty[i])), 0);
        assert_is_null(root, null[i]);
    }
    assert_text(root, "status", "blocked");
    assert_true(json_is_true(json_object_get(root, "proved")));
    assert_string_equal(json_string_value(entry(root, "reasons", 0)), "A: one sound rafter only");
    json_decref(root);
}

static void limit_gives_bounds_and_no_proof(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    made.layout.state = LAYOUT_FEASIBLE;
    made.layout.bound_forgiveness = 0.125;
    made.layout.bound_cost = 41.5;
    json_t *root = layout_json(&made.answer);
    assert_true(json_is_false(json_object_get(root, "proved")));
    assert_number(json_object_get(root, "bound"), "forgiveness", 0.125);
    assert_number(json_object_get(root, "bound"), "cost", 41.5);
    json_decref(root);
    made.layout.bound_cost = -INFINITY;
    root = layout_json(&made.answer);
    assert_is_null(json_object_get(root, "bound"), "cost");
    json_decref(root);
}

static void limit_without_a_layout_says_so(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    made.answer.marks = NULL;
    made.answer.verdict = NULL;
    made.layout.marks = NULL;
    made.layout.state = LAYOUT_UNDECIDED;
    made.answer.status = STATUS_UNDECIDED;
    made.answer.limit_s = 0.5;
    json_t *root = layout_json(&made.answer);
    assert_text(root, "status", "undecided");
    assert_true(json_is_false(json_object_get(root, "proved")));
    assert_string_equal(json_string_value(entry(root, "reasons", 0)),
                        "limit: 0.5 s ended the search before any layout was found");
    json_decref(root);
}

/* answer_break: the wood of the first mark is 11/32 in short. */
static void blocked_layout_names_what_is_short(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    answer_break(&made);
    json_t *root = layout_json(&made.answer);
    assert_int_equal(json_array_size(json_object_get(root, "reasons")), 1);
    assert_string_equal(json_string_value(entry(root, "reasons", 0)),
                        "wood: A-top-1 is short by 0.34375 in");
    assert_number(root, "forgiveness", -0.34375);
    json_decref(root);
}

static void tape_that_is_too_coarse_is_the_first_reason(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    answer_break(&made);
    made.answer.tape_broke = true;
    json_t *root = layout_json(&made.answer);
    const char *first = json_string_value(entry(root, "reasons", 0));
    assert_int_equal(strncmp(first, "tape: ", strlen("tape: ")), 0);
    assert_int_equal(json_array_size(json_object_get(root, "reasons")), 2);
    json_decref(root);
}

/* One third of an inch has no end; 1e-9 below zero is nothing; what is not finite is null. */
static void numbers_are_cut_to_six_decimals(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    made.list[0].x = 1.0 / 3;
    made.list[1].x = 0.1 + 0.2;
    made.standings[0].x = -1e-9;
    made.forgiveness[0] = INFINITY;
    made.verdict.least = NAN;
    char *text = layout_text(&made.answer);
    assert_non_null(strstr(text, "\"x\": 0.333333,"));
    assert_non_null(strstr(text, "\"x\": 0.3,"));
    assert_non_null(
        strstr(text, "\"name\": \"A\", \"x\": 0.0, \"y\": 40.0, \"forgiveness\": null,"));
    assert_null(strstr(text, "nan"));
    assert_null(strstr(text, "inf"));
    assert_non_null(strstr(text, "\n \"forgiveness\": null,\n"));
    free(text);
}

static void texts_from_a_file_are_escaped_and_stay_valid(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    snprintf(made.roof.name, sizeof made.roof.name, "%s",
             "Gr\xC3\xBC"
             "n \"7\" \\");
    /* a warning cut in the middle of a letter, and one that was never UTF-8 */
    snprintf(made.warnings[0].text, sizeof made.warnings[0].text, "%s", "vent \xC3");
    json_t *root = layout_json(&made.answer);
    assert_text(root, "roof",
                "Gr\xC3\xBC"
                "n \"7\" \\");
    assert_string_equal(json_string_value(entry(root, "warnings", 0)), "vent ");
    json_decref(root);
    snprintf(made.warnings[0].text, sizeof made.warnings[0].text, "%s", "a \xFF vent");
    root = layout_json(&made.answer);
    assert_string_equal(json_string_value(entry(root, "warnings", 0)), "a ? vent");
    json_decref(root);
}

static void same_answer_gives_the_same_bytes(void **state) {
    (void)state;
    struct sheet_answer made;
    struct sheet_answer again;
    answer_make(&made, 2);
    answer_make(&again, 2);
    char *text = layout_text(&made.answer);
    char *other = layout_text(&again.answer);
    assert_string_equal(text, other);
    free(text);
    free(other);
}

static void check_lists_every_finding(void **state) {
    (void)state;
    static const char *const keys[] = {"ruddle",      "roof",  "measure",  "status",
                                       "forgiveness", "rules", "strength", NULL};
    static const char *const rule_keys[] = {"rule",   "bracket", "row",   "mark", "other",
                                            "margin", "counted", "holds", NULL};
    struct sheet_answer made;
    answer_make(&made, 2);
    answer_break(&made);
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    assert_int_equal(json_write_check(&made.roof, &made.marks, &made.verdict, NULL, stream),
                     OUTCOME_DONE);
    assert_int_equal(fclose(stream), 0);
    json_t *root = parse(text);
    assert_keys(root, keys);
    assert_text(root, "ruddle", "check/1");
    assert_text(root, "status", "blocked");
    assert_number(root, "forgiveness", -0.34375);
    assert_int_equal(json_array_size(json_object_get(root, "rules")), made.verdict.count);
    assert_keys(entry(root, "rules", 0), rule_keys);
    assert_text(entry(root, "rules", 0), "row", "top");
    assert_true(json_is_false(json_object_get(entry(root, "rules", 0), "holds")));
    json_decref(root);
}

/* The writer leaves a failed write for its caller to see. */
static void full_disk_shows_on_the_stream(void **state) {
    (void)state;
    struct sheet_answer made;
    answer_make(&made, 1);
    FILE *stream = fopen("/dev/full", "w");
    if (stream == NULL) {
        skip();
    }
    assert_int_equal(json_write(&made.answer, stream), OUTCOME_DONE);
    assert_int_not_equal(fflush(stream), 0);
    assert_int_not_equal(ferror(stream), 0);
    fclose(stream);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(layout_has_the_fields_in_their_order),
        cmocka_unit_test(good_layout_in_inches),
        cmocka_unit_test(rows_and_struts_of_a_frame),
        cmocka_unit_test(marks_carry_their_least_margins),
        cmocka_unit_test(pair_of_marks_counts_for_both_and_names_the_other),
        cmocka_unit_test(other_party_is_vent_bracket_or_null),
        cmocka_unit_test(file_in_millimetres_gets_millimetres),
        cmocka_unit_test(marks_out_of_order_are_numbered_by_x),
        cmocka_unit_test(no_layout_has_nulls_and_empty_lists),
        cmocka_unit_test(limit_gives_bounds_and_no_proof),
        cmocka_unit_test(limit_without_a_layout_says_so),
        cmocka_unit_test(blocked_layout_names_what_is_short),
        cmocka_unit_test(tape_that_is_too_coarse_is_the_first_reason),
        cmocka_unit_test(numbers_are_cut_to_six_decimals),
        cmocka_unit_test(texts_from_a_file_are_escaped_and_stay_valid),
        cmocka_unit_test(same_answer_gives_the_same_bytes),
        cmocka_unit_test(check_lists_every_finding),
        cmocka_unit_test(full_disk_shows_on_the_stream),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
