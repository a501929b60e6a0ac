/* Statics of a frame: rows, legs, struts, feet, combinations; equilibrium of random frames. */
#include "figures.h"
#include "loads.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define FRAMES 10000
#define SHARE 1e-9

typedef struct leg_force leg_table[ROW_COUNT][ROOF_LEGS_MOST];

static double row_normal(const struct kit *kit, const struct leg_force *legs) {
    double sum = 0;
    for (size_t i = 0; i < kit->leg_count; i++)
        sum += legs[i].normal_lb;
    return sum;
}

/* Derived: cosine and sine of the pitch. */
static void weight_splits_by_the_pitch(void **state) {
    (void)state;
    static const double rows[][3] = {{4, 948.683, 316.228},
                                     {6, 894.427, 447.214},
                                     {8, 832.050, 554.700},
                                     {12, 707.107, 707.107}};
    const double centre[3] = {1, 2, 3};
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct load load = loads_weight(1000, centre, atan2(rows[i][0], 12));
        expect_figure("normal", "derived", load.normal_lb, rows[i][1], 0.001);
        expect_figure("down", "derived", load.down_lb, rows[i][2], 0.001);
    }
}

/* Source: water density tables, stored page: 8.345 lb/gal at 40 F, 8.338 at 60 F. */
static void water_weighs_what_the_tables_say(void **state) {
    (void)state;
    assert_true(ROOF_WATER_LB_PER_GALLON <= 8.345 && ROOF_WATER_LB_PER_GALLON >= 8.338);
    expect_figure("80 gal", "derived", 80 * ROOF_WATER_LB_PER_GALLON, 667.2, 1e-9);
}

/* Derived: 5/12, rows at 10 and 72, centre at 66 and 12 in high.  By hand, filled 857.2 lb:
 * (857.2 x 12/13 x 56 - 857.2 x 5/13 x 12) / 62 = 650.876; bottom 791.262 - 650.876. */
static void rows_by_moments(void **state) {
    (void)state;
    static const double rows[][4] = {{857.2, 650.876, 140.385, 329.692},
                                     {190, 144.268, 31.117, 73.077}};
    const struct kit kit = {.legs = {12, 60}, .leg_count = 2};
    const double v[ROW_COUNT] = {[ROW_TOP] = 72, [ROW_BOTTOM] = 10};
    const double centre[3] = {36, 66, 12};
    for (size_t i = 0; i < COUNT(rows); i++) {
        const struct load load = loads_weight(rows[i][0], centre, atan2(5, 12));
        leg_table legs = {{{0, 0}}};
        loads_add_to_legs(&kit, v, &load, 1, legs);
        expect_figure("N_top", "derived", row_normal(&kit, legs[ROW_TOP]), rows[i][1], 0.001);
        expect_figure("N_bottom", "derived", row_normal(&kit, legs[ROW_BOTTOM]), rows[i][2], 0.001);
        expect_figure("down", "derived", 4 * legs[ROW_TOP][0].down_lb, rows[i][3], 0.001);
        expect_figure("alike", "derived", legs[ROW_BOTTOM][1].down_lb, rows[i][3] / 4, 0.001);
    }
}

/* Derived: N/n + N e (x - m) / sum (x - m)^2.  All of N lies on the bottom row (v = v_bottom). */
static void legs_by_distance(void **state) {
    (void)state;
    static const struct {
        struct kit kit;
        double wanted[3];
    } rows[] = {{{.legs = {8, 64}, .leg_count = 2}, {364.286, 235.714}},
                {{.legs = {6, 36, 70}, .leg_count = 3}, {267.230, 202.861, 129.909}}};
    const double v[ROW_COUNT] = {[ROW_TOP] = 72, [ROW_BOTTOM] = 10};
    const struct load load = {.x_in = 30, .v_in = 10, .normal_lb = 600};
    for (size_t i = 0; i < COUNT(rows); i++) {
        leg_table legs = {{{0, 0}}};
        loads_add_to_legs(&rows[i].kit, v, &load, 1, legs);
        for (size_t k = 0; k < rows[i].kit.leg_count; k++) {
            expect_figure("leg", "derived", legs[ROW_BOTTOM][k].normal_lb, rows[i].wanted[k],
                          0.001);
            expect_figure("none on top", "derived", legs[ROW_TOP][k].normal_lb, 0, 1e-9);
        }
    }
}

