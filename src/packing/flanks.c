#include "flanks.h"

#include "digest.h"
#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* Of a list that is empty; without arms all flanks are the same. */
enum { SLOTS_FIRST = 8 };

static const struct parcel *parcel_of(const struct ranking *ranking, size_t c) {
    return &ranking->packing->task->parcels[ranking->first[c]];
}

size_t flank_lines(const struct view *view, size_t c, const struct spot *spot, struct interval up,
                   int row, struct interval strips[LINE_STRIPS_MOST]) {
    const struct parcel *parcel = parcel_of(view->ranking, c);
    const struct arm *arm = parcel->arms && view->minded ? parts_arm(parcel, spot, row) : NULL;
    if (arm && arm->there && (arm->beyond[SIDE_NEAR] || arm->beyond[SIDE_FAR]))
        return parts_line_strips(parcel, arm, up, strips);
    strips[0] = (struct interval){0, 0};
    return 1;
}

/* A part's ends in a spot. */
static struct flank_part part_in(const struct ranking *ranking, size_t c, const struct spot *spot,
                                 const struct posture *posture, enum side side, int kind, int row) {
    const struct packing_task *task = ranking->packing->task;
    const size_t b = ranking->first[c];
    const struct crossing part = {.bracket = {b, b}, .kind = {kind, kind}, .row = {row, row}};
    const struct end along = parts_end(task, &part, 0, spot, ALONG, side == SIDE_FAR, DRAWN_HARD);
    const bool box = kind == PART_BOX, worst = !ranked_proves(ranking->how);
    const struct interval at = box ? posture->up : posture->lines[row];
    const double low = box ? 0 : parts_off(task, &part, 0, false),
                 high = box ? ranking->ranks.classes[c].height : parts_off(task, &part, 0, true);
    return (struct flank_part){
        .there = true,
        .fixed = along.fixed,
        .goes = along.rel,
        .low = (worst && !box ? at.lo : at.hi) + low,
        .high = (worst && !box ? at.hi : at.lo) + high,
    };
}

/* Of a foot's flashing the outermost that it may lie, where lines and feet are at their worst. */
static struct flank_part flashing_in(const struct ranking *ranking, size_t c,
                                     const struct spot *spot, const struct posture *posture,
                                     enum side side, int row) {
    struct flank_part made =
        part_in(ranking, c, spot, posture, side, side == SIDE_NEAR ? PART_FIRST : PART_LAST, row);
    const struct parcel *parcel = parcel_of(ranking, c);
    const struct arm *arm = parts_arm(parcel, spot, row);
    if (!ranked_proves(ranking->how) && arm->feet) {
        const double off = parcel->arms->side;
        made.fixed = arm->lags[side] + (side == SIDE_FAR ? off : -off);
        made.goes = side == SIDE_FAR ? -INFINITY : INFINITY;
    }
    return made;
}

/* A flashing may also lie before one of a bracket that stands before, which then reaches as far
 * beyond its side as any does.  What is to hold as it is has it behind that all the same. */
static bool may_lie_before(const struct view *view, size_t c, const struct spot *spot, int row) {
    const struct ranking *ranking = view->ranking;
    const struct parcel *parcel = parcel_of(ranking, c);
    const struct crossing part = {.bracket = {ranking->first[c], ranking->first[c]},
                                  .kind = {PART_FIRST, PART_FIRST},
                                  .row = {row, row}};
    const struct end high =
        parts_end(ranking->packing->task, &part, 0, spot, ALONG, true, DRAWN_HARD);
    const double end = length_greater(high.fixed, spot->x.lo + high.rel);
    return end + 2 * parcel->level + 2 * view->side <=
           spot->x.hi + view->beyond - parcel->room + SAME;
}

/* As if all that it reaches were one, up all of the slope. */
static void box_in(struct flank *flank, enum side side) {
    struct flank_part *all = &flank->parts[FLANK_STRUT];
    for (size_t k = FLANK_STRUT; k < FLANK_SIDE; k++) {
        const struct flank_part part = flank->parts[k];
        flank->parts[k].there = false;
        if (!part.there)
            continue;
        const bool far = side == SIDE_FAR, first = !all->there;
        const double fixed = first ? part.fixed : all->fixed, goes = first ? part.goes : all->goes;
        *all = (struct flank_part){
            .there = true,
            .fixed = far ? length_greater(fixed, part.fixed) : length_lesser(fixed, part.fixed),
            .goes = far ? length_greater(goes, part.goes) : length_lesser(goes, part.goes),
            .low = -INFINITY,
            .high = INFINITY};
    }
}

struct flank flank_of(const struct view *view, size_t c, const struct spot *spot,
                      const struct posture *posture, enum side side) {
    const struct ranking *ranking = view->ranking;
    const struct parcel *parcel = parcel_of(ranking, c);
    struct flank flank = {.parts = {{.there = false}}};
    for (int row = ROW_TOP; row < ROW_COUNT && parcel->arms && view->minded; row++) {
        const struct arm *arm = parts_arm(parcel, spot, row);
        if (!arm->there || !arm->beyond[side])
            continue;
        if (!arm->feet)
            flank.parts[FLANK_STRUT + row] =
                part_in(ranking, c, spot, posture, side, PART_STRUT, row);
        if (side == SIDE_FAR || !ranked_proves(ranking->how) || !may_lie_before(view, c, spot, row))
            flank.parts[FLANK_FLASHING + row] = flashing_in(ranking, c, spot, posture, side, row);
    }
    /* A side matters to struts that face it. */
    if (view->minded && view->struts[side == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR])
        flank.parts[FLANK_SIDE] = part_in(ranking, c, spot, posture, side, PART_BOX, 0);
    if (ranking->how == RANKED_BOXED)
        box_in(&flank, side);
    return flank;
}

