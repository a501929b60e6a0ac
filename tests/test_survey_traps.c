/* Survey files that are traps: no plain files, bombs, files beyond every limit, damaged ones. */
#include "folder.h"
#include "refused.h"
#include "survey.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <cmocka.h>

#define ROOFS RUDDLE_ROOT "/tests/roofs/"

/* The start of a good roof, 8 lines; places follow. */
#define ROOF_START                                                                                 \
    "roof: small face\n"                                                                           \
    "plane: {width: 30', slope: 16' 4\", pitch: 5/12}\n"                                           \
    "courses: {first: 6, exposure: 5 5/8}\n"                                                       \
    "rafters:\n"                                                                                   \
    "  list:\n"                                                                                    \
    "    - {at: 16 1/4}\n"                                                                         \
    "    - {at: 40 1/8}\n"                                                                         \
    "    - {at: 64}\n"

static void what_is_no_plain_file_is_refused_at_once(void **state) {
    char pipe[FOLDER_PATH + 8];
    const struct folder *folder = *state;
    snprintf(pipe, sizeof pipe, "%s/pipe", folder->path);
    assert_int_equal(mkfifo(pipe, 0600), 0);
    expect_faults(pipe, &(struct fault){0, "", "", "not a plain file"}, 1);
    expect_faults("/dev/zero", &(struct fault){0, "", "", "not a plain file"}, 1);
    expect_faults("/dev/null", &(struct fault){0, "", "", "not a plain file"}, 1);
    expect_faults(folder->path, &(struct fault){0, "", "", "it is a folder"}, 1);
    expect_faults("/nowhere/roof.yaml", &(struct fault){0, "", "", "No such file or directory"}, 1);
    expect_faults("", &(struct fault){0, "", "", "No such file or directory"}, 1);
}

/* A megabyte is read, a byte more is not: the comment at its end is all that differs. */
static void a_file_beyond_the_size_limit_is_refused(void **state) {
    static const char start[] = ROOF_START "place:\n  - {name: A, kit: " ROOFS "plain-kit.yaml}\n#";
    char path[FOLDER_PATH];
    char *text = malloc(SURVEY_BYTES_MOST + 1);
    assert_non_null(text);
    memset(text, 'x', SURVEY_BYTES_MOST + 1);
    memcpy(text, start, strlen(start));
    struct survey *survey = NULL;
    struct problems problems = {0};
    folder_write(state, path, "large.yaml", text, SURVEY_BYTES_MOST);
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    survey_free(survey);
    folder_write(state, path, "large.yaml", text, SURVEY_BYTES_MOST + 1);
    expect_faults(path, &(struct fault){0, "", "", "larger than 1048576 bytes"}, 1);
    free(text);
}

/* A key that nobody reads (it stands on the second level) may nest as deep as the limit, and no
 * deeper; a hundred thousand brackets are refused as fast. */
static void nesting_beyond_the_limit_is_refused(void **state) {
    static const char start[] = "brackets: []\nmarks: []\noptimum: ";
    enum { DEEP = 100000 };
    char path[FOLDER_PATH];
    char *text = malloc(sizeof start + 2 * DEEP);
    assert_non_null(text);
    const size_t levels[] = {SURVEY_DEPTH_MOST - 1, SURVEY_DEPTH_MOST, DEEP};
    for (size_t i = 0; i < 3; i++) {
        memcpy(text, start, sizeof start);
        const size_t length = strlen(start);
        memset(text + length, '[', levels[i]);
        memset(text + length + levels[i], ']', levels[i]);
        folder_write(state, path, "deep.yaml", text, length + 2 * levels[i]);
        struct survey_layout *survey = NULL;
        struct problems problems = {0};
        if (levels[i] < SURVEY_DEPTH_MOST) {
            assert_int_equal(survey_read_layout(path, &survey, &problems), OUTCOME_DONE);
            survey_layout_free(survey);
        } else {
            assert_int_equal(survey_read_layout(path, &survey, &problems), OUTCOME_BAD_INPUT);
            assert_int_equal(problems.list[0].line, 3);
            assert_non_null(strstr(problems.list[0].wanted, "less nesting: 16 levels"));
            problems_free(&problems);
        }
    }
    free(text);
}

