/* What struts reach beyond their brackets. */
#include "listing.h"

#include "digest.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>

static bool has_strut(const struct stands *stands, enum row row) {
    return stands->roof->brackets[stands->bracket].hardware[row] == HARDWARE_STRUT;
}

/* How far beyond its bracket an end is in nobody's way. */
static double in_nobodys_way(const struct stands *stands, double level) {
    return stands->roof->apart / 2 + length_lesser(level, 0);
}

/* Whether an end may lie further beyond its bracket, with X in there, than is in nobody's way: two
 * such ends that face each other are as far apart as they have to be where their brackets are, and
 * so is one of them from the other bracket. */
static bool is_beyond(const struct stands *stands, const struct held *held, double level,
                      enum side side) {
    const struct interval x = held->x;
    const struct hold *hold = held->hold;
    const struct kit *kit = roof_kit(stands->roof, stands->bracket);
    const struct interval clamps = outer_clamps(kit, hold->clamps);
    const double lag = length_greater(kit->strut_end, kit->flashing.width / 2);
    const double by =
        side == SIDE_NEAR
            ? length_greater(x.hi - outer_lag(hold, side)->lo + lag, kit->strut_end - clamps.lo)
            : length_greater(outer_lag(hold, side)->hi + lag - x.lo - kit->width,
                             clamps.hi + kit->strut_end - kit->width);
    return by > in_nobodys_way(stands, level);
}

/* How far in the outer feet of a hold can be drawn, as the level lets them. */
static void draw_feet(const struct stands *stands, const struct held *held, double level,
                      struct drawn feet[SIDE_COUNT][SIDE_COUNT]) {
    struct drawn drawn[SIDE_COUNT][SIDE_COUNT][DRAWN_COUNT];
    seats_draw_in(stands->roof, stands->bracket, held->hold, level, held->x, drawn);
    for (int end = SIDE_NEAR; end < SIDE_COUNT; end++)
        for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
            feet[end][side] = drawn[end][side][DRAWN_HARD];
}

/* The same as is_beyond for a foot's flashing that is drawn in as far as that. */
static bool foot_beyond(const struct stands *stands, const struct held *held, double level,
                        enum side side, const struct drawn *end) {
    const struct kit *kit = roof_kit(stands->roof, stands->bracket);
    const double by = side == SIDE_NEAR
                          ? length_greater(held->x.hi - end->fixed, -end->goes)
                          : length_greater(end->fixed - held->x.lo, end->goes) - kit->width;
    return by + kit->flashing.width / 2 > in_nobodys_way(stands, level);
}

/* The flashings of its outer feet. */
static void add_feet(const struct stands *stands, const struct held *held, double level, bool all,
                     struct arm *arm) {
    const struct hold *hold = held->hold;
    arm->feet = true;
    draw_feet(stands, held, level, arm->drawn);
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        arm->beyond[side] =
            all || foot_beyond(stands, held, level, (enum side)side, &arm->drawn[side][side]);
        arm->there = arm->there || arm->beyond[side];
        arm->lags[side] =
            seats_furthest(stands->roof, stands->bracket, hold, held->x, (enum side)side);
        arm->clamps[side] = roof_kit(stands->roof, stands->bracket)->width / 2;
    }
}

struct arm stands_arm(const struct stands *stands, size_t stand, enum row row, double level,
                      const struct strips *strips, bool all) {
    const struct stand *own = &stands->list[stand];
    const struct hold *hold = &stands->holds[row][own->holds[row]];
    const struct kit *kit = roof_kit(stands->roof, stands->bracket);
    const struct held held = {hold, interval_settled(stands_x(stands, own, level))};
    const struct interval rise = heights_rise(stands, row, own->v[row], level);
    struct arm arm = {.line = {hold->y[0] + level, hold->y[1] - level}, .rise = {rise.lo, rise.hi}};
    heights_draw_line(strips, arm.line);
    if (!has_strut(stands, row)) {
        add_feet(stands, &held, level, all, &arm);
        return arm;
    }
    const struct interval clamps = outer_clamps(kit, hold->clamps);
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        const bool beyond = all || is_beyond(stands, &held, level, (enum side)side);
        const double none = side == SIDE_NEAR ? INFINITY : -INFINITY;
        arm.beyond[side] = beyond;
        arm.there = arm.there || beyond;
        const struct stand_lag *lag = outer_lag(hold, (enum side)side);
        arm.lags[side] = !beyond ? none : side == SIDE_NEAR ? lag->lo : lag->hi;
        arm.clamps[side] = !beyond ? kit->width / 2 : side == SIDE_NEAR ? clamps.lo : clamps.hi;
    }
    return arm;
}

