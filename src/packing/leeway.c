#include "leeway.h"

#include "length.h"
#include "parts.h"

#include <math.h>
#include <string.h>

/* Whether a line may be on all of the strips that another one may be on. */
static bool holds_strips(const struct strips *strips, const struct strips *other) {
    return !strips || strips == other ||
           (other && strips->count == other->count &&
            memcmp(strips->list, other->list, strips->count * sizeof *strips->list) == 0);
}

static bool holds(const struct interval *all, const struct interval *some) {
    return all->lo <= some->lo && all->hi >= some->hi;
}

bool leeway_holds(const struct leeway *leeway, const struct leeway *other) {
    bool good = holds(&leeway->at[LEEWAY_UP], &other->at[LEEWAY_UP]);
    for (size_t i = 0; i < ROW_COUNT && good; i++)
        good = !(leeway->rise[i].lo > -INFINITY) ||
               (holds(&leeway->at[i], &other->at[i]) && holds(&leeway->rise[i], &other->rise[i]) &&
                holds_strips(leeway->strips[i], other->strips[i]));
    return good;
}

static int interval_order(const struct interval *a, const struct interval *b) {
    return a->lo != b->lo ? (a->lo > b->lo) - (a->lo < b->lo) : (a->hi > b->hi) - (a->hi < b->hi);
}

int leeway_order(const struct leeway *a, const struct leeway *b) {
    int order = 0;
    for (size_t i = 0; i < LEEWAY_PLACES && order == 0; i++)
        order = interval_order(&a->at[i], &b->at[i]);
    for (size_t i = 0; i < ROW_COUNT && order == 0; i++) {
        order = (a->strips[i] != NULL) - (b->strips[i] != NULL);
        order = order != 0 ? order : interval_order(&a->rise[i], &b->rise[i]);
    }
    return order;
}

static bool is_empty(const struct leeway *leeway) {
    bool empty = false;
    for (size_t i = 0; i < LEEWAY_PLACES; i++)
        empty = empty || leeway->at[i].lo > leeway->at[i].hi + SAME;
    return empty;
}

/* A line's lowest and highest place on strips. */
static void draw_in(const struct strips *strips, struct interval *line) {
    const size_t first = parts_first_strip(strips, line->lo - SAME);
    size_t last = parts_first_strip(strips, line->hi);
    if (last == strips->count || strips->list[last].lo > line->hi + SAME)
        last = last > 0 ? last - 1 : strips->count;
    line->lo = first < strips->count ? length_greater(line->lo, strips->list[first].lo) : INFINITY;
    line->hi = last < strips->count ? length_lesser(line->hi, strips->list[last].hi) : -INFINITY;
}

/* Lines and the bracket's place as each asks of the others; false: nothing is left. */
static bool settle(struct leeway *leeway) {
    struct interval *const up = &leeway->at[LEEWAY_UP];
    struct interval was;
    do {
        was = *up;
        for (size_t row = 0; row < ROW_COUNT; row++) {
            struct interval *const line = &leeway->at[row];
            const struct interval *rise = &leeway->rise[row];
            line->lo = length_greater(line->lo, up->lo + rise->lo);
            line->hi = length_lesser(line->hi, up->hi + rise->hi);
            if (leeway->strips[row])
                draw_in(leeway->strips[row], line);
            up->lo = length_greater(up->lo, line->lo - rise->hi);
            up->hi = length_lesser(up->hi, line->hi - rise->lo);
        }
    } while (!is_empty(leeway) && (up->lo > was.lo + SAME || up->hi < was.hi - SAME));
    return !is_empty(leeway);
}

bool leeway_raise(struct leeway *leeway, size_t place, double by) {
    leeway->at[place].lo = length_greater(leeway->at[place].lo, by);
    return settle(leeway);
}

bool leeway_lower(struct leeway *leeway, size_t place, double by) {
    leeway->at[place].hi = length_lesser(leeway->at[place].hi, by);
    return settle(leeway);
}
