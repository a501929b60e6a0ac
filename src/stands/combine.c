/* Pairs of holds, one a row: the ways to hold a bracket. */
#include "listing.h"

#include "grow.h"

#include <math.h>
#include <stdlib.h>

static const struct band *held(const struct stands *stands, const struct stand *stand,
                               enum row row) {
    return &stands->holds[row][stand->holds[row]].x;
}

struct band stands_band(const struct stands *stands, const struct stand *stand) {
    struct band band = *held(stands, stand, ROW_TOP);
    band_meet(&band, held(stands, stand, ROW_BOTTOM));
    for (int k = 0; k < STAND_PAST; k++) {
        band_least(&band, k, stand->past[k].lo);
        band_most(&band, k, stand->past[k].hi);
    }
    return band;
}

static struct interval past(const struct stand *stand, struct interval x, double level) {
    for (int k = 0; k < STAND_PAST; k++) {
        x.lo = length_greater(x.lo, stand->past[k].lo + k * level);
        x.hi = length_lesser(x.hi, stand->past[k].hi - k * level);
    }
    return x;
}

struct interval stands_x(const struct stands *stands, const struct stand *stand, double level) {
    return past(stand,
                interval_meet(band_at(held(stands, stand, ROW_TOP), level),
                              band_at(held(stands, stand, ROW_BOTTOM), level)),
                level);
}

struct interval *holds_at(const struct stands *stands, enum row row, double level) {
    const size_t count = stands->hold_counts[row];
    struct interval *at = malloc((count + 1) * sizeof *at);
    for (size_t i = 0; i < count && at; i++)
        at[i] = band_at(&stands->holds[row][i].x, level);
    return at;
}

struct interval stand_between(const struct stand *stand, const struct interval *const at[ROW_COUNT],
                              double level) {
    return past(
        stand,
        interval_meet(at[ROW_TOP][stand->holds[ROW_TOP]], at[ROW_BOTTOM][stand->holds[ROW_BOTTOM]]),
        level);
}

static void add_stand(struct listing *listing, const struct stand *stand) {
    struct stands *stands = listing->stands;
    if (listing->best) {
        best_stand_see(stands, stand, listing->best);
        listing->lowest = length_greater(listing->lowest, listing->best->level);
        return;
    }
    if (stands->count == listing->stands_most)
        stands->crowded = true;
    if (stands->crowded || listing->failed)
        return;
    struct stand *list =
        grow_list(stands->list, &listing->stand_room, stands->count, sizeof *stands->list);
    if (!list) {
        listing->failed = true;
        return;
    }
    stands->list = list;
    stands->list[stands->count++] = *stand;
}

/* Whether both rows can meet the bracket at all between the stand's own limits. */
static bool rows_meet(const struct listing *listing, const struct stand *stand) {
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const double *window = listing->kit->window[row], *v = stand->v[row];
        const double lowest = listing->lowest;
        const struct interval left = {length_greater(v[0], window[0] + lowest),
                                      length_lesser(v[1], window[1] - lowest)};
        if (!interval_there(left))
            return false;
    }
    return true;
}

static bool alive(const struct listing *listing, const struct stand *stand) {
    const double lowest = listing->lowest;
    const struct interval y = {stand->y[0] + lowest, stand->y[1] - lowest};
    return stand->cap >= lowest - BAND_TOUCH && interval_there(y) &&
           interval_there(stands_x(listing->stands, stand, lowest)) && rows_meet(listing, stand);
}

bool fewer_lags_do(const struct listing *listing) {
    return listing->least_lags[listing->row] <= 2 &&
           (!listing->limits || listing->limits->count == 0);
}

/* Whether a row is lagged to just those plies. */
static bool just_these(const struct hold *hold, const struct ruled_out *out) {
    if (hold->count != out->count)
        return false;
    for (size_t i = 0; i < hold->count; i++)
        if (hold->lags[i].ply != out->plies[i])
            return false;
    return true;
}

/* The bracket to either side of every stretch, from that entry on, where its plies are ruled out;
 * or met by a row below or above it. */
static void stand_elsewhere(struct listing *listing, const struct stand *stand, size_t entry) {
    const struct limits *limits = listing->limits;
    if (listing_over(listing) || !alive(listing, stand))
        return;
    if (!limits || entry == limits->count) {
        add_stand(listing, stand);
        return;
    }
    const struct ruled_out *out = &limits->list[entry];
    if (out->bracket != listing->bracket ||
        !just_these(&listing->stands->holds[out->row][stand->holds[out->row]], out)) {
        stand_elsewhere(listing, stand, entry + 1);
        return;
    }
    struct stand left = *stand, right = *stand;
    left.past[0].hi = length_lesser(left.past[0].hi, out->where.x[0]);
    right.past[0].lo = length_greater(right.past[0].lo, out->where.x[1]);
    stand_elsewhere(listing, &left, entry + 1);
    stand_elsewhere(listing, &right, entry + 1);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        struct stand below = *stand, above = *stand;
        below.v[row][1] = length_lesser(below.v[row][1], out->where.v[row][0]);
        above.v[row][0] = length_greater(above.v[row][0], out->where.v[row][1]);
        stand_elsewhere(listing, &below, entry + 1);
        stand_elsewhere(listing, &above, entry + 1);
    }
}

