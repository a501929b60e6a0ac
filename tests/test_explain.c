/* How far a hole or a frame could move, on random layouts and on the plain roof, every one, every
 * way; and what keeps a frame from where it was wanted. */
#include "explain.h"
#include "figures.h"
#include "held.h"
#include "judged.h"
#include "random_trial.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

enum { LAYOUTS = 100 };

struct tally {
    size_t layouts, broken, moves, never;
};

/* The marks with one hole moved; up and down its whole line goes with it.  A mover of the test's
 * own. */
static struct marks *moved(const struct marks *marks, size_t mark, enum way way, double by) {
    static const double along[WAY_COUNT] = {[WAY_NEAR] = -1, [WAY_FAR] = 1};
    static const double up[WAY_COUNT] = {[WAY_UP] = 1, [WAY_DOWN] = -1};
    struct marks *copy = NULL;
    assert_int_equal(marks_copy(marks, &copy), OUTCOME_DONE);
    copy->list[mark].x += along[way] * by;
    for (size_t i = 0; i < copy->count; i++)
        if (i == mark ||
            (copy->list[mark].row != ROW_PIPE && copy->list[i].row == copy->list[mark].row &&
             copy->list[i].bracket == copy->list[mark].bracket))
            copy->list[i].y += up[way] * by;
    return copy;
}

/* The finding about the same thing; NULL where the moved marks have none. */
static const struct finding *again(const struct verdict *verdict, const struct finding *finding) {
    return held_find(verdict, *finding);
}

/* Everything that held still holds, and nothing broken got worse. */
static void keeps(const struct roof *roof, const struct marks *marks, const struct verdict *before,
                  uint64_t seed) {
    struct verdict *verdict = held(roof, marks);
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        const struct finding *was = again(before, finding);
        if (length_holds(finding->margin))
            continue;
        if (was == NULL || !(finding->margin >= was->margin - LENGTH_TOLERANCE))
            fail_msg("seed %llu: %s breaks on the way", (unsigned long long)seed,
                     check_rule_name(finding->rule));
    }
    verdict_free(verdict);
}

/* The rule named does not hold there, or is broken by more than it was. */
static void breaks(const struct roof *roof, const struct marks *marks, const struct verdict *before,
                   const struct finding *named, uint64_t seed) {
    struct verdict *verdict = held(roof, marks);
    const struct finding *finding = again(verdict, named), *was = again(before, named);
    if (finding == NULL || length_holds(finding->margin) ||
        (was != NULL && !length_holds(was->margin) && !(finding->margin < was->margin)))
        fail_msg("seed %llu: %s does not break one tick further", (unsigned long long)seed,
                 check_rule_name(named->rule));
    verdict_free(verdict);
}

/* The marks with one frame moved, its holes where they are. */
static struct marks *moved_frame(const struct marks *marks, size_t frame, enum way way, double by) {
    struct marks *copy = NULL;
    assert_int_equal(marks_copy(marks, &copy), OUTCOME_DONE);
    copy->brackets[frame].x += way == WAY_FAR ? by : way == WAY_NEAR ? -by : 0;
    copy->brackets[frame].y += way == WAY_UP ? by : way == WAY_DOWN ? -by : 0;
    return copy;
}

typedef struct marks *mover(const struct marks *marks, size_t which, enum way way, double by);

static void try_move(const struct roof *roof, const struct marks *marks, mover *go,
                     const struct verdict *verdict, const struct moves *moves, size_t mark,
                     enum way way, uint64_t seed, struct tally *tally) {
    const struct move *move = &moves[mark].way[way];
    struct marks *there = go(marks, mark, way, move->by);
    keeps(roof, there, verdict, seed);
    marks_free(there);
    tally->moves++;
    if (move->stopped == STOPPED_NEVER) {
        tally->never++;
        return;
    }
    assert_int_equal(move->stopped, STOPPED_RULE);
    there = go(marks, mark, way, move->by + roof->tape);
    breaks(roof, there, verdict, &move->finding, seed);
    marks_free(there);
}

