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

static bool alive(const struct listing *listing, const struct stand *stand) {
    const struct interval y = {stand->y[0] + listing->least, stand->y[1] - listing->least};
    return stand->cap >= listing->least - BAND_TOUCH && interval_there(y) &&
           interval_there(band_at(&stand->x, listing->least));
}

/* The bracket left or right of, below or above every vent from that one on. */
static void pass_vents(struct listing *listing, const struct stand *stand, size_t vent) {
    const struct roof *roof = listing->roof;
    const struct kit *kit = listing->kit;
    if (listing->failed || listing->stands->crowded || !alive(listing, stand))
        return;
    if (vent == roof->vent_count) {
        add_stand(listing, stand);
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
                          .y = {listing->y[0], listing->y[1]}};
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
