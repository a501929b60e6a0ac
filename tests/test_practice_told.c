/* Practice as it is read: survey, grade, and the file of scores. */
#include "../src/sheet/words.h"
#include "answered.h"
#include "folder.h"
#include "practice.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void set(unsigned level, unsigned seed, struct practice *practice) {
    struct problems problems = {0};
    assert_int_equal(practice_set(level, seed, practice, &problems), OUTCOME_DONE);
    assert_int_equal(problems.total, 0);
}

static struct grade graded(const struct practice *practice, const struct marks *marks) {
    struct grade grade;
    assert_int_equal(grade_marks(practice, marks, &grade), OUTCOME_DONE);
    return grade;
}

static void shift(struct marks *marks, double x, double y) {
    marks->brackets[0].x += x;
    marks->brackets[0].y += y;
    for (size_t i = 0; i < marks->count; i++) {
        marks->list[i].x += x;
        marks->list[i].y += y;
    }
}

static enum outcome write_grade(const void *subject, FILE *stream) {
    return grade_write(subject, stream);
}

static enum outcome write_survey(const void *subject, FILE *stream) {
    return practice_write_survey(subject, stream);
}

static enum outcome write_json(const void *subject, FILE *stream) {
    return grade_write_json(subject, stream);
}

/* Plain ASCII of at most 80 columns, in the words of the trade. */
static void assert_page(const char *text) {
    for (const char *line = text; *line != '\0'; line += strcspn(line, "\n") + 1) {
        const size_t length = strcspn(line, "\n");
        if (length > 80) {
            fail_msg("%zu columns: %.*s", length, (int)length, line);
        }
        for (size_t i = 0; i < length; i++) {
            assert_true(line[i] >= ' ' && line[i] <= '~');
        }
    }
    const char *word = words_kept_off(text);
    if (word != NULL) {
        fail_msg("on a page: %.40s", word);
    }
}

static void pages_fit_a_terminal_and_speak_the_trade(void **state) {
    (void)state;
    for (unsigned level = 1; level <= PRACTICE_LEVELS; level++) {
        struct practice practice = {0};
        struct marks *marks = NULL;
        set(level, level == 2 ? PRACTICE_SEED_MOST : 5, &practice);
        char *survey = answered_bytes(write_survey, &practice, NULL);
        assert_page(survey);
        assert_int_equal(marks_copy(practice.best.marks, &marks), OUTCOME_DONE);
        shift(marks, 100, -300);
        struct grade grades[] = {graded(&practice, practice.best.marks), graded(&practice, marks)};
        for (size_t i = 0; i < 2; i++) {
            char *text = answered_bytes(write_grade, &grades[i], NULL);
            assert_page(text);
            assert_non_null(strstr(text, i == 0 ? "SCORE 100 of 100" : "BROKEN"));
            free(text);
            grade_free(&grades[i]);
        }
        free(survey);
        marks_free(marks);
        practice_free(&practice);
    }
}

/* Every figure of the roof file stands in the survey: nobody could lay it out otherwise. */
static void survey_tells_every_rafter_and_vent(void **state) {
    (void)state;
    struct practice practice = {0};
    set(3, 2, &practice);
    char *text = answered_bytes(write_survey, &practice, NULL);
    for (size_t i = 0; i < practice.roof->rafter_count; i++) {
        char at[LENGTH_TEXT], line[80];
        length_text(at, practice.roof->rafters[i].at, 1.0 / 32, MEASURE_IN);
        snprintf(line, sizeof line, "  %3zu  %s", i + 1, at);
        assert_non_null(strstr(text, line));
    }
    static const char *const told[] = {"soil stack: along",       "bath fan: along", "BAD: no lag",
                                       "doubled: the second ply", "crooked:",        "splice from"};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        assert_non_null(strstr(text, told[i]));
    }
    free(text);
    practice_free(&practice);
}

static void grade_for_machines_says_the_same(void **state) {
    (void)state;
    struct practice practice = {0};
    set(2, 4, &practice);
    struct marks *marks = NULL;
    assert_int_equal(marks_copy(practice.best.marks, &marks), OUTCOME_DONE);
    marks->list[0].x += 3;
    struct grade grade = graded(&practice, marks);
    char *text = answered_bytes(write_json, &grade, NULL);
    json_t *root = json_loads(text, 0, NULL);
    assert_non_null(root);
    assert_string_equal(json_string_value(json_object_get(root, "ruddle")), "grade/1");
    assert_int_equal(json_integer_value(json_object_get(root, "score")), grade.score);
    assert_int_equal(json_integer_value(json_object_get(root, "level")), 2);
    assert_int_equal(json_integer_value(json_object_get(root, "seed")), 4);
    assert_true(json_is_false(json_object_get(root, "holds")));
    assert_int_equal(json_array_size(json_object_get(root, "rules")), grade.applying);
    size_t index = 0, broken = 0;
    const json_t *rule = NULL;
    json_array_foreach(json_object_get(root, "rules"), index, rule) {
        broken += json_is_false(json_object_get(rule, "holds"));
    }
    assert_int_equal(broken, grade.applying - grade.held);
    assert_int_equal(json_array_size(json_object_get(json_object_get(root, "answer"), "marks")),
                     marks->count);
    assert_int_equal(json_array_size(json_object_get(json_object_get(root, "best"), "marks")),
                     practice.best.marks->count);
    json_decref(root);
    free(text);
    grade_free(&grade);
    marks_free(marks);
    practice_free(&practice);
}

