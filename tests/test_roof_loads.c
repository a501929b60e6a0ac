/* Loads as a roof file and its kits give them: units, defaults, and what a kit has to bring. */
#include "edited_roof.h"
#include "folder.h"
#include "lag.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

/* The plain roof with a `loads` group after its last line but one. */
#define LOADS(text)                                                                                \
    {                                                                                              \
        {"place:\n", "loads:\n" text "place:\n"}, {                                                \
            0                                                                                      \
        }                                                                                          \
    }
#define LUMBER                                                                                     \
    "  rafter: {size: 2x6, species: hem-fir, grade: no2, bearing: 24, span: 11', dead: 12}\n"

static struct roof *roof_with(const struct edit *roof, const struct edit *kit) {
    return edited_roof_good(&(struct edited_roof){.root = RUDDLE_ROOT, .roof = roof, .kit = kit});
}

static void roof_without_loads_has_none(void **state) {
    (void)state;
    struct roof *roof = roof_with(NULL, NULL);
    assert_null(roof->loads);
    roof_free(roof);
}

static void what_is_not_said_has_its_default(void **state) {
    (void)state;
    const struct edit edits[] = LOADS("  snow: 25\n");
    struct roof *roof = roof_with(edits, NULL);
    const struct loads *loads = roof->loads;
    assert_non_null(loads);
    assert_near(loads->snow_psf, 25);
    assert_int_equal(loads->wind, WIND_GIVEN_NONE);
    assert_near(loads->uplift_psf, 0);
    assert_false(loads->has_rafter);
    assert_near(loads->sheathing_in, 0.5);
    assert_near(loads->roofing_in, 0.375);
    assert_true(loads->gap);
    assert_int_equal(loads->kit_count, 1);
    const struct kit_loads *kit = &loads->kits[0];
    assert_near(kit->centre_dry_in[1], 66); /* as filled */
    assert_near(kit->strut_section_in3, 0);
    assert_near(kit->side_in, 0.5); /* what the lag goes through */
    assert_near(kit->side_psi, LAG_STEEL_SHEET_PSI);
    assert_near(kit->foot_toe_in, 1);
    assert_near(kit->foot_lag_factor, 0);
    assert_near(kit->allowable_lateral_lb, 0);
    roof_free(roof);
}

static void every_key_is_read(void **state) {
    (void)state;
    const struct edit edits[] =
        LOADS("  snow: 30\n"
              "  wind: {speed: 110, exposure: D, height: 25, coefficient: 1.2}\n" LUMBER
              "  sheathing: 5/8\n  roofing: 3/4\n  gap: no\n");
    const struct edit kit_edits[] = {
        {"half: 1}", "half: 1, toe: 2, lag_factor: 3}"},
        {"span: 50", "span: 50, section: 0.35, stress: 25000"},
        {"lap: 1/2}", "lap: 1/2, allowable: {lateral: 320, uplift: 420}}"},
        {"through: 1/2", "through: 1/2, side: {thickness: 3/16, bearing: 58000}"},
        {"12]}\n", "12], centre_dry: [30, 60, 10]}\n"},
        {0}};
    struct roof *roof = roof_with(edits, kit_edits);
    const struct loads *loads = roof->loads;
    assert_int_equal(loads->wind, WIND_GIVEN_SPEED);
    assert_int_equal(loads->exposure, EXPOSURE_D);
    assert_near(loads->uplift_psf, wind_uplift_psf(110, EXPOSURE_D, 25, 1.2));
    assert_true(loads->has_rafter);
    assert_int_equal(loads->rafter.size, LUMBER_2X6);
    assert_int_equal(loads->rafter.species, SPECIES_HEM_FIR);
    assert_near(loads->rafter.bearing_in, 24);
    assert_near(loads->rafter.span_in, 132);
    assert_near(loads->rafter.dead_psf, 12);
    assert_near(loads->sheathing_in, 0.625);
    assert_near(loads->roofing_in, 0.75);
    assert_false(loads->gap);
    const struct kit_loads *kit = &loads->kits[0];
    assert_near(kit->foot_toe_in, 2);
    assert_near(kit->foot_lag_factor, 3);
    assert_near(kit->strut_section_in3, 0.35);
    assert_near(kit->strut_stress_psi, 25000);
    assert_near(kit->allowable_lateral_lb, 320);
    assert_near(kit->allowable_uplift_lb, 420);
    assert_near(kit->side_in, 0.1875);
    assert_near(kit->side_psi, 58000);
    assert_near(kit->centre_dry_in[0], 30);
    roof_free(roof);
}

/* From a corner on the right x of the dry centre turns as that of the filled one does: 72 - 30. */
static void dry_centre_turns_with_the_corner(void **state) {
    (void)state;
    const struct edit edits[] = {{"corner: left", "corner: right"}, {0}};
    const struct edit kit_edits[] = {{"12]}\n", "12], centre_dry: [30, 60, 10]}\n"}, {0}};
    struct roof *roof = roof_with(edits, kit_edits);
    assert_near(roof->kit_loads[0].centre_dry_in[0], 42);
    roof_free(roof);
}

