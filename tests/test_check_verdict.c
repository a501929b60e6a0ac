/* The verdict as a whole: names of the rules, order of the findings, sums, figures that are none,
 * and the short answers to a search over readings. */
#include "held.h"

#include <float.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Names in files: lower case and hyphens, no two alike. */
static void every_rule_has_a_name_of_its_own(void **state) {
    (void)state;
    for (int i = 0; i < RULE_COUNT; i++) {
        const char *name = check_rule_name((enum rule)i);
        assert_non_null(name);
        assert_int_equal(strspn(name, "abcdefghijklmnopqrstuvwxyz-"), strlen(name));
        assert_true(name[0] != '\0');
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(name, check_rule_name((enum rule)j));
        }
    }
}

static void hard_rules_are_not_counted(void **state) {
    (void)state;
    for (int i = 0; i < RULE_COUNT; i++) {
        assert_int_equal(check_rule_counted((enum rule)i), i < RULE_STRUT_CLAMP);
    }
}

/* The plain marks: wood is the tightest, 5/32; the hard rules' least is 0, of the lines. */
static void marks_that_obey_everything_hold(void **state) {
    struct trial *trial = *state;
    struct verdict *verdict = held(trial->roof, trial->marks);
    assert_true(verdict->holds);
    expect_inches(verdict->least, PLAIN_LEAST);
    expect_inches(verdict->forgiveness[0], PLAIN_LEAST);
    expect_inches(verdict->hard_least, 0);
    expect_inches(verdict->shortfall, 0);
    assert_int_equal(verdict->holes, 5);
    verdict_free(verdict);
    expect_broken(trial->roof, trial->marks, "");
}

/* All four choices of hardware hold on the plain roof. */
static void plain_marks_obey_with_any_hardware(void **state) {
    (void)state;
    for (int choice = 0; choice < 4; choice++) {
        struct plain_knobs knobs = plain_knobs();
        knobs.hardware[ROW_TOP] = choice & 1 ? HARDWARE_FEET : HARDWARE_STRUT;
        knobs.hardware[ROW_BOTTOM] = choice & 2 ? HARDWARE_FEET : HARDWARE_STRUT;
        knobs.bracket_count = 2;
        knobs.vent_count = 1;
        struct roof *roof = plain_roof(&knobs);
        struct marks *marks = plain_marks(roof);
        expect_broken(roof, marks, "");
        roof_free(roof);
        marks_free(marks);
    }
}

static int compare(const struct finding *a, const struct finding *b) {
    const int left[] = {(int)a->rule,     a->bracket,   a->row,        a->mark,
                        a->other_bracket, a->other_row, a->other_mark, a->vent};
    const int right[] = {(int)b->rule,     b->bracket,   b->row,        b->mark,
                         b->other_bracket, b->other_row, b->other_mark, b->vent};
    for (size_t i = 0; i < sizeof left / sizeof *left; i++) {
        if (left[i] != right[i]) {
            return left[i] - right[i];
        }
    }
    return 0;
}

static void expect_ordered(const struct verdict *verdict) {
    for (size_t i = 1; i < verdict->count; i++) {
        assert_true(compare(&verdict->findings[i - 1], &verdict->findings[i]) < 0);
    }
}

/* Every subject has one finding, and they come by rule, bracket, row, mark; pairs name the lower
 * bracket first, but a bore comes before what it may not hit. */
static void findings_are_in_order_and_no_two_are_about_the_same(void **state) {
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.pipe_count = 2;
    knobs.vent_count = 1;
    trial_rebuild(trial, &knobs);
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_ordered(verdict);
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (finding->rule == RULE_PIPE_BAY) {
            assert_int_equal(trial->marks->list[finding->mark].row, ROW_PIPE);
            assert_int_equal(trial->marks->list[finding->mark].bracket, finding->bracket);
        } else {
            assert_true(finding->other_bracket == CHECK_NONE ||
                        finding->bracket <= finding->other_bracket);
        }
    }
    verdict_free(verdict);
}

