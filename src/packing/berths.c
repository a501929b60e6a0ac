/* Where the brackets of a packing may be, for a sweep.  Of spots with the same flanks, the outline
 * is what matters: the side towards the other rank, by X. */
#include "flanks.h"
#include "length.h"

#include <stdlib.h>

/* Up the slope a rank's places are looked at in bands from its far side on, what is left as one. */
enum { BANDS = 4 };
/* A sweep that may go through a few nodes only keeps so many, otherwise twice as many as nodes. */
enum { SWEPT_LEAST = 16000 };
#define BAND_LEAST 1.0 /* inches */

static bool add_berth(struct berths *berths, const struct berth *berth) {
    if (berths->count == berths->room) {
        const size_t room = 2 * berths->room + 16;
        struct berth *larger = realloc(berths->list, room * sizeof *larger);
        if (!larger)
            return false;
        berths->list = larger;
        berths->room = room;
    }
    berths->list[berths->count++] = *berth;
    return true;
}

/* Where some of a rank may be, up the slope. */
static bool add_band(const struct view *view, size_t c, int rank, size_t spot,
                     const struct interval clip[AXIS_COUNT], struct interval band,
                     struct notes notes[SIDE_COUNT], struct berths *berths) {
    const struct spot_list spots = ranking_spots(view->ranking, c);
    const struct spot *own = &spots.list[spot];
    const double height = view->ranking->ranks.classes[c].height,
                 y = rank == RANK_LOWER ? band.lo : band.hi;
    const struct interval up = view->ranking->how == RANKED_LOOSE ? band : (struct interval){y, y};
    struct berth berth = {.from = clip[ALONG].lo,
                          .to = clip[ALONG].hi,
                          .edge = rank == RANK_LOWER ? y + height : y,
                          .y = y,
                          .tag = spot};
    const struct flank near = flank_of(view, c, own, up, SIDE_NEAR),
                       far = flank_of(view, c, own, up, SIDE_FAR);
    return notes_add(&notes[SIDE_NEAR], &near, &berth.near) &&
           notes_add(&notes[SIDE_FAR], &far, &berth.far) && add_berth(berths, &berth);
}

/* How high a band is.  Those that are not loose are at its beginning: then they had better be as
 * far apart as they can be with others above (below) them. */
static double band_of(const struct view *view, size_t c) {
    const struct ranks *ranks = &view->ranking->ranks;
    const struct rank_class *class = &ranks->classes[c];
    double room = 0;
    for (size_t o = 0; o < ranks->class_count; o++)
        room = length_greater(room, ranks->classes[o].up.hi - class->up.lo - class->height -
                                        ranks->over[c][o]);
    if (view->ranking->how == RANKED_APART || !view->minded || !(view->beyond > 0))
        return INFINITY;
    return length_greater(view->ranking->how == RANKED_LOOSE
                              ? length_lesser(view->passes, room / BANDS) - SAME
                              : room / BANDS,
                          BAND_LEAST);
}

/* The berths of a class in a rank. */
static bool list_spots(const struct view *view, size_t c, int rank, struct notes notes[SIDE_COUNT],
                       struct berths *berths) {
    const struct spot_list spots = ranking_spots(view->ranking, c);
    const struct interval all = view->ranking->ranks.classes[c].up;
    const double step = band_of(view, c);
    bool good = true;
    for (size_t i = 0; i < spots.count && good; i++) {
        struct interval clip[AXIS_COUNT];
        if (!ranking_clip(view->ranking, c, rank, &spots.list[i], clip))
            continue;
        for (size_t k = 0; k <= BANDS && good; k++) {
            const double from = k > 0 ? (double)k * step : -INFINITY,
                         to = k < BANDS ? (double)(k + 1) * step : INFINITY;
            struct interval band = rank == RANK_LOWER
                                       ? (struct interval){all.lo + from, all.lo + to}
                                       : (struct interval){all.hi - to, all.hi - from};
            band.lo = length_greater(band.lo, clip[UP].lo);
            band.hi = length_lesser(band.hi, clip[UP].hi);
            good = band.lo > band.hi || add_band(view, c, rank, i, clip, band, notes, berths);
        }
    }
    return good;
}

