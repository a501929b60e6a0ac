/* Lumber: species, sizes, sections and adjusted bending values; one rafter by hand. */
#include "beam.h"
#include "figures.h"
#include "lumber.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* Source: NDS Table 12.3.3A, stored page. */
static void gravities(void **state) {
    (void)state;
    static const struct {
        enum species species;
        double gravity;
    } rows[] = {{SPECIES_DOUGLAS_FIR_LARCH, 0.50},
                {SPECIES_SOUTHERN_PINE, 0.55},
                {SPECIES_HEM_FIR, 0.43},
                {SPECIES_SPRUCE_PINE_FIR, 0.42},
                {SPECIES_SPRUCE_PINE_FIR_SOUTH, 0.36},
                {SPECIES_DOUGLAS_FIR_LARCH_NORTH, 0.49},
                {SPECIES_DOUGLAS_FIR_SOUTH, 0.46}};
    assert_int_equal(COUNT(rows), SPECIES_COUNT);
    for (size_t i = 0; i < COUNT(rows); i++) {
        expect_figure("G", "NDS Table 12.3.3A", lumber_gravity(rows[i].species), rows[i].gravity,
                      0);
        assert_true(lumber_gravity(rows[i].species) >= LUMBER_UNKNOWN_GRAVITY);
    }
}

/* Source: NDS Supplement Tables 4A and 4B, stored pages; 850, 850, 775 of the last three species
 * and 1100 of a southern pine 2x4 from memory. */
static void bending_values_of_grade_no2(void **state) {
    (void)state;
    static const struct {
        enum species species;
        double psi[LUMBER_SIZE_COUNT];
    } rows[] = {{SPECIES_DOUGLAS_FIR_LARCH, {900, 900, 900, 900, 900}},
                {SPECIES_HEM_FIR, {850, 850, 850, 850, 850}},
                {SPECIES_SPRUCE_PINE_FIR, {875, 875, 875, 875, 875}},
                {SPECIES_SOUTHERN_PINE, {1100, 1000, 925, 800, 750}},
                {SPECIES_DOUGLAS_FIR_LARCH_NORTH, {850, 850, 850, 850, 850}},
                {SPECIES_DOUGLAS_FIR_SOUTH, {850, 850, 850, 850, 850}},
                {SPECIES_SPRUCE_PINE_FIR_SOUTH, {775, 775, 775, 775, 775}}};
    assert_int_equal(COUNT(rows), SPECIES_COUNT);
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int size = 0; size < LUMBER_SIZE_COUNT; size++)
            expect_figure("Fb", "NDS Supplement",
                          lumber_bending_psi(rows[i].species, (enum lumber_size)size),
                          rows[i].psi[size], 0);
}

/* Source: NDS Supplement Table 4A (stored page), PS 20 Table 3 (stored page; 2x4 from memory). */
static void factors_and_dressed_sizes(void **state) {
    (void)state;
    static const double factor[] = {1.5, 1.3, 1.2, 1.1, 1.0};
    static const double depth[] = {3.5, 5.5, 7.25, 9.25, 11.25};
    for (int size = 0; size < LUMBER_SIZE_COUNT; size++) {
        const enum lumber_size one = (enum lumber_size)size;
        expect_figure("C_F", "Table 4A", lumber_size_factor(SPECIES_HEM_FIR, one), factor[size], 0);
        expect_figure("C_F", "Table 4B", lumber_size_factor(SPECIES_SOUTHERN_PINE, one), 1, 0);
        expect_figure("depth", "PS 20", lumber_depth_in(one), depth[size], 0);
        expect_figure("thickness", "PS 20", lumber_thickness_in(one), 1.5, 0);
    }
    static const double lasting[] = {0.9, 1.0, 1.15, 1.25, 1.6};
    for (int i = 0; i < DURATION_COUNT; i++) {
        expect_figure("C_D", "NDS Table 2.3.2, stored page",
                      lumber_duration_factor((enum duration)i), lasting[i], 0);
        assert_true(lumber_duration_factor((enum duration)i) <= 1.6); /* of connections, 11.3.2 */
    }
    expect_figure("C_r", "NDS 4.3.9, stored page", LUMBER_REPETITIVE, 1.15, 0);
    expect_figure("C_r within", "NDS 4.3.9, stored page", LUMBER_SHARING_IN, 24, 0);
}

/* Derived: b d, b d^2 / 6, b d^3 / 12; two plies double them. */
static void sections(void **state) {
    (void)state;
    static const double rows[][4] = {{5.5, 8.25, 7.5625, 20.796875},
                                     {7.25, 10.875, 13.140625, 47.634766}};
    for (size_t i = 0; i < COUNT(rows); i++)
        for (int plies = 1; plies <= 2; plies++) {
            const struct section section = lumber_section(1.5 * plies, rows[i][0]);
            expect_figure("A", "b d", section.area_in2, plies * rows[i][1], 1e-12);
            expect_figure("S", "b d2/6", section.modulus_in3, plies * rows[i][2], 1e-12);
            expect_figure("I", "b d3/12", section.inertia_in4, plies * rows[i][3], 1e-6);
        }
}

