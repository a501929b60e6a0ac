/* Marks that obey everything, altered by one thing at a time: the rule that must break is named,
 * and no other. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

/* What each mark has to spare, and the first tick beyond. */
#define WOOD_PLAY 0.15625
#define EDGE_PLAY 0.375
#define SLOT 0.75

/* A foot moved by a tick past its wood leaves its slot no trouble; nor does a lag its clamps. */
static void mark_a_tick_past_its_wood(void **state) {
    struct trial *trial = *state;
    for (size_t i = 0; i < trial->marks->count; i++) {
        for (int way = -1; way <= 1; way += 2) {
            double *x = &trial->marks->list[i].x, kept = *x;
            *x = kept + way * WOOD_PLAY;
            expect_broken(trial->roof, trial->marks, "");
            *x = kept + way * (WOOD_PLAY + TICK);
            expect_broken(trial->roof, trial->marks, "wood");
            *x = kept;
        }
    }
}

static void mark_a_tick_off_its_line(void **state) {
    struct trial *trial = *state;
    for (size_t i = 0; i < trial->marks->count; i++) {
        trial->marks->list[i].y += TICK;
        expect_broken(trial->roof, trial->marks, "row-line");
        trial->marks->list[i].y -= TICK;
    }
}

/* Up as well as down 3/8 is left to the butt edge; the block keeps 1/8 then. */
static void row_a_tick_past_its_butt_edge(void **state) {
    struct trial *trial = *state;
    for (int row = 0; row < ROW_COUNT; row++) {
        for (int way = -1; way <= 1; way += 2) {
            trial_raise_row(trial, 0, (enum row)row, way * EDGE_PLAY);
            expect_broken(trial->roof, trial->marks, "");
            trial_raise_row(trial, 0, (enum row)row, way * TICK);
            expect_broken(trial->roof, trial->marks, "course-edge");
            trial_raise_row(trial, 0, (enum row)row, -way * (EDGE_PLAY + TICK));
        }
    }
}

/* 3/4 along the eave to either side; the strut's clamps stay clear of its lags. */
static void bracket_a_tick_past_the_slots_of_its_feet(void **state) {
    struct trial *trial = *state;
    for (int way = -1; way <= 1; way += 2) {
        trial->marks->brackets[0].x = PLAIN_X + way * SLOT;
        expect_broken(trial->roof, trial->marks, "");
        trial->marks->brackets[0].x = PLAIN_X + way * (SLOT + TICK);
        expect_broken(trial->roof, trial->marks, "foot-reach");
    }
}

/* 3 in up or down until the top row leaves its window. */
static void bracket_a_tick_past_the_window_of_its_top_row(void **state) {
    struct trial *trial = *state;
    for (int way = -1; way <= 1; way += 2) {
        trial->marks->brackets[0].y = PLAIN_Y + way * 3;
        expect_broken(trial->roof, trial->marks, "");
        trial->marks->brackets[0].y = PLAIN_Y + way * (3 + TICK);
        expect_broken(trial->roof, trial->marks, "row");
    }
}

/* A course lower, the bottom row is 5 1/2 up the legs: 5 are needed.  The bracket up by 1/2 + 1/16
 * more, and its room for the wrench is gone; the top row is then at 72 7/16, in its window. */
static void bracket_a_tick_past_the_clearance_of_its_feet(void **state) {
    struct trial *trial = *state;
    trial_raise_row(trial, 0, ROW_BOTTOM, -5.625);
    expect_broken(trial->roof, trial->marks, "");
    trial->marks->brackets[0].y = PLAIN_Y + 0.5;
    expect_broken(trial->roof, trial->marks, "");
    trial->marks->brackets[0].y = PLAIN_Y + 0.5 + TICK;
    expect_broken(trial->roof, trial->marks, "clearance");
}

static void row_on_the_next_course_but_out_of_its_window(void **state) {
    struct trial *trial = *state;
    trial_raise_row(trial, 0, ROW_TOP, 5.625);
    expect_broken(trial->roof, trial->marks, "row");
    trial_raise_row(trial, 0, ROW_TOP, -2 * 5.625);
    expect_broken(trial->roof, trial->marks, "row");
}

