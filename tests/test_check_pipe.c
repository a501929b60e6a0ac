/* Pipes: pipe-bay and pipe-reach, and the rules of a flashing held against the pipe's own.  Hot is
 * mark 5, at (76, 77 1/2); cold is mark 6, 24 in further on. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

enum { HOT = 5, COLD = 6 };

static struct finding hot(enum rule rule) {
    return about(rule, 0, ROW_PIPE, HOT);
}

/* The bore against the strut of one row, or against one foot. */
static struct finding bore_and_strut(int bracket, enum row row) {
    struct finding finding = hot(RULE_PIPE_BAY);
    finding.other_bracket = bracket;
    finding.other_row = (int)row;
    return finding;
}

static struct finding bore_and_foot(int mark) {
    struct finding finding = hot(RULE_PIPE_BAY);
    finding.other_bracket = 0;
    finding.other_mark = mark;
    return finding;
}

static struct mark *hole(struct trial *trial, size_t mark) {
    return &trial->marks->list[mark];
}

static void pipes_in_their_bays_hold(void **state) {
    struct trial *trial = *state;
    expect_broken(trial->roof, trial->marks, "");
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), PLAIN_BAY);
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->holes, 7);
    expect_inches(verdict->least, PLAIN_LEAST);
    verdict_free(verdict);
}

/* Faces at 64 3/4 and 87 1/4; 1 9/16 are kept off each. */
static void bore_beside_a_rafter(void **state) {
    struct trial *trial = *state;
    for (int way = -1; way <= 1; way += 2) {
        hole(trial, HOT)->x = 76 + way * PLAIN_BAY;
        expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), 0);
        hole(trial, HOT)->x += way * TICK;
        expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), -TICK);
    }
}

/* In the middle of rafter 4 a whole half ply has to be got past: -3/4 - 1 9/16. */
static void bore_into_a_rafter(void **state) {
    struct trial *trial = *state;
    hole(trial, HOT)->x = 88;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), -2.3125);
}

/* No lag may go into rafter 4, and no bore either. */
static void bore_minds_rafters_that_are_not_sound(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.unsound = 4;
    knobs.pipe_count = 2;
    trial_rebuild(trial, &knobs);
    hole(trial, HOT)->x = 76 + PLAIN_BAY + TICK;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), -TICK);
}

/* All plies count: with a sister each, away from the corner, the bay is 66 1/4 ... 87 1/4. */
static void bore_minds_every_ply(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    knobs.pipe_count = 2;
    trial_rebuild(trial, &knobs);
    hole(trial, HOT)->x = 66.25 + 1.5625;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), 0);
    hole(trial, HOT)->x -= TICK;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), -TICK);
}

/* Each rafter by its own tolerance: where 4 is known to 1/2 only, 3/8 less are left on its side. */
static void bore_minds_how_well_each_rafter_is_known(void **state) {
    struct trial *trial = *state;
    trial->roof->rafters[3].tolerance = 0.5;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), PLAIN_BAY - 0.375);
    hole(trial, HOT)->x = 76 - PLAIN_BAY;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), 0);
}

/* Rafters gain 1/32 an inch: 77 1/2 up, rafter 3 has its far face at 64 3/4 + 2.421875, and the
 * bore is that much nearer to it. */
static void bore_beside_a_leaning_rafter(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.lean = 1.0 / 32;
    knobs.pipe_count = 2;
    trial_rebuild(trial, &knobs);
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), PLAIN_BAY - 2.421875);
    hole(trial, HOT)->x = 76 + 2.421875 - PLAIN_BAY;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), 0);
    hole(trial, HOT)->y += 32 * TICK;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), -TICK);
}

/* Of faces that lean toward each other, each counts at the bore's height: 100 up, rafter 4's near
 * one is at 87 1/4 - 5 with 1/20 an inch. */
static void bore_between_rafters_that_run_together(void **state) {
    struct trial *trial = *state;
    trial->roof->rafters[3].lean = -0.05;
    hole(trial, HOT)->y = 100;
    hole(trial, HOT)->x = 82.25 - 1.5625;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), 0);
    hole(trial, HOT)->x += TICK;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), -TICK);
}

