/* At one level a row's holds leave X intervals, and the row's line limits of its own.  Of holds
 * with the same limits and as many holes, only what they reach together matters there: as few of
 * them are kept as reach all of it. */
#include "listing.h"

#include <stdlib.h>
#include <string.h>

/* Holds at the level are told as spots of X and of the limits of the row's line.  Alike ones next
 * to each other, the widest limits first, then from the left, the longest first. */
static int by_reach(const void *a, const void *b) {
    const struct spot *one = a, *other = b;
    if (one->holes != other->holes)
        return one->holes < other->holes ? -1 : 1;
    const int up = interval_order(one->y, other->y), along = interval_order(one->x, other->x);
    if (up != 0 || along != 0)
        return up != 0 ? up : along;
    return (one->stand > other->stand) - (one->stand < other->stand);
}

static bool alike(const struct spot *a, const struct spot *b) {
    return a->holes == b->holes && interval_order(a->y, b->y) == 0;
}

/* From the left, always the one that begins within what is reached and goes furthest; returns how
 * many are left at the front. */
static size_t cover(struct spot *list, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count;) {
        const struct spot *last = kept > 0 ? &list[kept - 1] : NULL;
        if (last && (!alike(last, &list[i]) || last->x.hi < list[i].x.lo))
            last = NULL;
        const double end = last ? last->x.hi : list[i].x.lo;
        size_t furthest = i, next = i + 1;
        for (; next < count && alike(&list[i], &list[next]) && list[next].x.lo <= end; next++)
            if (list[next].x.hi > list[furthest].x.hi)
                furthest = next;
        if (!last || list[furthest].x.hi > end)
            list[kept++] = list[furthest];
        i = next;
    }
    return kept;
}

/* Without those that reach no further than one with wider limits and no more holes. */
static size_t drop_inner(struct spot *list, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        bool inner = false;
        for (size_t j = 0; j < kept && !inner; j++)
            inner = spots_inside(&list[i], &list[j]);
        if (!inner)
            list[kept++] = list[i];
    }
    return kept;
}

/* Brings those with the arms of the one at `from` there; returns where they end. */
static size_t bring_alike(const struct listing *listing, enum row row, struct spot *list,
                          size_t from, size_t count) {
    size_t to = from + 1;
    for (size_t i = to; i < count; i++)
        if (arms_alike(listing->stands, row, listing->lowest,
                       &(struct held){list[from].stand, list[from].x},
                       &(struct held){list[i].stand, list[i].x})) {
            const struct spot own = list[i];
            list[i] = list[to];
            list[to++] = own;
        }
    return to;
}

static int by_hold(const void *a, const void *b) {
    const struct spot *one = a, *other = b;
    return (one->stand > other->stand) - (one->stand < other->stand);
}

static void cover_row(struct listing *listing, enum row row) {
    struct stands *stands = listing->stands;
    struct hold *holds = stands->holds[row];
    const size_t count = stands->hold_counts[row];
    struct spot *list = calloc(count + 1, sizeof *list);
    if (!list || count == 0) {
        listing->failed = listing->failed || !list;
        free(list);
        return;
    }
    for (size_t i = 0; i < count; i++)
        list[i] = (struct spot){.x = interval_settled(band_at(&holds[i].x, listing->lowest)),
                                .y = {holds[i].y[0], holds[i].y[1]},
                                .holes = holds[i].count,
                                .stand = i};
    size_t left = 0;
    for (size_t from = 0, to = count; from < count; from = to) {
        if (stands->arms)
            to = bring_alike(listing, row, list, from, count);
        qsort(list + from, to - from, sizeof *list, by_reach);
        const size_t kept = drop_inner(list + from, cover(list + from, to - from));
        memmove(list + left, list + from, kept * sizeof *list);
        left += kept;
    }
    qsort(list, left, sizeof *list, by_hold);
    for (size_t i = 0, next = 0; i < count; i++) {
        if (next < left && list[next].stand == i)
            holds[next++] = holds[i];
        else
            free(holds[i].lags);
    }
    stands->hold_counts[row] = left;
    free(list);
}

void cover_rows(struct listing *listing) {
    /* A set of plies that is ruled out tells holds apart that reach alike. */
    if (listing->limits && listing->limits->count > 0)
        return;
    for (int row = ROW_TOP; row < ROW_COUNT && !listing->failed; row++)
        cover_row(listing, (enum row)row);
}
