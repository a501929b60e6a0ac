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

/* Hot and cold, marks 5 and 6, lie 1 along and 1 1/8 up from their ports, within 6. */
enum { HOT = 5, COLD = 6 };

/* Along the eave by a tick, up or down the roof by the next course that is out of reach. */
static void pipe_past_its_reach(void **state) {
    static const double steps[][2] = {{5 + TICK, 0}, {-7 - TICK, 0}, {0, 5.625}, {0, -11.25}};
    struct trial *trial = *state;
    expect_broken(trial->roof, trial->marks, "");
    for (size_t i = HOT; i <= COLD; i++) {
        for (size_t j = 0; j < sizeof steps / sizeof *steps; j++) {
            struct mark *mark = &trial->marks->list[i], kept = *mark;
            mark->x += steps[j][0];
            mark->y += steps[j][1];
            expect_broken(trial->roof, trial->marks, "pipe-reach");
            *mark = kept;
        }
    }
}

/* With room to go further from their ports, until a rafter is in the way. */
static void pipe_a_tick_past_its_bay(void **state) {
    struct trial *trial = *state;
    for (size_t i = HOT; i <= COLD; i++) {
        trial->roof->pipes[i - HOT].reach = 40;
        for (int way = -1; way <= 1; way += 2) {
            struct mark *mark = &trial->marks->list[i], kept = *mark;
            mark->x += way * PLAIN_BAY;
            expect_broken(trial->roof, trial->marks, "");
            mark->x += way * TICK;
            expect_broken(trial->roof, trial->marks, "pipe-bay");
            *mark = kept;
        }
    }
}

/* Up, block and butt edge end together, 3/8 on. */
static void pipe_a_tick_past_its_butt_edge(void **state) {
    struct trial *trial = *state;
    for (size_t i = HOT; i <= COLD; i++) {
        struct mark *mark = &trial->marks->list[i], kept = *mark;
        mark->y += EDGE_PLAY;
        expect_broken(trial->roof, trial->marks, "");
        mark->y += TICK;
        expect_broken(trial->roof, trial->marks, "course-edge course-block");
        mark->y = kept.y - EDGE_PLAY;
        expect_broken(trial->roof, trial->marks, "");
        mark->y -= TICK;
        expect_broken(trial->roof, trial->marks, "course-edge");
        *mark = kept;
    }
}

/* Each 24 in from its own port then. */
static void swapped_pipes(void **state) {
    struct trial *trial = *state;
    trial->marks->list[HOT].pipe = 1;
    trial->marks->list[COLD].pipe = 0;
    expect_broken(trial->roof, trial->marks, "pipe-reach");
}

static void dropped_pipe(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, COLD);
    expect_broken(trial->roof, trial->marks, "complete");
}

/* Hot drilled twice, 6 in apart: one flashing over the other. */
static void pipe_drilled_twice(void **state) {
    struct trial *trial = *state;
    trial->marks->list[COLD] = trial->marks->list[HOT];
    trial->marks->list[COLD].x -= 6;
    expect_broken(trial->roof, trial->marks, "apart complete");
}

/* Five courses up hot would come up through the strut, between two of its lags. */
static void pipe_under_its_own_strut(void **state) {
    struct trial *trial = *state;
    trial->roof->pipes[0].reach = 40;
    trial->marks->list[HOT].y += 5 * 5.625;
    expect_broken(trial->roof, trial->marks, "pipe-bay");
}

/* Six down, and as near to rafter 3 as it may be, it is 1/8 from the foot there. */
static void pipe_beside_a_foot(void **state) {
    struct trial *trial = *state;
    trial->roof->pipes[0].reach = 40;
    trial->marks->list[HOT].y -= 6 * 5.625;
    expect_broken(trial->roof, trial->marks, "");
    trial->marks->list[HOT].x -= PLAIN_BAY;
    expect_broken(trial->roof, trial->marks, "pipe-bay apart");
}

/* On the line of the feet and between them: it is in no rafter, and taken for the second leg's foot
 * it is 33 in off; the last foot is one too many, and hot is missing. */
