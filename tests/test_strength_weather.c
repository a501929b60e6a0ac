/* Wind pressure and sloped snow. */
#include "figures.h"
#include "snow.h"
#include "wind.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const double heights_ft[] = {15, 20, 25, 30};

/* Source: ASCE 7-16 Table 26.10-1 (cells, stored page) and Table 26.11-1 (constants, stored page);
 * values of the formula derived.  The cells are those of the formula within half a step but at
 * 25 ft, where the table stands up to 0.006 below it (0.66503, 0.94526, 1.12594). */
static void kz_of_the_2016_edition(void **state) {
    (void)state;
    static const double cells[EXPOSURE_COUNT][4] = {
        {0.57, 0.62, 0.66, 0.70}, {0.85, 0.90, 0.94, 0.98}, {1.03, 1.08, 1.12, 1.16}};
    static const double fine[EXPOSURE_COUNT][4] = {{0.5747, 0.6240, 0.6650, 0.7006},
                                                   {0.8489, 0.9019, 0.9453, 0.9823},
                                                   {1.0302, 1.0831, 1.1259, 1.1622}};
    for (int e = 0; e < EXPOSURE_COUNT; e++)
        for (size_t h = 0; h < COUNT(heights_ft); h++) {
            const double kz = wind_kz(WIND_7_16, (enum exposure)e, heights_ft[h]);
            expect_figure("Kz cell", "ASCE 7-16 Table 26.10-1, stored page", kz, cells[e][h],
                          heights_ft[h] == 25 ? 0.006 : 0.005);
            expect_figure("Kz", "Table 26.11-1, derived", kz, fine[e][h], 1e-4);
        }
    expect_figure("below 15 ft", "as at 15 ft", wind_kz(WIND_7_16, EXPOSURE_C, 3),
                  wind_kz(WIND_7_16, EXPOSURE_C, 15), 0);
}

/* Source: constants of ASCE 7-22 Table 26.11-1, stored page; values derived. */
static void kz_of_the_2022_edition(void **state) {
    (void)state;
    static const double b[] = {0.5729, 0.6186, 0.6565, 0.6892};
    static const double c[] = {0.8512, 0.9026, 0.9447, 0.9805};
    for (size_t h = 0; h < COUNT(heights_ft); h++) {
        expect_figure("Kz B", "ASCE 7-22, derived", wind_kz(WIND_7_22, EXPOSURE_B, heights_ft[h]),
                      b[h], 1e-4);
        expect_figure("Kz C", "ASCE 7-22, derived", wind_kz(WIND_7_22, EXPOSURE_C, heights_ft[h]),
                      c[h], 1e-4);
    }
}

/* Source: ASCE 7 Table 26.9-1, note, stored page. */
static void ke_falls_with_elevation(void **state) {
    (void)state;
    expect_figure("Ke 0 ft", "Table 26.9-1", wind_ke(0), 1, 0);
    expect_figure("Ke 1000 ft", "Table 26.9-1", wind_ke(1000), 0.9644, 1e-4);
    expect_figure("Ke 5000 ft", "Table 26.9-1", wind_ke(5000), 0.8344, 1e-4);
}

/* Source: a public design note, stored page: Exposure B, 25.599 ft, 115 mph. */
static void worked_velocity_pressure(void **state) {
    (void)state;
    const double kz = wind_kz(WIND_7_16, EXPOSURE_B, 25.599);
    expect_figure("Kz", "design note, stored page", kz, 0.669544, 1e-4);
    const struct wind_factors factors = {.kz = kz, .kzt = 1, .kd = 0.85, .ke = 1};
    expect_figure("qh", "design note, stored page", wind_pressure_psf(&factors, 115), 19.2679,
                  0.005);
}

/* Derived: 115 mph, C, 18 ft, coefficient 1.5. */
static void pressure_as_a_roof_file_asks(void **state) {
    (void)state;
    expect_figure("Kz", "derived", wind_kz(WIND_7_16, EXPOSURE_C, 18), 0.88210, 1e-4);
    expect_figure("qh", "derived", wind_uplift_psf(115, EXPOSURE_C, 18, 1), 25.3847, 1e-4);
    expect_figure("p", "derived", wind_uplift_psf(115, EXPOSURE_C, 18, 1.5), 38.0771, 1e-4);
    expect_figure("0.6 p", "derived", 0.6 * wind_uplift_psf(115, EXPOSURE_C, 18, 1.5), 22.8463,
                  1e-4);
    /* The table, read between its lines (0.85 + 0.6 x 0.05 = 0.88), gives 25.3243. */
    const struct wind_factors table = {.kz = 0.880, .kzt = 1, .kd = WIND_DIRECTIONALITY, .ke = 1};
    expect_figure("qh by the table", "derived", wind_pressure_psf(&table, 115), 25.3243, 1e-4);
}

