/* Most pipes find a place beneath their bracket, beside the lags that there are.  Where one takes
 * something from its bracket, pipes may lie anywhere half the way to other ones; then lags are
 * chosen anew; and then the bracket may move, half the way to where it came too near to another
 * one.  So each is done alone, and none is in the way of what others do. */
#include "complete.h"

#include "company.h"
#include "length.h"
#include "places.h"
#include "retreat.h"
#include "solve.h"

#include <math.h>
#include <stdlib.h>

/* However late it is, a bracket has so many seconds for its pipes at first. */
#define LEAST_S 0.05

/* What a bracket may give up for its pipes. */
enum freedom { FREEDOM_NONE, FREEDOM_PIPES, FREEDOM_LAGS, FREEDOM_PLACE, FREEDOM_COUNT };

struct completing {
    const struct roof *roof;
    const struct terms *terms;
    const struct layout *bare;
    struct layout *layouts[ROOF_BRACKETS_MOST]; /* owned: of each bracket alone; NULL: none yet */
    bool lacking; /* all together lack more than they did without pipes */
};

struct roof complete_bare(const struct roof *roof) {
    struct roof bare = *roof;
    bare.pipe_count = 0;
    return bare;
}

/* The bracket's lags as they are, so that only its pipes are left to be placed. */
static void keep_marks(const struct layout *bare, size_t bracket, struct given *given,
                       struct company *company) {
    size_t count = 0;
    for (size_t i = 0; i < bare->marks->count; i++) {
        const struct mark *mark = &bare->marks->list[i];
        if (mark->bracket == bracket)
            given[count++] =
                (struct given){.row = mark->row, .ply = bare->plies[i], .x = mark->x, .y = mark->y};
    }
    company->roof.given = given;
    company->roof.given_count = count;
}

static struct box where_it_stands(const struct layout *bare, size_t bracket) {
    const struct standing *at = &bare->marks->brackets[bracket];
    return (struct box){at->x, at->y, at->x, at->y};
}

static struct box covers(const struct completing *completing, size_t bracket) {
    const struct kit *kit = roof_kit(completing->roof, bracket);
    const struct standing *at = &completing->bare->marks->brackets[bracket];
    return (struct box){at->x, at->y, at->x + kit->width, at->y + kit->height};
}

/* How far what a box may grow to is bounded by another one, on the side where that is: as far as it
 * is away less `least`, and of that half. */
static void bound_half_way(const struct box *own, const struct box *other, double least,
                           struct box *grown) {
    const double gaps[4] = {other->x0 - own->x1, own->x0 - other->x1, other->y0 - own->y1,
                            own->y0 - other->y1};
    int most = 0;
    for (int i = 1; i < 4; i++)
        most = gaps[i] > gaps[most] ? i : most;
    const double way = length_greater(0, gaps[most] - least) / 2;
    if (most == 0)
        grown->x1 = length_lesser(grown->x1, own->x1 + way);
    else if (most == 1)
        grown->x0 = length_greater(grown->x0, own->x0 - way);
    else if (most == 2)
        grown->y1 = length_lesser(grown->y1, own->y1 + way);
    else
        grown->y0 = length_greater(grown->y0, own->y0 - way);
}

/* A bracket grown half the way to all others; with the gap that it keeps, or without. */
static struct box grown_half_way(const struct completing *completing, size_t bracket, bool apart) {
    const double *levels = completing->bare->bracket_forgiveness;
    const struct box own = covers(completing, bracket);
    struct box grown = {-INFINITY, -INFINITY, INFINITY, INFINITY};
    for (size_t i = 0; i < completing->roof->bracket_count; i++) {
        const struct box other = covers(completing, i);
        const double level = length_greater(0, length_greater(levels[bracket], levels[i]));
        if (i != bracket)
            bound_half_way(&own, &other, apart ? completing->roof->apart + 2 * level : 0, &grown);
    }
    return grown;
}

static struct box where_it_may_stand(const struct completing *completing, size_t bracket) {
    const struct kit *kit = roof_kit(completing->roof, bracket);
    struct box grown = grown_half_way(completing, bracket, true);
    grown.x1 -= kit->width;
    grown.y1 -= kit->height;
    return grown;
}

/* The solver has it to a rounding. */
static void stand_just_there(const struct layout *bare, size_t bracket, const struct bracket *want,
                             struct layout *layout) {
    struct standing *own = &layout->marks->brackets[0];
    own->x = bare->marks->brackets[bracket].x;
    own->y = bare->marks->brackets[bracket].y;
    layout->moved = fabs(own->x - want->want_x) + fabs(own->y - want->want_y);
}

