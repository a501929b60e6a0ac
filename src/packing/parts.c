/* Struts reach beyond their brackets, and lags and flashings at their ends with them: parts of two
 * brackets that stand apart can still be in each other's way.  Two parts are apart in one of four
 * ways, as brackets are.  Where a part ends depends on its spot: on a fixed place, or on one that
 * goes with the bracket, whichever is further out. */
#include "parts.h"

#include "length.h"

#include <math.h>

const struct parcel *parts_parcel(const struct packing *packing, size_t b) {
    return &packing->task->parcels[b];
}

const struct arm *parts_arm(const struct parcel *parcel, const struct spot *spot, int row) {
    return &parcel->arms->list[spot->stand][row];
}

/* Up the slope: the line lies as low (to end low) or as high as it can. */
static struct end end_up(const struct arms *arms, const struct arm *arm, int kind, bool high) {
    const double off = high ? (kind == PART_STRUT ? arms->half : arms->up)
                            : -(kind == PART_STRUT ? arms->half : arms->down);
    const int side = high ? 0 : 1;
    return (struct end){arm->line[side] + off, arm->rise[side] + off};
}

static struct end end_along(const struct arms *arms, const struct arm *arm, int kind, bool high) {
    const double off = kind == PART_STRUT ? arms->end : arms->side;
    const double none = high ? -INFINITY : INFINITY;
    const int lag = kind == PART_FIRST || (kind == PART_STRUT && !high) ? 0 : 1;
    return (struct end){
        arm->lags[lag] + (high ? off : -off),
        kind == PART_STRUT ? arm->clamps[lag] + (high ? off : -off) : none,
    };
}

static bool is_there(const struct arm *arm, int kind) {
    return kind == PART_FIRST  ? arm->there && arm->beyond[SIDE_NEAR]
           : kind == PART_LAST ? arm->there && arm->beyond[SIDE_FAR]
                               : arm->there;
}

struct end parts_end(const struct packing *packing, const struct crossing *crossing, int which,
                     const struct spot *spot, int axis, bool high) {
    const struct parcel *parcel = parts_parcel(packing, crossing->bracket[which]);
    const int kind = crossing->kind[which];
    if (kind == PART_BOX)
        return (struct end){high ? -INFINITY : INFINITY,
                            high ? packing_size(packing, crossing->bracket[which], axis) : 0};
    const struct arm *arm = parts_arm(parcel, spot, crossing->row[which]);
    if (!is_there(arm, kind)) /* in nobody's way */
        return (struct end){high ? -INFINITY : INFINITY, high ? -INFINITY : INFINITY};
    return axis == ALONG ? end_along(parcel->arms, arm, kind, high)
                         : end_up(parcel->arms, arm, kind, high);
}

/* How far apart the rule between such parts wants them; -INFINITY: there is none. */
double parts_gap(const struct packing *packing, const struct crossing *crossing) {
    const double level = length_greater(parts_parcel(packing, crossing->bracket[0])->level,
                                        parts_parcel(packing, crossing->bracket[1])->level);
    const int one = crossing->kind[0], other = crossing->kind[1];
    if ((one == PART_BOX) != (other == PART_BOX))
        return one == PART_STRUT || other == PART_STRUT ? level : -INFINITY;
    if (one == PART_BOX || (one == PART_STRUT) != (other == PART_STRUT))
        return -INFINITY;
    return 2 * level;
}

/* Which of a crossing's two comes first in a way. */
int parts_first(enum way way) {
    return way == WAY_AFTER || way == WAY_OVER ? 0 : 1;
}

/* How far one part reaches into the other in a way. */
double parts_depth(const struct packing *packing, const struct crossing *crossing,
                   const struct seats *seats, enum way way) {
    const int axis = packing_axis(way), first = parts_first(way), second = 1 - first;
    const struct end high = parts_end(packing, crossing, first, seats->spot[first], axis, true);
    const struct end low = parts_end(packing, crossing, second, seats->spot[second], axis, false);
    return length_greater(high.fixed, seats->at[first][axis] + high.rel) -
           length_lesser(low.fixed, seats->at[second][axis] + low.rel);
}

