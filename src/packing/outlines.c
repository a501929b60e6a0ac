#include "outlines.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>

bool berths_add(struct berths *berths, const struct berth *berth) {
    struct berth *list =
        grow_list(berths->list, &berths->room, berths->count, sizeof *berths->list);
    if (!list)
        return false;
    berths->list = list;
    berths->list[berths->count++] = *berth;
    return true;
}

static int by_begin(const void *a, const void *b) {
    const struct berth *one = a, *other = b;
    return (one->from > other->from) - (one->from < other->from);
}

/* Of the two sides that count against a berth, the further towards another rank the more, the one
 * that is told by X; the other is the same for all of a rank but the middle one. */
static double price_of(const struct berth *berth) {
    return berth->top > -INFINITY ? berth->top : -berth->low;
}
static double other_price_of(const struct berth *berth) {
    return berth->top > -INFINITY ? -berth->low : -INFINITY;
}

static bool same_but_for_price(const struct berth *one, const struct berth *other) {
    return one->near == other->near && one->far == other->far &&
           other_price_of(one) == other_price_of(other) &&
           leeway_order(&one->leeway, &other->leeway) == 0;
}

/* Those that are the same but for X and price together, and of those one that others may be like
 * first. */
static int by_flanks(const void *a, const void *b) {
    const struct berth *one = a, *other = b;
    if (one->near != other->near)
        return one->near < other->near ? -1 : 1;
    if (one->far != other->far)
        return one->far < other->far ? -1 : 1;
    if (other_price_of(one) != other_price_of(other))
        return other_price_of(one) < other_price_of(other) ? -1 : 1;
    const int order = leeway_order(&one->leeway, &other->leeway);
    if (order != 0)
        return order;
    if (one->from != other->from)
        return one->from < other->from ? -1 : 1;
    return (one->to < other->to) - (one->to > other->to);
}

/* Whether one is within another one, and no better. */
static bool is_within(const struct berth *berth, const struct berth *other) {
    return berth->from >= other->from && berth->to <= other->to &&
           price_of(berth) >= price_of(other);
}

/* The outline of some that are the same but for X and price, behind others. */
static bool outline(const struct berth *some, size_t count, struct berths *berths) {
    if (count == 1)
        return berths_add(berths, some);
    struct pieces *many = calloc(count + 1, sizeof *many), least = {.list = NULL};
    bool good = many != NULL;
    size_t made = 0, last = 0;
    for (size_t i = 0; i < count && good; i++) {
        const double price = price_of(&some[i]);
        if (i > 0 && is_within(&some[i], &some[last]))
            continue;
        good = pieces_add(&many[made++], (struct piece){some[i].from, some[i].to, price, price, i});
        last = i;
    }
    good = many && pieces_least(many, made, &least) && good;
    for (size_t i = 0; i < least.count && good; i++) {
        struct berth berth = some[least.list[i].tag];
        berth.from = least.list[i].from;
        berth.to = least.list[i].to;
        good = berths_add(berths, &berth);
    }
    pieces_free(&least);
    free(many);
    return good;
}

/* The widest first: hardly a berth comes before one that is better. */
static int by_width(const void *a, const void *b) {
    const struct berth *one = a, *other = b;
    const double wide = one->to - one->from, other_wide = other->to - other->from;
    if (wide != other_wide)
        return wide > other_wide ? -1 : 1;
    return by_flanks(a, b);
}

/* Whether a part is in the way of those on that side no more than another one. */
static bool part_less(const struct flank_part *one, const struct flank_part *other, double side) {
    return !one->there || (other->there && side * one->fixed <= side * other->fixed &&
                           side * one->goes <= side * other->goes && one->high <= other->high &&
                           one->low >= other->low);
}

static bool flank_less(const struct flank *one, const struct flank *other, double side) {
    bool less = true;
    for (size_t k = 0; k < FLANK_PARTS && one != other && less; k++)
        less = part_less(&one->parts[k], &other->parts[k], side);
    return less;
}

/* What berths are compared by. */
struct outlined {
    const struct flanks *near, *far;
};

static bool leaves_as_much(const struct berth *a, const struct berth *b) {
    return a->low >= b->low && a->top <= b->top;
}

static bool as_good(const struct outlined *by, const struct berth *a, const struct berth *b) {
    return a->from <= b->from && a->to >= b->to && leaves_as_much(a, b) &&
           leeway_holds(&a->leeway, &b->leeway) &&
           flank_less(&by->far->list[a->far], &by->far->list[b->far], 1) &&
           flank_less(&by->near->list[a->near], &by->near->list[b->near], -1);
}

/* One that was as good as another is likely to be as good as the next, too: it comes forward. */
static bool has_as_good(const struct outlined *by, struct berth *kept, size_t count,
                        const struct berth *berth) {
    for (size_t i = 0; i < count; i++)
        if (as_good(by, &kept[i], berth)) {
            const struct berth better = kept[i];
            kept[i] = kept[i / 2];
            kept[i / 2] = better;
            return true;
        }
    return false;
}

static void drop_lesser(const struct outlined *by, struct berths *berths) {
    size_t kept = 0;
    for (size_t i = 0; i < berths->count; i++) {
        const struct berth berth = berths->list[i];
        if (!has_as_good(by, berths->list, kept, &berth))
            berths->list[kept++] = berth;
    }
    berths->count = kept;
}

bool outline_berths(struct berths *some, const struct flanks *near, const struct flanks *far,
                    struct berths *berths) {
    const struct outlined by = {near, far};
    bool good = true;
    if (some->count > 0)
        qsort(some->list, some->count, sizeof *some->list, by_flanks);
    for (size_t from = 0, to = 0; from < some->count && good; from = to) {
        while (to < some->count && same_but_for_price(&some->list[to], &some->list[from]))
            to++;
        good = outline(&some->list[from], to - from, berths);
    }
    if (!good || berths->count == 0)
        return good;
    qsort(berths->list, berths->count, sizeof *berths->list, by_width);
    drop_lesser(&by, berths);
    qsort(berths->list, berths->count, sizeof *berths->list, by_begin);
    return true;
}

bool outline_marked(const struct berth *some, const struct flanks *near, const struct flanks *far,
                    const struct berths *marked, double *from) {
    *from = INFINITY;
    for (size_t i = 0; i < marked->count; i++) {
        const struct berth *berth = &marked->list[i];
        if (berth->mark < *from && berth->from <= some->to && berth->to >= some->from &&
            berth->mark <= some->to && leaves_as_much(berth, some) &&
            leeway_holds(&berth->leeway, &some->leeway) &&
            flank_less(&far->list[berth->far], &far->list[some->far], 1) &&
            flank_less(&near->list[berth->near], &near->list[some->near], -1))
            *from = berth->mark;
    }
    return *from < INFINITY;
}