static void entries_beyond_the_limit_are_refused(void **state) {
    static const char start[] = ROOF_START "apart: [\n";
    char path[FOLDER_PATH];
    char *text = calloc(1, sizeof start + 2 * (SURVEY_NODES_MOST + 1));
    assert_non_null(text);
    strcpy(text, start);
    char *end = text + strlen(start);
    for (int i = 0; i < SURVEY_NODES_MOST; i++) {
        *end++ = '1';
        *end++ = ',';
    }
    *end++ = ']';
    folder_write(state, path, "long.yaml", text, (size_t)(end - text));
    struct problems problems = {0};
    read_refused(path, &problems);
    assert_int_equal(problems.total, 1);
    assert_int_equal(problems.list[0].line, 10);
    assert_non_null(strstr(problems.list[0].wanted, "100 000 at most"));
    problems_free(&problems);
    free(text);
}

static void keys_beyond_the_limit_are_refused(void **state) {
    char path[FOLDER_PATH];
    char text[201 * 8 + 1] = "";
    char *end = text;
    for (int i = 0; i < 201; i++) {
        end += sprintf(end, "k%d: 1\n", i);
    }
    folder_write_text(state, path, "keys.yaml", text);
    expect_faults(path, &(struct fault){201, "", "", "one group may hold 200"}, 1);
}

/* A bomb of aliases dies at its first anchor and alias, whatever key it hides under. */
static void a_bomb_of_aliases_is_refused(void **state) {
    char path[FOLDER_PATH];
    static const struct fault faults[] = {
        {1, "loads", "&a", "anchors are not read"},
        {2, "pipes", "&b", "anchors are not read"},
        {2, "pipes[1]", "*a", "aliases are not read"},
        {2, "pipes[2]", "*a", "aliases are not read"},
    };
    folder_write_text(state, path, "bomb.yaml",
                      "loads: &a {snow: 1}\npipes: &b [*a, *a]\n" ROOF_START
                      "place: [{name: A, kit: " ROOFS "plain-kit.yaml}]\n");
    expect_faults(path, faults, 4);
}

/* Sixty-four kits are looked for, though none is there; the next one is not. */
static void kits_beyond_the_limit_are_refused(void **state) {
    char path[FOLDER_PATH];
    char text[8000] = ROOF_START "place:\n";
    char *end = text + strlen(text);
    for (int i = 1; i <= 66; i++) {
        end += sprintf(end, "  - {name: B%d, kit: no-%d.yaml}\n", i, i);
    }
    folder_write_text(state, path, "kits.yaml", text);
    struct problems problems = {0};
    read_refused(path, &problems);
    assert_int_equal(problems.total, 65);
    assert_int_equal(problems.list[64].line, 10 + 64);
    assert_string_equal(problems.list[64].key, "place[65].kit");
    assert_non_null(strstr(problems.list[64].wanted, "64 files at most"));
    problems_free(&problems);
}

/* YAML's parser compares every %TAG with all the others: a file full of them took it ten seconds,
 * and as long again to find that it is no kit.  It is refused unread, whatever ends its lines. */
static void a_bomb_of_tag_directives_is_refused(void **state) {
    char path[FOLDER_PATH];
    char *text = malloc(SURVEY_BYTES_MOST);
    assert_non_null(text);
    char *end = text + sprintf(text, "# a comment\r");
    for (int i = 0; end - text < SURVEY_BYTES_MOST - 64; i++) {
        end += sprintf(end, "%%TAG !a%d! b\r", i);
    }
    end += sprintf(end, "---\rkit: two-leg\r");
    folder_write(state, path, "tags.yaml", text, (size_t)(end - text));
    expect_faults(path, &(struct fault){2, "", "%TAG", "tags are not read"}, 1);
    assert_false(survey_is_kit(path));
    free(text);
}

