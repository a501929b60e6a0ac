#include "gathered.h"

#include "length.h"

#include <math.h>

void store_free(struct store *store) {
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

void misses_free_all(struct misses **misses, size_t count) {
    for (size_t b = 0; b < count; b++) {
        misses_free(misses[b]);
        misses[b] = NULL;
    }
}

/* What lacks nothing anywhere only has to stand somewhere, for which a cut of the list will do. */
enum outcome gathered_stands(const struct crowd *crowd, size_t b, double level,
                             struct stands **stands) {
    const size_t like = crowd_like(crowd, b);
    struct cut cut = {.listed = false};
    *stands = NULL;
    if (level < 0)
        return cuts_lacking(crowd, like, level, stands);
    const enum outcome outcome = cuts_find(crowd, like, level, &cut);
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
    enum outcome outcome = gathered_stands(crowd, asked->like, asked->level, &stands);
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

enum outcome gathered_find(const struct crowd *crowd, struct store *store, const double *levels,
                           const double *most, struct misses **misses, bool *listed) {
    const size_t count = crowd->roof->bracket_count;
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

enum outcome gathered_least(const struct crowd *crowd, struct store *store, const double *levels,
                            double *least, double *sum, bool *listed) {
    struct misses *misses[ROOF_BRACKETS_MOST] = {NULL};
    const size_t count = crowd->roof->bracket_count;
    double none[ROOF_BRACKETS_MOST] = {0};
    for (size_t b = 0; b < count; b++)
        none[b] = -INFINITY;
    const enum outcome outcome = gathered_find(crowd, store, levels, none, misses, listed);
    *sum = 0;
    for (size_t b = 0; b < count && outcome == OUTCOME_DONE && *listed; b++) {
        least[b] = misses[b]->least;
        *sum += least[b];
    }
    misses_free_all(misses, count);
    return outcome;
}
