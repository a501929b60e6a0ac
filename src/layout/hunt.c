/* The search, stage by stage: worst forgiveness, the next worst, shortfalls, cost. */
#include "hunt.h"

#include "by_guide.h"
#include "candidates.h"
#include "hunting.h"
#include "length.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Forgiveness is sought in windows, one below the other.  Narrow windows keep the constants that
 * switch rows off small, and let what cannot be reached be struck out; a lower window is only
 * opened once the one above is proved empty, so the first answer is the best.  Each is this many
 * times as deep as the one before. */
#define WINDOW_FIRST 2.0 /* inches below zero */
#define WINDOW_FACTOR 4.0
/* Several brackets mostly come out as good together as the worst of them alone. */
#define WINDOW_NEAR 0.5

/* Further below zero than this no margin of a layout near the face can lie: if even there nothing
 * is found, it is the hard rules that forbid every layout. */
static double deepest(const struct roof *roof) {
    double most = 0;
    for (size_t k = 0; k < roof->kit_count; k++) {
        const struct kit *kit = &roof->kits[k];
        most = fmax(most, kit->width + kit->height + kit->flashing.width + kit->flashing.height +
                              kit->span + kit->overhang + kit->stock[kit->stock_count - 1]);
    }
    return -2 * (roof->width + roof->slope + roof->apart + most);
}

static enum outcome name_hard_rules(struct hunt *hunt) {
    hunt->layout->state = LAYOUT_IMPOSSIBLE;
    if (hunt->layout->reason_count > 0)
        return OUTCOME_DONE;
    hunt->layout->reasons = calloc(1, sizeof *hunt->layout->reasons);
    if (!hunt->layout->reasons)
        return OUTCOME_FAULT;
    hunt->layout->reason_count = 1;
    snprintf(hunt->layout->reasons->text, sizeof hunt->layout->reasons->text,
             "no strut can be lagged and clamped: spans, overhangs, clamps off the lags and the "
             "stock length exclude each other on these rafters");
    return OUTCOME_DONE;
}

/* The window in which forgiveness is sought first, and the one below it. */
struct window {
    double lo, hi, depth;
};

static struct window first_window(const struct roof *roof, const struct terms *terms) {
    double top = roof->enough;
    for (size_t b = 0; terms->ceiling && b < roof->bracket_count; b++)
        top = fmin(top, terms->ceiling[b]);
    double floor = top > 0 || !terms->ceiling ? 0 : top - WINDOW_NEAR;
    return (struct window){floor, top, WINDOW_FIRST};
}

/* An answer at the very top of a window also lies in the window above, which was then called empty
 * wrongly; both are searched as one. */
#define TOUCHING 1e-6

static struct window next_window(const struct window *window) {
    return (struct window){window->lo - window->depth, window->lo, window->depth * WINDOW_FACTOR};
}

/* One window; *end says how it went, *value is the forgiveness found. */
static enum outcome hunt_window(struct hunt *hunt, const struct window *window, enum solve_end *end,
                                bool *found, double *value) {
    struct stage stage = {
        .kind = STAGE_WORST, .lo = window->lo, .hi = window->hi, .limits = hunt->terms->limits};
    struct solution solution;
    enum outcome outcome = hunting_stage(hunt, &stage, window->lo, end, &solution);
    *found = outcome == OUTCOME_DONE && solution.values;
    *value = -solution.cost;
    hunt->layout->bound_forgiveness = fmin(window->hi, -solution.bound);
    solution_free(&solution);
    return outcome;
}

/* The worst bracket's forgiveness: the first rung of the ladder. */
static enum outcome hunt_worst(struct hunt *hunt) {
    struct window window = first_window(hunt->roof, hunt->terms);
    double top = window.hi;
    for (;;) {
        enum solve_end end;
        bool found;
        double value;
        enum outcome outcome = hunt_window(hunt, &window, &end, &found, &value);
        if (found && window.hi < top && value > window.hi - TOUCHING) {
            const double touching = value;
            window.hi = top;
            outcome = hunt_window(hunt, &window, &end, &found, &value);
            if (!found) { /* still called empty: then what was found is the best that is known */
                found = true;
                value = touching;
                hunt->cut_short = true;
            }
        }
        if (outcome == OUTCOME_DONE && found)
            hunt->ladder[hunt->ladder_count++] = value;
        if (outcome != OUTCOME_DONE || end != SOLVE_INFEASIBLE)
            return outcome;
        if (window.lo <= deepest(hunt->roof))
            return name_hard_rules(hunt);
        window = next_window(&window);
    }
}

