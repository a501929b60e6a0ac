#include "sweep.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>

enum { SWEPT_MOST = 200000, LOOK = 16, NOBODY = RANK_CLASSES_MOST };
/* Places are told apart from here on. */
#define SAME 1e-7
#define NONE SIZE_MAX

/* The last of a rank. */
struct last {
    double x, edge;          /* as of its berth, as are the next two */
    const struct flank *far; /* NULL: nobody */
    size_t class;            /* NOBODY: none, or one that all that is to come is clear of */
};

/* Some that stand. */
struct swept {
    struct last last[RANK_COUNT];
    size_t state;          /* how many of each class */
    size_t count;          /* in all */
    struct rank_turn turn; /* of the one that came last */
    size_t before;         /* all but that one, in the pool; NONE: it is the only one */
    double spent;          /* X of the last ones, together */
    bool lesser;           /* another one is as good */
};

/* What is compared of those with as many of each class, and last ones of the same sizes. */
struct key {
    double x[RANK_COUNT], edge[RANK_COUNT];
    const struct flank *far[RANK_COUNT];
    size_t at; /* in the pool */
};
struct bucket {
    struct key *list; /* owned */
    size_t count, room;
};

struct sweep {
    const struct sweep_task *task;
    struct ranks *ranks;
    size_t total;
    struct swept *pool; /* owned */
    size_t count, room;
    struct bucket *buckets; /* owned: by state and the shapes of the last */
    size_t bucket_count;
    size_t *open; /* owned: a heap of those to go on from, the most hopeful first */
    size_t open_count, open_room;
    double *up_to[RANK_CLASSES_MOST][RANK_COUNT]; /* owned: how far a berth or one before it goes */
    size_t shape[RANK_CLASSES_MOST + 1], shapes;  /* of classes of one size and level */
    double closest, furthest;                     /* of what two beside each other keep */
    double left[RANK_COUNT][ROOF_BRACKETS_MOST + 1]; /* up to where so many more may follow */
};

static const struct last nobody[RANK_COUNT] = {
    {.x = -INFINITY, .edge = -INFINITY, .class = NOBODY},
    {.x = -INFINITY, .edge = INFINITY, .class = NOBODY},
};

/* Whether an edge leaves as much room between the ranks as another one. */
static bool leaves(int rank, double edge, double than) {
    return rank == RANK_LOWER ? edge <= than : edge >= than;
}

static bool one_size(const struct sweep_task *task, size_t c, size_t d) {
    const struct ranks *ranks = task->ranks;
    bool same =
        ranks->classes[c].height == ranks->classes[d].height && task->level[c] == task->level[d];
    for (size_t o = 0; o < ranks->class_count && same; o++)
        same = ranks->behind[c][o].by == ranks->behind[d][o].by &&
               ranks->behind[o][c].by == ranks->behind[o][d].by &&
               ranks->over[c][o] == ranks->over[d][o] && ranks->over[o][c] == ranks->over[o][d];
    return same;
}

static void find_shapes(struct sweep *sweep) {
    const struct ranks *ranks = sweep->ranks;
    sweep->shape[NOBODY] = 0;
    sweep->shapes = 1;
    sweep->closest = INFINITY;
    for (size_t c = 0; c < ranks->class_count; c++) {
        size_t like = 0;
        while (like < c && !one_size(sweep->task, like, c))
            like++;
        sweep->shape[c] = like < c ? sweep->shape[like] : sweep->shapes++;
        for (size_t o = 0; o < ranks->class_count; o++) {
            sweep->closest = length_lesser(sweep->closest, ranks->behind[c][o].by);
            sweep->furthest =
                length_greater(sweep->furthest, ranks->behind[c][o].by + sweep->task->beyond);
        }
        sweep->total += ranks->classes[c].size;
    }
}

/* The furthest that one of any class can be, up to x; -INFINITY: none can. */
static double furthest_up_to(const struct sweep *sweep, size_t rank, double x) {
    double furthest = -INFINITY;
    for (size_t c = 0; c < sweep->ranks->class_count; c++) {
        const struct berths *berths = &sweep->task->berths[c][rank];
        for (size_t i = 0; i < berths->count && berths->list[i].from <= x; i++)
            furthest = length_greater(furthest, length_lesser(x, berths->list[i].to));
    }
    return furthest;
}

