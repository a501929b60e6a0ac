/* Letters of UTF-8: what is one, and which may be shown. */
#include "letter.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

struct sample {
    const char *text;
    size_t length; /* 0: no letter */
    uint32_t letter;
    bool shown;
};

/* Forms and limits: RFC 3629, sections 3 and 4.  Which letters have no width or turn the direction:
 * the properties Default_Ignorable_Code_Point and Bidi_Control of Unicode, from memory. */
static const struct sample samples[] = {
    {"a", 1, 'a', true},
    {" ", 1, ' ', true},
    {"\x1B", 1, 0x1B, false},
    {"\x7F", 1, 0x7F, false},
    {"\xC3\xA9", 2, 0xE9, true},
    {"\xC2\x9B", 2, 0x9B, false},           /* a terminal's control in one letter */
    {"\xC2\xAD", 2, 0xAD, false},           /* soft hyphen */
    {"\xD7\x90", 2, 0x5D0, true},           /* a letter that is written from the right */
    {"\xE2\x80\x8B", 3, 0x200B, false},     /* no width */
    {"\xE2\x80\x8D", 3, 0x200D, true},      /* joins letters and emoji */
    {"\xE2\x80\x8F", 3, 0x200F, false},     /* turns the direction */
    {"\xE2\x80\xAE", 3, 0x202E, false},     /* likewise, of all that follows */
    {"\xE2\x81\xA6", 3, 0x2066, false},     /* likewise */
    {"\xE2\x80\xA8", 3, 0x2028, false},     /* ends a line */
    {"\xEF\xBB\xBF", 3, 0xFEFF, false},     /* byte-order mark */
    {"\xEF\xBF\xBD", 3, 0xFFFD, true},      /* what stands for broken bytes */
    {"\xEF\xBF\xBE", 3, 0xFFFE, false},     /* no letter */
    {"\xF0\x9F\x8F\xA0", 4, 0x1F3E0, true}, /* a house */
    {"\xF3\xA0\x81\x81", 4, 0xE0041, false},
    {"\xF4\x8F\xBF\xBF", 4, 0x10FFFF, true},
    {"\x80", 0, 0, false}, /* goes on with nothing */
    {"\xC3", 0, 0, false}, /* cut short */
    {"\xE2\x80", 0, 0, false},
    {"\xC0\xAF", 0, 0, false}, /* a slash, too long */
    {"\xE0\x80\xAF", 0, 0, false},
    {"\xF0\x80\x80\xAF", 0, 0, false},
    {"\xED\xA0\x80", 0, 0, false},     /* half of a pair */
    {"\xF4\x90\x80\x80", 0, 0, false}, /* beyond the last */
    {"\xFF", 0, 0, false},
};

static void letters_are_read_as_written(void **state) {
    (void)state;
    for (size_t i = 0; i < sizeof samples / sizeof *samples; i++) {
        const struct sample *sample = &samples[i];
        uint32_t letter = 0;
        bool shown = true;
        assert_int_equal(letter_read(sample->text, &letter), sample->length);
        assert_int_equal(letter, sample->letter);
        assert_int_equal(letter_step(sample->text, &shown),
                         sample->length > 0 ? sample->length : 1);
        assert_int_equal(shown, sample->shown);
    }
}

/* A walk ends at the NUL, whatever stands before it. */
static void a_walk_ends_at_the_end(void **state) {
    (void)state;
    bool shown = true;
    assert_int_equal(letter_step("", &shown), 0);
    const char *text = "a\xE2\x80";
    size_t steps = 0;
    for (size_t length = letter_step(text, &shown); length > 0;
         length = letter_step(text, &shown)) {
        text += length;
        steps++;
    }
    assert_int_equal(steps, 3);
    assert_int_equal(text[0], '\0');
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_are_read_as_written),
        cmocka_unit_test(a_walk_ends_at_the_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