/* By hand, two brackets and one vent: wood and the three rules of courses 10 each, vent-flashing
 * 10, vent-bracket 2, setback 2 + 10, row 4, clearance 2, foot-reach 4, strut-clear 2 on the face,
 * 2 against the vent, 2 against a bracket, apart 47, hard rules of struts 3 x 2, row-line 4,
 * complete 4: 141 in all. */
static void every_rule_is_held_at_every_place(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.vent_count = 1;
    struct roof *roof = plain_roof(&knobs);
    struct marks *marks = plain_marks(roof);
    struct verdict *verdict = held(roof, marks);
    assert_int_equal(verdict->count, 141);
    verdict_free(verdict);
    roof_free(roof);
    marks_free(marks);
}

/* Two pipes to each bracket more: the three rules of courses, vent-flashing, setback, pipe-reach
 * and complete 7 x 4, pipe-bay 4 x (rafters, 2 struts, 4 feet), apart 14 x 13 / 2 in place of 45 of
 * flashings, and 4 against the other bracket: 28 + 28 + 46 + 4 more. */
static void every_rule_of_pipes_is_held_at_every_place(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.vent_count = 1;
    knobs.pipe_count = 2;
    struct roof *roof = plain_roof(&knobs);
    struct marks *marks = plain_marks(roof);
    struct verdict *verdict = held(roof, marks);
    assert_int_equal(verdict->count, 141 + 106);
    verdict_free(verdict);
    roof_free(roof);
    marks_free(marks);
}

/* The list the other way round: the same margins, of marks at other places in the list. */
static void marks_need_not_be_sorted(void **state) {
    struct trial *trial = *state;
    struct marks *turned = NULL;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.pipe_count = 2;
    trial_rebuild(trial, &knobs);
    assert_int_equal(marks_copy(trial->marks, &turned), OUTCOME_DONE);
    size_t last = turned->count - 1;
    for (size_t i = 0; i <= last; i++) {
        turned->list[i] = trial->marks->list[last - i];
        turned->list[i].x += turned->list[i].bracket == 1 ? TICK : 0;
    }
    for (size_t i = 0; i <= last; i++) {
        trial->marks->list[i].x += trial->marks->list[i].bracket == 1 ? TICK : 0;
    }
    struct verdict *straight = held(trial->roof, trial->marks);
    struct verdict *verdict = held(trial->roof, turned);
    assert_int_equal(verdict->count, straight->count);
    expect_ordered(verdict);
    for (size_t i = 0; i < straight->count; i++) {
        struct finding wanted = straight->findings[i];
        wanted.mark = wanted.mark == CHECK_NONE ? CHECK_NONE : (int)last - wanted.mark;
        wanted.other_mark =
            wanted.other_mark == CHECK_NONE ? CHECK_NONE : (int)last - wanted.other_mark;
        if (wanted.rule == RULE_APART && wanted.mark != CHECK_NONE &&
            wanted.other_mark != CHECK_NONE && wanted.bracket == wanted.other_bracket &&
            turned->list[wanted.mark].row == turned->list[wanted.other_mark].row) {
            int mark = wanted.mark; /* within a row, the first in the list is named first */
            wanted.mark = wanted.other_mark;
            wanted.other_mark = mark;
        }
        expect_inches(held_margin(verdict, wanted), straight->findings[i].margin);
    }
    expect_inches(verdict->least, straight->least);
    expect_inches(verdict->shortfall, straight->shortfall);
    verdict_free(straight);
    verdict_free(verdict);
    marks_free(turned);
}

/* Two rules broken, one of them hard: the sum has the counted one only.  The lag at 88 moved by 1/4
 * is 3/32 short of wood; its row-line is a tick off. */
static void shortfall_has_counted_rules_only(void **state) {
    struct trial *trial = *state;
    trial->marks->list[1].x += 0.25;
    trial->marks->list[1].y += TICK;
    struct verdict *verdict = held(trial->roof, trial->marks);
    expect_inches(verdict->shortfall, 0.09375);
    expect_inches(verdict->least, -0.09375);
    expect_inches(verdict->hard_least, -TICK);
    assert_false(verdict->holds);
    verdict_free(verdict);
}

