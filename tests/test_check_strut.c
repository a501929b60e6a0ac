/* strut-clear, strut-clamp, strut-span and strut-stock.  The plain strut has lags at 64, 88, 112,
 * clamps at 61 1/4 and 109 1/4, and runs from 60 1/4 to 113 at 105 3/8, 7/8 to either side. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static struct finding top(enum rule rule) {
    return about(rule, 0, ROW_TOP, CHECK_NONE);
}

static struct finding top_and_vent(void) {
    struct finding finding = top(RULE_STRUT_CLEAR);
    finding.vent = 0;
    return finding;
}

static void strut_has_its_ends_from_lags_and_clamps(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    const struct row_seat *seat = &verdict->rows[0][ROW_TOP];
    expect_inches(seat->clamps[0], 61.25);
    expect_inches(seat->clamps[1], 109.25);
    expect_inches(seat->from, 60.25);
    expect_inches(seat->to, 113);
    expect_inches(seat->y, PLAIN_TOP_Y);
    verdict_free(verdict);
}

/* 60 1/4 to the near rake is the least distance; no setback counts. */
static void strut_on_the_face(void **state) {
    struct trial *trial = *state;
    struct edge *near = trial_edge(trial, EDGE_NEAR);
    near->setback = 50;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), 60.25);
    near->offset = 60.25;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), 0);
    near->offset = 60.25 + TICK;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), -TICK);
}

/* Its upper side is at 106 1/4. */
static void strut_under_the_ridge(void **state) {
    struct trial *trial = *state;
    struct edge *ridge = trial_edge(trial, EDGE_RIDGE);
    ridge->offset = -106.25;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), 0);
    ridge->offset = -106.25 + TICK;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), -TICK);
}

/* It ends at 113; 3 in beyond is 116. */
static void strut_beside_a_vent(void **state) {
    struct trial *trial = *state;
    trial->roof->vent_count = 1;
    trial->roof->vents[0] =
        (struct vent){.kind = VENT_ATTIC, .flange = {116, 100, 130, 110}, .keep_flashing = 3};
    expect_margin(trial->roof, trial->marks, top_and_vent(), 0);
    trial->roof->vents[0].flange.x0 = 116 - TICK;
    expect_margin(trial->roof, trial->marks, top_and_vent(), -TICK);
}

/* Its lower side is at 104 1/2; a flange that ends at 101 1/2 is 3 in below it. */
static void strut_above_a_vent(void **state) {
    struct trial *trial = *state;
    trial->roof->vent_count = 1;
    trial->roof->vents[0] =
        (struct vent){.kind = VENT_ATTIC, .flange = {80, 90, 94, 101.5}, .keep_flashing = 3};
    expect_margin(trial->roof, trial->marks, top_and_vent(), 0);
    trial->roof->vents[0].flange.y1 = 101.5 + TICK;
    expect_margin(trial->roof, trial->marks, top_and_vent(), -TICK);
}

/* The strut of A ends at 113: B's side may be there, no nearer.  It counts for both. */
static void strut_of_the_first_bracket_against_the_second(void **state) {
    struct trial *trial = *state;
    struct finding pair = top(RULE_STRUT_CLEAR);
    pair.other_bracket = 1;
    expect_margin(trial->roof, trial->marks, pair, 146.5 - 113);
    trial->marks->brackets[1].x = 113;
    expect_margin(trial->roof, trial->marks, pair, 0);
    trial->marks->brackets[1].x = 113 - TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK);
}

/* The strut of B starts at 156 1/4; the bracket A must end there at the latest, at 84 1/4 + 72. */
static void strut_of_the_second_bracket_against_the_first(void **state) {
    struct trial *trial = *state;
    struct finding pair = about(RULE_STRUT_CLEAR, 0, CHECK_NONE, CHECK_NONE);
    pair.other_bracket = 1;
    pair.other_row = ROW_TOP;
    trial->marks->brackets[0].x = 84.25;
    expect_margin(trial->roof, trial->marks, pair, 0);
    trial->marks->brackets[0].x = 84.25 + TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK);
}

