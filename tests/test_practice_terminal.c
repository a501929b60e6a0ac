/* `ruddle practice` as a trainee at a terminal meets it, and as an instructor runs it. */
#include "folder.h"
#include "practice.h"
#include "random_roof.h"
#include "run_program.h"
#include "typist.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static const char *folder_of(void **state) {
    const struct folder *folder = *state;
    return folder->path;
}

static void set(unsigned level, unsigned seed, struct practice *practice) {
    struct problems problems = {0};
    assert_int_equal(practice_set(level, seed, practice, &problems), OUTCOME_DONE);
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL) {
        fail_msg("\"%s\" is not in:\n%s", part, text);
    }
}

/* Adds a length and a line end. */
static void append(char *text, size_t size, double length) {
    char written[LENGTH_TEXT];
    const size_t used = strlen(text);
    snprintf(text + used, size - used, "%s\n", length_text(written, length, 1.0 / 16, MEASURE_IN));
}

/* The best layout as it is typed: corner, then for each line its height, its holes, and an empty
 * line. */
static void best_answer(const struct practice *practice, char *text, size_t size) {
    const struct marks *best = practice->best.marks;
    text[0] = '\0';
    append(text, size, best->brackets[0].x);
    append(text, size, best->brackets[0].y);
    for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
        bool begun = false;
        for (size_t i = 0; i < best->count; i++) {
            if (best->list[i].row != row) {
                continue;
            }
            if (!begun) {
                append(text, size, best->list[i].y);
            }
            begun = true;
            append(text, size, best->list[i].x);
        }
        strcat(text, "\n");
    }
}

#define SCORES WORDS("practice", "--level", "2", "--seed", "5", "--progress", "practice.csv")

static void best_answer_typed_in_is_worth_100(void **state) {
    static struct typist typist;
    struct practice practice = {0};
    char text[1000], path[RUN_PATH];
    set(2, 5, &practice);
    best_answer(&practice, text, sizeof text);
    typist_start(&typist, RUDDLE_PROGRAM, SCORES, folder_of(state));
    typist_wait(&typist, "level 2, number 5");
    typist_wait(&typist, "Now your answer");
    for (char *line = text; *line != '\0';) {
        const size_t length = strcspn(line, "\n") + 1;
        char typed[80];
        snprintf(typed, sizeof typed, "%.*s", (int)length, line);
        typist_wait(&typist, ": ");
        typist_type(&typist, typed);
        line += length;
    }
    typist_wait(&typist, "SCORE 100 of 100");
    typist_wait(&typist, "THE BEST LAYOUT BESIDE YOURS");
    typist_wait(&typist, "level 2, 1 of 3 roofs at 90 or better; next: level 1");
    assert_int_equal(typist_end(&typist), 0);
    char *scores = run_file_read(run_path(path, folder_of(state), "practice.csv"));
    assert_int_equal(strncmp(scores, "level,number,score,day\n2,5,100,2", 32), 0);
    assert_int_equal(strlen(scores), strlen("level,number,score,day\n2,5,100,2026-11-25\n"));
    free(scores);
    practice_free(&practice);
}

static const char kept[] = "level,number,score,day\n1,1,95,2026-01-31\n";

/* Ctrl-C before the last answer: no grade, and the scores are what they were. */
static void ctrl_c_leaves_the_scores_alone(void **state) {
    static struct typist typist;
    static const char *const ends[] = {TYPIST_CTRL_C, TYPIST_END_OF_INPUT};
    char path[FOLDER_PATH];
    for (size_t i = 0; i < 2; i++) {
        folder_write_text(state, path, "practice.csv", kept);
        typist_start(&typist, RUDDLE_PROGRAM, SCORES, folder_of(state));
        typist_answer(&typist, &(const struct typed){"from the ", "60"});
        typist_answer(&typist, &(const struct typed){"and up the roof: ", "40"});
        typist_wait(&typist, "Top line");
        typist_type(&typist, ends[i]);
        typist_wait(&typist, "not finished, so it is not graded");
        assert_int_equal(typist_end(&typist), 0);
        char *scores = run_file_read(path);
        assert_string_equal(scores, kept);
        free(scores);
        assert_int_equal(run_folder_count(folder_of(state)), 1);
    }
}

static void wrong_answers_are_asked_again(void **state) {
    static struct typist typist;
    static const struct typed typed[] = {
        {"LEFT rake: ", ""},
        {"a length is wanted", "back"},
        {"LEFT rake: ", "about 60"},
        {"no: wanted a length", "60"},
        {"and up the roof: ", "back"},
        {"LEFT rake: ", "61"},
        {"and up the roof: ", "?"},
        {"keeps clear of edges", "40"},
        {"Top line (feet)", "110"},
        {"lag hole 1", ""},
        {"a length is wanted", "64"},
        {"lag hole 2", "back"},
        {"lag hole 1", "65"},
        {"lag hole 2", ""},
        {"Bottom line (feet)", "50"},
        {"lag hole 1", "64"},
        {"lag hole 2", ""},
    };
    typist_start(&typist, RUDDLE_PROGRAM, WORDS("practice", "--level", "1", "--seed", "2"),
                 folder_of(state));
    typist_wait(&typist, "Now your answer");
    for (size_t i = 0; i < sizeof typed / sizeof typed[0]; i++) {
        typist_answer(&typist, &typed[i]);
    }
    typist_wait(&typist, "SCORE ");
    typist_wait(&typist, "count of holes                     BROKEN");
    typist_wait(&typist, "yours        best");
    typist_wait(&typist, "61 ");
    assert_int_equal(typist_end(&typist), 0);
    assert_int_equal(run_folder_count(folder_of(state)), 0); /* nothing was asked to be kept */
}