static int by_begin(const void *a, const void *b) {
    const struct berth *one = a, *other = b;
    return (one->from > other->from) - (one->from < other->from);
}

static int by_flanks(const void *a, const void *b) {
    const struct berth *one = a, *other = b;
    if (one->near != other->near)
        return one->near < other->near ? -1 : 1;
    if (one->far != other->far)
        return one->far < other->far ? -1 : 1;
    return by_begin(a, b);
}

/* What counts against an edge: the further towards the other rank, the more. */
static double price_of(int rank, const struct berth *berth) {
    return rank == RANK_LOWER ? berth->edge : -berth->edge;
}

/* The outline of some with the same flanks, behind others. */
static bool outline(const struct berth *some, size_t count, int rank, struct berths *berths) {
    struct pieces *many = calloc(count + 1, sizeof *many), least = {.list = NULL};
    bool good = many != NULL;
    size_t made = 0;
    while (made < count && good) {
        const double price = price_of(rank, &some[made]);
        good = pieces_add(&many[made],
                          (struct piece){some[made].from, some[made].to, price, price, made});
        made++;
    }
    good = many && pieces_least(many, made, &least) && good;
    for (size_t i = 0; i < least.count && good; i++) {
        struct berth berth = some[least.list[i].tag];
        berth.from = least.list[i].from;
        berth.to = least.list[i].to;
        good = add_berth(berths, &berth);
    }
    pieces_free(&least);
    free(many);
    return good;
}

static bool list_berths(const struct view *view, size_t c, int rank, struct notes notes[SIDE_COUNT],
                        struct berths *berths) {
    struct berths spots = {.list = NULL};
    bool good = list_spots(view, c, rank, notes, &spots);
    if (good && spots.count > 0)
        qsort(spots.list, spots.count, sizeof *spots.list, by_flanks);
    for (size_t from = 0, to = 0; from < spots.count && good; from = to) {
        while (to < spots.count && spots.list[to].near == spots.list[from].near &&
               spots.list[to].far == spots.list[from].far)
            to++;
        good = outline(&spots.list[from], to - from, rank, berths);
    }
    if (good && berths->count > 0)
        qsort(berths->list, berths->count, sizeof *berths->list, by_begin);
    free(spots.list);
    return good;
}

static bool list_all(struct ranking *ranking, struct sweep_task *task) {
    const struct view view = view_of(ranking);
    struct notes notes[SIDE_COUNT] = {{.slots = NULL}};
    bool good = notes_begin(&view, &task->near, &notes[SIDE_NEAR]);
    good = notes_begin(&view, &task->far, &notes[SIDE_FAR]) && good;
    for (size_t c = 0; c < ranking->ranks.class_count && good; c++) {
        task->level[c] = ranking->packing->task->parcels[ranking->first[c]].level;
        for (size_t rank = 0; rank < ranking->ranks.ranks && good; rank++)
            good = list_berths(&view, c, (int)rank, notes, &task->berths[c][rank]);
    }
    task->beyond = 2 * view.beyond;
    free(notes[SIDE_NEAR].slots);
    free(notes[SIDE_FAR].slots);
    return good;
}

bool ranking_sweep(struct ranking *ranking, struct rank_turns *turns, bool *fits) {
    struct sweep_task *task = calloc(1, sizeof *task);
    if (!task)
        return false;
    const size_t nodes = ranking->packing->task->most_nodes;
    task->ranks = &ranking->ranks;
    task->most = nodes > 0 && 2 * nodes < SWEPT_LEAST ? SWEPT_LEAST : 2 * nodes;
    const bool good = list_all(ranking, task) && sweep_find(task, turns, fits);
    for (size_t c = 0; c < ranking->ranks.class_count; c++)
        for (int rank = 0; rank < RANK_COUNT; rank++)
            free(task->berths[c][rank].list);
    free(task->near.list);
    free(task->far.list);
    free(task);
    return good;
}