/* 2 3/4 from each clamp to the nearest lag, less 1 1/2; one clamp 2 3/4 beyond the end lag, of 6.
 */
static void clamps_clear_of_lags_hold(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLAMP), 1.25);
}

/* With no grip both sides of a leg are one place: the first leg is 1 1/2 from the lag at 64. */
static void clamp_beside_a_lag(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].grip = 0;
    trial->roof->kits[0].lag_clear = 1.5;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLAMP), 0);
    trial->roof->kits[0].lag_clear = 1.5 + TICK;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLAMP), -TICK);
}

/* And 1 1/2 beyond it, the end lag. */
static void clamp_beyond_the_end_lag(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].grip = 0;
    trial->roof->kits[0].lag_clear = 1;
    trial->roof->kits[0].overhang = 1.5;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLAMP), 0);
    trial->roof->kits[0].overhang = 1.5 - TICK;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLAMP), -TICK);
}

static void neighbouring_lags_within_the_span(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), 50 - 24);
    trial->roof->kits[0].span = 24;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), 0);
    trial->roof->kits[0].span = 24 - TICK;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), -TICK);
}

/* Without the lag at 88 the gap is 48 of 50, but rafter 4 is skipped: its ply is 24 in off. */
static void skipped_rafter_breaks_the_span_where_every_one_is_asked_for(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, 1);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), -24);
    expect_broken(trial->roof, trial->marks, "strut-span");
    trial->roof->kits[0].every_rafter = false;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), 2);
    expect_broken(trial->roof, trial->marks, "");
}

/* Of the plies at 88 and 89 1/2 the sister is the nearer to a lag: 22 1/2 from 112. */
static void skipped_rafter_counts_from_its_nearest_ply(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    trial_drop(trial, 1);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), -22.5);
}

static void unsound_rafter_is_rightly_skipped(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.unsound = 4;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    trial_drop(trial, 1);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), 2);
    expect_broken(trial->roof, trial->marks, "");
}

/* In a sistered rafter one ply is enough. */
static void second_ply_of_a_lagged_rafter_is_not_skipped(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    expect_broken(trial->roof, trial->marks, "");
}

/* Lags at 88 and 89 1/2, in both plies of rafter 4: the second is 22 1/2 from the
 * nearest ply of another rafter, that at 112 (the sister of rafter 3 is at 65 1/2). */
static void two_lags_in_one_rafter_are_broken(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    struct marks *more = NULL;
    knobs.plies = 2;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    trial->roof->kits[0].flashing.width = 1; /* so that flashings do not overlap as well */
    assert_int_equal(marks_new(1, 6, &more), OUTCOME_DONE);
    more->brackets[0] = trial->marks->brackets[0];
    more->list[0] = (struct mark){.row = ROW_TOP, .x = 89.5, .y = PLAIN_TOP_Y};
    for (size_t i = 0; i < 5; i++) {
        more->list[i + 1] = trial->marks->list[i];
    }
    expect_margin(trial->roof, more, top(RULE_STRUT_SPAN), -22.5);
    expect_margin(trial->roof, more, top(RULE_COMPLETE), -1);
    expect_broken(trial->roof, more, "strut-span complete");
    marks_free(more);
}

/* 113 - 60 1/4 = 52 3/4; with no grip, and so no choice, 113 - 61 1/2 = 51 1/2. */
static void strut_as_long_as_the_longest_stock(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_STOCK), 240 - 52.75);
    trial->roof->kits[0].grip = 0;
    trial->roof->kits[0].stock[0] = 40;
    trial->roof->kits[0].stock[1] = 51.5;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_STOCK), 0);
    trial->roof->kits[0].stock[1] = 51.5 - TICK;
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_STOCK), -TICK);
}

