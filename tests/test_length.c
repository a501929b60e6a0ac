/* Lengths as a tape shows them: every form that is read, every one that is refused, rounding and
 * printing. */
#include "length.h"

#include <float.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

struct good {
    const char *text;
    enum measure bare;
    double inches;
};

/* Not "difference > tolerance fails": NaN must fail too. */
static void expect_near(const char *what, double found, double wanted, double tolerance) {
    if (!(fabs(found - wanted) <= tolerance)) {
        fail_msg("%s: found %.17g, wanted %.17g", what, found, wanted);
    }
}

static void expect_good(const struct good *good, double tolerance) {
    double inches = -1e9;
    const enum length_fault fault = length_read(good->text, good->bare, &inches);
    if (fault != LENGTH_GOOD) {
        fail_msg("`%s` refused: %s", good->text, length_fault_text(fault));
    }
    expect_near(good->text, inches, good->inches, tolerance);
}

/* Sums of halves, quarters ... are exact in a double, so the tolerance is zero. */
static void forms_of_a_tape_are_read_exactly(void **state) {
    (void)state;
    static const struct good forms[] = {
        {"14 5/8", MEASURE_IN, 14.625},
        {"14-5/8", MEASURE_IN, 14.625},
        {"14   5/8", MEASURE_IN, 14.625},
        {"14 5/8\"", MEASURE_IN, 14.625},
        {"6' 2-1/2\"", MEASURE_IN, 74.5},
        {"6' 2 1/2\"", MEASURE_IN, 74.5},
        {"6'2.5\"", MEASURE_IN, 74.5},
        {"6'2.5", MEASURE_IN, 74.5},
        {"6'-2\"", MEASURE_IN, 74},
        {"6' 1/2\"", MEASURE_IN, 72.5},
        {"6' 14\"", MEASURE_IN, 86},
        {"16' 4\"", MEASURE_IN, 196},
        {"30'", MEASURE_IN, 360},
        {"6.5'", MEASURE_IN, 78},
        {"11/16", MEASURE_IN, 0.6875},
        {"19/16", MEASURE_IN, 1.1875},
        {"0/4", MEASURE_IN, 0},
        {"7\"", MEASURE_IN, 7},
        {"7.25\"", MEASURE_IN, 7.25},
        {"7", MEASURE_IN, 7},
        {"007", MEASURE_IN, 7},
        {"0", MEASURE_IN, 0},
        {"-0", MEASURE_IN, 0},
        {".5", MEASURE_IN, 0.5},
        {"54.1250000000000000000000000000000000000", MEASURE_IN, 54.125},
        {"0.0009765625", MEASURE_IN, 1.0 / 1024},
        {"-3 1/2", MEASURE_IN, -3.5},
        {"-3.5", MEASURE_IN, -3.5},
        {"-6' 2\"", MEASURE_IN, -74},
        {"  14 5/8  ", MEASURE_IN, 14.625},
        {"\t7\t", MEASURE_IN, 7},
        {"120000", MEASURE_IN, 120000},
        {"10000'", MEASURE_IN, 120000},
        {"-10000'", MEASURE_IN, -120000},
        {"14 00000000000000000000005/8", MEASURE_IN, 14.625},
    };
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        expect_good(&forms[i], 0);
    }
}

/* 25.4 mm are one inch (exact since 1959), so 420 mm are 2100/127 in.  Fractions and marked inches
 * stay inches. */
static void metric_forms_are_converted(void **state) {
    (void)state;
    static const struct good forms[] = {
        {"420 mm", MEASURE_IN, 2100.0 / 127},
        {"420mm", MEASURE_IN, 2100.0 / 127},
        {"0.42 m", MEASURE_IN, 2100.0 / 127},
        {"254", MEASURE_MM, 10},
        {"304.8", MEASURE_MM, 12},
        {"25.4 mm", MEASURE_MM, 1},
        {"-12.7", MEASURE_MM, -0.5},
        {"2.54 m", MEASURE_MM, 100},
        {"14 5/8", MEASURE_MM, 14.625},
        {"11/16", MEASURE_MM, 0.6875},
        {"7\"", MEASURE_MM, 7},
        {"6' 2", MEASURE_MM, 74},
        {"3048 m", MEASURE_IN, 120000},
    };
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        expect_good(&forms[i], 0);
    }
}

