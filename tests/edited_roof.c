#include "edited_roof.h"

#include "survey.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

enum { PATH_MOST = 512, TEXT_MOST = 64 * 1024 };

static char *read_text(const char *path) {
    char *text = calloc(TEXT_MOST, 1);
    FILE *file = fopen(path, "rb");
    assert_non_null(text);
    assert_non_null(file);
    size_t length = fread(text, 1, TEXT_MOST - 1, file);
    assert_true(length > 0 && length < TEXT_MOST - 1);
    fclose(file);
    return text;
}

/* Exchanges one text in a buffer of TEXT_MOST bytes. */
static void exchange(char *text, const struct edit *edit) {
    char *place = strstr(text, edit->old);
    size_t old = strlen(edit->old), new = strlen(edit->new);
    if (place == NULL || strstr(place + 1, edit->old) != NULL)
        fail_msg("\"%s\" has to stand once in the file", edit->old);
    assert_true(strlen(text) + new < TEXT_MOST);
    memmove(place + new, place + old, strlen(place + old) + 1);
    memcpy(place, edit->new, new);
}

/* Writes a file of tests/roofs with its edits. */
static void write_edited(const char *root, const char *name, const char *target,
                         const struct edit *edits) {
    char source[PATH_MOST];
    snprintf(source, sizeof source, "%s/tests/roofs/%s", root, name);
    char *text = read_text(source);
    for (; edits != NULL && edits->old != NULL; edits++)
        exchange(text, edits);
    FILE *file = fopen(target, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(text, 1, strlen(text), file), strlen(text));
    assert_int_equal(fclose(file), 0);
    free(text);
}

enum outcome edited_roof_build(const struct edited_roof *edited, struct roof **roof,
                               struct problems *problems) {
    char folder[] = "/tmp/ruddle-roof-XXXXXX", path[PATH_MOST], kit_path[PATH_MOST];
    struct survey *survey = NULL;
    assert_non_null(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/plain.yaml", folder);
    snprintf(kit_path, sizeof kit_path, "%s/plain-kit.yaml", folder);
    write_edited(edited->root, "plain.yaml", path, edited->roof);
    write_edited(edited->root, "plain-kit.yaml", kit_path, edited->kit);
    enum outcome outcome = survey_read(path, &survey, problems);
    if (outcome == OUTCOME_DONE)
        outcome = roof_build(survey, edited->options, roof, problems);
    survey_free(survey);
    unlink(path);
    unlink(kit_path);
    rmdir(folder);
    return outcome;
}

struct roof *edited_roof_good(const struct edited_roof *edited) {
    struct problems problems = {0};
    struct roof *roof = NULL;
    enum outcome outcome = edited_roof_build(edited, &roof, &problems);
    problems_print(&problems, stderr);
    problems_free(&problems);
    assert_int_equal(outcome, OUTCOME_DONE);
    return roof;
}

void near_or_fail(double found, double wanted, const char *file, int line) {
    if (!(fabs(found - wanted) <= 1e-9))
        fail_msg("%s:%d: found %.12g, wanted %.12g", file, line, found, wanted);
}