/* The most and the least of all struts: where the first leg's clamp begins, and the last one's
 * ends, beyond X. */
struct clamped {
    double first, last, width, level;
};

static void see_clamps(const struct parcel *parcel, const struct arm *arm,
                       struct clamped *clamped) {
    clamped->first = length_greater(clamped->first, arm->clamps[0] - parcel->arms->end);
    clamped->last = length_lesser(clamped->last, arm->clamps[1] + parcel->arms->end);
}

static bool stacks(const struct clamped *clamped) {
    return clamped->last + 2 * clamped->level > clamped->first &&
           clamped->last + clamped->level > 0 && clamped->width + clamped->level > clamped->first;
}

static void look(struct view *view) {
    struct clamped clamped = {-INFINITY, INFINITY, INFINITY, 0};
    const struct ranks *ranks = &view->ranking->ranks;
    view->minded = view->ranking->how != RANKED_BARE;
    view->side = INFINITY;
    for (size_t c = 0; c < ranks->class_count; c++) {
        const struct spot_list spots = ranking_spots(view->ranking, c);
        const struct parcel *parcel = parcel_of(view->ranking, c);
        if (parcel->arms)
            view->side = length_lesser(view->side, parcel->arms->side);
        clamped.width = length_lesser(clamped.width, parcel->width);
        clamped.level = length_lesser(clamped.level, parcel->level);
        view->minded = view->minded && parcel->width + parcel->room + 2 * parcel->level > 0;
        for (size_t i = 0; i < spots.count && parcel->arms && view->minded; i++) {
            view->beyond = length_greater(view->beyond, parts_beyond(parcel, &spots.list[i]));
            for (int row = ROW_TOP; row < ROW_COUNT; row++) {
                const struct arm *arm = parts_arm(parcel, &spots.list[i], row);
                if (arm->there && !arm->feet)
                    see_clamps(parcel, arm, &clamped);
                for (int side = SIDE_NEAR; side < SIDE_COUNT; side++)
                    view->struts[side] =
                        view->struts[side] || (arm->there && !arm->feet && arm->beyond[side]);
            }
        }
    }
    view->stacks = stacks(&clamped);
}

struct view view_of(const struct ranking *ranking) {
    struct view view = {.ranking = ranking};
    look(&view);
    return view;
}

static bool same_part(const struct flank_part *a, const struct flank_part *b) {
    return a->there == b->there && (!a->there || (a->fixed == b->fixed && a->goes == b->goes &&
                                                  a->low == b->low && a->high == b->high));
}

static bool same_flank(const struct flank *a, const struct flank *b) {
    bool same = true;
    for (size_t k = 0; k < FLANK_PARTS && same; k++)
        same = same_part(&a->parts[k], &b->parts[k]);
    return same;
}

static uint64_t print_of(const struct flank *flank) {
    uint64_t print = 1;
    for (size_t k = 0; k < FLANK_PARTS; k++) {
        const struct flank_part *part = &flank->parts[k];
        if (!part->there)
            continue;
        print = digest_figure(print, (double)k);
        print = digest_figure(print, part->fixed);
        print = digest_figure(print, part->goes);
        print = digest_figure(print, part->low);
        print = digest_figure(print, part->high);
    }
    return print;
}

bool notes_begin(struct flanks *flanks, struct notes *notes) {
    notes->flanks = flanks;
    notes->room = SLOTS_FIRST;
    notes->slots = calloc(notes->room, sizeof *notes->slots);
    return notes->slots != NULL;
}

/* The slot that a flank has, or that is free for it. */
static size_t slot_of(const struct notes *notes, const struct flank *flank) {
    size_t slot = print_of(flank) % notes->room;
    while (notes->slots[slot] > 0 &&
           !same_flank(&notes->flanks->list[notes->slots[slot] - 1], flank))
        slot = (slot + 1) % notes->room;
    return slot;
}

/* No more than half of the slots are taken. */
static bool make_slots(struct notes *notes) {
    if (notes->room > 2 * notes->flanks->count)
        return true;
    const size_t room = 4 * notes->room;
    size_t *slots = calloc(room, sizeof *slots);
    if (!slots)
        return false;
    free(notes->slots);
    notes->slots = slots;
    notes->room = room;
    for (size_t i = 0; i < notes->flanks->count; i++)
        notes->slots[slot_of(notes, &notes->flanks->list[i])] = i + 1;
    return true;
}

static bool make_flanks(struct flanks *flanks) {
    if (flanks->count >= FLANKS_MOST)
        return false;
    struct flank *list =
        grow_list(flanks->list, &flanks->room, flanks->count, sizeof *flanks->list);
    flanks->list = list ? list : flanks->list;
    return list != NULL;
}

bool notes_add(struct notes *notes, const struct flank *flank, size_t *at) {
    struct flanks *flanks = notes->flanks;
    size_t slot = slot_of(notes, flank);
    if (notes->slots[slot] == 0) {
        if (!make_flanks(flanks) || !make_slots(notes))
            return false;
        slot = slot_of(notes, flank);
        flanks->list[flanks->count++] = *flank;
        notes->slots[slot] = flanks->count;
    }
    *at = notes->slots[slot] - 1;
    return true;
}
