#include "by_stands.h"

#include "by_misses.h"
#include "crowding.h"
#include "deepen.h"
#include "length.h"
#include "places.h"
#include "retreat.h"
#include "stands.h"

#include <math.h>
#include <stdlib.h>

static double nearest(struct interval at, double want) {
    return fmax(at.lo, fmin(at.hi, want));
}

/* The packing as a layout: the last word if it holds together. */
static enum outcome answer_packed(const struct crowd *crowd, const struct packed *packed,
                                  struct stands_answer *answer) {
    bool holds = false;
    struct layout *layout = NULL;
    const struct rungs_packing *packing = &packed->packing;
    if (!places_read(crowd->roof, packing->stands, packed->levels, packing->placed, &layout))
        return OUTCOME_FAULT;
    const enum outcome outcome = places_hold(crowd->roof, &layout, crowd->widened, &holds);
    if (outcome != OUTCOME_DONE)
        layout_free(layout);
    answer->held = outcome == OUTCOME_DONE && holds;
    answer->crossed = outcome == OUTCOME_DONE && !holds;
    if (outcome != OUTCOME_DONE || !layout)
        return outcome;
    if (answer->layout && !holds && !retreat_is_better(crowd->roof, layout, answer->layout)) {
        layout_free(layout);
        return OUTCOME_DONE;
    }
    layout_free(answer->layout);
    answer->last_word = holds && layout->forgiveness >= -LENGTH_TOLERANCE;
    if (answer->last_word)
        layout->shortfall = 0;
    if (!packed->proved || !answer->last_word) {
        layout->state = LAYOUT_FEASIBLE;
        layout->bound_cost = answer->last_word ? packed->bound : -INFINITY;
    }
    answer->layout = layout;
    return OUTCOME_DONE;
}

/* The best packing of nearest misses as a layout: the last word where the check bears it out. */
static enum outcome answer_missed(const struct crowd *crowd, const struct rungs *rungs,
                                  const struct misses_answer *missed,
                                  struct stands_answer *answer) {
    struct layout *layout = NULL;
    struct stands *stands[ROOF_BRACKETS_MOST] = {NULL};
    bool holds = false;
    for (size_t b = 0; b < crowd->roof->bracket_count; b++)
        stands[b] = missed->misses[b]->stands;
    if (!places_read(crowd->roof, stands, rungs->levels[missed->way], missed->placed, &layout))
        return OUTCOME_FAULT;
    const enum outcome outcome = places_hold(crowd->roof, &layout, NULL, &holds);
    if (outcome != OUTCOME_DONE || !layout) {
        layout_free(layout);
        return outcome;
    }
    const bool borne_out = holds && layout->shortfall <= missed->worth.lack + LENGTH_TOLERANCE;
    answer->crossed = answer->crossed || !borne_out;
    if (answer->layout && !borne_out && !retreat_is_better(crowd->roof, layout, answer->layout)) {
        layout_free(layout);
        return OUTCOME_DONE;
    }
    answer->held = holds;
    answer->last_word = borne_out && missed->end == PACKING_PROVED && !rungs->partial;
    if (!answer->last_word) {
        layout->state = LAYOUT_FEASIBLE;
        layout->bound_cost = -INFINITY;
    }
    layout_free(answer->layout);
    answer->layout = layout;
    return OUTCOME_DONE;
}

static enum outcome miss_nearest(const struct crowd *crowd, const struct rungs *rungs,
                                 struct stands_answer *answer) {
    struct misses_answer missed;
    const double most = answer->layout && answer->held ? answer->layout->shortfall : INFINITY;
    enum outcome outcome = by_misses(crowd, rungs, most, &missed);
    if (outcome == OUTCOME_DONE && packing_there(missed.end))
        outcome = answer_missed(crowd, rungs, &missed, answer);
    misses_answer_free(&missed);
    return outcome;
}

/* Not all rungs were found in time: what packed on the way is a layout all the same. */
static enum outcome answer_met(const struct crowd *crowd, struct stands_answer *answer) {
    const struct rungs *rungs = &answer->rungs;
    struct layout *layout = NULL;
    bool held = false;
    const enum outcome outcome = retreat_read(crowd, rungs, &layout, &held);
    if (layout) {
        layout->bound_forgiveness = rungs_most(crowd, rungs);
        layout->bound_cost = -INFINITY;
    }
    if (outcome == OUTCOME_DONE)
        retreat_keep_better(crowd->roof, answer, layout, held);
    answer->crossed = !answer->held;
    return outcome;
}