static void find_left(struct sweep *sweep) {
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++) {
        double x = INFINITY;
        for (size_t n = 1; n <= sweep->total; n++) {
            x = furthest_up_to(sweep, rank, x);
            sweep->left[rank][n] = x;
            x -= sweep->closest;
        }
    }
}

/* Whether the ranks have room for all that are to come. */
static bool room_for_rest(const struct sweep *sweep, const struct swept *swept) {
    const double order = length_greater(swept->last[RANK_LOWER].x, swept->last[RANK_UPPER].x);
    size_t more = 0;
    for (size_t rank = 0; rank < sweep->ranks->ranks; rank++) {
        const double from = length_greater(order, swept->last[rank].x + sweep->closest);
        size_t n = 0;
        while (n < sweep->total && sweep->left[rank][n + 1] >= from)
            n++;
        more += n;
    }
    return swept->count + more >= sweep->total;
}

static struct bucket *bucket_of(const struct sweep *sweep, const struct swept *swept) {
    const size_t lower = sweep->shape[swept->last[RANK_LOWER].class],
                 upper = sweep->shape[swept->last[RANK_UPPER].class];
    return &sweep->buckets[(swept->state * sweep->shapes + lower) * sweep->shapes + upper];
}

/* Whether one reaches nowhere further than another one. */
static bool flank_less(const struct flank *a, const struct flank *b) {
    for (size_t k = 0; k < FLANK_PARTS && a != b; k++) {
        const struct flank_part *one = &a->parts[k], *other = &b->parts[k];
        if (one->there && (!other->there || one->fixed > other->fixed || one->goes > other->goes ||
                           one->high > other->high || one->low < other->low))
            return false;
    }
    return true;
}

static bool as_good(const struct key *a, const struct key *b) {
    if (a->x[RANK_LOWER] > b->x[RANK_LOWER] || a->x[RANK_UPPER] > b->x[RANK_UPPER] ||
        !leaves(RANK_LOWER, a->edge[RANK_LOWER], b->edge[RANK_LOWER]) ||
        !leaves(RANK_UPPER, a->edge[RANK_UPPER], b->edge[RANK_UPPER]))
        return false;
    for (int rank = 0; rank < RANK_COUNT; rank++)
        if (a->far[rank] && !flank_less(a->far[rank], b->far[rank]))
            return false;
    return true;
}

/* Whether none that is known is as good; those that are no better than it are out. */
static bool is_new(struct sweep *sweep, const struct key *key, struct bucket *bucket) {
    for (size_t i = 0; i < bucket->count; i++)
        if (as_good(&bucket->list[i], key))
            return false;
    for (size_t i = 0; i < bucket->count;) {
        if (as_good(key, &bucket->list[i])) {
            sweep->pool[bucket->list[i].at].lesser = true;
            bucket->list[i] = bucket->list[--bucket->count];
        } else {
            i++;
        }
    }
    return true;
}

static bool add_key(struct bucket *bucket, const struct key *key) {
    if (bucket->count == bucket->room) {
        const size_t room = 2 * bucket->room + 4;
        struct key *larger = realloc(bucket->list, room * sizeof *larger);
        if (!larger)
            return false;
        bucket->list = larger;
        bucket->room = room;
    }
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
    if (sweep->open_count == sweep->open_room) {
        const size_t room = 2 * sweep->open_room + 256;
        size_t *larger = realloc(sweep->open, room * sizeof *larger);
        if (!larger)
            return false;
        sweep->open = larger;
        sweep->open_room = room;
    }
    size_t i = sweep->open_count++;
    for (; i > 0 && more_hopeful(&sweep->pool[made], &sweep->pool[sweep->open[(i - 1) / 2]]);
         i = (i - 1) / 2)
        sweep->open[i] = sweep->open[(i - 1) / 2];
    sweep->open[i] = made;
    return true;
}

static size_t take_open(struct sweep *sweep) {
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
    const size_t most = sweep->task->most, room = 2 * sweep->room + 256;
    sweep->ranks->ended = sweep->room >= (most > 0 && most < SWEPT_MOST ? most : SWEPT_MOST);
    struct swept *larger = sweep->ranks->ended ? NULL : realloc(sweep->pool, room * sizeof *larger);
    if (!larger) {
        sweep->ranks->failed = sweep->ranks->failed || !sweep->ranks->ended;
        return false;
    }
    sweep->pool = larger;
    sweep->room = room;
    return true;
}