/* ---- Without a terminal ---------------------------------------------------------------------- */

static struct run feed(void **state, const char *input, size_t size, const char *words) {
    char path[FOLDER_PATH], line[200];
    const struct run_setup setup = {.folder = folder_of(state)};
    folder_write(state, path, "input", input, size);
    snprintf(line, sizeof line, "exec \"$0\" practice %s <input", words);
    return run_program("/bin/sh", WORDS("-c", line, RUDDLE_PROGRAM), &setup);
}

static void nonsense_does_no_harm(void **state) {
    static char input[1 << 13];
    struct random_source source = {5};
    char path[FOLDER_PATH];
    folder_write_text(state, path, "practice.csv", kept);
    for (int i = 0; i < 4; i++) {
        size_t used = 0;
        while (used + 40 < sizeof input) {
            if (random_once_in(&source, 2)) {
                used +=
                    (size_t)snprintf(input + used, 16, "%d\n", random_between(&source, -9, 300));
            } else {
                input[used++] = (char)random_between(&source, 0, 255);
            }
            if (random_once_in(&source, 3)) {
                input[used++] = '\n';
            }
        }
        struct run done = feed(state, input, used, "--level 1 --seed 1 --progress practice.csv");
        assert_int_equal(done.code, 0);
        assert_string_equal(done.err, "");
        run_free(&done);
        struct scores scores = {0};
        struct problems problems = {0};
        assert_int_equal(scores_read(path, &scores, &problems), OUTCOME_DONE);
        assert_true(scores.count >= 1);
        scores_free(&scores);
    }
}

/* Questions keep off standard output then. */
static void json_is_all_that_is_printed(void **state) {
    struct practice practice = {0};
    char text[1000];
    set(1, 4, &practice);
    best_answer(&practice, text, sizeof text);
    struct run done = feed(state, text, strlen(text), "--level 1 --seed 4 --json");
    assert_int_equal(done.code, 0);
    assert_int_equal(done.out[0], '{');
    assert_has(done.out, "\"score\": 100,");
    assert_has(done.err, "Now your answer");
    run_free(&done);
    practice_free(&practice);
}

/* With a progress file and no level: the first one that is not done with, and its lowest number
 * that was not graded. */
static void progress_says_which_roof_is_next(void **state) {
    char path[FOLDER_PATH];
    folder_write_text(state, path, "practice.csv",
                      "level,number,score,day\n1,1,95,2026-01-31\n1,2,20,2026-01-31\n"
                      "1,4,100,2026-01-31\n1,5,90,2026-01-31\n2,1,30,2026-02-01\n");
    struct run done = feed(state, "", 0, "--progress practice.csv");
    assert_int_equal(done.code, 0);
    assert_has(done.out, "level 2, number 2");
    run_free(&done);
    folder_write_text(state, path, "practice.csv", kept);
    done = feed(state, "", 0, "--progress practice.csv");
    assert_has(done.out, "level 1, number 2");
    run_free(&done);
}

/* ---- Handing out and grading ----------------------------------------------------------------- */

static void handed_out_roof_lays_out_and_its_layout_grades_100(void **state) {
    const char *folder = folder_of(state);
    const struct run_setup here = {.folder = folder};
    char path[RUN_PATH], other[RUN_PATH];
    struct run done = run_program(
        RUDDLE_PROGRAM, WORDS("practice", "--level", "3", "--seed", "6", "--out", "."), &here);
    assert_int_equal(done.code, 0);
    assert_string_equal(done.out, "");
    run_free(&done);
    done = run_program(RUDDLE_PROGRAM, WORDS("layout", "roof.yaml", "--json"), &here);
    assert_int_equal(done.code, 0);
    char *json = malloc(strlen(done.out) + 40);
    assert_non_null(json);
    sprintf(json, "{\"practice\": \"3/6\",%s", done.out + 1);
    run_file_write(run_path(path, folder, "answer.json"), json);
    free(json);
    run_free(&done);
    done = run_program(
        RUDDLE_PROGRAM,
        WORDS("practice", "--grade", "answer.json", "--out", ".", "--progress", "practice.csv"),
        &here);
    assert_int_equal(done.code, 0);
    assert_has(done.out, "SCORE 100 of 100");
    char *text = run_file_read(run_path(other, folder, "grade.txt"));
    assert_int_equal(strncmp(done.out, text, strlen(text)), 0);
    free(text);
    text = run_file_read(run_path(other, folder, "grade.json"));
    assert_has(text, "\"score\": 100,");
    free(text);
    text = run_file_read(run_path(other, folder, "practice.csv"));
    assert_has(text, "\n3,6,100,");
    free(text);
    run_free(&done);
}