/* Without its first or last lag the strut overhangs by more than 6; without the middle one a rafter
 * is skipped; without a foot a leg stands on nothing. */
static void dropped_lag(void **state) {
    static const char *const names[] = {"strut-clamp", "strut-span", "strut-clamp"};
    for (size_t i = 0; i < 3; i++) {
        struct trial *trial = *state;
        struct marks *whole = trial->marks;
        assert_int_equal(marks_copy(whole, &trial->marks), OUTCOME_DONE);
        trial_drop(trial, i);
        expect_broken(trial->roof, trial->marks, names[i]);
        marks_free(trial->marks);
        trial->marks = whole;
    }
}

static void dropped_last_foot(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, 4);
    expect_broken(trial->roof, trial->marks, "complete");
}

/* The other foot is then the first by x, so it is held against the first leg too. */
static void dropped_first_foot(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, 3);
    expect_broken(trial->roof, trial->marks, "foot-reach complete");
}

/* Top for bottom: 11 1/8 up the legs is no place for the top row, nor 73 for the bottom row.  Three
 * feet below are one too many, and the second stands under no leg; two lags above skip a rafter. */
static void swapped_rows(void **state) {
    struct trial *trial = *state;
    for (size_t i = 0; i < trial->marks->count; i++) {
        struct mark *mark = &trial->marks->list[i];
        mark->row = mark->row == ROW_TOP ? ROW_BOTTOM : ROW_TOP;
    }
    expect_broken(trial->roof, trial->marks, "row foot-reach strut-span complete");
}

/* Two struts of three lags each, taken for each other: only the windows tell. */
static void swapped_rows_of_two_struts(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.hardware[ROW_BOTTOM] = HARDWARE_STRUT;
    roof_free(trial->roof);
    marks_free(trial->marks);
    trial->roof = plain_roof(&knobs);
    trial->marks = plain_marks(trial->roof);
    expect_broken(trial->roof, trial->marks, "");
    for (size_t i = 0; i < trial->marks->count; i++) {
        struct mark *mark = &trial->marks->list[i];
        mark->row = mark->row == ROW_TOP ? ROW_BOTTOM : ROW_TOP;
    }
    expect_broken(trial->roof, trial->marks, "row");
}

/* The strut's row called feet: three for two legs, the second under no leg. */
static void strut_called_feet(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].hardware[ROW_TOP] = HARDWARE_FEET;
    expect_broken(trial->roof, trial->marks, "foot-reach complete");
}

/* The feet called a strut: lags at 64 and 112 skip the rafter between. */
static void feet_called_a_strut(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].hardware[ROW_BOTTOM] = HARDWARE_STRUT;
    expect_broken(trial->roof, trial->marks, "strut-span");
}

/* Everything two rafters toward the corner: the bracket is at 2 1/2, where 12 are kept. */
static void layout_shifted_over_the_near_setback(void **state) {
    struct trial *trial = *state;
    trial_shift(trial, 0, -24, 0);
    expect_broken(trial->roof, trial->marks, "");
    trial_shift(trial, 0, -24, 0);
    expect_broken(trial->roof, trial->marks, "setback");
}

/* Eleven courses up, its top is at 178 1/4, where 196 - 18 is the limit. */
static void layout_shifted_over_the_ridge_setback(void **state) {
    struct trial *trial = *state;
    trial_shift(trial, 0, 0, 10 * 5.625);
    expect_broken(trial->roof, trial->marks, "");
    trial_shift(trial, 0, 0, 5.625);
    expect_broken(trial->roof, trial->marks, "setback");
}

/* The vent's flange starts at 294.  Six rafters on, the bracket ends at 266 1/2; seven, at 290 1/2,
 * 3 1/2 from it, where 6 are kept; the last flashing ends at 284 1/2 and minds nothing. */
