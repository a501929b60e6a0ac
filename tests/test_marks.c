/* Marks: made, copied, ordered, and read from a layout file against the roof's names. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void new_marks_are_all_zero(void **state) {
    (void)state;
    struct marks *marks = NULL;
    assert_int_equal(marks_new(2, 3, &marks), OUTCOME_DONE);
    assert_int_equal(marks->bracket_count, 2);
    assert_int_equal(marks->count, 3);
    expect_inches(marks->brackets[1].y, 0);
    expect_inches(marks->list[2].x, 0);
    marks_free(marks);
}

static void no_marks_at_all_can_be_made_copied_and_sorted(void **state) {
    (void)state;
    struct marks *marks = NULL, *copy = NULL;
    assert_int_equal(marks_new(0, 0, &marks), OUTCOME_DONE);
    assert_int_equal(marks_copy(marks, &copy), OUTCOME_DONE);
    marks_sort(copy);
    assert_int_equal(copy->count, 0);
    marks_free(copy);
    marks_free(marks);
    marks_free(NULL);
}

/* More than any machine has: no memory, and what the caller holds is untouched. */
static void more_marks_than_memory_are_a_fault(void **state) {
    (void)state;
    struct marks *marks = NULL;
    assert_int_equal(marks_new(1, (size_t)-1 / 2, &marks), OUTCOME_FAULT);
    assert_null(marks);
}

static void copy_shares_nothing_with_its_original(void **state) {
    struct trial *trial = *state;
    struct marks *copy = NULL;
    assert_int_equal(marks_copy(trial->marks, &copy), OUTCOME_DONE);
    trial->marks->list[0].x = 1;
    trial->marks->brackets[0].x = 2;
    expect_inches(copy->list[0].x, 64);
    expect_inches(copy->brackets[0].x, PLAIN_X);
    assert_int_equal(copy->brackets[0].hardware[ROW_BOTTOM], HARDWARE_FEET);
    marks_free(copy);
}

static void marks_are_ordered_by_bracket_row_pipe_and_x(void **state) {
    static const struct mark wanted[] = {{0, ROW_TOP, 5, 9, 0},     {0, ROW_TOP, 8, 7, 0},
                                         {0, ROW_BOTTOM, 1, 2, 0},  {0, ROW_BOTTOM, 1, 3, 0},
                                         {0, ROW_PIPE, 7, 5, 0},    {0, ROW_PIPE, 9, 5, 0},
                                         {0, ROW_PIPE, 2, 5, 1},    {1, ROW_TOP, 0, 9, 0},
                                         {1, ROW_BOTTOM, -4, 2, 0}, {1, ROW_PIPE, 3, 1, 2}};
    static const int shuffled[] = {7, 3, 6, 8, 5, 1, 2, 9, 0, 4};
    enum { COUNT = sizeof wanted / sizeof *wanted };
    (void)state;
    struct marks *marks = NULL;
    assert_int_equal(marks_new(2, COUNT, &marks), OUTCOME_DONE);
    for (size_t i = 0; i < COUNT; i++) {
        marks->list[i] = wanted[shuffled[i]];
    }
    marks_sort(marks);
    for (size_t i = 0; i < COUNT; i++) {
        assert_int_equal(marks->list[i].bracket, wanted[i].bracket);
        assert_int_equal(marks->list[i].row, wanted[i].row);
        expect_inches(marks->list[i].x, wanted[i].x);
        expect_inches(marks->list[i].y, wanted[i].y);
        assert_int_equal(marks->list[i].pipe, wanted[i].pipe);
    }
    marks_free(marks);
}

/* A layout file as it would have been read: one bracket and two marks, each text a test's own to
 * alter.  Never freed: nothing in it is owned. */
struct written {
    struct survey_layout layout;
    struct survey_layout_bracket brackets[3];
    struct survey_layout_mark marks[3];
};

/* The reader's structs hold texts that may be freed; these never are, and nobody writes to them. */
static char *text(const char *literal) {
    return (char *)literal;
}

static struct written plain_layout(void) {
    struct written written = {.layout = {.brackets_count = 1, .marks_count = 2}};
    written.layout.path = text("plain.layout.yaml");
    written.brackets[0] =
        (struct survey_layout_bracket){.name = text("A"), .x = text("50 1/2"), .y = text("32.375")};
    written.marks[0] = (struct survey_layout_mark){
        .bracket = text("A"), .row = text("bottom"), .x = text("64"), .y = text("3' 7-1/2\"")};
    written.marks[1] = (struct survey_layout_mark){
        .bracket = text("A"), .row = text("top"), .x = text("-88"), .y = text("105 3/8")};
    return written;
}

static enum outcome read(const struct roof *roof, struct written *written, struct marks **marks,
                         struct problems *problems) {
    written->layout.brackets = written->brackets;
    written->layout.marks = written->marks;
    return marks_from_survey(roof, &written->layout, marks, problems);
}

