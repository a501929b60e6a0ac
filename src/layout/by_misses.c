#include "by_misses.h"

#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* More spots of all brackets than these are not gone through: with what is lacked in it each may
 * take a kilobyte. */
enum { SPOTS_MOST = 150000 };

/* Spots that were gathered, kept for as long as the same come up: ways to have the rungs mostly
 * differ only in who of several brackets alike has which. */
enum { STORED_MOST = 64, STORED_SPOTS_MOST = 150000 };
struct stored {
    size_t like;
    double level, most;
    struct misses *misses;
};
struct store {
    struct stored list[STORED_MOST];
    size_t count, next;
};

static void store_free(struct store *store) {
    for (size_t i = 0; i < store->count; i++)
        misses_free(store->list[i].misses);
    store->count = store->next = 0;
}

static size_t stored_spots(const struct store *store) {
    size_t count = 0;
    for (size_t i = 0; i < store->count; i++)
        count += store->list[i].misses->count;
    return count;
}

static void free_all(struct misses **misses, size_t count) {
    for (size_t b = 0; b < count; b++) {
        misses_free(misses[b]);
        misses[b] = NULL;
    }
}

/* Whose list the spots of a bracket come from; NULL where there are too many.  What lacks nothing
 * anywhere only has to stand somewhere, for which a cut of the list will do. */
static enum outcome choose_stands(const struct crowd *crowd, const struct stored *asked,
                                  struct stands **stands) {
    struct stands *whole = crowd->stands[asked->like];
    const bool deep = whole->least <= asked->level + LENGTH_TOLERANCE && !whole->crowded;
    struct cut cut = {.listed = false};
    *stands = deep ? whole : NULL;
    if (asked->level < 0 || !crowd->cuts)
        return OUTCOME_DONE;
    const enum outcome outcome = cuts_find(crowd, asked->like, asked->level, &cut);
    *stands = outcome == OUTCOME_DONE && cut.listed && !cut.partial ? cut.stands : NULL;
    return outcome;
}

/* The spots of one bracket that may lack no more than `most`; owned by the caller too.  *misses
 * stays NULL where its stands are too many. */
static enum outcome gather_one(const struct crowd *crowd, struct store *store,
                               const struct stored *asked, size_t room, struct misses **misses) {
    const struct misses_ask ask = {.level = asked->level,
                                   .most = asked->most,
                                   .room = room,
                                   .stop = crowd->stop,
                                   .subject = crowd->subject};
    for (size_t i = 0; i < store->count; i++) {
        const struct stored *known = &store->list[i];
        if (known->like == asked->like && length_same(known->level, asked->level) &&
            length_same(known->most, asked->most)) {
            *misses = misses_share(known->misses);
            return OUTCOME_DONE;
        }
    }
    struct stands *stands = NULL;
    enum outcome outcome = choose_stands(crowd, asked, &stands);
    if (outcome == OUTCOME_DONE && stands)
        outcome = stands_misses(stands, &ask, misses);
    if (outcome != OUTCOME_DONE || !stands)
        return outcome;
    if ((*misses)->crowded && room < SPOTS_MOST)
        return OUTCOME_DONE; /* with more room it may not be */
    if (stored_spots(store) + (*misses)->count > STORED_SPOTS_MOST)
        store_free(store);
    struct stored *slot = &store->list[store->next];
    if (store->count == STORED_MOST)
        misses_free(slot->misses);
    else
        store->count++;
    *slot = *asked;
    slot->misses = misses_share(*misses);
    store->next = (store->next + 1) % STORED_MOST;
    return OUTCOME_DONE;
}

/* The spots of every bracket that may lack no more than most[b]; *listed is false where there are
 * too many. */
static enum outcome gather(const struct crowd *crowd, struct store *store, size_t count,
                           const double *levels, const double *most, struct misses **misses,
                           bool *listed) {
    enum outcome outcome = OUTCOME_DONE;
    size_t room = SPOTS_MOST;
    *listed = true;
    for (size_t b = 0; b < count && outcome == OUTCOME_DONE && *listed; b++) {
        const struct stored asked = {
            .like = crowd_like(crowd, b), .level = levels[b], .most = most[b]};
        outcome = gather_one(crowd, store, &asked, room, &misses[b]);
        *listed =
            outcome == OUTCOME_DONE && misses[b] && !misses[b]->crowded && misses[b]->count < room;
        room -= *listed ? misses[b]->count : 0;
    }
    return outcome;
}

