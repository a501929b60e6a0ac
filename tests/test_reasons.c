/* Why each rule is there: one plain sentence for each, in the words of the trade. */
#include "../src/sheet/reasons.h"
#include "../src/sheet/words.h"
#include "run_program.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <stdlib.h>
#include <string.h>

/* Two lines of 80 columns, the indent and "why: " counted. */
enum { WHY_MOST = 150 };

static void is_one_plain_sentence(const char *why) {
    const size_t length = strlen(why);
    assert_true(length > 20 && length <= WHY_MOST);
    assert_true(why[0] >= 'A' && why[0] <= 'Z');
    assert_int_equal(why[length - 1], '.');
    assert_ptr_equal(strchr(why, '.'), why + length - 1); /* one sentence, no more */
    if (words_kept_off(why) != NULL)
        fail_msg("%s", words_kept_off(why));
}

static void every_rule_has_its_reason_and_its_source(void **state) {
    (void)state;
    for (int i = 0; i < RULE_COUNT; i++) {
        is_one_plain_sentence(reasons_why((enum rule)i));
        assert_true(strlen(reasons_source((enum rule)i)) > 5);
        assert_null(words_kept_off(reasons_source((enum rule)i)));
        for (int j = 0; j < i; j++)
            assert_string_not_equal(reasons_why((enum rule)i), reasons_why((enum rule)j));
    }
    is_one_plain_sentence(reasons_why_strength());
    assert_non_null(strstr(reasons_source_strength(), "docs/strength.md"));
}

/* Two lags out of their wood: one line says why, and no other rule is spoken of. */
static void broken_rule_is_given_its_reason_once(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    for (int i = 0; i < 2; i++)
        made.findings[i] = (struct finding){RULE_WOOD,  0,          ROW_TOP,    i,    CHECK_NONE,
                                            CHECK_NONE, CHECK_NONE, CHECK_NONE, -0.25};
    made.verdict.count = 2;
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    sheet_write_reasons(&made.verdict, NULL, stream);
    assert_int_equal(fclose(stream), 0);
    char wanted[400];
    snprintf(wanted, sizeof wanted, "why solid wood around the lag: %s\n", reasons_why(RULE_WOOD));
    assert_string_equal(text, wanted);
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_rule_has_its_reason_and_its_source),
        cmocka_unit_test(broken_rule_is_given_its_reason_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