/* Lengths in any form, negative ones too; hardware from the roof; the list put into order. */
static void layout_file_becomes_marks(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    struct marks *marks = NULL;
    struct problems problems = {0};
    assert_int_equal(read(trial->roof, &written, &marks, &problems), OUTCOME_DONE);
    assert_int_equal(problems.total, 0);
    assert_int_equal(marks->count, 2);
    expect_inches(marks->brackets[0].x, 50.5);
    expect_inches(marks->brackets[0].y, 32.375);
    assert_int_equal(marks->brackets[0].hardware[ROW_TOP], HARDWARE_STRUT);
    assert_int_equal(marks->brackets[0].hardware[ROW_BOTTOM], HARDWARE_FEET);
    assert_int_equal(marks->list[0].row, ROW_TOP);
    expect_inches(marks->list[0].x, -88);
    assert_int_equal(marks->list[1].row, ROW_BOTTOM);
    expect_inches(marks->list[1].y, 43.5);
    marks_free(marks);
}

static void layout_file_may_choose_other_hardware(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    struct marks *marks = NULL;
    struct problems problems = {0};
    written.brackets[0].top = text("feet");
    written.brackets[0].bottom = text("strut");
    assert_int_equal(read(trial->roof, &written, &marks, &problems), OUTCOME_DONE);
    assert_int_equal(marks->brackets[0].hardware[ROW_TOP], HARDWARE_FEET);
    assert_int_equal(marks->brackets[0].hardware[ROW_BOTTOM], HARDWARE_STRUT);
    marks_free(marks);
}

/* 50 1/2 stays a fraction of inches, 32.375 are millimetres, 64 too. */
static void bare_numbers_count_in_the_layouts_own_measure(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    struct marks *marks = NULL;
    struct problems problems = {0};
    written.layout.measure = text("mm");
    assert_int_equal(read(trial->roof, &written, &marks, &problems), OUTCOME_DONE);
    expect_inches(marks->brackets[0].x, 50.5);
    expect_inches(marks->brackets[0].y, 32.375 / 25.4);
    expect_inches(marks->list[1].x, 64 / 25.4);
    marks_free(marks);
}

static void bare_numbers_count_in_the_roofs_measure_where_the_layout_has_none(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    struct marks *marks = NULL;
    struct problems problems = {0};
    trial->roof->measure = MEASURE_MM;
    assert_int_equal(read(trial->roof, &written, &marks, &problems), OUTCOME_DONE);
    expect_inches(marks->list[1].x, 64 / 25.4);
    marks_free(marks);
    written.layout.measure = text("in");
    assert_int_equal(read(trial->roof, &written, &marks, &problems), OUTCOME_DONE);
    expect_inches(marks->list[1].x, 64);
    marks_free(marks);
}

/* Refused with exactly one fault, at that key. */
static void expect_refused(const struct roof *roof, struct written *written, const char *key,
                           const char *found) {
    struct marks *marks = NULL;
    struct problems problems = {0};
    enum outcome outcome = read(roof, written, &marks, &problems);
    assert_int_equal(outcome, OUTCOME_BAD_INPUT);
    assert_null(marks);
    assert_int_equal(problems.total, 1);
    assert_string_equal(problems.list[0].file, "plain.layout.yaml");
    assert_string_equal(problems.list[0].key, key);
    assert_string_equal(problems.list[0].found, found);
    assert_true(problems.list[0].wanted[0] != '\0');
    problems_free(&problems);
}

static void words_that_the_roof_does_not_know_are_refused(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    written.marks[1].bracket = text("Z");
    expect_refused(trial->roof, &written, "marks[2].bracket", "Z");
    written = plain_layout();
    written.marks[0].row = text("middle");
    expect_refused(trial->roof, &written, "marks[1].row", "middle");
    written = plain_layout();
    written.brackets[0].top = text("rail");
    expect_refused(trial->roof, &written, "brackets[1].top", "rail");
    written = plain_layout();
    written.brackets[0].bottom = text("Feet");
    expect_refused(trial->roof, &written, "brackets[1].bottom", "Feet");
    written = plain_layout();
    written.layout.measure = text("cm");
    expect_refused(trial->roof, &written, "measure", "cm");
}

static void values_that_are_no_length_are_refused(void **state) {
    static const char *const texts[] = {"",    "nan",       "inf", "12,5",
                                        "1/0", "64 inches", "1e3", "1e300"};
    struct trial *trial = *state;
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        struct written written = plain_layout();
        written.marks[1].x = text(texts[i]);
        expect_refused(trial->roof, &written, "marks[2].x", texts[i]);
        written = plain_layout();
        written.brackets[0].y = text(texts[i]);
        expect_refused(trial->roof, &written, "brackets[1].y", texts[i]);
    }
}

static void absent_values_are_refused(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    written.marks[0].y = NULL;
    expect_refused(trial->roof, &written, "marks[1].y", "");
    written = plain_layout();
    written.marks[0].row = NULL;
    expect_refused(trial->roof, &written, "marks[1].row", "");
    written = plain_layout();
    written.marks[0].bracket = NULL;
    expect_refused(trial->roof, &written, "marks[1].bracket", "");
    written = plain_layout();
    written.brackets[0].x = NULL;
    expect_refused(trial->roof, &written, "brackets[1].x", "");
}

