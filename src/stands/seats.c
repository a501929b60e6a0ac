/* Seats: the plies that a row of feet is lagged into, foot by foot, each to one side of its leg. */
#include "listing.h"

#include "candidates.h"

#include <math.h>

/* From a leg to the middle of where its foot's lag may be. */
static double offset(const struct kit *kit, size_t leg, enum side turned) {
    return kit->legs[leg] + (turned == SIDE_FAR ? kit->foot_reach : -kit->foot_reach);
}

/* How close to each other two feet's lags may be at level 0; it grows by twice the level. */
static double pitch(const struct kit *kit) {
    return kit->flashing.width;
}

/* Each lag keeps its own limits and is at least `pitch` beyond the one before it: what that leaves
 * of X.  Both kinds of lower limits, fixed and moving with X,
 * are carried along the row, and held against both kinds of upper ones. */
void seats_bound(const struct listing *listing, struct holding *holding) {
    const struct kit *kit = listing->kit;
    struct hold *hold = &holding->hold;
    struct band low; /* lo: fixed lower limits; hi, with its sign turned: those less X */
    band_open(&low);
    for (size_t leg = 0; leg < hold->count; leg++) {
        const struct stand_lag *lag = &holding->lags[leg];
        const double at = offset(kit, leg, lag->turned);
        struct band next;
        band_open(&next);
        for (int k = 0; k < low.slopes && k + 2 < STAND_SLOPES; k++) {
            band_least(&next, k + 2, low.lo[k] + pitch(kit));
            band_most(&next, k + 2, low.hi[k] - pitch(kit));
        }
        band_meet(&next, &low); /* in the order of their legs anyway */
        band_least(&next, 1, lag->lo);
        band_most(&next, 1, -(at - kit->foot_slot));
        low = next;
        for (int k = 0; k < low.slopes && k + 1 < STAND_SLOPES; k++) {
            hold->cap = length_lesser(hold->cap, (lag->hi - low.lo[k]) / (k + 1));
            hold->cap = length_lesser(hold->cap, (at + kit->foot_slot + low.hi[k]) / (k + 1));
            band_least(&hold->x, k + 1, low.lo[k] - at - kit->foot_slot);
            band_most(&hold->x, k + 1, lag->hi + low.hi[k]);
        }
    }
}

/* Where a foot's lag keeps its wood, or lacks least of it in a thin ply; lo > hi where it has to
 * keep off a vent instead. */
static struct interval wood_of(const struct roof *roof, const struct kit *kit,
                               const struct stand_lag *lag) {
    if (candidates_play(roof, kit, lag->ply) < 0)
        return (struct interval){lag->middle, lag->middle};
    return (struct interval){lag->lo, lag->hi};
}

/* Where a foot lacks least of wood and reach together: wherever it keeps both, or anywhere between
 * what keeps the one and what keeps the other; no nearer to either than the level leaves. */
static struct interval flat(const struct roof *roof, const struct kit *kit, const struct hold *hold,
                            size_t i, double level, double x) {
    const struct stand_lag *lag = &hold->lags[i];
    const struct interval wood = wood_of(roof, kit, lag);
    const double at = x + offset(kit, i, lag->turned), slot = kit->foot_slot;
    const double lo = length_greater(wood.lo, at - slot), hi = length_lesser(wood.hi, at + slot);
    const double least = length_greater(lag->lo, at - slot) + level;
    const double most = length_lesser(lag->hi, at + slot) - level;
    return (struct interval){length_greater(length_lesser(lo, hi), least),
                             length_lesser(length_greater(lo, hi), most)};
}

/* Flashings that overlap, as far apart as their feet can go without lacking more. */
static void part_flashings(const struct roof *roof, const struct kit *kit, const struct hold *hold,
                           double level, double x, double *lags) {
    for (size_t i = 0; i + 1 < hold->count; i++) {
        const struct interval left = flat(roof, kit, hold, i, level, x);
        const struct interval right = flat(roof, kit, hold, i + 1, level, x);
        const double least = i > 0 ? length_greater(left.lo, lags[i - 1] + pitch(kit)) : left.lo;
        double missing = pitch(kit) - (lags[i + 1] - lags[i]);
        if (missing <= 0)
            continue;
        const double back = length_lesser(missing, length_greater(0, lags[i] - least));
        lags[i] -= back;
        missing -= back;
        lags[i + 1] += length_lesser(missing, length_greater(0, right.hi - lags[i + 1]));
    }
}

