/* Searches list the holds of a row again and again, level after level and company after company.
 * A list for a level holds, whatever else it holds, every way that there is at a higher one; so
 * what is asked for is taken from one that goes as far down, or not much further, without what ends
 * below. */
#include "listing.h"

#include "length.h"

#include <stdlib.h>
#include <string.h>

/* So many lists are kept, the last ones, and so many holds (some hundred bytes each) in all. */
enum { RACK_MOST = 32, RACKED_MOST = 60000 };

/* What the holds of a row depend on. */
struct racked_key {
    const struct ply *plies;
    const struct vent *vents;
    const struct kit *kit;
    enum hardware hardware;
    enum row row;
    size_t least_lags;
    bool lenient;
};

struct racked {
    struct racked_key key;
    double least, lowest; /* as of a listing */
    struct hold *list;    /* owned, with their lags */
    size_t count;
};

struct rack {
    struct racked list[RACK_MOST];
    size_t count, next, holds;
};

struct rack *rack_new(void) {
    return calloc(1, sizeof(struct rack));
}

void holds_free(struct hold *list, size_t count) {
    for (size_t i = 0; i < count; i++)
        free(list[i].lags);
    free(list);
}

static void clear(struct rack *rack) {
    for (size_t i = 0; i < rack->count; i++)
        holds_free(rack->list[i].list, rack->list[i].count);
    rack->count = rack->next = rack->holds = 0;
}

void rack_free(struct rack *rack) {
    if (rack)
        clear(rack);
    free(rack);
}

static struct racked_key key_of(const struct listing *listing) {
    return (struct racked_key){.plies = listing->roof->plies,
                               .vents = listing->roof->vents,
                               .kit = listing->kit,
                               .hardware =
                                   listing->roof->brackets[listing->bracket].hardware[listing->row],
                               .row = listing->row,
                               .least_lags = listing->least_lags[listing->row],
                               .lenient = listing->ask->lenient};
}

static bool same_key(const struct racked_key *a, const struct racked_key *b) {
    return a->plies == b->plies && a->vents == b->vents && a->kit == b->kit &&
           a->hardware == b->hardware && a->row == b->row && a->least_lags == b->least_lags &&
           a->lenient == b->lenient;
}

/* Plies that are ruled out tell holds apart that are left out otherwise; those near a wish are not
 * all. */
static bool is_plain(const struct listing *listing) {
    return listing->ask->rack && !(listing->ask->near > 0) &&
           (!listing->limits || listing->limits->count == 0);
}

/* The list that goes as far down as is asked for, and least far beyond; NULL: none does. */
static const struct racked *find(const struct listing *listing) {
    const struct rack *rack = listing->ask->rack;
    const struct racked_key key = key_of(listing);
    const struct racked *best = NULL;
    for (size_t i = 0; i < rack->count; i++) {
        const struct racked *own = &rack->list[i];
        if (same_key(&own->key, &key) && own->least <= listing->least &&
            own->lowest <= listing->lowest &&
            (!best || own->least > best->least ||
             (own->least >= best->least && own->lowest > best->lowest)))
            best = own;
    }
    return best;
}

static bool copy_hold(const struct hold *hold, struct hold *copy) {
    *copy = *hold;
    copy->lags = malloc((hold->count + 1) * sizeof *copy->lags);
    if (copy->lags)
        memcpy(copy->lags, hold->lags, hold->count * sizeof *copy->lags);
    return copy->lags != NULL;
}

/* Those that are needed, NULL: all that do not end below `lowest`; NULL without memory. */
static struct hold *copy_holds(const struct hold *list, size_t count, const bool *needed,
                               double lowest, size_t *copied) {
    size_t most = 0;
    for (size_t i = 0; i < count; i++)
        most += needed ? needed[i] : hold_alive(&list[i], lowest);
    struct hold *copies = malloc((most + 1) * sizeof *copies);
    *copied = 0;
    for (size_t i = 0; i < count && copies; i++) {
        if (!(needed ? needed[i] : hold_alive(&list[i], lowest)))
            continue;
        if (copy_hold(&list[i], &copies[*copied])) {
            ++*copied;
            continue;
        }
        holds_free(copies, *copied);
        copies = NULL;
    }
    return copies;
}

bool rack_take(struct listing *listing, chooser *choose) {
    struct stands *stands = listing->stands;
    const enum row row = listing->row;
    const struct racked *own = is_plain(listing) ? find(listing) : NULL;
    if (!own)
        return false;
    bool *needed = choose ? choose(listing, own->list, own->count) : NULL;
    if (!choose || needed)
        stands->holds[row] =
            copy_holds(own->list, own->count, needed, listing->lowest, &stands->hold_counts[row]);
    listing->failed = listing->failed || !stands->holds[row];
    free(needed);
    return true;
}

void rack_put(const struct listing *listing) {
    const struct stands *stands = listing->stands;
    const size_t count = stands->hold_counts[listing->row];
    struct rack *rack = is_plain(listing) ? listing->ask->rack : NULL;
    if (!rack || listing->failed || stands->crowded || count > RACKED_MOST / 3)
        return;
    if (rack->holds + count > RACKED_MOST)
        clear(rack);
    struct racked made = {
        .key = key_of(listing), .least = listing->least, .lowest = listing->lowest};
    made.list = copy_holds(stands->holds[listing->row], count, NULL, listing->lowest, &made.count);
    if (!made.list) /* it is only not kept */
        return;
    struct racked *place = &rack->list[rack->next];
    rack->next = (rack->next + 1) % RACK_MOST;
    if (rack->count < RACK_MOST) {
        rack->count++;
    } else {
        rack->holds -= place->count;
        holds_free(place->list, place->count);
    }
    *place = made;
    rack->holds += made.count;
}
