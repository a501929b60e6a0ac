/* Struts reach beyond their brackets, and lags and flashings at their ends with them: parts of two
 * brackets that stand apart can still be in each other's way.  Two parts are apart in one of four
 * ways, as brackets are.  Where a part ends depends on its spot: on a fixed place, or on one that
 * goes with the bracket, whichever is further out. */
#include "parts.h"

#include "length.h"

#include <math.h>

const struct parcel *parts_parcel(const struct packing_task *task, size_t b) {
    return &task->parcels[b];
}

const struct arm *parts_arm(const struct parcel *parcel, const struct spot *spot, int row) {
    return &parcel->arms->list[spot->stand][row];
}

static double off_line(const struct arms *arms, int kind, bool high) {
    return high ? (kind == PART_STRUT ? arms->half : arms->up)
                : -(kind == PART_STRUT ? arms->half : arms->down);
}

double parts_off(const struct packing_task *task, const struct crossing *crossing, int which,
                 bool high) {
    return off_line(parts_parcel(task, crossing->bracket[which])->arms, crossing->kind[which],
                    high);
}

struct interval parts_lines_within(const struct arm *arm, struct interval up) {
    return (struct interval){length_greater(arm->line[0], up.lo + arm->rise[0]),
                             length_lesser(arm->line[1], up.hi + arm->rise[1])};
}

struct interval parts_lines(const struct arm *arm, double y) {
    return parts_lines_within(arm, (struct interval){y, y});
}

size_t parts_line_strips(const struct parcel *parcel, const struct arm *arm, struct interval up,
                         struct interval strips[LINE_STRIPS_MOST]) {
    const struct strips *all = &parcel->arms->strips;
    const struct interval within = parts_lines_within(arm, up);
    size_t count = 0;
    for (size_t i = 0; i < all->count && count < LINE_STRIPS_MOST; i++) {
        const struct interval strip = {length_greater(within.lo, all->list[i].lo),
                                       length_lesser(within.hi, all->list[i].hi)};
        if (strip.lo <= strip.hi)
            strips[count++] = strip;
    }
    if (count > 0 && (count < LINE_STRIPS_MOST || strips[count - 1].hi >= within.hi))
        return count;
    strips[0] = within; /* as if it could lie anywhere */
    return 1;
}

