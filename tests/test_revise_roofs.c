/* Laying out again on roofs that are not the plain one: two frames, pipes, leaning rafters, plies,
 * millimetres, loads. */
#include "drilled.h"
#include "judged.h"
#include "plain_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

static struct roof *roof_of(const struct plain_knobs *knobs) {
    struct roof *roof = plain_roof(knobs);
    roof->doubt = 2;
    return roof;
}

/* Every lag of a layout, found to be good. */
static void drill_all(const struct marks *marks, struct drilled *drilled) {
    for (size_t m = 0; m < marks->count; m++)
        if (marks->list[m].row != ROW_PIPE)
            drilled_add(drilled, &marks->list[m], marks->list[m].x, DRILL_WOOD);
}

static size_t count_done(const struct revised *revised) {
    size_t done = 0;
    for (size_t m = 0; m < revised->carried.marks->count; m++)
        done += revised->done[m];
    return done;
}

/* All of A's holes are good; the first of B's missed, and 1 1/4 in further on the bit came out at a
 * face: B's rafter lies 2 in further out (a face is at its middle less 3/4), so that B has to be
 * laid out again, and A stays hole for hole. */
static void missed_hole_of_one_frame_leaves_the_other_where_it_is(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    struct roof *roof = roof_of(&knobs);
    struct carried best = drilled_best(roof);
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    const struct mark *missed = NULL;
    size_t of_a = 0;
    for (size_t m = 0; m < best.marks->count; m++) {
        const struct mark *mark = &best.marks->list[m];
        if (mark->bracket == 1 && missed == NULL)
            missed = mark;
        if (mark->bracket == 0) {
            drilled_add(&drilled, mark, mark->x, DRILL_WOOD);
            of_a++;
        }
    }
    if (!missed) {
        fail_msg("frame B has no lag");
        return;
    }
    const struct ply *ply = &roof->plies[0];
    while (fabs(roof_ply_x(ply, missed->y) - missed->x) > 2)
        ply++;
    const double middle = roof_ply_x(ply, missed->y);
    drilled_add(&drilled, missed, missed->x, DRILL_AIR);
    drilled_add(&drilled, missed, middle + 1.25, DRILL_EDGE);
    assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
    assert_true(revised.carried.verdict->holds);
    assert_int_equal(revised.given_up, 0);
    assert_int_equal(revised.learned[ply->rafter].knowledge, KNOWLEDGE_MOVED);
    assert_true(fabs(revised.learned[ply->rafter].shift - 2) <= 1.0 / 16 + 1e-6);
    for (size_t i = 0; i < of_a; i++)
        assert_int_equal(revised.holes[i].fate, FATE_KEPT);
    assert_int_equal(count_done(&revised), of_a);
    drilled_judge(&revised);
    revised_free(&revised);
    carried_free(&best);
    roof_free(roof);
}

/* Two pipes: their holes are bored yet, everything else is there. */
static void good_lag_holes_leave_only_the_pipes_to_bore(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.pipe_count = 2;
    struct roof *roof = roof_of(&knobs);
    struct carried best = drilled_best(roof);
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    drill_all(best.marks, &drilled);
    assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
    assert_true(revised.carried.verdict->holds);
    assert_int_equal(revised.carried.marks->count, best.marks->count);
    assert_int_equal(count_done(&revised), drilled.file.drilled_count);
    for (size_t m = 0; m < revised.carried.marks->count; m++)
        assert_int_equal(revised.done[m], revised.carried.marks->list[m].row != ROW_PIPE);
    drilled_judge(&revised);
    revised_free(&revised);
    carried_free(&best);
    roof_free(roof);
}

/* A pipe's flashing is 9 x 12 with its hole 3 1/2 up: 4 1/2 to either side, 3 1/2 down and 8 1/2
 * up. A dead hole 1 in beside the pipe's and 1 in above it is covered: 3 1/2 from the flashing's
 * side, where 2 are asked for. */