/* Source: ASCE 7-16 29.4.1, stored page; the numbers derived. */
static void equipment_on_roofs(void **state) {
    (void)state;
    expect_figure("to 0.1", "29.4.1", wind_equipment_factor(WIND_EQUIPMENT_SIDEWAYS, 0.1), 1.9, 0);
    expect_figure("0.55 Bh", "29.4.1", wind_equipment_factor(WIND_EQUIPMENT_SIDEWAYS, 0.55), 1.45,
                  1e-12);
    expect_figure("0.55 BL", "29.4.1", wind_equipment_factor(WIND_EQUIPMENT_UPWARD, 0.55), 1.25,
                  1e-12);
    expect_figure("all", "29.4.1", wind_equipment_factor(WIND_EQUIPMENT_UPWARD, 1), 1, 0);
    /* C, 20 ft, 115 mph, with the table's Kz 0.90; 8 ft2 of side, 12 ft2 of roof. */
    const struct wind_factors table = {.kz = 0.90, .kzt = 1, .kd = 0.85, .ke = 1};
    const double qh = wind_pressure_psf(&table, 115);
    expect_figure("qh", "29.4.1 example", qh, 25.900, 0.005);
    const double sideways = qh * wind_equipment_factor(WIND_EQUIPMENT_SIDEWAYS, 0) * 8;
    const double upward = qh * wind_equipment_factor(WIND_EQUIPMENT_UPWARD, 0) * 12;
    expect_figure("Fh", "29.4.1, derived", sideways, 393.68, 0.005);
    expect_figure("Fv", "29.4.1, derived", upward, 466.20, 0.005);
    expect_figure("0.6 Fh", "29.4.1, derived", 0.6 * sideways, 236.21, 0.005);
    expect_figure("0.6 Fv", "29.4.1, derived", 0.6 * upward, 279.72, 0.005);
}

static double degrees_of(double rise) {
    return atan2(rise, 12) * 180 / acos(-1);
}

/* Source: ASCE 7-16 Figure 7.4-1 (stored page); values derived. */
static void slope_factor_of_shingles(void **state) {
    (void)state;
    static const double thermal[] = {1.0, 1.1, 1.2};
    static const struct {
        double rise, wanted[3];
    } rows[] = {{4, {1, 1, 1}},
                {5, {1, 1, 1}},
                {6, {1, 1, 1}},
                {8, {0.9077, 1, 1}},
                {10, {0.7549, 0.9291, 1}},
                {12, {0.6250, 0.7692, 1}},
                {16, {0.4217, 0.5191, 0.6748}}};
    for (size_t r = 0; r < COUNT(rows); r++)
        for (size_t t = 0; t < COUNT(thermal); t++)
            expect_figure("Cs", "ASCE 7-16 Fig. 7.4-1, derived",
                          snow_slope_factor(degrees_of(rows[r].rise), thermal[t], false),
                          rows[r].wanted[t], 1e-4);
    /* Slippery: 1 to 5, 10, 15 degrees. */
    expect_figure("Cs", "Fig. 7.4-1", snow_slope_factor(5, 1.0, true), 1, 0);
    expect_figure("Cs", "Fig. 7.4-1", snow_slope_factor(37.5, 1.0, true), 0.5, 1e-12);
    expect_figure("Cs", "Fig. 7.4-1", snow_slope_factor(40, 1.1, true), 0.5, 1e-12);
    expect_figure("Cs", "Fig. 7.4-1", snow_slope_factor(42.5, 1.2, true), 0.5, 1e-12);
    expect_figure("steep", "Fig. 7.4-1", snow_slope_factor(75, 1.0, false), 0, 0);
}

/* Source: a plan note and a test, stored pages; sloped one derived. */
static void worked_snow(void **state) {
    (void)state;
    const struct snow_factors heated = {1, 1, 1}, cold = {1, 1.1, 1};
    expect_figure("pf", "plan note, stored page", snow_flat_psf(&cold, 36), 27.72, 0.005);
    expect_figure("pf", "test, stored page", snow_flat_psf(&heated, 30), 21.0, 0.005);
    expect_figure("pf", "derived", snow_flat_psf(&cold, 50), 38.5, 1e-4);
    expect_figure("ps", "derived", snow_sloped_psf(&cold, 50, 45, false), 29.6154, 1e-4);
    /* Importance 0.8, 1.0, 1.1, 1.2 and exposure 0.9 are plain factors (7.3). */
    const struct snow_factors both = {0.9, 1, 1.1};
    expect_figure("pf", "by hand", snow_flat_psf(&both, 40), 0.7 * 0.9 * 1.1 * 40, 1e-12);
}

static void exposures_are_read_back(void **state) {
    (void)state;
    for (int i = 0; i < EXPOSURE_COUNT; i++) {
        enum exposure read = EXPOSURE_COUNT;
        assert_true(wind_read_exposure(wind_exposure_word((enum exposure)i), &read));
        assert_int_equal(read, i);
    }
    enum exposure kept = EXPOSURE_C;
    assert_false(wind_read_exposure("A", &kept));
    assert_int_equal(kept, EXPOSURE_C);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kz_of_the_2016_edition),       cmocka_unit_test(kz_of_the_2022_edition),
        cmocka_unit_test(ke_falls_with_elevation),      cmocka_unit_test(worked_velocity_pressure),
        cmocka_unit_test(pressure_as_a_roof_file_asks), cmocka_unit_test(equipment_on_roofs),
        cmocka_unit_test(slope_factor_of_shingles),     cmocka_unit_test(worked_snow),
        cmocka_unit_test(exposures_are_read_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
