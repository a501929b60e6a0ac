/* docs/strength.md works one frame by hand; every figure in its tables is what the library finds,
 * to the last digit printed there.  The page's figures come from a calculation apart from it. */
#include "figures.h"
#include "judged.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { FIGURES_MOST = 80, COLUMNS_MOST = 5 };

struct page_row {
    char key[40];
    double values[COLUMNS_MOST];
    size_t count;
    bool seen;
};

struct page {
    struct page_row rows[FIGURES_MOST];
    size_t count;
};

static struct page_row *row_of(struct page *page, const char *key) {
    for (size_t i = 0; i < page->count; i++)
        if (strcmp(page->rows[i].key, key) == 0)
            return &page->rows[i];
    assert_true(page->count < FIGURES_MOST);
    struct page_row *row = &page->rows[page->count++];
    (void)snprintf(row->key, sizeof row->key, "%s", key);
    return row;
}

/* Adds the next column of a row. */
static void put(struct page *page, const char *key, double value) {
    struct page_row *row = row_of(page, key);
    assert_true(row->count < COLUMNS_MOST);
    row->values[row->count++] = value;
}

static void put_loads(struct page *page, const struct judged *judged) {
    const struct kit *kit = &judged->roof->kits[0];
    const struct standing *frame = &judged->marks->brackets[0];
    const struct row_seat *rows = judged->verdict->rows[0];
    const double pitch = judged->roof->pitch_rad;
    const struct load snow = loads_snow(kit, 25, pitch);
    put(page, "water_lb", kit->fill_gallons * ROOF_WATER_LB_PER_GALLON);
    put(page, "filled_lb", kit->filled_lb);
    put(page, "v_top_in", rows[ROW_TOP].y - frame->y);
    put(page, "v_bottom_in", rows[ROW_BOTTOM].y - frame->y);
    put(page, "snow_lb", hypot(snow.normal_lb, snow.down_lb));
    put(page, "kz", wind_kz(WIND_7_16, EXPOSURE_C, 18));
    put(page, "q_psf", wind_uplift_psf(115, EXPOSURE_C, 18, 1));
    put(page, "uplift_psf", judged->loads.uplift_psf);
    put(page, "wind_lb", -loads_wind(kit, judged->loads.uplift_psf).normal_lb);
}

static void put_frame(struct page *page, const struct judged *judged,
                      enum combination combination) {
    const struct combination_factors *by = loads_combination(combination);
    const struct kit *kit = &judged->roof->kits[0];
    const double *centre = by->filled ? kit->centre : judged->kit_loads.centre_dry_in;
    const struct row_seat *rows = judged->verdict->rows[0];
    const double y = judged->marks->brackets[0].y;
    const double v[ROW_COUNT] = {rows[ROW_TOP].y - y, rows[ROW_BOTTOM].y - y};
    const struct frame_loads frame = {.dead_lb = by->filled ? kit->filled_lb : kit->dry_lb,
                                      .dead_centre_in = {centre[0], centre[1], centre[2]},
                                      .snow_psf = judged->loads.snow_psf,
                                      .wind_psf = judged->loads.uplift_psf,
                                      .pitch_rad = judged->roof->pitch_rad};
    struct leg_force legs[ROW_COUNT][ROOF_LEGS_MOST], lags[3];
    struct beam_answer beam;
    loads_on_legs(kit, v, &frame, by, legs);
    put(page, "top_leg_1_lb", legs[ROW_TOP][0].normal_lb);
    put(page, "top_leg_2_lb", legs[ROW_TOP][1].normal_lb);
    put(page, "bottom_leg_1_lb", legs[ROW_BOTTOM][0].normal_lb);
    put(page, "bottom_leg_2_lb", legs[ROW_BOTTOM][1].normal_lb);
    put(page, "down_lb", legs[ROW_BOTTOM][1].down_lb);
    const double at[] = {64, 88, 112};
    expect_figure("clamp", "plain marks, by hand", rows[ROW_TOP].clamps[0], 61.25, 0);
    expect_figure("clamp", "plain marks, by hand", rows[ROW_TOP].clamps[1], 109.25, 0);
    const struct strut_line strut = {at, 3, rows[ROW_TOP].clamps, 2};
    assert_true(loads_through_strut(&strut, legs[ROW_TOP], lags, &beam));
    put(page, "strut_lag_1_lb", lags[0].normal_lb);
    put(page, "strut_lag_2_lb", lags[1].normal_lb);
    put(page, "strut_lag_3_lb", lags[2].normal_lb);
    put(page, "strut_moment_inlb", beam_greatest_inlb(&beam));
}