/* A rake of 3 along to 4 up: its distance is 0.8 x - 0.6 y.  The strut's upper near corner is at
 * (60 1/4, 106 1/4); moved along until 0.8 x is 63.75, it is on the rake. */
static void strut_on_a_face_with_a_leaning_corner(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.ridge_in[SIDE_NEAR] = 147;
    knobs.ridge_in[SIDE_FAR] = -147;
    trial_rebuild(trial, &knobs);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), 48.2 - 63.75);
    trial_shift(trial, 0, 79.6875 - 60.25, 0);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), 0);
    trial_shift(trial, 0, -TICK, 0);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), -0.8 * TICK);
}

/* Under a far hip that runs in by 3 on 4 from (360, 0), 288 - 0.8 x - 0.6 y: the upper far corner
 * (113, 106 1/4) can go to x 280.3125. */
static void strut_under_a_hip(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.ridge_in[SIDE_FAR] = 147;
    trial_rebuild(trial, &knobs);
    trial_shift(trial, 0, 280.3125 - 113, 0);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), 0);
    trial_shift(trial, 0, 0, TICK);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_CLEAR), -0.6 * TICK);
}

/* Rafters gain 1/32 an inch: at 105 3/8 they lie 3.29296875 further on.  Without its middle lag the
 * strut skips the rafter that is there then at 91.29296875, as far from the lag at 64 + 3.29... as
 * ever. */
static void skipped_rafter_counts_at_the_height_of_the_lags(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.lean = 1.0 / 32;
    trial_rebuild(trial, &knobs);
    for (size_t i = 0; i < 3; i++) {
        trial->marks->list[i].x += PLAIN_TOP_Y / 32;
    }
    expect_margin(trial->roof, trial->marks, about(RULE_WOOD, 0, ROW_TOP, 1), PLAIN_LEAST);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), 26);
    trial->marks->list[0].x += 1;
    trial_drop(trial, 1);
    expect_margin(trial->roof, trial->marks, top(RULE_STRUT_SPAN), -23);
}

/* A splice in rafter 4 does not excuse the strut from being lagged there: the file says where the
 * line cannot run, and the lag there breaks wood. */
static void rafter_with_a_keepout_may_not_be_skipped(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.keepout = 4;
    knobs.keepout_at[0] = 100;
    knobs.keepout_at[1] = 110;
    trial_rebuild(trial, &knobs);
    expect_broken(trial->roof, trial->marks, "wood");
    trial_drop(trial, 1);
    expect_broken(trial->roof, trial->marks, "strut-span");
}

static void row_of_feet_has_no_strut_to_judge(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (finding->rule >= RULE_STRUT_CLAMP && finding->rule <= RULE_STRUT_STOCK) {
            assert_int_equal(finding->row, ROW_TOP);
        }
    }
    verdict_free(verdict);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(strut_has_its_ends_from_lags_and_clamps, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_on_the_face, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_under_the_ridge, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_beside_a_vent, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_above_a_vent, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_of_the_first_bracket_against_the_second,
                                        trial_set_up_pair, trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_of_the_second_bracket_against_the_first,
                                        trial_set_up_pair, trial_tear_down),
        cmocka_unit_test_setup_teardown(clamps_clear_of_lags_hold, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(clamp_beside_a_lag, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(clamp_beyond_the_end_lag, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(neighbouring_lags_within_the_span, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(skipped_rafter_breaks_the_span_where_every_one_is_asked_for,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(skipped_rafter_counts_from_its_nearest_ply, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(unsound_rafter_is_rightly_skipped, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(second_ply_of_a_lagged_rafter_is_not_skipped, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(two_lags_in_one_rafter_are_broken, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_as_long_as_the_longest_stock, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_on_a_face_with_a_leaning_corner, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(strut_under_a_hip, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(skipped_rafter_counts_at_the_height_of_the_lags,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(rafter_with_a_keepout_may_not_be_skipped, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(row_of_feet_has_no_strut_to_judge, trial_set_up,
                                        trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
