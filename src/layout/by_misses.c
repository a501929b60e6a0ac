#include "by_misses.h"

#include "gathered.h"
#include "length.h"
#include "misses_pack.h"
#include "outlook.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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
    misses_free_all(way->misses, count);
}

/* One way to have the rungs. */
struct try {
    size_t way;
    const double *levels;
    struct outlook outlook;           /* of a way like an earlier one: that one's is looked at */
    size_t like;                      /* the first try with as many brackets of each kind */
    double sum;                       /* the least that all may lack together */
    double least[ROOF_BRACKETS_MOST]; /* that each does alone, where there is no outlook */
    bool listed;                      /* false: there are too many stands */
    int step;                         /* how often it was looked at */
    double reach; /* no layout of it that lacks less, or as little, has been left out */
    bool done;
};

/* All that is tried, and what came of it. */
struct trying {
    const struct crowd *crowd;
    struct store store;
    struct outlooks outlooks;
    struct try *tries; /* owned */
    size_t count;
    double most; /* what is known to be enough */
    struct misses_answer *answer;
};

static bool same_kinds(const struct crowd *crowd, const struct try *a, const struct try *b) {
    for (size_t k = 0; k < a->outlook.kinds; k++)
        if (outlook_size(&a->outlook, crowd, b->levels, k) != a->outlook.size[k])
            return false;
    return a->outlook.known;
}

/* What may be lacked where, or only how much by each alone. */
static enum outcome look_out(struct trying *trying, struct try *try) {
    const struct crowd *crowd = trying->crowd;
    struct stands *stands[ROOF_BRACKETS_MOST] = {NULL};
    enum outcome outcome = OUTCOME_DONE;
    try->listed = !crowd_late(crowd);
    try->reach = INFINITY;
    for (size_t b = 0; b < crowd->roof->bracket_count && outcome == OUTCOME_DONE && try->listed;
         b++) {
        outcome = gathered_stands(crowd, b, try->levels[b], &stands[b]);
        try->listed = outcome == OUTCOME_DONE && stands[b];
    }
    if (outcome == OUTCOME_DONE && try->listed && crowd->roof->bracket_count > 1)
        outcome = outlook_find(crowd, &trying->outlooks, try->levels, stands, &try->outlook);
    try->sum = try->outlook.least;
    if (try->outlook.known)
        try->reach = try->sum;
    if (outcome == OUTCOME_DONE && try->listed && !try->outlook.known)
        outcome =
            gathered_least(crowd, &trying->store, try->levels, try->least, &try->sum, &try->listed);
    return outcome;
}

static enum outcome begin_try(struct trying *trying, const struct rungs *rungs, size_t way) {
    struct try *try = &trying->tries[trying->count++];
    *try = (struct try){.way = way, .levels = rungs->levels[way], .like = way};
    for (size_t i = 0; i < way; i++)
        if (trying->tries[i].like == i && same_kinds(trying->crowd, &trying->tries[i], try)) {
            try->like = i;
            try->listed = true;
            try->sum = trying->tries[i].sum;
            return OUTCOME_DONE;
        }
    return look_out(trying, try);
}

/* The spots of every kind where all together may lack so much. */
static enum outcome gather_kinds(const struct crowd *crowd, const struct outlook *outlook,
                                 double all, struct misses *kinds[PROSPECTS_MOST], bool *listed) {
    enum outcome outcome = OUTCOME_DONE;
    size_t room = SPOTS_MOST;
    *listed = true;
    for (size_t k = 0; k < outlook->kinds && outcome == OUTCOME_DONE && *listed; k++) {
        struct pieces allowed = {.list = NULL};
        struct stands *stands = NULL;
        if (!outlook_allow(outlook, k, all, &allowed))
            return OUTCOME_FAULT;
        const struct misses_ask ask = {.level = outlook->level[k],
                                       .allowed = &allowed,
                                       .room = room,
                                       .stop = crowd->stop,
                                       .subject = crowd->subject};
        outcome = gathered_stands(crowd, outlook->like[k], ask.level, &stands);
        *listed = outcome == OUTCOME_DONE && stands;
        if (*listed)
            outcome = stands_misses(stands, &ask, &kinds[k]);
        pieces_free(&allowed);
        *listed = *listed && outcome == OUTCOME_DONE && !kinds[k]->crowded;
        room -= *listed ? kinds[k]->count : 0;
    }
    return outcome;
}

/* A way with the spots of its kinds; what is better than what there is takes its place. */
static enum outcome pack_kinds(struct trying *trying, const struct try *try,
                               struct misses *const *kinds, bool listed, bool *undecided) {
    const struct crowd *crowd = trying->crowd;
    const struct outlook *outlook = &trying->tries[try->like].outlook;
    struct misses_answer tried = {.way = try->way, .end = PACKING_UNDECIDED};
    enum outcome outcome = OUTCOME_DONE;
    const struct worth than = trying->answer->worth;
    for (size_t b = 0; b < crowd->roof->bracket_count && listed; b++)
        tried.misses[b] = misses_share(kinds[outlook_kind(outlook, crowd, try->levels, b)]);
    if (listed)
        outcome = misses_pack(crowd, try->levels, found(trying->answer) ? &than : NULL, &tried);
    if (found(&tried))
        trying->most = fmin(trying->most, tried.worth.lack);
    *undecided = *undecided || tried.end == PACKING_UNDECIDED;
    if (found(&tried))
        keep_better(trying->answer, &tried, crowd->roof->bracket_count);
    misses_free_all(tried.misses, crowd->roof->bracket_count);
    return outcome;
}

