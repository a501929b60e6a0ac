/* The ways round what stands on the roof: for every vent and every stretch of a rafter that takes
 * no lag, the row's line runs below it or above it, or its hardware passes to the sides. */
#include "listing.h"

#include "grow.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool hold_alive(const struct hold *hold, double level) {
    const struct interval y = {hold->y[0] + level, hold->y[1] - level};
    return hold->cap >= level - BAND_TOUCH && interval_there(y) &&
           interval_there(band_at(&hold->x, level));
}

bool holding_alive(const struct listing *listing, const struct holding *holding) {
    return hold_alive(&holding->hold, listing->lowest);
}

void holding_add(struct listing *listing, const struct holding *holding) {
    struct stands *stands = listing->stands;
    const enum row row = listing->row;
    if (stands->hold_counts[row] == LISTING_HOLDS_MOST)
        stands->crowded = true;
    if (stands->crowded || listing->failed)
        return;
    struct hold *holds = grow_list(stands->holds[row], &listing->hold_room,
                                   stands->hold_counts[row], sizeof *stands->holds[row]);
    if (!holds) {
        listing->failed = true;
        return;
    }
    stands->holds[row] = holds;
    struct hold made = holding->hold;
    made.lags = malloc((made.count + 1) * sizeof *made.lags);
    if (!made.lags) {
        listing->failed = true;
        return;
    }
    memcpy(made.lags, holding->lags, made.count * sizeof *made.lags);
    stands->holds[row][stands->hold_counts[row]++] = made;
}

/* Joints of the course above: what runs down one lands well inside the sides of a flashing, or well
 * outside. */

/* Each side of a flashing above a joint is a line that the flashing's middle keeps off. */
typedef bool line_seer(void *subject, double line);

/* Lines that matter near there, until one is enough; true: there was one. */
static bool see_lines(const struct listing *listing, struct interval near, line_seer *see,
                      void *subject) {
    const struct roof *roof = listing->roof;
    const double half = listing->kit->flashing.width / 2, tab = roof->cutouts.tab;
    const double off = half + roof->keep_joint + length_greater(roof->enough, 0);
    const size_t above = listing->course + 1;
    if (tab > 0)
        for (double x = roof_cutout(roof, above, near.lo - off); x <= near.hi + off;
             x = roof_cutout(roof, above, x + tab / 2))
            if (see(subject, x - half) || see(subject, x + half))
                return true;
    for (size_t i = 0; i < roof->joint_count; i++)
        if (roof->joints[i].course == above &&
            (see(subject, roof->joints[i].x - half) || see(subject, roof->joints[i].x + half)))
            return true;
    return false;
}

/* A lag, and the first line that it may be too near to. */
struct on_joint {
    const struct stand_lag *lag;
    double keep, line;
};

static bool is_near(void *subject, double line) {
    struct on_joint *on = subject;
    on->line = line;
    return on->lag->hi > line - on->keep && on->lag->lo < line + on->keep;
}

/* What a line leaves a lag of a strut. */
struct beside_lines {
    struct interval lag;
    double keep, cap;
};

static bool cap_by(void *subject, double line) {
    struct beside_lines *of = subject;
    const double gap = length_greater(line - of->lag.hi, of->lag.lo - line);
    of->cap = length_lesser(of->cap, gap - of->keep);
    return false;
}

/* One hold with every vent from `vent` on, then every keepout, still to be passed. */
static void dodge_vents(struct listing *listing, const struct holding *holding, size_t vent);

/* Every lag's flashing, from that one on. */
static void dodge_joints(struct listing *listing, struct holding *holding, size_t lag) {
    const double keep = listing->roof->keep_joint;
    if (listing_over(listing) || !holding_alive(listing, holding))
        return;
    if (lag == holding->hold.count) {
        dodge_vents(listing, holding, 0);
        return;
    }
    struct stand_lag *own = &holding->lags[lag];
    const struct interval at = {own->lo, own->hi};
    if (listing_has_strut(listing)) {
        const double cap = holding->hold.cap;
        struct beside_lines of = {at, keep, cap};
        see_lines(listing, at, cap_by, &of);
        holding->hold.cap = of.cap;
        dodge_joints(listing, holding, lag + 1);
        holding->hold.cap = cap;
        return;
    }
    struct on_joint on = {.lag = own, .keep = keep};
    if (!see_lines(listing, at, is_near, &on)) {
        dodge_joints(listing, holding, lag + 1);
        return;
    }
    own->hi = length_lesser(at.hi, on.line - keep);
    if (own->lo + 2 * listing->lowest <= own->hi + BAND_TOUCH)
        dodge_joints(listing, holding, lag);
    own->hi = at.hi;
    own->lo = length_greater(at.lo, on.line + keep);
    if (own->lo + 2 * listing->lowest <= own->hi + BAND_TOUCH)
        dodge_joints(listing, holding, lag);
    own->lo = at.lo;
}

