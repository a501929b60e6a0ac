/* What a layout that was found amounts to. */
#include "sheet.h"

#define TIGHT_IN (1.0 / 16) /* a counted margin below this makes a layout tight */

static enum status status_of(const struct carried *carried) {
    if (carried->layout->state == LAYOUT_UNDECIDED) {
        return STATUS_UNDECIDED;
    }
    const bool good = carried->verdict != NULL && sheet_good(carried->verdict, carried->strength);
    return good ? STATUS_OK : STATUS_BLOCKED;
}

bool sheet_good(const struct verdict *verdict, const struct strength *strength) {
    return verdict->holds && (strength == NULL || strength->carries);
}

void sheet_take_layout(struct answer *answer, const struct carried *carried) {
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
}