/* Beyond the last rafter, and on a face without any, there is nothing to hit. */
static void bore_beyond_the_last_rafter(void **state) {
    struct trial *trial = *state;
    hole(trial, HOT)->x = 328.75 + 1.5625;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), 0);
    hole(trial, HOT)->x += 20;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_BAY), 20);
    trial->roof->rafter_count = 0;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_true(held_margin(verdict, hot(RULE_PIPE_BAY)) >= 1e6);
    verdict_free(verdict);
}

/* The strut's lower side is at 105 3/8 - 7/8 = 104 1/2; 11/16 + 3/4 below it. */
static void bore_below_its_own_strut(void **state) {
    struct trial *trial = *state;
    struct finding pair = bore_and_strut(0, ROW_TOP);
    expect_margin(trial->roof, trial->marks, pair, 104.5 - 77.5 - 1.4375);
    hole(trial, HOT)->y = 104.5 - 1.4375;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, HOT)->y += TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK);
}

/* It ends at 113. */
static void bore_past_the_end_of_its_own_strut(void **state) {
    struct trial *trial = *state;
    struct finding pair = bore_and_strut(0, ROW_TOP);
    *hole(trial, HOT) = (struct mark){
        .row = ROW_PIPE, .x = 113 + 1.4375, .y = PLAIN_TOP_Y, .pipe = hole(trial, HOT)->pipe};
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, HOT)->x -= TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK);
}

/* The foot at (64, 43 1/2) takes 62 1/2 ... 65 1/2 and 42 1/2 ... 44 1/2: it may be turned. */
static void bore_on_every_side_of_a_foot(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), 77.5 - 44.5 - 1.4375);
    hole(trial, HOT)->y = 43.5;
    hole(trial, HOT)->x = 65.5 + 1.4375;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), 0);
    hole(trial, HOT)->x -= TICK;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), -TICK);
    hole(trial, HOT)->y = 44.5 + 1.4375;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), 0);
    hole(trial, HOT)->y -= TICK / 2;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), -TICK / 2);
    hole(trial, HOT)->x = 62.5 - 1.4375;
    hole(trial, HOT)->y = 43.5;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), 0);
    hole(trial, HOT)->x += TICK;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), -TICK);
    hole(trial, HOT)->y = 42.5 - 1.4375;
    expect_margin(trial->roof, trial->marks, bore_and_foot(3), 0);
}

/* Lags of a strut are its own, not feet: one finding against the strut, two against feet, one
 * against rafters; for each pipe. */
static void bore_is_held_against_each_thing_once(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    size_t count = 0;
    for (size_t i = 0; i < verdict->count; i++) {
        count += verdict->findings[i].rule == RULE_PIPE_BAY;
    }
    verdict_free(verdict);
    assert_int_equal(count, 2 * 4);
}

static void set_up_two_brackets(struct trial *trial) {
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.pipe_count = 2;
    trial_rebuild(trial, &knobs);
}

/* B's strut runs from 156 1/4.  Hot of A in the middle of its height is 7/8 + 11/16 deep in it, and
 * 3/4 are kept: then B is as short of room as A. */
static void bore_beside_the_strut_of_another_bracket(void **state) {
    struct trial *trial = *state;
    set_up_two_brackets(trial);
    struct finding pair = bore_and_strut(1, ROW_TOP);
    expect_margin(trial->roof, trial->marks, pair, 156.25 - 76 - 1.4375);
    hole(trial, HOT)->y = PLAIN_TOP_Y;
    hole(trial, HOT)->x = 156.25 - 1.4375;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, HOT)->x += 40;
    expect_margin(trial->roof, trial->marks, pair, -(0.875 + 0.6875) - 0.75);
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_true(verdict->forgiveness[1] <= held_margin(verdict, pair));
    verdict_free(verdict);
}