/* By hand, 72 x 84 in at 5/12: 42 ft2 on the slope, 42 x 12/13 in plan.  25 psf of snow weigh
 * 969.2308 lb, 894.6746 square to the roof; 20 psf of wind lift 840 lb. */
static void snow_and_wind_on_a_frame(void **state) {
    (void)state;
    const struct kit kit = {.width = 72, .height = 84, .centre = {30, 60, 12}};
    const struct load snow = loads_snow(&kit, 25, atan2(5, 12)), wind = loads_wind(&kit, 20);
    expect_figure("snow", "by hand", snow.normal_lb, 894.6746, 1e-4);
    expect_figure("snow down", "by hand", snow.down_lb, 372.7811, 1e-4);
    expect_figure("at the middle", "by hand", snow.x_in, 36, 0);
    expect_figure("at the middle", "by hand", snow.v_in, 42, 0);
    expect_figure("as high as the unit", "by hand", snow.height_in, 12, 0);
    expect_figure("wind", "by hand", wind.normal_lb, -840, 1e-9);
    expect_figure("square to the roof", "by hand", wind.down_lb, 0, 0);
}

/* Source: ASCE 7-22 2.4.1 (stored summary), those that a frame meets; NDS Table 2.3.2. */
static void combinations(void **state) {
    (void)state;
    static const struct {
        double dead, snow, wind;
        bool filled;
        double lasting;
    } rows[COMBINATION_COUNT] = {{1, 0, 0, true, 0.9},
                                 {1, 1, 0, true, 1.15},
                                 {1, 0, 0.6, true, 1.6},
                                 {1, 0.75, 0.45, true, 1.6},
                                 {0.6, 0, 0.6, false, 1.6}};
    for (int i = 0; i < COMBINATION_COUNT; i++) {
        const struct combination_factors *found = loads_combination((enum combination)i);
        expect_figure("D", "ASCE 7-22 2.4.1", found->dead, rows[i].dead, 0);
        expect_figure("S", "ASCE 7-22 2.4.1", found->snow, rows[i].snow, 0);
        expect_figure("W", "ASCE 7-22 2.4.1", found->wind, rows[i].wind, 1e-15);
        expect_figure("C_D", "NDS Table 2.3.2", lumber_duration_factor(found->duration),
                      rows[i].lasting, 0);
        assert_int_equal(found->filled, rows[i].filled);
        for (int k = 0; k < i; k++)
            assert_string_not_equal(found->text, loads_combination((enum combination)k)->text);
    }
}

/* By hand: lags at 64, 88, 112; legs press 300 and 400 and push down 80 each at clamps 61 1/4 (left
 * of every lag) and 109 1/4.  Down: 80 all to the first; of the other 80, 21.25/24 to the third. */
static void strut_passes_forces_to_its_lags(void **state) {
    (void)state;
    const double lags[] = {64, 88, 112}, clamps[] = {61.25, 109.25};
    const struct leg_force legs[] = {{300, 80}, {400, 80}};
    const struct strut_line strut = {lags, 3, clamps, 2};
    struct leg_force found[3];
    struct beam_answer beam;
    assert_true(loads_through_strut(&strut, legs, found, &beam));
    expect_figure("down", "by hand", found[0].down_lb, 80, 1e-12);
    expect_figure("down", "by hand", found[1].down_lb, 80 * 2.75 / 24, 1e-12);
    expect_figure("down", "by hand", found[2].down_lb, 80 * 21.25 / 24, 1e-12);
    /* M at the first -300 x 2.75 = -825; 96 M + 24 x -825 = -400 x 2.75 x (576 - 7.5625) / 24,
     * where 2.75 is the clamp's distance from the third lag: M = -65.1449. */
    const double middle = (825 * 24 - 400 * 2.75 * (576 - 2.75 * 2.75) / 24) / 96;
    expect_figure("M", "by hand", beam.moment_inlb[1], middle, 1e-9);
    expect_figure("R1", "by hand", found[0].normal_lb, 300 + (middle + 825) / 24, 1e-9);
    expect_figure("R3", "by hand", found[2].normal_lb, 400 * 21.25 / 24 + middle / 24, 1e-9);
    expect_figure("all", "by hand", found[0].normal_lb + found[1].normal_lb + found[2].normal_lb,
                  700, 1e-9);
}

