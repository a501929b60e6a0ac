/* `ruddle revise` as it is run: its sheet, its record, its JSON, and files that it refuses. */
#include "run_program.h"

#include <ctype.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <jansson.h>

/* A face with one frame and one pipe, in a folder of its own. */
struct job {
    char folder[RUN_PATH], roof[RUN_PATH], holes[RUN_PATH];
};

/* Lengths with their sign, so that the same text serves with any measure. */
static void job_make(struct job *job, const char *corner, const char *measure) {
    char text[2000], path[RUN_PATH];
    run_folder_make(job->folder);
    int used = snprintf(
        text, sizeof text,
        "roof: a face\ncorner: %s\nmeasure: %s\nplane: {width: 30', slope: 16' 4\", pitch: 5/12}\n"
        "setback: {eave: 12\", ridge: 18\", near: 12\", far: 12\"}\n"
        "courses: {first: 6\", exposure: 5 5/8}\n"
        "place:\n  - {name: A, kit: kit.yaml, want: [60\", 40\"]}\n"
        "pipes:\n  - {name: hot, bracket: A, port: [24 1/2, 44\"], reach: 8\", bore: 1 3/8,\n"
        "     flashing: {width: 9\", height: 12\", hole_up: 3 1/2, block: 7/8, edge: [0, 1\"],\n"
        "       clear: 1/4, lap: 1/2}}\nrafters:\n  list:\n",
        corner, measure);
    for (int i = 0; i < 14; i++)
        used +=
            snprintf(text + used, sizeof text - (size_t)used, "    - {at: %d\"}\n", 16 + 24 * i);
    run_file_write(run_path(job->roof, job->folder, "roof.yaml"), text);
    char *kit = run_file_read(RUDDLE_ROOT "/tests/roofs/plain-kit.yaml");
    run_file_write(run_path(path, job->folder, "kit.yaml"), kit);
    free(kit);
    run_path(job->holes, job->folder, "holes.yaml");
}

static double number(const json_t *object, const char *key) {
    return json_number_value(json_object_get(object, key));
}

static json_t *parsed(struct run *run) {
    json_t *json = json_loads(run->out, 0, NULL);
    assert_non_null(json);
    run_free(run);
    return json;
}

/* What the drill found at the holes of the job's own layout: all solid on the bottom line, the
 * second of the top line (in a rafter of its own) as told, and more holes beside it. */
static void drill(const struct job *job, const char *second, const char *more) {
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("layout", job->roof, "--json"), NULL);
    assert_int_equal(run.code, 0);
    json_t *json = parsed(&run);
    const json_t *marks = json_object_get(json, "marks");
    char text[2000] = "drilled:\n";
    size_t used = strlen(text);
    for (size_t i = 0; i < json_array_size(marks); i++) {
        const json_t *mark = json_array_get(marks, i);
        const char *row = json_string_value(json_object_get(mark, "row"));
        const char *id = json_string_value(json_object_get(mark, "id"));
        if (strcmp(row, "bottom") != 0 && strcmp(id, "A-top-2") != 0)
            continue;
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "  - {bracket: A, row: %s, x: %.6f, y: %.6f, found: %s}\n", row,
                                 number(mark, "x"), number(mark, "y"),
                                 strcmp(row, "top") == 0 ? second : "wood");
    }
    snprintf(text + used, sizeof text - used, "%s", more);
    run_file_write(job->holes, text);
    json_decref(json);
}

/* The text from `from` on, up to the next place of `to`; a part of the sheet. */
static char *part(const char *sheet, const char *from, const char *to) {
    const char *begin = strstr(sheet, from);
    assert_non_null(begin);
    const char *end = strstr(begin, to);
    assert_non_null(end);
    char *text = calloc((size_t)(end - begin) + 1, 1);
    assert_non_null(text);
    memcpy(text, begin, (size_t)(end - begin));
    return text;
}