/* B's cold is mark 13; its finding names B first, whose bore it is, and A's strut as the other. */
static void bore_of_the_second_bracket_beside_the_strut_of_the_first(void **state) {
    struct trial *trial = *state;
    set_up_two_brackets(trial);
    struct finding pair = about(RULE_PIPE_BAY, 1, ROW_PIPE, 13);
    pair.other_bracket = 0;
    pair.other_row = ROW_TOP;
    hole(trial, 13)->y = PLAIN_TOP_Y;
    hole(trial, 13)->x = 113 + 1.4375;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, 13)->x -= TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK);
}

/* The port is at (75, 76 3/8), the bore 1 and 1 1/8 off it; 6 along the eave or up the roof are
 * allowed, each by itself. */
static void bore_near_its_port(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_REACH), 4.875);
    const double places[][2] = {{81, 77.5}, {69, 77.5}, {76, 82.375}, {76, 70.375}, {81, 82.375}};
    const double ticks[][2] = {{TICK, 0}, {-TICK, 0}, {0, TICK}, {0, -TICK}, {TICK, TICK}};
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        hole(trial, HOT)->x = places[i][0];
        hole(trial, HOT)->y = places[i][1];
        expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_REACH), 0);
        hole(trial, HOT)->x += ticks[i][0];
        hole(trial, HOT)->y += ticks[i][1];
        expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_REACH), -TICK);
    }
}

/* The port moves with its bracket. */
static void bracket_moved_away_from_a_bore(void **state) {
    struct trial *trial = *state;
    trial->marks->brackets[0].x -= 5;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_REACH), 0);
    trial->marks->brackets[0].x -= TICK;
    expect_margin(trial->roof, trial->marks, hot(RULE_PIPE_REACH), -TICK);
}

/* Course 13 begins at 73 1/2: the lower edge is at 77 1/2 - 3 1/2 = 74, the block ends 7/8 above
 * the hole, the next edge is at 79 1/8, the one after at 84 3/4, and 12 in from 74 are 86. */
static void flashing_of_its_own_on_a_course_of_its_own(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->seats[HOT].course, PLAIN_PIPE_COURSE);
    assert_true(verdict->seats[HOT].ply == SIZE_MAX && verdict->seats[HOT].leg == SIZE_MAX);
    assert_null(held_find(verdict, hot(RULE_WOOD)));
    assert_null(held_find(verdict, hot(RULE_FOOT_REACH)));
    verdict_free(verdict);
    expect_margin(trial->roof, trial->marks, hot(RULE_COURSE_EDGE), 0.375);
    expect_margin(trial->roof, trial->marks, hot(RULE_COURSE_BLOCK),
                  79.125 - 0.25 - 78.375 - 0.125);
    expect_margin(trial->roof, trial->marks, hot(RULE_LAP), 86 - 84.75 - 0.5 - 0.125);
    trial->roof->pipes[0].flashing.block = 1.25;
    expect_margin(trial->roof, trial->marks, hot(RULE_COURSE_BLOCK), 0);
    trial->roof->pipes[0].flashing.height = 11.375;
    expect_margin(trial->roof, trial->marks, hot(RULE_LAP), 0);
    trial->roof->pipes[0].flashing.hole_up = 3.125;
    expect_margin(trial->roof, trial->marks, hot(RULE_COURSE_EDGE), 0);
    trial->roof->pipes[0].flashing.hole_up -= TICK;
    expect_margin(trial->roof, trial->marks, hot(RULE_COURSE_EDGE), -TICK);
}

/* Two pipes of one bracket need not share a line. */
static void pipes_of_a_bracket_on_different_courses(void **state) {
    struct trial *trial = *state;
    hole(trial, COLD)->y -= 5.625;
    expect_broken(trial->roof, trial->marks, "");
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->seats[HOT].course, PLAIN_PIPE_COURSE);
    assert_int_equal(verdict->seats[COLD].course, PLAIN_PIPE_COURSE - 1);
    verdict_free(verdict);
}

/* A flashing of 152 reaches from 76 - 76 to 228: it just fits to the near rake. */
static void flashing_of_its_own_on_the_face(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, hot(RULE_SETBACK), 71.5);
    trial->roof->pipes[0].flashing.width = 152;
    expect_margin(trial->roof, trial->marks, hot(RULE_SETBACK), 0);
    trial->roof->pipes[0].flashing.width += 2 * TICK;
    expect_margin(trial->roof, trial->marks, hot(RULE_SETBACK), -TICK);
}

