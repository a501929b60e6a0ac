/* Practice roofs and their grades: the best layout is worth all points, and whatever breaks one
 * rule is worth fewer. */
#include "answered.h"
#include "practice.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define TICK (1.0 / 16) /* inches */

/* Roofs a level. */
static unsigned roofs_wanted(void) {
    const char *text = getenv("RUDDLE_ROOFS");
    const int most = text != NULL ? atoi(text) / 7 : 6;
    return most < 2 ? 2 : (unsigned)most;
}

static void set(unsigned level, unsigned seed, struct practice *practice) {
    struct problems problems = {0};
    assert_int_equal(practice_set(level, seed, practice, &problems), OUTCOME_DONE);
    assert_int_equal(problems.total, 0);
}

static struct grade graded(const struct practice *practice, const struct marks *marks) {
    struct grade grade;
    assert_int_equal(grade_marks(practice, marks, &grade), OUTCOME_DONE);
    return grade;
}

/* ---- The roofs ------------------------------------------------------------------------------- */

static void same_level_and_number_are_the_same_roof(void **state) {
    (void)state;
    for (unsigned level = 1; level <= PRACTICE_LEVELS; level++) {
        struct practice one = {0}, same = {0}, other = {0};
        set(level, 7, &one);
        set(level, 7, &same);
        set(level, 8, &other);
        assert_string_equal(one.roof_text, same.roof_text);
        assert_string_equal(one.kit_text, same.kit_text);
        assert_string_not_equal(one.roof_text, other.roof_text);
        assert_int_equal(one.best.marks->count, same.best.marks->count);
        assert_memory_equal(one.best.marks->list, same.best.marks->list,
                            one.best.marks->count * sizeof *one.best.marks->list);
        practice_free(&one);
        practice_free(&same);
        practice_free(&other);
    }
}

/* A roof that could stand in a street, with a best layout that is proved. */
static void assert_plausible(const struct practice *practice) {
    const struct roof *roof = practice->roof;
    const struct carried *best = &practice->best;
    assert_true(roof->width >= 12 * 12 && roof->width <= 40 * 12);
    assert_true(roof->slope >= 9 * 12 && roof->slope <= 20 * 12);
    assert_true(roof->pitch_rad > atan(3.5 / 12) && roof->pitch_rad < atan(9.5 / 12));
    assert_true(roof->rafter_count >= 6 && roof->course_count >= 18);
    assert_int_equal(roof->bracket_count, 1);
    assert_int_equal(roof->vent_count, practice->level - 1);
    assert_int_equal(roof->brackets[0].hardware[ROW_TOP],
                     practice->level == 1 ? HARDWARE_FEET : HARDWARE_STRUT);
    assert_int_equal(best->layout->state, LAYOUT_PROVED);
    assert_true(best->verdict->holds);
    assert_true(best->verdict->least >= 1.0 / 16 - 1e-6);
}

static void best_layout_is_worth_all_points(void **state) {
    (void)state;
    for (unsigned level = 1; level <= PRACTICE_LEVELS; level++) {
        for (unsigned seed = 1; seed <= roofs_wanted(); seed++) {
            struct practice practice = {0};
            set(level, seed, &practice);
            assert_plausible(&practice);
            struct grade grade = graded(&practice, practice.best.marks);
            assert_int_equal(grade.score, 100);
            assert_int_equal(grade.held, grade.applying);
            assert_true(grade.applying >= 11);
            grade_free(&grade);
            practice_free(&practice);
        }
    }
}

/* ---- Mutations ------------------------------------------------------------------------------- */

/* One thing done to a good layout, by a length where it has one. */
enum change {
    MARK_ALONG,
    MARK_UP,
    ROW_UP,
    FRAME_ALONG,
    FRAME_UP,
    ALL_ALONG,
    ALL_UP,
    MARK_LEFT_OUT,
    MARK_DOUBLED,
    CHANGE_COUNT
};

static bool is_of_mark(enum change change) {
    return change <= MARK_UP || change >= MARK_LEFT_OUT;
}

static void shift(struct marks *marks, double x, double y) {
    marks->brackets[0].x += x;
    marks->brackets[0].y += y;
    for (size_t i = 0; i < marks->count; i++) {
        marks->list[i].x += x;
        marks->list[i].y += y;
    }
}

