#include "answered.h"

#include "survey.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

void answered_roof(struct roof *roof, enum side from, double limit_s, struct answered *answered) {
    uint64_t steps = 0; /* a limit that is the same on a busy machine */
    const struct layout_options how = {.limit_s = limit_s, .steps = &steps};
    struct problems problems = {0};
    memset(answered, 0, sizeof *answered);
    answered->roof = roof;
    assert_int_equal(carry_find(roof, &how, from, &answered->carried, &problems), OUTCOME_DONE);
    const struct carried *carried = &answered->carried;
    const bool works = carried->verdict != NULL && carried->verdict->holds &&
                       (carried->strength == NULL || carried->strength->carries);
    answered->answer = (struct answer){
        .roof = roof,
        .layout = carried->layout,
        .marks = carried->marks,
        .verdict = carried->verdict,
        .strength = carried->strength,
        .none_carry = carried->none_carry,
        .status = carried->layout->state == LAYOUT_UNDECIDED ? STATUS_UNDECIDED
                  : works                                    ? STATUS_OK
                                                             : STATUS_BLOCKED,
        .tape_broke = carried->held && !carried->verdict->holds,
        .from = from,
        .fingerprint = "1a2b3c4d",
        .limit_s = limit_s,
    };
}

void answered_file(const char *path, enum side from, struct answered *answered) {
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    const struct roof_options as_written = {0};
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    assert_int_equal(roof_build(survey, &as_written, &roof, &problems), OUTCOME_DONE);
    survey_free(survey);
    answered_roof(roof, from, 60, answered);
}

void answered_free(struct answered *answered) {
    carried_free(&answered->carried);
    roof_free(answered->roof);
}

char *answered_bytes(answered_writer *write, const void *subject, size_t *size) {
    char *text = NULL;
    size_t length = 0;
    FILE *stream = open_memstream(&text, &length);
    assert_non_null(stream);
    assert_int_equal(write(subject, stream), OUTCOME_DONE);
    assert_int_equal(fclose(stream), 0);
    if (size != NULL) {
        *size = length;
    }
    return text;
}