/* It ends at 80 1/2; a flange from 83 1/2 on is 3 in away. */
static void flashing_of_its_own_beside_a_vent(void **state) {
    struct trial *trial = *state;
    trial->roof->vent_count = 1;
    trial->roof->vents[0] = (struct vent){
        .kind = VENT_BLANK, .flange = {83.5, 70, 90, 80}, .keep_flashing = 3, .tall = 1};
    struct finding pair = hot(RULE_VENT_FLASHING);
    pair.vent = 0;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, HOT)->x += TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK);
}

/* 24 in apart, 9 wide. */
static void flashings_of_two_pipes(void **state) {
    struct trial *trial = *state;
    struct finding pair = hot(RULE_APART);
    pair.other_bracket = 0;
    pair.other_mark = COLD;
    expect_margin(trial->roof, trial->marks, pair, 7.5);
    trial->roof->pipes[1].flashing.width = 24;
    expect_margin(trial->roof, trial->marks, pair, 3.75);
    hole(trial, COLD)->x = 76 + 16.5;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, COLD)->x -= TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK / 2);
}

/* The lag at (88, 105 3/8) has its flashing from 83 1/2 on and from 102 1/8 up; hot's ends at 80
 * 1/2 and 86. */
static void flashing_of_a_pipe_and_of_a_lag(void **state) {
    struct trial *trial = *state;
    struct finding pair = about(RULE_APART, 0, ROW_TOP, 1);
    pair.other_bracket = 0;
    pair.other_mark = HOT;
    expect_margin(trial->roof, trial->marks, pair, 16.125 / 2);
    hole(trial, HOT)->x = 88;
    hole(trial, HOT)->y = 77.5 + 16.125;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, HOT)->y += TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK / 2);
}

/* B stands from 146 1/2 on: cold of A at 142 just touches it with its flashing. */
static void flashing_of_a_pipe_and_another_bracket(void **state) {
    struct trial *trial = *state;
    set_up_two_brackets(trial);
    struct finding pair = about(RULE_APART, 0, ROW_PIPE, COLD);
    pair.other_bracket = 1;
    expect_margin(trial->roof, trial->marks, pair, (146.5 - 104.5) / 2);
    hole(trial, COLD)->x = 142;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, COLD)->x += 2 * TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK);
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_true(verdict->forgiveness[1] <= -TICK);
    verdict_free(verdict);
}

/* A ends at 122 1/2: hot of B, mark 12, at 127. */
static void flashing_of_a_pipe_of_the_second_bracket_and_the_first(void **state) {
    struct trial *trial = *state;
    set_up_two_brackets(trial);
    struct finding pair = about(RULE_APART, 0, CHECK_NONE, CHECK_NONE);
    pair.other_bracket = 1;
    pair.other_mark = 12;
    expect_margin(trial->roof, trial->marks, pair, (167.5 - 122.5) / 2);
    hole(trial, 12)->x = 127;
    expect_margin(trial->roof, trial->marks, pair, 0);
    hole(trial, 12)->x -= TICK;
    expect_margin(trial->roof, trial->marks, pair, -TICK / 2);
}

/* Hot under its own bracket is no finding; only the seven flashings are pairs. */
static void pipe_may_lie_under_its_own_bracket(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    size_t count = 0;
    for (size_t i = 0; i < verdict->count; i++) {
        count += verdict->findings[i].rule == RULE_APART;
    }
    verdict_free(verdict);
    assert_int_equal(count, 7 * 6 / 2);
}

static void each_pipe_once_is_complete(void **state) {
    struct trial *trial = *state;
    expect_margin(trial->roof, trial->marks, hot(RULE_COMPLETE), 0);
    expect_margin(trial->roof, trial->marks, about(RULE_COMPLETE, 0, ROW_PIPE, COLD), 0);
}

