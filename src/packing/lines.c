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

static void list_seats(const struct packing_task *task, const struct placed *placed,
                       struct seat seats[ROOF_BRACKETS_MOST]) {
    for (size_t b = 0; b < task->count; b++)
        seats[b] = (struct seat){&placed[b].spot, {placed[b].x, placed[b].y}};
}

static void lower_line(struct interval *line, double at) {
    line->hi = length_lesser(line->hi, at);
}

static void raise_line(struct interval *line, double at) {
    line->lo = length_greater(line->lo, at);
}

/* How much closer parts are in a way than they have to be, or than they are for nothing lacked. */
static double closer(const struct packing_task *task, const struct crossing *crossing,
                     const struct seats *seats, enum way way) {
    return length_greater(parts_excess(task, crossing, seats, way),
                          parts_depth(task, crossing, seats, way));
}

/* Whether parts are apart in a way, also for nothing lacked. */
static bool clear(const struct packing_task *task, const struct crossing *crossing,
                  const struct seats *seats, enum way way) {
    return closer(task, crossing, seats, way) <= SAME;
}

/* Parts that are apart up the slope only, each as far out of the other's way as half of what there
 * is to spare; a box does not move.  (Of spots without misses: a line may lie anywhere that the
 * level lets it.) */
static void spread_lines(const struct packing_task *task, const struct crossing *crossing,
                         const struct seats *seats, struct placed *placed) {
    const enum way hard = least_way(task, crossing, seats);
    if (clear(task, crossing, seats, WAY_AFTER) || clear(task, crossing, seats, WAY_BEFORE))
        return;
    const bool over = clear(task, crossing, seats, WAY_OVER);
    const bool free = over || clear(task, crossing, seats, WAY_UNDER);
    const enum way way = over ? WAY_OVER : free ? WAY_UNDER : hard;
    if (packing_axis(way) != UP)
        return;
    const int first = parts_first(way), second = 1 - first;
    const bool fixed = crossing->kind[0] == PART_BOX || crossing->kind[1] == PART_BOX;
    const double spare =
        (free ? -closer(task, crossing, seats, way) : -parts_excess(task, crossing, seats, way)) /
        (fixed ? 1 : 2);
    for (int which = 0; which < 2; which++) {
        const struct spot *spot = seats->spot[which];
        const size_t b = crossing->bracket[which];
        const double y = placed[b].y;
        if (crossing->kind[which] == PART_BOX)
            continue;
        struct interval *line = &placed[b].rather.lines[crossing->row[which]];
        struct end end = parts_end(task, crossing, which, spot, UP, which == first, DRAWN_HARD);
        const double off = parts_off(task, crossing, which, which == first);
        if (which == second)
            raise_line(line, length_lesser(end.fixed, y + end.rel) - off - spare);
        else
            lower_line(line, length_greater(end.fixed, y + end.rel) - off + spare);
    }
}

static bool is_foot(const struct packing_task *task, const struct crossing *crossing, int which,
                    const struct seats *seats) {
    return crossing->kind[which] != PART_BOX &&
           parts_arm(parts_parcel(task, crossing->bracket[which]), seats->spot[which],
                     crossing->row[which])
               ->feet;
}

/* The last foot of the row that comes first in a way, and the first one of the other, no further
 * out than where they can be drawn to and what there is to spare between them; others stay. */
static void draw_in(const struct packing_task *task, const struct crossing *crossing,
                    const struct seats *seats, enum way way, enum drawing drawing, double spare,
                    struct placed *placed) {
    const int first = parts_first(way);
    const bool both = is_foot(task, crossing, 0, seats) && is_foot(task, crossing, 1, seats);
    const double own = length_greater(0, spare) / (both ? 2 : 1);
    for (int i = 0; i < 2; i++) {
        const int which = i == 0 ? first : 1 - first;
        const size_t b = crossing->bracket[which];
        if (!is_foot(task, crossing, which, seats) ||
            crossing->kind[which] != (i == 0 ? PART_LAST : PART_FIRST))
            continue;
        const struct end end =
            parts_end(task, crossing, which, seats->spot[which], ALONG, i == 0, drawing);
        const double side = parts_parcel(task, b)->arms->side, x = placed[b].x + end.rel;
        struct rather *rather = &placed[b].rather;
        struct interval *lags =
            &(drawing == DRAWN_FREE ? rather->lags : rather->must)[crossing->row[which]];
        if (i == 0)
            lags->hi = length_lesser(lags->hi, length_greater(end.fixed, x) - side + own);
        else
            lags->lo = length_greater(lags->lo, length_lesser(end.fixed, x) + side - own);
    }
}

