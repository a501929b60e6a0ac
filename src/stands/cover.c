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
static size_t bring_alike(const struct listing *listing, const struct hold *holds,
                          struct spot *list, size_t from, size_t count) {
    const struct held first = {&holds[list[from].stand], list[from].x};
    size_t to = from + 1;
    for (size_t i = to; i < count; i++) {
        const struct held other = {&holds[list[i].stand], list[i].x};
        if (!arms_alike(listing->stands, listing->row, listing->lowest, &first, &other))
            continue;
        const struct spot own = list[i];
        list[i] = list[to];
        list[to++] = own;
    }
    return to;
}

/* Those that there are at the level; returns how many. */
static size_t see_holds(const struct listing *listing, const struct hold *holds, size_t count,
                        struct spot *list) {
    size_t alive = 0;
    for (size_t i = 0; i < count; i++)
        if (hold_alive(&holds[i], listing->lowest))
            list[alive++] =
                (struct spot){.x = interval_settled(band_at(&holds[i].x, listing->lowest)),
                              .y = {holds[i].y[0], holds[i].y[1]},
                              .holes = holds[i].count,
                              .stand = i};
    return alive;
}

bool *cover_row(const struct listing *listing, const struct hold *holds, size_t count) {
    struct spot *list = malloc((count + 1) * sizeof *list);
    bool *needed = calloc(count + 1, sizeof *needed);
    const size_t alive = list && needed ? see_holds(listing, holds, count, list) : 0;
    for (size_t from = 0, to = alive; from < alive; from = to) {
        if (listing->stands->arms)
            to = bring_alike(listing, holds, list, from, alive);
        qsort(list + from, to - from, sizeof *list, by_reach);
        const size_t kept = drop_inner(list + from, cover(list + from, to - from));
        for (size_t i = from; i < from + kept; i++)
            needed[list[i].stand] = true;
    }
    if (!list) {
        free(needed);
        needed = NULL;
    }
    free(list);
    return needed;
}
