/* The rectangles of the stands at a level: all of them, those that say something new, and the
 * cheapest. */
#include "grow.h"
#include "listing.h"
#include "stands.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

/* Who is handed the rectangles, one by one; false: without memory. */
struct taker {
    bool (*take)(void *subject, const struct spot *spot);
    void *subject;
};

/* Stand by stand; false without memory.  at: X as every hold leaves it. */
static bool hand_out(const struct stands *stands, double level,
                     const struct interval *const at[ROW_COUNT], struct heights *heights,
                     const struct taker *taker) {
    struct limits_on_height known = {.y = {0, 0}};
    bool knows = false;
    for (size_t i = 0; i < stands->count; i++) {
        const struct stand *stand = &stands->list[i];
        const struct interval x = stand_between(stand, at, level);
        if (stand->cap < level - BAND_TOUCH || !interval_there(x))
            continue;
        const struct limits_on_height limits = heights_limits(stands, stand);
        if (!knows || !heights_same_limits(&limits, &known))
            heights_at(stands, &limits, level, heights);
        known = limits;
        knows = true;
        struct spot spot = {.x = interval_settled(x), .stand = i, .holes = stand->holes};
        for (size_t j = 0; j < heights->both.count; j++) {
            spot.y = heights->both.list[j];
            if (!taker->take(taker->subject, &spot))
                return false;
        }
    }
    return true;
}

static enum outcome hand_all(const struct stands *stands, double level, const struct taker *taker) {
    struct heights heights;
    struct interval *const at[ROW_COUNT] = {holds_at(stands, ROW_TOP, level),
                                            holds_at(stands, ROW_BOTTOM, level)};
    const bool good = heights_begin(stands->roof, &heights) && at[ROW_TOP] && at[ROW_BOTTOM] &&
                      hand_out(stands, level, (const struct interval *const *)at, &heights, taker);
    heights_end(&heights);
    free(at[ROW_TOP]);
    free(at[ROW_BOTTOM]);
    return good ? OUTCOME_DONE : OUTCOME_FAULT;
}

struct spots {
    struct spot *list;
    size_t count, room;
};

static bool add_spot(void *subject, const struct spot *spot) {
    struct spots *spots = subject;
    struct spot *list = grow_list(spots->list, &spots->room, spots->count, sizeof *spots->list);
    if (!list)
        return false;
    spots->list = list;
    spots->list[spots->count++] = *spot;
    return true;
}

static int by_place(const void *a, const void *b) {
    const struct spot *x = a, *y = b;
    const int along = interval_order(x->x, y->x), up = interval_order(x->y, y->y);
    if (along != 0 || up != 0)
        return along != 0 ? along : up;
    if (x->holes != y->holes)
        return x->holes < y->holes ? -1 : 1;
    return (x->stand > y->stand) - (x->stand < y->stand);
}

bool spots_inside(const struct spot *spot, const struct spot *of) {
    return interval_holds(of->x, spot->x) && interval_holds(of->y, spot->y) &&
           spot->holes >= of->holes;
}

/* Spots inside another one that takes no more holes say nothing new.  Sorted, a spot lies inside
 * earlier ones only; looking back at the last kept ones finds nearly all of that. */
enum { LOOK_BACK = 64 };
/* Of a list that is longer few are inside others, and to see which takes longer than it saves. */
enum { COMPARED_MOST = 1 << 21 };

/* The arms of stands at a level, with the print of each (NULL: none). */
struct arms_seen {
    const struct stands *stands;
    const uint64_t *prints;
    double level;
};

static bool see_alike(const struct arms_seen *seen, size_t one, size_t other) {
    return (!seen->prints || seen->prints[one] == seen->prints[other]) &&
           arms_both_alike(seen->stands, seen->level, one, other);
}

size_t spots_drop_bettered(const struct stands *stands, double level, struct spot *list,
                           size_t count) {
    size_t kept = 0;
    uint64_t *prints = stands ? arms_prints(stands, level) : NULL;
    const struct arms_seen seen = {stands, prints, level};
    if (count > 0)
        qsort(list, count, sizeof *list, by_place);
    for (size_t i = 0; i < count; i++) {
        bool bettered = false;
        for (size_t back = 1; back <= LOOK_BACK && back <= kept && !bettered; back++)
            bettered = spots_inside(&list[i], &list[kept - back]) &&
                       (!stands || see_alike(&seen, list[i].stand, list[kept - back].stand));
        if (!bettered)
            list[kept++] = list[i];
    }
    free(prints);
    return kept;
}

enum outcome stands_at(const struct stands *stands, double level, bool every, struct spot **spots,
                       size_t *count) {
    struct spots found = {.list = NULL};
    const struct taker taker = {add_spot, &found};
    if (hand_all(stands, level, &taker) != OUTCOME_DONE) {
        free(found.list);
        return OUTCOME_FAULT;
    }
    if (!every && found.count <= COMPARED_MOST)
        found.count =
            spots_drop_bettered(stands->arms ? stands : NULL, level, found.list, found.count);
    struct spot *fitted = realloc(found.list, (found.count + 1) * sizeof *fitted);
    if (fitted)
        found.list = fitted;
    *spots = found.list;
    *count = found.count;
    return OUTCOME_DONE;
}

/* The cheapest so far. */
struct cheapest {
    const struct roof *roof;
    const struct bracket *bracket;
    struct spot spot;
    double cost; /* INFINITY: none */
};

/* Of those that cost the same, the first by place. */
static bool see_cost(void *subject, const struct spot *spot) {
    struct cheapest *best = subject;
    const double cost = lack_beyond(spot->x, best->bracket->want_x) +
                        lack_beyond(spot->y, best->bracket->want_y) +
                        best->roof->hole_worth * (double)spot->holes;
    if (cost >= best->cost + LENGTH_TOLERANCE ||
        (cost > best->cost - LENGTH_TOLERANCE && by_place(spot, &best->spot) > 0))
        return true;
    best->spot = *spot;
    best->cost = length_lesser(best->cost, cost);
    return true;
}

enum outcome stands_cheapest(const struct stands *stands, double level, struct spot *spot,
                             bool *found) {
    const struct roof *roof = stands->roof;
    struct cheapest best = {
        .roof = roof, .bracket = &roof->brackets[stands->bracket], .cost = INFINITY};
    const struct taker taker = {see_cost, &best};
    const enum outcome outcome = hand_all(stands, level, &taker);
    *found = outcome == OUTCOME_DONE && best.cost < INFINITY;
    if (*found)
        *spot = best.spot;
    return outcome;
}
