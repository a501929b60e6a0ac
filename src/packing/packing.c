/* Branch and bound.  A node knows, of some pairs, which of four ways they are apart, and of every
 * bracket, which spots are left.  Two bounds hold there: each bracket on its own best spot; and all
 * of them in their orders, each anywhere between the outermost of its spots.  Where the brackets
 * that a bound puts somewhere do not get in each other's way and stand in spots, they are the best
 * packing of the node; otherwise what they violate is what the node is split by: a pair by its four
 * ways, a bracket's spots into those that reach over its place along the eave (up the slope) and
 * the others, or by their holes. */
#include "packing.h"

#include "node.h"
#include "ranked.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FEW = 8, GLANCE = 256, MANY = 12, CLOSE = 16, RANKED_MOST = 10 };
enum { ASKED_FIRST = 32, ASKED_SHARE = 3, ASKED_SELDOM = 32 };

/* A packing that is better by less than this is not looked for. */
#define WORTH 1e-6

/* Of the pairs that are in each other's way, one with the fewest ways out, the deepest of them;
 * false where none is. */
static bool find_clash(const struct packing *packing, const struct places *places, size_t pair[2]) {
    double worst = SAME;
    size_t fewest = SIZE_MAX;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const double deep = packing_overlap(packing, places, a, b);
            if (deep <= SAME || packing->ways[a][b] != WAY_NONE)
                continue;
            const size_t ways = packing_ways(packing, a, b, &(enum way){WAY_NONE});
            if (ways > fewest || (ways == fewest && deep <= worst))
                continue;
            fewest = ways;
            worst = deep;
            pair[0] = a;
            pair[1] = b;
        }
    return fewest < SIZE_MAX;
}

/* Whether every pair stands as its order asks. */
static bool orders_hold(const struct packing *packing, const struct places *places) {
    for (int axis = 0; axis < AXIS_COUNT; axis++)
        for (size_t i = 0; i < packing->axes[axis].order_count; i++) {
            const struct order *order = &packing->axes[axis].orders[i];
            if (places->at[axis][order->after] - places->at[axis][order->before] < order->by - SAME)
                return false;
        }
    return true;
}

static struct worth worth_of(const struct packing *packing, const struct places *places) {
    struct worth worth = {0, 0};
    if (packing->task->misses)
        worth.lack = packing_pairs_lack(packing, places) + packing_arms_lack(packing, places);
    for (size_t b = 0; b < packing->count; b++) {
        const struct spot *spot = &packing->piles[b].spots[places->spot[b]];
        const double x = places->at[ALONG][b], y = places->at[UP][b];
        worth.lack += packing_lack(&packing->task->parcels[b], spot, x, y);
        worth.cost += fabs(x - packing_want(packing, b, ALONG)) +
                      fabs(y - packing_want(packing, b, UP)) +
                      packing->task->hole_worth * (double)spot->holes;
    }
    return worth;
}

/* A packing: all brackets stand in spots and apart.  Where any will do, it is one with lines that
 * agree; the cheapest is taken first, and read. */
static void take(struct packing *packing, const struct places *places) {
    if (packing->task->any && !packing_agrees(packing, places)) {
        packing_leave(packing, places);
        return;
    }
    const struct worth worth = worth_of(packing, places);
    if (packing->bettered && !packing_better(worth, packing->best_worth))
        return;
    packing->found = packing->bettered = true;
    packing->best_worth = worth;
    for (size_t b = 0; b < packing->count; b++)
        packing->best[b] = (struct placed){.x = places->at[ALONG][b],
                                           .y = places->at[UP][b],
                                           .spot = packing->piles[b].spots[places->spot[b]]};
}

bool packing_over(struct packing *packing) {
    const struct packing_task *task = packing->task;
    const size_t often = packing->count > MANY ? 1 : PACKING_LOOK; /* nodes of many take long */
    if (task->stop && packing->nodes % often == 0 && task->stop(task->subject))
        packing->stopped = true;
    if (task->any && packing->nodes > packing->most_nodes && packing->most_nodes > 0)
        packing->stopped = true;
    return packing->stopped || (task->any && packing->found);
}

void packing_leave(struct packing *packing, const struct places *places) {
    const struct worth bound =
        places && places->bounds ? places->worth : (struct worth){-INFINITY, -INFINITY};
    if (!packing->loose || packing_better(bound, packing->loose_at))
        packing->loose_at = bound;
    packing->loose = true;
}