static void change(struct marks *marks, enum change how, size_t subject, double by) {
    struct mark *mark = &marks->list[subject % marks->count];
    switch (how) {
    case MARK_ALONG:
        mark->x += by;
        return;
    case MARK_UP:
        mark->y += by;
        return;
    case ROW_UP:
        for (size_t i = 0; i < marks->count; i++) {
            marks->list[i].y += marks->list[i].row == (enum row)subject ? by : 0;
        }
        return;
    case FRAME_ALONG:
        marks->brackets[0].x += by;
        return;
    case FRAME_UP:
        marks->brackets[0].y += by;
        return;
    case ALL_ALONG:
        shift(marks, by, 0);
        return;
    case ALL_UP:
        shift(marks, 0, by);
        return;
    case MARK_LEFT_OUT:
        *mark = marks->list[--marks->count];
        return;
    default:
        mark[0].x = marks->list[(subject + 1) % marks->count].x + by;
        return;
    }
}

/* What was found for each rule: how often it was broken, and how often alone. */
struct tally {
    size_t broken[RULE_COUNT], alone[RULE_COUNT];
};

/* Fewer points for whatever breaks, and none for the rules that do. */
static void assert_fewer(const struct grade *grade, struct tally *tally) {
    size_t broken = 0;
    int last = 0;
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        if (grade->rules[rule].broken > 0) {
            broken++;
            last = rule;
            tally->broken[rule]++;
        }
    }
    assert_true(grade->verdict->holds == (broken == 0));
    assert_int_equal(grade->held, grade->applying - broken);
    if (broken == 0) {
        assert_int_equal(grade->rules_points, GRADE_RULES);
        return;
    }
    assert_true(grade->score < GRADE_RULES);
    assert_int_equal(grade->score, grade->rules_points);
    assert_int_equal(grade->room_points + grade->economy_points, 0);
    tally->alone[last] += broken == 1;
}

static void try_change(const struct practice *practice, enum change how, size_t subject, double by,
                       struct tally *tally) {
    struct marks *marks = NULL;
    assert_int_equal(marks_copy(practice->best.marks, &marks), OUTCOME_DONE);
    change(marks, how, subject, by);
    struct grade grade = graded(practice, marks);
    assert_fewer(&grade, tally);
    grade_free(&grade);
    marks_free(marks);
}

static void try_changes(const struct practice *practice, struct tally *tally) {
    static const double steps[] = {1.0 / 4, 1.0 / 2, 7.0 / 8, 5.0 / 4, 2,  3,  5,  5.625,
                                   8,       13,      21,      34,      55, 90, 250};
    enum { STEPS = sizeof steps / sizeof steps[0] };
    for (enum change how = MARK_ALONG; how < CHANGE_COUNT; how++) {
        const size_t subjects = is_of_mark(how) ? practice->best.marks->count
                                : how == ROW_UP ? ROW_COUNT
                                                : 1;
        for (size_t subject = 0; subject < subjects; subject++) {
            for (size_t i = 0; i < STEPS; i++) {
                try_change(practice, how, subject, steps[i], tally);
                try_change(practice, how, subject, -steps[i], tally);
            }
        }
    }
}

/* Every rule that practice roofs have is broken by some change, and those that can be broken alone
 * are: a flashing lies under its frame, which keeps further from vents and edges; a lap falls short
 * only below its butt edge; flashings overlap only where a lag is in no rafter; and a strut is too
 * long only where it is off the roof as well.  Of pipes and of joints in the shingles there are
 * none. */
static void whatever_breaks_a_rule_loses_points(void **state) {
    (void)state;
    static const enum rule alone[] = {RULE_WOOD,         RULE_COURSE_EDGE, RULE_COURSE_BLOCK,
                                      RULE_VENT_BRACKET, RULE_SETBACK,     RULE_ROW,
                                      RULE_FOOT_REACH,   RULE_STRUT_CLAMP, RULE_STRUT_SPAN,
                                      RULE_ROW_LINE,     RULE_COMPLETE};
    struct tally tally = {{0}, {0}};
    for (unsigned level = 1; level <= PRACTICE_LEVELS; level++) {
        for (unsigned seed = 1; seed <= roofs_wanted(); seed++) {
            struct practice practice = {0};
            set(level, seed, &practice);
            try_changes(&practice, &tally);
            practice_free(&practice);
        }
    }
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        const bool absent = rule == RULE_PIPE_BAY || rule == RULE_PIPE_REACH || rule == RULE_JOINTS;
        if ((tally.broken[rule] > 0) == absent) {
            fail_msg("%s: broken %zu times", check_rule_name((enum rule)rule), tally.broken[rule]);
        }
    }
    for (size_t i = 0; i < sizeof alone / sizeof alone[0]; i++) {
        if (tally.alone[alone[i]] == 0) {
            fail_msg("%s: never broken alone", check_rule_name(alone[i]));
        }
    }
}

