/* Pairs of holds, one a row: the ways to hold a bracket. */
#include "listing.h"

#include <math.h>
#include <stdlib.h>

static void add_stand(struct listing *listing, const struct stand *stand) {
    struct stands *stands = listing->stands;
    if (stands->count == LISTING_STANDS_MOST)
        stands->crowded = true;
    if (stands->crowded || listing->failed)
        return;
    if (stands->count == listing->stand_room) {
        const size_t room = listing->stand_room ? listing->stand_room * 2 : 128;
        struct stand *larger = realloc(stands->list, room * sizeof *larger);
        if (!larger) {
            listing->failed = true;
            return;
        }
        stands->list = larger;
        listing->stand_room = room;
    }
    stands->list[stands->count++] = *stand;
}

/* Whether both rows can meet the bracket at all between the stand's own limits. */
static bool rows_meet(const struct listing *listing, const struct stand *stand) {
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const double *window = listing->kit->window[row], *v = stand->v[row];
        const double least = listing->least;
        const struct interval left = {fmax(v[0], window[0] + least), fmin(v[1], window[1] - least)};
        if (!interval_there(left))
            return false;
    }
    return true;
}

static bool alive(const struct listing *listing, const struct stand *stand) {
    const struct interval y = {stand->y[0] + listing->least, stand->y[1] - listing->least};
    return stand->cap >= listing->least - BAND_TOUCH && interval_there(y) &&
           interval_there(band_at(&stand->x, listing->least)) && rows_meet(listing, stand);
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
    band_most(&left.x, 0, out->where.x[0]);
    band_least(&right.x, 0, out->where.x[1]);
    stand_elsewhere(listing, &left, entry + 1);
    stand_elsewhere(listing, &right, entry + 1);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        struct stand below = *stand, above = *stand;
        below.v[row][1] = fmin(below.v[row][1], out->where.v[row][0]);
        above.v[row][0] = fmax(above.v[row][0], out->where.v[row][1]);
        stand_elsewhere(listing, &below, entry + 1);
        stand_elsewhere(listing, &above, entry + 1);
    }
}

/* The bracket left or right of, below or above every vent from that one on. */
static void pass_vents(struct listing *listing, const struct stand *stand, size_t vent) {
    const struct roof *roof = listing->roof;
    const struct kit *kit = listing->kit;
    if (listing_over(listing) || !alive(listing, stand))
        return;
    if (vent == roof->vent_count) {
        stand_elsewhere(listing, stand, 0);
        return;
    }
    const struct vent *it = &roof->vents[vent];
    const double keep = it->keep_bracket;
    const struct box off = {it->flange.x0 - keep - kit->width, it->flange.y0 - keep - kit->height,
                            it->flange.x1 + keep, it->flange.y1 + keep};
    const struct interval x = band_at(&stand->x, listing->least);
    const bool under = it->kind == VENT_BLANK && it->tall < kit->standoff;
    if (under || x.hi <= off.x0 - stand->cap || x.lo >= off.x1 + stand->cap ||
        stand->y[1] <= off.y0 || stand->y[0] >= off.y1) {
        pass_vents(listing, stand, vent + 1);
        return;
    }
    struct stand left = *stand, right = *stand, below = *stand, above = *stand;
    band_most(&left.x, 1, off.x0);
    band_least(&right.x, 1, off.x1);
    below.y[1] = fmin(below.y[1], off.y0);
    above.y[0] = fmax(above.y[0], off.y1);
    pass_vents(listing, &left, vent + 1);
    pass_vents(listing, &right, vent + 1);
    pass_vents(listing, &below, vent + 1);
    pass_vents(listing, &above, vent + 1);
}

static void pair(struct listing *listing, size_t top, size_t bottom) {
    const struct hold *a = &listing->stands->holds[ROW_TOP][top];
    const struct hold *b = &listing->stands->holds[ROW_BOTTOM][bottom];
    struct stand stand = {.holds = {top, bottom},
                          .holes = a->count + b->count,
                          .cap = fmin(a->cap, b->cap),
                          .x = a->x,
                          .y = {listing->y[0], listing->y[1]},
                          .v = {{-INFINITY, INFINITY}, {-INFINITY, INFINITY}}};
    band_meet(&stand.x, &b->x);
    pass_vents(listing, &stand, 0);
}

void list_pairs(struct listing *listing) {
    struct stands *stands = listing->stands;
    const size_t tops = stands->hold_counts[ROW_TOP], bottoms = stands->hold_counts[ROW_BOTTOM];
    struct interval *at = calloc(bottoms + 1, sizeof *at);
    if (!at) {
        listing->failed = true;
        return;
    }
    for (size_t j = 0; j < bottoms; j++)
        at[j] = band_at(&stands->holds[ROW_BOTTOM][j].x, listing->least);
    for (size_t i = 0; i < tops && !stands->crowded && !listing->failed; i++) {
        const struct interval x = band_at(&stands->holds[ROW_TOP][i].x, listing->least);
        for (size_t j = 0; j < bottoms; j++)
            if (x.lo <= at[j].hi + BAND_TOUCH && at[j].lo <= x.hi + BAND_TOUCH)
                pair(listing, i, j);
    }
    free(at);
}
