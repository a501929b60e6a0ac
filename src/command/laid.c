#include "laid.h"

#include "memory.h"

/* What the search takes of memory for each of several frames, of which it has no more than a few at
 * a time. */
enum { PER_FRAME = 3 << 19, FEW = 8 };

static void expect_search(const struct roof *roof) {
    const size_t count = roof->bracket_count < FEW ? roof->bracket_count : FEW;
    if (count > 1)
        memory_expect(count * PER_FRAME);
}

enum outcome laid_find(struct laid *laid, const struct options *options,
                       const struct layout_options *how, struct problems *problems) {
    enum outcome outcome =
        fingerprint_take(&laid->input, NULL, options->from, laid->fingerprint, problems);
    if (outcome == OUTCOME_DONE) {
        expect_search(laid->input.roof);
        outcome = carry_find(laid->input.roof, how, options->from, &laid->carried, problems);
    }
    if (outcome == OUTCOME_DONE) {
        laid->answer = (struct answer){
            .roof = laid->input.roof,
            .from = options->from,
            .burn = laid->input.burn,
            .fingerprint = laid->fingerprint,
            .limit_s = options->limit_s,
        };
        sheet_take_layout(&laid->answer, &laid->carried);
    }
    return outcome;
}

void laid_free(struct laid *laid) {
    carried_free(&laid->carried);
    input_free(&laid->input);
}
