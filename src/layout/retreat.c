#include "retreat.h"

#include "length.h"
#include "misses_pack.h"
#include "places.h"

#include <math.h>

/* Room only grows; what is not in its place by then will not be. */
enum { RETREATS_MOST = 24 };
/* Of the time left, what reading one packing may take. */
#define SHARE_THERE 0.2

bool retreat_is_better(const struct roof *roof, const struct layout *a, const struct layout *b) {
    const double levels = a->forgiveness - b->forgiveness, lacks = b->shortfall - a->shortfall;
    const double cost =
        b->moved - a->moved + roof->hole_worth * ((double)b->holes - (double)a->holes);
    if (fabs(levels) > LENGTH_TOLERANCE)
        return levels > 0;
    return fabs(lacks) > LENGTH_TOLERANCE ? lacks > 0 : cost > 0;
}

/* A packing with that room: with the rungs that there would be without, or, if there is none or
 * any will do, the best worst one. */
static enum outcome pack_wider(const struct crowd *crowd, const struct rungs *rungs,
                               enum effort effort, struct rungs *met) {
    struct rungs_packing packing = {.stands = {NULL}};
    const size_t ways = rungs->count > 0 ? rungs->count : 1;
    enum outcome outcome = OUTCOME_DONE;
    *met = (struct rungs){.count = 0};
    for (size_t way = 0; way < ways && outcome == OUTCOME_DONE && !met->has_packing; way++) {
        const double *levels = rungs->count > 0 ? rungs->levels[way] : rungs->packed_at;
        outcome = rungs_pack(crowd, levels, effort, &packing);
        if (outcome == OUTCOME_DONE && packing_there(packing.end))
            rungs_meet(met, levels, &packing);
        rungs_packing_free(&packing);
    }
    if (outcome == OUTCOME_DONE && !met->has_packing && effort != EFFORT_BEST)
        outcome = rungs_find_worst(crowd, met);
    return outcome;
}

/* Below zero it is still anybody's choice where lines and lags lie, and what is lacked. */
static enum outcome read_missing(const struct crowd *crowd, const struct rungs *met,
                                 struct layout **layout) {
    struct misses_answer there;
    const struct terms part = terms_in_part(crowd->subject, SHARE_THERE);
    struct crowd soon = *crowd;
    soon.subject = (void *)&part;
    enum outcome outcome = misses_there(&soon, met->packed_at, met->packing.placed, &there);
    if (outcome == OUTCOME_DONE && packing_there(there.end)) {
        struct stands *stands[ROOF_BRACKETS_MOST] = {NULL};
        for (size_t b = 0; b < crowd->roof->bracket_count; b++)
            stands[b] = there.misses[b]->stands;
        if (!places_read(crowd->roof, stands, met->packed_at, there.placed, layout))
            outcome = OUTCOME_FAULT;
    }
    misses_answer_free(&there);
    return outcome;
}

/* One reading of a packing, in the place of a worse one; NULL: there is none. */
static enum outcome hold_better(const struct crowd *crowd, struct layout *made,
                                struct layout **layout, bool *held) {
    bool holds = false;
    if (!made)
        return OUTCOME_DONE;
    const enum outcome outcome = places_hold(crowd->roof, &made, crowd->widened, &holds);
    if (outcome != OUTCOME_DONE || !made ||
        (*layout && !holds && !retreat_is_better(crowd->roof, made, *layout))) {
        layout_free(made);
        return outcome;
    }
    made->state = LAYOUT_FEASIBLE;
    layout_free(*layout);
    *layout = made;
    *held = holds;
    return OUTCOME_DONE;
}

enum outcome retreat_read(const struct crowd *crowd, const struct rungs *met,
                          struct layout **layout, bool *held) {
    struct layout *made = NULL;
    double worst = 0;
    enum outcome outcome = OUTCOME_DONE;
    for (size_t b = 0; b < crowd->roof->bracket_count; b++)
        worst = length_lesser(worst, met->packed_at[b]);
    *layout = NULL;
    *held = false;
    if (worst < -LENGTH_TOLERANCE)
        outcome = read_missing(crowd, met, &made);
    if (outcome == OUTCOME_DONE)
        outcome = hold_better(crowd, made, layout, held);
    if (outcome != OUTCOME_DONE || *held)
        return outcome;
    /* Lines and lags that lack least may be in each other's way where those of the packing are not.
     */
    if (!places_read(crowd->roof, met->packing.stands, met->packed_at, met->packing.placed, &made))
        return OUTCOME_FAULT;
    return hold_better(crowd, made, layout, held);
}

void retreat_keep_better(const struct roof *roof, struct stands_answer *answer,
                         struct layout *layout, bool held) {
    if (!layout || (answer->layout && !retreat_is_better(roof, layout, answer->layout))) {
        layout_free(layout);
        return;
    }
    layout_free(answer->layout);
    answer->layout = layout;
    answer->held = held;
}

/* One packing with the room that marks have shown to be needed so far; *end: there is no use in
 * another one. */
static enum outcome step_back(const struct crowd *crowd, enum effort effort,
                              struct stands_answer *answer, bool *end) {
    struct rungs met;
    struct layout *layout = NULL;
    bool holds = false;
    enum outcome outcome = pack_wider(crowd, &answer->rungs, effort, &met);
    *end = !met.has_packing;
    if (outcome == OUTCOME_DONE && !*end)
        outcome = retreat_read(crowd, &met, &layout, &holds);
    rungs_free(&met);
    if (outcome != OUTCOME_DONE)
        return outcome;
    *end = *end || holds;
    if (layout) {
        layout->bound_forgiveness = rungs_most(crowd, &answer->rungs);
        layout->bound_cost = -INFINITY;
    }
    retreat_keep_better(crowd->roof, answer, layout, holds);
    return OUTCOME_DONE;
}

enum outcome retreat(const struct crowd *crowd, struct stands_answer *answer) {
    struct crowd wide = *crowd;
    enum outcome outcome = OUTCOME_DONE;
    bool end = false;
    wide.wider = (const double(*)[ROOF_BRACKETS_MOST][ROOF_BRACKETS_MOST])crowd->widened;
    for (int i = 0; i < RETREATS_MOST && outcome == OUTCOME_DONE && !end; i++) {
        outcome = step_back(&wide, EFFORT_GLANCE, answer, &end);
        end = end || crowd_late(crowd);
    }
    /* With the room that did, as near as possible to what is wanted. */
    if (outcome == OUTCOME_DONE && answer->held)
        outcome = step_back(&wide, EFFORT_BEST, answer, &end);
    return outcome;
}