static void try_layout(const struct roof *roof, const struct marks *marks, uint64_t seed,
                       struct tally *tally) {
    struct verdict *verdict = held(roof, marks);
    struct moves *moves = NULL;
    assert_int_equal(explain_moves(roof, marks, verdict, NULL, SIZE_MAX, 60, &moves), OUTCOME_DONE);
    for (size_t i = 0; i < marks->count; i++)
        for (int way = 0; way < WAY_COUNT; way++)
            try_move(roof, marks, moved, verdict, moves, i, (enum way)way, seed, tally);
    free(moves);
    assert_int_equal(explain_frame_moves(roof, marks, verdict, NULL, SIZE_MAX, 60, &moves),
                     OUTCOME_DONE);
    for (size_t i = 0; i < marks->bracket_count; i++)
        for (int way = 0; way < WAY_COUNT; way++)
            try_move(roof, marks, moved_frame, verdict, moves, i, (enum way)way, seed, tally);
    free(moves);
    tally->layouts++;
    tally->broken += !verdict->holds;
    verdict_free(verdict);
}

/* One more random roof; impossible ones are passed over. */
static void try_roof(const char *folder, struct random_knobs knobs, struct tally *tally) {
    struct random_roof made;
    random_roof_make(&knobs, &made);
    struct roof *roof =
        random_roof_read(&made, knobs.seed % 5 == 4 ? RANDOM_MM : RANDOM_PLAIN, folder, NULL);
    struct layout *layout = random_layout(roof, 10, knobs.seed);
    if (layout->marks != NULL) {
        struct marks *marks = NULL;
        bool obeyed = false;
        assert_int_equal(layout_round(roof, layout, SIDE_NEAR, &marks, &obeyed), OUTCOME_DONE);
        try_layout(roof, marks, knobs.seed, tally);
        marks_free(marks);
    }
    layout_free(layout);
    roof_free(roof);
}

static void moving_as_far_as_said_keeps_every_rule_and_a_tick_more_breaks_one(void **state) {
    static const struct random_knobs sets[] = {
        {.brackets = 1, .small = true, .vents = 2, .sisters = true, .unsound = true},
        {.brackets = 1, .small = true, .rows = RANDOM_ROWS_SPAN, .sisters = true},
        {.brackets = 1, .small = true, .uneven = true, .piped = true, .vents = 1},
        {.brackets = 1, .vents = 2, .bonded = true, .right = true},
        {.brackets = 1, .small = true, .narrow = true, .unsound = true},
        {.brackets = 2, .rows = RANDOM_ROWS_FEET, .vents = 1},
    };
    enum { SETS = sizeof sets / sizeof *sets };
    struct tally tally = {0};
    const size_t wanted = random_roof_count(LAYOUTS);
    for (uint64_t seed = 0; tally.layouts < wanted; seed++) {
        struct random_knobs knobs = sets[seed % SETS];
        knobs.seed = 700000 + seed;
        try_roof(*state, knobs, &tally);
    }
    print_message("%zu layouts, %zu of them closest fits, %zu moves, %zu without an end\n",
                  tally.layouts, tally.broken, tally.moves, tally.never);
}

static struct moves *plain_moves(const struct trial *trial) {
    struct verdict *verdict = held(trial->roof, trial->marks);
    struct moves *moves = NULL;
    assert_int_equal(explain_moves(trial->roof, trial->marks, verdict, NULL, SIZE_MAX, 60, &moves),
                     OUTCOME_DONE);
    verdict_free(verdict);
    return moves;
}

static void expect_move(const struct move *move, double by, enum rule rule) {
    assert_int_equal(move->stopped, STOPPED_RULE);
    assert_int_equal(move->finding.rule, rule);
    expect_figure("a move", "by hand", move->by, by, 2e-6);
}

/* The plain marks by hand.  Sideways a lag has 3/4 - 15/32 - 1/8 = 5/32.  Its line may go up until
 * its flashing sits 1 above the butt edge less the courses' 1/8, and is 1/2 above it now: 3/8; down
 * until it is 1/8 above it: 3/8. */