size_t parts_first_strip(const struct strips *strips, double y) {
    size_t from = 0, to = strips->count;
    while (from < to) {
        const size_t middle = from + (to - from) / 2;
        if (strips->list[middle].hi < y)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

bool parts_free(const struct spot *spot) {
    return spot->miss && spot->miss->ends;
}

/* Up the slope: the line lies as low (to end low) or as high as it can, or can for nothing more
 * lacked. */
static struct end end_up(const struct arms *arms, const struct arm *arm, const struct spot *spot,
                         int row, int kind, bool high, enum drawing drawing) {
    const double off = off_line(arms, kind, high);
    const int side = high ? 0 : 1;
    if (drawing == DRAWN_FREE && parts_free(spot)) {
        const struct drawn *free = &spot->miss->free[row][high ? SIDE_FAR : SIDE_NEAR];
        return (struct end){free->fixed + off, free->goes + off};
    }
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

/* The flashing of an outer foot. */
static struct end foot_end(const struct arms *arms, const struct spot *spot, int row, int kind,
                           bool high, enum drawing drawing) {
    const enum side end = kind == PART_FIRST ? SIDE_NEAR : SIDE_FAR;
    const enum side side = high ? SIDE_FAR : SIDE_NEAR;
    const struct drawn *drawn = parts_free(spot) ? &spot->miss->drawn[row][end][side][drawing]
                                                 : &arms->list[spot->stand][row].drawn[end][side];
    const double off = high ? arms->side : -arms->side;
    return (struct end){drawn->fixed + off, drawn->goes + off};
}

static bool is_there(const struct arm *arm, int kind) {
    if (!arm->there || (arm->feet && kind == PART_STRUT))
        return false;
    return kind == PART_FIRST  ? arm->beyond[SIDE_NEAR]
           : kind == PART_LAST ? arm->beyond[SIDE_FAR]
                               : true;
}

struct end parts_end(const struct packing_task *task, const struct crossing *crossing, int which,
                     const struct spot *spot, int axis, bool high, enum drawing drawing) {
    const struct parcel *parcel = parts_parcel(task, crossing->bracket[which]);
    const int kind = crossing->kind[which];
    if (kind == PART_BOX)
        return (struct end){high ? -INFINITY : INFINITY,
                            high ? (axis == ALONG ? parcel->width : parcel->height) : 0};
    const struct arm *arm = parts_arm(parcel, spot, crossing->row[which]);
    if (!is_there(arm, kind)) /* in nobody's way */
        return (struct end){high ? -INFINITY : INFINITY, high ? -INFINITY : INFINITY};
    if (axis == ALONG && arm->feet)
        return foot_end(parcel->arms, spot, crossing->row[which], kind, high, drawing);
    return axis == ALONG
               ? end_along(parcel->arms, arm, kind, high)
               : end_up(parcel->arms, arm, spot, crossing->row[which], kind, high, drawing);
}

double parts_gap(const struct packing_task *task, const struct crossing *crossing) {
    const double level = length_greater(parts_parcel(task, crossing->bracket[0])->level,
                                        parts_parcel(task, crossing->bracket[1])->level);
    const int one = crossing->kind[0], other = crossing->kind[1];
    if ((one == PART_BOX) != (other == PART_BOX))
        return one == PART_STRUT || other == PART_STRUT ? level : -INFINITY;
    if (one == PART_BOX || (one == PART_STRUT) != (other == PART_STRUT))
        return -INFINITY;
    return 2 * level;
}

int parts_first(enum way way) {
    return way == WAY_AFTER || way == WAY_OVER ? 0 : 1;
}

static double depth(const struct packing_task *task, const struct crossing *crossing,
                    const struct seats *seats, enum way way, enum drawing drawing) {
    const int axis = packing_axis(way), first = parts_first(way), second = 1 - first;
    const struct end high =
        parts_end(task, crossing, first, seats->spot[first], axis, true, drawing);
    const struct end low =
        parts_end(task, crossing, second, seats->spot[second], axis, false, drawing);
    return length_greater(high.fixed, seats->at[first][axis] + high.rel) -
           length_lesser(low.fixed, seats->at[second][axis] + low.rel);
}

double parts_depth(const struct packing_task *task, const struct crossing *crossing,
                   const struct seats *seats, enum way way) {
    return depth(task, crossing, seats, way, DRAWN_FREE);
}

double parts_excess(const struct packing_task *task, const struct crossing *crossing,
                    const struct seats *seats, enum way way) {
    return depth(task, crossing, seats, way, DRAWN_HARD) + parts_gap(task, crossing);
}

/* The worth of what gives way at either end, the lesser. */
static double cheaper_worth(const struct packing_task *task, const struct crossing *crossing,
                            const struct seats *seats, enum way way) {
    double least = INFINITY;
    for (int which = 0; which < 2; which++)
        least = length_lesser(least, parts_worth(task, crossing, which, seats->spot[which],
                                                 packing_axis(way), which == parts_first(way)));
    return least;
}

/* How far the ends had better give way to each other, beyond what costs nothing, to be apart in a
 * way; INFINITY: they cannot be as far apart as the level asks. */
static double give_of(const struct packing_task *task, const struct crossing *crossing,
                      const struct seats *seats, enum way way) {
    const double deep = parts_depth(task, crossing, seats, way);
    const double closer = deep + parts_gap(task, crossing);
    const double room = closer - parts_excess(task, crossing, seats, way);
    const bool pays = cheaper_worth(task, crossing, seats, way) < parts_weight(crossing);
    if (closer > room + SAME)
        return INFINITY;
    return length_lesser(room, length_greater(0, pays ? length_greater(deep, closer) : closer));
}

double parts_lack(const struct packing_task *task, const struct crossing *crossing,
                  const struct seats *seats, enum way way) {
    const double deep = parts_depth(task, crossing, seats, way);
    const double give = give_of(task, crossing, seats, way);
    const double kept = parts_weight(crossing) * length_greater(0, deep - give);
    return give > 0 ? kept + give * cheaper_worth(task, crossing, seats, way) : kept;
}

static bool there(const struct packing_task *task, const struct crossing *crossing,
                  const struct seats *seats) {
    for (int i = 0; i < 2; i++) {
        const int kind = crossing->kind[i];
        if (kind != PART_BOX && !is_there(parts_arm(parts_parcel(task, crossing->bracket[i]),
                                                    seats->spot[i], crossing->row[i]),
                                          kind))
            return false;
    }
    return parts_gap(task, crossing) > -INFINITY;
}

bool parts_next(const struct packing_task *task, const struct seats *seats,
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
        if (!twice && there(task, crossing, seats))
            return true;
    }
}

/* How far parts of one in a spot end beyond its sides, at x. */
static double beyond_at(const struct parcel *parcel, const struct spot *spot, double x) {
    const double off = length_greater(parcel->arms->end, parcel->arms->side);
    double most = 0;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct arm *arm = parts_arm(parcel, spot, row);
        if (!arm->there)
            continue;
        const double low = length_lesser(arm->lags[0], x + arm->clamps[0]) - off;
        const double high = length_greater(arm->lags[1], x + arm->clamps[1]) + off;
        most = length_greater(most, length_greater(x - low, high - x - parcel->width));
    }
    return most;
}

double parts_beyond(const struct parcel *parcel, const struct spot *spot) {
    return length_greater(beyond_at(parcel, spot, spot->x.lo),
                          beyond_at(parcel, spot, spot->x.hi)) +
           length_greater(parcel->level, 0);
}

/* Further apart along the eave than any strut reaches beyond its bracket on both sides. */
static bool far_apart(const struct packing_task *task, const struct crossing *crossing,
                      const struct seats *seats) {
    const struct parcel *const parcels[] = {parts_parcel(task, crossing->bracket[0]),
                                            parts_parcel(task, crossing->bracket[1])};
    const double x[] = {seats->at[0][ALONG], seats->at[1][ALONG]};
    const double reach = length_greater(beyond_at(parcels[0], seats->spot[0], x[0]),
                                        beyond_at(parcels[1], seats->spot[1], x[1]));
    const double gap =
        length_greater(x[1] - x[0] - parcels[0]->width, x[0] - x[1] - parcels[1]->width);
    const double level = length_greater(parcels[0]->level, parcels[1]->level);
    return gap > 2 * reach + 2 * length_greater(level, 0);
}

bool parts_begin(const struct packing_task *task, const struct seats *seats, size_t a, size_t b,
                 struct crossing *crossing) {
    *crossing = (struct crossing){.bracket = {a, b}};
    return parts_parcel(task, a)->arms && parts_parcel(task, b)->arms &&
           !far_apart(task, crossing, seats);
}

struct seats seats_of(const struct seat *seats, size_t a, size_t b) {
    return (struct seats){
        .spot = {seats[a].spot, seats[b].spot},
        .at = {{seats[a].at[ALONG], seats[a].at[UP]}, {seats[b].at[ALONG], seats[b].at[UP]}}};
}

void parts_sit(const struct packing *packing, const struct places *places,
               struct seat seats[ROOF_BRACKETS_MOST]) {
    for (size_t b = 0; b < packing->count; b++)
        seats[b] = (struct seat){&packing->piles[b].spots[places->spot[b]],
                                 {places->at[ALONG][b], places->at[UP][b]}};
}

struct seats parts_seats(const struct packing *packing, const struct places *places, size_t a,
                         size_t b) {
    return parts_seats_in(packing, places, a, &packing->piles[a].spots[places->spot[a]], b);
}

struct seats parts_seats_in(const struct packing *packing, const struct places *places, size_t a,
                            const struct spot *one, size_t b) {
    return (struct seats){.spot = {one, &packing->piles[b].spots[places->spot[b]]},
                          .at = {{places->at[ALONG][a], places->at[UP][a]},
                                 {places->at[ALONG][b], places->at[UP][b]}}};
}

double parts_worth(const struct packing_task *task, const struct crossing *crossing, int which,
                   const struct spot *spot, int axis, bool high) {
    if (crossing->kind[which] == PART_BOX)
        return INFINITY;
    const struct arm *arm =
        parts_arm(parts_parcel(task, crossing->bracket[which]), spot, crossing->row[which]);
    if (axis == ALONG)
        return arm->feet && parts_free(spot) ? MISS_FOOT_WORTH : INFINITY;
    return parts_free(spot) ? spot->miss->worth[crossing->row[which]][high ? SIDE_FAR : SIDE_NEAR]
                            : INFINITY;
}

double parts_weight(const struct crossing *crossing) {
    return crossing->kind[0] == PART_BOX || crossing->kind[1] == PART_BOX ? 1 : 0.5;
}
