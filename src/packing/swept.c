#include "swept.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>

enum { SWEPT_MOST = 200000 };
/* Sums of a few places are the same but for roundings. */
#define SUM_SAME 1e-9

static struct bucket *bucket_of(const struct sweep *sweep, const struct swept *swept) {
    size_t at = swept->state;
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++)
        at = at * sweep->shapes + sweep->shape[swept->last[rank].class];
    return &sweep->buckets[at];
}

double swept_order(const struct swept *swept) {
    double order = -INFINITY;
    for (int rank = 0; rank < RANK_COUNT; rank++)
        order = length_greater(order, swept->last[rank].x);
    return order;
}

double swept_part_end(const struct flank_part *part, double x) {
    return length_greater(part->fixed, x + part->goes);
}

static bool is_flashing(size_t part) {
    return part >= FLANK_FLASHING && part < FLANK_SIDE;
}

bool swept_stacked(size_t one, size_t other) {
    return !is_flashing(one) && !is_flashing(other);
}

double swept_part_gap(size_t one, size_t other, double level) {
    const bool side = one == FLANK_SIDE || other == FLANK_SIDE;
    if (is_flashing(one) != is_flashing(other) || (one == FLANK_SIDE && other == FLANK_SIDE))
        return -INFINITY;
    return side ? level : 2 * level;
}

size_t swept_place(size_t part) {
    return part == FLANK_SIDE ? LEEWAY_UP
                              : part - (part < FLANK_FLASHING ? FLANK_STRUT : FLANK_FLASHING);
}

void swept_set_reach(const struct flank *flank, double x, struct reach reach[FLANK_PARTS]) {
    for (size_t k = 0; k < FLANK_PARTS; k++) {
        const struct flank_part *part = flank ? &flank->parts[k] : NULL;
        reach[k] = part && part->there
                       ? (struct reach){swept_part_end(part, x), part->low, part->high}
                       : (struct reach){-INFINITY, INFINITY, -INFINITY};
    }
}

void swept_narrow(struct swept *swept, int rank, const struct leeway *leeway) {
    struct last *last = &swept->last[rank];
    for (size_t k = 0; k < FLANK_PARTS; k++) {
        const struct interval *had = &last->leeway.at[swept_place(k)],
                              *has = &leeway->at[swept_place(k)];
        swept->far[rank][k].low -= had->hi - has->hi;
        swept->far[rank][k].high += has->lo - had->lo;
    }
    last->low -= last->leeway.at[LEEWAY_UP].hi - leeway->at[LEEWAY_UP].hi;
    last->top += leeway->at[LEEWAY_UP].lo - last->leeway.at[LEEWAY_UP].lo;
    last->leeway = *leeway;
}

static struct key key_of(const struct swept *swept, size_t at) {
    struct key key = {.at = at};
    for (int rank = 0; rank < RANK_COUNT; rank++) {
        key.x[rank] = swept->last[rank].x;
        key.low[rank] = swept->last[rank].low;
        key.top[rank] = swept->last[rank].top;
    }
    return key;
}

/* Whether one reaches nowhere further than another one. */
static bool reaches_less(const struct reach *a, const struct reach *b) {
    for (size_t k = 0; k < FLANK_PARTS; k++)
        if (a[k].end > b[k].end || a[k].high > b[k].high || a[k].low < b[k].low)
            return false;
    return true;
}

/* Whether the last ones are no further along, and leave as much room between the ranks. */
static bool stands_as_well(const struct key *a, const struct key *b) {
    for (int rank = 0; rank < RANK_COUNT; rank++)
        if (a->x[rank] > b->x[rank] || a->low[rank] < b->low[rank] || a->top[rank] > b->top[rank])
            return false;
    return true;
}

static bool reaches_out(const struct reach *reach) {
    bool out = false;
    for (size_t k = 0; k < FLANK_PARTS; k++)
        out = out || reach[k].end > -INFINITY;
    return out;
}

/* Whether parts are no taller about their places. */
static bool no_taller(const struct swept *a, const struct swept *b, size_t rank) {
    for (size_t k = 0; k < FLANK_PARTS; k++) {
        const struct reach *one = &a->far[rank][k], *other = &b->far[rank][k];
        const struct interval *at = &a->last[rank].leeway.at[swept_place(k)],
                              *other_at = &b->last[rank].leeway.at[swept_place(k)];
        if (one->end > -INFINITY && (one->high - at->lo > other->high - other_at->lo + SUM_SAME ||
                                     one->low - at->hi < other->low - other_at->hi - SUM_SAME))
            return false;
    }
    return true;
}

/* Whether what the last of a rank may be up the slope is no less; of one that reaches nowhere `low`
 * and `top` say all of it. */
static bool leaves_as_much(const struct swept *a, const struct swept *b, size_t rank) {
    return !reaches_out(a->far[rank]) ||
           (leeway_holds(&a->last[rank].leeway, &b->last[rank].leeway) &&
            (a->last[rank].class == b->last[rank].class || no_taller(a, b, rank)));
}

static bool as_good(const struct sweep *sweep, const struct swept *a, const struct swept *b) {
    bool good = true;
    for (size_t rank = 0; rank < sweep->ranks->ranks && good; rank++)
        good = reaches_less(a->far[rank], b->far[rank]) &&
               (!sweep->task->narrows || leaves_as_much(a, b, rank));
    return good;
}