static void doubled_bracket_is_refused(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    written.brackets[1] = written.brackets[0];
    written.layout.brackets_count = 2;
    expect_refused(trial->roof, &written, "brackets[2].name", "A");
}

static void missing_bracket_is_refused(void **state) {
    struct trial *trial = *state; /* two brackets, A and B */
    struct written written = plain_layout();
    expect_refused(trial->roof, &written, "brackets", "");
}

static void unknown_bracket_is_refused_beside_the_known_one(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    written.brackets[1] = written.brackets[0];
    written.brackets[1].name = text("a");
    written.layout.brackets_count = 2;
    expect_refused(trial->roof, &written, "brackets[2].name", "a");
}

/* Every fault at once: an unknown bracket, a missing one, a bad row, a bad length. */
static void every_fault_is_told(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    struct marks *marks = NULL;
    struct problems problems = {0};
    written.brackets[0].name = text("Q");
    written.marks[0].row = text("left");
    written.marks[1].x = text("far");
    assert_int_equal(read(trial->roof, &written, &marks, &problems), OUTCOME_BAD_INPUT);
    assert_int_equal(problems.total, 4);
    problems_free(&problems);
}

/* 2048 are enough for any face; the pairs of more would fill the memory. */
static void too_many_marks_are_refused(void **state) {
    struct trial *trial = *state;
    struct written written = plain_layout();
    struct survey_layout_mark *many = calloc(2049, sizeof *many);
    assert_non_null(many);
    for (size_t i = 0; i < 2049; i++) {
        many[i] = written.marks[0];
    }
    written.layout.brackets = written.brackets;
    written.layout.marks = many;
    for (unsigned count = 2048; count <= 2049; count++) {
        struct marks *marks = NULL;
        struct problems problems = {0};
        written.layout.marks_count = count;
        enum outcome wanted = count == 2048 ? OUTCOME_DONE : OUTCOME_BAD_INPUT;
        assert_int_equal(marks_from_survey(trial->roof, &written.layout, &marks, &problems),
                         wanted);
        marks_free(marks);
        problems_free(&problems);
    }
    free(many);
}

/* Through a real file: faults carry their line. */
static void faults_carry_their_line(void **state) {
    static const char file[] = "brackets:\n"
                               "  - {name: A, x: 50 1/2, y: 32 3/8}\n"
                               "marks:\n"
                               "  - {bracket: A, row: top, x: 64, y: 105 3/8}\n"
                               "  - {bracket: A, row: top, x: sixty, y: 105 3/8}\n";
    struct trial *trial = *state;
    char path[] = "/tmp/ruddle-marks-XXXXXX";
    int descriptor = mkstemp(path);
    assert_true(descriptor >= 0);
    FILE *stream = fdopen(descriptor, "w");
    assert_non_null(stream);
    assert_true(fputs(file, stream) >= 0 && fclose(stream) == 0);
    struct survey_layout *layout = NULL;
    struct marks *marks = NULL;
    struct problems problems = {0};
    enum outcome outcome = survey_read_layout(path, &layout, &problems);
    remove(path);
    assert_int_equal(outcome, OUTCOME_DONE);
    assert_int_equal(marks_from_survey(trial->roof, layout, &marks, &problems), OUTCOME_BAD_INPUT);
    assert_int_equal(problems.total, 1);
    assert_int_equal(problems.list[0].line, 5);
    assert_string_equal(problems.list[0].key, "marks[2].x");
    assert_string_equal(problems.list[0].file, path);
    problems_free(&problems);
    survey_layout_free(layout);
}

int main(void) {
#define ON_ONE(test) cmocka_unit_test_setup_teardown(test, trial_set_up, trial_tear_down)
#define ON_TWO(test) cmocka_unit_test_setup_teardown(test, trial_set_up_pair, trial_tear_down)
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(new_marks_are_all_zero),
        cmocka_unit_test(no_marks_at_all_can_be_made_copied_and_sorted),
        cmocka_unit_test(more_marks_than_memory_are_a_fault),
        ON_ONE(copy_shares_nothing_with_its_original),
        cmocka_unit_test(marks_are_ordered_by_bracket_row_pipe_and_x),
        ON_ONE(layout_file_becomes_marks),
        ON_ONE(layout_file_may_choose_other_hardware),
        ON_ONE(bare_numbers_count_in_the_layouts_own_measure),
        ON_ONE(bare_numbers_count_in_the_roofs_measure_where_the_layout_has_none),
        ON_ONE(words_that_the_roof_does_not_know_are_refused),
        ON_ONE(values_that_are_no_length_are_refused),
        ON_ONE(absent_values_are_refused),
        ON_ONE(doubled_bracket_is_refused),
        ON_TWO(missing_bracket_is_refused),
        ON_ONE(unknown_bracket_is_refused_beside_the_known_one),
        ON_ONE(every_fault_is_told),
        ON_ONE(too_many_marks_are_refused),
        ON_ONE(faults_carry_their_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
