/* The roofs in roofs/ against known_answers.txt: the program's JSON, and every choice tried. */
#include "brute_force.h"
#include "random_trial.h"
#include "run_program.h"
#include "survey.h"

#include <dirent.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>
#include <jansson.h>

#define SAME 1e-6 /* in the roof's measure; the list has as many digits */

struct known {
    char roof[64], status[16];
    double forgiveness;
    int holes;
    bool unproved;
};

enum { KNOWN_MOST = 100 };

static size_t read_list(struct known known[KNOWN_MOST]) {
    char *text = run_file_read(RUDDLE_ROOT "/tests/known_answers.txt");
    size_t count = 0;
    for (char *rest = NULL, *line = strtok_r(text, "\n", &rest); line != NULL;
         line = strtok_r(NULL, "\n", &rest)) {
        char forgiveness[32];
        if (line[0] == '#')
            continue;
        assert_true(count < KNOWN_MOST);
        struct known *entry = &known[count++];
        char proved[16] = "";
        if (sscanf(line, "%63s %15s %31s %d %15s", entry->roof, entry->status, forgiveness,
                   &entry->holes, proved) < 4)
            fail_msg("known_answers.txt: %s", line);
        entry->unproved = strcmp(proved, "unproved") == 0;
        assert_true(entry->unproved || proved[0] == '\0');
        entry->forgiveness = strtod(forgiveness, NULL);
    }
    free(text);
    assert_true(count > 0);
    return count;
}

static void program_gives_the_known_answer(void **state) {
    (void)state;
    struct known known[KNOWN_MOST];
    size_t count = read_list(known);
    for (size_t i = 0; i < count; i++) {
        char path[RUN_PATH];
        run_path(path, RUDDLE_ROOT "/roofs", known[i].roof);
        struct run run = run_program(RUDDLE_PROGRAM, WORDS("layout", path, "--json"), NULL);
        json_t *json = json_loads(run.out, 0, NULL);
        assert_non_null(json);
        json_t *optimum = json_object_get(json, "optimum");
        assert_string_equal(json_string_value(json_object_get(json, "status")), known[i].status);
        assert_int_equal(json_is_true(json_object_get(json, "proved")), !known[i].unproved);
        assert_int_equal(run.code, strcmp(known[i].status, "ok") == 0 ? 0 : 1);
        double found = json_number_value(json_object_get(optimum, "forgiveness"));
        if (!(fabs(found - known[i].forgiveness) <= SAME))
            fail_msg("%s: forgiveness %.9g, not %.9g", known[i].roof, found, known[i].forgiveness);
        assert_int_equal(json_integer_value(json_object_get(optimum, "holes")), known[i].holes);
        json_decref(json);
        run_free(&run);
    }
}

static struct roof *read_roof(const char *name) {
    char path[RUN_PATH];
    const struct roof_options options = {{NULL, NULL}, NULL};
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    run_path(path, RUDDLE_ROOT "/roofs", name);
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    assert_int_equal(roof_build(survey, &options, &roof, &problems), OUTCOME_DONE);
    survey_free(survey);
    problems_free(&problems);
    return roof;
}

/* Roofs that brute_force cannot take (more than two frames, say) are left to the program; so are
 * two frames, pipes and all but three roofs where RUDDLE_ROOFS asks for a quick run. */
static void trying_every_choice_gives_the_known_answer(void **state) {
    (void)state;
    struct known known[KNOWN_MOST];
    size_t count = read_list(known), tried = 0;
    bool quick = random_roof_count(200) < 200;
    for (size_t i = 0; i < count; i++) {
        struct roof *roof = read_roof(known[i].roof);
        double unit = roof->measure == MEASURE_MM ? LENGTH_MM_PER_INCH : 1;
        struct brute_answer best;
        bool slow = roof->bracket_count > 1 || roof->pipe_count > 0 || tried >= 3;
        if (!(quick && slow) && brute_force(roof, &best)) {
            tried++;
            assert_true(best.possible);
            if (!(fabs(best.forgiveness[0] * unit - known[i].forgiveness) <= SAME))
                fail_msg("%s: forgiveness %.9g, not %.9g", known[i].roof,
                         best.forgiveness[0] * unit, known[i].forgiveness);
        }
        roof_free(roof);
    }
    print_message("%zu of %zu roofs tried in every way\n", tried, count);
    assert_true(tried > 0);
}

static void every_roof_is_on_the_list(void **state) {
    (void)state;
    struct known known[KNOWN_MOST];
    size_t count = read_list(known), listed = 0;
    DIR *folder = opendir(RUDDLE_ROOT "/roofs");
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        const char *end = strrchr(entry->d_name, '.');
        if (end == NULL || strcmp(end, ".yaml") != 0)
            continue;
        size_t before = listed;
        for (size_t i = 0; i < count; i++)
            listed += strcmp(known[i].roof, entry->d_name) == 0;
        if (listed != before + 1)
            fail_msg("%s is not on the list, once", entry->d_name);
    }
    closedir(folder);
    assert_int_equal(listed, count);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(program_gives_the_known_answer),
        cmocka_unit_test(trying_every_choice_gives_the_known_answer),
        cmocka_unit_test(every_roof_is_on_the_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