double parts_excess(const struct packing *packing, const struct crossing *crossing,
                    const struct seats *seats, enum way way) {
    return parts_depth(packing, crossing, seats, way) + parts_gap(packing, crossing);
}

static bool there(const struct packing *packing, const struct crossing *crossing,
                  const struct seats *seats) {
    for (int i = 0; i < 2; i++) {
        const int kind = crossing->kind[i];
        if (kind != PART_BOX && !is_there(parts_arm(parts_parcel(packing, crossing->bracket[i]),
                                                    seats->spot[i], crossing->row[i]),
                                          kind))
            return false;
    }
    return parts_gap(packing, crossing) > -INFINITY;
}

/* The next of all crossings of two brackets between whose parts there is a rule; false: that was
 * the last one.  The first comes after kind[0] = PART_NONE. */
bool parts_next(const struct packing *packing, const struct seats *seats,
                struct crossing *crossing) {
    for (;;) {
        int *const count[] = {&crossing->row[1], &crossing->row[0], &crossing->kind[1],
                              &crossing->kind[0]};
        const int most[] = {ROW_COUNT, ROW_COUNT, PART_KINDS, PART_KINDS};
        int i = 0;
        while (i < 4 && ++*count[i] == most[i])
            *count[i++] = 0;
        if (i == 4)
            return false;
        const bool twice = (crossing->kind[0] == PART_BOX && crossing->row[0] > ROW_TOP) ||
                           (crossing->kind[1] == PART_BOX && crossing->row[1] > ROW_TOP);
        if (!twice && there(packing, crossing, seats))
            return true;
    }
}

/* Two brackets before the first of their crossings, two boxes, between which the rule is another.
 */
struct crossing parts_begin(size_t a, size_t b) {
    return (struct crossing){.bracket = {a, b}};
}

/* Further apart than any strut reaches beyond its bracket on both sides. */
bool parts_far_apart(const struct packing *packing, const struct crossing *crossing,
                     const struct seats *seats) {
    double reach = 0;
    for (int i = 0; i < 2; i++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++) {
            const struct parcel *parcel = parts_parcel(packing, crossing->bracket[i]);
            const struct arm *arm = parts_arm(parcel, seats->spot[i], row);
            const double x = seats->at[i][ALONG];
            const double off = length_greater(parcel->arms->end, parcel->arms->side);
            if (!arm->there)
                continue;
            const double low = length_lesser(arm->lags[0], x + arm->clamps[0]) - off;
            const double high = length_greater(arm->lags[1], x + arm->clamps[1]) + off;
            reach = length_greater(reach, length_greater(x - low, high - x - parcel->width));
        }
    const double x[2] = {seats->at[0][ALONG], seats->at[1][ALONG]};
    const double gap =
        length_greater(x[1] - x[0] - parts_parcel(packing, crossing->bracket[0])->width,
                       x[0] - x[1] - parts_parcel(packing, crossing->bracket[1])->width);
    const double level = length_greater(parts_parcel(packing, crossing->bracket[0])->level,
                                        parts_parcel(packing, crossing->bracket[1])->level);
    return gap > 2 * reach + 2 * length_greater(level, 0);
}

struct seats parts_seats(const struct packing *packing, const struct places *places, size_t a,
                         const struct spot *one, size_t b) {
    return (struct seats){.spot = {one, &packing->piles[b].spots[places->spot[b]]},
                          .at = {{places->at[ALONG][a], places->at[UP][a]},
                                 {places->at[ALONG][b], places->at[UP][b]}}};
}

double parts_weight(const struct crossing *crossing) {
    return crossing->kind[0] == PART_BOX || crossing->kind[1] == PART_BOX ? 1 : 0.5;
}

bool parts_any(const struct packing *packing, size_t a, size_t b) {
    return parts_parcel(packing, a)->arms && parts_parcel(packing, b)->arms;
}
