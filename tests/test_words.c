/* The table of words, and the words that stay off sheets. */
#include "../src/sheet/words.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <string.h>

static void each_rule_has_words_of_the_trade(void **state) {
    (void)state;
    for (int i = 0; i < RULE_COUNT; i++) {
        const char *words = words_rule((enum rule)i);
        assert_string_not_equal(words, check_rule_name((enum rule)i));
        assert_null(words_kept_off(words));
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(words, words_rule((enum rule)j));
        }
    }
}

static void table_is_sound(void **state) {
    (void)state;
    size_t count = 0;
    const struct word *all = words_all(&count);
    assert_true(count > RULE_COUNT);
    for (size_t i = 0; i < count; i++) {
        assert_null(words_kept_off(all[i].sheet));
        assert_true((words_kept_off(all[i].file) != NULL) == all[i].kept_off);
        for (size_t j = 0; j < i; j++) {
            assert_string_not_equal(all[i].file, all[j].file);
        }
    }
}

static void words_of_the_files_are_kept_off(void **state) {
    (void)state;
    const char *const off[] = {
        "the near rake", "Far",          "a bracket.",     "Marks: 4",
        "forgiveness",   "its margin",   "nearest miss",   "course 19",
        "the block",     "bracket-wide", "blocked, twice", "a square corner"};
    for (size_t i = 0; i < sizeof off / sizeof off[0]; i++) {
        assert_non_null(words_kept_off(off[i]));
    }
    const char *const good[] = {
        "nearly", "nearest",    "farther",       "remarkable",         "roof cement", "COURSES",
        "course", "12 courses", "the wood here", "SQUARE NOT CHECKED", "blockage",    ""};
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        assert_null(words_kept_off(good[i]));
    }
}

static const char *said(const struct roof *roof, const char *text, char *out, size_t size) {
    words_say(roof, text, out, size);
    return out;
}

static void near_and_far_become_the_side_they_are_on(void **state) {
    (void)state;
    static struct sheet_answer made;
    char out[200];
    answer_make(&made, 1);
    assert_string_equal(said(&made.roof, "near, then far", out, sizeof out), "LEFT, then RIGHT");
    made.roof.corner = CORNER_RIGHT;
    assert_string_equal(said(&made.roof, "Near, then FAR", out, sizeof out), "RIGHT, then LEFT");
    assert_string_equal(words_way(&made.roof, 1), "LEFT");
    assert_string_equal(words_way(&made.roof, -1), "RIGHT");
}

static void file_words_are_said_as_the_trade_says_them(void **state) {
    (void)state;
    static struct sheet_answer made;
    char out[200];
    answer_make(&made, 1);
    assert_string_equal(
        said(&made.roof, "bracket A: course 21, vent-bracket margin; marks", out, sizeof out),
        "frame A: 21st butt edge, frame to vent spare; lag holes");
}

static void own_names_are_left_alone_and_long_texts_are_cut(void **state) {
    (void)state;
    static struct sheet_answer made;
    char out[24];
    answer_make(&made, 1);
    strcpy(made.vents[0].name, "far stack");
    assert_string_equal(said(&made.roof, "far stack, far", out, sizeof out), "far stack, RIGHT");
    answer_add_pipes(&made);
    strcpy(made.pipes[1].name, "near tap");
    assert_string_equal(said(&made.roof, "near tap, near", out, sizeof out), "near tap, LEFT");
    words_say(&made.roof, "bracket bracket bracket bracket bracket", out, sizeof out);
    assert_int_equal(strlen(out), sizeof out - 1);
}

static void ordinals_are_english(void **state) {
    (void)state;
    const struct {
        size_t number;
        const char *text;
    } cases[] = {{1, "1st"},   {2, "2nd"},   {3, "3rd"},     {4, "4th"},     {10, "10th"},
                 {11, "11th"}, {12, "12th"}, {13, "13th"},   {19, "19th"},   {21, "21st"},
                 {22, "22nd"}, {23, "23rd"}, {101, "101st"}, {111, "111th"}, {1000, "1000th"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char buffer[WORDS_ORDINAL];
        assert_string_equal(words_ordinal(buffer, cases[i].number), cases[i].text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_rule_has_words_of_the_trade),
        cmocka_unit_test(table_is_sound),
        cmocka_unit_test(words_of_the_files_are_kept_off),
        cmocka_unit_test(near_and_far_become_the_side_they_are_on),
        cmocka_unit_test(file_words_are_said_as_the_trade_says_them),
        cmocka_unit_test(own_names_are_left_alone_and_long_texts_are_cut),
        cmocka_unit_test(ordinals_are_english),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
