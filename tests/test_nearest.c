/* The known word that a mistyped one meant. */
#include "nearest.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

/* The nearest of a list that ends with NULL. */
static const char *nearest_of(const char *mistyped, const char *const *known, size_t letters) {
    struct nearest nearest = {0};
    for (size_t i = 0; known[i] != NULL; i++) {
        nearest_offer(&nearest, mistyped, known[i], letters);
    }
    return nearest.word;
}

static const char *const keys[] = {"exposure", "first", "ply_gap", "plies", "width", NULL};

static void one_slip_of_any_kind_is_near(void **state) {
    (void)state;
    const char *const slips[] = {"exposre", "exposurre", "exposire", "exposrue", "Exposure"};
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        assert_string_equal(nearest_of(slips[i], keys, NEAREST_NEVER), "exposure");
    }
    assert_string_equal(nearest_of("ply-gap", keys, NEAREST_NEVER), "ply_gap");
}

/* One in two letters, two in five, three in nine; and never all of a word. */
static void slips_go_by_the_length_of_the_word(void **state) {
    (void)state;
    const char *const known[] = {"at", "sound", "hole_worth", NULL};
    assert_string_equal(nearest_of("ar", known, NEAREST_NEVER), "at");
    assert_null(nearest_of("xy", known, NEAREST_NEVER));
    assert_string_equal(nearest_of("soynf", known, NEAREST_NEVER), "sound");
    assert_null(nearest_of("siynf", known, NEAREST_NEVER));
    assert_string_equal(nearest_of("hile_wirtj", known, NEAREST_NEVER), "hole_worth");
    assert_null(nearest_of("hike_wirtj", known, NEAREST_NEVER));
    assert_null(nearest_of("x", (const char *const[]){"a", NULL}, NEAREST_NEVER));
}

static void word_cut_short_or_drawn_out_needs_its_letters(void **state) {
    (void)state;
    assert_string_equal(nearest_of("exp", keys, 3), "exposure");
    assert_string_equal(nearest_of("exposuresoftheroof", keys, 3), "exposure");
    assert_null(nearest_of("ex", keys, 3));
    assert_string_equal(nearest_of("e", keys, 1), "exposure");
    assert_null(nearest_of("exp", keys, NEAREST_NEVER));
    assert_null(nearest_of("", keys, 1));
}

static void fewest_slips_win_and_the_first_of_equals(void **state) {
    (void)state;
    assert_string_equal(nearest_of("plues", keys, 3), "plies");
    const char *const alike[] = {"tap", "tape", "tale", NULL};
    assert_string_equal(nearest_of("tae", alike, NEAREST_NEVER), "tap");
    const char *const long_one[] = {"a_word_that_is_longer_than_anybody_types_it", NULL};
    assert_null(nearest_of("a_word_that_is_longer_than_anybody_types_ir", long_one, 3));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_slip_of_any_kind_is_near),
        cmocka_unit_test(slips_go_by_the_length_of_the_word),
        cmocka_unit_test(word_cut_short_or_drawn_out_needs_its_letters),
        cmocka_unit_test(fewest_slips_win_and_the_first_of_equals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