static bool same_end(const struct hold *a, const struct hold *b, enum side side) {
    return length_same(outer_lag(a, side)->lo, outer_lag(b, side)->lo) &&
           a->clamps[side] == b->clamps[side];
}

static bool same_foot(const struct hold *a, const struct hold *b, enum side side) {
    const struct stand_lag *one = outer_lag(a, side), *other = outer_lag(b, side);
    return one->turned == other->turned && length_same(one->lo, other->lo) &&
           length_same(one->hi, other->hi);
}

/* Whether an end of a row is looked at. */
static bool looks_at(const struct stands *stands, enum row row, double level,
                     const struct held *held, enum side side) {
    struct drawn feet[SIDE_COUNT][SIDE_COUNT];
    if (stands->arms == ENDS_ALL)
        return true;
    if (has_strut(stands, row))
        return is_beyond(stands, held, level, side);
    draw_feet(stands, held, level, feet);
    return foot_beyond(stands, held, level, side, &feet[side][side]);
}

/* Whether an end of a row of two holds is at the same place. */
static bool same_at(const struct stands *stands, enum row row, const struct hold *a,
                    const struct hold *b, enum side side) {
    return has_strut(stands, row) ? same_end(a, b, side) : same_foot(a, b, side);
}

bool arms_alike(const struct stands *stands, enum row row, double level, const struct held *a,
                const struct held *b) {
    bool alike = true;
    for (int i = SIDE_NEAR; i < SIDE_COUNT && alike; i++) {
        const enum side side = (enum side)i;
        const bool looked = looks_at(stands, row, level, a, side);
        alike = looked == looks_at(stands, row, level, b, side) &&
                (!looked || same_at(stands, row, a->hold, b->hold, side));
    }
    return alike;
}

struct interval arms_strut(const struct kit *kit, const struct hold *hold, struct interval x) {
    const struct interval outer = outer_clamps(kit, hold->clamps);
    return (struct interval){
        length_lesser(outer_lag(hold, SIDE_NEAR)->lo, x.lo + outer.lo) - kit->strut_end,
        length_greater(outer_lag(hold, SIDE_FAR)->lo, x.hi + outer.hi) + kit->strut_end};
}

bool arms_same_end(const struct hold *a, const struct hold *b) {
    return same_end(a, b, SIDE_NEAR) && same_end(a, b, SIDE_FAR);
}

bool arms_end_alike(const struct stands *stands, size_t one, size_t other) {
    bool alike = true;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *a = &stands->holds[row][stands->list[one].holds[row]];
        const struct hold *b = &stands->holds[row][stands->list[other].holds[row]];
        for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
            alike = alike && same_at(stands, (enum row)row, a, b, (enum side)side);
    }
    return alike;
}

bool arms_both_alike(const struct stands *stands, double level, size_t one, size_t other) {
    const struct stand *a = &stands->list[one], *b = &stands->list[other];
    bool alike = true;
    for (int row = ROW_TOP; row < ROW_COUNT && alike; row++) {
        const struct held held[2] = {
            {&stands->holds[row][a->holds[row]], interval_settled(stands_x(stands, a, level))},
            {&stands->holds[row][b->holds[row]], interval_settled(stands_x(stands, b, level))},
        };
        alike = arms_alike(stands, (enum row)row, level, &held[0], &held[1]);
    }
    return alike;
}

static uint64_t print_of(const struct stands *stands, const struct stand *stand, double level) {
    const struct interval x = interval_settled(stands_x(stands, stand, level));
    uint64_t print = 1;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct held held = {&stands->holds[row][stand->holds[row]], x};
        for (int i = SIDE_NEAR; i < SIDE_COUNT; i++) {
            const enum side side = (enum side)i;
            const struct stand_lag *lag = outer_lag(held.hold, side);
            if (!looks_at(stands, (enum row)row, level, &held, side)) {
                print = digest_figure(print, -1);
                continue;
            }
            print = digest_figure(print, lag->lo);
            if (has_strut(stands, (enum row)row)) {
                print = digest_figure(print, held.hold->clamps[side]);
            } else {
                print = digest_figure(print, lag->hi);
                print = digest_figure(print, lag->turned);
            }
        }
    }
    return print;
}

uint64_t *arms_prints(const struct stands *stands, double level) {
    uint64_t *prints = malloc((stands->count + 1) * sizeof *prints);
    for (size_t i = 0; i < stands->count && prints; i++)
        prints[i] = print_of(stands, &stands->list[i], level);
    return prints;
}
