#include "outlook.h"

#include "length.h"

#include <math.h>

void outlook_free(struct outlook *outlook) {
    for (size_t k = 0; k < PROSPECTS_MOST; k++)
        pieces_free(&outlook->rest[k]);
}

void outlooks_free(struct outlooks *outlooks) {
    for (size_t i = 0; i < outlooks->count; i++)
        pieces_free(&outlooks->list[i].lacks);
    outlooks->count = outlooks->next = 0;
}

static bool same_interval(struct interval a, struct interval b) {
    return length_same(a.lo, b.lo) && length_same(a.hi, b.hi);
}

/* What a bracket may lack in a rank, borrowed; NULL: it is not known. */
static enum outcome find_lacks(const struct crowd *crowd, struct outlooks *outlooks,
                               struct stands *stands, const struct seen_lacks *asked,
                               const struct pieces **lacks) {
    const struct misses_ask ask = {
        .level = asked->level, .stop = crowd->stop, .subject = crowd->subject};
    for (size_t i = 0; i < outlooks->count; i++) {
        const struct seen_lacks *seen = &outlooks->list[i];
        if (seen->like == asked->like && length_same(seen->level, asked->level) &&
            same_interval(seen->up, asked->up)) {
            *lacks = &seen->lacks;
            return OUTCOME_DONE;
        }
    }
    struct pieces found = {.list = NULL};
    bool crowded;
    const enum outcome outcome = stands_lacks(stands, &ask, asked->up, &found, &crowded);
    *lacks = NULL;
    if (outcome != OUTCOME_DONE || crowded) {
        pieces_free(&found);
        return outcome;
    }
    struct seen_lacks *slot = &outlooks->list[outlooks->next];
    if (outlooks->count == OUTLOOKS_MOST)
        pieces_free(&slot->lacks);
    else
        outlooks->count++;
    *slot = *asked;
    slot->lacks = found;
    outlooks->next = (outlooks->next + 1) % OUTLOOKS_MOST;
    *lacks = &slot->lacks;
    return OUTCOME_DONE;
}

size_t outlook_kind(const struct outlook *outlook, const struct crowd *crowd, const double *levels,
                    size_t b) {
    const size_t like = crowd_like(crowd, b);
    for (size_t k = 0; k < outlook->kinds; k++)
        if (outlook->like[k] == like && length_same(outlook->level[k], levels[b]))
            return k;
    return PROSPECTS_MOST;
}

size_t outlook_size(const struct outlook *outlook, const struct crowd *crowd, const double *levels,
                    size_t kind) {
    size_t size = 0;
    for (size_t b = 0; b < crowd->roof->bracket_count; b++)
        size += outlook_kind(outlook, crowd, levels, b) == kind;
    return size;
}

/* False where there are more kinds than are looked at. */
static bool find_kinds(const struct crowd *crowd, const double *levels, struct outlook *outlook) {
    for (size_t b = 0; b < crowd->roof->bracket_count; b++) {
        size_t k = outlook_kind(outlook, crowd, levels, b);
        if (k == PROSPECTS_MOST && outlook->kinds == PROSPECTS_MOST)
            return false;
        if (k == PROSPECTS_MOST) {
            k = outlook->kinds++;
            outlook->like[k] = crowd_like(crowd, b);
            outlook->level[k] = levels[b];
        }
        outlook->size[k]++;
    }
    return true;
}

static struct prospect_task begin(const struct crowd *crowd, struct stands *const *stands,
                                  const struct outlook *outlook) {
    struct prospect_task task = {.count = outlook->kinds,
                                 .apart = crowd->roof->apart,
                                 .stop = crowd->stop,
                                 .subject = crowd->subject};
    for (size_t k = 0; k < outlook->kinds; k++) {
        const size_t b = outlook->like[k];
        const struct parcel parcel = rungs_parcel(crowd, b, outlook->level[k]);
        task.kinds[k] = (struct prospect){.size = outlook->size[k],
                                          .width = parcel.width,
                                          .height = parcel.height,
                                          .room = parcel.room,
                                          .along = {-ROOF_ENDLESS, ROOF_ENDLESS},
                                          .up = stands_up(stands[k], outlook->level[k])};
    }
    return task;
}

/* Where a function is at all. */
static struct interval reach(const struct pieces *one, const struct pieces *other) {
    struct interval along = {INFINITY, -INFINITY};
    const struct pieces *both[2] = {one, other};
    for (int i = 0; i < 2; i++)
        if (both[i]->count > 0) {
            along.lo = length_lesser(along.lo, both[i]->list[0].from);
            along.hi = length_greater(along.hi, both[i]->list[both[i]->count - 1].to);
        }
    return along;
}

/* What every kind may lack in each rank; *there is false where that is not known. */
static enum outcome fill(const struct crowd *crowd, struct outlooks *outlooks,
                         struct stands *const *stands, const struct outlook *outlook,
                         struct prospect_task *task, bool *there) {
    struct interval up[PROSPECTS_MOST][2];
    size_t ranks = 0;
    enum outcome outcome = OUTCOME_DONE;
    *there = prospects_ranks(task, up, &ranks);
    for (size_t k = 0; k < task->count && *there && outcome == OUTCOME_DONE; k++) {
        struct prospect *kind = &task->kinds[k];
        for (size_t rank = 0; rank < ranks && *there && outcome == OUTCOME_DONE; rank++) {
            const struct seen_lacks asked = {
                .like = outlook->like[k], .level = outlook->level[k], .up = up[k][rank]};
            const struct pieces *lacks = NULL;
            outcome = find_lacks(crowd, outlooks, stands[k], &asked, &lacks);
            *there = outcome == OUTCOME_DONE && lacks;
            if (*there)
                kind->lacks[rank] = *lacks;
        }
        kind->along = reach(&kind->lacks[0], &kind->lacks[1]);
    }
    return outcome;
}

enum outcome outlook_find(const struct crowd *crowd, struct outlooks *outlooks,
                          const double *levels, struct stands *const *stands,
                          struct outlook *outlook) {
    *outlook = (struct outlook){.known = false};
    if (!find_kinds(crowd, levels, outlook))
        return OUTCOME_DONE;
    if (outlooks->count + 2 * outlook->kinds > OUTLOOKS_MOST) /* those at hand stay */
        outlooks_free(outlooks);
    struct stands *of_kind[PROSPECTS_MOST] = {NULL};
    for (size_t b = 0; b < crowd->roof->bracket_count; b++)
        of_kind[outlook_kind(outlook, crowd, levels, b)] = stands[b];
    struct prospect_task task = begin(crowd, of_kind, outlook);
    bool there;
    const enum outcome outcome = fill(crowd, outlooks, of_kind, outlook, &task, &there);
    if (outcome != OUTCOME_DONE || !there)
        return outcome;
    const enum outcome found =
        prospects_find(&task, outlook->rest, &outlook->least, &outlook->known);
    outlook->known = outlook->known && outlook->least < INFINITY;
    return found;
}

bool outlook_allow(const struct outlook *outlook, size_t kind, double all, struct pieces *allowed) {
    if (!pieces_copy(&outlook->rest[kind], allowed))
        return false;
    pieces_turn(allowed, all);
    return true;
}
