/* Kits and the places of brackets: corners, wishes, hardware, and the measure of each file. */
#include "edited_roof.h"
#include "length.h"
#include "roof.h"
#include "survey.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static struct roof *roof_with(const struct edit *edits) {
    return edited_roof_good(&(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits});
}

static struct roof *roof_with_one(const char *old, const char *new) {
    const struct edit edits[] = {{old, new}, {0}};
    return roof_with(edits);
}

static struct roof *roof_with_kit(const struct edit *roof_edits, const struct edit *kit_edits) {
    return edited_roof_good(
        &(struct edited_roof){.root = RUDDLE_ROOT, .roof = roof_edits, .kit = kit_edits});
}

/* Legs 10 and 60 from the left of 72: from the right side they stand at 12 and 62. */
static void corner_on_the_right_turns_the_kit_only(void **state) {
    (void)state;
    const struct edit right[] = {{"corner: left", "corner: right"}, {0}};
    const struct edit kit[] = {
        {"legs: [12, 60]", "legs: [10, 30, 60]"}, {"centre: [36,", "centre: [30,"}, {0}};
    struct roof *roof = roof_with_kit(right, kit);
    assert_int_equal(roof->corner, CORNER_RIGHT);
    assert_near(roof_kit(roof, 0)->legs[0], 12);
    assert_near(roof_kit(roof, 0)->legs[1], 42);
    assert_near(roof_kit(roof, 0)->legs[2], 62);
    assert_near(roof_kit(roof, 0)->centre[0], 42);
    assert_near(roof_kit(roof, 0)->centre[1], 66);
    assert_near(roof->rafters[0].at, 16.25);
    assert_near(roof->brackets[0].want_x, 60);
    roof_free(roof);
    roof = roof_with_kit(NULL, kit);
    assert_near(roof_kit(roof, 0)->legs[0], 10);
    assert_near(roof_kit(roof, 0)->centre[0], 30);
    roof_free(roof);
}

/* Clear width 360 - 12 - 12 = 336.  One frame of 72: gaps of 132, X = 12 + 132.  Up the slope
 * between 12 and 178: Y = (190 - 84) / 2 = 53. */
static void one_bracket_without_a_wish_stands_in_the_middle(void **state) {
    (void)state;
    struct roof *roof = roof_with_one(", want: [60, 40]", "");
    assert_near(roof->brackets[0].want_x, 144);
    assert_near(roof->brackets[0].want_y, 53);
    roof_free(roof);
}

/* Two of three have no wish: g = (336 - 144) / 3 = 64, X = 12 + 64 and then + 72 + 64. */
static void brackets_without_a_wish_have_equal_gaps(void **state) {
    (void)state;
    struct roof *roof = roof_with_one(", want: [60, 40]}",
                                      "}\n"
                                      "  - {name: B, kit: plain-kit.yaml, want: [-3 1/2, -1]}\n"
                                      "  - {name: C, kit: plain-kit.yaml}");
    assert_int_equal(roof->kit_count, 1);
    assert_near(roof->brackets[0].want_x, 76);
    assert_near(roof->brackets[1].want_x, -3.5);
    assert_near(roof->brackets[1].want_y, -1);
    assert_near(roof->brackets[2].want_x, 212);
    assert_near(roof->brackets[2].want_y, 53);
    roof_free(roof);
}

static void hardware_of_the_options_goes_before_the_file(void **state) {
    (void)state;
    const struct edit edits[] = {{"want: [60, 40]", "want: [60, 40], top: feet, bottom: strut"},
                                 {"plane:", "tape: 1/8\nplane:"},
                                 {0}};
    struct roof *roof = roof_with(edits);
    assert_int_equal(roof->brackets[0].hardware[ROW_TOP], HARDWARE_FEET);
    assert_int_equal(roof->brackets[0].hardware[ROW_BOTTOM], HARDWARE_STRUT);
    assert_near(roof->tape, 0.125);
    roof_free(roof);
    const enum hardware strut = HARDWARE_STRUT;
    const double tape = 0.25;
    const struct roof_options options = {.hardware = {[ROW_TOP] = &strut}, .tape = &tape};
    roof = edited_roof_good(
        &(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits, .options = &options});
    assert_int_equal(roof->brackets[0].hardware[ROW_TOP], HARDWARE_STRUT);
    assert_int_equal(roof->brackets[0].hardware[ROW_BOTTOM], HARDWARE_STRUT);
    assert_near(roof->tape, 0.25);
    roof_free(roof);
}