/* Every run of blanks and line ends becomes one blank, so that a sentence is found however it was
 * broken into lines. */
static char *in_one_line(const char *text) {
    char *line = calloc(strlen(text) + 1, 1);
    size_t used = 0;
    assert_non_null(line);
    for (; *text != '\0'; text++) {
        const bool blank = isspace((unsigned char)*text) != 0;
        if (!blank)
            line[used++] = *text;
        else if (used > 0 && line[used - 1] != ' ')
            line[used++] = ' ';
    }
    return line;
}

static size_t count_of(const char *text, const char *word) {
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, word)) != NULL; at++)
        count++;
    return count;
}

/* Two solid holes of the bottom line stay; the one that missed leaves its rafter open: its middle
 * may lie on either side. */
static void sheet_says_what_stays_what_is_sealed_and_what_to_carry(void **state) {
    (void)state;
    struct job job;
    job_make(&job, "left", "in");
    drill(&job, "air", "");
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes), NULL);
    assert_int_equal(run.code, 0);
    char *line = in_one_line(run.out);
    assert_int_equal(count_of(line, "PROBE BEFORE SEALING"), 1);
    assert_non_null(strstr(line, "Rafter 4 is not known well enough to take a lag"));
    assert_null(strstr(line, "not sound"));
    free(line);
    char *close = part(run.out, "Close: tape every", "Off by more than");
    assert_int_equal(count_of(close, "DRILLED, KEPT"), 2);
    char *probe = part(run.out, "Probe BOTH faces", "A face further off");
    assert_int_equal(count_of(probe, "drilled, kept"), 2);
    char *carry = part(run.out, "What to carry", "drill, 2 batteries");
    const size_t lags = count_of(close, "A-top-");
    char wanted[64];
    assert_true(lags >= 2);
    snprintf(wanted, sizeof wanted, "washers  (%zu + 2 spare)", lags);
    assert_non_null(strstr(carry, wanted));
    assert_non_null(strstr(carry, "Lags and flashings of the 2 kept holes are not counted"));
    assert_non_null(strstr(carry, "  1  wooden plugs for the dead holes"));
    char *seal = part(run.out, "SEAL these dead holes", "DRILL these new holes");
    assert_int_equal(count_of(carry, "patch flashings"), count_of(seal, "ORDER A PATCH"));
    free(seal);
    free(carry);
    free(probe);
    free(close);
    run_free(&run);
    run_folder_remove(job.folder);
}

/* As many patches are to be carried as holes ask for one, and one patch may do for two. */
static void patches_to_carry_are_those_that_were_ordered(void **state) {
    (void)state;
    struct job job;
    job_make(&job, "left", "in");
    /* three strays far from every frame, the first two 1 in apart: two patches */
    drill(&job, "wood",
          "  - {bracket: A, row: top, x: 300, y: 60, found: air}\n"
          "  - {bracket: A, row: top, x: 301, y: 60, found: air}\n"
          "  - {bracket: A, row: top, x: 270, y: 60, found: air}\n");
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes), NULL);
    assert_int_equal(run.code, 0);
    assert_int_equal(count_of(run.out, "ORDER A PATCH FLASHING"), 2);
    assert_non_null(strstr(run.out, "  2  patch flashings 9\""));
    assert_non_null(strstr(run.out, "  3  wooden plugs for the dead holes"));
    char *line = in_one_line(run.out);
    assert_null(strstr(line, "PROBE BEFORE SEALING"));
    free(line);
    run_free(&run);
    run_folder_remove(job.folder);
}

/* A rafter 1 in further from the zero corner than measured is that much to the right where the
 * corner is the left one, and to the left where it is the right one; the figures are the same. */
