/* What the marks do not say: the row and course that a mark belongs to, its ply, its leg. */
#include "rules.h"

#include <math.h>
#include <stdint.h>

/* By bracket, row, pipe, x, then place in the list. */
static bool comes_after(const struct marks *marks, size_t left, size_t right) {
    const struct mark *a = &marks->list[left], *b = &marks->list[right];
    if (a->bracket != b->bracket)
        return a->bracket > b->bracket;
    if (a->row != b->row)
        return a->row > b->row;
    if (a->row == ROW_PIPE && a->pipe != b->pipe)
        return a->pipe > b->pipe;
    if (a->x < b->x || a->x > b->x)
        return a->x > b->x;
    return left > right;
}

/* By insertion: marks come sorted as a rule, and then this is one pass. */
static void put_in_order(const struct marks *marks, size_t *order) {
    for (size_t i = 0; i < marks->count; i++) {
        size_t place = i;
        while (place > 0 && comes_after(marks, order[place - 1], i)) {
            order[place] = order[place - 1];
            place--;
        }
        order[place] = i;
    }
}

/* The rows that the ordered marks fall into, and the course of each. */
static void seat_row(struct checking *checking, size_t bracket, enum row row, size_t *next) {
    const struct marks *marks = checking->marks;
    const size_t *order = checking->verdict->order;
    struct row_seat *seat = &checking->verdict->rows[bracket][row];
    double low = INFINITY, high = -INFINITY;
    seat->first_mark = *next;
    while (*next < marks->count && marks->list[order[*next]].bracket == bracket &&
           marks->list[order[*next]].row == row) {
        low = check_lesser(low, marks->list[order[*next]].y);
        high = check_greater(high, marks->list[order[*next]].y);
        ++*next;
    }
    seat->count = *next - seat->first_mark;
    if (seat->count == 0)
        return;
    seat->y = marks->list[order[seat->first_mark]].y;
    const struct on_course together = {.list = marks->list,
                                       .order = &order[seat->first_mark],
                                       .count = seat->count,
                                       .flashing = &roof_kit(checking->roof, bracket)->flashing};
    seat->course = check_best_course(checking->roof, &together);
    if (marks->brackets[bracket].hardware[row] == HARDWARE_STRUT)
        checking->struts[checking->strut_count++] =
            (struct strut){.bracket = bracket,
                           .row = row,
                           .first_lag = seat->first_mark,
                           .lag_count = seat->count,
                           .low = low,
                           .high = high,
                           .start = marks->list[order[seat->first_mark]].x,
                           .finish = marks->list[order[*next - 1]].x};
}

/* Feet belong to legs in order of x; those beyond the last leg belong to none. */
static void seat_mark(struct checking *checking, const struct row_seat *row, size_t place) {
    size_t index = checking->verdict->order[row->first_mark + place];
    const struct mark *mark = &checking->marks->list[index];
    const struct standing *standing = &checking->marks->brackets[mark->bracket];
    const struct kit *kit = roof_kit(checking->roof, mark->bracket);
    struct seat *seat = &checking->verdict->seats[index];
    seat->ply = check_best_ply(checking->roof, mark);
    seat->leg = SIZE_MAX;
    if (standing->hardware[mark->row] == HARDWARE_FEET && place < kit->leg_count) {
        seat->leg = place;
        seat->slip = check_slip(kit, place, mark->x - standing->x, &seat->side);
    }
}

/* The pipe holes of a bracket come after its rows; each has a course of its own. */
static void seat_pipes(struct checking *checking, size_t bracket, size_t *next) {
    const struct marks *marks = checking->marks;
    for (; *next < marks->count; ++*next) {
        size_t index = checking->verdict->order[*next];
        const struct mark *mark = &marks->list[index];
        if (mark->bracket != bracket)
            return;
        struct seat *seat = &checking->verdict->seats[index];
        seat->ply = SIZE_MAX;
        seat->leg = SIZE_MAX;
        const struct on_course alone = {
            .list = mark, .count = 1, .flashing = check_mark_flashing(checking->roof, mark)};
        seat->course = check_best_course(checking->roof, &alone);
        checking->pipe_marks[checking->pipe_mark_count++] = index;
    }
}

void check_seat_marks(struct checking *checking) {
    size_t next = 0;
    put_in_order(checking->marks, checking->verdict->order);
    for (size_t i = 0; i < checking->roof->bracket_count; i++) {
        for (int row = 0; row < ROW_COUNT; row++) {
            const struct row_seat *seat = &checking->verdict->rows[i][row];
            seat_row(checking, i, (enum row)row, &next);
            for (size_t place = 0; place < seat->count; place++)
                seat_mark(checking, seat, place);
        }
        seat_pipes(checking, i, &next);
    }
}
