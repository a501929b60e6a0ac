/* Rounding a layout to the tape: plain rounding, and the search where that loses something. */
#include "check.h"
#include "layout.h"
#include "length.h"
#include "round_brute.h"
#include "round_sample.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#define assert_near(found, wanted, tolerance)                                                      \
    do {                                                                                           \
        const double found_ = (found), wanted_ = (wanted);                                         \
        if (!(fabs(found_ - wanted_) <= (tolerance)))                                              \
            fail_msg("%s: %.9f, wanted %.9f", #found, found_, wanted_);                            \
    } while (0)

/* Marks of a layout rounded from one rake; freed by the caller. */
static struct marks *rounded(const struct roof *roof, const struct layout *layout, enum side from,
                             bool *obeyed) {
    struct marks *marks = NULL;
    assert_int_equal(layout_round(roof, layout, from, &marks, obeyed), OUTCOME_DONE);
    assert_non_null(marks);
    return marks;
}

static double ticks_off(const struct roof *roof, double reading) {
    const double ticks = reading / roof->tape;
    return fabs(ticks - nearbyint(ticks));
}

/* Every reading is a whole tick, and the marks of a row share one y. */
static void assert_on_tape(const struct roof *roof, const struct marks *marks, enum side from) {
    for (size_t b = 0; b < marks->bracket_count; b++) {
        const struct standing *at = &marks->brackets[b];
        assert_near(ticks_off(roof, at->y), 0, 1e-6);
        assert_near(ticks_off(roof, roof_reading(roof, from, at->x, at->y)), 0, 1e-6);
    }
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *mark = &marks->list[i];
        assert_near(ticks_off(roof, mark->y), 0, 1e-6);
        assert_near(ticks_off(roof, roof_reading(roof, from, mark->x, mark->y)), 0, 1e-6);
        if (i > 0 && mark->bracket == mark[-1].bracket && mark->row == mark[-1].row)
            assert_true(mark->y == mark[-1].y);
    }
}

static void assert_same(const struct marks *found, const struct marks *wanted) {
    assert_int_equal(found->count, wanted->count);
    for (size_t b = 0; b < wanted->bracket_count; b++) {
        assert_near(found->brackets[b].x, wanted->brackets[b].x, 1e-9);
        assert_near(found->brackets[b].y, wanted->brackets[b].y, 1e-9);
    }
    for (size_t i = 0; i < wanted->count; i++) {
        assert_near(found->list[i].x, wanted->list[i].x, 1e-9);
        assert_near(found->list[i].y, wanted->list[i].y, 1e-9);
    }
}

/* How a run over random roofs went, so that a test can tell that it met every case. */
struct tally {
    size_t searched, plain, misses, lost, kept_off_plain;
};

/* Rounds one random roof and holds it against brute force. */
static void against_brute(enum sample_kind kind, struct dice *dice, struct tally *tally) {
    struct sample sample;
    struct marks *exact = sample_random(&sample, kind, dice);
    const enum side from = dice_below(dice, 2) == 0 ? SIDE_NEAR : SIDE_FAR;
    struct layout *layout = round_layout(&sample.roof, exact);
    size_t tried;
    struct marks *wanted = round_brute(&sample.roof, layout, from, &tried);
    bool obeyed;
    struct marks *found = rounded(&sample.roof, layout, from, &obeyed);
    const struct rank rank =
        round_rank(&sample.roof, layout, found, round_away(&sample.roof, layout, from, found));
    assert_on_tape(&sample.roof, found, from);
    const struct rank best =
        round_rank(&sample.roof, layout, wanted, round_away(&sample.roof, layout, from, wanted));
    /* Of readings that are equal in the whole order, groups of brackets may take other ones than a
     * search over all brackets at once would. */
    assert_int_equal(round_rank_compare(&rank, &best), 0);
    if (kind != SAMPLE_NEIGHBOURS)
        assert_same(found, wanted);
    assert_int_equal(obeyed, rank.holds);
    tally->searched += tried > 0;
    tally->plain += tried == 0;
    tally->misses += tried > 0 && layout->forgiveness < -1e-6;
    tally->lost += tried > 0 && layout->forgiveness >= -1e-6 && !obeyed;
    tally->kept_off_plain += tried > 0 && obeyed;
    marks_free(found);
    marks_free(wanted);
    round_layout_free(layout);
    marks_free(exact);
}

static void feet_agree_with_brute_force(void **state) {
    (void)state;
    struct dice dice = {20240611};
    struct tally tally = {0};
    for (int i = 0; i < 120; i++)
        against_brute(SAMPLE_FEET, &dice, &tally);
    assert_true(tally.searched == 120 && tally.misses >= 20);
}

static void struts_agree_with_brute_force(void **state) {
    (void)state;
    struct dice dice = {77};
    struct tally tally = {0};
    for (int i = 0; i < 120; i++)
        against_brute(SAMPLE_STRUT, &dice, &tally);
    assert_true(tally.searched == 120 && tally.misses >= 20);
}

