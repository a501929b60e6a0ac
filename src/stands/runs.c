/* Runs: the plies that a strut is lagged to, and where its clamps leave room for its bracket. */
#include "listing.h"

#include "candidates.h"
#include "length.h"

#include <math.h>
#include <string.h>

struct run {
    size_t plies[LISTING_LAGS_MOST];
    double x[LISTING_LAGS_MOST];
    double sway[LISTING_LAGS_MOST]; /* see listing_ply */
    size_t count;
    double cap; /* wood, and flashings beside each other */
};

/* Where a lag of it may be. */
static struct interval lag_in(const struct run *run, size_t i) {
    return (struct interval){run->x[i] - run->sway[i], run->x[i] + run->sway[i]};
}

struct lags_end {
    struct interval first, last;
};
static struct lags_end lags_end(const struct run *run) {
    return (struct lags_end){lag_in(run, 0), lag_in(run, run->count - 1)};
}

/* Stretches of the eave, in order. */
struct stretches {
    struct interval list[LISTING_LAGS_MOST + 2];
    size_t count;
};

/* Where a clamp may sit: within the overhang of the outer lags, and off every lag. */
static void find_stretches(const struct listing *listing, const struct run *run,
                           struct stretches *free) {
    const struct kit *kit = listing->kit;
    const struct lags_end outer = lags_end(run);
    double from = outer.first.hi - kit->overhang;
    const double end = outer.last.lo + kit->overhang;
    free->count = 0;
    for (size_t i = 0; i <= run->count; i++) {
        const double clear = kit->lag_clear + (i < run->count ? run->sway[i] : 0);
        const double to = i < run->count ? length_lesser(run->x[i] - clear, end) : end;
        const struct interval stretch = {from, to};
        if (interval_there(stretch))
            free->list[free->count++] = stretch;
        if (i < run->count)
            from = length_greater(from, run->x[i] + clear);
    }
}

/* The clamp of a leg, seen from X. */
static double clamp_at(const struct kit *kit, size_t leg, enum side side) {
    return kit->legs[leg] + (side == SIDE_FAR ? kit->grip : -kit->grip);
}

struct interval outer_clamps(const struct kit *kit, const enum side clamps[SIDE_COUNT]) {
    return (struct interval){clamp_at(kit, 0, clamps[SIDE_NEAR]),
                             clamp_at(kit, kit->leg_count - 1, clamps[SIDE_FAR])};
}

/* The strut's ends for clamps on those sides: on the face, and no longer than the stock. */
static void hold_ends(const struct listing *listing, const struct run *run,
                      struct holding *holding) {
    const struct kit *kit = listing->kit;
    const double end = kit->strut_end, stock = kit->stock[kit->stock_count - 1];
    const struct lags_end ends = lags_end(run);
    const double first = ends.first.lo, last = ends.last.hi;
    const struct interval outer = outer_clamps(kit, holding->hold.clamps);
    struct band *x = &holding->hold.x;
    double *cap = &holding->hold.cap;
    if (!length_holds(stock - (outer.hi - outer.lo + 2 * end)) ||
        !length_holds(stock - (last - first + 2 * end)))
        *cap = -INFINITY;
    band_least(x, 0, last + 2 * end - outer.lo - stock);
    band_most(x, 0, first - 2 * end - outer.hi + stock);
    *cap = length_lesser(
        *cap, length_lesser(first - end - listing->face.x0, listing->face.x1 - last - end));
    band_least(x, 1, listing->face.x0 + end - outer.lo);
    band_most(x, 1, listing->face.x1 - end - outer.hi);
}

/* A run that is as good without its first or last lag betters this one wherever its clamps reach
 * that far: only the rest is kept. */
static void leave_out_bettered(const struct listing *listing, const struct run *run,
                               struct holding *holding) {
    const struct kit *kit = listing->kit;
    if (run->count <= 2 || !fewer_lags_do(listing))
        return;
    const struct interval outer = outer_clamps(kit, holding->hold.clamps);
    const size_t second = 1, last_but_one = run->count - 2;
    band_most(&holding->hold.x, 0, lag_in(run, second).hi - kit->overhang - outer.lo);
    band_least(&holding->hold.x, 0, lag_in(run, last_but_one).lo + kit->overhang - outer.hi);
}

static void add_piece(struct listing *listing, const struct run *run, struct interval x,
                      const enum side clamps[SIDE_COUNT]) {
    struct stand_lag lags[LISTING_LAGS_MOST];
    struct holding holding = {.lags = lags,
                              .hold = {.count = run->count,
                                       .cap = run->cap,
                                       .y = {listing->row_y[0], listing->row_y[1]},
                                       .clamps = {clamps[SIDE_NEAR], clamps[SIDE_FAR]}}};
    for (size_t i = 0; i < run->count; i++)
        holding.lags[i] = (struct stand_lag){.ply = run->plies[i],
                                             .middle = run->x[i],
                                             .lo = lag_in(run, i).lo,
                                             .hi = lag_in(run, i).hi};
    holding.hold.x = listing->x;
    band_least(&holding.hold.x, 0, x.lo);
    band_most(&holding.hold.x, 0, x.hi);
    hold_ends(listing, run, &holding);
    leave_out_bettered(listing, run, &holding);
    const double half = listing->kit->strut_half;
    holding.hold.y[0] = length_greater(holding.hold.y[0], listing->face.y0 + half);
    holding.hold.y[1] = length_lesser(holding.hold.y[1], listing->face.y1 - half);
    dodge_all(listing, &holding);
}

