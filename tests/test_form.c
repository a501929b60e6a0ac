/* The blank form and the files to start from, as text. */
#include "../src/form/parts.h"
#include "../src/form/questions.h"
#include "../src/sheet/words.h"
#include "answered.h"
#include "form.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static enum outcome write_text(const void *subject, FILE *stream) {
    (void)subject;
    return form_write_text(stream);
}

static enum outcome write_roof(const void *subject, FILE *stream) {
    (void)subject;
    return form_write_roof(stream);
}

static enum outcome write_kit(const void *subject, FILE *stream) {
    (void)subject;
    return form_write_kit(stream);
}

/* Lines of plain ASCII, at most so many columns. */
static void assert_plain(const char *text, size_t columns) {
    for (const char *line = text; *line != '\0'; line += strcspn(line, "\n") + 1) {
        const size_t length = strcspn(line, "\n");
        if (length > columns) {
            fail_msg("%zu columns: %.*s", length, (int)length, line);
        }
        for (size_t i = 0; i < length; i++) {
            assert_true(line[i] >= ' ' && line[i] <= '~');
        }
        assert_true(length == 0 || line[length - 1] != ' ' || line[0] == '|');
    }
}

static void form_fits_a_terminal(void **state) {
    (void)state;
    char *text = answered_bytes(write_text, NULL, NULL);
    assert_plain(text, 80);
    free(text);
}

static void files_to_start_from_fit_a_terminal(void **state) {
    (void)state;
    char *roof = answered_bytes(write_roof, NULL, NULL),
         *kit = answered_bytes(write_kit, NULL, NULL);
    assert_plain(roof, 80);
    assert_plain(kit, 80);
    assert_non_null(strstr(roof, "EVERY FIGURE BELOW IS AN EXAMPLE"));
    assert_non_null(strstr(kit, "EVERY FIGURE BELOW IS AN EXAMPLE"));
    free(roof);
    free(kit);
}

/* What a survey has to ask for, each by a word that only that line has. */
static void form_asks_for_all_that_a_survey_needs(void **state) {
    (void)state;
    static const char *const wanted[] = {"Zero corner, as you face up",
                                         "Rake: the tape hooks on",
                                         "Eave: the tape hooks on",
                                         "Ladder stands at",
                                         "Nearest power line",
                                         "Pitch",
                                         "rafters [ ] TRUSSES",
                                         "Size, such as",
                                         "Wood and grade",
                                         "Span",
                                         "Wall line",
                                         "Lower line",
                                         "Upper line",
                                         "from LEFT",
                                         "from RIGHT",
                                         "must add up to rake to rake",
                                         "Deck [ ]",
                                         "Layers of shingles",
                                         "CRACKS",
                                         "the LEFT rake",
                                         "the RIGHT rake",
                                         "Butt edge number",
                                         "Flange,",
                                         "Pipes: bore, how many",
                                         "Split, splice",
                                         "wire, duct",
                                         "Measured by",
                                         "Checked by, another person"};
    char *text = answered_bytes(write_text, NULL, NULL);
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
        if (strstr(text, wanted[i]) == NULL) {
            fail_msg("the form does not ask for: %s", wanted[i]);
        }
    }
    free(text);
}

/* Every measurement has its sketch, in the text too; only the signatures have none. */
static void every_part_has_its_sketch(void **state) {
    (void)state;
    size_t count = 0;
    const struct form_part *parts = form_parts(&count);
    for (size_t i = 0; i < count; i++) {
        const bool is_last = i + 1 == count;
        assert_true((parts[i].sketch == SKETCH_NONE) == is_last);
        assert_true((parts[i].art_count == 0) == is_last);
        for (size_t j = 0; j < i && !is_last; j++) {
            assert_int_not_equal(parts[i].sketch, parts[j].sketch);
        }
        for (size_t j = 0; j < parts[i].art_count; j++) {
            assert_true(strlen(parts[i].art[j]) <= FORM_ART);
        }
    }
}

/* The form speaks as the trade does. */
static void words_of_the_files_are_kept_off_the_form(void **state) {
    (void)state;
    char *text = answered_bytes(write_text, NULL, NULL);
    const char *found = words_kept_off(text);
    if (found != NULL) {
        fail_msg("on the form: %.40s", found);
    }
    free(text);
}

/* ---- The questions --------------------------------------------------------------------------- */

/* Answers everything with `value` while the walk goes on, up to a number of questions; returns how
 * many there were. */
static size_t walk_through(struct answers *answers, bool lists) {
    struct walk walk = {.answers = answers};
    struct asked asked;
    size_t count = 0;
    while (walk_next(&walk, &asked)) {
        const bool ends = asked.question->leads && asked.entry > (lists ? 2U : 1U);
        assert_true(count++ < 1000);
        assert_true(strlen(asked.path) < ANSWERS_PATH - 1);
        assert_int_equal(answers_set(answers, asked.path, ends ? NULL : "2"), OUTCOME_DONE);
    }
    return count;
}

static void walk_comes_to_an_end_and_to_every_question_once(void **state) {
    (void)state;
    struct answers once = {0}, twice = {0};
    const size_t one = walk_through(&once, false), two = walk_through(&twice, true);
    assert_true(two > one && one > 40);
    /* Only the quick question of a rafter and the one that it is quicker than share a path. */
    assert_int_equal(once.count, one - 1);
    assert_int_equal(twice.count, two - 2);
    assert_non_null(answers_find(&once, "rafters.list[2].at"));
    assert_true(answers_find(&once, "rafters.list[2].at")->left_out);
    assert_non_null(answers_find(&twice, "vents[2].size[2]"));
    assert_null(answers_find(&twice, "vents[3].size[2]"));
    answers_free(&once);
    answers_free(&twice);
}

