/* A first packing, one bracket after the other: each as cheap as those before it leave it.  It is
 * mostly there at once, and bounds the search from above. */
#include "node.h"

#include "length.h"

#include <math.h>
#include <string.h>

/* So many brackets are done before anybody can look at a clock. */
enum { GREEDY_FEW = 8 };
/* How often they are placed in another order; seldom where they are so many that each time takes
 * long. */
enum { SQUEEZES_MOST = 64, SQUEEZES_CROWD = 8, CROWD = 24 };

/* In which order brackets are placed, how, and how many of them are. */
struct queue {
    size_t order[ROOF_BRACKETS_MOST];
    size_t placed;
    enum greed greed;
    bool again; /* one of many tries: it may be given up */
};

/* Places worth a look along one axis: nearest to the wish, also of those that lack least, and just
 * beside each bracket that stands already. */
struct tries {
    double at[4 * ROOF_BRACKETS_MOST + 2];
    size_t count;
};

static double nearest(const struct packing *packing, size_t b, struct interval within, int axis) {
    return length_greater(within.lo, length_lesser(within.hi, packing_want(packing, b, axis)));
}

/* An inch along the first axis counts more than all of the other one. */
#define FIRST 1e4

/* What a place along an axis costs: the way to the wish; or, where brackets are packed closely, the
 * way from the corner, first along one axis. */
static double price(const struct packing *packing, size_t b, int axis, double at,
                    enum greed greed) {
    if (greed == GREED_WISH)
        return fabs(at - packing_want(packing, b, axis));
    const bool first = (greed == GREED_ROWS) == (axis == UP);
    return at * (first ? FIRST : 1);
}

static void list_tries(const struct packing *packing, const struct queue *queue,
                       const struct places *places, size_t b, const struct spot *spot, int axis,
                       struct tries *tries) {
    const struct parcel *own = &packing->task->parcels[b];
    const struct interval side = packing_side(spot, axis);
    tries->count = 0;
    tries->at[tries->count++] =
        queue->greed == GREED_WISH ? nearest(packing, b, side, axis) : side.lo;
    if (spot->miss) {
        double least;
        const struct interval best = lack_best(spot->miss->held[axis], side, &least);
        tries->at[tries->count++] = nearest(packing, b, best, axis);
    }
    for (size_t i = 0; i < queue->placed; i++) {
        const size_t o = queue->order[i];
        const struct parcel *other = &packing->task->parcels[o];
        const double rooms[2] = {packing_room(packing, o, b, axis),
                                 packing_rather(packing, o, b, axis)};
        const double at = places->at[axis][o];
        for (int r = 0; r < (packing->task->misses ? 2 : 1); r++) {
            const double beside[2] = {at + (axis == ALONG ? other->width : other->height) +
                                          rooms[r],
                                      at - (axis == ALONG ? own->width : own->height) - rooms[r]};
            for (int k = 0; k < 2; k++)
                if (beside[k] >= side.lo && beside[k] <= side.hi)
                    tries->at[tries->count++] = beside[k];
        }
    }
}

/* Whether the bracket stands clear of all before it. */
static bool is_clear(const struct packing *packing, const struct queue *queue,
                     const struct places *places, size_t b) {
    for (size_t i = 0; i < queue->placed; i++) {
        const size_t o = queue->order[i];
        if (packing_overlap(packing, places, o, b) >
            SAME + packing_rather(packing, o, b, ALONG) - packing_room(packing, o, b, ALONG))
            return false;
    }
    return true;
}

/* What the bracket and its pairs with those before it lack. */
static double lack_of(const struct packing *packing, const struct queue *queue,
                      const struct places *places, size_t b, const struct spot *spot) {
    double sum =
        packing_lack(&packing->task->parcels[b], spot, places->at[ALONG][b], places->at[UP][b]);
    for (size_t i = 0; i < queue->placed && packing->task->misses; i++)
        sum += length_greater(0, packing_overlap(packing, places, queue->order[i], b)) / 2;
    return sum;
}

static bool crosses_placed(const struct packing *packing, const struct queue *queue,
                           const struct places *places, size_t b, const struct spot *spot) {
    for (size_t i = 0; i < queue->placed; i++)
        if (packing_crosses(packing, places, b, spot, queue->order[i]))
            return true;
    return false;
}