static void dead_hole_may_end_under_a_pipes_flashing(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.pipe_count = 1;
    struct roof *roof = roof_of(&knobs);
    struct carried best = drilled_best(roof);
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    const struct mark *pipe = &best.marks->list[best.marks->count - 1];
    assert_int_equal(pipe->row, ROW_PIPE);
    const struct mark stray = {.row = ROW_BOTTOM, .y = pipe->y + 1};
    drilled_add(&drilled, &stray, pipe->x + 1, DRILL_AIR);
    assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
    const int cover = revised.holes[0].cover;
    assert_true(cover != REVISE_PATCH);
    assert_int_equal(revised.carried.marks->list[cover].row, ROW_PIPE);
    assert_int_equal(revised.patches[0], 0);
    drilled_judge(&revised);
    revised_free(&revised);
    carried_free(&best);
    roof_free(roof);
}

/* Rafters gain 1/50 in an inch up the roof: 2 in at y = 100.  The bit found wood at the middle
 * there, which disproves nothing; and air at the place where the rafter is at the eave, 2 in beside
 * it, which is as it must be. */
static void hole_is_held_against_the_rafter_at_its_own_height(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.lean = 0.02;
    struct roof *roof = roof_of(&knobs);
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    const struct mark line = {.row = ROW_TOP, .y = 100};
    const double eave = roof->rafters[4].at;
    drilled_add(&drilled, &line, eave + 2, DRILL_WOOD);
    drilled_add(&drilled, &line, eave, DRILL_AIR);
    assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
    assert_int_equal(revised.learned[4].knowledge, KNOWLEDGE_STANDS);
    assert_true(fabs(revised.roof.rafters[4].lean - 0.02) <= 1e-12);
    assert_true(revised.holes[0].ply != SIZE_MAX && revised.holes[0].rafter == 4);
    drilled_judge(&revised);
    revised_free(&revised);
    roof_free(roof);
}

/* The same rafter, 1 in further out than measured: a face, by the bit, 1 3/4 beyond the measured
 * middle at y = 100, and air at that middle.  Its lean stays what it was. */
static void leaning_rafter_moves_as_a_whole(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.lean = 0.02;
    struct roof *roof = roof_of(&knobs);
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    const struct mark line = {.row = ROW_TOP, .y = 100};
    const double was = roof->rafters[4].at;
    drilled_add(&drilled, &line, was + 2 + 1.75, DRILL_EDGE);
    drilled_add(&drilled, &line, was + 2, DRILL_AIR);
    assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
    assert_int_equal(revised.learned[4].knowledge, KNOWLEDGE_MOVED);
    assert_true(fabs(revised.roof.rafters[4].at - was - 1) <= 1.0 / 16 + 1e-6);
    const struct ply *ply = &revised.roof.plies[revised.roof.rafters[4].first_ply];
    assert_true(fabs(ply->at - revised.roof.rafters[4].at) <= 1e-9);
    assert_true(fabs(ply->lean - 0.02) <= 1e-12);
    revised_free(&revised);
    roof_free(roof);
}

/* Two plies of 1 1/2 side by side: 1 1/2 from the original's middle is the middle of the sister,
 * and a hole there tests that one.  Its spare is that of a lag in the middle, 5/32. */
static void hole_in_a_sister_tests_the_sister(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.plies = 2;
    struct roof *roof = roof_of(&knobs);
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    const struct mark line = {.row = ROW_TOP, .y = 110};
    drilled_add(&drilled, &line, roof->rafters[3].at + 1.5, DRILL_WOOD);
    assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
    assert_int_equal(revised.holes[0].ply, roof->rafters[3].first_ply + 1);
    assert_int_equal(revised.learned[3].knowledge, KNOWLEDGE_STANDS);
    assert_true(fabs(revised.holes[0].spare - PLAIN_LEAST) <= 1e-6);
    drilled_judge(&revised);
    revised_free(&revised);
    roof_free(roof);
}