/* The least that each bracket lacks, alone, and their sum. */
static enum outcome find_least(const struct crowd *crowd, struct store *store, const double *levels,
                               double *least, double *sum, bool *listed) {
    struct misses *misses[ROOF_BRACKETS_MOST] = {NULL};
    const size_t count = crowd->roof->bracket_count;
    double none[ROOF_BRACKETS_MOST] = {0};
    for (size_t b = 0; b < count; b++)
        none[b] = -INFINITY;
    const enum outcome outcome = gather(crowd, store, count, levels, none, misses, listed);
    *sum = 0;
    for (size_t b = 0; b < count && outcome == OUTCOME_DONE && *listed; b++) {
        least[b] = misses[b]->least;
        *sum += least[b];
    }
    free_all(misses, count);
    return outcome;
}

/* What the struts of all brackets reach; lists are owned, once each. */
struct reached {
    struct arm (*lists[ROOF_BRACKETS_MOST])[ROW_COUNT];
    struct arms arms[ROOF_BRACKETS_MOST];
    size_t count;
};

static void free_arms(struct reached *reached) {
    for (size_t i = 0; i < reached->count; i++)
        free(reached->lists[i]);
}

static bool list_arms(const struct crowd *crowd, size_t count, const double *levels,
                      const struct misses_answer *way, struct reached *reached) {
    for (size_t b = 0; b < count; b++) {
        size_t like = 0;
        while (like < b &&
               (way->misses[like] != way->misses[b] || !length_same(levels[like], levels[b])))
            like++;
        if (like < b) {
            reached->arms[b] = reached->arms[like];
            continue;
        }
        struct arm(*list)[ROW_COUNT] = arms_list(way->misses[b]->stands, levels[b]);
        if (!list)
            return false;
        reached->lists[reached->count++] = list;
        reached->arms[b] = arms_of(crowd, b, (const struct arm(*)[ROW_COUNT])list);
    }
    return true;
}

static enum outcome pack(const struct crowd *crowd, size_t count, const double *levels,
                         struct misses_answer *way) {
    struct parcel parcels[ROOF_BRACKETS_MOST];
    struct reached reached = {.count = 0};
    if (crowd->arms && !list_arms(crowd, count, levels, way, &reached)) {
        free_arms(&reached);
        return OUTCOME_FAULT;
    }
    for (size_t b = 0; b < count; b++) {
        const struct misses *misses = way->misses[b];
        parcels[b] = rungs_parcel(crowd, b, levels[b]);
        parcels[b].arms = crowd->arms ? &reached.arms[b] : NULL;
        parcels[b].spots = misses->spots;
        parcels[b].spot_count = misses->count;
        memcpy(parcels[b].inside, misses->inside, sizeof parcels[b].inside);
    }
    const struct packing_task task = {.parcels = parcels,
                                      .count = count,
                                      .hole_worth = crowd->roof->hole_worth,
                                      .misses = true,
                                      .apart = crowd->roof->apart,
                                      .stop = crowd->stop,
                                      .subject = crowd->subject};
    const enum outcome outcome =
        packing_find(&task, &way->end, way->placed, &way->worth, &way->bound);
    free_arms(&reached);
    return outcome;
}

static bool found(const struct misses_answer *answer) {
    return packing_there(answer->end);
}

/* The better of both stays; what is proved of it is proved of both. */
static void keep_better(struct misses_answer *best, struct misses_answer *way, size_t count) {
    const bool open = best->end == PACKING_FOUND || best->end == PACKING_UNDECIDED ||
                      way->end == PACKING_FOUND || way->end == PACKING_UNDECIDED;
    const double gap = best->worth.lack - way->worth.lack;
    if (found(way) && (!found(best) || gap > LENGTH_TOLERANCE ||
                       (gap > -LENGTH_TOLERANCE && way->worth.cost < best->worth.cost))) {
        const struct misses_answer worse = *best;
        *best = *way;
        *way = worse;
    }
    if (open)
        best->end = found(best) ? PACKING_FOUND : PACKING_UNDECIDED;
    free_all(way->misses, count);
}