static void missing_pipe_is_one_too_few(void **state) {
    struct trial *trial = *state;
    trial_drop(trial, HOT);
    expect_margin(trial->roof, trial->marks, about(RULE_COMPLETE, 0, ROW_PIPE, CHECK_NONE), -1);
    expect_broken(trial->roof, trial->marks, "complete");
}

/* Both holes hot's: one too many of it, one too few of cold, 24 in off the port. */
static void doubled_pipe_is_one_too_many(void **state) {
    struct trial *trial = *state;
    hole(trial, COLD)->pipe = 0;
    expect_margin(trial->roof, trial->marks, hot(RULE_COMPLETE), -1);
    expect_margin(trial->roof, trial->marks, about(RULE_COMPLETE, 0, ROW_PIPE, CHECK_NONE), -1);
    expect_broken(trial->roof, trial->marks, "pipe-reach complete");
}

/* A leg at 113 1/2 has its clamp at 112 1/4, too near to the lag at 112, or at 114 3/4: the strut
 * ends at 115 3/4.  With 1/8 to keep off lags either will do, and a bore at 116 5/8 decides for the
 * shorter strut, which ends at 113 1/4. */
static void bore_decides_on_which_side_of_its_leg_a_clamp_is(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].legs[1] = 63;
    hole(trial, HOT)->x = 116.625;
    hole(trial, HOT)->y = PLAIN_TOP_Y;
    expect_margin(trial->roof, trial->marks, bore_and_strut(0, ROW_TOP),
                  116.625 - 0.6875 - 115.75 - 0.75);
    trial->roof->kits[0].lag_clear = 0.125;
    expect_margin(trial->roof, trial->marks, bore_and_strut(0, ROW_TOP),
                  116.625 - 0.6875 - 113.25 - 0.75);
}

int main(void) {
#define WITH_PIPES(test) cmocka_unit_test_setup_teardown(test, trial_set_up_pipes, trial_tear_down)
    const struct CMUnitTest tests[] = {
        WITH_PIPES(pipes_in_their_bays_hold),
        WITH_PIPES(bore_beside_a_rafter),
        WITH_PIPES(bore_into_a_rafter),
        WITH_PIPES(bore_minds_rafters_that_are_not_sound),
        WITH_PIPES(bore_minds_every_ply),
        WITH_PIPES(bore_minds_how_well_each_rafter_is_known),
        WITH_PIPES(bore_beside_a_leaning_rafter),
        WITH_PIPES(bore_between_rafters_that_run_together),
        WITH_PIPES(bore_beyond_the_last_rafter),
        WITH_PIPES(bore_below_its_own_strut),
        WITH_PIPES(bore_past_the_end_of_its_own_strut),
        WITH_PIPES(bore_on_every_side_of_a_foot),
        WITH_PIPES(bore_is_held_against_each_thing_once),
        WITH_PIPES(bore_beside_the_strut_of_another_bracket),
        WITH_PIPES(bore_of_the_second_bracket_beside_the_strut_of_the_first),
        WITH_PIPES(bore_near_its_port),
        WITH_PIPES(bracket_moved_away_from_a_bore),
        WITH_PIPES(flashing_of_its_own_on_a_course_of_its_own),
        WITH_PIPES(pipes_of_a_bracket_on_different_courses),
        WITH_PIPES(flashing_of_its_own_on_the_face),
        WITH_PIPES(flashing_of_its_own_beside_a_vent),
        WITH_PIPES(flashings_of_two_pipes),
        WITH_PIPES(flashing_of_a_pipe_and_of_a_lag),
        WITH_PIPES(flashing_of_a_pipe_and_another_bracket),
        WITH_PIPES(flashing_of_a_pipe_of_the_second_bracket_and_the_first),
        WITH_PIPES(pipe_may_lie_under_its_own_bracket),
        WITH_PIPES(each_pipe_once_is_complete),
        WITH_PIPES(missing_pipe_is_one_too_few),
        WITH_PIPES(doubled_pipe_is_one_too_many),
        WITH_PIPES(bore_decides_on_which_side_of_its_leg_a_clamp_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
