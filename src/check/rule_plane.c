/* setback: brackets inside the face less its setbacks, flashings on the face. */
#include "rules.h"

void check_all_setbacks(struct checking *checking) {
    const struct roof *roof = checking->roof;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        struct box box = check_bracket_box(roof, i, &checking->marks->brackets[i]);
        struct finding finding = check_finding(RULE_SETBACK, i);
        finding.margin = check_inside(roof, &box, true);
        check_add(checking, &finding);
    }
    for (size_t i = 0; i < checking->marks->count; i++) {
        const struct mark *mark = &checking->marks->list[i];
        struct box box = check_flashing_box(roof, mark);
        struct finding finding = check_finding(RULE_SETBACK, mark->bracket);
        finding.row = (int)mark->row;
        finding.mark = (int)i;
        finding.margin = check_inside(roof, &box, false);
        check_add(checking, &finding);
    }
}