static enum outcome write_grade(const void *subject, FILE *stream) {
    return grade_write(subject, stream);
}

/* ---- Points for more than the rules ---------------------------------------------------------- */

/* The best layout with one lag a tick nearer the face of its ply: 5/32 of wood is there before
 * (3/4 - 15/32 - 1/8), 3/32 after, where 1/8 is enough: 20 x 0.75 points for room. */
static void less_room_to_miss_is_worth_less(void **state) {
    (void)state;
    struct practice practice = {0};
    struct marks *marks = NULL;
    set(1, 1, &practice);
    assert_int_equal(marks_copy(practice.best.marks, &marks), OUTCOME_DONE);
    const struct ply *ply = &practice.roof->plies[practice.best.verdict->seats[0].ply];
    marks->list[0].x = roof_ply_x(ply, marks->list[0].y) + TICK;
    struct grade grade = graded(&practice, marks);
    assert_true(grade.verdict->holds);
    assert_true(fabs(grade.room - 3.0 / 32) < 1e-9);
    assert_int_equal(grade.rules_points, 70);
    assert_int_equal(grade.room_points, 15);
    assert_int_equal(grade.economy_points, 10);
    assert_int_equal(grade.score, 95);
    grade_free(&grade);
    marks_free(marks);
    practice_free(&practice);
}

/* The same layout, wanted elsewhere: what it costs is its holes, 12 in each, and the way. */
static void far_from_where_it_is_wanted_is_worth_less(void **state) {
    (void)state;
    struct practice practice = {0};
    set(1, 3, &practice);
    struct marks *marks = NULL;
    assert_int_equal(marks_copy(practice.best.marks, &marks), OUTCOME_DONE);
    const double moved = fabs(marks->brackets[0].x - practice.roof->brackets[0].want_x) +
                         fabs(marks->brackets[0].y - practice.roof->brackets[0].want_y);
    /* A course up the whole layout breaks nothing where there is room above it. */
    shift(marks, 0, practice.roof->courses[1] - practice.roof->courses[0]);
    struct grade grade = graded(&practice, marks);
    const double step = practice.roof->courses[1] - practice.roof->courses[0];
    if (!grade.verdict->holds) {
        grade_free(&grade);
        shift(marks, 0, -2 * step);
        grade = graded(&practice, marks);
    }
    assert_true(grade.verdict->holds);
    assert_true(fabs(grade.best_moved - moved) < 1e-9);
    assert_true(grade.moved > moved);
    const double share = (48 + moved) / (48 + grade.moved);
    assert_int_equal(grade.room_points, 20);
    assert_int_equal(grade.economy_points, (unsigned)floor(10 * share));
    assert_true(grade.score < 100);
    grade_free(&grade);
    marks_free(marks);
    practice_free(&practice);
}

static void answer_without_a_hole_is_graded_too(void **state) {
    (void)state;
    struct practice practice = {0};
    struct marks *marks = NULL;
    set(2, 1, &practice);
    assert_int_equal(marks_copy(practice.best.marks, &marks), OUTCOME_DONE);
    marks->count = 0;
    struct grade grade = graded(&practice, marks);
    assert_false(grade.verdict->holds);
    assert_true(grade.rules[RULE_COMPLETE].broken > 0);
    assert_true(grade.score < GRADE_RULES);
    char *text = answered_bytes(write_grade, &grade, NULL);
    assert_non_null(strstr(text, "missing"));
    free(text);
    grade_free(&grade);
    marks_free(marks);
    practice_free(&practice);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_level_and_number_are_the_same_roof),
        cmocka_unit_test(best_layout_is_worth_all_points),
        cmocka_unit_test(whatever_breaks_a_rule_loses_points),
        cmocka_unit_test(less_room_to_miss_is_worth_less),
        cmocka_unit_test(far_from_where_it_is_wanted_is_worth_less),
        cmocka_unit_test(answer_without_a_hole_is_graded_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
