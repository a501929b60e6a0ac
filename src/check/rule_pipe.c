/* pipe-bay and pipe-reach: a bore through sheathing only, clear of struts and feet, near its port.
 */
#include "rules.h"

#include <math.h>

double check_bay(const struct roof *roof, const struct mark *mark) {
    const struct pipe *pipe = &roof->pipes[mark->pipe];
    double least = INFINITY;
    for (size_t i = 0; i < roof->rafter_count; i++) {
        const struct rafter *rafter = &roof->rafters[i];
        double gained = rafter->lean * mark->y;
        double off = check_greater(rafter->from + gained - mark->x, mark->x - rafter->to - gained);
        least = check_lesser(least, off - rafter->tolerance);
    }
    return least - pipe->bore / 2 - pipe->keep_rafter;
}

double check_bore_clear(const struct roof *roof, const struct mark *mark, const struct box *box) {
    struct box bore = check_bore_box(roof, mark);
    return check_gap(&bore, box) - roof->pipes[mark->pipe].keep_rafter;
}

double check_pipe_reach(const struct pipe *pipe, const struct standing *standing,
                        const struct mark *mark) {
    double along = fabs(mark->x - standing->x - pipe->port_x);
    double up = fabs(mark->y - standing->y - pipe->port_y);
    return pipe->reach - check_greater(along, up);
}

static struct finding about_pipe(const struct checking *checking, enum rule rule, size_t index) {
    struct finding finding = check_finding(rule, checking->marks->list[index].bracket);
    finding.row = ROW_PIPE;
    finding.mark = (int)index;
    return finding;
}

/* Struts and feet of every bracket, the pipe's own among them. */
static void add_hardware(struct checking *checking, size_t index) {
    const struct roof *roof = checking->roof;
    const struct marks *marks = checking->marks;
    const struct mark *pipe = &marks->list[index];
    struct finding finding = about_pipe(checking, RULE_PIPE_BAY, index);
    for (size_t i = 0; i < checking->strut_count; i++) {
        const struct strut *strut = &checking->struts[i];
        struct box box = check_strut_box(roof, strut, strut->from, strut->to);
        finding.other_bracket = (int)strut->bracket;
        finding.other_row = (int)strut->row;
        finding.margin = check_bore_clear(roof, pipe, &box);
        check_add(checking, &finding);
    }
    finding.other_row = CHECK_NONE;
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *foot = &marks->list[i];
        if (foot->row == ROW_PIPE ||
            marks->brackets[foot->bracket].hardware[foot->row] != HARDWARE_FEET)
            continue;
        struct box box = check_foot_box(roof, foot);
        finding.other_bracket = (int)foot->bracket;
        finding.other_mark = (int)i;
        finding.margin = check_bore_clear(roof, pipe, &box);
        check_add(checking, &finding);
    }
}

void check_all_pipes(struct checking *checking) {
    for (size_t i = 0; i < checking->pipe_mark_count; i++) {
        size_t index = checking->pipe_marks[i];
        const struct mark *mark = &checking->marks->list[index];
        struct finding bay = about_pipe(checking, RULE_PIPE_BAY, index);
        struct finding reach = about_pipe(checking, RULE_PIPE_REACH, index);
        bay.margin = check_bay(checking->roof, mark);
        reach.margin = check_pipe_reach(&checking->roof->pipes[mark->pipe],
                                        &checking->marks->brackets[mark->bracket], mark);
        check_add(checking, &bay);
        check_add(checking, &reach);
        add_hardware(checking, index);
    }
}