/* The next worst, and so on, until the rest has enough. */
static enum outcome hunt_next(struct hunt *hunt) {
    size_t brackets = hunt->roof->bracket_count;
    enum outcome outcome = OUTCOME_DONE;
    while (outcome == OUTCOME_DONE && hunt->ladder_count < brackets && !hunt->cut_short) {
        double last = hunt->ladder[hunt->ladder_count - 1];
        struct solution solution = {0};
        enum solve_end end = SOLVE_OPTIMAL;
        if (last < hunt->roof->enough - LENGTH_TOLERANCE) {
            struct stage stage = {.kind = STAGE_NEXT,
                                  .lo = last,
                                  .hi = hunt->roof->enough,
                                  .ladder = hunt->ladder,
                                  .ladder_count = hunt->ladder_count,
                                  .ceiling = hunt->terms->ceiling,
                                  .limits = hunt->terms->limits};
            outcome = hunting_keep(hunt, &stage, &end, &solution);
            if (solution.values)
                last = fmax(last, -solution.cost);
        }
        solution_free(&solution);
        hunt->ladder[hunt->ladder_count++] = last;
    }
    while (hunt->ladder_count < brackets && hunt->ladder_count > 0) {
        hunt->ladder[hunt->ladder_count] = hunt->ladder[hunt->ladder_count - 1];
        hunt->ladder_count++;
    }
    return outcome;
}

/* Each bracket's forgiveness as proved: its column may lie anywhere between its rung and what the
 * layout really gives. */
static void settle_rungs(struct hunt *hunt) {
    struct layout *layout = hunt->layout;
    for (size_t b = 0; b < hunt->roof->bracket_count; b++) {
        double rung = hunt->ladder[0];
        for (size_t j = 1; j < hunt->ladder_count; j++)
            if (hunt->ladder[j] <= layout->bracket_forgiveness[b] + LENGTH_TOLERANCE)
                rung = hunt->ladder[j];
        layout->bracket_forgiveness[b] = rung;
    }
    layout->forgiveness = hunt->ladder[0];
}

/* Stage by stage, from nothing known, or from the worst forgiveness as stands gave it. */
static enum outcome hunt_ladder(struct hunt *hunt, const struct stands_answer *known) {
    struct layout *layout = hunt->layout;
    enum outcome outcome = OUTCOME_DONE;
    enum solve_end end;
    if (known->has_worst) {
        hunt->ladder[hunt->ladder_count++] = known->worst;
        layout->bound_forgiveness = known->worst;
    } else {
        outcome = hunt_worst(hunt);
    }
    if (outcome != OUTCOME_DONE || layout->state == LAYOUT_IMPOSSIBLE)
        return outcome;
    if (layout->marks && !hunt->cut_short)
        outcome = hunt_next(hunt);
    if (outcome == OUTCOME_DONE && (layout->marks || known->has_worst) && !hunt->cut_short &&
        hunt->ladder[0] < -LENGTH_TOLERANCE)
        outcome = hunting_kept(hunt, STAGE_SHORTFALL, NULL, &end);
    if (outcome == OUTCOME_DONE && layout->marks && !hunt->cut_short)
        outcome = hunting_kept(hunt, STAGE_COST, NULL, &end);
    if (outcome != OUTCOME_DONE || layout->marks || !known->has_worst)
        return outcome;
    /* Not even the program's own marks for what the stands say: it searches on its own. */
    const struct stands_answer nothing = {.has_worst = false};
    hunt->ladder_count = 0;
    hunt->cut_short = false;
    return hunt_ladder(hunt, &nothing);
}

static enum outcome hunt_all(struct hunt *hunt, const struct stands_answer *known) {
    bool done = false;
    enum outcome outcome = hunting_rungs(hunt, &done);
    if (outcome == OUTCOME_DONE && !done)
        outcome = hunt_ladder(hunt, known);
    struct layout *layout = hunt->layout;
    if (outcome != OUTCOME_DONE || layout->state == LAYOUT_IMPOSSIBLE)
        return outcome;
    layout->state = !layout->marks    ? LAYOUT_UNDECIDED
                    : hunt->cut_short ? LAYOUT_FEASIBLE
                                      : LAYOUT_PROVED;
    if (layout->marks)
        settle_rungs(hunt);
    return OUTCOME_DONE;
}

/* By the program, with what the stands say already. */
static enum outcome hunt_program(const struct roof *roof, const struct terms *terms,
                                 const struct stands_answer *known, struct layout **layout) {
    struct hunt hunt = {.roof = roof,
                        .terms = terms,
                        .known = known,
                        .deadline_s = terms->deadline_s,
                        .layout = calloc(1, sizeof *hunt.layout),
                        .ladder = calloc(roof->bracket_count + 1, sizeof *hunt.ladder)};
    enum outcome outcome = OUTCOME_FAULT;
    if (hunt.layout && hunt.ladder) {
        hunt.layout->bound_cost = -INFINITY;
        outcome = hunt_all(&hunt, known);
    }
    free(hunt.ladder);
    if (outcome == OUTCOME_DONE)
        *layout = hunt.layout;
    else
        layout_free(hunt.layout);
    return outcome;
}