/* The outer flashings clear of what is beyond them. */
static void draw_outer(const struct roof *roof, const struct kit *kit, const struct hold *hold,
                       double level, double x, struct interval within, double *lags) {
    const size_t last = hold->count - 1;
    const struct interval first = flat(roof, kit, hold, 0, level, x);
    const struct interval far = flat(roof, kit, hold, last, level, x);
    if (lags[last] > within.hi)
        lags[last] = length_lesser(lags[last], length_greater(far.lo, within.hi));
    if (lags[0] < within.lo)
        lags[0] = length_greater(lags[0], length_lesser(first.hi, within.lo));
}

/* The same, as far as the level lets wood and slot. */
static void draw_hard(const struct kit *kit, const struct hold *hold, double level, double x,
                      struct interval within, double *lags) {
    const size_t last = hold->count - 1;
    const struct stand_lag *near = &hold->lags[0], *far = &hold->lags[last];
    const double slot = kit->foot_slot,
                 least = length_greater(far->lo, x + offset(kit, last, far->turned) - slot) + level,
                 most = length_lesser(near->hi, x + offset(kit, 0, near->turned) + slot) - level;
    if (lags[last] > within.hi)
        lags[last] = length_lesser(lags[last], length_greater(least, within.hi));
    if (lags[0] < within.lo)
        lags[0] = length_greater(lags[0], length_lesser(most, within.lo));
}

/* Where a foot lacks least, or between: from the lower end of that, as X rises. */
static double free_low(struct interval wood, double at, double slot) {
    return length_lesser(length_greater(wood.lo, at - slot), length_lesser(wood.hi, at + slot));
}
static double free_high(struct interval wood, double at, double slot) {
    return length_greater(length_lesser(wood.hi, at + slot), length_greater(wood.lo, at - slot));
}

/* A foot while it is seen how far it can be drawn in: from its leg's place with X in there. */
struct drawing_in {
    struct interval wood, at, hard; /* hard: of its lag, at the level */
    double slot, level;
};

/* As low as its lag can be: the greater of both, or less; free and hard are those of X's lower end.
 */
static void draw_low(const struct drawing_in *foot, double off, struct drawn drawn[DRAWN_COUNT]) {
    const struct interval wood = foot->wood, at = foot->at;
    const double slot = foot->slot, low = free_low(wood, at.lo, slot);
    drawn[DRAWN_HARD] = (struct drawn){foot->hard.lo, off - slot + foot->level};
    drawn[DRAWN_FREE] = drawn[DRAWN_HARD];
    if (wood.lo > wood.hi)
        return;
    if (wood.lo <= at.lo + slot && at.hi - slot <= wood.hi)
        drawn[DRAWN_FREE] = (struct drawn){wood.lo, off - slot};
    else if (at.hi + slot <= wood.lo)
        drawn[DRAWN_FREE].goes = off + slot;
    else
        drawn[DRAWN_FREE].fixed = length_greater(low, foot->hard.lo);
}

/* As high: the lesser of both, or more. */
static void draw_high(const struct drawing_in *foot, double off, struct drawn drawn[DRAWN_COUNT]) {
    const struct interval wood = foot->wood, at = foot->at;
    const double slot = foot->slot, high = free_high(wood, at.hi, slot);
    drawn[DRAWN_HARD] = (struct drawn){foot->hard.hi, off + slot - foot->level};
    drawn[DRAWN_FREE] = drawn[DRAWN_HARD];
    if (wood.lo > wood.hi)
        return;
    if (wood.lo <= at.lo + slot && at.hi - slot <= wood.hi)
        drawn[DRAWN_FREE] = (struct drawn){wood.hi, off + slot};
    else if (at.lo - slot >= wood.hi)
        drawn[DRAWN_FREE].goes = off - slot;
    else
        drawn[DRAWN_FREE].fixed = length_lesser(high, foot->hard.hi);
}

void seats_draw_in(const struct roof *roof, size_t bracket, const struct hold *hold, double level,
                   struct interval x, struct drawn drawn[SIDE_COUNT][SIDE_COUNT][DRAWN_COUNT]) {
    const struct kit *kit = roof_kit(roof, bracket);
    for (int end = SIDE_NEAR; end < SIDE_COUNT; end++) {
        const size_t i = end == SIDE_NEAR ? 0 : hold->count - 1;
        const struct stand_lag *lag = &hold->lags[i];
        const double off = offset(kit, i, lag->turned);
        const struct drawing_in foot = {.wood = wood_of(roof, kit, lag),
                                        .at = {x.lo + off, x.hi + off},
                                        .hard = {lag->lo + level, lag->hi - level},
                                        .slot = kit->foot_slot,
                                        .level = level};
        draw_low(&foot, off, drawn[end][SIDE_FAR]);
        draw_high(&foot, off, drawn[end][SIDE_NEAR]);
    }
}