/* The answer file as it is handed out has blanks: they are told, line by line. */
static void blank_answer_is_refused_with_its_lines(void **state) {
    const struct run_setup here = {.folder = folder_of(state)};
    struct run done = run_program(
        RUDDLE_PROGRAM, WORDS("practice", "--level", "1", "--seed", "6", "--out", "."), &here);
    assert_int_equal(done.code, 0);
    run_free(&done);
    done = run_program(RUDDLE_PROGRAM, WORDS("practice", "--grade", "answer.yaml"), &here);
    assert_int_equal(done.code, 2);
    assert_string_equal(done.out, "");
    assert_has(done.err, "answer.yaml:7: brackets[1].x");
    run_free(&done);
}

#define FRAME                                                                                      \
    "brackets: [{name: A, x: 60, y: 40}]\nmarks: [{bracket: A, row: top, x: 64, y: 110}]\n"

static void answers_that_cannot_be_graded_are_refused(void **state) {
    static const struct {
        const char *file, *words, *told;
    } cases[] = {
        {FRAME, "--quiet", "wanted the roof's level and number, such as 2/7"},
        {"practice: 4/1\n" FRAME, "--quiet", "practice: found \"4/1\""},
        {"practice: 1\n" FRAME, "--quiet", "practice: found \"1\""},
        {"practice: 1/0\n" FRAME, "--quiet", "practice: found \"1/0\""},
        {"practice: 1/1/1\n" FRAME, "--quiet", "practice: found \"1/1/1\""},
        {"practice: 1/99999999999999999999999\n" FRAME, "--quiet", "practice: found"},
        {"practice: 1/2\n" FRAME, "--seed=3", "--level and --seed"},
        {"practice: 1/2\n" FRAME, "--level=2", "--level and --seed"},
        {"practice: 2/2\nbrackets: [{name: A, x: 60, y: 40, top: feet}]\n"
         "marks: [{bracket: A, row: top, x: 64, y: 110}]\n",
         "--quiet", "strut: the roof says so"},
        {"practice: 1/2\nbrackets: [{name: B, x: 60, y: 40}]\nmarks: []\n", "--quiet",
         "brackets[1].name"},
    };
    const struct run_setup here = {.folder = folder_of(state)};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char path[FOLDER_PATH];
        folder_write_text(state, path, "answer.yaml", cases[i].file);
        struct run done = run_program(
            RUDDLE_PROGRAM, WORDS("practice", "--grade", "answer.yaml", cases[i].words), &here);
        assert_int_equal(done.code, 2);
        assert_string_equal(done.out, "");
        assert_has(done.err, cases[i].told);
        run_free(&done);
    }
}

/* A bad answer is no failure of the program: 0, whatever the score. */
static void bad_answer_exits_with_0(void **state) {
    const struct run_setup here = {.folder = folder_of(state)};
    char path[FOLDER_PATH];
    folder_write_text(state, path, "answer.yaml", "practice: 1/2\n" FRAME);
    struct run done =
        run_program(RUDDLE_PROGRAM, WORDS("practice", "--grade", "answer.yaml"), &here);
    assert_int_equal(done.code, 0);
    assert_has(done.out, "count of holes                     BROKEN");
    assert_has(done.out, "why ");
    run_free(&done);
}

static void wrong_words_are_refused(void **state) {
    const char *const *const lines[] = {WORDS("practice", "--level", "0"),
                                        WORDS("practice", "--level", "4"),
                                        WORDS("practice", "--seed", "0"),
                                        WORDS("practice", "--seed", "7.5"),
                                        WORDS("practice", "--seed", "9999999999"),
                                        WORDS("practice", "--quiet"),
                                        WORDS("practice", "roof.yaml"),
                                        WORDS("practice", "--top", "feet"),
                                        WORDS("practice", "--grade", "no-such-answer.yaml"),
                                        WORDS("practice", "--progress", "input", "--out", "x")};
    const struct run_setup here = {.folder = folder_of(state)};
    char path[FOLDER_PATH];
    folder_write_text(state, path, "input", "no scores\n");
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        struct run done = run_program(RUDDLE_PROGRAM, lines[i], &here);
        assert_int_equal(done.code, 2);
        assert_string_equal(done.out, "");
        run_free(&done);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        FOLDER_TEST(best_answer_typed_in_is_worth_100),
        FOLDER_TEST(ctrl_c_leaves_the_scores_alone),
        FOLDER_TEST(wrong_answers_are_asked_again),
        FOLDER_TEST(nonsense_does_no_harm),
        FOLDER_TEST(json_is_all_that_is_printed),
        FOLDER_TEST(progress_says_which_roof_is_next),
        FOLDER_TEST(handed_out_roof_lays_out_and_its_layout_grades_100),
        FOLDER_TEST(blank_answer_is_refused_with_its_lines),
        FOLDER_TEST(answers_that_cannot_be_graded_are_refused),
        FOLDER_TEST(bad_answer_exits_with_0),
        FOLDER_TEST(wrong_words_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
