/* A packing's brackets in ranks: what each costs in its spots, by X. */
#include "ranked.h"

#include "length.h"
#include "ranking.h"

#include <math.h>
#include <stdlib.h>

/* What an inch of lack weighs here: of two packings that lack the same to 1e-6 none costs ten
 * inches more for it. */
#define RANK_LACK 1e7
/* Sums of places are as far off as this. */
#define ROUNDING 2e-9

static void add_bounds(struct interval *within, const struct spread *spread, size_t b) {
    within->lo = length_lesser(within->lo, spread->lo[b]);
    within->hi = length_greater(within->hi, spread->hi[b]);
}

/* Brackets that can be exchanged; otherwise each is a class of its own. */
static bool find_classes(struct ranking *ranking) {
    const struct packing *packing = ranking->packing;
    struct ranks *ranks = &ranking->ranks;
    for (size_t b = 0; b < packing->count; b++) {
        size_t c = 0;
        while (c < ranks->class_count && (!ranking->alike || ranking->first[c] != packing->twin[b]))
            c++;
        if (c == RANK_CLASSES_MOST)
            return false;
        if (c == ranks->class_count) {
            ranking->first[ranks->class_count++] = b;
            ranks->classes[c] = (struct rank_class){.height = packing_size(packing, b, UP),
                                                    .along = {INFINITY, -INFINITY},
                                                    .up = {INFINITY, -INFINITY}};
        }
        struct rank_class *class = &ranks->classes[c];
        ranking->class_of[b] = c;
        class->size++;
        add_bounds(&class->along, &packing->axes[ALONG], b);
        add_bounds(&class->up, &packing->axes[UP], b);
    }
    return true;
}

/* The gap that one of a class keeps from one of another, and what it had better keep. */
static struct interval room_of(const struct ranking *ranking, size_t c, size_t other, int axis) {
    const struct packing *packing = ranking->packing;
    const size_t a = ranking->first[c], b = ranking->first[other];
    const double own = packing->task->parcels[a].room;
    if (a == b)
        return (struct interval){own, own};
    return (struct interval){packing_room(packing, a, b, axis),
                             packing_rather(packing, a, b, axis)};
}

static void find_gaps(struct ranking *ranking) {
    const struct packing *packing = ranking->packing;
    struct ranks *ranks = &ranking->ranks;
    for (size_t c = 0; c < ranks->class_count; c++)
        for (size_t o = 0; o < ranks->class_count; o++) {
            const struct interval along = room_of(ranking, c, o, ALONG);
            const double width = packing_size(packing, ranking->first[c], ALONG);
            ranks->over[c][o] = room_of(ranking, c, o, UP).lo - ranking->closer;
            ranks->behind[c][o] =
                (struct behind){.by = width + along.lo - ranking->closer,
                                .rather = width + along.hi,
                                .weight = packing->task->misses ? RANK_LACK / 2 : 0};
        }
}

/* Those whose way is known. */
static void find_bars(struct ranking *ranking) {
    const struct packing *packing = ranking->packing;
    for (size_t a = 0; a < packing->count && !ranking->alike; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const enum way way = packing->ways[a][b];
            ranking->ranks.barred[a][b] = way != WAY_NONE && way != WAY_AFTER;
            ranking->ranks.barred[b][a] = way != WAY_NONE && way != WAY_BEFORE;
        }
}

struct spot_list ranking_spots(const struct ranking *ranking, size_t c) {
    const size_t b = ranking->first[c];
    const struct pile *pile = &ranking->packing->piles[b];
    const struct parcel *parcel = &ranking->packing->task->parcels[b];
    return ranking->alike ? (struct spot_list){parcel->spots, parcel->spot_count}
                          : (struct spot_list){pile->spots, pile->left};
}

bool ranking_clip(const struct ranking *ranking, size_t c, int rank, const struct spot *spot,
                  struct interval clip[AXIS_COUNT]) {
    const struct ranks *ranks = &ranking->ranks;
    const struct rank_class *class = &ranks->classes[c];
    for (int axis = 0; axis < AXIS_COUNT; axis++) {
        const struct interval side = packing_side(spot, axis),
                              within = axis == ALONG ? class->along : class->up;
        clip[axis] = (struct interval){length_greater(side.lo, within.lo),
                                       length_lesser(side.hi, within.hi)};
        if (clip[axis].lo > clip[axis].hi && clip[axis].lo < clip[axis].hi + 2 * SAME)
            clip[axis].lo = clip[axis].hi = (clip[axis].lo + clip[axis].hi) / 2;
    }
    if (ranks->ranks > 1) {
        clip[UP].lo = length_greater(clip[UP].lo, class->part[rank].lo);
        clip[UP].hi = length_lesser(clip[UP].hi, class->part[rank].hi);
    }
    return clip[ALONG].lo <= clip[ALONG].hi && clip[UP].lo <= clip[UP].hi;
}