static void plain_marks_move_as_reckoned_by_hand(void **state) {
    struct trial *trial = *state;
    struct moves *moves = plain_moves(trial);
    for (size_t i = 0; i < trial->marks->count; i++) {
        expect_move(&moves[i].way[WAY_NEAR], PLAIN_LEAST, RULE_WOOD);
        expect_move(&moves[i].way[WAY_FAR], PLAIN_LEAST, RULE_WOOD);
        expect_move(&moves[i].way[WAY_UP], 0.375, RULE_COURSE_EDGE);
        expect_move(&moves[i].way[WAY_DOWN], 0.375, RULE_COURSE_EDGE);
    }
    free(moves);
}

/* The plain frame by hand, its holes where they are.  Sideways its feet have 3/4 of slot.  Up and
 * down its top line, 73 up the legs, has 3 to either end of 70 to 76; the lower one has more. */
static void plain_frame_moves_as_reckoned_by_hand(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    struct moves *moves = NULL;
    assert_int_equal(
        explain_frame_moves(trial->roof, trial->marks, verdict, NULL, SIZE_MAX, 60, &moves),
        OUTCOME_DONE);
    expect_move(&moves[0].way[WAY_NEAR], 0.75, RULE_FOOT_REACH);
    expect_move(&moves[0].way[WAY_FAR], 0.75, RULE_FOOT_REACH);
    expect_move(&moves[0].way[WAY_UP], 3, RULE_ROW);
    expect_move(&moves[0].way[WAY_DOWN], 3, RULE_ROW);
    free(moves);
    verdict_free(verdict);
}

static struct wish first_wish(const struct trial *trial) {
    struct wish *wishes = NULL;
    assert_int_equal(explain_wishes(trial->roof, trial->marks, &wishes), OUTCOME_DONE);
    const struct wish wish = wishes[0];
    free(wishes);
    return wish;
}

/* Where it is wanted the plain frame breaks no rule of its own.  Wanted beyond the rake by 5, it
 * lacks those and the setback; on the vent, that is in its way; of both, whatever lacks more. */
static void what_is_broken_at_the_wish_is_named(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.vent_count = 1;
    trial_rebuild(trial, &knobs);
    struct bracket *bracket = &trial->roof->brackets[0];
    assert_false(first_wish(trial).broken);
    bracket->want_x = -5;
    assert_true(first_wish(trial).broken);
    assert_int_equal(first_wish(trial).finding.rule, RULE_SETBACK);
    const double setback = trial_edge(trial, EDGE_NEAR)->setback;
    expect_figure("off the roof", "by hand", first_wish(trial).finding.margin, -5 - setback, 1e-9);
    bracket->want_x = 280;
    bracket->want_y = 80;
    assert_int_equal(first_wish(trial).finding.rule, RULE_VENT_BRACKET);
    assert_int_equal(first_wish(trial).finding.vent, 0);
    bracket->want_x = 300 + 100;
    assert_int_equal(first_wish(trial).finding.rule, RULE_SETBACK);
}

/* A is wanted where B stands. */
static void another_frame_at_the_wish_is_named(void **state) {
    struct trial *trial = *state;
    trial->roof->brackets[0].want_x = trial->marks->brackets[1].x;
    trial->roof->brackets[0].want_y = trial->marks->brackets[1].y;
    const struct finding finding = first_wish(trial).finding;
    assert_true(first_wish(trial).broken);
    assert_int_equal(finding.rule, RULE_APART);
    assert_int_equal(finding.bracket + finding.other_bracket, 1);
}

/* Slot 1/8 only: the foot at slip 0 stops at its slot, before its wood. */
static void short_slot_stops_a_foot_before_its_wood_does(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].foot_slot = 0.125;
    struct moves *moves = plain_moves(trial);
    expect_move(&moves[3].way[WAY_NEAR], 0.125, RULE_FOOT_REACH);
    expect_move(&moves[3].way[WAY_FAR], 0.125, RULE_FOOT_REACH);
    free(moves);
}

/* A lag 1/4 off its middle has broken wood already, by 3/32: it may go back, across the middle and
 * as far beyond it as it is off now, 1/2 in all; outward it gets worse at once. */