static void complete_brackets_agree_with_brute_force(void **state) {
    (void)state;
    struct dice dice = {5};
    struct tally tally = {0};
    for (int i = 0; i < 40; i++)
        against_brute(SAMPLE_ONE_LEG, &dice, &tally);
    assert_true(tally.plain >= 3 && tally.misses >= 3 && tally.kept_off_plain >= 3);
}

static void neighbours_agree_with_brute_force(void **state) {
    (void)state;
    struct dice dice = {9};
    struct tally tally = {0};
    for (int i = 0; i < 20; i++)
        against_brute(SAMPLE_NEIGHBOURS, &dice, &tally);
    assert_true(tally.searched == 20);
}

/* Rafters at 64 and 112 (plies 2 and 4), legs 48 apart, all feet turned far: with X = 50.5 every
 * foot is in the middle of its slot and its ply.  Y = 40; rows in the middle of courses 8
 * (y = 49 1/8) and 19 (y = 111), 9 1/8 and 71 up the bracket.  Wood is least, with
 * 3/4 - 15/32 - 1/8 = 5/32 to spare: more than `enough`, 1/8.  Every figure is a whole 1/8. */
static struct marks *build_feet(struct sample *sample) {
    struct marks *marks = NULL;
    sample_build(sample, 24, 1);
    sample->brackets[0].want_x = 50.5;
    sample->brackets[0].want_y = 40;
    assert_int_equal(marks_new(1, 4, &marks), OUTCOME_DONE);
    marks->count = 0;
    marks->brackets[0] =
        (struct standing){50.5, 40, {[ROW_TOP] = HARDWARE_FEET, [ROW_BOTTOM] = HARDWARE_FEET}};
    sample_mark(marks, 0, ROW_TOP, 64, sample_middle(sample, 19));
    sample_mark(marks, 0, ROW_TOP, 112, sample_middle(sample, 19));
    sample_mark(marks, 0, ROW_BOTTOM, 64, sample_middle(sample, 8));
    sample_mark(marks, 0, ROW_BOTTOM, 112, sample_middle(sample, 8));
    return marks;
}

/* A hair off the ticks, plain rounding goes back to them and keeps 1/8 of forgiveness. */
static void plain_rounding_is_taken_where_it_loses_nothing(void **state) {
    (void)state;
    struct sample sample;
    struct marks *exact = build_feet(&sample), *wanted = NULL;
    assert_int_equal(marks_copy(exact, &wanted), OUTCOME_DONE);
    exact->brackets[0].x += 0.02;
    exact->list[1].x -= 0.01;
    exact->list[2].y += 0.03;
    exact->list[3].y += 0.03;
    struct layout *layout = round_layout(&sample.roof, exact);
    bool obeyed = false;
    struct marks *found = rounded(&sample.roof, layout, SIDE_NEAR, &obeyed);
    assert_same(found, wanted);
    assert_true(obeyed);
    marks_free(found);
    marks_free(wanted);
    round_layout_free(layout);
    marks_free(exact);
}

/* On a tape of 1/4 a lag at 64.15 (wood: 0.15625 - 0.15 left) rounds to 64 1/4, out of the wood.
 * The best reading is 64, in the middle: forgiveness is back at 1/8.  y = 49 1/8 lies between 49
 * and 49 1/4, equally far: plain rounding is to even (49 = 196 quarters), and so is the smaller. */
static void lag_rounded_out_of_the_wood_is_brought_back(void **state) {
    (void)state;
    struct sample sample;
    struct marks *exact = build_feet(&sample), *wanted = NULL;
    sample.roof.tape = 0.25;
    assert_int_equal(marks_copy(exact, &wanted), OUTCOME_DONE);
    exact->list[2].x = 64.15;
    wanted->list[2].y = wanted->list[3].y = 49;
    struct layout *layout = round_layout(&sample.roof, exact);
    assert_near(layout->forgiveness, 0.00625, 1e-9);
    bool obeyed = false;
    struct marks *found = rounded(&sample.roof, layout, SIDE_NEAR, &obeyed);
    assert_same(found, wanted);
    assert_true(obeyed);
    marks_free(found);
    marks_free(wanted);
    round_layout_free(layout);
    marks_free(exact);
}

/* A strut with lags at 64, 88 and 112 on top; `enough` is 0.15, so that they may not leave the
 * middle of their plies.  Each clamp must be 1.51 from its lag, so both, at X + 13 1/4 and X + 61
 * 1/4, ask for X >= 52.26; there the layout stands, wanted there too. Slots of 2 let the feet below
 * follow (slip 52.26 + 10 1/2 - 64 = -1.24). */