static void pipe_hole_taken_for_a_foot(void **state) {
    struct trial *trial = *state;
    struct mark *mark = &trial->marks->list[HOT];
    mark->row = ROW_BOTTOM;
    mark->y = PLAIN_BOTTOM_Y;
    expect_broken(trial->roof, trial->marks, "wood foot-reach complete");
}

/* In a rafter, 33 in down from its port; a foot is missing, and cold is there twice. */
static void lag_taken_for_a_pipe_hole(void **state) {
    struct trial *trial = *state;
    struct mark *mark = &trial->marks->list[4];
    mark->row = ROW_PIPE;
    mark->pipe = 1;
    expect_broken(trial->roof, trial->marks, "pipe-bay pipe-reach complete");
}

/* The pipes of A for those of B: 96 in from their ports, and each under the other's bracket. */
static void pipes_of_two_brackets_mixed_up(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.pipe_count = 1;
    trial_rebuild(trial, &knobs);
    expect_broken(trial->roof, trial->marks, "");
    struct mark first = trial->marks->list[5], *second = &trial->marks->list[11];
    trial->marks->list[5].x = second->x;
    second->x = first.x;
    expect_broken(trial->roof, trial->marks, "pipe-reach apart");
}

/* Every rafter leans by 3/16 over the height of the top row: its lags are off, the feet are not
 * (43 1/2 of 105 3/8 of it are 0.077). */
static void rafters_that_lean_under_straight_marks(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.pipe_count = 2;
    knobs.lean = 0.1875 / PLAIN_TOP_Y;
    trial_rebuild(trial, &knobs);
    expect_broken(trial->roof, trial->marks, "wood");
    for (size_t i = 0; i < 3; i++) {
        trial->marks->list[i].x += 0.1875;
    }
    expect_broken(trial->roof, trial->marks, "");
}

static void splice_where_a_lag_is(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.keepout = 4;
    knobs.keepout_at[0] = PLAIN_TOP_Y - TICK;
    knobs.keepout_at[1] = PLAIN_TOP_Y + TICK;
    trial_rebuild(trial, &knobs);
    expect_broken(trial->roof, trial->marks, "wood");
    trial->roof->keepouts[0].rafter = 1;
    expect_broken(trial->roof, trial->marks, "");
}

/* A near rake that runs in by 49 over the face leaves the bracket's upper corner, at (50 1/2, 116
 * 3/8), 20.8 in; one that runs in by 66 leaves 10.7, where 12 are kept. */
static void hip_over_the_bracket(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.ridge_in[SIDE_NEAR] = 49;
    trial_rebuild(trial, &knobs);
    expect_broken(trial->roof, trial->marks, "");
    knobs.ridge_in[SIDE_NEAR] = 66;
    trial_rebuild(trial, &knobs);
    expect_broken(trial->roof, trial->marks, "setback");
}

int main(void) {
#define ON_ONE(test) cmocka_unit_test_setup_teardown(test, trial_set_up, trial_tear_down)
#define ON_TWO(test) cmocka_unit_test_setup_teardown(test, trial_set_up_pair, trial_tear_down)
#define PIPES(test) cmocka_unit_test_setup_teardown(test, trial_set_up_pipes, trial_tear_down)
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
        PIPES(pipe_past_its_reach),
        PIPES(pipe_a_tick_past_its_bay),
        PIPES(pipe_a_tick_past_its_butt_edge),
        PIPES(swapped_pipes),
        PIPES(dropped_pipe),
        PIPES(pipe_drilled_twice),
        PIPES(pipe_under_its_own_strut),
        PIPES(pipe_beside_a_foot),
        PIPES(pipe_hole_taken_for_a_foot),
        PIPES(lag_taken_for_a_pipe_hole),
        PIPES(pipes_of_two_brackets_mixed_up),
        PIPES(rafters_that_lean_under_straight_marks),
        ON_ONE(splice_where_a_lag_is),
        ON_ONE(hip_over_the_bracket),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
