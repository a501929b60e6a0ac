/* What a sane survey is not: every refusal, with its file, line, key and what is wanted. */
#include "edited_roof.h"
#include "roof.h"
#include "survey.h"

#include <glob.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* What a file of tests/roofs/bad says of itself: `# Refused: KEY` and `# Wanted: TEXT` in its head,
 * and `# fault` at the end of the line that is at fault. */
struct expected {
    char key[128], wanted[256];
    int line;
};

static void take_after(const char *line, const char *head, char *text, size_t size) {
    if (strncmp(line, head, strlen(head)) == 0)
        snprintf(text, size, "%.*s", (int)strcspn(line + strlen(head), "\n"), line + strlen(head));
}

static struct expected read_expected(const char *path) {
    struct expected expected = {.line = 0};
    char line[8192];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    for (int number = 1; fgets(line, sizeof line, file) != NULL; number++) {
        take_after(line, "# Refused: ", expected.key, sizeof expected.key);
        take_after(line, "# Wanted: ", expected.wanted, sizeof expected.wanted);
        if (strstr(line, "# fault\n") != NULL)
            expected.line = number;
    }
    fclose(file);
    assert_true(expected.line > 0 && expected.key[0] != '\0' && expected.wanted[0] != '\0');
    return expected;
}

static bool is_refused(const char *path) {
    struct expected expected = read_expected(path);
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    enum outcome outcome = survey_read(path, &survey, &problems);
    if (outcome == OUTCOME_DONE)
        outcome = roof_build(survey, NULL, &roof, &problems);
    const struct problem *problem = problems.list;
    bool right = outcome == OUTCOME_BAD_INPUT && roof == NULL && problems.total == 1 &&
                 strcmp(problem->file, path) == 0 && problem->line == expected.line &&
                 strcmp(problem->key, expected.key) == 0 &&
                 strstr(problem->wanted, expected.wanted) != NULL;
    if (!right) {
        print_message("%s: expected line %d, %s, wanted ... %s ...; told instead:\n", path,
                      expected.line, expected.key, expected.wanted);
        problems_print(&problems, stderr);
    }
    roof_free(roof);
    survey_free(survey);
    problems_free(&problems);
    return right;
}

