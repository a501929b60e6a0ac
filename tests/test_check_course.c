/* course-edge, course-block and lap: how a flashing lies in the shingles. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

static const double bottom_edge = 39.75; /* E_7 = 6 + 6 x 5 5/8 */

static struct finding bottom(enum rule rule) {
    return about(rule, 0, ROW_BOTTOM, 3);
}

/* Puts the bottom row's flashings so far above the butt edge of course 7: y is 3 1/4 more. */
static void put_bottom(struct trial *trial, double above) {
    trial_raise_row(trial, 0, ROW_BOTTOM, bottom_edge + above + 3.25 - trial->marks->list[3].y);
}

/* Half an inch above its edge: 1/2 - 1/8 to either end of edge [0, 1]; the block's top is at
 * 1/2 + 3 1/4 + 1 = 4 3/4, the next edge at 5 5/8: 5 5/8 - 1/4 - 4 3/4 - 1/8 = 1/2; the top is at
 * 12 1/2, the second edge above at 11 1/4: 12 1/2 - 11 1/4 - 1/2 - 1/8 = 5/8. */
static void flashing_half_an_inch_above_its_edge_holds(void **state) {
    struct trial *trial = *state;
    put_bottom(trial, 0.5);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), 0.375);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_BLOCK), 0.5);
    expect_margin(trial->roof, trial->marks, bottom(RULE_LAP), 0.625);
}

static void lower_edge_at_both_ends_of_its_play_is_exactly_zero(void **state) {
    struct trial *trial = *state;
    put_bottom(trial, 0.125);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), 0);
    put_bottom(trial, 0.875);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), 0);
}

static void lower_edge_a_tick_outside_its_play_is_broken(void **state) {
    struct trial *trial = *state;
    put_bottom(trial, 0.125 - TICK);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), -TICK);
    put_bottom(trial, 0.875 + TICK);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), -TICK);
}

/* A flashing that must sit 1/4 ... 3/4 above its edge: 1/2 above it, 1/8 is left to either end. */
static void lower_edge_in_a_play_that_does_not_start_at_its_edge(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].flashing.edge[0] = 0.25;
    trial->roof->kits[0].flashing.edge[1] = 0.75;
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), 0.125);
    put_bottom(trial, 0.375);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), 0);
    put_bottom(trial, 0.375 - TICK);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), -TICK);
}

/* A block of 1 1/2 takes the half inch that was left. */
static void raised_block_against_the_next_edge(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].flashing.block = 1.5;
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_BLOCK), 0);
    trial->roof->kits[0].flashing.block = 1.5 + TICK;
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_BLOCK), -TICK);
}

/* A flashing 5/8 shorter has no lap left. */
static void short_flashing_under_the_second_edge(void **state) {
    struct trial *trial = *state;
    trial->roof->kits[0].flashing.height = 11.375;
    expect_margin(trial->roof, trial->marks, bottom(RULE_LAP), 0);
    trial->roof->kits[0].flashing.height = 11.375 - TICK;
    expect_margin(trial->roof, trial->marks, bottom(RULE_LAP), -TICK);
}

/* Butt edges as they are, not as they should be: with E_8 lower by 1/2 the block has none left,
 * with E_9 higher by 5/8 the lap, with E_7 lower by 3/8 the edge. */
static void each_rule_sees_its_own_butt_edge(void **state) {
    struct trial *trial = *state;
    double *edges = trial->roof->courses;
    edges[7] -= 0.5;
    edges[8] += 0.625;
    edges[6] -= 0.375;
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_BLOCK), 0);
    expect_margin(trial->roof, trial->marks, bottom(RULE_LAP), 0);
    expect_margin(trial->roof, trial->marks, bottom(RULE_COURSE_EDGE), 0);
}

/* Least margin of a flashing on a course, written out once more for the search below. */
static double least_on(const struct roof *roof, const struct flashing *f, size_t k, double y) {
    double e = y - f->hole_up, least = e - roof->courses[k - 1] - f->edge[0];
    const double others[] = {roof->courses[k - 1] + f->edge[1] - e,
                             roof->courses[k] - f->clear - y - f->block,
                             e + f->height - roof->courses[k + 1] - f->lap};
    for (size_t i = 0; i < 3; i++) {
        least = others[i] < least ? others[i] : least;
    }
    return least;
}

/* Every height from below the eave to above the ridge, on courses that are not even: no course that
 * could carry a flashing is better than the one inferred. */
static void course_is_the_one_with_most_margin(void **state) {
    struct trial *trial = *state;
    struct roof *roof = trial->roof;
    roof->kits[0].flashing.edge[0] = 0.25;
    for (size_t k = 0; k < roof->course_count; k++) {
        roof->courses[k] += 0.5 * (double)(k * k % 7) - 0.25 * (double)(k % 3);
    }
    for (double y = -20; y < 220; y += TICK) {
        trial_raise_row(trial, 0, ROW_BOTTOM, y - trial->marks->list[3].y);
        struct verdict *verdict = held(roof, trial->marks);
        size_t found = verdict->rows[0][ROW_BOTTOM].course;
        verdict_free(verdict);
        assert_in_range(found, 1, roof->course_count - 2);
        const struct flashing *flashing = &roof->kits[0].flashing;
        for (size_t k = 1; k + 2 <= roof->course_count; k++) {
            assert_true(least_on(roof, flashing, k, y) <=
                        least_on(roof, flashing, found, y) + 1e-9);
        }
    }
}

/* The plain marks lie on courses 7 and 18. */
static void rows_are_on_the_courses_they_were_put_on(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->rows[0][ROW_BOTTOM].course, PLAIN_BOTTOM_COURSE);
    assert_int_equal(verdict->rows[0][ROW_TOP].course, PLAIN_TOP_COURSE);
    verdict_free(verdict);
}

/* 34 butt edges: 6 + 33 x 5 5/8 = 191 5/8 is the last below the ridge at 196.  A flashing needs two
 * more above its own, so course 32 is the last; one on 33 is judged by 32. */
static void course_without_two_more_above_it_carries_nothing(void **state) {
    struct trial *trial = *state;
    assert_int_equal(trial->roof->course_count, 34);
    put_bottom(trial, 26 * 5.625 + 0.5); /* on course 33 */
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->rows[0][ROW_BOTTOM].course, 32);
    expect_inches(held_margin(verdict, bottom(RULE_COURSE_EDGE)), 1 - 0.5 - 5.625 - 0.125);
    verdict_free(verdict);
}

static void face_with_two_butt_edges_has_no_course(void **state) {
    struct trial *trial = *state;
    trial->roof->course_count = 2;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_int_equal(verdict->rows[0][ROW_BOTTOM].course, 0);
    expect_inches(held_margin(verdict, bottom(RULE_LAP)), -196);
    assert_false(verdict->holds);
    verdict_free(verdict);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(flashing_half_an_inch_above_its_edge_holds, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lower_edge_at_both_ends_of_its_play_is_exactly_zero,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(lower_edge_a_tick_outside_its_play_is_broken, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(lower_edge_in_a_play_that_does_not_start_at_its_edge,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(raised_block_against_the_next_edge, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(short_flashing_under_the_second_edge, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(each_rule_sees_its_own_butt_edge, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(course_is_the_one_with_most_margin, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(rows_are_on_the_courses_they_were_put_on, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(course_without_two_more_above_it_carries_nothing,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(face_with_two_butt_edges_has_no_course, trial_set_up,
                                        trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