/* The rafters of the plain roof as they are written. */
static const char plain_list[] = "    - {at: 16 1/4}\n"
                                 "    - {at: 40 1/8}\n"
                                 "    - {at: 64}\n"
                                 "    - {at: 88}\n"
                                 "    - {at: 112}\n"
                                 "    - {at: 136}\n"
                                 "    - {at: 160}\n"
                                 "    - {at: 184}\n"
                                 "    - {at: 208}\n"
                                 "    - {at: 232}\n"
                                 "    - {at: 256}\n"
                                 "    - {at: 280}\n"
                                 "    - {at: 304}\n"
                                 "    - {at: 328}\n";

/* A bare number counts in millimetres, a fraction in inches; the kit keeps its own measure. */
static void bare_numbers_of_an_mm_roof_are_millimetres(void **state) {
    (void)state;
    const struct edit edits[] = {
        {"measure: in", "measure: mm"},
        {"width: 30'", "width: 9.144 m"},
        {"first: 6,", "first: 152.4,"},
        {plain_list, "    - {at: 254}\n    - {at: 40 1/8}\n"},
        {"eave: 12, ridge: 18, near: 12, far: 12", "eave: 304.8"},
        {"want: [60, 40]", "want: [1524, 40 1/2]"},
        {"at: [200, 120], size: [12, 14]", "at: [5080, 3048], size: [254, 14\"]"},
        {0}};
    struct roof *roof = roof_with(edits);
    assert_int_equal(roof->measure, MEASURE_MM);
    assert_near(roof->width, 360);
    assert_near(roof->courses[0], 6);
    assert_near(roof->rafters[0].at, 10);
    assert_near(roof->rafters[1].at, 40.125);
    assert_near(roof->rafters[0].tolerance, 0.125);
    assert_near(roof->edges[EDGE_EAVE].setback, 12);
    assert_near(roof->vents[0].flange.x0, 195);
    assert_near(roof->vents[0].flange.y0, 113);
    assert_near(roof->brackets[0].want_x, 60);
    assert_near(roof->brackets[0].want_y, 40.5);
    assert_near(roof->tape, 1 / 25.4);
    assert_near(roof->enough, 0.125);
    assert_near(roof->hole_worth, 12);
    assert_near(roof->apart, 12);
    assert_near(roof_kit(roof, 0)->width, 72);
    roof_free(roof);
}

/* 86 kg and 300 L: 189.597545... lb, 79.251615... US gal (1 lb is 0.45359237 kg and 1 US gal
 * 3.785411784 L by definition). */
static void mm_kit_counts_in_kilograms_and_litres(void **state) {
    (void)state;
    struct roof *roof = roof_with(NULL);
    assert_near(roof_kit(roof, 0)->dry_lb, 190);
    assert_near(roof_kit(roof, 0)->fill_gallons, 80);
    assert_near(roof_kit(roof, 0)->filled_lb, 857.2); /* 190 + 80 x 8.34 */
    roof_free(roof);
    struct problems problems = {0};
    struct survey *survey = NULL;
    roof = NULL;
    assert_int_equal(survey_read(RUDDLE_ROOT "/roofs/vent-in-the-way.yaml", &survey, &problems),
                     OUTCOME_DONE);
    assert_int_equal(roof_build(survey, NULL, &roof, &problems), OUTCOME_DONE);
    survey_free(survey); /* the roof shares nothing with it */
    assert_near(roof_kit(roof, 0)->width, 1800 / 25.4);
    assert_near(roof_kit(roof, 0)->dry_lb, 86 / 0.45359237);
    assert_near(roof_kit(roof, 0)->fill_gallons, 300 / 3.785411784);
    assert_near(roof_kit(roof, 0)->filled_lb, 86 / 0.45359237 + 300 / 3.785411784 * 8.34);
    roof_free(roof);
}

static void kit_without_weight_is_a_kit(void **state) {
    (void)state;
    const struct edit kit[] = {{"weight: {dry: 190, fill: 80, centre: [36, 66, 12]}\n", ""},
                               {"through: 1/2", "through: 1/2, edge: 1/2"},
                               {"stock: [120, 240]", "stock: [240, 120], holes: span"},
                               {0}};
    struct roof *roof = roof_with_kit(NULL, kit);
    assert_false(roof_kit(roof, 0)->has_weight);
    assert_near(roof_kit(roof, 0)->lag_edge, 0.5);
    assert_near(roof_kit(roof, 0)->stock[0], 120);
    assert_false(roof_kit(roof, 0)->every_rafter);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(corner_on_the_right_turns_the_kit_only),
        cmocka_unit_test(one_bracket_without_a_wish_stands_in_the_middle),
        cmocka_unit_test(brackets_without_a_wish_have_equal_gaps),
        cmocka_unit_test(hardware_of_the_options_goes_before_the_file),
        cmocka_unit_test(bare_numbers_of_an_mm_roof_are_millimetres),
        cmocka_unit_test(mm_kit_counts_in_kilograms_and_litres),
        cmocka_unit_test(kit_without_weight_is_a_kit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
