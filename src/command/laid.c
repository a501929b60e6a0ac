#include "laid.h"

#define TIGHT_IN (1.0 / 16) /* a counted margin below this makes a layout tight */

static enum status status_of(const struct carried *carried) {
    if (carried->layout->state == LAYOUT_UNDECIDED) {
        return STATUS_UNDECIDED;
    }
    const bool holds = carried->verdict != NULL && carried->verdict->holds;
    const bool carries = carried->strength == NULL || carried->strength->carries;
    return holds && carries ? STATUS_OK : STATUS_BLOCKED;
}

void laid_answer(const struct carried *carried, const struct options *options,
                 struct answer *answer) {
    answer->layout = carried->layout;
    answer->marks = carried->marks;
    answer->verdict = carried->verdict;
    answer->strength = carried->strength;
    answer->none_carry = carried->none_carry;
    answer->set_aside = carried->searches > 1 ? carried->searches - 1 : 0;
    answer->status = status_of(carried);
    answer->tight =
        answer->status == STATUS_OK && !length_holds(carried->verdict->least - TIGHT_IN);
    answer->tape_broke = carried->held && !carried->verdict->holds;
    answer->from = options->from;
    answer->limit_s = options->limit_s;
}

enum outcome laid_find(struct laid *laid, const struct options *options,
                       const struct layout_options *how, struct problems *problems) {
    enum outcome outcome =
        fingerprint_take(&laid->input, NULL, options->from, laid->fingerprint, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = carry_find(laid->input.roof, how, options->from, &laid->carried, problems);
    }
    if (outcome == OUTCOME_DONE) {
        laid->answer = (struct answer){
            .roof = laid->input.roof, .burn = laid->input.burn, .fingerprint = laid->fingerprint};
        laid_answer(&laid->carried, options, &laid->answer);
    }
    return outcome;
}

void laid_free(struct laid *laid) {
    carried_free(&laid->carried);
    input_free(&laid->input);
}