static void strut_without_two_lags_is_refused(void **state) {
    (void)state;
    const double lags[] = {64, 64}, clamps[] = {61.25};
    const struct leg_force legs[] = {{300, 80}};
    struct leg_force found[2] = {{77, 77}, {77, 77}};
    const struct strut_line one = {lags, 1, clamps, 1}, twice = {lags, 2, clamps, 1};
    assert_false(loads_through_strut(&one, legs, found, NULL));
    assert_false(loads_through_strut(&twice, legs, found, NULL));
    expect_figure("untouched", "header", found[0].normal_lb, 77, 0);
}

/* By hand: pulls 100 lb, lag 1-1/2 from its leg, toe 1: 100 x 2.5 = 250; or a maker's 1.8. */
static void foot_pries_on_its_lag(void **state) {
    (void)state;
    expect_figure("pull", "by hand", loads_foot_pull_lb(-100, 1.5, 1, 0), 250, 1e-12);
    expect_figure("other side", "by hand", loads_foot_pull_lb(-100, -1.5, 1, 0), 250, 1e-12);
    expect_figure("maker's", "by hand", loads_foot_pull_lb(-100, 1.5, 1, 1.8), 180, 1e-12);
    expect_figure("pressed", "by hand", loads_foot_pull_lb(100, 1.5, 1, 0), 0, 0);
    expect_figure("idle", "by hand", loads_foot_pull_lb(0, 1.5, 1, 0), 0, 0);
}

/* A random frame and everything that acts on it. */
struct trial {
    struct kit kit;
    double v[ROW_COUNT];
    struct frame_loads frame;
};

static struct trial random_trial_of(uint64_t *seed) {
    struct trial trial = {.kit = {.width = figures_random(seed, 30, 120),
                                  .height = figures_random(seed, 40, 120),
                                  .leg_count = 2 + figures_random_below(seed, 5)}};
    struct kit *kit = &trial.kit;
    double at = figures_random(seed, 2, 10);
    for (size_t i = 0; i < kit->leg_count; i++)
        kit->legs[i] = at += figures_random(seed, 6, 40);
    for (int i = 0; i < 3; i++)
        kit->centre[i] = figures_random(seed, 0, 100);
    trial.v[ROW_BOTTOM] = figures_random(seed, 2, 30);
    trial.v[ROW_TOP] = figures_random(seed, 40, 110);
    trial.frame = (struct frame_loads){.dead_lb = figures_random(seed, 50, 2000),
                                       .snow_psf = figures_random(seed, 0, 60),
                                       .wind_psf = figures_random(seed, 0, 60),
                                       .pitch_rad = figures_random(seed, 0.05, 1.3)};
    memcpy(trial.frame.dead_centre_in, kit->centre, sizeof kit->centre);
    return trial;
}

/* What acts on a frame, from scratch: forces and moments about the corner of the roof's surface. */
struct resultant {
    double normal, down;
    double about_x; /* normal times v, less down-slope times height */
    double about_v; /* normal times x */
    double size, long_size;
};

static void act(struct resultant *sum, double normal, double down, double x, double v,
                double height) {
    sum->normal += normal;
    sum->down += down;
    sum->about_x += normal * v - down * height;
    sum->about_v += normal * x;
    sum->size += fabs(normal) + fabs(down);
    sum->long_size += fabs(normal * v) + fabs(down * height) + fabs(normal * x);
}