static void every_bad_roof_is_refused_once_at_its_line(void **state) {
    (void)state;
    glob_t found;
    assert_int_equal(glob(RUDDLE_ROOT "/tests/roofs/bad/roof_*.yaml", 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 70);
    size_t refused = 0;
    for (size_t i = 0; i < found.gl_pathc; i++)
        refused += is_refused(found.gl_pathv[i]);
    assert_int_equal(refused, found.gl_pathc);
    globfree(&found);
}

/* One fault of a kit: the text exchanged, and the message. */
struct kit_fault {
    const char *old, *new, *key, *found, *wanted;
};

static const struct kit_fault kit_faults[] = {
    {"kit: two-leg tank frame", "kit: \"two\\tlegs\"", "kit", "two\tlegs", "a text on one line"},
    {"kit: two-leg tank frame", "kit: a\nmeasure: ft", "measure", "ft", "in or mm"},
    {"  width: 72\n", "  width: 0\n", "bracket.width", "0", "above 0"},
    {"  height: 84\n", "  height: -84\n", "bracket.height", "-84", "above 0"},
    {"legs: [12, 60]", "legs: [12, 72 1/8]", "bracket.legs", "12, 72 1/8", "inside the bracket"},
    {"legs: [12, 60]", "legs: [60, 12]", "bracket.legs", "60, 12", "beyond the one before"},
    {"legs: [12, 60]", "legs: [12, 12]", "bracket.legs", "12, 12", "beyond the one before"},
    {"legs: [12, 60]", "legs: [-1, 60]", "bracket.legs[1]", "-1", "at least 0"},
    {"legs: [12, 60]", "legs: [1,2,3,4,5,6,7,8,9,10,11,12,13]", "bracket.legs",
     "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13", "a list of 1 to 12 lengths"},
    {"top: [70, 76]", "top: [76, 70]", "bracket.top", "76, 70", "the lower end first"},
    {"top: [70, 76]", "top: [70, 84 1/8]", "bracket.top", "70, 84 1/8", "84 in high"},
    {"bottom: [4, 20]", "bottom: [4, 70]", "bracket.bottom", "4, 70", "below where top begins"},
    {"gap: [1, 1 1/2]", "gap: [1 1/2, 1]", "bracket.bottom_bracket.gap", "1 1/2, 1", "lower end"},
    {"depth: 2", "depth: -2", "bracket.bottom_bracket.depth", "-2", "at least 0"},
    {"wrench: 1/2", "wrench: -1/2", "bracket.bottom_bracket.wrench", "-1/2", "at least 0"},
    {"standoff: 4", "standoff: -4", "bracket.standoff", "-4", "at least 0"},
    {"reach: 1 1/2", "reach: -1", "foot.reach", "-1", "at least 0"},
    {"slot: 3/4", "slot: 3/0", "foot.slot", "3/0", "a fraction over zero"},
    {"half: 1}", "half: -1}", "foot.half", "-1", "at least 0"},
    {"half: 1}", "half: 1, toe: 0}", "foot.toe", "0", "above 0"},
    {"half: 1}", "half: 1, lag_factor: 0}", "foot.lag_factor", "0", "above 0"},
    {"half: 7/8", "half: -7/8", "strut.half", "-7/8", "at least 0"},
    {"grip: 1 1/4", "grip: -1", "strut.grip", "-1", "at least 0"},
    {"lag_clear: 1 1/2", "lag_clear: -1", "strut.lag_clear", "-1", "at least 0"},
    {" end: 1,", " end: -1,", "strut.end", "-1", "at least 0"},
    {"overhang: 6", "overhang: -6", "strut.overhang", "-6", "at least 0"},
    {"span: 50", "span: 0", "strut.span", "0", "above 0"},
    {"span: 50", "span: 50, holes: some", "strut.holes", "some", "every-rafter or span"},
    {"span: 50", "span: 50, section: 0", "strut.section", "0", "above 0"},
    {"span: 50", "span: 50, stress: -9", "strut.stress", "-9", "above 0"},
    {"stock: [120, 240]", "stock: [0, 240]", "strut.stock[1]", "0", "above 0"},
    {"stock: [120, 240]", "stock: [1,2,3,4,5,6,7,8,9,1,2,3,4,5,6,7,8]", "strut.stock",
     "1, 2, 3, 4, 5, 6, 7, 8, 9, 1, 2, 3, 4, 5, 6, 7, 8", "a list of 1 to 16 lengths"},
    {"flashing: {width: 9", "flashing: {width: 0", "flashing.width", "0", "above 0"},
    {"height: 12", "height: 12, allowable: {lateral: 0}", "flashing.allowable.lateral", "0",
     "above"},
    {"hole_up: 3 1/4", "hole_up: 12 1/4", "flashing.hole_up", "12 1/4", "12 in high"},
    {"block: 1", "block: -1", "flashing.block", "-1", "at least 0"},
    {"edge: [0, 1]", "edge: [1, 0]", "flashing.edge", "1, 0", "lower end first"},
    {"edge: [0, 1]", "edge: [-1, 1]", "flashing.edge[1]", "-1", "at least 0"},
    {"clear: 1/4", "clear: -1/4", "flashing.clear", "-1/4", "at least 0"},
    {"lap: 1/2", "lap: -1/2", "flashing.lap", "-1/2", "at least 0"},
    {"diameter: 5/16", "diameter: 0", "lag.diameter", "0", "above 0"},
    {"length: 4", "length: 0", "lag.length", "0", "above 0"},
    {"through: 1/2", "through: -1", "lag.through", "-1", "at least 0"},
    {"through: 1/2", "through: 1/2, edge: -1", "lag.edge", "-1", "at least 0"},
    {"through: 1/2", "through: 1/2, side: {bearing: 0}", "lag.side.bearing", "0", "above 0"},
    {"dry: 190", "dry: 190 lb", "weight.dry", "190 lb", "a plain number of at least 0"},
    {"fill: 80", "fill: -80", "weight.fill", "-80", "at least 0"},
    {"centre: [36, 66, 12]", "centre: [36, 66, -12]", "weight.centre[3]", "-12", "at least 0"},
    {"fill: 80", "fill: 80, centre_dry: [1, -1, 1]", "weight.centre_dry[2]", "-1", "at least 0"},
};

/* The line of the plain kit that a text ends on. */
static int kit_line(const char *text) {
    char line[1024];
    const char *last = strrchr(text, '\n') == NULL || strrchr(text, '\n')[1] == '\0'
                           ? text
                           : strrchr(text, '\n') + 1;
    FILE *file = fopen(RUDDLE_ROOT "/tests/roofs/plain-kit.yaml", "r");
    int found = 0;
    assert_non_null(file);
    for (int number = 1; fgets(line, sizeof line, file) != NULL; number++)
        if (strstr(line, last) != NULL)
            found = number;
    fclose(file);
    return found;
}

static bool tells(const struct problems *problems, const struct kit_fault *fault) {
    int line = kit_line(fault->old) +
               (strchr(fault->new, '\n') != NULL && strchr(fault->old, '\n') == NULL);
    for (size_t i = 0; i < problems->count; i++) {
        const struct problem *problem = &problems->list[i];
        if (strstr(problem->file, "/plain-kit.yaml") != NULL && problem->line == line &&
            strcmp(problem->key, fault->key) == 0 && strcmp(problem->found, fault->found) == 0 &&
            strstr(problem->wanted, fault->wanted) != NULL)
            return true;
    }
    return false;
}

static void every_bad_kit_is_refused_at_its_line(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof kit_faults / sizeof *kit_faults; i++) {
        const struct kit_fault *fault = &kit_faults[i];
        const struct edit edits[] = {{fault->old, fault->new}, {0}};
        struct problems problems = {0};
        struct roof *roof = NULL;
        enum outcome outcome = edited_roof_build(
            &(struct edited_roof){.root = RUDDLE_ROOT, .kit = edits}, &roof, &problems);
        bool right = outcome == OUTCOME_BAD_INPUT && roof == NULL && tells(&problems, fault);
        if (!right) {
            print_message("kit with \"%s\": told instead\n", fault->new);
            problems_print(&problems, stderr);
        }
        problems_free(&problems);
        roof_free(roof);
        assert_true(right);
    }
}

