/* course-edge, course-block and lap: how a flashing lies in the shingles. */
#include "rules.h"

#include <math.h>

struct course_margins check_course(const struct roof *roof, const struct flashing *flashing,
                                   size_t course, double y) {
    if (course == 0)
        return (struct course_margins){-roof->slope, -roof->slope, -roof->slope};
    const double *edges = &roof->courses[course - 1]; /* E_k, E_k+1, E_k+2 */
    double tolerance = roof->course_tolerance;
    double lower = y - flashing->hole_up;
    double above = lower - edges[0];
    return (struct course_margins){
        .edge = check_lesser(above - flashing->edge[0], flashing->edge[1] - above) - tolerance,
        .block = edges[1] - flashing->clear - (y + flashing->block) - tolerance,
        .lap = lower + flashing->height - (edges[2] + flashing->lap) - tolerance,
    };
}

/* The part of the least margin that grows from course to course, and the part that falls. */
static double growing(const struct roof *roof, const struct flashing *flashing, size_t course,
                      double high) {
    const double *edges = &roof->courses[course - 1];
    return check_lesser(edges[0] + flashing->edge[1] - (high - flashing->hole_up),
                        edges[1] - flashing->clear - (high + flashing->block));
}

static double falling(const struct roof *roof, const struct flashing *flashing, size_t course,
                      double low) {
    const double *edges = &roof->courses[course - 1];
    double lower = low - flashing->hole_up;
    return check_lesser(lower - edges[0] - flashing->edge[0],
                        lower + flashing->height - (edges[2] + flashing->lap));
}

static double least_of_course(const struct roof *roof, const struct flashing *flashing,
                              size_t course, double low, double high) {
    return check_lesser(growing(roof, flashing, course, high),
                        falling(roof, flashing, course, low));
}

/* The course of flashings whose holes lie from low to high, joints not counted. */
static size_t nearest_course(const struct roof *roof, const struct flashing *flashing, double low,
                             double high) {
    /* Butt edges rise, so the least margin is greatest where the two parts cross: at the first
     * course where what grows is not below what falls, or at the one before. */
    size_t first = 1, last = roof->course_count - 2;
    while (first < last) {
        size_t middle = first + (last - first) / 2;
        if (growing(roof, flashing, middle, high) >= falling(roof, flashing, middle, low))
            last = middle;
        else
            first = middle + 1;
    }
    if (first > 1 && least_of_course(roof, flashing, first - 1, low, high) >=
                         least_of_course(roof, flashing, first, low, high))
        return first - 1;
    return first;
}

static const struct mark *mark_on(const struct on_course *marks, size_t i) {
    return &marks->list[marks->order != NULL ? marks->order[i] : i];
}

static double least_of_joints(const struct roof *roof, const struct on_course *marks,
                              size_t course) {
    double least = INFINITY;
    for (size_t i = 0; i < marks->count; i++)
        least =
            check_lesser(least, check_joints(roof, marks->flashing, course, mark_on(marks, i)->x));
    return least;
}

/* Joints only take from a margin, so a course is looked at only while its own rules leave more
 * than the best so far; and those fall off to either side of the nearest course. */
static size_t best_beside_joints(const struct roof *roof, const struct on_course *marks, double low,
                                 double high, size_t nearest) {
    const size_t last = roof->course_count - 2;
    size_t best = nearest;
    double most = -INFINITY;
    for (int step = -1; step <= 1; step += 2)
        for (size_t k = nearest; k >= 1 && k <= last; k += (size_t)step) {
            const double own =
                least_of_course(roof, marks->flashing, k, low, high) - roof->course_tolerance;
            if (!(own > most) && k != nearest)
                break;
            const double least = check_lesser(own, least_of_joints(roof, marks, k));
            if (least > most) {
                most = least;
                best = k;
            }
        }
    return best;
}

size_t check_best_course(const struct roof *roof, const struct on_course *marks) {
    if (roof->course_count < 3)
        return 0;
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < marks->count; i++) {
        low = check_lesser(low, mark_on(marks, i)->y);
        high = check_greater(high, mark_on(marks, i)->y);
    }
    const size_t nearest = nearest_course(roof, marks->flashing, low, high);
    return roof_has_joints(roof) ? best_beside_joints(roof, marks, low, high, nearest) : nearest;
}

void check_all_courses(struct checking *checking) {
    for (size_t i = 0; i < checking->marks->count; i++) {
        const struct mark *mark = &checking->marks->list[i];
        const struct flashing *flashing = check_mark_flashing(checking->roof, mark);
        size_t course = verdict_course(checking->verdict, checking->marks, i);
        struct course_margins margins = check_course(checking->roof, flashing, course, mark->y);
        const enum rule rules[] = {RULE_COURSE_EDGE, RULE_COURSE_BLOCK, RULE_LAP};
        const double found[] = {margins.edge, margins.block, margins.lap};
        for (size_t j = 0; j < sizeof rules / sizeof *rules; j++) {
            struct finding finding = check_finding(rules[j], mark->bracket);
            finding.row = (int)mark->row;
            finding.mark = (int)i;
            finding.margin = found[j];
            check_add(checking, &finding);
        }
    }
}