/* Flashings of feet that are apart along the eave, or had better be, as far in as it takes. */
static void draw_lags_in(const struct packing_task *task, const struct crossing *crossing,
                         const struct seats *seats, struct placed *placed) {
    enum way way = WAY_AFTER;
    for (int other = WAY_BEFORE; other <= WAY_UNDER; other++)
        if (parts_depth(task, crossing, seats, (enum way)other) <
            parts_depth(task, crossing, seats, way))
            way = (enum way)other;
    if (packing_axis(way) == ALONG)
        draw_in(task, crossing, seats, way, DRAWN_FREE, -parts_depth(task, crossing, seats, way),
                placed);
}

/* Whether two flashings are clear of each other up the slope wherever their lines had rather lie.
 */
static bool clear_up(const struct packing_task *task, const struct crossing *crossing,
                     const struct placed *placed, enum way way) {
    const int first = parts_first(way), second = 1 - first;
    const struct rather *below = &placed[crossing->bracket[first]].rather,
                        *above = &placed[crossing->bracket[second]].rather;
    const double high =
                     below->lines[crossing->row[first]].hi + parts_off(task, crossing, first, true),
                 low = above->lines[crossing->row[second]].lo +
                       parts_off(task, crossing, second, false);
    return low - high >= parts_gap(task, crossing) - SAME;
}

/* Whether lags that are drawn in keep flashings apart in a way: those of feet face each other. */
static bool faces(const struct packing_task *task, const struct crossing *crossing,
                  const struct seats *seats, enum way way) {
    const int first = parts_first(way), second = 1 - first;
    return parts_excess(task, crossing, seats, way) <= SAME &&
           (!is_foot(task, crossing, first, seats) || crossing->kind[first] == PART_LAST) &&
           (!is_foot(task, crossing, second, seats) || crossing->kind[second] == PART_FIRST);
}

/* Flashings of feet that are apart along the eave only, as far in as the level lets them; there is
 * a rule between these and other flashings only. */
static void draw_lags_hard(const struct packing_task *task, const struct crossing *crossing,
                           const struct seats *seats, struct placed *placed) {
    const enum way way = faces(task, crossing, seats, WAY_AFTER) ? WAY_AFTER : WAY_BEFORE;
    if ((is_foot(task, crossing, 0, seats) || is_foot(task, crossing, 1, seats)) &&
        faces(task, crossing, seats, way) && !clear_up(task, crossing, placed, WAY_OVER) &&
        !clear_up(task, crossing, placed, WAY_UNDER))
        draw_in(task, crossing, seats, way, DRAWN_HARD, -parts_excess(task, crossing, seats, way),
                placed);
}

