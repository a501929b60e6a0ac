#include "random_trial.h"

#include "run_program.h"
#include "survey.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

int random_folder_make(void **state) {
    char *folder = malloc(RUN_PATH);
    if (folder == NULL)
        return -1;
    run_folder_make(folder);
    *state = folder;
    return 0;
}

int random_folder_remove(void **state) {
    run_folder_remove(*state);
    free(*state);
    return 0;
}

size_t random_roof_count(size_t wanted) {
    const char *text = getenv("RUDDLE_ROOFS");
    unsigned long given = text != NULL ? strtoul(text, NULL, 10) : 0;
    return given > 0 && given < wanted ? (size_t)given : wanted;
}

struct roof *random_roof_read(const struct random_roof *made, enum random_form form,
                              const char *folder, const enum hardware *hardware) {
    char path[RANDOM_PATH];
    struct roof_options options = {{NULL, NULL}, NULL};
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    if (hardware != NULL) {
        options.hardware[ROW_TOP] = &hardware[ROW_TOP];
        options.hardware[ROW_BOTTOM] = &hardware[ROW_BOTTOM];
    }
    if (!random_roof_write(made, form, folder, "roof", path))
        fail_msg("cannot write %s", path);
    if (survey_read(path, &survey, &problems) != OUTCOME_DONE ||
        roof_build(survey, &options, &roof, &problems) != OUTCOME_DONE) {
        problems_print(&problems, stderr);
        fail_msg("seed %llu, form %d: refused", (unsigned long long)made->knobs.seed, (int)form);
    }
    survey_free(survey);
    problems_free(&problems);
    return roof;
}

struct layout *random_layout(const struct roof *roof, double limit_s, uint64_t seed) {
    const struct layout_options options = {.limit_s = limit_s};
    struct problems problems = {0};
    struct layout *layout = NULL;
    if (layout_find(roof, &options, &layout, &problems) != OUTCOME_DONE) {
        problems_print(&problems, stderr);
        fail_msg("seed %llu: fault", (unsigned long long)seed);
    }
    problems_free(&problems);
    return layout;
}

struct layout *random_proved_layout(const struct roof *roof, uint64_t seed) {
    struct layout *layout = random_layout(roof, 60, seed);
    if (layout->state != LAYOUT_PROVED && layout->state != LAYOUT_IMPOSSIBLE)
        fail_msg("seed %llu: not proved within the limit", (unsigned long long)seed);
    return layout;
}

void expect_of_seed(const char *what, uint64_t seed, double found, double wanted,
                    double tolerance) {
    if (!(fabs(found - wanted) <= tolerance))
        fail_msg("seed %llu: %s is %.10g, not %.10g", (unsigned long long)seed, what, found,
                 wanted);
}
