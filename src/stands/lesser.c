/* Of a row's holds, those of nearest misses: without what lacks no less than another one wherever
 * the bracket stands at the level.  On sistered rafters and where a strut may skip some, that is
 * nearly all of them.  Two holds on as many lags differ by where these are, which matters for their
 * wood, for the face, and beside a vent; and for others where arms do. */
#include "gathering.h"
#include "listing.h"

#include "length.h"

#include <stdlib.h>

/* A hold while it is compared. */
struct compared {
    size_t index;
    const struct hold *hold;
    struct interval x, y; /* at the level */
    double run;           /* what a strut's lags lack wherever the bracket stands */
    size_t on_face;       /* of its flashings */
    bool reaches_off;     /* its strut may reach beyond the face */
};

static struct compared compare(const struct listing *listing, const struct hold *hold,
                               size_t index) {
    const double level = listing->lowest;
    struct compared made = {.index = index,
                            .hold = hold,
                            .x = interval_settled(band_at(&hold->x, level)),
                            .y = {hold->y[0], hold->y[1]}};
    if (!listing_has_strut(listing))
        return made;
    const double off = listing->kit->flashing.width / 2;
    const struct interval strut = arms_strut(listing->kit, hold, made.x);
    made.run = misses_run(listing->roof, listing->kit, hold);
    made.reaches_off = strut.lo < listing->face.x0 || strut.hi > listing->face.x1;
    made.on_face = misses_on_face(hold, off, &listing->face);
    return made;
}

static bool has_lag(const struct hold *hold, double x) {
    for (size_t i = 0; i < hold->count; i++)
        if (length_same(hold->lags[i].lo, x))
            return true;
    return false;
}

/* Whether every flashing that is not clear of the vent is one of the other hold's, and so is the
 * strut. */
static bool passes_as_well(const struct listing *listing, const struct compared *own,
                           const struct compared *other, const struct vent *vent) {
    const double keep = vent->keep_flashing, off = keep + listing->kit->flashing.width / 2;
    const struct interval strut = arms_strut(listing->kit, own->hold, other->x);
    for (size_t i = 0; i < own->hold->count; i++) {
        const double x = own->hold->lags[i].lo;
        if (x > vent->flange.x0 - off && x < vent->flange.x1 + off && !has_lag(other->hold, x))
            return false;
    }
    return strut.hi <= vent->flange.x0 - keep || strut.lo >= vent->flange.x1 + keep ||
           arms_same_end(own->hold, other->hold);
}

/* Struts on as many lags. */
static bool runs_no_worse(const struct listing *listing, const struct compared *own,
                          const struct compared *other) {
    if (own->run > other->run + BAND_TOUCH || own->on_face > other->on_face ||
        ((other->reaches_off || listing->stands->arms) && !arms_same_end(own->hold, other->hold)))
        return false;
    for (size_t v = 0; v < listing->roof->vent_count; v++)
        if (!passes_as_well(listing, own, other, &listing->roof->vents[v]))
            return false;
    return true;
}

/* Feet in the same plies, which keep off the same vents or fewer. */
static bool seats_no_worse(const struct compared *own, const struct compared *other) {
    for (size_t i = 0; i < own->hold->count; i++) {
        const struct stand_lag *a = &own->hold->lags[i], *b = &other->hold->lags[i];
        if (a->ply != b->ply || a->turned != b->turned || a->lo > b->lo + BAND_TOUCH ||
            a->hi < b->hi - BAND_TOUCH)
            return false;
    }
    return true;
}

static bool no_worse(const struct listing *listing, const struct compared *own,
                     const struct compared *other) {
    return own->hold->count == other->hold->count && interval_holds(own->x, other->x) &&
           interval_holds(own->y, other->y) &&
           (listing_has_strut(listing) ? runs_no_worse(listing, own, other)
                                       : seats_no_worse(own, other));
}

static int by_place(const void *a, const void *b) {
    const struct compared *one = a, *other = b;
    if (one->hold->count != other->hold->count)
        return one->hold->count < other->hold->count ? -1 : 1;
    const int up = interval_order(one->y, other->y), along = interval_order(one->x, other->x);
    if (up != 0 || along != 0)
        return up != 0 ? up : along;
    if (one->run < other->run || one->run > other->run)
        return one->run < other->run ? -1 : 1;
    return (one->index > other->index) - (one->index < other->index);
}

/* With arms, those that end alike come together. */
static int by_ends(const void *a, const void *b) {
    const struct compared *one = a, *other = b;
    for (int side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        const double x = outer_lag(one->hold, (enum side)side)->lo,
                     y = outer_lag(other->hold, (enum side)side)->lo;
        if (x < y || x > y)
            return x < y ? -1 : 1;
        if (one->hold->clamps[side] != other->hold->clamps[side])
            return one->hold->clamps[side] < other->hold->clamps[side] ? -1 : 1;
    }
    return by_place(a, b);
}

/* Sorted, a hold is no better than earlier ones only; looking back at the last kept ones finds
 * nearly all of that. */
enum { LOOK_BACK = 96 };

bool *lacking_row(const struct listing *listing, const struct hold *holds, size_t count) {
    struct compared *list = malloc((count + 1) * sizeof *list);
    bool *needed = calloc(count + 1, sizeof *needed);
    size_t alive = 0, kept = 0;
    for (size_t i = 0; i < count && list && needed; i++)
        if (hold_alive(&holds[i], listing->lowest))
            list[alive++] = compare(listing, &holds[i], i);
    if (alive > 0)
        qsort(list, alive, sizeof *list, listing->stands->arms ? by_ends : by_place);
    for (size_t i = 0; i < alive; i++) {
        bool worse = false;
        for (size_t back = 1; back <= LOOK_BACK && back <= kept && !worse; back++)
            worse = no_worse(listing, &list[kept - back], &list[i]);
        if (worse)
            continue;
        needed[list[i].index] = true;
        list[kept++] = list[i];
    }
    if (!list) {
        free(needed);
        needed = NULL;
    }
    free(list);
    return needed;
}
