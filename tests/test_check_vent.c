/* vent-flashing and vent-bracket: room between vents and what is put on the roof. */
#include "held.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

/* Gives the roof one vent with that flange. */
static struct vent *one_vent(struct trial *trial, struct box flange) {
    struct vent *vent = &trial->roof->vents[0];
    *vent = (struct vent){.name = "soil stack",
                          .kind = VENT_PLUMBING,
                          .flange = flange,
                          .tall = 12,
                          .keep_flashing = 3,
                          .keep_bracket = 6};
    trial->roof->vent_count = 1;
    return vent;
}

static struct finding last_lag_and_vent(void) {
    struct finding finding = about(RULE_VENT_FLASHING, 0, ROW_TOP, 2);
    finding.vent = 0;
    return finding;
}

static struct finding bracket_and_vent(void) {
    struct finding finding = about(RULE_VENT_BRACKET, 0, CHECK_NONE, CHECK_NONE);
    finding.vent = 0;
    return finding;
}

/* The flashing of the lag at 112 reaches from 107 1/2 to 116 1/2.  A flange from 119 1/2 on is 3 in
 * away. */
static void flashing_beside_a_vent(void **state) {
    struct trial *trial = *state;
    struct vent *vent = one_vent(trial, (struct box){120, 100, 132, 114});
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), 0.5);
    vent->flange.x0 = 119.5;
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), 0);
    vent->flange.x0 = 119.5 - TICK;
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), -TICK);
}

/* It lies from 105 3/8 - 3 1/4 = 102 1/8 up to 114 1/8: a flange ending at 99 1/8 is 3 in below. */
static void flashing_above_a_vent(void **state) {
    struct trial *trial = *state;
    struct vent *vent = one_vent(trial, (struct box){106, 90, 118, 99});
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), 0.125);
    vent->flange.y1 = 99.125;
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), 0);
    vent->flange.y1 = 99.125 + TICK;
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), -TICK);
}

/* Past each other's corner, one axis with room is enough: 4 along the eave, 1 up the roof. */
static void flashing_past_the_corner_of_a_vent_needs_one_gap_only(void **state) {
    struct trial *trial = *state;
    one_vent(trial, (struct box){120.5, 115.125, 132, 130});
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), 1);
}

/* A flange in the middle of the flashing, 2 in from each side and 3 in from top and foot:
 * -(2 + the flange's 5) along the eave, -(3 + 6) up; the lesser overlap counts: -7 - 3. */
static void flashing_over_a_vent_is_broken_by_the_lesser_overlap(void **state) {
    struct trial *trial = *state;
    one_vent(trial, (struct box){109.5, 105.125, 114.5, 111.125});
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), -10);
}

/* The bracket ends at 50 1/2 + 72 = 122 1/2; 6 in beyond is 128 1/2. */
static void bracket_beside_a_vent(void **state) {
    struct trial *trial = *state;
    struct vent *vent = one_vent(trial, (struct box){129, 60, 141, 74});
    expect_margin(trial->roof, trial->marks, bracket_and_vent(), 0.5);
    vent->flange.x0 = 128.5;
    expect_margin(trial->roof, trial->marks, bracket_and_vent(), 0);
    vent->flange.x0 = 128.5 - TICK;
    expect_margin(trial->roof, trial->marks, bracket_and_vent(), -TICK);
}

static bool bracket_minds(struct trial *trial) {
    struct verdict *verdict = held(trial->roof, trial->marks);
    bool minds = held_find(verdict, bracket_and_vent()) != NULL;
    verdict_free(verdict);
    return minds;
}

/* 4 in are clear below the bracket: a blank vent lower than that may lie there, no other kind, and
 * none that is as high. */
static void only_a_low_blank_vent_may_lie_under_a_bracket(void **state) {
    struct trial *trial = *state;
    struct vent *vent = one_vent(trial, (struct box){80, 60, 92, 74});
    vent->kind = VENT_BLANK;
    vent->tall = 4 - TICK;
    assert_false(bracket_minds(trial));
    expect_broken(trial->roof, trial->marks, "");
    vent->tall = 4;
    assert_true(bracket_minds(trial));
    expect_broken(trial->roof, trial->marks, "vent-bracket");
    vent->tall = 1;
    for (int kind = 0; kind < VENT_KIND_COUNT; kind++) {
        vent->kind = (enum vent_kind)kind;
        assert_int_equal(bracket_minds(trial), kind != VENT_BLANK);
    }
}

/* Its flange is under the shingles all the same: flashings keep away from a low blank one. */
static void flashing_keeps_away_from_a_blank_vent(void **state) {
    struct trial *trial = *state;
    struct vent *vent = one_vent(trial, (struct box){119.5 - TICK, 100, 122, 114});
    vent->kind = VENT_BLANK;
    vent->tall = 1;
    expect_margin(trial->roof, trial->marks, last_lag_and_vent(), -TICK);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(flashing_beside_a_vent, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(flashing_above_a_vent, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(flashing_past_the_corner_of_a_vent_needs_one_gap_only,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(flashing_over_a_vent_is_broken_by_the_lesser_overlap,
                                        trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(bracket_beside_a_vent, trial_set_up, trial_tear_down),
        cmocka_unit_test_setup_teardown(only_a_low_blank_vent_may_lie_under_a_bracket, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(flashing_keeps_away_from_a_blank_vent, trial_set_up,
                                        trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
