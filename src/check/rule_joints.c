/* joints: a flashing's sides keep off the joints and cutouts of the course that covers it. */
#include "rules.h"

#include <math.h>

/* From one side of a flashing to the nearest joint or cutout of a course. */
static double to_nearest(const struct roof *roof, size_t course, double side) {
    const struct cutouts *cutouts = &roof->cutouts;
    double nearest = INFINITY;
    if (cutouts->tab > 0) {
        const double one = cutouts->first + (double)(course - 1) * cutouts->stagger;
        nearest = fabs(remainder(side - one, cutouts->tab));
    }
    for (size_t i = 0; i < roof->joint_count; i++)
        if (roof->joints[i].course == course)
            nearest = check_lesser(nearest, fabs(side - roof->joints[i].x));
    return nearest;
}

double check_joints(const struct roof *roof, const struct flashing *flashing, size_t course,
                    double x) {
    if (course == 0)
        return INFINITY;
    const double half = flashing->width / 2;
    return check_lesser(to_nearest(roof, course + 1, x - half),
                        to_nearest(roof, course + 1, x + half)) -
           roof->keep_joint;
}

void check_all_joints(struct checking *checking) {
    if (!roof_has_joints(checking->roof))
        return;
    for (size_t i = 0; i < checking->marks->count; i++) {
        const struct mark *mark = &checking->marks->list[i];
        const double margin =
            check_joints(checking->roof, check_mark_flashing(checking->roof, mark),
                         verdict_course(checking->verdict, checking->marks, i), mark->x);
        if (isinf(margin))
            continue;
        struct finding finding = check_finding(RULE_JOINTS, mark->bracket);
        finding.row = (int)mark->row;
        finding.mark = (int)i;
        finding.margin = margin;
        check_add(checking, &finding);
    }
}
