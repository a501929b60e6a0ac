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

size_t check_best_course(const struct roof *roof, const struct flashing *flashing, double low,
                         double high) {
    if (roof->course_count < 3)
        return 0;
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

void check_all_courses(struct checking *checking) {
    for (size_t i = 0; i < checking->marks->count; i++) {
        const struct mark *mark = &checking->marks->list[i];
        const struct flashing *flashing = check_mark_flashing(checking->roof, mark);
        size_t course = mark->row == ROW_PIPE
                            ? checking->verdict->seats[i].course
                            : checking->verdict->rows[mark->bracket][mark->row].course;
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