/* digits / 10^k divided once is the nearest double to the decimal: the compiler's own constant. */
static void decimals_are_the_nearest_double(void **state) {
    (void)state;
    static const struct good forms[] = {
        {"0.1", MEASURE_IN, 0.1},
        {"5.625", MEASURE_IN, 5.625},
        {"54.84375", MEASURE_IN, 54.84375},
        {"119999.9", MEASURE_IN, 119999.9},
        {"3.3333333333", MEASURE_IN, 3.3333333333},
        {"0.30000000000000000", MEASURE_IN, 0.3},
    };
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        expect_good(&forms[i], 0);
    }
    /* More digits than a double holds: as near as two roundings come. */
    expect_good(
        &(struct good){"54.123456789012345678901234567890", MEASURE_IN, 54.12345678901234568},
        2 * 54 * DBL_EPSILON);
    expect_good(&(struct good){"0.000000000000000000000000000000001", MEASURE_IN, 0}, 1e-22);
}

struct bad {
    const char *text;
    enum length_fault fault;
};

static void expect_bad(const struct bad *bad, enum length_fault found, double untouched) {
    if (found != bad->fault) {
        fail_msg("`%s`: found \"%s\", wanted \"%s\"", bad->text, length_fault_text(found),
                 length_fault_text(bad->fault));
    }
    if (untouched != 42) {
        fail_msg("`%s` was refused but wrote a result", bad->text);
    }
}

static void what_is_no_length_is_refused_and_writes_nothing(void **state) {
    (void)state;
    static const struct bad texts[] = {
        {"", LENGTH_EMPTY},
        {"   ", LENGTH_EMPTY},
        {NULL, LENGTH_EMPTY},
        {"-", LENGTH_MALFORMED},
        {"- 3", LENGTH_MALFORMED},
        {"--3", LENGTH_MALFORMED},
        {"+3", LENGTH_MALFORMED},
        {"nan", LENGTH_MALFORMED},
        {"inf", LENGTH_MALFORMED},
        {"-inf", LENGTH_MALFORMED},
        {".inf", LENGTH_MALFORMED},
        {"0x10", LENGTH_MALFORMED},
        {"1e3", LENGTH_MALFORMED},
        {"1_000", LENGTH_MALFORMED},
        {"12abc", LENGTH_MALFORMED},
        {"16in", LENGTH_MALFORMED},
        {"7 ft", LENGTH_MALFORMED},
        {"14 inches or so", LENGTH_MALFORMED},
        {"1.2.3", LENGTH_MALFORMED},
        {"5.", LENGTH_MALFORMED},
        {".", LENGTH_MALFORMED},
        {"mm", LENGTH_MALFORMED},
        {"\"", LENGTH_MALFORMED},
        {"'", LENGTH_MALFORMED},
        {"' 4\"", LENGTH_MALFORMED},
        {"6''", LENGTH_MALFORMED},
        {"6' 2\"\"", LENGTH_MALFORMED},
        {"6' 2' 1\"", LENGTH_MALFORMED},
        {"6' -2\"", LENGTH_MALFORMED},
        {"6.5' 2\"", LENGTH_MALFORMED},
        {"6' 420 mm", LENGTH_MALFORMED},
        {"14 5", LENGTH_MALFORMED},
        {"14 -5/8", LENGTH_MALFORMED},
        {"14- 5/8", LENGTH_MALFORMED},
        {"14--5/8", LENGTH_MALFORMED},
        {"14.5 1/2", LENGTH_MALFORMED},
        {"14 5.5/8", LENGTH_MALFORMED},
        {"5/", LENGTH_MALFORMED},
        {"/8", LENGTH_MALFORMED},
        {"5/-8", LENGTH_MALFORMED},
        {"5/8/2", LENGTH_MALFORMED},
        {"5 / 8", LENGTH_MALFORMED},
        {"14 5/8 mm", LENGTH_MALFORMED},
        {"7\" mm", LENGTH_MALFORMED},
        {"420 m m", LENGTH_MALFORMED},
        {"420 mmm", LENGTH_MALFORMED},
        {"\xD9\xA3", LENGTH_MALFORMED}, /* an Arabic-Indic 3 */
        {"6\xE2\x80\xB2", LENGTH_MALFORMED},
        {"1/99999999999999999999", LENGTH_MALFORMED},
        {"1,5", LENGTH_COMMA},
        {"14,625\"", LENGTH_COMMA},
        {"-1,5 mm", LENGTH_COMMA},
        {"1,000", LENGTH_COMMA},
        {"6' 2,5\"", LENGTH_COMMA},
        {",5", LENGTH_MALFORMED},
        {"4/0", LENGTH_DENOMINATOR},
        {"14 4/0", LENGTH_DENOMINATOR},
        {"6' 4/00\"", LENGTH_DENOMINATOR},
        {"120000.001", LENGTH_TOO_FAR},
        {"-120000.001", LENGTH_TOO_FAR},
        {"10000' 1/16\"", LENGTH_TOO_FAR},
        {"10001'", LENGTH_TOO_FAR},
        {"3048.1 m", LENGTH_TOO_FAR},
        {"99999999999999999999999999999999999999999999999999", LENGTH_TOO_FAR},
        {"18446744073709551617", LENGTH_TOO_FAR},
        {"99999999999999999999999999'", LENGTH_TOO_FAR},
        {"99999999999999999999999999 mm", LENGTH_TOO_FAR},
        {"99999999999999999999999999/16", LENGTH_TOO_FAR},
        {"99999999999999999999999999 5/8", LENGTH_TOO_FAR},
        {"120001 5/8", LENGTH_TOO_FAR},
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        double inches = 42;
        expect_bad(&texts[i], length_read(texts[i].text, MEASURE_IN, &inches), inches);
    }
}

