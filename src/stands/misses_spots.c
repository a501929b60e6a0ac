/* Spots of a nearest miss, drawn in to where they are of use, and without those that say nothing
 * new. */
#include "gathering.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

/* How far from `from` towards `to` a function stays within `most`; it does at `from`. */
static double reach(const struct lack *lack, double from, double to, double most) {
    double at = from, value = lack_at(lack, from);
    for (size_t i = 0; i <= lack->count; i++) {
        const size_t h = to > from ? i : lack->count - 1 - i;
        double next = i < lack->count ? lack->hinges[h].at : to;
        if ((next - at) * (to - from) <= 0)
            continue;
        if ((next - to) * (to - from) > 0)
            next = to;
        const double risen = lack_at(lack, next);
        if (risen > most)
            return at + (next - at) * length_greater(0, most - value) / (risen - value);
        at = next;
        value = risen;
    }
    return to;
}

/* Where in the interval a function is no more than `most`; its best place if that is nowhere. */
static struct interval clip(const struct lack *lack, struct interval in, double most) {
    double least;
    const struct interval best = lack_best(lack, in, &least);
    if (least > most)
        return best;
    return (struct interval){reach(lack, best.lo, in.lo, most), reach(lack, best.hi, in.hi, most)};
}

/* The function without what is nothing within the interval; settled. */
static void trim(struct lack *lack, struct interval in) {
    size_t kept = 0;
    for (size_t i = 0; i < lack->count; i++) {
        struct hinge hinge = lack->hinges[i];
        if (hinge.at <= in.lo)
            hinge.below = 0;
        if (hinge.at >= in.hi)
            hinge.above = 0;
        if (hinge.below > 0 || hinge.above > 0)
            lack->hinges[kept++] = hinge;
    }
    lack->count = kept;
    lack_settle(lack);
}

void gathering_draw_in(const struct gathering *gathering, struct spot *spot,
                       struct lack lacks[GATHERING_AXES], struct lack held[GATHERING_AXES]) {
    double least[GATHERING_AXES];
    lack_best(&held[GATHERING_X], spot->x, &least[GATHERING_X]);
    lack_best(&held[GATHERING_Y], spot->y, &least[GATHERING_Y]);
    spot->x = clip(&held[GATHERING_X], spot->x, gathering->most - least[GATHERING_Y]);
    spot->y = clip(&held[GATHERING_Y], spot->y, gathering->most - least[GATHERING_X]);
    const struct interval sides[GATHERING_AXES] = {spot->x, spot->y};
    for (int axis = GATHERING_X; axis < GATHERING_AXES; axis++) {
        trim(&lacks[axis], sides[axis]);
        trim(&held[axis], sides[axis]);
    }
}

/* Spots that lack alike, wherever they are. */
static int by_miss(const struct spot *a, const struct spot *b) {
    int order = 0;
    for (int axis = GATHERING_X; axis < GATHERING_AXES && order == 0; axis++) {
        order = lack_order(a->miss->held[axis], b->miss->held[axis]);
        if (order == 0)
            order = lack_order(a->miss->lack[axis], b->miss->lack[axis]);
        if (order == 0)
            order = (int)a->miss->edge[axis] - (int)b->miss->edge[axis];
    }
    return order;
}

static int by_use(const void *a, const void *b) {
    const struct spot *one = a, *other = b;
    const int order = by_miss(one, other);
    if (order != 0)
        return order;
    if (one->holes != other->holes)
        return one->holes < other->holes ? -1 : 1;
    const int along = interval_order(one->x, other->x), up = interval_order(one->y, other->y);
    if (along != 0 || up != 0)
        return along != 0 ? along : up;
    return (one->stand > other->stand) - (one->stand < other->stand);
}

/* So many before it in that order are looked at whether a spot lies inside one of them. */
enum { LOOK_BACK = 64 };

static bool same_arms(const struct misses *misses, const struct spot *a, const struct spot *b) {
    return !misses->stands->arms || arms_end_alike(misses->stands, a->stand, b->stand);
}

/* Whether a function is nowhere in the interval above another one: both are straight between their
 * hinges. */
static bool nowhere_above(const struct lack *a, const struct lack *b, struct interval in) {
    if (lack_at(a, in.lo) > lack_at(b, in.lo) || lack_at(a, in.hi) > lack_at(b, in.hi))
        return false;
    for (size_t i = 0; i < a->count + b->count; i++) {
        const double at = i < a->count ? a->hinges[i].at : b->hinges[i - a->count].at;
        if (at > in.lo && at < in.hi && lack_at(a, at) > lack_at(b, at))
            return false;
    }
    return true;
}

/* Whether a spot lies inside another one that lacks no more anywhere in it. */
static bool bettered_by(const struct spot *spot, const struct spot *of) {
    return spots_inside(spot, of) &&
           nowhere_above(of->miss->lack[GATHERING_X], spot->miss->lack[GATHERING_X], spot->x) &&
           nowhere_above(of->miss->lack[GATHERING_Y], spot->miss->lack[GATHERING_Y], spot->y);
}

/* A spot and the least that is lacked in it. */
struct graded {
    double least;
    struct spot spot;
};

static int by_grade(const void *a, const void *b) {
    const struct graded *one = a, *other = b;
    if (one->least < other->least || one->least > other->least)
        return one->least < other->least ? -1 : 1;
    return by_use(&one->spot, &other->spot);
}

/* Of those that are left, so many that lack least are held against each one. */
enum { LOOK_AHEAD = 192 };

/* Drops the spots that lie inside another one that lacks no more anywhere in it.  Without memory
 * none is dropped. */
static void drop_bettered(struct misses *misses) {
    struct graded *list = malloc((misses->count + 1) * sizeof *list);
    size_t kept = 0;
    for (size_t i = 0; i < misses->count && list; i++) {
        const struct spot *spot = &misses->spots[i];
        double least[GATHERING_AXES];
        lack_best(spot->miss->held[GATHERING_X], spot->x, &least[GATHERING_X]);
        lack_best(spot->miss->held[GATHERING_Y], spot->y, &least[GATHERING_Y]);
        list[i] = (struct graded){least[GATHERING_X] + least[GATHERING_Y], *spot};
    }
    if (list && misses->count > 0)
        qsort(list, misses->count, sizeof *list, by_grade);
    for (size_t i = 0; i < misses->count && list; i++) {
        const struct spot *spot = &list[i].spot;
        bool bettered = false;
        for (size_t j = 0; j < kept && j < LOOK_AHEAD && !bettered; j++)
            bettered =
                bettered_by(spot, &misses->spots[j]) && same_arms(misses, spot, &misses->spots[j]);
        if (!bettered)
            misses->spots[kept++] = *spot;
    }
    if (list)
        misses->count = kept;
    free(list);
}

void gathering_drop(const struct gathering *gathering) {
    struct misses *misses = gathering->made;
    struct spot *list = misses->spots;
    size_t kept = 0, alike = 0; /* the first that lacks as the one at hand does */
    if (misses->count > 0)
        qsort(list, misses->count, sizeof *list, by_use);
    for (size_t i = 0; i < misses->count; i++) {
        bool bettered = false;
        if (kept > 0 && by_miss(&list[kept - 1], &list[i]) != 0)
            alike = kept;
        for (size_t back = kept; back > alike && kept - back < LOOK_BACK && !bettered; back--)
            bettered = spots_inside(&list[i], &list[back - 1]) &&
                       same_arms(misses, &list[i], &list[back - 1]);
        if (!bettered)
            list[kept++] = list[i];
    }
    misses->count = kept;
    drop_bettered(misses);
}