/* The rungs are known: the best layout that has them. */
static enum outcome answer_rungs(const struct crowd *crowd, struct stands_answer *answer) {
    const bool blocked = answer->rungs.worst < -LENGTH_TOLERANCE;
    struct packed packed;
    enum outcome outcome = crowding_pack(crowd, &answer->rungs, blocked, &packed);
    if (outcome == OUTCOME_DONE && packed.found)
        outcome = answer_packed(crowd, &packed, answer);
    rungs_packing_free(&packed.packing);
    if (outcome == OUTCOME_DONE && blocked)
        outcome = miss_nearest(crowd, &answer->rungs, answer);
    return outcome;
}

/* A quick search keeps this part of its time for marks that turn out to be in each other's way; of
 * many brackets half of it, and any search of them some. */
#define SHARE_RETREAT 0.25
#define SHARE_RETREAT_MANY_QUICK 0.5
#define SHARE_RETREAT_MANY 0.1
enum { FEW = 8 };

/* What packings may take of the time. */
static struct terms but_retreat(const struct roof *roof, const struct terms *terms) {
    const bool quick = terms->quick > 0, many = roof->bracket_count > FEW;
    const double share = many ? (quick ? SHARE_RETREAT_MANY_QUICK : SHARE_RETREAT_MANY)
                              : (quick ? SHARE_RETREAT : 0);
    return terms_in_part(terms, 1 - share);
}

/* So many take long to be looked at rung by rung. */
enum { PROBED = 6 };

/* The worst rung, with what is known of it. */
static enum outcome find_worst(const struct crowd *crowd, bool upwards,
                               struct stands_answer *answer) {
    struct crowd own = *crowd;
    const struct rungs *rungs = &answer->rungs;
    own.most = rungs_most(crowd, rungs);
    own.upwards = upwards;
    for (size_t b = 0; b < crowd->roof->bracket_count && upwards; b++)
        own.least = b == 0 ? rungs->packed_at[0] : length_lesser(own.least, rungs->packed_at[b]);
    return rungs_find_worst(&own, &answer->rungs);
}

/* Not only the worst rung, which is known. */
static enum outcome find_all(const struct crowd *crowd, struct stands_answer *answer) {
    struct crowd own = *crowd;
    own.least = own.most = answer->rungs.worst;
    return rungs_find(&own, &answer->rungs);
}

/* Whether ends that are not looked at cross in what was met. */
static enum outcome probe(const struct crowd *late, struct stands_answer *answer) {
    return answer->rungs.has_packing ? answer_met(late, answer) : OUTCOME_DONE;
}

/* The worst rung of so many that proofs take long: what can be packed soon, and whether that
 * crosses what is not looked at, comes first; then whether there is anything above it. */
static enum outcome find_worst_of_many(const struct crowd *crowd, const struct crowd *late,
                                       bool closest, struct stands_answer *answer) {
    struct crowd hasty = *crowd;
    hasty.hasty = true;
    enum outcome outcome = rungs_find_worst(&hasty, &answer->rungs);
    if (outcome == OUTCOME_DONE && !closest)
        outcome = probe(late, answer);
    if (outcome != OUTCOME_DONE || answer->crossed || answer->rungs.has_worst)
        return outcome;
    if (answer->rungs.has_packing)
        outcome = find_worst(crowd, true, answer);
    if (outcome == OUTCOME_DONE && !answer->rungs.has_worst)
        outcome = find_worst(crowd, false, answer);
    return outcome == OUTCOME_DONE && !closest ? probe(late, answer) : outcome;
}

/* How rungs are sought. */
enum seeking { SEEK_GLANCE, SEEK_MANY, SEEK_ALL };

/* Where not all are found what was met is read.  late: of what is left to do after the search. */
static enum outcome find_rungs(const struct crowd *crowd, const struct crowd *late,
                               enum seeking how, bool closest, struct stands_answer *answer) {
    enum outcome outcome = how == SEEK_GLANCE ? rungs_find_worst(crowd, &answer->rungs)
                           : how == SEEK_MANY ? find_worst_of_many(crowd, late, closest, answer)
                                              : rungs_find(crowd, &answer->rungs);
    if (outcome == OUTCOME_DONE && how == SEEK_GLANCE)
        return probe(late, answer);
    /* Where the worst rung was not found there is no use in looking for it again. */
    if (how == SEEK_MANY && !closest && (answer->crossed || !answer->rungs.has_worst))
        return outcome;
    if (outcome == OUTCOME_DONE && how == SEEK_MANY && answer->rungs.has_worst)
        outcome = find_all(crowd, answer);
    if (outcome == OUTCOME_DONE && answer->rungs.count == 0)
        outcome = probe(late, answer);
    return outcome;
}

/* Several brackets that are in each other's way, with a look at some of what their struts and feet
 * reach; most: the worst of them has no more. */