static void plain_numbers_take_no_unit(void **state) {
    (void)state;
    double number = 0;
    assert_int_equal(length_read_number("190", &number), LENGTH_GOOD);
    expect_near("190", number, 190, 0);
    assert_int_equal(length_read_number(" 0.5 ", &number), LENGTH_GOOD);
    expect_near("0.5", number, 0.5, 0);
    assert_int_equal(length_read_number("-2", &number), LENGTH_GOOD);
    expect_near("-2", number, -2, 0);
    static const struct bad texts[] = {
        {"", LENGTH_EMPTY},           {"1/2", LENGTH_MALFORMED},
        {"190 lb", LENGTH_MALFORMED}, {"1e2", LENGTH_MALFORMED},
        {"nan", LENGTH_MALFORMED},    {"7\"", LENGTH_MALFORMED},
        {"1,5", LENGTH_COMMA},        {"no", LENGTH_MALFORMED},
        {"0x1p3", LENGTH_MALFORMED},  {"9999999999999999999999999", LENGTH_TOO_FAR},
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        double untouched = 42;
        expect_bad(&texts[i], length_read_number(texts[i].text, &untouched), untouched);
    }
}

/* tan of the pitch is rise over run; 26.57 deg is the usual name of 6/12. */
static void pitches_are_read_in_three_forms(void **state) {
    (void)state;
    const double degree = acos(-1.0) / 180;
    double pitch = 0;
    assert_int_equal(length_read_pitch("6/12", &pitch), LENGTH_GOOD);
    expect_near("6/12", tan(pitch), 0.5, 1e-15);
    assert_int_equal(length_read_pitch("4.5/12", &pitch), LENGTH_GOOD);
    expect_near("4.5/12", tan(pitch), 0.375, 1e-15);
    assert_int_equal(length_read_pitch("26.57 deg", &pitch), LENGTH_GOOD);
    expect_near("26.57 deg", pitch, 26.57 * degree, 1e-15);
    assert_int_equal(length_read_pitch(" 45 ", &pitch), LENGTH_GOOD);
    expect_near("45", pitch, 45 * degree, 1e-15);
    assert_int_equal(length_read_pitch("79.99", &pitch), LENGTH_GOOD);
}