/* What is asked only where something else was answered. */
static void questions_that_need_others_are_passed_over(void **state) {
    (void)state;
    struct answers answers = {0};
    struct walk walk = {.answers = &answers};
    struct asked asked;
    while (walk_next(&walk, &asked)) {
        const char *value = asked.question->leads && asked.entry > 1                     ? NULL
                            : strstr(asked.path, "plies") != NULL                        ? "1"
                            : asked.question->usual == NULL                              ? "x"
                            : asked.question->usual[0] == '\0' && !asked.question->leads ? NULL
                                                                                         : "x";
        assert_int_equal(answers_set(&answers, asked.path, value), OUTCOME_DONE);
    }
    static const char *const passed[] = {"plane.square.up",       "rafters.heights[2]",
                                         "rafters.list[1].again", "rafters.list[1].sister",
                                         "courses.check.at",      "place[1].want[2]",
                                         "loads.uplift",          "loads.wind.speed",
                                         "loads.rafter.size",     "loads.gap"};
    for (size_t i = 0; i < sizeof passed / sizeof passed[0]; i++) {
        assert_null(answers_find(&answers, passed[i]));
    }
    assert_non_null(answers_find(&answers, "place[1].kit"));
    answers_free(&answers);
}

/* How many questions on the wind itself are asked where such an uplift was answered. */
static size_t count_of_wind(const char *uplift) {
    struct answers answers = {0};
    struct walk walk = {.answers = &answers};
    struct asked asked;
    size_t count = 0;
    while (walk_next(&walk, &asked)) {
        const bool of_wind = strncmp(asked.path, "loads.wind.", 11) == 0;
        const char *value = strcmp(asked.path, "loads.uplift") == 0            ? uplift
                            : of_wind || strcmp(asked.path, "loads.snow") == 0 ? "20"
                                                                               : NULL;
        count += of_wind;
        assert_int_equal(answers_set(&answers, asked.path, value), OUTCOME_DONE);
    }
    answers_free(&answers);
    return count;
}

/* Speed, what it comes over, height, coefficient. */
static void wind_is_asked_for_where_no_uplift_is_given(void **state) {
    (void)state;
    assert_int_equal(count_of_wind(NULL), 4);
    assert_int_equal(count_of_wind("22"), 0);
}

/* Whatever was typed comes back from the file, signs and all. */
static void answers_come_back_from_their_file(void **state) {
    (void)state;
    static const char *const values[] = {"plain",  "it's",
                                         "a: b",   "# no comment",
                                         "- dash", "'quoted'",
                                         "{a}",    "[1, 2]",
                                         "x #y",   "\xC3\xA9t\xC3\xA9",
                                         "&a",     "*b",
                                         "!t",     "%d",
                                         "@x",     "`x`",
                                         "null",   "~",
                                         "yes",    "6' 2-1/2\"",
                                         "\"",     "''",
                                         "' '",    "a,b",
                                         "x:",     ":x",
                                         "|",      ">",
                                         "?",      "\\n",
                                         "a  b"};
    static const char *const paths[] = {"roof",
                                        "plane.width",
                                        "plane.square.along",
                                        "rafters.heights[1]",
                                        "rafters.heights[2]",
                                        "rafters.list[1].at",
                                        "rafters.list[1].plies",
                                        "rafters.list[2].at",
                                        "vents[1].at[1]",
                                        "vents[1].at[2]",
                                        "vents[1].size[1]",
                                        "place[1].name"};
    enum { PATHS = sizeof paths / sizeof paths[0], VALUES = sizeof values / sizeof values[0] };
    for (size_t shift = 0; shift < VALUES; shift++) {
        char *text = NULL;
        size_t size = 0;
        struct answers_writer writer = {.stream = open_memstream(&text, &size)};
        struct answers answers = {0};
        struct problems problems = {0};
        fprintf(writer.stream, "%s\n", answers_head);
        for (size_t i = 0; i < PATHS; i++) {
            answers_write(&writer, paths[i], values[(i + shift) % VALUES]);
        }
        answers_write_left_out(&writer, "place[2].name");
        assert_int_equal(fclose(writer.stream), 0);
        assert_int_equal(answers_read("f", text, &answers, &problems), OUTCOME_DONE);
        assert_int_equal(answers.count, PATHS + 1);
        for (size_t i = 0; i < PATHS; i++) {
            const struct answered_key *key = answers_find(&answers, paths[i]);
            assert_non_null(key);
            assert_string_equal(key->value, values[(i + shift) % VALUES]);
        }
        assert_true(answers_find(&answers, "place[2].name")->left_out);
        answers_free(&answers);
        problems_free(&problems);
        free(text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(form_fits_a_terminal),
        cmocka_unit_test(files_to_start_from_fit_a_terminal),
        cmocka_unit_test(form_asks_for_all_that_a_survey_needs),
        cmocka_unit_test(every_part_has_its_sketch),
        cmocka_unit_test(words_of_the_files_are_kept_off_the_form),
        cmocka_unit_test(walk_comes_to_an_end_and_to_every_question_once),
        cmocka_unit_test(questions_that_need_others_are_passed_over),
        cmocka_unit_test(wind_is_asked_for_where_no_uplift_is_given),
        cmocka_unit_test(answers_come_back_from_their_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
