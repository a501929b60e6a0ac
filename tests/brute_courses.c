/* On which course the marks of a line sit, and the joints of the course above it. */
#include "brute_build.h"

#include <math.h>

enum { LINES_MOST = 128 };

/* Where a hole touches a joint of the course above with a side of its flashing, rising. */
struct lines {
    double at[LINES_MOST];
    size_t count;
};

static void add_line(struct builder *builder, struct lines *lines, double at) {
    if (lines->count == LINES_MOST) {
        builder->system->full = true;
        return;
    }
    size_t i = lines->count++;
    for (; i > 0 && lines->at[i - 1] > at; i--)
        lines->at[i] = lines->at[i - 1];
    lines->at[i] = at;
}

/* `course` counts from 0. */
static void find_lines(struct builder *builder, double half, size_t course, struct lines *lines) {
    const struct roof *roof = builder->roof;
    const struct cutouts *cutouts = &roof->cutouts;
    lines->count = 0;
    if (cutouts->tab > 0) {
        double at = cutouts->first + (double)(course + 1) * cutouts->stagger;
        while (at > -4 * cutouts->tab)
            at -= cutouts->tab;
        for (; at < roof->width + 4 * cutouts->tab; at += cutouts->tab) {
            add_line(builder, lines, at - half);
            add_line(builder, lines, at + half);
        }
    }
    for (size_t i = 0; i < roof->joint_count; i++)
        if (roof->joints[i].course == course + 2) {
            add_line(builder, lines, roof->joints[i].x - half);
            add_line(builder, lines, roof->joints[i].x + half);
        }
}

static bool same_lines(const struct lines *a, const struct lines *b) {
    for (size_t i = 0; i < a->count && i < b->count; i++)
        if (!(fabs(a->at[i] - b->at[i]) < 1e-9))
            return false;
    return a->count == b->count;
}

void brute_find_kin(struct builder *builder) {
    if (builder->roof->course_count > COURSES_MOST) {
        builder->system->full = true;
        return;
    }
    for (size_t k = 0; k + 2 < builder->roof->course_count; k++) {
        struct lines own, other;
        find_lines(builder, 0, k, &own);
        for (builder->kin[k] = 0; builder->kin[k] < k; builder->kin[k]++) {
            find_lines(builder, 0, builder->kin[k], &other);
            if (same_lines(&own, &other))
                break;
        }
    }
}

struct spot brute_kin_node(const struct roof *roof, size_t line) {
    return (struct spot){.node = (int)(brute_node_pipe(roof, roof->pipe_count) + line)};
}

/* On courses of that kin x lies between two neighbouring lines, off each by `keep`; `kin` is a node
 * whose place is the first course of the kin that was chosen. */
static void choose_window(struct builder *builder, const struct lines *lines, size_t kin,
                          struct spot kin_at, struct spot x, int finding, unsigned owner) {
    const double keep = builder->roof->keep_joint;
    brute_begin_choice(builder);
    for (size_t i = 0; i <= lines->count; i++) {
        brute_begin_way(builder);
        if (i > 0)
            brute_add_bound(builder, brute_fixed_at(lines->at[i - 1]), x, keep, 1, finding, owner);
        if (i < lines->count)
            brute_add_bound(builder, x, brute_fixed_at(lines->at[i]), keep, 1, finding, owner);
        brute_end_way(builder);
    }
    brute_begin_way(builder);
    brute_add_bound(builder, kin_at, brute_fixed_at((double)kin), 1, 0, BRUTE_HARD, 0);
    brute_end_way(builder);
    brute_begin_way(builder);
    brute_add_bound(builder, brute_fixed_at((double)kin), kin_at, 1, 0, BRUTE_HARD, 0);
    brute_end_way(builder);
}

void brute_keep_off_joints(struct builder *builder, const struct flashing *flashing,
                           struct spot kin_at, struct spot x, unsigned owner) {
    if (!roof_has_joints(builder->roof))
        return;
    const int finding = brute_new_finding(builder);
    for (size_t k = 0; k + 2 < builder->roof->course_count; k++) {
        struct lines lines;
        find_lines(builder, flashing->width / 2, k, &lines);
        if (builder->kin[k] == k && lines.count > 0)
            choose_window(builder, &lines, k, kin_at, x, finding, owner);
    }
}

void brute_choose_course(struct builder *builder, const struct flashing *flashing, struct spot y,
                         size_t count, struct spot kin_at, unsigned owner) {
    const struct roof *roof = builder->roof;
    double slack = roof->course_tolerance;
    int first = 0;
    for (size_t i = 0; i < 3 * count; i++) {
        int finding = brute_new_finding(builder);
        first = i == 0 ? finding : first;
    }
    struct spot lower = brute_beyond(y, -flashing->hole_up);
    brute_begin_choice(builder);
    for (size_t k = 0; k + 2 < roof->course_count; k++) {
        const double *edge = &roof->courses[k];
        brute_begin_way(builder);
        for (size_t i = 0; i < count; i++) {
            int finding = first + 3 * (int)i;
            brute_add_bound(builder, brute_fixed_at(edge[0] + flashing->edge[0]), lower, slack, 1,
                            finding, owner);
            brute_add_bound(builder, lower, brute_fixed_at(edge[0] + flashing->edge[1]), slack, 1,
                            finding, owner);
            brute_add_bound(builder, brute_beyond(y, flashing->block),
                            brute_fixed_at(edge[1] - flashing->clear), slack, 1, finding + 1,
                            owner);
            brute_add_bound(builder, brute_fixed_at(edge[2] + flashing->lap),
                            brute_beyond(lower, flashing->height), slack, 1, finding + 2, owner);
        }
        if (roof_has_joints(roof)) {
            brute_add_bound(builder, brute_fixed_at((double)builder->kin[k]), kin_at, 0, 0,
                            BRUTE_HARD, 0);
            brute_add_bound(builder, kin_at, brute_fixed_at((double)builder->kin[k]), 0, 0,
                            BRUTE_HARD, 0);
        }
        brute_end_way(builder);
    }
}
