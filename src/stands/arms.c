/* What struts reach beyond their brackets. */
#include "listing.h"

#include "length.h"

#include <math.h>

static bool has_strut(const struct stands *stands, enum row row) {
    return stands->roof->brackets[stands->bracket].hardware[row] == HARDWARE_STRUT;
}

/* Whether an end may lie further beyond its bracket, with X in there, than is in nobody's way: two
 * such ends that face each other are as far apart as they have to be where their brackets are, and
 * so is one of them from the other bracket. */
static bool is_beyond(const struct stands *stands, const struct held *held, double level,
                      enum side side) {
    const struct interval x = held->x;
    const double most = stands->roof->apart / 2 + length_lesser(level, 0);
    const struct hold *hold = held->hold;
    const struct kit *kit = roof_kit(stands->roof, stands->bracket);
    const struct interval clamps = outer_clamps(kit, hold->clamps);
    const double lag = length_greater(kit->strut_end, kit->flashing.width / 2);
    const double by =
        side == SIDE_NEAR
            ? length_greater(x.hi - outer_lag(hold, side)->lo + lag, kit->strut_end - clamps.lo)
            : length_greater(outer_lag(hold, side)->lo + lag - x.lo - kit->width,
                             clamps.hi + kit->strut_end - kit->width);
    return by > most;
}

/* The flashings of its outer feet. */
static void add_feet(const struct stands *stands, const struct held *held, struct arm *arm) {
    const struct hold *hold = held->hold;
    arm->there = arm->feet = true;
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        arm->beyond[side] = true;
        arm->lags[side] =
            seats_furthest(stands->roof, stands->bracket, hold, held->x, (enum side)side);
        arm->clamps[side] = roof_kit(stands->roof, stands->bracket)->width / 2;
    }
}

struct arm stands_arm(const struct stands *stands, size_t stand, enum row row, double level,
                      bool all) {
    const struct stand *own = &stands->list[stand];
    const struct hold *hold = &stands->holds[row][own->holds[row]];
    const struct kit *kit = roof_kit(stands->roof, stands->bracket);
    const struct held held = {hold, interval_settled(stands_x(stands, own, level))};
    const struct interval rise = heights_rise(stands, row, own->v[row], level);
    struct arm arm = {.line = {hold->y[0] + level, hold->y[1] - level}, .rise = {rise.lo, rise.hi}};
    if (!has_strut(stands, row)) {
        if (all)
            add_feet(stands, &held, &arm);
        return arm;
    }
    const struct interval clamps = outer_clamps(kit, hold->clamps);
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        const bool beyond = all || is_beyond(stands, &held, level, (enum side)side);
        const double none = side == SIDE_NEAR ? INFINITY : -INFINITY;
        arm.beyond[side] = beyond;
        arm.there = arm.there || beyond;
        arm.lags[side] = !beyond ? none : outer_lag(hold, (enum side)side)->lo;
        arm.clamps[side] = !beyond ? kit->width / 2 : side == SIDE_NEAR ? clamps.lo : clamps.hi;
    }
    return arm;
}

static bool same_end(const struct hold *a, const struct hold *b, enum side side) {
    return length_same(outer_lag(a, side)->lo, outer_lag(b, side)->lo) &&
           a->clamps[side] == b->clamps[side];
}

bool arms_alike(const struct stands *stands, enum row row, double level, const struct held *a,
                const struct held *b) {
    for (int side = SIDE_NEAR; side < SIDE_COUNT && has_strut(stands, row); side++) {
        const bool beyond = is_beyond(stands, a, level, (enum side)side);
        if (beyond != is_beyond(stands, b, level, (enum side)side) ||
            (beyond && !same_end(a->hold, b->hold, (enum side)side)))
            return false;
    }
    return true;
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

static bool same_foot(const struct hold *a, const struct hold *b, enum side side) {
    const struct stand_lag *one = outer_lag(a, side), *other = outer_lag(b, side);
    return one->turned == other->turned && length_same(one->lo, other->lo) &&
           length_same(one->hi, other->hi);
}

bool arms_end_alike(const struct stands *stands, size_t one, size_t other) {
    bool alike = true;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct hold *a = &stands->holds[row][stands->list[one].holds[row]];
        const struct hold *b = &stands->holds[row][stands->list[other].holds[row]];
        for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
            alike = alike && (has_strut(stands, (enum row)row) ? same_end(a, b, (enum side)side)
                                                               : same_foot(a, b, (enum side)side));
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
