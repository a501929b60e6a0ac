/* The spots of a company's brackets at a level, kept for as long as the same levels come up. */
#include "rungs.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>

/* Longer lists are cut down to what matters at the level. */
enum { WHOLE_MOST = 3000 };
/* So many cuts, or stands in all of them (some hundred bytes each), are kept. */
enum { CUTS_MOST = 400, CUT_STANDS_MOST = 200000 };

static void cut_free(struct cut *cut) {
    stands_free(cut->stands);
    free(cut->spots);
    free(cut->arms);
    free(cut->strips.list);
}

static void forget(struct cuts *cuts) {
    for (size_t i = 0; i < cuts->count; i++)
        cut_free(&cuts->list[i]);
    cuts->count = cuts->stands = 0;
}

void cuts_free(struct cuts *cuts) {
    forget(cuts);
    free(cuts->list);
    *cuts = (struct cuts){.list = NULL};
}

void cuts_tidy(struct cuts *cuts) {
    if (cuts->count > CUTS_MOST || cuts->stands > CUT_STANDS_MOST)
        forget(cuts);
}

size_t crowd_like(const struct crowd *crowd, size_t b) {
    for (size_t a = 0; a < b; a++)
        if (crowd->stands[a] == crowd->stands[b])
            return a;
    return b;
}

struct arm (*arms_list(const struct stands *stands, double level, const struct strips *strips,
                       bool all))[ROW_COUNT] {
    struct arm(*list)[ROW_COUNT] = calloc(stands->count + 1, sizeof *list);
    for (size_t i = 0; i < stands->count && list; i++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            list[i][row] = stands_arm(stands, i, (enum row)row, level, strips, all);
    return list;
}

struct arms arms_of(const struct crowd *crowd, size_t b, const struct arm (*list)[ROW_COUNT]) {
    const struct kit *kit = roof_kit(crowd->roof, b);
    const struct flashing *flashing = &kit->flashing;
    return (struct arms){.list = list,
                         .end = kit->strut_end,
                         .half = kit->strut_half,
                         .side = flashing->width / 2,
                         .up = flashing->height - flashing->hole_up,
                         .down = flashing->hole_up};
}

/* From the list that there is, if it goes so far down and is short; otherwise by a cut. */
static enum outcome find_spots(const struct crowd *crowd, size_t b, double level, struct cut *cut) {
    struct stands *whole = crowd->stands[b];
    enum outcome outcome = OUTCOME_DONE;
    if (!whole->crowded && level >= whole->least && whole->count <= WHOLE_MOST) {
        cut->stands = stands_share(whole);
    } else {
        const struct stands_ask ask = crowd_ask(crowd, b);
        outcome = stands_cut(&ask, level, &cut->stands);
    }
    cut->listed = outcome == OUTCOME_DONE && !cut->stands->crowded;
    if (outcome == OUTCOME_DONE && !cut->listed && !whole->crowded && whole->count > 0) {
        stands_free(cut->stands); /* too many: then those that are known already */
        cut->stands = stands_share(whole);
        cut->listed = cut->partial = true;
    }
    if (cut->listed)
        outcome = stands_at(cut->stands, level, false, &cut->spots, &cut->count);
    if (outcome == OUTCOME_DONE && cut->listed && crowd->arms) {
        if (stands_strips(crowd->roof, b, level, &cut->strips))
            cut->arms = arms_list(cut->stands, level, &cut->strips, crowd->arms == ENDS_ALL);
        outcome = cut->arms ? OUTCOME_DONE : OUTCOME_FAULT;
    }
    return outcome;
}

static struct cut *find(const struct cuts *cuts, size_t like, double level, bool lacking) {
    for (size_t i = 0; i < cuts->count; i++)
        if (cuts->list[i].like == like && cuts->list[i].lacking == lacking &&
            length_same(cuts->list[i].level, level))
            return &cuts->list[i];
    return NULL;
}

/* False without memory; its lists are freed then. */
static bool keep(struct cuts *cuts, struct cut *made) {
    struct cut *list = grow_list(cuts->list, &cuts->room, cuts->count, sizeof *cuts->list);
    if (!list) {
        cut_free(made);
        return false;
    }
    cuts->list = list;
    cuts->list[cuts->count++] = *made;
    cuts->stands += made->stands->holders > 1 ? 0 : made->stands->count; /* a list of its own */
    return true;
}

enum outcome cuts_find(const struct crowd *crowd, size_t b, double level, struct cut *found) {
    const size_t like = crowd_like(crowd, b);
    const struct cut *known = find(crowd->cuts, like, level, false);
    struct cut made = {.like = like, .level = level};
    if (known) {
        *found = *known;
        return OUTCOME_DONE;
    }
    const enum outcome outcome = find_spots(crowd, b, level, &made);
    if (outcome != OUTCOME_DONE) {
        cut_free(&made);
        return outcome;
    }
    *found = made;
    return keep(crowd->cuts, &made) ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome cuts_lacking(const struct crowd *crowd, size_t b, double level,
                          struct stands **stands) {
    const size_t like = crowd_like(crowd, b);
    const struct cut *known = find(crowd->cuts, like, level, true);
    struct cut made = {.like = like, .level = level, .lacking = true};
    const struct stands_ask ask = crowd_ask(crowd, b);
    enum outcome outcome = known ? OUTCOME_DONE : stands_lacking(&ask, level, &made.stands);
    if (outcome == OUTCOME_DONE && !known && !keep(crowd->cuts, &made))
        outcome = OUTCOME_FAULT;
    if (outcome != OUTCOME_DONE)
        return outcome;
    *stands = known ? known->stands : made.stands;
    if ((*stands)->crowded)
        *stands = NULL;
    return OUTCOME_DONE;
}