static enum outcome pack_many(const struct roof *roof, const struct terms *terms, enum ends arms,
                              double most, struct stands_answer *answer) {
    struct cuts cuts = {.list = NULL};
    places_room *wider = calloc(2, sizeof *wider);
    if (!wider)
        return OUTCOME_FAULT;
    struct crowd crowd = {.roof = roof,
                          .limits = terms->limits,
                          .stands = answer->stands,
                          .cuts = &cuts,
                          .widened = wider,
                          .arms = arms,
                          .most = most,
                          .least = -INFINITY,
                          .lenient = terms->lenient,
                          .near = terms->near,
                          .rack = terms->rack,
                          .stop = deepen_late,
                          .subject = (void *)terms};
    bool good;
    const struct terms part = but_retreat(roof, terms);
    enum outcome outcome = crowding_list(roof, &part, answer, &crowd, &good);
    answer->most = most;
    struct crowd soon = crowd;
    soon.subject = (void *)&part;
    const bool glance = terms->quick > 0 && roof->bracket_count > FEW;
    const enum seeking how = glance                          ? SEEK_GLANCE
                             : roof->bracket_count >= PROBED ? SEEK_MANY
                                                             : SEEK_ALL;
    if (outcome == OUTCOME_DONE && good)
        outcome = find_rungs(&soon, &crowd, how, arms >= terms->closest, answer);
    if (outcome == OUTCOME_DONE && answer->rungs.count > 0)
        outcome = answer_rungs(&soon, answer);
    if (outcome == OUTCOME_DONE && answer->rungs.has_packing && !answer->held &&
        (arms == terms->closest || !answer->crossed))
        outcome = retreat(&crowd, answer);
    if (good)
        answer->most = rungs_most(&crowd, &answer->rungs);
    cuts_free(&cuts);
    free(wider);
    return outcome;
}

/* The last word takes the place of any layout, a better layout that of another one. */
static void keep_closer(const struct roof *roof, struct stands_answer *closer,
                        struct stands_answer *answer) {
    if (closer->last_word || !answer->layout ||
        (closer->layout && retreat_is_better(roof, closer->layout, answer->layout))) {
        const struct stands_answer worse = *answer;
        *answer = *closer;
        *closer = worse;
    }
    layout_free(closer->layout);
    stands_answer_free(closer);
}

/* Of many it would take too long to see once more that ends matter. */
static enum ends first_look(const struct roof *roof, const struct terms *terms) {
    const bool known = terms->arms && !(terms->quick > 0) && roof->bracket_count >= PROBED;
    return known ? *terms->arms : ENDS_NONE;
}

/* Without a look at what struts and feet reach; with a closer one where that turns out to be in the
 * way. */
static enum outcome answer_many(const struct roof *roof, const struct terms *terms,
                                struct stands_answer *answer) {
    enum ends arms = first_look(roof, terms);
    double most = terms->most ? *terms->most : INFINITY;
    enum outcome outcome = pack_many(roof, terms, arms, most, answer);
    bool crossed = answer->crossed;
    most = length_lesser(most, answer->most);
    while (outcome == OUTCOME_DONE && crossed && !answer->last_word && arms < ENDS_ALL) {
        struct stands_answer closer = {.layout = NULL};
        arms++;
        if (terms->arms && *terms->arms < arms)
            *terms->arms = arms;
        if (arms > terms->closest || deepen_late((void *)terms))
            break;
        outcome = pack_many(roof, terms, arms, most, &closer);
        crossed = closer.crossed;
        most = length_lesser(most, closer.most);
        keep_closer(roof, &closer, answer);
    }
    if (terms->most && outcome == OUTCOME_DONE)
        *terms->most = length_lesser(*terms->most, most);
    answer->most = most;
    if (answer->layout && !answer->last_word)
        answer->layout->bound_forgiveness = length_lesser(answer->layout->bound_forgiveness, most);
    return outcome;
}

/* One bracket: nothing else is in its way. */
static enum outcome place_one(const struct roof *roof, struct stands *stands, double best,
                              struct stands_answer *answer) {
    const struct bracket *bracket = &roof->brackets[stands->bracket];
    struct placed placed = {.rather = rather_anywhere()};
    bool found = false;
    enum outcome outcome = stands_cheapest(stands, best, &placed.spot, &found);
    placed.x = found ? nearest(placed.spot.x, bracket->want_x) : 0;
    placed.y = found ? nearest(placed.spot.y, bracket->want_y) : 0;
    if (outcome == OUTCOME_DONE && found &&
        !places_read(roof, &stands, &best, &placed, &answer->layout))
        outcome = OUTCOME_FAULT;
    answer->last_word = answer->layout != NULL;
    return outcome;
}