/* 1625.6 and 2540 mm are 64 and 100 in. */
static void figures_count_in_the_files_own_measure_or_the_roofs(void **state) {
    (void)state;
    static const struct {
        enum measure roof;
        const char *file, *x, *y;
    } cases[] = {{MEASURE_MM, NULL, "1625.6", "2540"},
                 {MEASURE_IN, "mm", "1625.6", "2540"},
                 {MEASURE_MM, "in", "64", "100"},
                 {MEASURE_IN, NULL, "64", "100"},
                 {MEASURE_MM, NULL, "5' 4\"", "100\""}};
    struct roof *roof = roof_of(NULL);
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct problems problems = {0};
        struct hole *holes = NULL;
        size_t count = 0;
        char name[] = "A", row[] = "top", found[] = "wood", measure[8] = "", x[16], y[16];
        snprintf(x, sizeof x, "%s", cases[i].x);
        snprintf(y, sizeof y, "%s", cases[i].y);
        snprintf(measure, sizeof measure, "%s", cases[i].file != NULL ? cases[i].file : "");
        struct survey_hole hole = {.bracket = name, .row = row, .x = x, .y = y, .found = found};
        const struct survey_drilled file = {.drilled = &hole,
                                            .drilled_count = 1,
                                            .measure = cases[i].file != NULL ? measure : NULL};
        roof->measure = cases[i].roof;
        assert_int_equal(holes_from_survey(roof, &file, &holes, &count, &problems), OUTCOME_DONE);
        assert_int_equal(count, 1);
        assert_true(fabs(holes[0].x - 64) <= 1e-9 && fabs(holes[0].y - 100) <= 1e-9);
        free(holes);
        problems_free(&problems);
    }
    roof_free(roof);
}

/* The frame of docs/strength.md, empty and without snow, so that it carries; its lags drilled: what
 * stays is judged for strength too, and comes out the same. */
static void kept_holes_are_judged_for_strength(void **state) {
    (void)state;
    struct judged judged;
    judged_make(&judged, NULL);
    judged.roof->loads = &judged.loads;
    judged.loads.snow_psf = 0;
    judged.roof->kits[0].filled_lb = judged.roof->kits[0].dry_lb;
    judged.roof->doubt = 2;
    struct carried best = {.layout = NULL};
    struct problems problems = {0};
    const struct layout_options options = {.limit_s = 20};
    assert_int_equal(carry_find(judged.roof, &options, SIDE_NEAR, &best, &problems), OUTCOME_DONE);
    assert_non_null(best.strength);
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    drill_all(best.marks, &drilled);
    assert_int_equal(drilled_revise(judged.roof, &drilled, &revised), OUTCOME_DONE);
    assert_non_null(revised.carried.strength);
    assert_true(best.verdict->holds && best.strength->carries);
    assert_true(revised.carried.strength->carries);
    assert_int_equal(revised.given_up, 0);
    assert_true(fabs(revised.carried.strength->worst - best.strength->worst) <= 1e-9);
    drilled_judge(&revised);
    revised_free(&revised);
    carried_free(&best);
    problems_free(&problems);
    judged.roof->loads = NULL; /* it was borrowed */
    judged_free(&judged);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(missed_hole_of_one_frame_leaves_the_other_where_it_is),
        cmocka_unit_test(good_lag_holes_leave_only_the_pipes_to_bore),
        cmocka_unit_test(dead_hole_may_end_under_a_pipes_flashing),
        cmocka_unit_test(hole_is_held_against_the_rafter_at_its_own_height),
        cmocka_unit_test(leaning_rafter_moves_as_a_whole),
        cmocka_unit_test(hole_in_a_sister_tests_the_sister),
        cmocka_unit_test(figures_count_in_the_files_own_measure_or_the_roofs),
        cmocka_unit_test(kept_holes_are_judged_for_strength),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
