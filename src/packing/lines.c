/* What a packing says of its arms: where its rows had better lie, and what keeps the parts apart.
 */
#include "parts.h"

#include "length.h"

#include <math.h>

static enum way least_way(const struct packing_task *task, const struct crossing *crossing,
                          const struct seats *seats) {
    enum way best = WAY_AFTER;
    for (int way = WAY_BEFORE; way <= WAY_UNDER; way++)
        if (parts_excess(task, crossing, seats, (enum way)way) <
            parts_excess(task, crossing, seats, best))
            best = (enum way)way;
    return best;
}

static struct seats seats_placed(const struct placed *placed, size_t a, size_t b) {
    return (struct seats){.spot = {&placed[a].spot, &placed[b].spot},
                          .at = {{placed[a].x, placed[a].y}, {placed[b].x, placed[b].y}}};
}

static void lower_line(struct interval *line, double at) {
    line->hi = length_lesser(line->hi, at);
}

static void raise_line(struct interval *line, double at) {
    line->lo = length_greater(line->lo, at);
}

/* Parts that are apart up the slope only, each as far out of the other's way as half of what there
 * is to spare; a box does not move. */
static void spread_lines(const struct packing_task *task, const struct crossing *crossing,
                         const struct seats *seats, struct placed *placed) {
    const enum way way = least_way(task, crossing, seats);
    for (int along = WAY_AFTER; along <= WAY_BEFORE; along++)
        if (length_greater(parts_excess(task, crossing, seats, (enum way)along),
                           parts_depth(task, crossing, seats, (enum way)along)) <= SAME)
            return;
    if (packing_axis(way) != UP)
        return;
    const int first = parts_first(way), second = 1 - first;
    const bool fixed = crossing->kind[0] == PART_BOX || crossing->kind[1] == PART_BOX;
    const double spare = -parts_excess(task, crossing, seats, way) / (fixed ? 1 : 2);
    const struct spot *const spots[] = {seats->spot[first], seats->spot[second]};
    const size_t low = crossing->bracket[first], high = crossing->bracket[second];
    if (crossing->kind[first] != PART_BOX) {
        const int row = crossing->row[first];
        const struct arm *arm = parts_arm(parts_parcel(task, low), spots[0], row);
        lower_line(&placed[low].lines[row],
                   length_greater(arm->line[0], placed[low].y + arm->rise[0]) + spare);
    }
    if (crossing->kind[second] != PART_BOX) {
        const int row = crossing->row[second];
        const struct arm *arm = parts_arm(parts_parcel(task, high), spots[1], row);
        raise_line(&placed[high].lines[row],
                   length_lesser(arm->line[1], placed[high].y + arm->rise[1]) - spare);
    }
}

void packing_set_lines(const struct packing *packing, struct placed *placed) {
    for (size_t b = 0; b < packing->count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            placed[b].lines[row] = (struct interval){-INFINITY, INFINITY};
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const struct seats seats = seats_placed(placed, a, b);
            struct crossing crossing;
            if (!parts_begin(packing->task, &seats, a, b, &crossing))
                continue;
            while (parts_next(packing->task, &seats, &crossing))
                spread_lines(packing->task, &crossing, &seats, placed);
        }
}

/* Ends by both of what they are set by. */
static void see_way(const struct packing_task *task, const struct crossing *crossing,
                    const struct seats *seats,
                    void (*see)(void *subject, const struct apart_by *by), void *subject) {
    const enum way way = least_way(task, crossing, seats);
    const int axis = packing_axis(way), first = parts_first(way), second = 1 - first;
    const struct end ends[] = {parts_end(task, crossing, first, seats->spot[first], axis, true),
                               parts_end(task, crossing, second, seats->spot[second], axis, false)};
    const bool box[] = {crossing->kind[first] == PART_BOX, crossing->kind[second] == PART_BOX};
    for (int i = 0; i < 4; i++) {
        const bool goes[] = {i / 2 != 0, i % 2 != 0};
        const struct apart_by by = {
            .bracket = {crossing->bracket[first], crossing->bracket[second]},
            .up = axis == UP,
            .goes = {goes[0], goes[1]},
            .reach = {goes[0] ? ends[0].rel : ends[0].fixed, goes[1] ? ends[1].rel : ends[1].fixed},
            .slope = {axis == UP && !box[0] ? 1 : 0, axis == UP && !box[1] ? 1 : 0},
            .times = box[0] || box[1] ? 1 : 2};
        if (fabs(by.reach[0]) < INFINITY && fabs(by.reach[1]) < INFINITY)
            see(subject, &by);
    }
}

void packing_see_arms(const struct packing_task *task, const struct placed *placed,
                      void (*see)(void *subject, const struct apart_by *by), void *subject) {
    for (size_t a = 0; a < task->count; a++)
        for (size_t b = a + 1; b < task->count; b++) {
            const struct seats seats = seats_placed(placed, a, b);
            struct crossing crossing;
            if (!parts_begin(task, &seats, a, b, &crossing))
                continue;
            while (parts_next(task, &seats, &crossing))
                see_way(task, &crossing, &seats, see, subject);
        }
}
