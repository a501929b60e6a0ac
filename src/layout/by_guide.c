#include "by_guide.h"

#include "complete.h"
#include "crowding.h"
#include "deepen.h"
#include "length.h"

#include <math.h>
#include <string.h>

static struct terms lenient_terms(const struct terms *terms) {
    struct terms own = *terms;
    own.lenient = true;
    return own;
}

/* What no layout betters: the forgiveness of each bracket, worst first, and where all of that is
 * known what is lacked, and then the cost. */
struct bound {
    double worst, ladder[ROOF_BRACKETS_MOST], lack, cost;
    bool has_ladder;
};

/* What is proved of a layout without pipes is so with them. */
static struct bound bound_of(const struct roof *bare, const struct layout *layout) {
    struct bound bound = {.worst = layout->bound_forgiveness, .cost = -INFINITY};
    if (layout->state != LAYOUT_PROVED)
        return bound;
    bound.has_ladder = true;
    memcpy(bound.ladder, layout->bracket_forgiveness, bare->bracket_count * sizeof *bound.ladder);
    rungs_sort(bound.ladder, bare->bracket_count);
    bound.lack = layout->shortfall;
    bound.cost = layout->moved + bare->hole_worth * (double)layout->holes;
    return bound;
}

/* One bracket has what it has alone. */
static enum outcome find_rungs(const struct crowd *crowd, struct rungs *rungs) {
    if (crowd->roof->bracket_count > 1)
        return rungs_find(crowd, rungs);
    rungs->has_worst = true;
    rungs->worst = crowd->ceilings[0];
    return rungs_add(rungs, crowd->ceilings) ? OUTCOME_DONE : OUTCOME_FAULT;
}

/* By stands of which some may not hold; below zero only the worst. */
static enum outcome find_bound(const struct roof *roof, const struct terms *terms,
                               struct bound *bound) {
    struct stands_answer answer = {.layout = NULL};
    struct packed packed = {.found = false};
    struct cuts cuts = {.list = NULL};
    const struct terms own = lenient_terms(terms);
    struct crowd crowd = {.roof = roof,
                          .limits = terms->limits,
                          .stands = answer.stands,
                          .cuts = &cuts,
                          .lenient = true,
                          .arms = terms->arms ? *terms->arms : ENDS_NONE,
                          .most = INFINITY,
                          .least = -INFINITY,
                          .rack = terms->rack,
                          .stop = deepen_late,
                          .subject = (void *)&own};
    bool good;
    *bound = (struct bound){.worst = roof->enough, .cost = -INFINITY};
    enum outcome outcome = crowding_list(roof, &own, &answer, &crowd, &good);
    if (outcome == OUTCOME_DONE && good)
        outcome = find_rungs(&crowd, &answer.rungs);
    if (outcome == OUTCOME_DONE && good)
        bound->worst = rungs_most(&crowd, &answer.rungs);
    if (outcome == OUTCOME_DONE && answer.rungs.count > 0 && length_holds(answer.rungs.worst)) {
        bound->has_ladder = true;
        memcpy(bound->ladder, answer.rungs.levels[0], sizeof bound->ladder);
        rungs_sort(bound->ladder, roof->bracket_count);
        outcome = crowding_pack(&crowd, &answer.rungs, false, &packed);
        if (packed.found) /* otherwise rungs and packings differ by a rounding: nothing is said */
            bound->cost = packed.bound;
    }
    rungs_packing_free(&packed.packing);
    stands_answer_free(&answer);
    cuts_free(&cuts);
    return outcome;
}

/* True where the layout has all that there can be. */
static bool keep_bound(const struct roof *roof, const struct bound *bound, struct layout *layout) {
    double own[ROOF_BRACKETS_MOST];
    const size_t count = roof->bracket_count;
    const double cost = layout->moved + roof->hole_worth * (double)layout->holes;
    bool all = bound->has_ladder;
    memcpy(own, layout->bracket_forgiveness, count * sizeof *own);
    rungs_sort(own, count);
    for (size_t i = 0; i < count && all; i++)
        all = length_holds(own[i] - bound->ladder[i]);
    all = all && length_holds(bound->lack - layout->shortfall);
    layout->bound_forgiveness = length_lesser(layout->bound_forgiveness, bound->worst);
    layout->bound_cost =
        all ? bound->cost + roof->hole_worth * (double)roof->pipe_count : -INFINITY;
    all = all && length_holds(layout->bound_cost - cost);
    layout->state = all ? LAYOUT_PROVED : LAYOUT_FEASIBLE;
    return all;
}

/* Pipes need this part of the time. */
#define SHARE_COMPLETE 0.4

/* Where stands are no more than a guide: brackets without their pipes, and then those. */
static enum outcome answer_guided(const struct roof *roof, const struct terms *terms,
                                  struct stands_answer *answer) {
    const struct roof bare = complete_bare(roof);
    const bool whole = roof->pipe_count == 0;
    const struct terms part = terms_in_part(terms, whole ? 1 : 1 - SHARE_COMPLETE);
    struct layout *layout = NULL;
    enum outcome outcome = by_stands(&bare, &part, answer);
    const bool certain = stands_apply(&bare);
    struct bound bound = {.has_ladder = false};
    if (outcome == OUTCOME_DONE && answer->layout && certain)
        bound = bound_of(&bare, answer->layout);
    if (outcome == OUTCOME_DONE && answer->layout && !whole) {
        outcome = complete_brackets(roof, terms, answer->layout, &layout);
        layout_free(answer->layout);
        answer->layout = layout;
    }
    stands_answer_strip(roof, terms, answer);
    if (outcome != OUTCOME_DONE || !answer->layout)
        return outcome;
    if (!certain)
        outcome = find_bound(&bare, terms, &bound);
    answer->last_word = keep_bound(roof, &bound, answer->layout);
    return outcome;
}

enum outcome by_guide(const struct roof *roof, const struct terms *terms,
                      struct stands_answer *answer) {
    *answer = (struct stands_answer){.layout = NULL};
    if (terms->pinned_count > 0 || terms->plain)
        return OUTCOME_DONE;
    if (stands_apply(roof))
        return by_stands(roof, terms, answer);
    return stands_guide(roof) ? answer_guided(roof, terms, answer) : OUTCOME_DONE;
}
