/* Where the brackets of a packing may be, for a sweep. */
#include "flanks.h"
#include "length.h"
#include "outlines.h"

#include <stdlib.h>

/* Up the slope a rank's places are looked at in bands from its far side on, what is left as one. */
enum { BANDS = 4 };
/* A sweep that may go through a few nodes only keeps so many, otherwise twice as many as nodes. */
enum { SWEPT_LEAST = 16000 };
#define BAND_LEAST 1.0 /* inches */

/* What a berth is made from. */
struct place {
    size_t class, spot;
    int rank;
    struct interval along;
};

static bool add_posture(const struct view *view, const struct place *place,
                        const struct posture *posture, struct notes notes[SIDE_COUNT],
                        struct berths *berths) {
    const struct ranking *ranking = view->ranking;
    const size_t c = place->class;
    const struct spot_list spots = ranking_spots(ranking, c);
    const struct spot *own = &spots.list[place->spot];
    const double y = place->rank == RANK_LOWER ? posture->up.lo : posture->up.hi;
    struct berth berth = {.from = place->along.lo,
                          .to = place->along.hi,
                          .edge =
                              place->rank == RANK_LOWER ? y + ranking->ranks.classes[c].height : y,
                          .y = y,
                          .tag = place->spot};
    const struct flank near = flank_of(view, c, own, posture, SIDE_NEAR),
                       far = flank_of(view, c, own, posture, SIDE_FAR);
    return notes_add(&notes[SIDE_NEAR], &near, &berth.near) &&
           notes_add(&notes[SIDE_FAR], &far, &berth.far) && berths_add(berths, &berth);
}

/* Places of a row's line that are told apart. */
struct lines {
    struct interval list[2 * LINE_STRIPS_MOST];
    size_t count;
};

static struct lines at_ends(const struct interval *strips, size_t count) {
    struct lines lines = {.count = count};
    const double last = strips[count - 1].hi;
    for (size_t i = 0; i < count; i++)
        lines.list[i] = (struct interval){strips[i].lo, strips[i].lo};
    if (last > strips[count - 1].lo + SAME)
        lines.list[lines.count++] = (struct interval){last, last};
    return lines;
}

static struct lines in_pieces(const struct interval *strips, size_t count) {
    struct lines lines = {.count = count};
    for (size_t i = 0; i < count; i++)
        lines.list[i] = strips[i];
    const double half = (strips[0].lo + strips[0].hi) / 2;
    if (count > 1 || strips[0].hi <= strips[0].lo + SAME)
        return lines;
    lines.list[0].hi = half;
    lines.list[lines.count++] = (struct interval){half, strips[0].hi};
    return lines;
}

/* LINED: the lower ends of strips and the uppermost one; CLOSE: strips, or the halves of the only
 * one; otherwise all as one. */
static struct lines lines_of(const struct view *view, const struct place *place, struct interval up,
                             int row) {
    const struct spot_list spots = ranking_spots(view->ranking, place->class);
    const struct spot *own = &spots.list[place->spot];
    struct interval strips[LINE_STRIPS_MOST];
    const size_t count = flank_lines(view, place->class, own, up, row, strips);
    if (view->ranking->how == RANKED_LINED)
        return at_ends(strips, count);
    if (view->ranking->how == RANKED_CLOSE)
        return in_pieces(strips, count);
    return (struct lines){.list = {{strips[0].lo, strips[count - 1].hi}}, .count = 1};
}

/* With the rows' lines wherever they are told apart. */
static bool add_lines(const struct view *view, const struct place *place, struct interval up,
                      struct notes notes[SIDE_COUNT], struct berths *berths) {
    const struct lines top = lines_of(view, place, up, ROW_TOP),
                       bottom = lines_of(view, place, up, ROW_BOTTOM);
    bool good = true;
    for (size_t i = 0; i < top.count; i++)
        for (size_t j = 0; j < bottom.count && good; j++) {
            const struct posture posture = {
                .up = up, .lines = {[ROW_TOP] = top.list[i], [ROW_BOTTOM] = bottom.list[j]}};
            good = add_posture(view, place, &posture, notes, berths);
        }
    return good;
}

/* Where some of a rank may be, up the slope: what is to be proved holds of all of the band. */
static bool add_band(const struct view *view, const struct place *place, struct interval band,
                     struct notes notes[SIDE_COUNT], struct berths *berths) {
    const double y = place->rank == RANK_LOWER ? band.lo : band.hi;
    return add_lines(view, place,
                     ranked_proves(view->ranking->how) ? band : (struct interval){y, y}, notes,
                     berths);
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
    return length_greater(ranked_proves(view->ranking->how)
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
        const struct place place = {c, i, rank, clip[ALONG]};
        for (size_t k = 0; k <= BANDS && good; k++) {
            const double from = k > 0 ? (double)k * step : -INFINITY,
                         to = k < BANDS ? (double)(k + 1) * step : INFINITY;
            struct interval band = rank == RANK_LOWER
                                       ? (struct interval){all.lo + from, all.lo + to}
                                       : (struct interval){all.hi - to, all.hi - from};
            band.lo = length_greater(band.lo, clip[UP].lo);
            band.hi = length_lesser(band.hi, clip[UP].hi);
            good = band.lo > band.hi || add_band(view, &place, band, notes, berths);
        }
    }
    return good;
}

static bool list_berths(const struct view *view, size_t c, int rank, struct notes notes[SIDE_COUNT],
                        struct berths *berths) {
    struct berths spots = {.list = NULL};
    const bool good =
        list_spots(view, c, rank, notes, &spots) &&
        outline_berths(&spots, rank, notes[SIDE_NEAR].flanks, notes[SIDE_FAR].flanks, berths);
    free(spots.list);
    return good;
}

/* Lists of a roomy roof take long. */
static bool late(struct ranks *ranks) {
    ranks->ended = ranks->ended || (ranks->stop && ranks->stop(ranks->subject));
    return ranks->ended;
}

static bool list_all(struct ranking *ranking, struct sweep_task *task) {
    const struct view view = view_of(ranking);
    struct notes notes[SIDE_COUNT] = {{.slots = NULL}};
    bool good = notes_begin(&task->near, &notes[SIDE_NEAR]);
    good = notes_begin(&task->far, &notes[SIDE_FAR]) && good;
    for (size_t c = 0; c < ranking->ranks.class_count && good && !late(&ranking->ranks); c++) {
        task->level[c] = ranking->packing->task->parcels[ranking->first[c]].level;
        for (size_t rank = 0; rank < ranking->ranks.ranks && good; rank++)
            good = list_berths(&view, c, (int)rank, notes, &task->berths[c][rank]);
    }
    task->beyond = 2 * view.beyond;
    free(notes[SIDE_NEAR].slots);
    free(notes[SIDE_FAR].slots);
    return good && !ranking->ranks.ended;
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