static void keep(struct sweep *sweep, const struct swept *swept) {
    struct bucket *const bucket = bucket_of(sweep, swept);
    struct key key = {.at = sweep->count};
    for (int rank = 0; rank < RANK_COUNT; rank++) {
        key.x[rank] = swept->last[rank].x;
        key.edge[rank] = swept->last[rank].edge;
        key.far[rank] = swept->last[rank].far;
    }
    if (!is_new(sweep, &key, bucket) || !make_room(sweep))
        return;
    sweep->pool[sweep->count] = *swept;
    if (!add_key(bucket, &key) || !open_new(sweep, sweep->count++))
        sweep->ranks->failed = true;
}

/* The other rank's last is of no matter where all that are to come stand well beyond it. */
static void forget_far(const struct sweep *sweep, struct swept *swept, int rank) {
    const int other = RANK_UPPER - rank;
    if (swept->last[other].x + sweep->furthest <= swept->last[rank].x)
        swept->last[other] = nobody[other];
}

/* How far apart two parts have to be; -INFINITY: there is no rule. */
static double part_gap(size_t one, size_t other, double level) {
    const bool side = one == FLANK_SIDE || other == FLANK_SIDE,
               flashing = one >= FLANK_FLASHING && one < FLANK_SIDE,
               other_flashing = other >= FLANK_FLASHING && other < FLANK_SIDE;
    if (flashing != other_flashing || (one == FLANK_SIDE && other == FLANK_SIDE))
        return -INFINITY;
    return side ? level : 2 * level;
}

/* From which X on what a flank has is clear of a part of one that stands at `at`. */
static double clear_of_part(const struct flank_part *part, size_t kind, double at,
                            const struct flank *flank, double level, double x) {
    const double end = length_greater(part->fixed, at + part->goes);
    for (size_t k = 0; k < FLANK_PARTS; k++) {
        const struct flank_part *own = &flank->parts[k];
        const double gap = part_gap(kind, k, level), from = end + gap;
        if (!own->there || !(gap > -INFINITY) || own->low >= part->high + gap - SAME ||
            part->low >= own->high + gap - SAME)
            continue;
        x = own->fixed < from - SAME ? INFINITY : length_greater(x, from - own->goes);
    }
    return x;
}

/* From which X on one of a class in a berth stands beside the last of a rank. */
static double clear_of(const struct sweep *sweep, const struct last *last, size_t c,
                       const struct berth *berth, double x) {
    const struct sweep_task *task = sweep->task;
    if (last->class == NOBODY)
        return x;
    x = length_greater(x, last->x + sweep->ranks->behind[last->class][c].by);
    const double level = length_greater(task->level[last->class], task->level[c]);
    const struct flank *near = &task->near.list[berth->near];
    for (size_t k = 0; k < FLANK_PARTS && x < INFINITY; k++)
        if (last->far->parts[k].there)
            x = clear_of_part(&last->far->parts[k], k, last->x, near, level, x);
    return x;
}

/* Whether one in that berth is clear of the other rank's last wherever it is along the eave. */
static bool is_over(const struct ranks *ranks, const struct last *other, size_t c, int rank,
                    const struct berth *berth) {
    if (other->class == NOBODY)
        return true;
    return rank == RANK_LOWER ? berth->edge + ranks->over[c][other->class] <= other->edge
                              : other->edge + ranks->over[other->class][c] <= berth->edge;
}