static bool hopeless(const struct packing *packing, const struct places *places) {
    const struct worth *best = &packing->best_worth, *bound = &places->worth;
    if (!packing->bettered || packing->task->any || !places->bounds)
        return false;
    return bound->lack > best->lack + LACK_SAME ||
           (bound->lack > best->lack - LACK_SAME && bound->cost > best->cost - WORTH);
}

/* Whether the places are worth what the bound says. */
static bool as_good_as_bound(const struct packing *packing, const struct places *places) {
    return !packing->task->misses ||
           worth_of(packing, places).lack <= places->worth.lack + LACK_SAME / 2;
}

static void place_alone(struct packing *packing, struct places *places) {
    if (packing->task->misses)
        packing_place_missing(packing, places);
    else
        packing_place_alone(packing, places);
}

/* The best packing in those very spots: ranks leave brackets closer than they may be by a rounding.
 */
static void search_spots(struct packing *packing, const struct places *places) {
    const struct spot *lists[ROOF_BRACKETS_MOST];
    struct kept kept;
    if (!packing_keep(packing, &kept))
        return;
    for (size_t b = 0; b < packing->count; b++) {
        struct pile *pile = &packing->piles[b];
        lists[b] = pile->spots;
        pile->spots += places->spot[b]; /* the only one that is left is never put elsewhere */
        pile->left = 1;
    }
    packing->plain = true;
    packing_search(packing);
    packing->plain = false;
    for (size_t b = 0; b < packing->count; b++)
        packing->piles[b].spots = lists[b];
    packing_put_back(packing, &kept);
    packing_release(&kept);
}

/* Nothing is worth more than what was found. */
static bool reached(const struct packing *packing, const struct worth *bound) {
    return packing->found && packing->best_worth.lack <= bound->lack + LACK_SAME / 2 &&
           packing->best_worth.cost <= bound->cost + WORTH;
}

/* What can be said of brackets in ranks; true: that is all there is to a node. */
static bool search_ranked(struct packing *packing) {
    struct places places;
    size_t pair[2] = {0, 0};
    struct crossing crossing;
    const enum ranked_end end = packing_ranked(packing, &places);
    packing->asked++;
    if (end == RANKED_NONE || (end == RANKED_BOUND && hopeless(packing, &places))) {
        packing->told++;
        return true;
    }
    if (end == RANKED_SILENT)
        return false;
    if (find_clash(packing, &places, pair)) {
        packing_split_pair(packing, &places, pair);
        return true;
    }
    if (!orders_hold(packing, &places) || packing_crossed(packing, &places, &crossing))
        return false;
    search_spots(packing, &places);
    return packing->task->any ? packing->found : reached(packing, &places.worth);
}

/* Ranks take as long as many a node; where they seldom end one, they are asked now and then. */
static bool ask_ranks(const struct packing *packing) {
    return !packing->plain && packing->count <= RANKED_MOST && packing->task->misses &&
           (packing->asked < ASKED_FIRST || packing->told * ASKED_SHARE >= packing->asked ||
            packing->nodes % ASKED_SELDOM == 0);
}

void packing_search(struct packing *packing) {
    struct places places;
    size_t pair[2] = {0, 0};
    struct crossing crossing;
    packing->nodes++;
    if (packing_over(packing) || !packing_narrow(packing))
        return;
    if (ask_ranks(packing) && search_ranked(packing))
        return;
    place_alone(packing, &places);
    if (hopeless(packing, &places))
        return;
    if (find_clash(packing, &places, pair)) {
        packing_split_pair(packing, &places, pair);
        return;
    }
    if (orders_hold(packing, &places) && !packing_crossed(packing, &places, &crossing)) {
        take(packing, &places);
        if (as_good_as_bound(packing, &places))
            return;
    }
    packing_place_in_order(packing, &places);
    if (hopeless(packing, &places))
        return;
    if (find_clash(packing, &places, pair)) {
        packing_split_pair(packing, &places, pair);
        return;
    }
    bool all_in_spots = true;
    for (size_t b = 0; b < packing->count; b++)
        all_in_spots = all_in_spots && places.spot[b] != NO_SPOT;
    if (all_in_spots && packing_crossed(packing, &places, &crossing)) {
        packing_split_crossing(packing, &places, &crossing);
        return;
    }
    if (all_in_spots)
        take(packing, &places);
    if (all_in_spots && packing->task->misses && packing_lacking(packing, &places, &crossing) &&
        packing_split_lacking(packing, &places, &crossing))
        return;
    if (packing_split_spots(packing, &places) || !all_in_spots ||
        as_good_as_bound(packing, &places) || packing_split_misses(packing, &places))
        return;
    packing_leave(packing, &places);
}