/* One that was as good as another is likely to be as good as the next, too. */
static void bring_forward(struct bucket *bucket, size_t i) {
    const struct key key = bucket->list[i];
    bucket->list[i] = bucket->list[i / 2];
    bucket->list[i / 2] = key;
}

/* Whether none that is known is as good. */
static bool is_new(const struct sweep *sweep, const struct swept *swept, const struct key *key,
                   struct bucket *bucket) {
    for (size_t i = 0; i < bucket->count; i++)
        if (stands_as_well(&bucket->list[i], key) &&
            as_good(sweep, &sweep->pool[bucket->list[i].at], swept)) {
            bring_forward(bucket, i);
            return false;
        }
    return true;
}

/* Those that are no better are out. */
static void drop_lesser(struct sweep *sweep, const struct swept *swept, const struct key *key,
                        struct bucket *bucket) {
    for (size_t i = 0; i < bucket->count;) {
        struct swept *other = &sweep->pool[bucket->list[i].at];
        if (stands_as_well(key, &bucket->list[i]) && as_good(sweep, swept, other)) {
            other->lesser = true;
            bucket->list[i] = bucket->list[--bucket->count];
        } else {
            i++;
        }
    }
}

static bool add_key(struct bucket *bucket, const struct key *key) {
    struct key *list = grow_list(bucket->list, &bucket->room, bucket->count, sizeof *bucket->list);
    if (!list)
        return false;
    bucket->list = list;
    bucket->list[bucket->count++] = *key;
    return true;
}

/* The more that stand, and the closer they do, the better. */
static bool more_hopeful(const struct swept *a, const struct swept *b) {
    if (a->count != b->count)
        return a->count > b->count;
    return a->spent < b->spent;
}

static bool open_new(struct sweep *sweep, size_t made) {
    size_t *open =
        grow_list(sweep->open, &sweep->open_room, sweep->open_count, sizeof *sweep->open);
    if (!open)
        return false;
    sweep->open = open;
    size_t i = sweep->open_count++;
    for (; i > 0 && more_hopeful(&sweep->pool[made], &sweep->pool[sweep->open[(i - 1) / 2]]);
         i = (i - 1) / 2)
        sweep->open[i] = sweep->open[(i - 1) / 2];
    sweep->open[i] = made;
    return true;
}

size_t swept_take(struct sweep *sweep) {
    const size_t first = sweep->open[0], last = sweep->open[--sweep->open_count];
    size_t i = 0;
    for (size_t child = 1; child < sweep->open_count; child = 2 * i + 1) {
        if (child + 1 < sweep->open_count &&
            more_hopeful(&sweep->pool[sweep->open[child + 1]], &sweep->pool[sweep->open[child]]))
            child++;
        if (!more_hopeful(&sweep->pool[sweep->open[child]], &sweep->pool[last]))
            break;
        sweep->open[i] = sweep->open[child];
        i = child;
    }
    sweep->open[i] = last;
    return first;
}

static bool make_room(struct sweep *sweep) {
    if (sweep->count < sweep->room)
        return true;
    const size_t most = sweep->task->most;
    sweep->ranks->ended = sweep->room >= (most > 0 && most < SWEPT_MOST ? most : SWEPT_MOST);
    if (sweep->ranks->ended)
        return false;
    struct swept *pool = grow_list(sweep->pool, &sweep->room, sweep->count, sizeof *sweep->pool);
    sweep->ranks->failed = sweep->ranks->failed || !pool;
    sweep->pool = pool ? pool : sweep->pool;
    return pool != NULL;
}

void swept_trace(const struct sweep *sweep, const struct swept *swept, struct rank_turns *turns) {
    turns->count = 0;
    for (int rank = 0; rank < RANK_COUNT; rank++)
        for (const struct swept *own = swept; own->count > 0; own = &sweep->pool[own->before])
            if (own->turn.rank == rank)
                turns->list[turns->count++] = own->turn;
}

static bool agrees(const struct sweep *sweep, const struct swept *swept) {
    struct rank_turns turns;
    if (!sweep->task->agree)
        return true;
    swept_trace(sweep, swept, &turns);
    return sweep->task->agree(sweep->task->subject, &turns);
}

bool swept_keep(struct sweep *sweep, struct swept *swept, struct berth *berth) {
    struct bucket *const bucket = bucket_of(sweep, swept);
    const struct key key = key_of(swept, sweep->count);
    if (!mirror_follows(sweep, swept))
        return true;
    if (sweep->marks && berth)
        berth->mark = length_lesser(berth->mark, swept->turn.x);
    if (!is_new(sweep, swept, &key, bucket))
        return true;
    if (!agrees(sweep, swept))
        return false;
    drop_lesser(sweep, swept, &key, bucket);
    if (!make_room(sweep))
        return true;
    sweep->pool[sweep->count] = *swept;
    if (!add_key(bucket, &key) || !open_new(sweep, sweep->count++))
        sweep->ranks->failed = true;
    return true;
}

bool swept_begin(struct sweep *sweep) {
    sweep->bucket_count = sweep->ranks->states;
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++)
        sweep->bucket_count *= sweep->shapes;
    sweep->buckets = calloc(sweep->bucket_count, sizeof *sweep->buckets);
    return sweep->buckets != NULL;
}

void swept_end(struct sweep *sweep) {
    for (size_t i = 0; i < sweep->bucket_count && sweep->buckets; i++)
        free(sweep->buckets[i].list);
    free(sweep->buckets);
    free(sweep->pool);
    free(sweep->open);
}
