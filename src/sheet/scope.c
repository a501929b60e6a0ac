/* Which findings are about a frame, a line or a hole. */
#include "explanation.h"

#include "places.h"

#include <string.h>

_Static_assert((int)EXPLAIN_NAME >= (int)PLACES_NAME, "a name fits");

const char *explain_hole_name(const struct roof *roof, const struct marks *marks, size_t mark,
                              char buffer[EXPLAIN_NAME]) {
    return places_hole_name(roof, marks, mark, buffer);
}

bool explain_is_about(const struct finding *finding, const struct scope *scope) {
    if (scope->mark != CHECK_NONE) {
        return finding->mark == scope->mark || finding->other_mark == scope->mark;
    }
    return finding->mark == CHECK_NONE && finding->other_mark == CHECK_NONE &&
           ((finding->bracket == scope->bracket && finding->row == scope->row) ||
            (finding->other_bracket == scope->bracket && finding->other_row == scope->row));
}

void scope_find(const struct verdict *verdict, const struct scope *scope,
                struct scope_findings *findings) {
    memset(findings, 0, sizeof *findings);
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        const struct finding **least = &findings->least[finding->rule];
        if (explain_is_about(finding, scope) &&
            (*least == NULL || finding->margin < (*least)->margin)) {
            *least = finding;
        }
    }
}

/* A hole, a line or a frame. */
static void name_part(const struct roof *roof, const struct marks *marks, int bracket, int row,
                      int mark, char other[EXPLANATION_OTHER]) {
    if (mark != CHECK_NONE) {
        char hole[PLACES_NAME];
        places_hole_name(roof, marks, (size_t)mark, hole);
        snprintf(other, EXPLANATION_OTHER, "%s hole %.180s",
                 marks->list[mark].row == ROW_PIPE ? "pipe" : "lag", hole);
    } else if (row != CHECK_NONE) {
        snprintf(other, EXPLANATION_OTHER, "frame %s, %s line", roof->brackets[bracket].name,
                 roof_row_word((enum row)row));
    } else {
        snprintf(other, EXPLANATION_OTHER, "frame %s", roof->brackets[bracket].name);
    }
}

bool scope_other(const struct roof *roof, const struct marks *marks, const struct scope *scope,
                 const struct finding *finding, char other[EXPLANATION_OTHER]) {
    if (finding->vent != CHECK_NONE) {
        snprintf(other, EXPLANATION_OTHER, "vent %s", roof->vents[finding->vent].name);
        return true;
    }
    if (finding->other_bracket == CHECK_NONE) {
        return false;
    }
    const bool first = scope->mark != CHECK_NONE
                           ? finding->mark == scope->mark
                           : finding->bracket == scope->bracket && finding->row == scope->row;
    if (first) {
        name_part(roof, marks, finding->other_bracket, finding->other_row, finding->other_mark,
                  other);
    } else {
        name_part(roof, marks, finding->bracket, finding->row, finding->mark, other);
    }
    return true;
}