/* The first berth before which none goes as far as x. */
static size_t first_up_to(const double *up_to, size_t count, double x) {
    size_t from = 0, to = count;
    while (from < to) {
        const size_t middle = from + (to - from) / 2;
        if (up_to[middle] < x)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

static double spent_by(const struct swept *swept) {
    const double lower = swept->last[RANK_LOWER].x, upper = swept->last[RANK_UPPER].x;
    return lower > -INFINITY && upper > -INFINITY ? lower + upper
                                                  : 2 * length_greater(lower, upper);
}

/* One more of a class in a rank, closest to those that stand. */
static void go_on(struct sweep *sweep, size_t from, size_t c, int rank) {
    const struct ranks *ranks = sweep->ranks;
    const struct berths *berths = &sweep->task->berths[c][rank];
    const struct swept before = sweep->pool[from]; /* the pool may move */
    const struct last *own = &before.last[rank], *other = &before.last[RANK_UPPER - rank];
    struct swept made = {.state = before.state + ranks->classes[c].stride,
                         .count = before.count + 1,
                         .before = from};
    double first = length_greater(own->x, other->x);
    if (own->class != NOBODY)
        first = length_greater(first, own->x + ranks->behind[own->class][c].by);
    made.last[RANK_UPPER - rank] = *other;
    for (size_t i = first_up_to(sweep->up_to[c][rank], berths->count, first); i < berths->count;
         i++) {
        const struct berth *berth = &berths->list[i];
        double x = length_greater(berth->from, first);
        made.last[rank] = (struct last){x, berth->edge, &sweep->task->far.list[berth->far], c};
        if (x > berth->to)
            continue;
        if (!room_for_rest(sweep, &made))
            return; /* those that follow are no closer */
        x = clear_of(sweep, own, c, berth, x);
        if (!is_over(ranks, other, c, rank, berth))
            x = clear_of(sweep, other, c, berth, x);
        made.last[rank].x = x;
        if (x > berth->to || !room_for_rest(sweep, &made))
            continue;
        made.turn = (struct rank_turn){c, berth->tag, x, berth->y, rank};
        forget_far(sweep, &made, rank);
        made.spent = spent_by(&made);
        keep(sweep, &made);
        made.last[RANK_UPPER - rank] = *other;
    }
}

static bool stopped(struct ranks *ranks) {
    const bool asked = ranks->stop && ++ranks->looks % LOOK == 0;
    ranks->ended = ranks->ended || (asked && ranks->stop(ranks->subject));
    return ranks->failed || ranks->ended;
}

/* Until all stand; NONE: they cannot. */
static size_t run(struct sweep *sweep) {
    const struct ranks *ranks = sweep->ranks;
    while (sweep->open_count > 0 && !stopped(sweep->ranks)) {
        const size_t i = take_open(sweep);
        if (sweep->pool[i].count == sweep->total)
            return i;
        for (size_t c = 0; c < ranks->class_count && !sweep->pool[i].lesser; c++)
            if (sweep->pool[i].state / ranks->classes[c].stride % (ranks->classes[c].size + 1) <
                ranks->classes[c].size)
                for (size_t rank = 0; rank < ranks->ranks; rank++)
                    go_on(sweep, i, c, (int)rank);
    }
    return NONE;
}

static void trace(const struct sweep *sweep, size_t all, struct rank_turns *turns) {
    turns->count = 0;
    for (int rank = 0; rank < RANK_COUNT; rank++)
        for (size_t i = all; sweep->pool[i].count > 0; i = sweep->pool[i].before)
            if (sweep->pool[i].turn.rank == rank)
                turns->list[turns->count++] = sweep->pool[i].turn;
}

/* False without memory. */
static bool find_up_to(struct sweep *sweep) {
    for (size_t c = 0; c < sweep->ranks->class_count; c++)
        for (size_t rank = 0; rank < sweep->ranks->ranks; rank++) {
            const struct berths *berths = &sweep->task->berths[c][rank];
            double *up_to = malloc((berths->count + 1) * sizeof *up_to), furthest = -INFINITY;
            sweep->up_to[c][rank] = up_to;
            for (size_t i = 0; i < berths->count && up_to; i++)
                up_to[i] = furthest = length_greater(furthest, berths->list[i].to);
            if (!up_to)
                return false;
        }
    return true;
}

bool sweep_find(const struct sweep_task *task, struct rank_turns *turns, bool *fits) {
    struct sweep sweep = {.task = task, .ranks = task->ranks};
    find_shapes(&sweep);
    find_left(&sweep);
    sweep.bucket_count = task->ranks->states * sweep.shapes * sweep.shapes;
    sweep.buckets = calloc(sweep.bucket_count, sizeof *sweep.buckets);
    task->ranks->failed = !sweep.buckets || !find_up_to(&sweep);
    if (!task->ranks->failed) {
        const struct swept nothing = {.last = {nobody[RANK_LOWER], nobody[RANK_UPPER]}};
        keep(&sweep, &nothing);
        const size_t all = run(&sweep);
        *fits = all != NONE;
        if (*fits)
            trace(&sweep, all, turns);
    }
    for (size_t i = 0; i < sweep.bucket_count && sweep.buckets; i++)
        free(sweep.buckets[i].list);
    free(sweep.buckets);
    free(sweep.pool);
    free(sweep.open);
    for (size_t c = 0; c < task->ranks->class_count; c++)
        for (int rank = 0; rank < RANK_COUNT; rank++)
            free(sweep.up_to[c][rank]);
    return !task->ranks->failed && !task->ranks->ended;
}