/* The row's line so that what reaches `up` above it and `down` below it is clear of y0 to y1, from
 * below or from above. */
static struct holding beside(const struct holding *holding, bool below, double y0, double y1,
                             double down, double up) {
    struct holding moved = *holding;
    double *y = moved.hold.y;
    if (below)
        y[1] = length_lesser(y[1], y0 - up);
    else
        y[0] = length_greater(y[0], y1 + down);
    return moved;
}

/* True where it is clear of y0 to y1 at any level: the line's limits move with the level as fast as
 * what is asked for. */
static bool always_beside(const struct hold *hold, double y0, double y1, double down, double up) {
    return hold->y[1] <= y0 - up || hold->y[0] >= y1 + down;
}

/* True where all of the strut, for clamps on these sides, passes one side of the vent at every
 * level that is left. */
static bool strut_always_past(const struct listing *listing, const struct holding *holding,
                              const struct box *passed, struct interval outer) {
    const struct hold *hold = &holding->hold;
    const struct interval x = band_at(&hold->x, listing->least);
    const double from = length_lesser(holding->lags[0].lo, x.lo + outer.lo) - hold->cap;
    const double to =
        length_greater(holding->lags[hold->count - 1].hi, x.hi + outer.hi) + hold->cap;
    return to <= passed->x0 || from >= passed->x1;
}

/* The strut itself, once its flashings are clear. */
static void dodge_with_strut(struct listing *listing, const struct holding *holding, size_t vent) {
    const struct kit *kit = listing->kit;
    const struct vent *it = &listing->roof->vents[vent];
    const double half = kit->strut_half, keep = it->keep_flashing, end = kit->strut_end + keep;
    const struct hold *hold = &holding->hold;
    const double y0 = it->flange.y0 - keep, y1 = it->flange.y1 + keep;
    if (always_beside(hold, y0, y1, half, half)) {
        dodge_vents(listing, holding, vent + 1);
        return;
    }
    const double first = holding->lags[0].lo, last = holding->lags[hold->count - 1].hi;
    const struct interval outer = outer_clamps(kit, hold->clamps);
    const struct box passed = {it->flange.x0 - end, y0, it->flange.x1 + end, y1};
    if (strut_always_past(listing, holding, &passed, outer)) {
        dodge_vents(listing, holding, vent + 1);
        return;
    }
    for (int below = 0; below < 2; below++) {
        const struct holding moved = beside(holding, below != 0, y0, y1, half, half);
        dodge_vents(listing, &moved, vent + 1);
    }
    struct holding left = *holding, right = *holding;
    left.hold.cap = length_lesser(left.hold.cap, it->flange.x0 - end - last);
    band_most(&left.hold.x, 1, it->flange.x0 - end - outer.hi);
    right.hold.cap = length_lesser(right.hold.cap, first - end - it->flange.x1);
    band_least(&right.hold.x, 1, it->flange.x1 + end - outer.lo);
    dodge_vents(listing, &left, vent + 1);
    dodge_vents(listing, &right, vent + 1);
}

/* Every lag's flashing passes to one side or the other of the vent. */
static void dodge_sideways(struct listing *listing, struct holding *holding, size_t vent,
                           size_t lag) {
    const struct vent *it = &listing->roof->vents[vent];
    const double clear = listing->kit->flashing.width / 2 + it->keep_flashing;
    if (!holding_alive(listing, holding))
        return;
    if (lag == holding->hold.count) {
        if (listing_has_strut(listing))
            dodge_with_strut(listing, holding, vent);
        else
            dodge_vents(listing, holding, vent + 1);
        return;
    }
    struct stand_lag *own = &holding->lags[lag];
    if (listing_has_strut(listing)) {
        const double gap = length_greater(it->flange.x0 - own->hi, own->lo - it->flange.x1) - clear;
        const double cap = holding->hold.cap;
        holding->hold.cap = length_lesser(cap, gap);
        dodge_sideways(listing, holding, vent, lag + 1);
        holding->hold.cap = cap;
        return;
    }
    const struct stand_lag kept = *own;
    own->hi = length_lesser(kept.hi, it->flange.x0 - clear);
    if (own->lo + 2 * listing->lowest <= own->hi + BAND_TOUCH)
        dodge_sideways(listing, holding, vent, lag + 1);
    const bool bound = own->hi < kept.hi;
    own->hi = kept.hi;
    own->lo = length_greater(kept.lo, it->flange.x1 + clear);
    if (bound && own->lo + 2 * listing->lowest <= own->hi + BAND_TOUCH)
        dodge_sideways(listing, holding, vent, lag + 1);
    *own = kept;
}