/* A kit is told by its first key, as far as files may go: nobody reads a gigabyte of comments. */
static void a_kit_beyond_the_size_limit_is_none(void **state) {
    char path[FOLDER_PATH];
    char *text = malloc(SURVEY_BYTES_MOST + 1);
    assert_non_null(text);
    memset(text, '#', SURVEY_BYTES_MOST + 1);
    memcpy(text + SURVEY_BYTES_MOST - 6, "\nkit: a", 7);
    folder_write(state, path, "kit.yaml", text + 1, SURVEY_BYTES_MOST);
    assert_true(survey_is_kit(path));
    folder_write(state, path, "kit.yaml", text, SURVEY_BYTES_MOST + 1);
    assert_false(survey_is_kit(path));
    free(text);
}

/* Read or refused, with a fault told whenever it is refused. */
static void expect_sane_end(const char *path) {
    struct survey *survey = NULL;
    struct problems problems = {0};
    const enum outcome outcome = survey_read(path, &survey, &problems);
    assert_true(outcome == OUTCOME_DONE || outcome == OUTCOME_BAD_INPUT);
    assert_int_equal(outcome == OUTCOME_DONE, survey != NULL);
    assert_int_equal(outcome == OUTCOME_DONE, problems.total == 0);
    for (size_t j = 0; j < problems.count; j++) {
        assert_null(strstr(problems.list[j].wanted, "though no fault was found"));
    }
    survey_free(survey);
    problems_free(&problems);
}

/* Cut after every byte, and with every byte changed. */
static void expect_sane_ends(void **state, const char *good) {
    static const char bytes[] = {'\0', '\t', '\n', '"', '\'', '[', '{', ':', '&', '*', '-', '\xFF'};
    char path[FOLDER_PATH];
    char text[2048];
    assert_true(strlen(good) < sizeof text);
    for (size_t i = 0; i < 2 * strlen(good); i++) {
        const size_t place = i / 2;
        size_t size = strlen(good);
        memcpy(text, good, size + 1);
        if (i % 2 == 0) {
            size = place;
        } else {
            text[place] = bytes[(place * 7) % sizeof bytes];
        }
        folder_write(state, path, "damaged.yaml", text, size);
        expect_sane_end(path);
    }
}

static void a_file_damaged_anywhere_is_read_or_refused(void **state) {
    expect_sane_ends(state, ROOF_START "place:\n  - {name: A, kit: " ROOFS
                                       "plain-kit.yaml, want: [60, 40]}\n");
}

/* With lists in lists, and groups that may be absent. */
static void a_hip_damaged_anywhere_is_read_or_refused(void **state) {
    expect_sane_ends(state, "roof: hip\nplane:\n  pitch: 5/12\n"
                            "  outline: [[0, 0], [408, 0], [204, 156]]\n"
                            "  square: {along: 96, up: 72, diagonal: 120}\n"
                            "courses: {edges: [6, 11], check: {edge: 2, at: 11}}\n"
                            "rafters: {heights: [0, 9], list: [{at: 24, ply_sound: [no]}]}\n"
                            "place: [{name: A, kit: " ROOFS "plain-kit.yaml}]\n"
                            "keepouts: [{rafter: 1, from: 2, to: 3}]\n"
                            "pipes: [{name: hot, bracket: A, port: [6, 8], reach: 1, bore: 1,\n"
                            "  flashing: {width: 9, height: 12, hole_up: 3, block: 1,\n"
                            "    edge: [0, 1], clear: 1, lap: 1}}]\n");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        FOLDER_TEST(what_is_no_plain_file_is_refused_at_once),
        FOLDER_TEST(a_file_beyond_the_size_limit_is_refused),
        FOLDER_TEST(nesting_beyond_the_limit_is_refused),
        FOLDER_TEST(entries_beyond_the_limit_are_refused),
        FOLDER_TEST(keys_beyond_the_limit_are_refused),
        FOLDER_TEST(a_bomb_of_aliases_is_refused),
        FOLDER_TEST(kits_beyond_the_limit_are_refused),
        FOLDER_TEST(a_bomb_of_tag_directives_is_refused),
        FOLDER_TEST(a_kit_beyond_the_size_limit_is_none),
        FOLDER_TEST(a_file_damaged_anywhere_is_read_or_refused),
        FOLDER_TEST(a_hip_damaged_anywhere_is_read_or_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
