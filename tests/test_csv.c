/* The table of holes: one line each, in chalking order, and no formula in it. */
#include "answered.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <stdlib.h>
#include <string.h>

#define HEAD                                                                                       \
    "result,number,hole,frame,line,held by,rafter,from,along,up,x,y,measure,room to miss\r\n"

static enum outcome write_csv(const void *subject, FILE *stream) {
    return sheet_write_csv(subject, stream);
}

static char *table(const struct sheet_answer *made) {
    return answered_bytes(write_csv, &made->answer, NULL);
}

/* Feet on the line 54 1/2, a strut on 110 3/4: five holes, the lowest line first. */
static void each_hole_is_a_line_in_chalking_order(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    char *text = table(&made);
    assert_memory_equal(text, HEAD, sizeof HEAD - 1);
    assert_int_equal(count_of(text, "\r\n"), 6);
    assert_says(text, "\r\n\"WORKS\",3,\"A-top-1\",\"A\",\"top\",\"strut\",3,\"LEFT\",\"5' 4\"\" "
                      "(64)\",\"9' 2-3/4\"\" (110-3/4)\",64.000000,110.750000,\"in\",");
    assert_in_order(text, (const char *const[]){"A-bottom-1", "A-bottom-2", "A-top-1", "A-top-2"},
                    4);
    free(text);
}

static void millimetres_are_the_files_measure(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    made.roof.measure = MEASURE_MM;
    char *text = table(&made);
    assert_says(text, "1625.600000,2813.050000,\"mm\""); /* 64 and 110 3/4 times 25.4 */
    free(text);
}

static void a_pipe_hole_has_no_rafter(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    char *text = table(&made);
    assert_says(text, "6,\"A-pipe-hot\",\"A\",\"pipe\",\"hot\",,\"LEFT\",");
    free(text);
}

static void each_line_of_what_fails_says_so(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    answer_break(&made);
    char *text = table(&made);
    assert_int_equal(count_of(text, "\r\n\"DO NOT DRILL: closest fit (does NOT work)\","), 5);
    assert_silent_on(text, "WORKS");
    free(text);
    made.answer.marks = NULL;
    text = table(&made);
    assert_string_equal(text, HEAD);
    free(text);
}

static void names_are_no_formulas(void **state) {
    (void)state;
    static struct sheet_answer made;
    /* Blanks in front do not help, nor do the wide forms of the signs: U+FF1D. */
    const char *const names[] = {"=1+1",
                                 "+1",
                                 "-1",
                                 "@A1",
                                 "  =1",
                                 "\xEF\xBC\x9D"
                                 "1"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char quoted[32];
        answer_make(&made, 1);
        strcpy(made.brackets[0].name, names[i]);
        char *text = table(&made);
        snprintf(quoted, sizeof quoted, ",\"'%s\",", names[i]);
        assert_int_equal(count_of(text, quoted), 5);
        snprintf(quoted, sizeof quoted, ",\"%s", names[i]);
        assert_silent_on(text, quoted);
        free(text);
    }
    answer_make(&made, 1);
    strcpy(made.brackets[0].name, "a\"b,c\n");
    char *text = table(&made);
    assert_int_equal(count_of(text, ",\"a\"\"b,c?\","), 5);
    assert_int_equal(count_of(text, "\n"), 6);
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_hole_is_a_line_in_chalking_order),
        cmocka_unit_test(millimetres_are_the_files_measure),
        cmocka_unit_test(a_pipe_hole_has_no_rafter),
        cmocka_unit_test(each_line_of_what_fails_says_so),
        cmocka_unit_test(names_are_no_formulas),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