static void put_lag(struct page *page, const struct judged *judged) {
    struct strength_lag lag;
    assert_int_equal(
        strength_lag_find(&judged->roof->kits[0], &judged->kit_loads, &judged->loads, &lag),
        LAG_GOOD);
    const double root = lag.screw.root_in;
    put(page, "embedment_in", lag.seat.embedment_in);
    put(page, "thread_in", lag.seat.thread_in);
    put(page, "bearing_in", lag.seat.bearing_in);
    put(page, "withdrawal_lb_per_in", lag_withdrawal_lb_per_in(lag.gravity, 0.3125));
    put(page, "withdrawal_lb", lag.withdrawal_lb);
    put(page, "q_rafter_lb_per_in", lag_bearing_along_psi(lag.gravity) * root);
    put(page, "q_side_lb_per_in", judged->kit_loads.side_psi * root);
    put(page, "screw_moment_inlb", lag.screw.yield_psi * root * root * root / 6);
    put(page, "reduction", lag_reduction(LAG_MODE_IV, root, 0));
    for (int mode = 0; mode < LAG_MODE_COUNT; mode++) {
        char key[40];
        (void)snprintf(key, sizeof key, "mode_%s", lag_mode_word((enum lag_mode)mode));
        put(page, key, lag.yield.mode_lb[mode]);
    }
    put(page, "lateral_lb", lag.lateral_lb);
}

static void put_items(struct page *page, const struct judged *judged) {
    for (int mark = 0; mark < 5; mark++) {
        const struct strength_item *lag = judged_item(judged, STRENGTH_LAG, mark);
        assert_non_null(lag);
        assert_int_equal(lag->combination, COMBINATION_SNOW);
        put(page, "pull_lb", lag->pull_lb);
        put(page, "shear_lb", lag->shear_lb);
        put(page, "demand_lb", lag->demand);
        put(page, "capacity_lb", lag->capacity);
        put(page, "ratio", lag->ratio);
    }
    const struct strength_item *strut = judged_item(judged, STRENGTH_STRUT, ROW_TOP);
    const struct strength_item *rafter = judged_item(judged, STRENGTH_RAFTER, 2); /* at 64 */
    assert_non_null(strut);
    assert_non_null(rafter);
    assert_int_equal(strut->combination, COMBINATION_SNOW);
    assert_int_equal(rafter->combination, COMBINATION_SNOW);
    put(page, "strut_demand_psi", strut->demand);
    put(page, "strut_ratio", strut->ratio);
    put(page, "rafter_modulus_in3", lumber_section(1.5, 5.5).modulus_in3);
    put(page, "rafter_upper_in", 24 + 132 / cos(judged->roof->pitch_rad));
    put(page, "rafter_before_ratio", rafter->before);
    put(page, "rafter_demand_psi", rafter->demand);
    put(page, "rafter_capacity_psi", rafter->capacity);
    put(page, "rafter_ratio", rafter->ratio);
}

/* Half a step of the last digit that a figure is printed to. */
static double half_step(const char *text) {
    const char *dot = strchr(text, '.');
    const size_t digits = dot ? strspn(dot + 1, "0123456789") : 0;
    return 0.5 * pow(10, -(double)digits);
}

/* Holds one row of a table, "| `key` how | figure | figure |", against what was found. */
static void compare_row(struct page *page, char *line) {
    char *end = strchr(line + 3, '`');
    if (end == NULL)
        return;
    *end = '\0';
    struct page_row *row = NULL;
    for (size_t i = 0; i < page->count; i++)
        if (strcmp(page->rows[i].key, line + 3) == 0)
            row = &page->rows[i];
    if (row == NULL) {
        fail_msg("the page has a figure that nobody computes: %s", line + 3);
        return;
    }
    row->seen = true;
    char *cell = strchr(end + 1, '|');
    for (size_t c = 0; c < row->count; c++) {
        assert_non_null(cell);
        char *rest;
        while (*++cell == ' ')
            ;
        const double printed = strtod(cell, &rest);
        if (rest == cell)
            fail_msg("no figure %zu for %s", c + 1, row->key);
        /* The last bits of a tie may fall either way. */
        expect_figure(row->key, "docs/strength.md", row->values[c], printed,
                      half_step(cell) * (1 + 1e-6));
        cell = strchr(rest, '|');
    }
}

static void page_is_what_the_library_finds(void **state) {
    (void)state;
    static struct page page;
    struct judged judged;
    judged_make(&judged, NULL);
    judged_judge(&judged, OUTCOME_DONE);
    assert_true(judged.verdict->holds);
    put_loads(&page, &judged);
    for (int c = 0; c < COMBINATION_COUNT; c++)
        put_frame(&page, &judged, (enum combination)c);
    put_lag(&page, &judged);
    put_items(&page, &judged);
    FILE *file = fopen(RUDDLE_ROOT "/docs/strength.md", "r");
    assert_non_null(file);
    char line[512];
    bool worked = false;
    while (fgets(line, sizeof line, file) != NULL) {
        worked = worked || strncmp(line, "## One frame by hand", 20) == 0;
        if (worked && strncmp(line, "| `", 3) == 0)
            compare_row(&page, line);
    }
    (void)fclose(file);
    for (size_t i = 0; i < page.count; i++)
        if (!page.rows[i].seen)
            fail_msg("not on the page: %s", page.rows[i].key);
    assert_true(page.count > 40);
    judged_free(&judged);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(page_is_what_the_library_finds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
