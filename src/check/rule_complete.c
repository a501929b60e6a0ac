/* row-line and complete: one line a row, one foot a leg, two lags a strut, each pipe once. */
#include "rules.h"

#include <math.h>
#include <stdint.h>

static void add(struct checking *checking, enum rule rule, size_t bracket, enum row row,
                double margin) {
    struct finding finding = check_finding(rule, bracket);
    finding.row = (int)row;
    finding.margin = margin;
    check_add(checking, &finding);
}

static const struct mark *mark_of(const struct checking *checking, const struct row_seat *seat,
                                  size_t i) {
    return &checking->marks->list[checking->verdict->order[seat->first_mark + i]];
}

/* How far apart the heights of a row's marks are. */
static double spread(const struct checking *checking, const struct row_seat *seat) {
    double low = INFINITY, high = -INFINITY;
    for (size_t i = 0; i < seat->count; i++) {
        low = check_lesser(low, mark_of(checking, seat, i)->y);
        high = check_greater(high, mark_of(checking, seat, i)->y);
    }
    return high - low;
}

static size_t rafter_of(const struct checking *checking, const struct row_seat *seat, size_t i) {
    size_t ply = checking->verdict->seats[checking->verdict->order[seat->first_mark + i]].ply;
    return ply == SIZE_MAX ? SIZE_MAX : checking->roof->plies[ply].rafter;
}

/* Lags of a strut that lie in the same rafter as the one before them. */
static size_t doubled(const struct checking *checking, const struct row_seat *seat) {
    size_t count = 0;
    for (size_t i = 1; i < seat->count; i++) {
        size_t rafter = rafter_of(checking, seat, i);
        if (rafter != SIZE_MAX && rafter == rafter_of(checking, seat, i - 1))
            count++;
    }
    return count;
}

/* How many marks a row has too few or too many. */
static size_t amiss(const struct checking *checking, size_t bracket, enum row row) {
    const struct row_seat *seat = &checking->verdict->rows[bracket][row];
    size_t legs = roof_kit(checking->roof, bracket)->leg_count;
    if (checking->marks->brackets[bracket].hardware[row] == HARDWARE_FEET)
        return seat->count > legs ? seat->count - legs : legs - seat->count;
    size_t again = doubled(checking, seat);
    size_t rafters = seat->count - again;
    size_t missing = rafters < 2 ? 2 - rafters : 0;
    return again > missing ? again : missing;
}

/* Holes of that pipe: too few or too many. */
static void add_pipe(struct checking *checking, size_t pipe) {
    struct finding finding = check_finding(RULE_COMPLETE, checking->roof->pipes[pipe].bracket);
    double count = 0;
    finding.row = ROW_PIPE;
    for (size_t i = 0; i < checking->pipe_mark_count; i++) {
        size_t index = checking->pipe_marks[i];
        if (checking->marks->list[index].pipe != pipe)
            continue;
        if (finding.mark == CHECK_NONE)
            finding.mark = (int)index;
        count++;
    }
    finding.margin = 0 - fabs(count - 1);
    check_add(checking, &finding);
}

void check_all_complete(struct checking *checking) {
    for (size_t i = 0; i < checking->roof->bracket_count; i++) {
        for (int row = 0; row < ROW_COUNT; row++) {
            const struct row_seat *seat = &checking->verdict->rows[i][row];
            if (seat->count > 0)
                add(checking, RULE_ROW_LINE, i, (enum row)row, 0 - spread(checking, seat));
            add(checking, RULE_COMPLETE, i, (enum row)row,
                0 - (double)amiss(checking, i, (enum row)row));
        }
    }
    for (size_t i = 0; i < checking->roof->pipe_count; i++)
        add_pipe(checking, i);
}
