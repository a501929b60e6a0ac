/* Laying out again round the holes that are kept.
 *
 * First with every hole that could stay, then without one of them, without two, and so on, until a
 * layout obeys every rule; so the fewest are given up, and of as many given up the best layout is
 * taken: most forgiveness, then least moved + hole_worth x holes.  Where the time runs out first,
 * or none is found with any of them, the layout is the one that keeps none.
 */
#include "revising.h"

#include "clock.h"
#include "length.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Of the time: the layout as if nothing were drilled gets no more than this part, and this part is
 * kept for the last set of kept holes, the empty one. */
#define FRESH_PART (1.0 / 3)
#define LAST_PART 0.1

/* What is needed to lay out once. */
struct effort {
    const struct roof *roof;
    const struct layout_options *options;
    enum side from;
    struct revised *revised;
    struct problems *problems;
    double end_s;      /* when all is to be over */
    double last_try_s; /* when the last set is to be begun */
    size_t *wood;      /* the holes that could stay */
    size_t wood_count;
};

static bool obeys(const struct carried *carried) {
    return carried->verdict && carried->verdict->holds &&
           (!carried->strength || carried->strength->carries);
}

/* Within the time that is left up to `end_s`. */
static enum outcome lay_out(struct effort *effort, double end_s, struct carried *carried) {
    struct layout_options options = *effort->options;
    options.limit_s = fmax(end_s - clock_now_s(), 0);
    return carry_find(&effort->revised->roof, &options, effort->from, carried, effort->problems);
}

/* One set of kept holes; *done where its layout obeys. */
static enum outcome try_set(struct effort *effort, bool is_last, bool *done) {
    struct revised *revised = effort->revised;
    if (!fates_agree(effort->roof, revised))
        return OUTCOME_DONE;
    corrected_set(effort->roof, revised);
    carried_free(&revised->carried);
    revised->tries++;
    const double end_s = is_last ? effort->end_s : effort->last_try_s;
    const enum outcome outcome = lay_out(effort, end_s, &revised->carried);
    *done = outcome == OUTCOME_DONE && obeys(&revised->carried);
    return outcome;
}

static void give_up(struct effort *effort, const size_t *out, size_t count) {
    for (size_t i = 0; i < effort->wood_count; i++)
        effort->revised->holes[effort->wood[i]].fate = FATE_KEPT;
    for (size_t i = 0; i < count; i++)
        effort->revised->holes[effort->wood[out[i]]].fate = FATE_GIVEN_UP;
    effort->revised->given_up = count;
}

/* The next choice of `count` out of `all`, rising; false after the last. */
static bool next_choice(size_t *out, size_t count, size_t all) {
    for (size_t i = count; i-- > 0;) {
        if (out[i] + (count - i) >= all)
            continue;
        out[i]++;
        for (size_t j = i + 1; j < count; j++)
            out[j] = out[j - 1] + 1;
        return true;
    }
    return false;
}

/* Of two layouts that obey, the better; best may have none yet. */
static bool is_better(const struct roof *roof, const struct carried *a,
                      const struct carried *best) {
    if (!best->verdict)
        return true;
    const double room = fmin(a->verdict->least, roof->enough);
    const double most = fmin(best->verdict->least, roof->enough);
    if (fabs(room - most) > LENGTH_TOLERANCE)
        return room > most;
    return a->layout->moved + roof->hole_worth * (double)a->layout->holes <
           best->layout->moved + roof->hole_worth * (double)best->layout->holes - LENGTH_TOLERANCE;
}

/* Every set with that many given up while there is time; the best that obeys becomes the answer. */
static enum outcome try_without(struct effort *effort, size_t *out, size_t *best_out, size_t count,
                                bool *done) {
    struct revised *revised = effort->revised;
    struct carried best = {.layout = NULL};
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < count; i++)
        out[i] = i;
    do {
        bool obeyed = false;
        give_up(effort, out, count);
        outcome = try_set(effort, count == effort->wood_count, &obeyed);
        if (outcome != OUTCOME_DONE || !obeyed ||
            !is_better(effort->roof, &revised->carried, &best))
            continue;
        carried_free(&best);
        best = revised->carried;
        revised->carried = (struct carried){.layout = NULL};
        memcpy(best_out, out, count * sizeof *out);
        *done = true;
    } while (outcome == OUTCOME_DONE && clock_now_s() < effort->last_try_s &&
             next_choice(out, count, effort->wood_count));
    if (*done) {
        carried_free(&revised->carried);
        revised->carried = best;
        give_up(effort, best_out, count);
        corrected_set(effort->roof, revised);
    }
    return outcome;
}

static enum outcome try_sets(struct effort *effort) {
    size_t *out = calloc(effort->wood_count + 1, sizeof *out);
    size_t *best_out = calloc(effort->wood_count + 1, sizeof *best_out);
    enum outcome outcome = out && best_out ? OUTCOME_DONE : OUTCOME_FAULT;
    bool done = false;
    for (size_t count = 0; outcome == OUTCOME_DONE && !done && count < effort->wood_count &&
                           clock_now_s() < effort->last_try_s;
         count++)
        outcome = try_without(effort, out, best_out, count, &done);
    if (outcome == OUTCOME_DONE && !done)
        outcome = try_without(effort, out, best_out, effort->wood_count, &done);
    free(out);
    free(best_out);
    return outcome;
}