double seats_furthest(const struct roof *roof, size_t bracket, const struct hold *hold,
                      struct interval x, enum side side) {
    const struct kit *kit = roof_kit(roof, bracket);
    const size_t i = side == SIDE_NEAR ? 0 : hold->count - 1;
    const struct stand_lag *lag = &hold->lags[i];
    const double off = offset(kit, i, lag->turned), slot = kit->foot_slot;
    const struct interval own = {lag->lo, lag->hi};
    return side == SIDE_NEAR ? free_low(own, x.lo + off, slot) : free_high(own, x.hi + off, slot);
}

void seats_place(const struct roof *roof, size_t bracket, const struct hold *hold, double level,
                 double x, const struct rather *rather, enum row row, double *lags) {
    const struct kit *kit = roof_kit(roof, bracket);
    double high[ROOF_LEGS_MOST] = {0};
    for (size_t i = hold->count; i-- > 0;) {
        const struct stand_lag *lag = &hold->lags[i];
        high[i] = length_lesser(lag->hi, x + offset(kit, i, lag->turned) + kit->foot_slot) - level;
        if (i + 1 < hold->count)
            high[i] =
                length_lesser(high[i], high[i + 1] - length_greater(0, pitch(kit) + 2 * level));
    }
    for (size_t i = 0; i < hold->count; i++) {
        const struct stand_lag *lag = &hold->lags[i];
        double low =
            length_greater(lag->lo, x + offset(kit, i, lag->turned) - kit->foot_slot) + level;
        if (i > 0)
            low = length_greater(low, lags[i - 1] + length_greater(0, pitch(kit) + 2 * level));
        lags[i] = (low + high[i]) / 2;
        if (level <
            0) { /* what keeps off a vent lacks the same anywhere up to its wood or its leg */
            const struct interval free = flat(roof, kit, hold, i, level, x);
            const double least = length_greater(free.lo, low),
                         most = length_lesser(free.hi, high[i]);
            if (least <= most)
                lags[i] = length_greater(least, length_lesser(most, lags[i]));
        }
    }
    if (level < 0) {
        part_flashings(roof, kit, hold, level, x, lags);
        if (rather)
            draw_outer(roof, kit, hold, level, x, rather->lags[row], lags);
    }
    if (rather)
        draw_hard(kit, hold, level, x, rather->must[row], lags);
}

/* The next leg's foot, in every ply and on either side that leaves X anything. */
static void seat_leg(struct listing *listing, struct holding *holding, size_t leg) {
    const struct kit *kit = listing->kit;
    const struct roof *roof = listing->roof;
    const double flashing = kit->flashing.width / 2;
    if (listing_over(listing))
        return;
    holding->hold.count = leg;
    struct holding bounded = *holding;
    seats_bound(listing, &bounded);
    if (!holding_alive(listing, &bounded))
        return;
    if (leg == kit->leg_count) {
        dodge_all(listing, holding);
        return;
    }
    const struct interval x = band_at(&bounded.hold.x, listing->lowest);
    for (size_t t = 0; t < roof->ply_count; t++) {
        const struct on_line ply = listing_ply(listing, t);
        const double middle = ply.middle, slot = kit->foot_slot;
        const double play = candidates_play(roof, kit, t) - ply.sway;
        struct stand_lag *lag = &holding->lags[leg];
        if (play < listing->lowest - BAND_TOUCH)
            continue;
        for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
            const double at = offset(kit, leg, (enum side)side);
            const double room = play + slot - 2 * listing->lowest + BAND_TOUCH;
            if (x.lo + at > middle + room || x.hi + at < middle - room)
                continue;
            *lag =
                (struct stand_lag){.ply = t,
                                   .middle = middle,
                                   .lo = length_greater(middle - play, listing->face.x0 + flashing),
                                   .hi = length_lesser(middle + play, listing->face.x1 - flashing),
                                   .turned = (enum side)side};
            seat_leg(listing, holding, leg + 1);
            holding->hold.count = leg;
        }
    }
}

void list_seats(struct listing *listing) {
    struct stand_lag lags[LISTING_LAGS_MOST];
    struct holding holding = {
        .lags = lags,
        .hold = {.cap = listing->roof->enough, .y = {listing->row_y[0], listing->row_y[1]}}};
    holding.hold.x = listing->x;
    seat_leg(listing, &holding, 0);
}