static bool same_arms(const struct parcel *a, const struct parcel *b) {
    return (a->arms ? a->arms->list : NULL) == (b->arms ? b->arms->list : NULL);
}

/* Where any packing will do, brackets that can be exchanged stand in their order along the eave. */
static void begin_twins(struct packing *packing) {
    size_t last[ROOF_BRACKETS_MOST]; /* of those that can be exchanged for the same one */
    for (size_t b = 0; b < packing->count; b++) {
        const struct parcel *own = &packing->task->parcels[b];
        packing->twin[b] = last[b] = b;
        const bool alike = packing->task->any && !packing->task->wider;
        for (size_t a = 0; a < b && packing->twin[b] == b && alike; a++) {
            const struct parcel *other = &packing->task->parcels[a];
            if (own->spots == other->spots && own->spot_count == other->spot_count &&
                own->width == other->width && own->height == other->height &&
                own->room == other->room && same_arms(own, other))
                packing->twin[b] = packing->twin[a];
        }
        const size_t first = packing->twin[b];
        if (first == b)
            continue;
        struct spread *along = &packing->axes[ALONG];
        along->orders[along->order_count++] = (struct order){.before = last[first], .after = b};
        last[first] = b;
    }
}

/* Nothing is settled, found or counted.  Only what there are brackets for is set: there is room for
 * far more, and packings are many. */
static void clear(struct packing *packing) {
    packing->settled_count = packing->parted_count = 0;
    packing->best_worth = (struct worth){0, 0};
    packing->found = packing->stopped = packing->failed = packing->bettered = false;
    packing->plain = packing->loose = false;
    packing->asked = packing->told = packing->nodes = 0;
    packing->most_nodes = packing->task->most_nodes;
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        packing->axes[axis].count = packing->count;
        packing->axes[axis].order_count = 0;
    }
    for (size_t b = 0; b < packing->count; b++) {
        packing->piles[b] = (struct pile){.spots = NULL};
        packing->clipped[b] = (struct clipped){.left = 0};
        memset(packing->ways[b], 0, packing->count * sizeof *packing->ways[b]);
    }
}

bool packing_begin(struct packing *packing, const struct packing_task *task,
                   struct placed *placed) {
    packing->task = task;
    packing->count = task->count;
    packing->best = placed;
    clear(packing);
    if (task->than) {
        packing->bettered = true;
        packing->best_worth = *task->than;
    }
    for (size_t b = 0; b < task->count; b++) {
        const struct parcel *parcel = &task->parcels[b];
        struct pile *pile = &packing->piles[b];
        pile->spots = parcel->spots;
        pile->lacks = task->misses ? malloc((parcel->spot_count + 1) * sizeof *pile->lacks) : NULL;
        if (task->misses && !pile->lacks)
            return false;
        pile->left = parcel->spot_count;
        for (int axis = 0; axis < AXIS_COUNT; axis++) {
            packing->axes[axis].lo[b] = -ROOF_ENDLESS;
            packing->axes[axis].hi[b] = ROOF_ENDLESS;
            packing->axes[axis].want[b] = packing_want(packing, b, axis);
        }
    }
    begin_twins(packing);
    return true;
}

/* Brackets where a sweep has them, if that is a packing; once they stand clear of each other along
 * the eave, wherever up the slope they do. */
static bool take_swept(struct packing *packing, struct places *places) {
    size_t pair[2];
    struct crossing crossing;
    if (!orders_hold(packing, places))
        return false;
    if (!find_clash(packing, places, pair) && !packing_crossed(packing, places, &crossing))
        search_spots(packing, places);
    if (!packing->found && packing->task->parcels[0].arms && packing_agree_up(packing, places))
        take(packing, places);
    return packing->found;
}