/* The corrected roof as if nothing had been drilled. */
static enum outcome lay_out_fresh(struct effort *effort) {
    struct revised *revised = effort->revised;
    revised->roof.keepout_count = effort->roof->keepout_count;
    revised->roof.given_count = 0;
    const double limit_s = effort->options->limit_s;
    return lay_out(effort, effort->end_s - (1 - FRESH_PART) * limit_s, &revised->fresh);
}

static bool list_wood(struct effort *effort) {
    const struct revised *revised = effort->revised;
    effort->wood = calloc(revised->hole_count + 1, sizeof *effort->wood);
    for (size_t i = 0; effort->wood && i < revised->hole_count; i++)
        if (revised->holes[i].fate == FATE_KEPT)
            effort->wood[effort->wood_count++] = i;
    return effort->wood != NULL;
}

/* Which marks of the new layout are drilled already. */
static bool find_done(struct revised *revised) {
    const struct marks *marks = revised->carried.marks;
    revised->done = calloc((marks ? marks->count : 0) + 1, sizeof *revised->done);
    if (!revised->done)
        return false;
    for (size_t m = 0; marks && m < marks->count; m++)
        for (size_t i = 0; i < revised->hole_count; i++) {
            const struct hole *hole = &revised->holes[i];
            const struct mark *mark = &marks->list[m];
            if (hole->fate == FATE_KEPT && mark->bracket == hole->bracket &&
                mark->row == hole->row && fabs(mark->x - hole->x) <= LENGTH_TOLERANCE &&
                fabs(mark->y - hole->y) <= LENGTH_TOLERANCE)
                revised->done[m] = true;
        }
    return true;
}

/* What the dead holes ask for. */
static bool count_dead(struct revised *revised) {
    revised->patches = calloc(revised->roof.kit_count + 1, sizeof *revised->patches);
    for (size_t i = 0; revised->patches && i < revised->hole_count; i++) {
        const struct hole *hole = &revised->holes[i];
        if (hole->fate == FATE_KEPT)
            continue;
        revised->dead_count++;
        if (hole->cover == REVISE_PATCH && hole->patch == i)
            revised->patches[revised->roof.brackets[hole->bracket].kit]++;
    }
    return revised->patches != NULL;
}

/* Names every hole of a member that nothing can be true of. */
static void name_contradictions(const struct survey_drilled *drilled, const struct revised *revised,
                                size_t rafter_count, struct problems *problems) {
    for (size_t r = 0; r < rafter_count; r++)
        for (size_t i = 0; i < revised->hole_count; i++) {
            const struct hole *hole = &revised->holes[i];
            char key[64], wanted[224];
            if (revised->learned[r].knowledge != KNOWLEDGE_CONTRADICTED || hole->ply == SIZE_MAX ||
                hole->rafter != r)
                continue;
            snprintf(key, sizeof key, "drilled[%zu].found", i + 1);
            snprintf(wanted, sizeof wanted,
                     "what agrees with the other holes at rafter %zu: together they leave it no "
                     "place within the doubt; measure them again, or raise rafters.doubt",
                     r + 1);
            problems_add(problems, drilled->path, survey_line(drilled->lines, key), key,
                         revise_drill_word(hole->found), wanted);
        }
}

static enum outcome find(struct effort *effort) {
    enum outcome outcome = lay_out_fresh(effort);
    if (outcome != OUTCOME_DONE)
        return outcome;
    fates_judge(effort->roof, effort->revised);
    if (!list_wood(effort))
        return OUTCOME_FAULT;
    outcome = try_sets(effort);
    if (outcome != OUTCOME_DONE)
        return outcome;
    fates_cover(effort->revised);
    return find_done(effort->revised) && count_dead(effort->revised) ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome revise_find(const struct roof *roof, const struct survey_drilled *drilled,
                         const struct layout_options *options, enum side from,
                         struct revised *revised, struct problems *problems) {
    struct revised made = {.holes = NULL};
    const double end_s = clock_now_s() + options->limit_s;
    struct effort effort = {.roof = roof,
                            .options = options,
                            .from = from,
                            .revised = &made,
                            .problems = problems,
                            .end_s = end_s,
                            .last_try_s = end_s - LAST_PART * options->limit_s};
    enum outcome outcome =
        holes_from_survey(roof, drilled, &made.holes, &made.hole_count, problems);
    if (outcome == OUTCOME_DONE && !corrected_learn(roof, &made))
        outcome = OUTCOME_FAULT;
    if (outcome == OUTCOME_DONE && made.contradicted) {
        name_contradictions(drilled, &made, roof->rafter_count, problems);
        outcome = OUTCOME_BAD_INPUT;
    }
    if (outcome == OUTCOME_DONE)
        outcome = corrected_build(roof, &made) ? find(&effort) : OUTCOME_FAULT;
    free(effort.wood);
    if (outcome == OUTCOME_DONE)
        *revised = made; /* its roof points at arrays, not into made itself */
    else
        revised_free(&made);
    return outcome;
}

void revised_free(struct revised *revised) {
    carried_free(&revised->carried);
    carried_free(&revised->fresh);
    free(revised->holes);
    free(revised->learned);
    free(revised->tested);
    free(revised->rafters);
    free(revised->plies);
    free(revised->keepouts);
    free(revised->given);
    free(revised->done);
    free(revised->patches);
    *revised = (struct revised){.holes = NULL};
}