/* Leg by leg: X is narrowed to where that leg has room for its clamp, on either side. */
static void clamp_leg(struct listing *listing, const struct run *run, const struct stretches *free,
                      size_t leg, struct interval x, enum side clamps[SIDE_COUNT]) {
    const struct kit *kit = listing->kit;
    if (listing_over(listing))
        return;
    if (leg == kit->leg_count) {
        add_piece(listing, run, x, clamps);
        return;
    }
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        const double at = clamp_at(kit, leg, (enum side)side);
        for (size_t i = 0; i < free->count; i++) {
            const struct interval left = {length_greater(x.lo, free->list[i].lo - at),
                                          length_lesser(x.hi, free->list[i].hi - at)};
            if (!interval_there(left))
                continue;
            if (leg == 0)
                clamps[SIDE_NEAR] = (enum side)side;
            if (leg + 1 == kit->leg_count)
                clamps[SIDE_FAR] = (enum side)side;
            clamp_leg(listing, run, free, leg + 1, left, clamps);
        }
    }
}

static void add_run(struct listing *listing, const struct run *run) {
    struct stretches free;
    find_stretches(listing, run, &free);
    enum side clamps[SIDE_COUNT] = {SIDE_NEAR, SIDE_NEAR};
    clamp_leg(listing, run, &free, 0, band_at(&listing->x, listing->least), clamps);
}

/* With fewer lags it would do: between two lags within the span of each other another one only
 * costs a hole, unless every rafter takes one. */
static bool has_idle_lag(const struct listing *listing, const struct run *run) {
    if (listing->kit->every_rafter || !fewer_lags_do(listing))
        return false;
    for (size_t i = 0; i + 2 < run->count; i++)
        if (length_holds(listing->kit->span - (lag_in(run, i + 2).hi - lag_in(run, i).lo)))
            return true;
    return false;
}

/* Any longer run does without its first or its last lag wherever the bracket stands: the clamps
 * cannot reach beyond both the second lag and this one by the overhang. */
static bool goes_too_far(const struct listing *listing, const struct run *run) {
    const struct kit *kit = listing->kit;
    if (run->count < 2 || !fewer_lags_do(listing))
        return false;
    const double apart = kit->legs[kit->leg_count - 1] - kit->legs[0] + 2 * kit->grip;
    return lags_end(run).last.lo - lag_in(run, 1).hi > apart - 2 * kit->overhang + BAND_TOUCH;
}

static void extend(struct listing *listing, struct run *run, size_t rafter);

/* The run with one more lag. */
static void extend_by(struct listing *listing, const struct run *run, size_t ply) {
    const struct roof *roof = listing->roof;
    const struct kit *kit = listing->kit;
    struct run longer = *run;
    const struct on_line own = listing_ply(listing, ply);
    const double x = own.middle, sway = own.sway;
    if (listing_over(listing))
        return;
    if (run->count > 0) {
        const struct interval before = lags_end(run).last;
        if (!length_holds(kit->span - (x + sway - before.lo)))
            return;
        longer.cap = length_lesser(longer.cap, (x - sway - before.hi - kit->flashing.width) / 2);
    }
    if (run->count == LISTING_LAGS_MOST) {
        listing->stands->crowded = true;
        return;
    }
    const double flashing = kit->flashing.width / 2 + sway;
    longer.cap = length_lesser(longer.cap, candidates_play(roof, kit, ply));
    longer.cap = length_lesser(longer.cap, length_lesser(x - flashing - listing->face.x0,
                                                         listing->face.x1 - x - flashing));
    longer.plies[longer.count] = ply;
    longer.sway[longer.count] = sway;
    longer.x[longer.count++] = x;
    if (longer.cap < listing->lowest - BAND_TOUCH ||
        !length_holds(kit->stock[kit->stock_count - 1] -
                      (x + sway - lag_in(&longer, 0).lo + 2 * kit->strut_end)) ||
        has_idle_lag(listing, &longer))
        return;
    if (longer.count >= 2 && longer.count >= listing->least_lags[listing->row])
        add_run(listing, &longer);
    if (!goes_too_far(listing, &longer))
        extend(listing, &longer, roof->plies[ply].rafter + 1);
}

/* Lags in the next sound rafter, or where rafters may be skipped in any later one. */
static void extend(struct listing *listing, struct run *run, size_t rafter) {
    const struct roof *roof = listing->roof;
    for (size_t r = rafter; r < roof->rafter_count && !listing->stands->crowded; r++) {
        const struct rafter *next = &roof->rafters[r];
        for (size_t i = 0; i < next->ply_count; i++)
            extend_by(listing, run, next->first_ply + i);
        if (run->count > 0 && next->sound && listing->kit->every_rafter)
            return;
    }
}

void list_runs(struct listing *listing) {
    struct run run = {.count = 0, .cap = listing->roof->enough};
    extend(listing, &run, 0);
}