/* What a bracket is worth in a spot beside what X makes of it. */
static struct worth worth_up(const struct packing *packing, size_t b, const struct spot *spot,
                             struct interval up, double *y) {
    struct worth worth = {0, packing->task->hole_worth * (double)spot->holes};
    const double want = packing_want(packing, b, UP);
    const struct interval best = spot->miss ? lack_best(spot->miss->held[UP], up, &worth.lack) : up;
    *y = length_greater(best.lo, length_lesser(best.hi, want));
    worth.cost += fabs(*y - want);
    return worth;
}

static double price(const struct ranking *ranking, size_t c, int rank, const struct spot *spot,
                    struct interval up) {
    const struct packing *packing = ranking->packing;
    const struct rank_class *class = &ranking->ranks.classes[c];
    if (packing->task->any) /* the further they keep from the other rank, the better */
        return rank == RANK_UPPER ? class->up.hi - up.hi : up.lo - class->up.lo;
    double y;
    const struct worth worth = worth_up(packing, ranking->first[c], spot, up, &y);
    return RANK_LACK * worth.lack + worth.cost;
}

static bool add_spot(const struct spot *spot, struct interval along, double price, size_t tag,
                     struct pieces *chain) {
    const struct lack *lack = spot->miss ? spot->miss->held[ALONG] : NULL;
    if (!lack || lack->count == 0) {
        const double value = price + (lack ? RANK_LACK * lack->base : 0);
        return pieces_add(chain, (struct piece){along.lo, along.hi, value, value, tag});
    }
    return pieces_add_lack(chain, lack, along, (struct scale){RANK_LACK, price}, tag);
}

/* What a bracket of a class costs in a rank, by X. */
static bool find_costs(struct ranking *ranking, size_t c, int rank) {
    const struct packing *packing = ranking->packing;
    const struct spot_list spots = ranking_spots(ranking, c);
    struct pieces *costs = &ranking->ranks.classes[c].costs[rank];
    struct pieces *many = calloc(spots.count + 1, sizeof *many);
    size_t count = 0;
    bool good = many != NULL;
    for (size_t i = 0; i < spots.count && good; i++) {
        const struct spot *spot = &spots.list[i];
        struct interval clip[AXIS_COUNT];
        if (ranking_clip(ranking, c, rank, spot, clip))
            good = add_spot(spot, clip[ALONG], price(ranking, c, rank, spot, clip[UP]), i,
                            &many[count++]);
    }
    if (many)
        good = pieces_least(many, count, costs) && good;
    free(many);
    return good && (packing->task->any ||
                    pieces_add_way(costs, packing_want(packing, ranking->first[c], ALONG)));
}

/* What a bracket comes to on its turn, and with the one behind it. */
static void add_worth(const struct ranking *ranking, const struct rank_turn *turn,
                      const struct rank_turn *behind, double *y, struct worth *worth) {
    const struct packing *packing = ranking->packing;
    const size_t b = ranking->first[turn->class];
    const struct spot_list spots = ranking_spots(ranking, turn->class);
    const struct spot *spot = &spots.list[turn->tag];
    struct interval clip[AXIS_COUNT];
    ranking_clip(ranking, turn->class, turn->rank, spot, clip);
    const struct worth up = worth_up(packing, b, spot, clip[UP], y);
    if (packing->task->any)
        *y = isnan(turn->y) ? (turn->rank == RANK_UPPER ? clip[UP].hi : clip[UP].lo) : turn->y;
    worth->lack += up.lack + (spot->miss ? lack_at(spot->miss->held[ALONG], turn->x) : 0);
    worth->cost += up.cost + fabs(turn->x - packing_want(packing, b, ALONG));
    if (!behind || behind->rank != turn->rank)
        return;
    const struct behind *apart = &ranking->ranks.behind[turn->class][behind->class];
    worth->lack +=
        apart->weight / RANK_LACK * length_greater(0, apart->rather - (behind->x - turn->x));
}

/* Which of the spots that a bracket has left that is; NO_SPOT: none. */
static size_t find_spot(const struct pile *pile, const struct spot *spot) {
    for (size_t i = 0; i < pile->left; i++) {
        const struct spot *own = &pile->spots[i];
        if (own->stand == spot->stand && own->miss == spot->miss && own->holes == spot->holes &&
            length_same(own->x.lo, spot->x.lo) && length_same(own->x.hi, spot->x.hi) &&
            length_same(own->y.lo, spot->y.lo) && length_same(own->y.hi, spot->y.hi))
            return i;
    }
    return NO_SPOT;
}

/* A turn and where it is up the slope. */
struct seat {
    struct rank_turn turn;
    double y;
};

static int by_place(const void *a, const void *b) {
    const struct seat *one = a, *other = b;
    return (one->turn.x > other->turn.x) - (one->turn.x < other->turn.x);
}

/* Who of a class stands where: in their order along the eave.  False where one of them has another
 * one's spot no more. */