/* Those of nearest misses, all at once. */
static void settle_lines(const struct packing_task *task, const struct seat *all,
                         struct placed *placed) {
    double lines[ROOF_BRACKETS_MOST][ROW_COUNT];
    packing_settle_lines(task, all, lines);
    for (size_t b = 0; b < task->count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            if (!isnan(lines[b][row]))
                placed[b].rather.lines[row] = (struct interval){lines[b][row], lines[b][row]};
}

/* Whether a line that its bracket's place lets it be has some of that. */
static bool can_lie_in(const struct parcel *parcel, const struct placed *placed, int row,
                       struct interval rather) {
    struct interval strips[LINE_STRIPS_MOST];
    const struct arm *arm = parts_arm(parcel, &placed->spot, row);
    const size_t count =
        parts_line_strips(parcel, arm, (struct interval){placed->y, placed->y}, strips);
    for (size_t i = 0; i < count; i++)
        if (length_greater(rather.lo, strips[i].lo) <=
            length_lesser(rather.hi, strips[i].hi) + SAME)
            return true;
    return false;
}

/* Whether what was asked of lines by pairs can be had of each. */
static bool lines_are_spread(const struct packing_task *task, const struct placed *placed) {
    bool spread = true;
    for (size_t b = 0; b < task->count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT && task->parcels[b].arms; row++) {
            const struct parcel *parcel = parts_parcel(task, b);
            if (parts_arm(parcel, &placed[b].spot, row)->there)
                spread = spread && can_lie_in(parcel, &placed[b], row, placed[b].rather.lines[row]);
        }
    return spread;
}

/* Those that no two pairs ask to lie elsewhere, if there are. */
static void agree_on_lines(const struct packing_task *task, const struct seat *all,
                           struct placed *placed) {
    double lines[ROOF_BRACKETS_MOST][ROW_COUNT];
    if (!packing_lines_agree(task, all, lines))
        return;
    for (size_t b = 0; b < task->count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            placed[b].rather.lines[row] = isnan(lines[b][row])
                                              ? (struct interval){-INFINITY, INFINITY}
                                              : (struct interval){lines[b][row], lines[b][row]};
}

/* For each two parts between which there is a rule. */
static void clear_each(const struct packing_task *task, const struct seat *all,
                       void (*clear_two)(const struct packing_task *task,
                                         const struct crossing *crossing, const struct seats *seats,
                                         struct placed *placed),
                       struct placed *placed) {
    for (size_t a = 0; a < task->count; a++)
        for (size_t b = a + 1; b < task->count; b++) {
            const struct seats seats = seats_of(all, a, b);
            struct crossing crossing;
            if (!parts_begin(task, &seats, a, b, &crossing))
                continue;
            while (parts_next(task, &seats, &crossing))
                clear_two(task, &crossing, &seats, placed);
        }
}

void packing_clear_lines(const struct packing_task *task, struct placed *placed) {
    struct seat all[ROOF_BRACKETS_MOST];
    for (size_t b = 0; b < task->count; b++)
        placed[b].rather = rather_anywhere();
    list_seats(task, placed, all);
    if (task->misses)
        settle_lines(task, all, placed);
    else
        clear_each(task, all, spread_lines, placed);
    if (!task->misses && !lines_are_spread(task, placed))
        agree_on_lines(task, all, placed);
    clear_each(task, all, draw_lags_in, placed);
    clear_each(task, all, draw_lags_hard, placed);
}

/* Ends by both of what they are set by. */
static void see_way(const struct packing_task *task, const struct crossing *crossing,
                    const struct seats *seats,
                    void (*see)(void *subject, const struct apart_by *by), void *subject) {
    const enum way way = least_way(task, crossing, seats);
    const int axis = packing_axis(way), first = parts_first(way), second = 1 - first;
    const struct end ends[] = {
        parts_end(task, crossing, first, seats->spot[first], axis, true, DRAWN_HARD),
        parts_end(task, crossing, second, seats->spot[second], axis, false, DRAWN_HARD)};
    const bool box[] = {crossing->kind[first] == PART_BOX, crossing->kind[second] == PART_BOX};
    const bool moves[] = {axis == UP ? !box[0] : is_foot(task, crossing, first, seats),
                          axis == UP ? !box[1] : is_foot(task, crossing, second, seats)};
    const double slopes[] = {moves[0] ? 1 : 0, moves[1] ? 1 : 0};
    for (int i = 0; i < 4; i++) {
        const bool goes[] = {i / 2 != 0, i % 2 != 0};
        const struct apart_by by = {
            .bracket = {crossing->bracket[first], crossing->bracket[second]},
            .up = axis == UP,
            .goes = {goes[0], goes[1]},
            .reach = {goes[0] ? ends[0].rel : ends[0].fixed, goes[1] ? ends[1].rel : ends[1].fixed},
            .slope = {slopes[0], slopes[1]},
            .times = box[0] || box[1] ? 1 : 2};
        if (fabs(by.reach[0]) < INFINITY && fabs(by.reach[1]) < INFINITY)
            see(subject, &by);
    }
}

void packing_see_arms(const struct packing_task *task, const struct placed *placed,
                      void (*see)(void *subject, const struct apart_by *by), void *subject) {
    struct seat all[ROOF_BRACKETS_MOST];
    list_seats(task, placed, all);
    for (size_t a = 0; a < task->count; a++)
        for (size_t b = a + 1; b < task->count; b++) {
            const struct seats seats = seats_of(all, a, b);
            struct crossing crossing;
            if (!parts_begin(task, &seats, a, b, &crossing))
                continue;
            while (parts_next(task, &seats, &crossing))
                see_way(task, &crossing, &seats, see, subject);
        }
}