/* The same where the best of all takes too long to be seen: no rule lacks more than that. */
static enum outcome place_some(const struct roof *roof, double best, struct stands_answer *answer) {
    enum outcome outcome = place_one(roof, answer->stands[0], best, answer);
    answer->last_word = false;
    if (outcome != OUTCOME_DONE || !answer->layout)
        return outcome;
    outcome = places_hold(roof, &answer->layout, NULL, &answer->held);
    if (answer->layout) {
        answer->layout->state = LAYOUT_FEASIBLE;
        answer->layout->bound_forgiveness = best;
        answer->layout->bound_cost = -INFINITY;
    }
    return outcome;
}

static enum outcome answer_one(const struct roof *roof, const struct terms *terms,
                               struct stands_answer *answer) {
    double best = -INFINITY;
    const struct terms part = but_retreat(roof, terms);
    const struct deepening deepening = {roof, &part, 0, .best_only = true};
    enum outcome outcome = OUTCOME_DONE;
    outcome = deepen_stands(&deepening, &answer->stands[0], &best);
    const struct stands *stands = answer->stands[0];
    if (outcome != OUTCOME_DONE || !stands || !(best > -INFINITY))
        return outcome;
    answer->worst = best;
    answer->has_worst = true;
    if (stands->crowded)
        return place_some(roof, best, answer);
    if (best >= 0)
        return place_one(roof, answer->stands[0], best, answer);
    struct cuts cuts = {.list = NULL};
    const struct crowd crowd = {.roof = roof,
                                .limits = terms->limits,
                                .stands = answer->stands,
                                .cuts = &cuts,
                                .most = INFINITY,
                                .least = -INFINITY,
                                .rack = terms->rack,
                                .stop = deepen_late,
                                .subject = (void *)terms};
    double levels[1][ROOF_BRACKETS_MOST] = {{best}};
    const struct rungs rungs = {.levels = levels, .count = 1, .has_worst = true, .worst = best};
    outcome = miss_nearest(&crowd, &rungs, answer);
    cuts_free(&cuts);
    if (outcome == OUTCOME_DONE && !answer->layout)
        outcome = place_some(roof, best, answer);
    return outcome;
}

/* How far from its wish a bracket may stand where stands are too many, and how many times as far
 * then: of a face of any width some are listed. */
#define NEAR_FIRST 24.0
#define NEAR_FACTOR 3.0

/* What it says of stands and rungs is not so of all there are: only the layout, with no more proved
 * of it than what each bracket has alone. */
void stands_answer_strip(const struct roof *roof, const struct terms *terms,
                         struct stands_answer *answer) {
    struct layout *layout = answer->layout;
    stands_answer_free(answer);
    *answer = (struct stands_answer){.layout = layout, .most = INFINITY};
    if (!layout)
        return;
    layout->state = LAYOUT_FEASIBLE;
    layout->bound_forgiveness = roof->enough;
    layout->bound_cost = -INFINITY;
    for (size_t b = 0; b < roof->bracket_count && terms->ceiling; b++)
        layout->bound_forgiveness = length_lesser(layout->bound_forgiveness, terms->ceiling[b]);
}

/* A quick search that came to nothing: stands near the wishes do for a layout, and prove nothing.
 */
static enum outcome answer_near(const struct roof *roof, const struct terms *terms,
                                struct stands_answer *answer) {
    struct terms own = *terms;
    enum outcome outcome = OUTCOME_DONE;
    own.closest = ENDS_NONE;
    if (deepen_late(&own))
        return OUTCOME_DONE;
    for (own.near = NEAR_FIRST;
         outcome == OUTCOME_DONE && own.near < roof->width && !answer->layout && !deepen_late(&own);
         own.near *= NEAR_FACTOR) {
        stands_answer_free(answer);
        *answer = (struct stands_answer){.most = INFINITY};
        outcome = pack_many(roof, &own, ENDS_NONE, INFINITY, answer);
    }
    stands_answer_strip(roof, terms, answer);
    return outcome;
}

enum outcome by_stands(const struct roof *roof, const struct terms *terms,
                       struct stands_answer *answer) {
    const enum outcome outcome = roof->bracket_count == 1 ? answer_one(roof, terms, answer)
                                                          : answer_many(roof, terms, answer);
    if (outcome == OUTCOME_DONE && !answer->layout && terms->quick > 0)
        return answer_near(roof, terms, answer);
    return outcome;
}

void stands_answer_free(struct stands_answer *answer) {
    rungs_free(&answer->rungs);
    for (size_t b = 0; b < ROOF_BRACKETS_MOST; b++) {
        stands_free(answer->stands[b]);
        answer->stands[b] = NULL;
    }
}