static bool hand_out(const struct ranking *ranking, struct seat *seats, size_t count,
                     struct places *places) {
    const struct packing *packing = ranking->packing;
    bool taken[ROOF_BRACKETS_MOST] = {false}, good = true;
    qsort(seats, count, sizeof *seats, by_place);
    for (size_t i = 0; i < count; i++) {
        const struct rank_turn *turn = &seats[i].turn;
        size_t b = 0;
        while (taken[b] || ranking->class_of[b] != turn->class)
            b++;
        taken[b] = true;
        places->at[ALONG][b] = turn->x;
        places->at[UP][b] = seats[i].y;
        places->spot[b] = ranking->alike
                              ? find_spot(&packing->piles[b],
                                          &ranking_spots(ranking, turn->class).list[turn->tag])
                              : turn->tag;
        good = good && places->spot[b] != NO_SPOT;
    }
    return good;
}

static enum ranked_end conclude(const struct ranking *ranking, const struct rank_turns *turns,
                                struct places *places) {
    struct seat seats[ROOF_BRACKETS_MOST] = {{.y = 0}};
    places->worth = (struct worth){0, 0};
    places->bounds = true;
    for (size_t i = 0; i < turns->count; i++) {
        seats[i].turn = turns->list[i];
        add_worth(ranking, &turns->list[i], i > 0 ? &turns->list[i - 1] : NULL, &seats[i].y,
                  &places->worth);
    }
    return hand_out(ranking, seats, turns->count, places) ? RANKED_BOUND : RANKED_SILENT;
}

/* The best of each rank, whatever the other does; false where that came to no end. */
static bool run_ranks(struct ranking *ranking, struct rank_turns *turns, bool *fits) {
    struct ranks *ranks = &ranking->ranks;
    for (size_t c = 0; c < ranks->class_count && !ranks->failed; c++)
        for (size_t rank = 0; rank < ranks->ranks && !ranks->failed; rank++)
            ranks->failed = !find_costs(ranking, c, (int)rank);
    if (ranks->failed || !ranks_run(ranks))
        return false;
    *fits = ranks_least(ranks, turns) < INFINITY;
    return true;
}

static bool try_turns(void *subject, const struct rank_turns *turns) {
    struct ranking *ranking = subject;
    struct places places;
    return conclude(ranking, turns, &places) == RANKED_BOUND &&
           ranking->take(ranking->packing, &places);
}

static enum ranked_end run(struct ranking *ranking, struct places *places) {
    const struct trial trial = {ranking->take ? try_turns : NULL, ranking};
    struct rank_turns turns;
    bool fits = false;
    enum ranked_end end = RANKED_SILENT;
    if (ranking->alike)
        end = ranking_sweep(ranking, &trial);
    if (end != RANKED_SILENT || ranking->how != RANKED_BARE || ranking->ranks.failed ||
        ranking->ranks.ranks > RANKS_COSTED)
        return end;
    ranking->ranks.ended = false;
    if (!run_ranks(ranking, &turns, &fits))
        return RANKED_SILENT;
    return fits ? conclude(ranking, &turns, places) : RANKED_NONE;
}

/* What a ranking is asked. */
struct asked {
    bool alike;
    double closer;
    enum ranked_how how;
    ranked_take *take;
};

static enum ranked_end rank_all(struct packing *packing, const struct asked *asked,
                                struct places *places) {
    enum ranked_end end = RANKED_SILENT;
    struct ranking *ranking = calloc(1, sizeof *ranking);
    if (!ranking) {
        packing->failed = packing->stopped = true;
        return end;
    }
    struct ranks *ranks = &ranking->ranks;
    ranking->packing = packing;
    ranking->alike = asked->alike;
    ranking->closer = asked->closer;
    ranking->how = asked->how;
    ranking->take = asked->take;
    ranks->stop = packing->task->stop;
    ranks->subject = packing->task->subject;
    if (find_classes(ranking)) {
        find_gaps(ranking);
        find_bars(ranking);
        if (ranks_begin(ranks))
            end = run(ranking, places);
    }
    packing->failed = packing->failed || ranks->failed;
    packing->stopped = packing->stopped || ranks->failed;
    ranks_free(ranks);
    free(ranking);
    return end;
}

enum ranked_end packing_swept(struct packing *packing, enum ranked_how how, ranked_take *take) {
    struct places places;
    struct asked asked = {.alike = true, .how = how, .take = take};
    /* What is found had better need no roundings; there is none only where they do not help. */
    asked.closer = ranked_proves(how) ? SAME : 0;
    const enum ranked_end end = rank_all(packing, &asked, &places);
    if (end != RANKED_NONE || ranked_proves(how) || packing->task->parcels[0].arms)
        return end;
    asked.closer = ROUNDING;
    return rank_all(packing, &asked, &places);
}

enum ranked_end packing_ranked(struct packing *packing, struct places *places) {
    struct asked asked = {.closer = ROUNDING, .how = RANKED_BARE};
    const enum ranked_end end = rank_all(packing, &asked, places);
    if (end != RANKED_NONE)
        return end;
    /* A larger rounding than that may be in the way of the best. */
    asked.closer = SAME;
    return rank_all(packing, &asked, places) == RANKED_NONE ? RANKED_NONE : RANKED_SILENT;
}