static void layout_shifted_against_a_vent(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.vent_count = 1;
    roof_free(trial->roof);
    trial->roof = plain_roof(&knobs);
    trial_shift(trial, 0, 6 * 24, 0);
    expect_broken(trial->roof, trial->marks, "");
    trial_shift(trial, 0, 24, 0);
    expect_broken(trial->roof, trial->marks, "vent-bracket");
}

/* A flange from 123 on is 6 1/2 from the last flashing's side and 10 from the strut's end; this one
 * keeps the bracket, 1/2 away, at no distance. */
static void vent_beside_a_flashing(void **state) {
    struct trial *trial = *state;
    trial->roof->vent_count = 1;
    trial->roof->vents[0] = (struct vent){
        .kind = VENT_EXHAUST, .flange = {123, 100, 130, 112}, .keep_flashing = 3, .tall = 12};
    expect_broken(trial->roof, trial->marks, "");
    trial->roof->vents[0].keep_flashing = 6.5 + TICK;
    expect_broken(trial->roof, trial->marks, "vent-flashing");
    trial->roof->vents[0].keep_flashing = 10 + TICK;
    expect_broken(trial->roof, trial->marks, "vent-flashing strut-clear");
}

/* B a rafter nearer touches A: 12 in are kept.  Two rafters nearer it stands on A's strut and its
 * lags on A's lags. */
static void second_bracket_moved_into_the_first(void **state) {
    struct trial *trial = *state;
    expect_broken(trial->roof, trial->marks, "");
    trial_shift(trial, 1, -24, 0);
    expect_broken(trial->roof, trial->marks, "apart");
    trial_shift(trial, 1, -24, 0);
    expect_broken(trial->roof, trial->marks, "strut-clear apart");
}

/* The marks of B lagged for A and those of A for B: each strut would have to reach from its lags to
 * the other bracket, under it and over the other strut. */
static void brackets_mixed_up(void **state) {
    struct trial *trial = *state;
    struct standing first = trial->marks->brackets[0];
    trial->marks->brackets[0] = trial->marks->brackets[1];
    trial->marks->brackets[1] = first;
    expect_broken(trial->roof, trial->marks, "foot-reach strut-clear apart strut-clamp");
}

/* Where a rafter is known to 1/2 only, 15/32 + 1/2 is more than half a ply: nothing holds in it. */
static void rafter_known_too_poorly(void **state) {
    struct trial *trial = *state;
    trial->roof->plies[2].tolerance = 0.5;
    expect_broken(trial->roof, trial->marks, "wood");
}

int main(void) {
#define ON_ONE(test) cmocka_unit_test_setup_teardown(test, trial_set_up, trial_tear_down)
#define ON_TWO(test) cmocka_unit_test_setup_teardown(test, trial_set_up_pair, trial_tear_down)
    const struct CMUnitTest tests[] = {
        ON_ONE(mark_a_tick_past_its_wood),
        ON_ONE(mark_a_tick_off_its_line),
        ON_ONE(row_a_tick_past_its_butt_edge),
        ON_ONE(bracket_a_tick_past_the_slots_of_its_feet),
        ON_ONE(bracket_a_tick_past_the_window_of_its_top_row),
        ON_ONE(bracket_a_tick_past_the_clearance_of_its_feet),
        ON_ONE(row_on_the_next_course_but_out_of_its_window),
        ON_ONE(dropped_lag),
        ON_ONE(dropped_last_foot),
        ON_ONE(dropped_first_foot),
        ON_ONE(swapped_rows),
        ON_ONE(swapped_rows_of_two_struts),
        ON_ONE(strut_called_feet),
        ON_ONE(feet_called_a_strut),
        ON_ONE(layout_shifted_over_the_near_setback),
        ON_ONE(layout_shifted_over_the_ridge_setback),
        ON_ONE(layout_shifted_against_a_vent),
        ON_ONE(vent_beside_a_flashing),
        ON_TWO(second_bracket_moved_into_the_first),
        ON_TWO(brackets_mixed_up),
        ON_ONE(rafter_known_too_poorly),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
