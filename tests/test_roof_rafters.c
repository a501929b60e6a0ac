/* Rafters as they are: crooked, sistered in part, spliced, too low down to drill. */
#include "edited_roof.h"
#include "roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static struct roof *roof_with(const struct edit *edits) {
    return edited_roof_good(&(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits});
}

static struct roof *roof_with_one(const char *old, const char *new) {
    const struct edit edits[] = {{old, new}, {0}};
    return roof_with(edits);
}

static void assert_free(const struct ply *ply) {
    assert_true(ply->reach[0] <= -ROOF_ENDLESS && ply->reach[1] >= ROOF_ENDLESS);
}

/* 64 at the eave, 64 3/4 at the ridge 196 up: 3/784 in for each inch.  At 98 its middle is at
 * 64 3/8, its faces 3/4 to either side. */
static void rafter_measured_twice_leans(void **state) {
    (void)state;
    struct roof *roof = roof_with_one("{at: 64}", "{at: 64, again: 64 3/4}");
    const struct rafter *rafter = &roof->rafters[2];
    const struct ply *ply = &roof->plies[rafter->first_ply];
    assert_near(rafter->at, 64);
    assert_near(rafter->lean, 0.75 / 196);
    assert_near(ply->lean, 0.75 / 196);
    assert_near(ply->half, 0.75);
    assert_near(roof_ply_x(ply, 98), 64.375);
    assert_near(roof_rafter_face_x(rafter, SIDE_NEAR, 98), 63.625);
    assert_near(roof_rafter_face_x(rafter, SIDE_FAR, 98), 65.125);
    assert_near(roof_rafter_face_x(rafter, SIDE_FAR, 0), 64.75);
    assert_free(ply);
    /* Those measured once run straight. */
    assert_true(roof->rafters[1].lean == 0 && roof->plies[1].lean == 0);
    assert_near(roof_ply_x(&roof->plies[1], 150), 40.125);
    roof_free(roof);
}

/* 64 at 40, 63 1/2 at 140: it loses 1/200 in an inch.  At the eave it is at 64.2, at the ridge at
 * 63.22; the third ply away lies 1 1/2 further at any height. */
static void heights_say_where_it_was_measured(void **state) {
    (void)state;
    const struct edit edits[] = {{"found: probed", "found: probed\n  heights: [40, 140]"},
                                 {"{at: 64}", "{at: 64, again: 63 1/2, plies: 2, sister: away}"},
                                 {0}};
    struct roof *roof = roof_with(edits);
    const struct rafter *rafter = &roof->rafters[2];
    assert_near(rafter->lean, -0.005);
    assert_near(rafter->at, 64.2);
    assert_near(roof_ply_x(&roof->plies[rafter->first_ply], 196), 63.22);
    assert_near(roof_ply_x(&roof->plies[rafter->first_ply + 1], 196), 64.72);
    assert_near(roof_rafter_face_x(rafter, SIDE_FAR, 196), 65.47);
    roof_free(roof);
}

/* Found from above: the first figure belongs to the first height, whichever is higher. */
static void heights_may_be_given_downwards(void **state) {
    (void)state;
    const struct edit edits[] = {{"found: probed", "found: probed\n  heights: [140, 40]"},
                                 {"{at: 64}", "{at: 63 1/2, again: 64}"},
                                 {0}};
    struct roof *roof = roof_with(edits);
    assert_near(roof->rafters[2].at, 64.2);
    assert_near(roof->rafters[2].lean, -0.005);
    roof_free(roof);
}

/* One leans from 40 to 36; the other starts at 43 and ends at 54.  The file has them the other way
 * round: half way up they are at 38 and 48 1/2, and that is how they are counted. */
static void crooked_rafters_are_counted_at_half_the_slope(void **state) {
    (void)state;
    const struct edit edits[] = {
        {"{at: 40 1/8}", "{at: 43, again: 54}"}, {"{at: 64}", "{at: 40, again: 36}"}, {0}};
    struct roof *roof = roof_with(edits);
    assert_near(roof->rafters[1].at, 40);
    assert_near(roof->rafters[2].at, 43);
    assert_near(roof_ply_x(&roof->plies[2], 98), 48.5);
    roof_free(roof);
}

/* Members that touch at the ridge only: 64 runs to 86 1/2, whose far face is at 87 1/4, where 88
 * begins. */
static void crooked_rafters_may_touch_at_the_ridge(void **state) {
    (void)state;
    struct roof *roof = roof_with_one("{at: 64}", "{at: 64, again: 86 1/2}");
    assert_near(roof_rafter_face_x(&roof->rafters[2], SIDE_FAR, 196),
                roof_rafter_face_x(&roof->rafters[3], SIDE_NEAR, 196));
    roof_free(roof);
}

/* A sister from 30 to 120 takes lags from 34 to 116; the original takes them anywhere. */
static void short_sister_takes_lags_inside_its_ends(void **state) {
    (void)state;
    struct roof *roof =
        roof_with_one("{at: 64}", "{at: 64, plies: 3, sister: both, sister_reach: [30, 120]}");
    const struct ply *plies = &roof->plies[2];
    assert_int_equal(roof->rafters[2].ply_count, 3);
    for (size_t i = 0; i < 3; i += 2) {
        assert_near(plies[i].reach[0], 34);
        assert_near(plies[i].reach[1], 116);
    }
    assert_free(&plies[1]);
    assert_near(plies[1].at, 64);
    roof_free(roof);
}

/* The wall plate at 28 up: lags from 34 on, in every ply.  A sister that starts at 20 would take
 * them from 24: the wall is what counts; one that starts at 40 takes them from 44. */