/* ---- Scores ---------------------------------------------------------------------------------- */

static void add(struct scores *scores, unsigned level, unsigned seed, unsigned score) {
    const struct score_entry entry = {level, seed, score, "2026-11-25"};
    assert_int_equal(scores_add(scores, &entry), OUTCOME_DONE);
}

/* Three different roofs at 90 or better; the same one twice counts once. */
static void level_is_done_with_after_three_good_roofs(void **state) {
    (void)state;
    struct scores scores = {0};
    assert_int_equal(scores_level(&scores), 1);
    assert_int_equal(scores_seed(&scores, 1), 1);
    add(&scores, 1, 1, 100);
    add(&scores, 1, 1, 100);
    add(&scores, 1, 2, 89);
    add(&scores, 1, 4, 90);
    assert_int_equal(scores_done(&scores, 1), 2);
    assert_int_equal(scores_level(&scores), 1);
    assert_int_equal(scores_seed(&scores, 1), 3);
    add(&scores, 1, 2, 95);
    assert_int_equal(scores_done(&scores, 1), 3);
    assert_int_equal(scores_level(&scores), 2);
    assert_int_equal(scores_seed(&scores, 2), 1);
    for (unsigned i = 1; i <= 3; i++) {
        add(&scores, 2, i, 92);
        add(&scores, 3, i, 92);
    }
    assert_int_equal(scores_level(&scores), 3); /* there is no fourth */
    scores_free(&scores);
}

static void scores_come_back_from_their_file(void **state) {
    struct scores scores = {0}, back = {0};
    struct problems problems = {0};
    char path[FOLDER_PATH];
    for (unsigned i = 1; i <= 40; i++) {
        add(&scores, 1 + i % 3, i, i);
    }
    size_t size = 0;
    char *text = answered_bytes(scores_write, &scores, &size);
    folder_write(state, path, "practice.csv", text, size);
    assert_int_equal(scores_read(path, &back, &problems), OUTCOME_DONE);
    assert_int_equal(back.count, scores.count);
    for (size_t i = 0; i < scores.count; i++) {
        assert_int_equal(back.list[i].level, scores.list[i].level);
        assert_int_equal(back.list[i].seed, scores.list[i].seed);
        assert_int_equal(back.list[i].score, scores.list[i].score);
        assert_string_equal(back.list[i].day, scores.list[i].day);
    }
    free(text);
    scores_free(&scores);
    scores_free(&back);
}

static void other_files_are_no_scores(void **state) {
    static const char *const files[] = {"hello\n",
                                        "level,number,score,day\n4,1,90,2026-11-25\n",
                                        "level,number,score,day\n0,1,90,2026-11-25\n",
                                        "level,number,score,day\n1,0,90,2026-11-25\n",
                                        "level,number,score,day\n1,1,101,2026-11-25\n",
                                        "level,number,score,day\n1,1,90,25.11.2026\n",
                                        "level,number,score,day\n1,1,90,2026-11-25 \n",
                                        "level,number,score,day\n1,1,90\n",
                                        "level,number,score,day\n\n",
                                        "level,number,score,day\n1,1,4294967386,2026-11-25\n"};
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        struct scores scores = {0};
        struct problems problems = {0};
        char path[FOLDER_PATH];
        folder_write_text(state, path, "practice.csv", files[i]);
        assert_int_equal(scores_read(path, &scores, &problems), OUTCOME_BAD_INPUT);
        assert_int_equal(problems.total, 1);
        assert_int_equal(problems.list[0].line, i == 0 ? 1 : 2);
        problems_free(&problems);
        scores_free(&scores);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pages_fit_a_terminal_and_speak_the_trade),
        cmocka_unit_test(survey_tells_every_rafter_and_vent),
        cmocka_unit_test(grade_for_machines_says_the_same),
        cmocka_unit_test(level_is_done_with_after_three_good_roofs),
        FOLDER_TEST(scores_come_back_from_their_file),
        FOLDER_TEST(other_files_are_no_scores),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
