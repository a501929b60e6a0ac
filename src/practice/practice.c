/* A roof is made until one has a layout worth finding. */
#include "practice.h"

#include "plan.h"

#include <stdlib.h>
#include <string.h>

#define ROOM_LEAST_IN (1.0 / 16) /* less than that is no roof to learn on */
#define LIMIT_S 20.0             /* in steps of the solver: see layout_options */
enum { ATTEMPTS_MOST = 200 };

void practice_free(struct practice *practice) {
    carried_free(&practice->best);
    roof_free(practice->roof);
    free(practice->kit_text);
    free(practice->roof_text);
    *practice = (struct practice){0};
}

/* A plan as text; owned by the caller, NULL without memory. */
static char *text_of(const struct plan *plan, void (*write)(const struct plan *, FILE *)) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    if (stream == NULL) {
        return NULL;
    }
    write(plan, stream);
    if (fclose(stream) == 0) {
        return text;
    }
    free(text);
    return NULL;
}

static enum outcome build(struct practice *practice, struct problems *problems) {
    const struct survey_stand_in texts = {practice->roof_text, PRACTICE_KIT, practice->kit_text};
    const struct roof_options options = {0};
    struct survey *survey = NULL;
    if (practice->roof_text == NULL || practice->kit_text == NULL) {
        return OUTCOME_FAULT;
    }
    enum outcome outcome = survey_read_text("practice", &texts, &survey, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = roof_build(survey, &options, &practice->roof, problems);
    }
    survey_free(survey);
    return outcome;
}

static bool is_worth_it(const struct practice *practice) {
    const struct carried *best = &practice->best;
    return best->layout->state == LAYOUT_PROVED && best->verdict != NULL && best->verdict->holds &&
           length_holds(best->verdict->least - ROOM_LEAST_IN);
}

/* One attempt; DONE whatever comes of it. */
static enum outcome attempt(unsigned number, struct practice *practice, struct problems *problems) {
    struct plan plan;
    uint64_t steps = 0;
    const struct layout_options options = {.limit_s = LIMIT_S, .steps = &steps};
    plan_make(practice->level, practice->seed, number, &plan);
    practice->roof_text = text_of(&plan, plan_write_roof);
    practice->kit_text = text_of(&plan, plan_write_kit);
    struct problems refused = {0};
    enum outcome outcome = build(practice, &refused);
    problems_free(&refused);
    if (outcome != OUTCOME_DONE) {
        return outcome == OUTCOME_BAD_INPUT ? OUTCOME_DONE : outcome;
    }
    return carry_find(practice->roof, &options, SIDE_NEAR, &practice->best, problems);
}

enum outcome practice_set(unsigned level, unsigned seed, struct practice *practice,
                          struct problems *problems) {
    for (unsigned i = 0; i < ATTEMPTS_MOST; i++) {
        *practice = (struct practice){.level = level, .seed = seed};
        const enum outcome outcome = attempt(i, practice, problems);
        if (outcome != OUTCOME_DONE) {
            return outcome;
        }
        if (practice->best.layout != NULL && is_worth_it(practice)) {
            return OUTCOME_DONE;
        }
        practice_free(practice);
    }
    problems_add(problems, "ruddle", 0, NULL, NULL, "another number: no roof came of this one");
    return OUTCOME_FAULT;
}