/* Of more brackets the program does not find in any time what stands and packings do not. */
enum { PROGRAM_MOST = 3 };
/* A quick search that comes to no layout is repeated with so many times the time. */
#define LONGER 4.0

struct terms terms_in_part(const struct terms *terms, double share) {
    struct terms own = *terms;
    const double now = solve_now(terms->steps);
    own.deadline_s = now + fmin(share, 1) * (terms->deadline_s - now);
    return own;
}

static enum outcome ask_stands(const struct roof *roof, const struct terms *terms,
                               struct stands_answer *answer) {
    if (!(terms->quick > 0) || roof->bracket_count == 1)
        return by_guide(roof, terms, answer);
    for (double share = terms->quick;; share *= LONGER) {
        const struct terms part = terms_in_part(terms, share);
        const enum outcome outcome = by_guide(roof, &part, answer);
        if (outcome != OUTCOME_DONE || answer->layout || roof->bracket_count <= PROGRAM_MOST ||
            share >= 1)
            return outcome;
        stands_answer_free(answer);
    }
}

static enum outcome ask_program(const struct roof *roof, const struct terms *terms,
                                const struct stands_answer *known, struct layout **layout) {
    if (!(terms->quick > 0))
        return hunt_program(roof, terms, known, layout);
    const struct terms part = terms_in_part(terms, terms->quick);
    const enum outcome outcome = hunt_program(roof, &part, known, layout);
    if (outcome != OUTCOME_DONE || (*layout)->state != LAYOUT_UNDECIDED)
        return outcome;
    layout_free(*layout);
    *layout = NULL;
    return hunt_program(roof, terms, known, layout);
}

/* Nothing was found, and no more is known than what each bracket has alone. */
static enum outcome leave_open(const struct roof *roof, const struct terms *terms,
                               struct layout **layout) {
    struct layout *made = calloc(1, sizeof *made);
    if (!made)
        return OUTCOME_FAULT;
    *made = (struct layout){.state = LAYOUT_UNDECIDED,
                            .bound_forgiveness = first_window(roof, terms).hi,
                            .bound_cost = -INFINITY};
    *layout = made;
    return OUTCOME_DONE;
}

enum outcome hunt_company(const struct roof *roof, const struct terms *terms,
                          struct layout **layout) {
    struct stands_answer known;
    enum outcome outcome = ask_stands(roof, terms, &known);
    struct layout *found = NULL;
    const bool many = roof->bracket_count > PROGRAM_MOST;
    const bool enough = known.layout && (terms->quick > 0 || many);
    const bool vain =
        !known.layout && many && !terms->plain && terms->pinned_count == 0 && stands_apply(roof);
    if (outcome == OUTCOME_DONE && !known.last_word && !enough)
        outcome = vain ? leave_open(roof, terms, &found) : ask_program(roof, terms, &known, &found);
    if (outcome == OUTCOME_DONE && (!found || found->state == LAYOUT_UNDECIDED) && known.layout) {
        layout_free(found);
        found = known.layout;
        known.layout = NULL;
    }
    layout_free(known.layout);
    stands_answer_free(&known);
    if (outcome == OUTCOME_DONE)
        *layout = found;
    return outcome;
}

/* The program of a window; *model stays NULL where something cannot be placed in it at all. */
static enum outcome model_of(const struct roof *roof, const struct terms *terms,
                             const struct window *window, struct model **model) {
    const struct stage stage = {
        .kind = STAGE_WORST, .lo = window->lo, .hi = window->hi, .limits = terms->limits};
    struct candidates *candidates = NULL;
    enum outcome outcome = candidates_find(roof, window->lo, &candidates);
    if (outcome == OUTCOME_DONE && !candidates->hopeless)
        outcome = model_build(roof, candidates, &stage, model);
    candidates_free(candidates);
    return outcome;
}

enum outcome hunt_write_model(const struct roof *roof, const struct terms *terms,
                              double forgiveness, const char *path, bool *written,
                              struct problems *problems) {
    struct window window = first_window(roof, terms);
    struct model *model = NULL;
    while (forgiveness < window.lo - LENGTH_TOLERANCE && window.lo > deepest(roof))
        window = next_window(&window);
    enum outcome outcome = model_of(roof, terms, &window, &model);
    while (outcome == OUTCOME_DONE && !model && window.lo > deepest(roof)) {
        window = next_window(&window);
        outcome = model_of(roof, terms, &window, &model);
    }
    *written = model != NULL && solve_write(&model->program, path);
    if (model && !*written) {
        problems_add(problems, path, 0, "", "", "a place where the model can be written");
        outcome = OUTCOME_FAULT;
    }
    model_free(model);
    return outcome;
}