static void corner_on_the_right_is_told_from_there(void **state) {
    (void)state;
    const char *const corners[] = {"left", "right"}, *const ways[] = {"1\" RIGHT", "1\" LEFT"};
    double at[2] = {0};
    for (int i = 0; i < 2; i++) {
        struct job job;
        job_make(&job, corners[i], "in");
        /* rafter 10 is at 232: air there, and a face 1 3/4 further on */
        drill(&job, "wood",
              "  - {bracket: A, row: top, x: 232, y: 60, found: air}\n"
              "  - {bracket: A, row: top, x: 233 3/4, y: 60, found: edge}\n");
        struct run run = run_program(RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes), NULL);
        char wanted[80];
        snprintf(wanted, sizeof wanted, "rafter 10: %s of where the survey has it", ways[i]);
        assert_non_null(strstr(run.out, wanted));
        run_free(&run);
        run = run_program(RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes, "--json"), NULL);
        assert_int_equal(run.code, 0);
        json_t *json = parsed(&run);
        const json_t *learned = json_object_get(json, "learned");
        for (size_t j = 0; j < json_array_size(learned); j++)
            if (number(json_array_get(learned, j), "rafter") > 9.5)
                at[i] = number(json_array_get(learned, j), "at");
        assert_int_equal(json_array_size(json_object_get(json, "kept")), 3);
        assert_int_equal(json_array_size(json_object_get(json, "dead")), 2);
        json_decref(json);
        run_folder_remove(job.folder);
    }
    assert_true(fabs(at[0] - 233) <= 1e-6 && fabs(at[1] - 233) <= 1e-6);
}

/* Fingerprints stand for files of this very tree: eight digits, which may change. */
static void blank_fingerprint(char *record) {
    char *digits = strstr(record, "fingerprint: \"");
    assert_non_null(digits);
    digits += strlen("fingerprint: \"");
    for (int i = 0; i < 8; i++) {
        assert_true(isxdigit((unsigned char)digits[i]));
        digits[i] = '0';
    }
}

/* The record, byte by byte; asked for in a folder that is not there yet. */
static void record_is_this_very_text(void **state) {
    (void)state;
    struct job job;
    char path[RUN_PATH], folder[RUN_PATH];
    job_make(&job, "left", "in");
    drill(&job, "air", "  - {bracket: A, row: top, x: 300, y: 60, found: air}\n");
    run_path(path, run_path(folder, job.folder, "record"), "as-built.yaml");
    struct run run = run_program(
        RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes, "--quiet", "--asbuilt", path), NULL);
    assert_int_equal(run.code, 0);
    assert_string_equal(run.out, "");
    run_free(&run);
    char *record = run_file_read(path);
    blank_fingerprint(record);
    char *wanted = run_file_read(RUDDLE_ROOT "/tests/expected/as-built.yaml");
    assert_string_equal(record, wanted);
    free(wanted);
    free(record);
    run_folder_remove(folder);
    run_folder_remove(job.folder);
}

/* 857 lb are 389 kg; 1 in of gap is 25.4 mm; and the roof's figures are millimetres. */
static void record_of_a_metric_roof_counts_in_its_measure(void **state) {
    (void)state;
    struct job job;
    char path[RUN_PATH];
    job_make(&job, "left", "mm");
    drill(&job, "wood", "");
    run_path(path, job.folder, "as-built.yaml");
    struct run run = run_program(
        RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes, "--json", "--asbuilt", path), NULL);
    assert_int_equal(run.code, 0);
    json_t *json = parsed(&run);
    assert_string_equal(json_string_value(json_object_get(json, "measure")), "mm");
    assert_int_equal(json_array_size(json_object_get(json, "kept")), 3);
    assert_int_equal(json_array_size(json_object_get(json, "dead")), 0);
    const json_t *first = json_array_get(json_object_get(json, "kept"), 0);
    char *record = run_file_read(path), wanted[64];
    snprintf(wanted, sizeof wanted, "actual: [%.4f, %.4f]", number(first, "x"), number(first, "y"));
    assert_non_null(strstr(record, wanted));
    assert_non_null(strstr(record, "measure: mm"));
    assert_non_null(strstr(record, "planned 25.4000 to 38.1000"));
    assert_non_null(strstr(record, "reckoned 389 kg"));
    free(record);
    json_decref(json);
    run_folder_remove(job.folder);
}