/* Figures that are none, or out of all reach, in every place of a mark and of a bracket: every
 * margin is finite, and the marks do not hold. */
static void figures_that_are_none_never_hold(void **state) {
    const double figures[] = {NAN, INFINITY, -INFINITY, DBL_MAX, -DBL_MAX, 1e300, -1e18};
    struct trial *trial = *state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.pipe_count = 2;
    knobs.keepout = 2;
    trial_rebuild(trial, &knobs);
    double *places[] = {&trial->marks->list[0].x,     &trial->marks->list[2].y,
                        &trial->marks->list[3].x,     &trial->marks->list[4].y,
                        &trial->marks->list[5].x,     &trial->marks->list[6].y,
                        &trial->marks->brackets[1].x, &trial->marks->brackets[0].y};
    for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
        for (size_t j = 0; j < sizeof figures / sizeof *figures; j++) {
            double kept = *places[i];
            *places[i] = figures[j];
            struct verdict *verdict = held(trial->roof, trial->marks);
            assert_false(verdict->holds);
            for (size_t k = 0; k < verdict->count; k++) {
                assert_true(isfinite(verdict->findings[k].margin));
            }
            assert_true(isfinite(verdict->least) && isfinite(verdict->shortfall));
            verdict_free(verdict);
            *places[i] = kept;
        }
    }
    expect_broken(trial->roof, trial->marks, "");
}

/* Least and sum over the findings of those rules that are about this bracket, row and mark alone.
 */
static struct least gather(const struct verdict *verdict, struct finding subject,
                           const enum rule *rules, size_t count) {
    struct least least = {INFINITY, INFINITY, 0};
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (finding->bracket != subject.bracket || finding->row != subject.row ||
            finding->mark != subject.mark || finding->other_bracket != CHECK_NONE) {
            continue;
        }
        for (size_t j = 0; j < count; j++) {
            if (finding->rule == rules[j]) {
                least.counted = fmin(least.counted, finding->margin);
                least.shortfall += fmax(0, -finding->margin);
            }
        }
    }
    return least;
}

static void expect_same(struct least found, struct least wanted) {
    expect_inches(found.counted, wanted.counted);
    expect_inches(found.shortfall, wanted.shortfall);
    assert_true(isinf(found.hard) && found.hard > 0);
}

static void expect_one_by_one(const struct roof *roof, const struct marks *marks) {
    static const enum rule of_mark[] = {RULE_WOOD,          RULE_COURSE_EDGE, RULE_COURSE_BLOCK,
                                        RULE_LAP,           RULE_SETBACK,     RULE_FOOT_REACH,
                                        RULE_VENT_FLASHING, RULE_PIPE_BAY,    RULE_PIPE_REACH};
    static const enum rule of_bracket[] = {RULE_SETBACK, RULE_VENT_BRACKET};
    static const enum rule of_row[] = {RULE_ROW, RULE_CLEARANCE};
    struct verdict *verdict = held(roof, marks);
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *mark = &marks->list[i];
        struct finding subject = about(RULE_WOOD, (int)mark->bracket, (int)mark->row, (int)i);
        expect_same(
            check_one_mark(roof, &marks->brackets[mark->bracket], mark, verdict->seats[i].leg),
            gather(verdict, subject, of_mark, sizeof of_mark / sizeof *of_mark));
    }
    for (size_t i = 0; i < roof->bracket_count; i++) {
        struct finding subject = about(RULE_SETBACK, (int)i, CHECK_NONE, CHECK_NONE);
        expect_same(check_one_bracket(roof, i, &marks->brackets[i]),
                    gather(verdict, subject, of_bracket, 2));
        for (int row = 0; row < ROW_COUNT; row++) {
            double y = verdict->rows[i][row].y;
            subject = about(RULE_ROW, (int)i, row, CHECK_NONE);
            expect_same(check_one_row(roof, i, &marks->brackets[i], (enum row)row, y),
                        gather(verdict, subject, of_row, 2));
        }
    }
    verdict_free(verdict);
}