/* Derived: Fb C_F C_D C_r, snow 1.15, repetitive 1.15. */
static void adjusted_bending_values_for_snow(void **state) {
    (void)state;
    static const struct {
        enum species species;
        double two_by_six, two_by_eight;
    } rows[] = {{SPECIES_DOUGLAS_FIR_LARCH, 1547.325, 1428.300},
                {SPECIES_HEM_FIR, 1461.3625, 1348.950},
                {SPECIES_SPRUCE_PINE_FIR, 1504.34375, 1388.625},
                {SPECIES_SOUTHERN_PINE, 1322.500, 1223.3125}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        expect_figure("F'b 2x6", "derived",
                      lumber_adjusted_bending_psi(rows[i].species, LUMBER_2X6, DURATION_SNOW, true),
                      rows[i].two_by_six, 0.01);
        expect_figure("F'b 2x8", "derived",
                      lumber_adjusted_bending_psi(rows[i].species, LUMBER_2X8, DURATION_SNOW, true),
                      rows[i].two_by_eight, 0.01);
    }
    /* 900 x 1.3 x 0.9 alone. */
    expect_figure("F'b", "by hand",
                  lumber_adjusted_bending_psi(SPECIES_DOUGLAS_FIR_LARCH, LUMBER_2X6,
                                              DURATION_PERMANENT, false),
                  1053, 1e-9);
}

/* Derived: 2x6 douglas-fir-larch no2, 11 ft, 37 psf of horizontal projection, snow 1.15:
 * 16 in apart w = 37 x 16 / 12 = 49.333 lb/ft, M = w L^2 / 8 = 8954 in-lb. */
static void one_rafter_by_hand(void **state) {
    (void)state;
    static const struct {
        double apart, point, moment, stress, ratio, reaction;
    } rows[] = {{16, 0, 8954, 1184, 0.765192, 0},
                {24, 0, 13431, 1776, 1.147787, 0},
                {16, 200, 15425.45, 2039.73, 1.318220, 380.424}};
    for (size_t i = 0; i < COUNT(rows); i++) {
        const double supports[] = {0, 132};
        const struct beam_stretch roof = {0, 132, 37.0 / 144 * rows[i].apart};
        const struct beam_point lag = {60, rows[i].point};
        const struct beam beam = {.supports_in = supports,
                                  .support_count = 2,
                                  .points = &lag,
                                  .point_count = 1,
                                  .stretches = &roof,
                                  .stretch_count = 1};
        struct beam_answer answer;
        assert_true(beam_solve(&beam, &answer));
        const double stress =
            answer.sag.value / lumber_section(1.5, lumber_depth_in(LUMBER_2X6)).modulus_in3;
        expect_figure("M", "w L2/8, derived", answer.sag.value, rows[i].moment, 0.5);
        expect_figure("fb", "derived", stress, rows[i].stress, 0.05);
        expect_figure("ratio", "derived",
                      stress / lumber_adjusted_bending_psi(SPECIES_DOUGLAS_FIR_LARCH, LUMBER_2X6,
                                                           DURATION_SNOW, true),
                      rows[i].ratio, 1e-5);
        if (rows[i].point > 0) {
            expect_figure("M", "statics", answer.sag.value, rows[i].moment, 0.005);
            expect_figure("R", "statics", answer.reaction_lb[0], rows[i].reaction, 0.0005);
        }
    }
}

static void words_are_read_back_and_unknown_ones_refused(void **state) {
    (void)state;
    char text[400];
    for (int i = 0; i < SPECIES_COUNT; i++) {
        enum species read = SPECIES_COUNT;
        assert_true(lumber_read_species(lumber_species_word((enum species)i), &read));
        assert_int_equal(read, i);
        assert_non_null(
            strstr(lumber_species_words(text, sizeof text), lumber_species_word((enum species)i)));
    }
    for (int i = 0; i < LUMBER_SIZE_COUNT; i++) {
        enum lumber_size read = LUMBER_SIZE_COUNT;
        assert_true(lumber_read_size(lumber_size_word((enum lumber_size)i), &read));
        assert_int_equal(read, i);
        assert_non_null(
            strstr(lumber_size_words(text, sizeof text), lumber_size_word((enum lumber_size)i)));
    }
    enum species species = SPECIES_HEM_FIR;
    enum lumber_size size = LUMBER_2X8;
    assert_false(lumber_read_species("oak", &species));
    assert_false(lumber_read_size("2x7", &size));
    assert_int_equal(species, SPECIES_HEM_FIR);
    assert_int_equal(size, LUMBER_2X8);
    assert_true(lumber_knows_grade("no2"));
    assert_false(lumber_knows_grade("no3"));
    char small[12];
    assert_int_equal(strlen(lumber_species_words(small, sizeof small)), sizeof small - 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gravities),
        cmocka_unit_test(bending_values_of_grade_no2),
        cmocka_unit_test(factors_and_dressed_sizes),
        cmocka_unit_test(sections),
        cmocka_unit_test(adjusted_bending_values_for_snow),
        cmocka_unit_test(one_rafter_by_hand),
        cmocka_unit_test(words_are_read_back_and_unknown_ones_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
