/* Where the brackets of a packing may be, for a sweep. */
#include "length.h"
#include "look.h"
#include "outlines.h"

#include <math.h>
#include <stdlib.h>

/* Lists of a roomy roof take long: every so many it is seen whether it is late, and every so many
 * that need not be kept only those are that matter. */
enum { LOOK = 4096, KEPT_MOST = 1 << 16 };

bool look_late(struct ranks *ranks) {
    ranks->ended = ranks->ended || (ranks->stop && ranks->stop(ranks->subject));
    return ranks->ended;
}

/* What it reaches, in the notes.  As one all along the slope that is the same for all Y of a stand,
 * which come one after the other. */
static bool note_flanks(const struct look *look, size_t c, const struct post *post,
                        struct notes notes[SIDE_COUNT], struct berth *berth,
                        const struct berth *last) {
    const struct spot *spots = ranking_spots(look->view.ranking, c).list,
                      *spot = &spots[post->spot];
    if (last && look->view.ranking->how == RANKED_BOXED && spots[last->tag].stand == spot->stand &&
        spots[last->tag].x.lo == spot->x.lo && spots[last->tag].x.hi == spot->x.hi) {
        berth->near = last->near;
        berth->far = last->far;
        return true;
    }
    const struct flank near = flank_of(&look->view, c, spot, &post->posture, SIDE_NEAR),
                       far = flank_of(&look->view, c, spot, &post->posture, SIDE_FAR);
    return notes_add(&notes[SIDE_NEAR], &near, &berth->near) &&
           notes_add(&notes[SIDE_FAR], &far, &berth->far);
}

/* Whether its line lies on a strip, as far as that is known. */
static bool lies_on_strips(const struct parcel *parcel, const struct arm *arm,
                           const struct spot *spot) {
    const struct interval within = parts_lines_within(arm, packing_side(spot, UP));
    const struct strips *strips = &parcel->arms->strips;
    const size_t first = parts_first_strip(strips, within.lo);
    return first < strips->count && strips->list[first].lo <= within.hi;
}

/* What is to be told apart of where it stands up the slope. */
static struct leeway leeway_of(const struct look *look, size_t c, const struct post *post) {
    const struct ranking *ranking = look->view.ranking;
    const struct parcel *parcel = &ranking->packing->task->parcels[ranking->first[c]];
    const struct spot *spots = ranking_spots(ranking, c).list, *spot = &spots[post->spot];
    struct leeway leeway = {.at = {[LEEWAY_UP] = post->posture.up}};
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct arm *arm = parcel->arms ? parts_arm(parcel, spot, row) : NULL;
        const bool there = arm && arm->there && (arm->beyond[SIDE_NEAR] || arm->beyond[SIDE_FAR]);
        leeway.at[row] = post->posture.lines[row];
        leeway.strips[row] =
            there && lies_on_strips(parcel, arm, spot) ? &parcel->arms->strips : NULL;
        leeway.rise[row] = there ? (struct interval){arm->rise[0], arm->rise[1]}
                                 : (struct interval){-INFINITY, INFINITY};
    }
    return leeway;
}

static bool add_berth(const struct look *look, size_t c, int rank, const struct post *post,
                      size_t at, struct notes notes[SIDE_COUNT], struct berths *berths) {
    const struct interval up = post->posture.up;
    const double height = look->view.ranking->ranks.classes[c].height;
    const struct berth *last = berths->count > 0 ? &berths->list[berths->count - 1] : NULL;
    struct berth berth = {.from = post->along.lo,
                          .to = post->along.hi,
                          .low = rank == RANK_LOWER ? INFINITY : up.hi,
                          .top = rank == RANK_UPPER ? -INFINITY : up.lo + height,
                          .y = rank == RANK_UPPER ? up.hi : up.lo,
                          .tag = post->spot,
                          .post = at};
    if (look->task.narrows)
        berth.leeway = leeway_of(look, c, post);
    return note_flanks(look, c, post, notes, &berth, last) && berths_add(berths, &berth);
}

static bool outline(struct look *look, size_t c, int rank) {
    struct sweep_task *task = &look->task;
    struct berths *each = &look->each[c][rank];
    const bool good = outline_berths(each, &task->near, &task->far, &task->berths[c][rank]);
    each->count = look->closer ? each->count : 0;
    return good;
}

static bool add_berths(struct look *look, size_t c, int rank, const struct posts *posts,
                       struct notes notes[SIDE_COUNT]) {
    bool good = true;
    for (size_t i = 0; i < posts->count && good; i++) {
        good = add_berth(look, c, rank, &posts->list[i], i, notes, &look->each[c][rank]);
        good = good && (i % LOOK != LOOK - 1 || !look_late(look->task.ranks));
    }
    return good;
}

/* The berths of spots that are looked at once, whose posts are not kept. */
static bool add_spots(struct look *look, size_t c, int rank, struct notes notes[SIDE_COUNT]) {
    const size_t count = ranking_spots(look->view.ranking, c).count;
    struct posts posts = {.list = NULL};
    bool good = true;
    for (size_t i = 0; i < count && good; i++) {
        posts.count = 0;
        good = posts_of(&look->view, c, rank, i, &posts) &&
               add_berths(look, c, rank, &posts, notes) &&
               (look->each[c][rank].count < KEPT_MOST || outline(look, c, rank)) &&
               (i % LOOK != LOOK - 1 || !look_late(look->task.ranks));
    }
    free(posts.list);
    return good;
}

/* The berths of a class in a rank. */
static bool list_berths(struct look *look, size_t c, int rank, struct notes notes[SIDE_COUNT]) {
    look->each[c][rank].count = look->task.berths[c][rank].count = 0;
    const bool good = look->closer ? add_berths(look, c, rank, &look->posts[c][rank], notes)
                                   : add_spots(look, c, rank, notes);
    return good && outline(look, c, rank);
}

bool look_list(struct look *look) {
    struct ranks *ranks = look->task.ranks;
    struct notes notes[SIDE_COUNT] = {{.slots = NULL}};
    look->task.near.count = look->task.far.count = 0;
    bool good = notes_begin(&look->task.near, &notes[SIDE_NEAR]);
    good = notes_begin(&look->task.far, &notes[SIDE_FAR]) && good;
    for (size_t c = 0; c < ranks->class_count && good && !look_late(ranks); c++)
        for (size_t rank = 0; rank < ranks->ranks && good; rank++)
            good = list_berths(look, c, (int)rank, notes);
    free(notes[SIDE_NEAR].slots);
    free(notes[SIDE_FAR].slots);
    return good && !ranks->ended;
}