static void broken_hole_may_move_while_it_gets_no_worse(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].foot_slot = 3;
    trial->marks->list[4].x += 0.25;
    struct moves *moves = plain_moves(trial);
    expect_move(&moves[4].way[WAY_FAR], 0, RULE_WOOD);
    assert_int_equal(moves[4].way[WAY_NEAR].stopped, STOPPED_RULE);
    expect_figure("back", "by hand", moves[4].way[WAY_NEAR].by, 0.5, 2e-6);
    free(moves);
}

/* Without time nothing is looked at, and that is what is said. */
static void without_time_no_move_is_made_up(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    struct moves *moves = NULL;
    assert_int_equal(explain_moves(trial->roof, trial->marks, verdict, NULL, SIZE_MAX, 0, &moves),
                     OUTCOME_DONE);
    for (size_t i = 0; i < trial->marks->count; i++)
        for (int way = 0; way < WAY_COUNT; way++)
            assert_int_equal(moves[i].way[way].stopped, STOPPED_UNKNOWN);
    free(moves);
    verdict_free(verdict);
}

static bool still_carries(const struct judged *judged, size_t mark, enum way way, double by) {
    struct marks *there = moved(judged->marks, mark, way, by);
    struct verdict *verdict = held(judged->roof, there);
    struct strength *strength = NULL;
    assert_int_equal(strength_judge(judged->roof, there, verdict, &judged->loads, &strength),
                     OUTCOME_DONE);
    const bool carries = strength->carries;
    strength_free(strength);
    verdict_free(verdict);
    marks_free(there);
    return carries;
}

/* The frame of docs/strength.md, almost without weight and snow, in so much wind that its worst lag
 * is pulled a whisker less than it may be.  Any move that makes it bear more stops there; the judge
 * agrees on both sides. */
static void strength_stops_a_move_that_no_other_rule_does(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged_judge(&judged, OUTCOME_DONE);
    double low = 0, high = 2000;
    judged.loads.snow_psf = 0;
    judged.roof->kits[0].dry_lb = judged.roof->kits[0].filled_lb = 40;
    for (int i = 0; i < 60; i++) {
        judged.loads.uplift_psf = (low + high) / 2;
        judged_judge(&judged, OUTCOME_DONE);
        *(judged.strength->carries ? &low : &high) = judged.loads.uplift_psf;
    }
    judged.loads.uplift_psf = low;
    judged_judge(&judged, OUTCOME_DONE);
    assert_true(judged.strength->carries);
    judged.roof->loads = &judged.loads;
    struct moves *moves = NULL;
    assert_int_equal(explain_moves(judged.roof, judged.marks, judged.verdict, judged.strength,
                                   SIZE_MAX, 60, &moves),
                     OUTCOME_DONE);
    size_t stopped = 0;
    for (size_t i = 0; i < judged.marks->count; i++)
        for (int way = 0; way < WAY_COUNT; way++) {
            const struct move *move = &moves[i].way[way];
            if (move->stopped != STOPPED_STRENGTH)
                continue;
            stopped++;
            assert_true(still_carries(&judged, i, (enum way)way, move->by));
            assert_false(still_carries(&judged, i, (enum way)way, move->by + judged.roof->tape));
        }
    assert_true(stopped > 0);
    free(moves);
    judged.roof->loads = NULL; /* it was borrowed */
    judged_free(&judged);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(plain_marks_move_as_reckoned_by_hand, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(plain_frame_moves_as_reckoned_by_hand, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(what_is_broken_at_the_wish_is_named, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(another_frame_at_the_wish_is_named, trial_set_up_pair,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(short_slot_stops_a_foot_before_its_wood_does, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(broken_hole_may_move_while_it_gets_no_worse, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(without_time_no_move_is_made_up, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test(strength_stops_a_move_that_no_other_rule_does),
        cmocka_unit_test_setup_teardown(
            moving_as_far_as_said_keeps_every_rule_and_a_tick_more_breaks_one, random_folder_make,
            random_folder_remove),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