/* Good marks, and marks that break something in each of the three answers. */
static void short_answers_agree_with_the_verdict(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.vent_count = 1;
    struct roof *roof = plain_roof(&knobs);
    roof->vents[0].flange = (struct box){100, 20, 112, 44};
    struct marks *marks = plain_marks(roof);
    expect_one_by_one(roof, marks);
    marks->brackets[0].x += 1.25;
    marks->brackets[1].y -= 31;
    marks->list[1].x += 0.75;
    marks->list[4].x -= 0.5;
    expect_one_by_one(roof, marks);
    roof->vents[0].kind = VENT_BLANK;
    roof->vents[0].tall = 1;
    expect_one_by_one(roof, marks);
    roof_free(roof);
    marks_free(marks);
}

/* Leaning, sistered and spliced rafters between hips, with pipes: good and bad places of each. */
static void short_answers_agree_on_a_roof_that_is_not_neat(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    knobs.vent_count = 1;
    knobs.pipe_count = 2;
    knobs.lean = 0.01;
    knobs.plies = 2;
    knobs.sister_reach[0] = 60;
    knobs.sister_reach[1] = 150;
    knobs.keepout = 4;
    knobs.keepout_at[0] = 80;
    knobs.keepout_at[1] = 110;
    knobs.ridge_in[SIDE_NEAR] = 100;
    knobs.ridge_in[SIDE_FAR] = 20;
    struct roof *roof = plain_roof(&knobs);
    struct marks *marks = plain_marks(roof);
    expect_one_by_one(roof, marks);
    for (size_t i = 0; i < marks->count; i++) {
        marks->list[i].x += 0.01 * marks->list[i].y;
    }
    expect_one_by_one(roof, marks);
    for (size_t i = 0; i < marks->count; i++) {
        marks->list[i].x += 3.5 * (double)i;
        marks->list[i].y -= 1.25 * (double)(marks->list[i].row + marks->list[i].pipe);
    }
    expect_one_by_one(roof, marks);
    for (size_t i = 0; i < marks->count; i++) {
        struct mark *mark = &marks->list[i];
        mark->x = mark->row == ROW_PIPE ? 88 + 0.01 * mark->y : mark->x;
    }
    expect_one_by_one(roof, marks);
    roof_free(roof);
    marks_free(marks);
}

/* A strut's lag has no leg: whichever is named, it is not held against it. */
static void leg_named_for_a_lag_of_a_strut_is_ignored(void **state) {
    struct trial *trial = *state;
    const struct marks *marks = trial->marks;
    struct least least = check_one_mark(trial->roof, &marks->brackets[0], &marks->list[1], 0);
    expect_inches(least.counted, PLAIN_LEAST);
}

static void nothing_is_freed_without_complaint(void **state) {
    (void)state;
    verdict_free(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_rule_has_a_name_of_its_own),
        cmocka_unit_test(hard_rules_are_not_counted),
        cmocka_unit_test_setup_teardown(marks_that_obey_everything_hold, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test(plain_marks_obey_with_any_hardware),
        cmocka_unit_test_setup_teardown(findings_are_in_order_and_no_two_are_about_the_same,
                                        trial_set_up_pair, trial_tear_down),
        cmocka_unit_test(every_rule_is_held_at_every_place),
        cmocka_unit_test(every_rule_of_pipes_is_held_at_every_place),
        cmocka_unit_test_setup_teardown(marks_need_not_be_sorted, trial_set_up_pair,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(shortfall_has_counted_rules_only, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(figures_that_are_none_never_hold, trial_set_up_pair,
                                        trial_tear_down),
        cmocka_unit_test(short_answers_agree_with_the_verdict),
        cmocka_unit_test(short_answers_agree_on_a_roof_that_is_not_neat),
        cmocka_unit_test_setup_teardown(leg_named_for_a_lag_of_a_strut_is_ignored, trial_set_up,
                                        trial_tear_down),
        cmocka_unit_test(nothing_is_freed_without_complaint),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
