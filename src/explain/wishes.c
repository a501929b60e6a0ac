/* Why a frame does not stand where it was wanted: what would be broken there. */
#include "explain.h"

#include <stdlib.h>

/* Of what is about the frame alone. */
static struct wish read_wish(const struct verdict *verdict, size_t frame) {
    const struct scope scope = {(int)frame, CHECK_NONE, CHECK_NONE};
    struct wish wish = {.broken = false};
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (length_holds(finding->margin) || !explain_is_about(finding, &scope) ||
            (wish.broken && !(finding->margin < wish.finding.margin)))
            continue;
        wish = (struct wish){.broken = true, .finding = *finding};
    }
    return wish;
}

enum outcome explain_wishes(const struct roof *roof, const struct marks *marks,
                            struct wish **wishes) {
    struct marks *there = NULL;
    struct wish *made = calloc(marks->bracket_count + 1, sizeof *made);
    enum outcome outcome = made == NULL ? OUTCOME_FAULT : marks_copy(marks, &there);
    for (size_t i = 0; outcome == OUTCOME_DONE && i < marks->bracket_count; i++) {
        struct verdict *verdict = NULL;
        there->brackets[i].x = roof->brackets[i].want_x;
        there->brackets[i].y = roof->brackets[i].want_y;
        outcome = check_marks(roof, there, &verdict);
        if (outcome == OUTCOME_DONE)
            made[i] = read_wish(verdict, i);
        verdict_free(verdict);
        there->brackets[i] = marks->brackets[i];
    }
    marks_free(there);
    if (outcome != OUTCOME_DONE) {
        free(made);
        return outcome;
    }
    *wishes = made;
    return OUTCOME_DONE;
}
