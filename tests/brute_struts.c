/* Every way to lag and clamp a strut. */
#include "brute_search.h"

#include <math.h>
#include <stdlib.h>

#define SAME 1e-9 /* inches: equal lengths from inches and from millimetres */

struct lister {
    const struct roof *roof;
    const struct kit *kit;
    struct brute_strut now, *list;
    size_t count, room;
    bool failed;
};

static void keep(struct lister *lister) {
    if (lister->count == lister->room) {
        size_t room = 2 * lister->room + 64;
        struct brute_strut *list = realloc(lister->list, room * sizeof *list);
        if (!list) {
            lister->failed = true;
            return;
        }
        lister->list = list;
        lister->room = room;
    }
    lister->list[lister->count++] = lister->now;
}

/* The lags are set: each clamp on either side of its leg. */
static void clamp_legs(struct lister *lister) {
    for (unsigned sides = 0; sides < 1u << lister->kit->leg_count; sides++) {
        for (size_t leg = 0; leg < lister->kit->leg_count; leg++)
            lister->now.far[leg] = (sides >> leg & 1) != 0;
        keep(lister);
    }
}

/* The least from one ply to another, at whatever height. */
static double apart(const struct roof *roof, const struct ply *from, const struct ply *to) {
    return fmin(to->at - from->at, to->at - from->at + (to->lean - from->lean) * roof->slope);
}

/* Where plies lean, what is let through here may still be too far apart at the strut's height. */
static bool within_reach(const struct lister *lister, const struct ply *ply) {
    const struct roof *roof = lister->roof;
    const struct kit *kit = lister->kit;
    const struct ply *first = &roof->plies[lister->now.lags[0]];
    const struct ply *before = &roof->plies[lister->now.lags[lister->now.count - 1]];
    return apart(roof, before, ply) <= kit->span + SAME &&
           apart(roof, first, ply) + 2 * kit->strut_end <= kit->stock[kit->stock_count - 1] + SAME;
}

static void lag_next(struct lister *lister) {
    const struct roof *roof = lister->roof;
    if (lister->now.count >= 2)
        clamp_legs(lister);
    if (lister->now.count == BRUTE_LAGS_MOST) {
        lister->failed = true;
        return;
    }
    size_t rafter = roof->plies[lister->now.lags[lister->now.count - 1]].rafter + 1;
    for (; rafter < roof->rafter_count; rafter++) {
        const struct rafter *member = &roof->rafters[rafter];
        for (size_t i = 0; i < member->ply_count; i++) {
            if (!within_reach(lister, &roof->plies[member->first_ply + i]))
                continue;
            lister->now.lags[lister->now.count++] = member->first_ply + i;
            lag_next(lister);
            lister->now.count--;
        }
        if (member->sound && lister->kit->every_rafter)
            break; /* none is skipped */
    }
}

bool brute_struts_list(const struct roof *roof, size_t bracket, struct brute_strut **struts,
                       size_t *count) {
    struct lister lister = {.roof = roof, .kit = roof_kit(roof, bracket)};
    for (size_t i = 0; i < roof->ply_count; i++) {
        lister.now.lags[0] = i;
        lister.now.count = 1;
        lag_next(&lister);
    }
    if (lister.failed) {
        free(lister.list);
        return false;
    }
    *struts = lister.list;
    *count = lister.count;
    return true;
}