static void lags_stay_uphill_of_the_wall(void **state) {
    (void)state;
    const struct edit edits[] = {
        {"corner: left", "corner: left\nwall_line: 28"},
        {"{at: 64}", "{at: 64, plies: 2, sister: away, sister_reach: [20, 120]}"},
        {"{at: 88}", "{at: 88, plies: 2, sister: toward, sister_reach: [40, 120]}"},
        {0}};
    struct roof *roof = roof_with(edits);
    static const double low[] = {34, 34, 34, 34, 44, 34};
    static const double high[] = {ROOF_ENDLESS, ROOF_ENDLESS, ROOF_ENDLESS, 116, 116, ROOF_ENDLESS};
    for (size_t i = 0; i < 6; i++) {
        assert_near(roof->plies[i].reach[0], low[i]);
        assert_near(roof->plies[i].reach[1], high[i]);
    }
    roof_free(roof);
}

static void wall_holds_for_bonded_members_too(void **state) {
    (void)state;
    const struct edit edits[] = {{"found: probed", "found: probed\n  seam: bonded"},
                                 {"corner: left", "corner: left\nwall_line: 28"},
                                 {"{at: 64}",
                                  "{at: 64, plies: 2, sister: away, ply_sound: [yes, yes], "
                                  "ply_gap: 0}"},
                                 {0}};
    struct roof *roof = roof_with(edits);
    assert_int_equal(roof->rafters[2].ply_count, 1);
    assert_near(roof->plies[2].reach[0], 34);
    assert_near(roof->plies[2].half, 1.5);
    roof_free(roof);
}

/* Three plies at 62 1/2, 64 and 65 1/2, nearest the corner first: the bad one is no target, but its
 * wood is still there to be drilled into by mistake. */
static void bad_ply_is_no_target(void **state) {
    (void)state;
    struct roof *roof =
        roof_with_one("{at: 64}", "{at: 64, plies: 3, sister: both, ply_sound: [yes, no, yes]}");
    const struct rafter *rafter = &roof->rafters[2];
    assert_true(rafter->sound);
    assert_int_equal(rafter->plies, 3);
    assert_int_equal(rafter->ply_count, 2);
    assert_near(roof->plies[2].at, 62.5);
    assert_near(roof->plies[3].at, 65.5);
    assert_near(rafter->from, 61.75);
    assert_near(rafter->to, 66.25);
    assert_int_equal(roof->rafters[3].first_ply, 4);
    roof_free(roof);
}

static void rafter_without_a_good_ply_is_unsound(void **state) {
    (void)state;
    const struct edit edits[] = {
        {"{at: 64}", "{at: 64, plies: 2, sister: away, ply_sound: [no, no]}"},
        {"{at: 88}", "{at: 88, ply_sound: [no], sound: no}"},
        {0}};
    struct roof *roof = roof_with(edits);
    for (size_t i = 2; i < 4; i++) {
        assert_false(roof->rafters[i].sound);
        assert_int_equal(roof->rafters[i].ply_count, 0);
    }
    assert_int_equal(roof->ply_count, 12);
    roof_free(roof);
}

/* Sisters 1/4 off the wood, toward the corner: middles 1 3/4 apart, the last at 64 - 3 1/2 = 60
 * 1/2, its outer face at 59 3/4. */
static void gap_moves_extra_plies_outwards(void **state) {
    (void)state;
    struct roof *roof =
        roof_with_one("{at: 64}", "{at: 64, plies: 3, sister: toward, ply_gap: 1/4}");
    static const double at[] = {60.5, 62.25, 64};
    for (size_t i = 0; i < 3; i++)
        assert_near(roof->plies[2 + i].at, at[i]);
    assert_near(roof->rafters[2].from, 59.75);
    assert_near(roof->rafters[2].to, 64.75);
    roof_free(roof);
}

/* Counted from the corner, not in the file's order: the rafter at 20 is the second, then 40 1/8. */
static void keepouts_name_rafters_from_the_corner(void **state) {
    (void)state;
    const struct edit edits[] = {{"{at: 328}", "{at: 20}"},
                                 {"zero:",
                                  "keepouts: [{rafter: 3, from: 50, to: 62 1/2, why: scarf joint}, "
                                  "{rafter: 2, from: 0, to: 196}]\nzero:"},
                                 {0}};
    struct roof *roof = roof_with(edits);
    assert_int_equal(roof->keepout_count, 2);
    assert_int_equal(roof->keepouts[0].rafter, 2);
    assert_near(roof->rafters[roof->keepouts[0].rafter].at, 40.125);
    assert_near(roof->keepouts[0].y0, 50);
    assert_near(roof->keepouts[0].y1, 62.5);
    assert_string_equal(roof->keepouts[0].why, "scarf joint");
    assert_near(roof->rafters[roof->keepouts[1].rafter].at, 20);
    assert_string_equal(roof->keepouts[1].why, "");
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rafter_measured_twice_leans),
        cmocka_unit_test(heights_say_where_it_was_measured),
        cmocka_unit_test(heights_may_be_given_downwards),
        cmocka_unit_test(crooked_rafters_are_counted_at_half_the_slope),
        cmocka_unit_test(crooked_rafters_may_touch_at_the_ridge),
        cmocka_unit_test(short_sister_takes_lags_inside_its_ends),
        cmocka_unit_test(lags_stay_uphill_of_the_wall),
        cmocka_unit_test(wall_holds_for_bonded_members_too),
        cmocka_unit_test(bad_ply_is_no_target),
        cmocka_unit_test(rafter_without_a_good_ply_is_unsound),
        cmocka_unit_test(gap_moves_extra_plies_outwards),
        cmocka_unit_test(keepouts_name_rafters_from_the_corner),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
