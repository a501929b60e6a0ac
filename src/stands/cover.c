/* At one level a row's holds leave X intervals, and the row's line limits of its own.  Of holds
 * with the same limits and as many holes, only what they reach together matters there: as few of
 * them are kept as reach all of it. */
#include "listing.h"

#include <stdlib.h>

/* A hold at the level. */
struct reach {
    struct interval x;
    double y[2];
    size_t holes, hold;
};

/* Alike ones next to each other, the widest limits first, then from the left, the longest first. */
static int by_reach(const void *a, const void *b) {
    const struct reach *one = a, *other = b;
    if (one->holes != other->holes)
        return one->holes < other->holes ? -1 : 1;
    const double figures[4][2] = {{one->y[0], other->y[0]},
                                  {other->y[1], one->y[1]},
                                  {one->x.lo, other->x.lo},
                                  {other->x.hi, one->x.hi}};
    for (int i = 0; i < 4; i++)
        if (figures[i][0] < figures[i][1] || figures[i][0] > figures[i][1])
            return figures[i][0] < figures[i][1] ? -1 : 1;
    return (one->hold > other->hold) - (one->hold < other->hold);
}

static bool alike(const struct reach *a, const struct reach *b) {
    return a->holes == b->holes && !(a->y[0] < b->y[0]) && !(a->y[0] > b->y[0]) &&
           !(a->y[1] < b->y[1]) && !(a->y[1] > b->y[1]);
}

/* From the left, always the one that begins within what is reached and goes furthest; returns how
 * many are left at the front. */
static size_t cover(struct reach *list, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count;) {
        const struct reach *last = kept > 0 ? &list[kept - 1] : NULL;
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
static size_t drop_inner(struct reach *list, size_t count) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        bool inner = false;
        for (size_t j = 0; j < kept && !inner; j++)
            inner = list[j].holes <= list[i].holes && list[j].y[0] <= list[i].y[0] &&
                    list[j].y[1] >= list[i].y[1] && list[j].x.lo <= list[i].x.lo &&
                    list[j].x.hi >= list[i].x.hi;
        if (!inner)
            list[kept++] = list[i];
    }
    return kept;
}

static int by_hold(const void *a, const void *b) {
    const struct reach *one = a, *other = b;
    return (one->hold > other->hold) - (one->hold < other->hold);
}

static void cover_row(struct listing *listing, enum row row) {
    struct stands *stands = listing->stands;
    struct hold *holds = stands->holds[row];
    const size_t count = stands->hold_counts[row];
    struct reach *list = calloc(count + 1, sizeof *list);
    if (!list || count == 0) {
        listing->failed = listing->failed || !list;
        free(list);
        return;
    }
    for (size_t i = 0; i < count; i++)
        list[i] = (struct reach){.x = interval_settled(band_at(&holds[i].x, listing->lowest)),
                                 .y = {holds[i].y[0], holds[i].y[1]},
                                 .holes = holds[i].count,
                                 .hold = i};
    qsort(list, count, sizeof *list, by_reach);
    const size_t left = drop_inner(list, cover(list, count));
    qsort(list, left, sizeof *list, by_hold);
    for (size_t i = 0, next = 0; i < count; i++) {
        if (next < left && list[next].hold == i)
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