/* One more way to have the pipes of a bracket; what is better is kept. */
static enum outcome try_one(struct completing *completing, const struct terms *terms,
                            enum freedom freedom, size_t bracket) {
    const struct roof *roof = completing->roof;
    const struct layout *bare = completing->bare;
    const struct box in = freedom == FREEDOM_PLACE ? where_it_may_stand(completing, bracket)
                                                   : where_it_stands(bare, bracket);
    const struct box pipes = freedom == FREEDOM_NONE ? covers(completing, bracket)
                                                     : grown_half_way(completing, bracket, false);
    struct given *given = calloc(bare->marks->count + 1, sizeof *given);
    struct layout *made = NULL, **best = &completing->layouts[bracket];
    struct company company;
    enum outcome outcome = OUTCOME_FAULT;
    if (company_of(roof, terms->limits, &bracket, 1, &company) && given) {
        const struct terms own = {.deadline_s = terms->deadline_s,
                                  .steps = terms->steps,
                                  .limits = &company.limits,
                                  .pinned = &in,
                                  .pinned_count = 1,
                                  .pipes = &pipes};
        if (freedom < FREEDOM_LAGS)
            keep_marks(bare, bracket, given, &company);
        outcome = hunt_company(&company.roof, &own, &made);
        if (outcome == OUTCOME_DONE && made->marks && freedom < FREEDOM_PLACE)
            stand_just_there(bare, bracket, &roof->brackets[bracket], made);
    }
    company_free(&company);
    free(given);
    if (outcome == OUTCOME_DONE && made->marks &&
        (!*best || retreat_is_better(roof, made, *best))) {
        layout_free(*best);
        *best = made;
        made = NULL;
    }
    layout_free(made);
    return outcome;
}

/* Whether its pipes take something from a bracket, or may do so. */
static bool is_lowered(const struct completing *completing, size_t bracket) {
    const struct layout *own = completing->layouts[bracket];
    if (!own || (completing->lacking && !length_holds(own->forgiveness)))
        return true;
    return !length_holds(own->forgiveness - completing->bare->bracket_forgiveness[bracket]);
}

/* Those that are lowered, each with a part of a share of the time; *any: there was one. */
static enum outcome try_lowered(struct completing *completing, enum freedom freedom, bool *any) {
    const size_t count = completing->roof->bracket_count;
    const struct terms share =
        terms_in_part(completing->terms, 1.0 / (double)(FREEDOM_COUNT - freedom));
    enum outcome outcome = OUTCOME_DONE;
    *any = false;
    for (size_t b = 0; b < count && outcome == OUTCOME_DONE; b++) {
        if (!is_lowered(completing, b))
            continue;
        struct terms part = terms_in_part(&share, 1 / (double)(count - b));
        if (freedom == FREEDOM_NONE)
            part.deadline_s = fmax(part.deadline_s, solve_now(part.steps) + LEAST_S);
        outcome = try_one(completing, &part, freedom, b);
        *any = true;
    }
    return outcome;
}

static enum outcome join_all(const struct completing *completing, struct layout **joined) {
    const struct roof *roof = completing->roof;
    size_t alone[ROOF_BRACKETS_MOST];
    bool holds;
    for (size_t b = 0; b < roof->bracket_count; b++)
        alone[b] = b;
    return company_join(roof, alone, completing->layouts, joined)
               ? places_hold(roof, joined, NULL, &holds)
               : OUTCOME_FAULT;
}

/* All of them together, if each has a layout and that is better than what there is. */
static enum outcome keep_joined(struct completing *completing, struct layout **layout) {
    struct layout *made = NULL;
    for (size_t b = 0; b < completing->roof->bracket_count; b++)
        if (!completing->layouts[b])
            return OUTCOME_DONE;
    const enum outcome outcome = join_all(completing, &made);
    if (outcome == OUTCOME_DONE && made &&
        (!*layout || retreat_is_better(completing->roof, made, *layout))) {
        struct layout *worse = *layout;
        *layout = made;
        made = worse;
    }
    completing->lacking =
        *layout && !length_holds(completing->bare->shortfall - (*layout)->shortfall);
    layout_free(made);
    return outcome;
}

enum outcome complete_brackets(const struct roof *roof, const struct terms *terms,
                               const struct layout *bare, struct layout **layout) {
    struct completing completing = {.roof = roof, .terms = terms, .bare = bare};
    struct layout *best = NULL;
    enum outcome outcome = OUTCOME_DONE;
    bool any = true;
    for (int freedom = FREEDOM_NONE; freedom < FREEDOM_COUNT && any && outcome == OUTCOME_DONE;
         freedom++) {
        outcome = try_lowered(&completing, (enum freedom)freedom, &any);
        if (outcome == OUTCOME_DONE && any)
            outcome = keep_joined(&completing, &best);
    }
    for (size_t b = 0; b < roof->bracket_count; b++)
        layout_free(completing.layouts[b]);
    if (outcome != OUTCOME_DONE) {
        layout_free(best);
        return outcome;
    }
    *layout = best;
    return OUTCOME_DONE;
}