static void all_faults_of_both_files_are_told(void **state) {
    (void)state;
    const struct edit roof_edits[] = {
        {"width: 30'", "width: wide"},        {"exposure: 5 5/8", "exposure: 0"},
        {"at: 64}", "at: 64, plies: nine}"},  {"kind: plumbing", "kind: chimney"},
        {"want: [60, 40]", "want: [60, up]"}, {0}};
    const struct edit kit_edits[] = {
        {"  width: 72", "  width: none"}, {"slot: 3/4", "slot: -1"}, {0}};
    static const char *const keys[] = {
        "plane.width",   "courses.exposure", "rafters.list[3].plies", "vents[1].kind",
        "bracket.width", "foot.slot",        "place[1].want[2]"};
    struct problems problems = {0};
    struct roof *roof = NULL;
    enum outcome outcome = edited_roof_build(
        &(struct edited_roof){.root = RUDDLE_ROOT, .roof = roof_edits, .kit = kit_edits}, &roof,
        &problems);
    assert_int_equal(outcome, OUTCOME_BAD_INPUT);
    assert_null(roof);
    assert_int_equal(problems.total, sizeof keys / sizeof *keys);
    for (size_t i = 0; i < problems.count; i++)
        assert_string_equal(problems.list[i].key, keys[i]);
    problems_free(&problems);
}

/* A survey made by hand, as another reader might: nothing in it at all. */
static void missing_keys_are_told_even_without_the_reader(void **state) {
    (void)state;
    struct survey_roof nothing = {0};
    struct survey survey = {.path = (char[]){"empty.yaml"}, .roof = &nothing};
    static const char *const keys[] = {"roof",         "plane.width",   "plane.slope",
                                       "plane.pitch",  "courses.first", "courses.exposure",
                                       "rafters.list", "place"};
    struct problems problems = {0};
    struct roof *roof = NULL;
    assert_int_equal(roof_build(&survey, NULL, &roof, &problems), OUTCOME_BAD_INPUT);
    assert_null(roof);
    assert_int_equal(problems.total, sizeof keys / sizeof *keys);
    for (size_t i = 0; i < problems.count; i++)
        assert_string_equal(problems.list[i].key, keys[i]);
    problems_free(&problems);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_bad_roof_is_refused_once_at_its_line),
        cmocka_unit_test(every_bad_kit_is_refused_at_its_line),
        cmocka_unit_test(all_faults_of_both_files_are_told),
        cmocka_unit_test(missing_keys_are_told_even_without_the_reader),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
