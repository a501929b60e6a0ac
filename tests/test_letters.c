/* Texts of other people before they are drawn: what may be shown stays, any other character is a
 * '?', and so is each byte of what is none. */
#include "../src/drawing/letters.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static void expect_clean(const char *text, size_t size, const char *wanted) {
    char clean[64];
    memset(clean, 'x', sizeof clean);
    letters_clean(text, clean, size);
    assert_string_equal(clean, wanted);
    assert_int_equal(clean[size], 'x'); /* nothing behind what may be written */
}

/* U+0080 to U+009F are controls; the first printable of two bytes is U+00A0, of three U+0800, of
 * four U+10000; the last character of all is U+10FFFF. */
static void characters_of_every_length_stay(void **state) {
    (void)state;
    static const char *const texts[] = {"Sage 4",           "H\xC3\xA4user",       "\xC2\xA0",
                                        "\xE0\xA0\x80",     "\xE2\x98\x80",        "\xEF\xBF\xBD",
                                        "\xF0\x90\x80\x80", "sun \xF0\x9F\x8C\x9E"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        expect_clean(texts[i], 40, texts[i]);
}

static void what_is_no_character_is_shown(void **state) {
    (void)state;
    static const char *const texts[][2] = {
        {"a\tb\x7F", "a?b?"},              /* controls */
        {"\xC2\x85", "?"},                 /* a control of two bytes */
        {"\xC0\xAF", "??"},                /* a slash written too long, in two bytes */
        {"\xE0\x80\xAF", "???"},           /* in three */
        {"\xF0\x80\x80\xAF", "????"},      /* in four */
        {"\xED\xA0\x80", "???"},           /* half of a pair */
        {"\xEF\xBF\xBF", "?"},             /* kept free for ever */
        {"\xF4\x90\x80\x80", "????"},      /* beyond the last */
        {"\xF8\x88\x80\x80\x80", "?????"}, /* no lead of any */
        {"\xE2\x80\xAEoof", "?oof"},       /* turns the order of letters round */
        {"a\x80z", "a?z"},                 /* a tail without a lead */
        {"a\xC3z", "a?z"},                 /* a lead without its tail */
        {"a\xF0\x9F\x8C", "a???"},         /* cut off */
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        expect_clean(texts[i][0], 40, texts[i][1]);
}

static void cut_never_splits_a_character(void **state) {
    (void)state;
    expect_clean("sun\xF0\x9F\x8C\x9E", 7, "sun");
    expect_clean("sun\xF0\x9F\x8C\x9E", 8, "sun\xF0\x9F\x8C\x9E");
    expect_clean("\xC3\xA4\xC3\xA4", 4, "\xC3\xA4");
    expect_clean("sun", 1, "");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(characters_of_every_length_stay),
        cmocka_unit_test(what_is_no_character_is_shown),
        cmocka_unit_test(cut_never_splits_a_character),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
