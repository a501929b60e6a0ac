/* The check without memory: whichever of its requests fails, it says so, hands on nothing and
 * leaves nothing behind.  The linker puts these two in the place of the allocator's own; see
 * CMakeLists.txt. */
#include "check.h"
#include "plain_roof.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);

/* Requests until one fails; 0: none does. */
static size_t until_failure;

static bool fails(void) {
    return until_failure > 0 && --until_failure == 0;
}

void *__wrap_calloc(size_t count, size_t size) {
    return fails() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *block, size_t size) {
    return fails() ? NULL : __real_realloc(block, size);
}

/* Two frames, their struts, feet and pipes: more findings than there is room for at first. */
static void any_request_fails(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.vent_count = 1;
    knobs.pipe_count = 2;
    struct roof *roof = plain_roof(&knobs);
    struct marks *marks = plain_marks(roof);
    size_t failed = 0;
    for (;; failed++) {
        struct verdict *verdict = NULL;
        until_failure = failed + 1;
        const enum outcome outcome = check_marks(roof, marks, &verdict);
        const bool all_granted = until_failure > 0;
        until_failure = 0;
        if (all_granted) {
            assert_int_equal(outcome, OUTCOME_DONE);
            assert_true(verdict->holds);
            assert_true(verdict->count > 64);
            verdict_free(verdict);
            break;
        }
        assert_int_equal(outcome, OUTCOME_FAULT);
        assert_null(verdict);
    }
    /* The verdict and its four lists, two lists of the check's own, findings twice at the least. */
    assert_true(failed >= 9);
    marks_free(marks);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {cmocka_unit_test(any_request_fails)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