static struct marks *build_strut(struct sample *sample) {
    struct marks *marks = NULL;
    sample_build(sample, 24, 1);
    sample->roof.enough = 0.15;
    sample->kit.lag_clear = 1.51;
    sample->kit.foot_slot = 2;
    sample->brackets[0].hardware[ROW_TOP] = HARDWARE_STRUT;
    sample->brackets[0].want_x = 52.26;
    sample->brackets[0].want_y = 40;
    assert_int_equal(marks_new(1, 5, &marks), OUTCOME_DONE);
    marks->count = 0;
    marks->brackets[0] =
        (struct standing){52.26, 40, {[ROW_TOP] = HARDWARE_STRUT, [ROW_BOTTOM] = HARDWARE_FEET}};
    for (size_t i = 0; i < 3; i++)
        sample_mark(marks, 0, ROW_TOP, 64 + 24 * (double)i, sample_middle(sample, 19));
    sample_mark(marks, 0, ROW_BOTTOM, 64, sample_middle(sample, 8));
    sample_mark(marks, 0, ROW_BOTTOM, 112, sample_middle(sample, 8));
    return marks;
}

static void round_strut_to(double tape, double wanted_x) {
    struct sample sample;
    struct marks *exact = build_strut(&sample);
    sample.roof.tape = tape;
    struct layout *layout = round_layout(&sample.roof, exact);
    assert_near(layout->forgiveness, 0.15, 1e-9);
    bool obeyed = false;
    struct marks *found = rounded(&sample.roof, layout, SIDE_NEAR, &obeyed);
    assert_true(obeyed);
    assert_near(found->brackets[0].x, wanted_x, 1e-9);
    for (size_t i = 0; i < exact->count; i++)
        assert_near(found->list[i].x, exact->list[i].x, 1e-9);
    marks_free(found);
    round_layout_free(layout);
    marks_free(exact);
}

/* Plain rounding to 52 1/4 leaves the clamps 0.01 short.  52 5/16 would do and is moved least, but
 * leaves 0.0525, less than a tick; 52 3/8 leaves 0.115. */
static void clamp_with_a_tick_to_spare_comes_before_a_shorter_move(void **state) {
    (void)state;
    round_strut_to(1.0 / 16, 52.375);
}

/* On a tape of 1/32, 52.26 rounds to 52 1/4 and two ticks further lies 52 5/16: 0.0525, more than a
 * tick.  52 9/32 leaves 0.02125. */
static void two_ticks_are_as_far_as_a_reading_goes(void **state) {
    (void)state;
    round_strut_to(1.0 / 32, 52.3125);
}

/* Rafters in the middle between inch marks, with room for 5/32 to either side: on a tape with
 * inches only no lag is in sound wood.  All four are 1/2 - 5/32 short at best; hard rules hold and
 * targets stay. */
static void no_reading_of_a_coarse_tape_obeys(void **state) {
    (void)state;
    struct sample sample;
    struct marks *exact = build_feet(&sample);
    for (size_t i = 0; i < sample.roof.ply_count; i++)
        sample.plies[i].at += 0.5;
    for (size_t i = 0; i < exact->count; i++)
        exact->list[i].x += 0.5;
    exact->brackets[0].x += 0.5;
    sample.roof.tape = 1;
    struct layout *layout = round_layout(&sample.roof, exact);
    assert_near(layout->forgiveness, 0.125, 1e-9);
    bool obeyed = true;
    struct marks *found = rounded(&sample.roof, layout, SIDE_NEAR, &obeyed);
    assert_false(obeyed);
    assert_on_tape(&sample.roof, found, SIDE_NEAR);
    const struct rank rank = round_rank(&sample.roof, layout, found, 0);
    assert_true(rank.keeps);
    assert_near(rank.figures[0], 0, 0);
    assert_near(rank.figures[1], -0.34375, 1e-9);
    marks_free(found);
    round_layout_free(layout);
    marks_free(exact);
}

/* From the far rake of a face 360.03 wide a lag at 64 reads 296.03, rounded 296: x is 64.03. */
static void readings_from_the_far_rake_are_whole_ticks(void **state) {
    (void)state;
    struct sample sample;
    struct marks *exact = build_feet(&sample);
    sample.roof.width = 360.03;
    sample.edges[3].offset = -360.03;
    struct layout *layout = round_layout(&sample.roof, exact);
    bool obeyed = false;
    struct marks *found = rounded(&sample.roof, layout, SIDE_FAR, &obeyed);
    assert_true(obeyed);
    assert_on_tape(&sample.roof, found, SIDE_FAR);
    assert_near(found->list[0].x, 64.03, 1e-9);
    assert_near(found->list[3].x, 112.03, 1e-9);
    marks_free(found);
    round_layout_free(layout);
    marks_free(exact);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_rounding_is_taken_where_it_loses_nothing),
        cmocka_unit_test(lag_rounded_out_of_the_wood_is_brought_back),
        cmocka_unit_test(clamp_with_a_tick_to_spare_comes_before_a_shorter_move),
        cmocka_unit_test(two_ticks_are_as_far_as_a_reading_goes),
        cmocka_unit_test(no_reading_of_a_coarse_tape_obeys),
        cmocka_unit_test(readings_from_the_far_rake_are_whole_ticks),
        cmocka_unit_test(feet_agree_with_brute_force),
        cmocka_unit_test(struts_agree_with_brute_force),
        cmocka_unit_test(complete_brackets_agree_with_brute_force),
        cmocka_unit_test(neighbours_agree_with_brute_force),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