/* One packing of the spots that lack no more than so much beyond the least.  */
static enum outcome try_beyond(const struct crowd *crowd, struct store *store, const double *levels,
                               const double *least, double beyond, struct misses_answer *tried) {
    double most[ROOF_BRACKETS_MOST] = {0};
    const size_t count = crowd->roof->bracket_count;
    bool listed;
    for (size_t b = 0; b < count; b++)
        most[b] = least[b] + beyond + LENGTH_TOLERANCE;
    tried->end = PACKING_UNDECIDED;
    enum outcome outcome = gather(crowd, store, count, levels, most, tried->misses, &listed);
    if (outcome == OUTCOME_DONE && listed)
        outcome = pack(crowd, count, levels, tried);
    return outcome;
}

/* One way to have the rungs.  What all brackets lack together is at least the sum of what each
 * lacks alone; a layout that lacks so much more keeps each of them within as much of its own least.
 * So the spots that lack little are packed first, then more of them, until no layout that could be
 * better is left out. */
static enum outcome try_way(const struct crowd *crowd, struct store *store,
                            const struct rungs *rungs, size_t way, double most,
                            struct misses_answer *answer) {
    static const double steps[] = {0, 1, 4, 16, 64, INFINITY};
    const size_t count = crowd->roof->bracket_count;
    const double *levels = rungs->levels[way];
    double least[ROOF_BRACKETS_MOST] = {0}, sum = 0;
    bool whole = false, listed = true;
    enum outcome outcome = find_least(crowd, store, levels, least, &sum, &listed);
    if (outcome != OUTCOME_DONE || !listed) {
        answer->end = found(answer) ? PACKING_FOUND : PACKING_UNDECIDED;
        return outcome;
    }
    struct misses_answer best = {.end = PACKING_NONE, .way = way};
    for (size_t i = 0; i < sizeof steps / sizeof *steps && outcome == OUTCOME_DONE && !whole; i++) {
        const double beyond = fmin(steps[i], most - sum);
        struct misses_answer tried = {.way = way};
        outcome = try_beyond(crowd, store, levels, least, beyond, &tried);
        if (found(&tried))
            most = fmin(most, tried.worth.lack);
        whole = most - sum <= beyond + LENGTH_TOLERANCE || tried.end == PACKING_UNDECIDED;
        if (whole || found(&tried))
            keep_better(&best, &tried, count);
        free_all(tried.misses, count);
    }
    keep_better(answer, &best, count);
    return outcome;
}

/* All stands of every bracket that lacks anything, down to the least level that it has in any way.
 */
static enum outcome deepen(const struct crowd *crowd, const struct rungs *rungs) {
    enum outcome outcome = OUTCOME_DONE;
    for (size_t b = 0; b < crowd->roof->bracket_count && outcome == OUTCOME_DONE; b++) {
        double least = INFINITY;
        for (size_t o = 0; o < crowd->roof->bracket_count; o++)
            for (size_t way = 0; way < rungs->count; way++)
                if (crowd->stands[o] == crowd->stands[b])
                    least = fmin(least, rungs->levels[way][o]);
        if (least < 0)
            outcome = crowd_deepen(crowd, b, least);
    }
    return outcome;
}

enum outcome by_misses(const struct crowd *crowd, const struct rungs *rungs, double most,
                       struct misses_answer *answer) {
    *answer = (struct misses_answer){.end = PACKING_NONE};
    struct store *store = calloc(1, sizeof *store);
    enum outcome outcome = store ? deepen(crowd, rungs) : OUTCOME_FAULT;
    for (size_t way = 0; way < rungs->count && outcome == OUTCOME_DONE; way++)
        outcome = try_way(crowd, store, rungs, way,
                          found(answer) ? fmin(most, answer->worth.lack) : most, answer);
    if (store)
        store_free(store);
    free(store);
    return outcome;
}

void misses_answer_free(struct misses_answer *answer) {
    free_all(answer->misses, ROOF_BRACKETS_MOST);
}