static const char metric_roof[] =
    "roof: metric\nmeasure: mm\n"
    "plane: {width: 9 m, slope: 5 m, pitch: 5/12}\n"
    "setback: {eave: 300}\n"
    "courses: {first: 150, exposure: 143}\n"
    "rafters: {list: [{at: 600}, {at: 1200}, {at: 1800}, {at: 2400}, {at: 3000}]}\n"
    "place: [{name: A, kit: kit.yaml}]\n"
    "loads: {snow: 1.2, wind: {speed: 50, exposure: C, height: 6, coefficient: 1.5},\n"
    "  rafter: {size: 2x6, species: hem-fir, grade: no2, bearing: 600, span: 3.3 m, dead: 0.6}}\n";
static const char metric_kit[] =
    "kit: metric\nmeasure: mm\n"
    "bracket: {width: 1800, height: 2100, legs: [300, 1500], top: [1750, 1900], bottom: [100, "
    "500],\n"
    "  bottom_bracket: {gap: [25, 38], depth: 50, wrench: 12}, standoff: 100}\n"
    "foot: {reach: 38, slot: 19, half: 25}\n"
    "strut: {half: 22, grip: 32, lag_clear: 38, end: 25, overhang: 150, span: 1270, stock: "
    "[3000],\n"
    "  section: 5735.4, stress: 170}\n"
    "flashing: {width: 230, height: 300, hole_up: 83, block: 25, edge: [0, 25], clear: 6, lap: "
    "12,\n"
    "  allowable: {lateral: 1400, uplift: 1800}}\n"
    "lag: {diameter: 5/16, length: 100, through: 12, side: {bearing: 400}}\n"
    "weight: {dry: 86, fill: 300, centre: [900, 1650, 300]}\n";

/* 1 kPa = 20.885434 psf (1000 N/m2 over 4.4482216 N and 0.3048 m twice), 1 m/s = 1/0.44704 mph,
 * 1 MPa = 145.03774 psi, 1 in3 = 16387.064 mm3, all from the definitions of 1959. */
static void metric_files_count_in_their_own_units(void **state) {
    char path[FOLDER_PATH];
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    folder_write_text(state, path, "kit.yaml", metric_kit);
    folder_write_text(state, path, "roof.yaml", metric_roof);
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    const enum outcome outcome = roof_build(survey, NULL, &roof, &problems);
    problems_print(&problems, stderr);
    assert_int_equal(outcome, OUTCOME_DONE);
    const struct loads *loads = roof->loads;
    assert_near(loads->snow_psf, 1.2 * 20.885434233150127);
    assert_near(loads->uplift_psf, wind_uplift_psf(50 / 0.44704, EXPOSURE_C, 6 / 0.3048, 1.5));
    assert_near(loads->rafter.bearing_in, 600 / 25.4);
    assert_near(loads->rafter.span_in, 3300 / 25.4);
    assert_near(loads->rafter.dead_psf, 0.6 * 20.885434233150127);
    assert_near(loads->kits[0].strut_section_in3, 5735.4 / 16387.064);
    assert_near(loads->kits[0].strut_stress_psi, 170 * 145.03773773020923);
    assert_near(loads->kits[0].side_psi, 400 * 145.03773773020923);
    assert_near(loads->kits[0].allowable_lateral_lb, 1400 / 4.4482216152605);
    assert_near(loads->kits[0].allowable_uplift_lb, 1800 / 4.4482216152605);
    roof_free(roof);
    survey_free(survey);
}

struct kit_case {
    const char *old, *new, *key, *wanted;
};

/* What makes a lag useless, or strength a guess, is refused at the kit's own line. */
static void kits_that_cannot_be_judged_are_refused(void **state) {
    (void)state;
    static const struct kit_case cases[] = {
        {"weight: {dry: 190, fill: 80, centre: [36, 66, 12]}\n", "", "weight", "a weight"},
        {"length: 4", "length: 1", "lag.length", "never reaches the rafter"},
        {"length: 4", "length: 2 1/2", "lag.length", "4 diameters in the rafter"},
        {"length: 4", "length: 14", "lag.length", "longer than the rafter is deep"},
        {"diameter: 5/16", "diameter: 7/16", "lag.diameter", "1/4, 5/16, 3/8 or 1/2"},
    };
    const struct edit edits[] = LOADS(
        "  snow: 25\n"
        "  rafter: {size: 2x4, species: hem-fir, grade: no2, bearing: 24, span: 11', dead: 12}\n");
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct edit kit_edits[] = {{cases[i].old, cases[i].new}, {0}};
        struct problems problems = {0};
        struct roof *roof = NULL;
        assert_int_equal(
            edited_roof_build(
                &(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits, .kit = kit_edits}, &roof,
                &problems),
            OUTCOME_BAD_INPUT);
        assert_int_equal(problems.total, 1);
        assert_string_equal(problems.list[0].key, cases[i].key);
        assert_non_null(strstr(problems.list[0].file, "plain-kit.yaml"));
        if (strstr(problems.list[0].wanted, cases[i].wanted) == NULL)
            fail_msg("%s: %s", cases[i].new, problems.list[0].wanted);
        problems_free(&problems);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(roof_without_loads_has_none),
        cmocka_unit_test(what_is_not_said_has_its_default),
        cmocka_unit_test(every_key_is_read),
        cmocka_unit_test(dry_centre_turns_with_the_corner),
        FOLDER_TEST(metric_files_count_in_their_own_units),
        cmocka_unit_test(kits_that_cannot_be_judged_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