/* The best place of bracket b in one of its spots; *best is what it is worth so far. */
static void try_spot(const struct packing *packing, const struct queue *queue,
                     struct places *places, size_t b, size_t i, struct worth *best,
                     double found[AXIS_COUNT]) {
    const struct spot *spot = &packing->piles[b].spots[i];
    const double holes = packing->task->hole_worth * (double)spot->holes;
    struct tries tries[AXIS_COUNT];
    if (spot->miss && packing_least_lack(packing, b, spot) > best->lack + LACK_SAME)
        return;
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        list_tries(packing, queue, places, b, spot, axis, &tries[axis]);
    /* The first try along an axis is the cheapest. */
    const enum greed greed = queue->greed;
    const double up = price(packing, b, UP, tries[UP].at[0], greed);
    for (size_t x = 0; x < tries[ALONG].count; x++) {
        const double along = price(packing, b, ALONG, tries[ALONG].at[x], greed);
        if (!packing->task->misses && along + up + holes >= best->cost)
            continue;
        for (size_t y = 0; y < tries[UP].count; y++) {
            struct worth worth = {0, along + price(packing, b, UP, tries[UP].at[y], greed) + holes};
            if (!packing->task->misses && worth.cost >= best->cost)
                continue;
            places->at[ALONG][b] = tries[ALONG].at[x];
            places->at[UP][b] = tries[UP].at[y];
            worth.lack = lack_of(packing, queue, places, b, spot);
            if (!packing_better(worth, *best) || !is_clear(packing, queue, places, b) ||
                crosses_placed(packing, queue, places, b, spot))
                continue;
            *best = worth;
            found[ALONG] = places->at[ALONG][b];
            found[UP] = places->at[UP][b];
            places->spot[b] = i;
        }
    }
}

static bool stopped(const struct packing *packing) {
    const struct packing_task *task = packing->task;
    return task->stop && task->stop(task->subject);
}

/* Out of time: any place will do. */
static bool late(const struct packing *packing) {
    return packing->count > GREEDY_FEW && stopped(packing);
}

/* The bracket whose turn it is; false where it finds no place. */
static bool place_next(const struct packing *packing, const struct queue *queue,
                       struct places *places) {
    const size_t b = queue->order[queue->placed];
    struct worth best = {INFINITY, INFINITY};
    double found[AXIS_COUNT] = {0, 0};
    for (size_t i = 0; i < packing->piles[b].left; i++) {
        try_spot(packing, queue, places, b, i, &best, found);
        if (best.cost < INFINITY && late(packing))
            break;
    }
    places->at[ALONG][b] = found[ALONG];
    places->at[UP][b] = found[UP];
    return best.cost < INFINITY;
}

static bool place_all(const struct packing *packing, struct queue *queue, struct places *places) {
    for (queue->placed = 0; queue->placed < packing->count; queue->placed++)
        if ((queue->again && stopped(packing)) || !place_next(packing, queue, places))
            return false;
    return true;
}

static struct queue queue_of(const struct packing *packing, enum greed greed) {
    struct queue queue = {.greed = greed};
    for (size_t b = 0; b < packing->count; b++)
        queue.order[b] = b;
    return queue;
}

bool packing_greedy(const struct packing *packing, enum greed greed, struct places *places) {
    struct queue queue = queue_of(packing, greed);
    return place_all(packing, &queue, places);
}

/* Whoever found no place comes first from then on. */
static void move_forward(struct queue *queue) {
    const size_t stuck = queue->order[queue->placed];
    memmove(queue->order + 1, queue->order, queue->placed * sizeof *queue->order);
    queue->order[0] = stuck;
}

bool packing_squeeze(const struct packing *packing, struct places *places) {
    struct queue queues[] = {queue_of(packing, GREED_ROWS), queue_of(packing, GREED_COLUMNS)};
    const size_t kinds = sizeof queues / sizeof *queues;
    const size_t most = packing->count > CROWD ? SQUEEZES_CROWD : SQUEEZES_MOST;
    for (size_t i = 0; i < most && !stopped(packing); i++) {
        struct queue *queue = &queues[i % kinds];
        queue->again = true;
        if (place_all(packing, queue, places))
            return true;
        move_forward(queue);
    }
    return false;
}
