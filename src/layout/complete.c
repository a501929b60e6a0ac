#include "complete.h"

#include "company.h"
#include "places.h"
#include "solve.h"

#include <math.h>
#include <stdlib.h>

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

/* The solver has it to a rounding. */
static void stand_just_there(const struct layout *bare, size_t bracket, const struct bracket *want,
                             struct layout *layout) {
    struct standing *own = &layout->marks->brackets[0];
    own->x = bare->marks->brackets[bracket].x;
    own->y = bare->marks->brackets[bracket].y;
    layout->moved = fabs(own->x - want->want_x) + fabs(own->y - want->want_y);
}

static enum outcome complete_one(const struct roof *roof, const struct terms *terms,
                                 const struct layout *bare, size_t bracket,
                                 struct layout **layout) {
    struct company company;
    struct given *given = calloc(bare->marks->count + 1, sizeof *given);
    const struct standing *standing = &bare->marks->brackets[bracket];
    const double at[1][2] = {{standing->x, standing->y}};
    enum outcome outcome = OUTCOME_FAULT;
    if (given && company_of(roof, terms->limits, &bracket, 1, &company)) {
        const struct terms own = {.deadline_s = terms->deadline_s,
                                  .steps = terms->steps,
                                  .limits = &company.limits,
                                  .pinned = at,
                                  .pinned_count = 1};
        keep_marks(bare, bracket, given, &company);
        outcome = hunt_company(&company.roof, &own, layout);
        if (outcome == OUTCOME_DONE && (*layout)->marks)
            stand_just_there(bare, bracket, &roof->brackets[bracket], *layout);
    }
    company_free(&company);
    free(given);
    return outcome;
}

static enum outcome join_all(const struct roof *roof, struct layout *const *layouts,
                             struct layout **joined) {
    struct company *companies = calloc(roof->bracket_count, sizeof *companies);
    bool good = companies != NULL;
    for (size_t b = 0; b < roof->bracket_count && good; b++)
        good = company_of(roof, NULL, &b, 1, &companies[b]);
    good = good && company_join(roof, companies, layouts, roof->bracket_count, joined);
    for (size_t b = 0; b < roof->bracket_count && companies; b++)
        company_free(&companies[b]);
    free(companies);
    return good ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome complete_brackets(const struct roof *roof, const struct terms *terms,
                               const struct layout *bare, struct layout **layout) {
    struct layout *layouts[ROOF_BRACKETS_MOST] = {NULL}, *made = NULL;
    enum outcome outcome = OUTCOME_DONE;
    bool all = true, holds;
    for (size_t b = 0; b < roof->bracket_count && outcome == OUTCOME_DONE && all; b++) {
        const struct terms part = terms_in_part(terms, 1 / (double)(roof->bracket_count - b));
        outcome = complete_one(roof, &part, bare, b, &layouts[b]);
        all = outcome == OUTCOME_DONE && layouts[b]->marks;
    }
    if (outcome == OUTCOME_DONE && all)
        outcome = join_all(roof, layouts, &made);
    if (outcome == OUTCOME_DONE && made)
        outcome = places_hold(roof, &made, NULL, &holds);
    for (size_t b = 0; b < roof->bracket_count; b++)
        layout_free(layouts[b]);
    if (outcome != OUTCOME_DONE) {
        layout_free(made);
        return outcome;
    }
    *layout = made;
    return OUTCOME_DONE;
}