/* Nothing is known of some way to have the rungs. */
static void leave_open(struct misses_answer *answer) {
    answer->end = found(answer) ? PACKING_FOUND : PACKING_UNDECIDED;
}

/* How much more than the least all are let lack, one time after the other. */
static const double steps[] = {0, 0.25, 1, 2, 4, 8, 16, 32, 64, INFINITY};
enum { STEPS = sizeof steps / sizeof *steps };

/* Every way with as many brackets of each kind as the first of them, once.  If all lack no more
 * than so much together, each stands where it may lack no more than what the others leave of that;
 * so few spots are packed first, then more of them, until no layout that could be better is left
 * out. */
static enum outcome step_alike(struct trying *trying, struct try *first) {
    const double beyond = fmin(steps[first->step++], trying->most - first->sum);
    struct misses *kinds[PROSPECTS_MOST] = {NULL};
    bool listed, undecided;
    first->done = beyond < -LENGTH_TOLERANCE;
    if (first->done)
        return OUTCOME_DONE;
    enum outcome outcome = gather_kinds(trying->crowd, &first->outlook,
                                        first->sum + beyond + LENGTH_TOLERANCE, kinds, &listed);
    undecided = !listed;
    for (size_t t = 0; t < trying->count && outcome == OUTCOME_DONE; t++)
        if (trying->tries[t].like == first->like)
            outcome = pack_kinds(trying, &trying->tries[t], kinds,
                                 listed && !crowd_late(trying->crowd), &undecided);
    first->reach = first->sum + beyond;
    first->done = undecided || trying->most <= first->reach + LENGTH_TOLERANCE;
    misses_free_all(kinds, PROSPECTS_MOST);
    if (undecided)
        leave_open(trying->answer);
    return outcome;
}

/* A way without an outlook.  What all brackets lack together is at least the sum of what each lacks
 * alone; a layout that lacks so much more keeps each of them within as much of its own least. */
static enum outcome try_alone(struct trying *trying, const struct try *try) {
    const struct crowd *crowd = trying->crowd;
    const size_t count = crowd->roof->bracket_count;
    struct misses_answer best = {.end = PACKING_NONE, .way = try->way};
    enum outcome outcome = OUTCOME_DONE;
    bool whole = false;
    for (int i = 0; i < STEPS && outcome == OUTCOME_DONE && !whole; i++) {
        const double beyond = fmin(steps[i], trying->most - try->sum);
        struct misses_answer tried = {.way = try->way, .end = PACKING_UNDECIDED};
        double most[ROOF_BRACKETS_MOST] = {0};
        bool listed;
        for (size_t b = 0; b < count; b++)
            most[b] = try->least[b] + beyond + LENGTH_TOLERANCE;
        outcome = gathered_find(crowd, &trying->store, try->levels, most, tried.misses, &listed);
        if (outcome == OUTCOME_DONE && listed)
            outcome = misses_pack(crowd, try->levels, NULL, &tried);
        if (found(&tried))
            trying->most = fmin(trying->most, tried.worth.lack);
        whole =
            trying->most - try->sum <= beyond + LENGTH_TOLERANCE || tried.end == PACKING_UNDECIDED;
        if (whole || found(&tried))
            keep_better(&best, &tried, count);
        misses_free_all(tried.misses, count);
    }
    keep_better(trying->answer, &best, count);
    return outcome;
}

/* The one that may lack least, by what has been looked at; those without an outlook last. */
static struct try *next_try(struct trying *trying) {
    struct try *next = NULL;
    for (size_t t = 0; t < trying->count; t++) {
        struct try *try = &trying->tries[t];
        if (!try->done && try->like == t && (!next || try->reach < next->reach))
            next = try;
    }
    return next;
}

static enum outcome try_all(struct trying *trying) {
    enum outcome outcome = OUTCOME_DONE;
    for (struct try *try = next_try(trying); try && outcome == OUTCOME_DONE;
         try = next_try(trying)) {
        if (crowd_late(trying->crowd)) { /* ways may be many, and each takes a while to see that */
            leave_open(trying->answer);
            break;
        }
        if (try->listed && try->outlook.known) {
            outcome = step_alike(trying, try);
            continue;
        }
        try->done = true;
        if (try->listed)
            outcome = try_alone(trying, try);
        else
            leave_open(trying->answer);
    }
    return outcome;
}

enum outcome by_misses(const struct crowd *crowd, const struct rungs *rungs, double most,
                       struct misses_answer *answer) {
    struct trying *trying = calloc(1, sizeof *trying);
    *answer = (struct misses_answer){.end = PACKING_NONE};
    if (trying)
        trying->tries = calloc(rungs->count + 1, sizeof *trying->tries);
    if (!trying || !trying->tries) {
        free(trying);
        return OUTCOME_FAULT;
    }
    trying->crowd = crowd;
    trying->most = most;
    trying->answer = answer;
    enum outcome outcome = OUTCOME_DONE;
    for (size_t way = 0; way < rungs->count && outcome == OUTCOME_DONE; way++)
        outcome = begin_try(trying, rungs, way);
    if (outcome == OUTCOME_DONE)
        outcome = try_all(trying);
    for (size_t t = 0; t < trying->count; t++)
        outlook_free(&trying->tries[t].outlook);
    store_free(&trying->store);
    outlooks_free(&trying->outlooks);
    free(trying->tries);
    free(trying);
    return outcome;
}

void misses_answer_free(struct misses_answer *answer) {
    misses_free_all(answer->misses, ROOF_BRACKETS_MOST);
}