/* True where every flashing passes to a side of the vent at every level that is left. */
static bool always_sideways(const struct listing *listing, const struct hold *hold,
                            const struct stand_lag *lags, const struct vent *vent) {
    const double clear = listing->kit->flashing.width / 2 + vent->keep_flashing;
    for (size_t i = 0; i < hold->count; i++) {
        const double rise = listing_has_strut(listing) ? hold->cap : 0;
        if (lags[i].hi + clear + rise > vent->flange.x0 &&
            lags[i].lo - clear - rise < vent->flange.x1)
            return false;
    }
    return true;
}

static void dodge_keepouts(struct listing *listing, const struct holding *holding, size_t keepout);

static void dodge_vents(struct listing *listing, const struct holding *holding, size_t vent) {
    const struct roof *roof = listing->roof;
    if (listing_over(listing) || !holding_alive(listing, holding))
        return;
    if (vent == roof->vent_count) {
        dodge_keepouts(listing, holding, 0);
        return;
    }
    const struct flashing *flashing = &listing->kit->flashing;
    const struct vent *it = &roof->vents[vent];
    const double up = flashing->height - flashing->hole_up, down = flashing->hole_up;
    const double y0 = it->flange.y0 - it->keep_flashing, y1 = it->flange.y1 + it->keep_flashing;
    struct holding tried = *holding;
    const bool clear = always_beside(&holding->hold, y0, y1, down, up) ||
                       always_sideways(listing, &holding->hold, holding->lags, it);
    if (clear && listing_has_strut(listing))
        dodge_with_strut(listing, holding, vent);
    else if (clear)
        dodge_vents(listing, holding, vent + 1);
    if (clear)
        return;
    dodge_sideways(listing, &tried, vent, 0);
    for (int below = 0; below < 2; below++) {
        const struct holding moved = beside(holding, below != 0, y0, y1, down, up);
        if (!holding_alive(listing, &moved))
            continue;
        if (listing_has_strut(listing))
            dodge_with_strut(listing, &moved, vent);
        else
            dodge_vents(listing, &moved, vent + 1);
    }
}

/* The row's line below or above stretches of its own rafters that take no lag. */
static void dodge_keepouts(struct listing *listing, const struct holding *holding, size_t keepout) {
    const struct roof *roof = listing->roof;
    if (listing_over(listing) || !holding_alive(listing, holding))
        return;
    if (keepout == roof->keepout_count) {
        struct holding done = *holding;
        if (!listing_has_strut(listing))
            seats_bound(listing, &done);
        if (holding_alive(listing, &done))
            holding_add(listing, &done);
        return;
    }
    const struct keepout *it = &roof->keepouts[keepout];
    bool meant = false;
    for (size_t i = 0; i < holding->hold.count; i++)
        meant = meant || roof->plies[holding->lags[i].ply].rafter == it->rafter;
    for (int below = 0; below < 2; below++) {
        const struct holding moved = beside(holding, below != 0, it->y0, it->y1, 0, 0);
        dodge_keepouts(listing, meant ? &moved : holding, keepout + 1);
        if (!meant)
            return;
    }
}

void dodge_all(struct listing *listing, const struct holding *holding) {
    const struct flashing *flashing = &listing->kit->flashing;
    struct holding begun = *holding;
    double *y = begun.hold.y;
    y[0] = length_greater(y[0], listing->face.y0 + flashing->hole_up);
    y[1] = length_lesser(y[1], listing->face.y1 - (flashing->height - flashing->hole_up));
    for (size_t i = 0; i < begun.hold.count; i++) {
        const double *reach = listing->roof->plies[begun.lags[i].ply].reach;
        y[0] = length_greater(y[0], reach[0]);
        y[1] = length_lesser(y[1], reach[1]);
    }
    if (listing->course > 0)
        dodge_joints(listing, &begun, 0);
    else
        dodge_vents(listing, &begun, 0);
}
