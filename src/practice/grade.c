/* The grade of an answer: the check on its marks, rule by rule, beside the best layout. */
#include "practice.h"

#include <math.h>
#include <stddef.h>

void grade_free(struct grade *grade) {
    verdict_free(grade->verdict);
    marks_free(grade->marks);
    *grade = (struct grade){0};
}

static void count_rules(struct grade *grade) {
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        grade->rules[rule].least = NAN;
    }
    for (size_t i = 0; i < grade->verdict->count; i++) {
        const struct finding *finding = &grade->verdict->findings[i];
        struct grade_rule *rule = &grade->rules[finding->rule];
        rule->places++;
        rule->broken += !length_holds(finding->margin);
        rule->least = fmin(rule->least, finding->margin); /* of NaN and a number the number */
    }
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        grade->applying += grade->rules[rule].places > 0;
        grade->held += grade->rules[rule].places > 0 && grade->rules[rule].broken == 0;
    }
}

static double moved_of(const struct roof *roof, const struct marks *marks) {
    double moved = 0;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        moved += fabs(marks->brackets[i].x - roof->brackets[i].want_x) +
                 fabs(marks->brackets[i].y - roof->brackets[i].want_y);
    }
    return moved;
}

/* A share of some points, never rounded up. */
static unsigned points(double share, unsigned most) {
    return (unsigned)floor(fmax(0, fmin(1, share)) * most + LENGTH_TOLERANCE);
}

/* What a layout is chosen by where room to miss is the same: see docs/rules.md. */
static double cost(const struct roof *roof, double moved, size_t holes) {
    return moved + roof->hole_worth * (double)holes;
}

static void score(struct grade *grade) {
    const struct roof *roof = grade->practice->roof;
    const struct verdict *best = grade->practice->best.verdict;
    grade->room = grade->verdict->least;
    grade->best_room = best->least;
    grade->moved = moved_of(roof, grade->marks);
    grade->best_moved = moved_of(roof, grade->practice->best.marks);
    grade->rules_points =
        points((double)grade->held / (double)grade->applying, (unsigned)GRADE_RULES);
    if (grade->verdict->holds) {
        const double enough = roof->enough;
        grade->room_points =
            points(fmin(grade->room, enough) / fmin(grade->best_room, enough), GRADE_ROOM);
        grade->economy_points = points(cost(roof, grade->best_moved, best->holes) /
                                           cost(roof, grade->moved, grade->verdict->holes),
                                       GRADE_ECONOMY);
    }
    grade->score = grade->rules_points + grade->room_points + grade->economy_points;
}

enum outcome grade_marks(const struct practice *practice, const struct marks *marks,
                         struct grade *grade) {
    struct grade made = {.practice = practice};
    enum outcome outcome = marks_copy(marks, &made.marks);
    if (outcome == OUTCOME_DONE) {
        marks_sort(made.marks);
        outcome = check_marks(practice->roof, made.marks, &made.verdict);
    }
    if (outcome != OUTCOME_DONE) {
        grade_free(&made);
        return outcome;
    }
    count_rules(&made);
    score(&made);
    *grade = made;
    return OUTCOME_DONE;
}