static struct resultant applied(const struct trial *trial, const struct combination_factors *by) {
    const struct kit *kit = &trial->kit;
    const struct frame_loads *frame = &trial->frame;
    const double c = cos(frame->pitch_rad), s = sin(frame->pitch_rad);
    const double area = kit->width * kit->height / 144;
    const double dead = by->dead * frame->dead_lb, snow = by->snow * frame->snow_psf * area * c;
    struct resultant sum = {0, 0, 0, 0, 0, 0};
    act(&sum, dead * c, dead * s, frame->dead_centre_in[0], frame->dead_centre_in[1],
        frame->dead_centre_in[2]);
    act(&sum, snow * c, snow * s, kit->width / 2, kit->height / 2, kit->centre[2]);
    act(&sum, -by->wind * frame->wind_psf * area, 0, kit->width / 2, kit->height / 2, 0);
    return sum;
}

/* Through a strut with random lags: what reaches the lags of one row. */
static void act_through_strut(uint64_t *seed, const struct kit *kit, const struct leg_force *legs,
                              double v, struct resultant *on_clamps, struct resultant *on_lags) {
    double lags[9], clamps[ROOF_LEGS_MOST];
    struct leg_force forces[9];
    const size_t count = 2 + figures_random_below(seed, 8);
    double at = figures_random(seed, -20, 30);
    for (size_t i = 0; i < count; i++)
        lags[i] = at += figures_random(seed, 8, 30);
    for (size_t i = 0; i < kit->leg_count; i++) {
        clamps[i] = kit->legs[i] + (figures_random_below(seed, 2) ? 1.25 : -1.25);
        act(on_clamps, legs[i].normal_lb, legs[i].down_lb, clamps[i], v, 0);
    }
    const struct strut_line strut = {lags, count, clamps, kit->leg_count};
    assert_true(loads_through_strut(&strut, legs, forces, NULL));
    for (size_t i = 0; i < count; i++)
        act(on_lags, forces[i].normal_lb, forces[i].down_lb, lags[i], v, 0);
}

static void expect_alike(const struct resultant *found, const struct resultant *wanted) {
    const double size = fmax(found->size, wanted->size);
    const double long_size = fmax(found->long_size, wanted->long_size);
    expect_share("normal", found->normal, wanted->normal, size, SHARE);
    expect_share("down", found->down, wanted->down, size, SHARE);
    expect_share("about the eave", found->about_x, wanted->about_x, long_size, SHARE);
    expect_share("about the slope", found->about_v, wanted->about_v, long_size, SHARE);
}

/* On every random frame, under every combination: the legs' forces sum to what is applied, forces
 * and moments; and the lags' forces of a strut to what its clamps bring. */
static void random_frames_are_in_equilibrium(void **state) {
    (void)state;
    uint64_t seed = 10000;
    for (int n = 0; n < FRAMES; n++) {
        const struct trial trial = random_trial_of(&seed);
        const struct combination_factors *by =
            loads_combination((enum combination)(n % COMBINATION_COUNT));
        leg_table legs;
        loads_on_legs(&trial.kit, trial.v, &trial.frame, by, legs);
        struct resultant on_legs = {0, 0, 0, 0, 0, 0};
        struct resultant on_clamps = on_legs, on_lags = on_legs;
        for (int row = 0; row < ROW_COUNT; row++) {
            for (size_t i = 0; i < trial.kit.leg_count; i++)
                act(&on_legs, legs[row][i].normal_lb, legs[row][i].down_lb, trial.kit.legs[i],
                    trial.v[row], 0);
            act_through_strut(&seed, &trial.kit, legs[row], trial.v[row], &on_clamps, &on_lags);
        }
        const struct resultant wanted = applied(&trial, by);
        expect_alike(&on_legs, &wanted);
        expect_alike(&on_lags, &on_clamps);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weight_splits_by_the_pitch),
        cmocka_unit_test(water_weighs_what_the_tables_say),
        cmocka_unit_test(rows_by_moments),
        cmocka_unit_test(legs_by_distance),
        cmocka_unit_test(snow_and_wind_on_a_frame),
        cmocka_unit_test(combinations),
        cmocka_unit_test(strut_passes_forces_to_its_lags),
        cmocka_unit_test(strut_without_two_lags_is_refused),
        cmocka_unit_test(foot_pries_on_its_lag),
        cmocka_unit_test(random_frames_are_in_equilibrium),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