/* Any packing, or that there is none; true: that is all there is to say. */
static bool swept_root(struct packing *packing) {
    static const enum ranked_how ways[] = {RANKED_BOXED, RANKED_APART, RANKED_LOOSE};
    const bool arms = packing->task->parcels[0].arms != NULL;
    const enum ranked_end bare = packing_swept(packing, RANKED_BARE, arms ? take_swept : NULL);
    if (bare == RANKED_NONE)
        return true;
    /* Without arms APART is all there is to say, and keeps gaps in full. */
    if (!arms && bare == RANKED_BOUND)
        packing_swept(packing, RANKED_APART, take_swept);
    for (size_t i = 0;
         i < sizeof ways / sizeof *ways && arms && !packing->found && !packing->stopped; i++)
        if (packing_swept(packing, ways[i], take_swept) == RANKED_NONE && ranked_proves(ways[i]))
            return true;
    /* Where ranks fit a search of nodes takes long to find more than that. */
    const bool enough = packing->task->hasty && arms && bare == RANKED_BOUND && !packing->found;
    packing->stopped = packing->stopped || enough;
    return packing->found || enough;
}

/* A few nodes first: of a few brackets most packings are found within them; true: that is all there
 * is to say. */
static bool glance(struct packing *packing) {
    const size_t most = packing->task->most_nodes;
    packing->most_nodes = most > 0 && most < GLANCE ? most : GLANCE;
    packing_search(packing);
    const bool all = packing->found || !packing->stopped || packing->failed;
    packing->most_nodes = most;
    packing->stopped = packing->failed;
    packing->nodes = 0;
    return all;
}

/* The best of ranks before the first node: *bound is raised.  True: nothing packs. */
static bool ranked_root(struct packing *packing, struct worth *bound) {
    struct places places;
    const enum ranked_end end =
        packing->count <= RANKED_MOST ? packing_ranked(packing, &places) : RANKED_SILENT;
    if (end == RANKED_BOUND && packing_better(*bound, places.worth))
        *bound = places.worth;
    return end == RANKED_NONE;
}

static void squeeze(struct packing *packing) {
    struct places places;
    if (packing_squeeze(packing, &places))
        take(packing, &places);
}

static void search_root(struct packing *packing, struct worth *bound) {
    struct places places;
    const bool any = packing->task->any;
    place_alone(packing, &places);
    *bound = places.worth;
    if (any && packing->count <= FEW && glance(packing))
        return;
    if (any ? swept_root(packing) : ranked_root(packing, bound))
        return;
    /* Of a few the search soon finds better ones than those close to a corner. */
    const int last = packing->count > CLOSE ? GREED_COLUMNS : GREED_WISH;
    for (int greed = GREED_WISH; greed <= last && !packing->found; greed++)
        if (packing_greedy(packing, (enum greed)greed, &places))
            take(packing, &places);
    const bool squeezed = any && !packing->found && packing->count > FEW;
    if (squeezed)
        squeeze(packing);
    packing_search(packing);
    if (any && packing->stopped && !packing->found && !squeezed)
        squeeze(packing);
}

void packing_end(struct packing *packing) {
    for (size_t b = 0; b < packing->count; b++) {
        free(packing->piles[b].own);
        free(packing->piles[b].lacks);
    }
}

enum outcome packing_find(const struct packing_task *task, enum packing_end *end,
                          struct placed *placed, struct worth *worth, struct worth *bound) {
    struct packing *packing = malloc(sizeof *packing);
    if (!packing)
        return OUTCOME_FAULT;
    const bool good = packing_begin(packing, task, placed);
    if (good) {
        *bound = (struct worth){INFINITY, INFINITY};
        if (packing_narrow(packing) && !packing_too_many(packing))
            search_root(packing, bound);
        if (packing->found)
            packing_clear_lines(task, placed);
        *worth = packing->best_worth;
        const bool open =
            packing->loose && !(packing->found && !packing_better(packing->loose_at, *worth));
        const bool cut_short = packing->stopped || open;
        *end = packing->found ? (cut_short && !task->any ? PACKING_FOUND : PACKING_PROVED)
                              : (cut_short ? PACKING_UNDECIDED : PACKING_NONE);
        if (*end == PACKING_PROVED && !task->any)
            *bound = *worth;
    }
    const bool failed = packing->failed;
    packing_end(packing);
    free(packing);
    return good && !failed ? OUTCOME_DONE : OUTCOME_FAULT;
}