/* Each one clear line, with file, line and key; exit 2, and nothing on standard output. */
static void bad_files_of_holes_are_refused_in_one_line(void **state) {
    (void)state;
    static const struct {
        const char *text, *said;
    } cases[] = {
        {"holes: []\n", ":1: holes: found \"holes\", wanted a known key"},
        {"drilled:\n  - {bracket: A, row: top, x: 72, found: wood}\n",
         ":2: drilled[1].y: wanted this key: it is missing"},
        {"measure: ft\ndrilled: []\n", ":1: measure: found \"ft\", wanted in or mm"},
        {"drilled:\n  - {bracket: A, row: top, x: -3, y: 20, found: wood}\n",
         ":2: drilled[1].x: found \"-3\", wanted a place between the two rakes"},
        {"drilled:\n  - {bracket: A, row: top, x: 72, y: 2000, found: wood}\n",
         ":2: drilled[1].y: found \"2000\", wanted a place between the eave and the ridge"},
        {"drilled:\n  - {bracket: A, row: top, x: 72 in, y: 20, found: wood}\n",
         ":2: drilled[1].x: found \"72 in\", wanted a length"},
        {"drilled:\n  - {bracket: A, row: top, x: 72, y: 20, found: solid}\n",
         ":2: drilled[1].found: found \"solid\", wanted wood, edge or air"},
        {"drilled:\n  - {bracket: B, row: top, x: 72, y: 20, found: wood}\n",
         ":2: drilled[1].bracket: found \"B\", wanted the name of a bracket of the roof: A"},
        {"drilled:\n  - {bracket: A, row: pipe, x: 72, y: 20, found: wood}\n",
         ":2: drilled[1].row: found \"pipe\", wanted top or bottom"},
        {"- 1\n", ":1: wanted a group of keys"},
        {"", ":1: wanted keys and values"},
    };
    struct job job;
    job_make(&job, "left", "in");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        run_file_write(job.holes, cases[i].text);
        struct run run = run_program(RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes), NULL);
        assert_int_equal(run.code, 2);
        assert_string_equal(run.out, "");
        if (strstr(run.err, cases[i].said) == NULL || strstr(run.err, job.holes) == NULL)
            fail_msg("%s", run.err);
        run_free(&run);
    }
    run_folder_remove(job.folder);
}

/* 201 holes are one too many. */
static void too_many_holes_are_refused(void **state) {
    (void)state;
    enum { ENTRY = 64, HOLES = 201 };
    static char text[ENTRY * (HOLES + 1)];
    size_t used = (size_t)snprintf(text, sizeof text, "drilled:\n");
    for (int i = 0; i < HOLES; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "  - {bracket: A, row: top, x: %d, y: 20, found: air}\n", 10 + i);
    struct job job;
    job_make(&job, "left", "in");
    run_file_write(job.holes, text);
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("revise", job.roof, job.holes), NULL);
    assert_int_equal(run.code, 2);
    assert_int_equal(count_of(run.err, "\n"), 1);
    assert_non_null(strstr(run.err, "200"));
    run_free(&run);
    run_folder_remove(job.folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sheet_says_what_stays_what_is_sealed_and_what_to_carry),
        cmocka_unit_test(patches_to_carry_are_those_that_were_ordered),
        cmocka_unit_test(corner_on_the_right_is_told_from_there),
        cmocka_unit_test(record_is_this_very_text),
        cmocka_unit_test(record_of_a_metric_roof_counts_in_its_measure),
        cmocka_unit_test(bad_files_of_holes_are_refused_in_one_line),
        cmocka_unit_test(too_many_holes_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