static void pitches_out_of_range_or_form_are_refused(void **state) {
    (void)state;
    static const struct bad texts[] = {
        {"", LENGTH_EMPTY},
        {"steep", LENGTH_MALFORMED},
        {"6/12 deg", LENGTH_MALFORMED},
        {"6/12/2", LENGTH_MALFORMED},
        {"6 in 12", LENGTH_MALFORMED},
        {"30 degrees", LENGTH_MALFORMED},
        {"30'", LENGTH_MALFORMED},
        {"6 5/12", LENGTH_MALFORMED},
        {"nan", LENGTH_MALFORMED},
        {"26,57", LENGTH_COMMA},
        {"6/0", LENGTH_DENOMINATOR},
        {"0/0", LENGTH_DENOMINATOR},
        {"6/", LENGTH_MALFORMED},
        {"6/x", LENGTH_MALFORMED},
        {"0", LENGTH_TOO_FAR},
        {"0/12", LENGTH_TOO_FAR},
        {"80", LENGTH_TOO_FAR},
        {"80 deg", LENGTH_TOO_FAR},
        {"-6/12", LENGTH_TOO_FAR},
        {"-10", LENGTH_TOO_FAR},
        {"1000/12", LENGTH_TOO_FAR},
        {"99999999999999999999999999", LENGTH_TOO_FAR},
        {"99999999999999999999999999/1", LENGTH_TOO_FAR},
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        double pitch = 42;
        expect_bad(&texts[i], length_read_pitch(texts[i].text, &pitch), pitch);
    }
}

static void every_fault_has_words_of_its_own(void **state) {
    (void)state;
    for (int i = 0; i < LENGTH_FAULT_COUNT; i++) {
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(length_fault_text((enum length_fault)i),
                                    length_fault_text((enum length_fault)j));
        }
        assert_true(strlen(length_fault_text((enum length_fault)i)) > 3);
    }
    assert_non_null(length_fault_text(LENGTH_FAULT_COUNT));
}

static void rules_hold_down_to_the_tolerance(void **state) {
    (void)state;
    assert_true(length_holds(0));
    assert_true(length_holds(-0.9e-6));
    assert_true(length_holds(-LENGTH_TOLERANCE));
    assert_false(length_holds(-1.1e-6));
    assert_false(length_holds(-0.0625));
    assert_false(length_holds(NAN));
    assert_false(length_holds(-INFINITY));
    assert_true(length_holds(INFINITY));
}

static void half_a_tick_rounds_to_even(void **state) {
    (void)state;
    const double tick = 1.0 / 16;
    expect_near("half below 1", length_to_tape(0.5 / 16, tick), 0, 0);
    expect_near("half above 1", length_to_tape(1.5 / 16, tick), 2.0 / 16, 0);
    expect_near("half above 2", length_to_tape(2.5 / 16, tick), 2.0 / 16, 0);
    expect_near("negative half", length_to_tape(-0.5 / 16, tick), 0, 0);
    expect_near("negative", length_to_tape(-1.5 / 16, tick), -2.0 / 16, 0);
    expect_near("just over", length_to_tape(0.51 / 16, tick), 1.0 / 16, 0);
    expect_near("whole", length_to_tape(54.84375, tick), 54.875, 0);
    /* 8.5 mm, 9.5 mm ... on a tape of millimetres, both kept in inches. */
    for (int half = 1; half < 400; half += 2) {
        const int even = (half / 2) % 2 == 0 ? half / 2 : half / 2 + 1;
        expect_near("half mm", length_to_tape(half / 2.0 / 25.4, 1 / 25.4) * 25.4, even, 1e-9);
    }
}

struct print {
    double inches, tick;
    enum measure measure;
    const char *text, *reading;
};