/* The lower corners with which a bracket stands on a vent, or nearer to it than it may. */
static struct box corners_near(const struct kit *kit, const struct vent *vent) {
    const double keep = vent->keep_bracket;
    return (struct box){vent->flange.x0 - keep - kit->width, vent->flange.y0 - keep - kit->height,
                        vent->flange.x1 + keep, vent->flange.y1 + keep};
}

/* True where the bracket is clear of them at every level that is left. */
static bool always_clear(const struct stand *stand, struct interval x, const struct box *off) {
    return x.hi <= off->x0 - stand->cap || x.lo >= off->x1 + stand->cap || stand->y[1] <= off->y0 ||
           stand->y[0] >= off->y1;
}

static void pass_vents(struct listing *listing, const struct stand *stand, size_t vent);

/* To either side of the vent, where that leaves X anything. */
static void pass_beside(struct listing *listing, const struct stand *stand, const struct box *off,
                        size_t vent) {
    const struct interval x = stands_x(listing->stands, stand, listing->lowest);
    struct stand moved;
    if (interval_there((struct interval){x.lo, off->x0 - listing->lowest})) {
        moved = *stand;
        moved.past[1].hi = length_lesser(moved.past[1].hi, off->x0);
        pass_vents(listing, &moved, vent + 1);
    }
    if (interval_there((struct interval){off->x1 + listing->lowest, x.hi})) {
        moved = *stand;
        moved.past[1].lo = length_greater(moved.past[1].lo, off->x1);
        pass_vents(listing, &moved, vent + 1);
    }
}

/* Below and above it, where that leaves Y anything. */
static void pass_below_and_above(struct listing *listing, const struct stand *stand,
                                 const struct box *off, size_t vent) {
    struct stand moved = *stand;
    moved.y[1] = length_lesser(stand->y[1], off->y0);
    if (moved.y[0] + listing->lowest <= moved.y[1] - listing->lowest + BAND_TOUCH)
        pass_vents(listing, &moved, vent + 1);
    moved.y[1] = stand->y[1];
    moved.y[0] = length_greater(stand->y[0], off->y1);
    if (moved.y[0] + listing->lowest <= moved.y[1] - listing->lowest + BAND_TOUCH)
        pass_vents(listing, &moved, vent + 1);
}

/* The bracket left or right of, below or above every vent from that one on. */
static void pass_vents(struct listing *listing, const struct stand *stand, size_t vent) {
    const struct roof *roof = listing->roof;
    if (listing_over(listing) || !alive(listing, stand))
        return;
    const struct interval x = stands_x(listing->stands, stand, listing->least);
    for (; vent < roof->vent_count; vent++) {
        const struct vent *it = &roof->vents[vent];
        const struct box off = corners_near(listing->kit, it);
        const bool under = it->kind == VENT_BLANK && it->tall < listing->kit->standoff;
        if (under || always_clear(stand, x, &off))
            continue;
        pass_beside(listing, stand, &off, vent);
        pass_below_and_above(listing, stand, &off, vent);
        return;
    }
    stand_elsewhere(listing, stand, 0);
}

/* Whether a bracket stands anywhere with both its rows within their limits. */
static bool lines_meet(const struct listing *listing, const struct hold *top,
                       const struct hold *bottom) {
    const double *above = listing->kit->window[ROW_TOP], *below = listing->kit->window[ROW_BOTTOM];
    const double twice = 2 * listing->lowest;
    return top->y[0] - above[1] + twice <= bottom->y[1] - below[0] - twice + BAND_TOUCH &&
           bottom->y[0] - below[1] + twice <= top->y[1] - above[0] - twice + BAND_TOUCH;
}

void list_pair(struct listing *listing, size_t top, size_t bottom) {
    const struct hold *a = &listing->stands->holds[ROW_TOP][top];
    const struct hold *b = &listing->stands->holds[ROW_BOTTOM][bottom];
    if (!lines_meet(listing, a, b))
        return;
    struct stand stand = {.holds = {top, bottom},
                          .holes = a->count + b->count,
                          .cap = length_lesser(a->cap, b->cap),
                          .past = {interval_open(), interval_open()},
                          .y = {listing->y[0], listing->y[1]},
                          .v = {{-INFINITY, INFINITY}, {-INFINITY, INFINITY}}};
    if (!listing->best || best_stand_may_better(listing->stands, &stand, listing->best))
        pass_vents(listing, &stand, 0);
}

static bool left_out(const struct listing *listing, enum row row, size_t hold) {
    return listing->left_out[row] && listing->left_out[row][hold];
}

void list_pairs(struct listing *listing) {
    struct stands *stands = listing->stands;
    const size_t tops = stands->hold_counts[ROW_TOP], bottoms = stands->hold_counts[ROW_BOTTOM];
    struct interval *at = holds_at(stands, ROW_BOTTOM, listing->lowest);
    if (!at) {
        listing->failed = true;
        return;
    }
    for (size_t i = 0; i < tops && !stands->crowded && !listing->failed; i++) {
        if (left_out(listing, ROW_TOP, i))
            continue;
        const struct interval x = band_at(&stands->holds[ROW_TOP][i].x, listing->lowest);
        for (size_t j = 0; j < bottoms; j++)
            if (x.lo <= at[j].hi + BAND_TOUCH && at[j].lo <= x.hi + BAND_TOUCH &&
                !left_out(listing, ROW_BOTTOM, j))
                list_pair(listing, i, j);
    }
    free(at);
}
