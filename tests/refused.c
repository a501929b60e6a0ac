#include "refused.h"

#include "survey.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

void expect_fault(const struct problem *problem, const struct fault *fault) {
    if (problem->line != fault->line || strcmp(problem->key, fault->key) != 0 ||
        strcmp(problem->found, fault->found) != 0 ||
        strstr(problem->wanted, fault->wanted) == NULL) {
        fail_msg("%s: got %d | %s | %s | %s; expected %d | %s | %s | %s", problem->file,
                 problem->line, problem->key, problem->found, problem->wanted, fault->line,
                 fault->key, fault->found, fault->wanted);
    }
}

static bool is_layout(const char *file) {
    return strstr(file, "survey_layout_") != NULL;
}

void read_refused(const char *path, struct problems *problems) {
    struct survey *survey = NULL;
    struct survey_layout *layout = NULL;
    const enum outcome outcome = is_layout(path) ? survey_read_layout(path, &layout, problems)
                                                 : survey_read(path, &survey, problems);
    if (outcome != OUTCOME_BAD_INPUT || problems->total == 0) {
        fail_msg("%s: outcome %d with %zu faults", path, (int)outcome, problems->total);
    }
    assert_null(survey);
    assert_null(layout);
}

void expect_faults(const char *path, const struct fault *faults, size_t count) {
    struct problems problems = {0};
    read_refused(path, &problems);
    for (size_t i = 0; i < count && i < problems.count; i++) {
        expect_fault(&problems.list[i], &faults[i]);
    }
    if (problems.total != count) {
        problems_print(&problems, stderr);
        fail_msg("%s: %zu faults, expected %zu", path, problems.total, count);
    }
    problems_free(&problems);
}