static void lengths_are_printed_as_a_tape_is_read(void **state) {
    (void)state;
    static const struct print prints[] = {
        {64, 1.0 / 16, MEASURE_IN, "64", "5' 4\" (64)"},
        {64.625, 1.0 / 16, MEASURE_IN, "64 5/8", "5' 4 5/8\" (64 5/8)"},
        {64.6875, 1.0 / 16, MEASURE_IN, "64 11/16", "5' 4 11/16\" (64 11/16)"},
        {9.5, 1.0 / 16, MEASURE_IN, "9 1/2", "9 1/2\""},
        {0, 1.0 / 16, MEASURE_IN, "0", "0\""},
        {-0.001, 1.0 / 16, MEASURE_IN, "0", "0\""},
        {0.0625, 1.0 / 16, MEASURE_IN, "1/16", "1/16\""},
        {-0.5, 1.0 / 16, MEASURE_IN, "-1/2", "-1/2\""},
        {-3.5, 1.0 / 16, MEASURE_IN, "-3 1/2", "-3 1/2\""},
        {-74.5, 1.0 / 16, MEASURE_IN, "-74 1/2", "-6' 2 1/2\" (-74 1/2)"},
        {12, 1.0 / 16, MEASURE_IN, "12", "1' 0\" (12)"},
        {60.625, 1.0 / 16, MEASURE_IN, "60 5/8", "5' 0 5/8\" (60 5/8)"},
        {11.99, 1.0 / 16, MEASURE_IN, "12", "1' 0\" (12)"},
        {64.6875, 1.0 / 8, MEASURE_IN, "64 3/4", "5' 4 3/4\" (64 3/4)"},
        {64.6, 1, MEASURE_IN, "65", "5' 5\" (65)"},
        {119999.9375, 1.0 / 16, MEASURE_IN, "119999 15/16", "9999' 11 15/16\" (119999 15/16)"},
        {64.34, 0.1, MEASURE_IN, "64.3", "5' 4.3\" (64.3)"},
        {64.02, 0.1, MEASURE_IN, "64", "5' 4\" (64)"},
        {-0.26, 0.1, MEASURE_IN, "-0.3", "-0.3\""},
        {64.027, 0.05, MEASURE_IN, "64.05", "5' 4.05\" (64.05)"},
        {1626 / 25.4, 1 / 25.4, MEASURE_MM, "1626", "1626 mm"},
        {1626.4 / 25.4, 1 / 25.4, MEASURE_MM, "1626", "1626 mm"},
        {-100 / 25.4, 1 / 25.4, MEASURE_MM, "-100", "-100 mm"},
        {1627 / 25.4, 5 / 25.4, MEASURE_MM, "1625", "1625 mm"},
        {1626.5 / 25.4, 0.5 / 25.4, MEASURE_MM, "1626.5", "1626.5 mm"},
        {0, 1 / 25.4, MEASURE_MM, "0", "0 mm"},
        {NAN, 1.0 / 16, MEASURE_IN, "?", "?"},
        {INFINITY, 1 / 25.4, MEASURE_MM, "?", "?"},
    };
    for (size_t i = 0; i < sizeof prints / sizeof prints[0]; i++) {
        char buffer[LENGTH_TEXT];
        const struct print *print = &prints[i];
        assert_string_equal(length_text(buffer, print->inches, print->tick, print->measure),
                            print->text);
        assert_string_equal(length_reading(buffer, print->inches, print->tick, print->measure),
                            print->reading);
    }
}

/* What a sheet prints, a file can hold: every sixteenth up to 20 ft comes back exactly. */
static void printed_lengths_read_back_exactly(void **state) {
    (void)state;
    for (int ticks = -320; ticks <= 3840; ticks++) {
        char buffer[LENGTH_TEXT];
        double inches = 0;
        length_text(buffer, ticks / 16.0, 1.0 / 16, MEASURE_IN);
        assert_int_equal(length_read(buffer, MEASURE_IN, &inches), LENGTH_GOOD);
        expect_near(buffer, inches, ticks / 16.0, 0);
        length_reading(buffer, ticks / 16.0, 1.0 / 16, MEASURE_IN);
        char *bracket = strchr(buffer, '(');
        if (bracket != NULL) {
            bracket[-1] = '\0';
        }
        assert_int_equal(length_read(buffer, MEASURE_MM, &inches), LENGTH_GOOD);
        expect_near(buffer, inches, ticks / 16.0, 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(forms_of_a_tape_are_read_exactly),
        cmocka_unit_test(metric_forms_are_converted),
        cmocka_unit_test(decimals_are_the_nearest_double),
        cmocka_unit_test(what_is_no_length_is_refused_and_writes_nothing),
        cmocka_unit_test(plain_numbers_take_no_unit),
        cmocka_unit_test(pitches_are_read_in_three_forms),
        cmocka_unit_test(pitches_out_of_range_or_form_are_refused),
        cmocka_unit_test(every_fault_has_words_of_its_own),
        cmocka_unit_test(rules_hold_down_to_the_tolerance),
        cmocka_unit_test(half_a_tick_rounds_to_even),
        cmocka_unit_test(lengths_are_printed_as_a_tape_is_read),
        cmocka_unit_test(printed_lengths_read_back_exactly),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
