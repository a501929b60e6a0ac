/* vent-flashing and vent-bracket: room between vents and what is put on the roof. */
#include "rules.h"

double check_vent_flashing(const struct vent *vent, const struct box *flashing) {
    return check_gap(&vent->flange, flashing) - vent->keep_flashing;
}

double check_vent_bracket(const struct vent *vent, const struct box *bracket) {
    return check_gap(&vent->flange, bracket) - vent->keep_bracket;
}

/* Only a blank one that is lower than the room below the bracket may lie under it. */
bool check_vent_minds(const struct vent *vent, const struct kit *kit) {
    return vent->kind != VENT_BLANK || length_holds(vent->tall - kit->standoff);
}

static void vents_and_mark(struct checking *checking, size_t index) {
    const struct roof *roof = checking->roof;
    const struct mark *mark = &checking->marks->list[index];
    struct box box = check_flashing_box(roof, mark);
    for (size_t i = 0; i < roof->vent_count; i++) {
        struct finding finding = check_finding(RULE_VENT_FLASHING, mark->bracket);
        finding.row = (int)mark->row;
        finding.mark = (int)index;
        finding.vent = (int)i;
        finding.margin = check_vent_flashing(&roof->vents[i], &box);
        check_add(checking, &finding);
    }
}

static void vents_and_bracket(struct checking *checking, size_t bracket) {
    const struct roof *roof = checking->roof;
    struct box box = check_bracket_box(roof, bracket, &checking->marks->brackets[bracket]);
    for (size_t i = 0; i < roof->vent_count; i++) {
        if (!check_vent_minds(&roof->vents[i], roof_kit(roof, bracket)))
            continue;
        struct finding finding = check_finding(RULE_VENT_BRACKET, bracket);
        finding.vent = (int)i;
        finding.margin = check_vent_bracket(&roof->vents[i], &box);
        check_add(checking, &finding);
    }
}

void check_all_vents(struct checking *checking) {
    for (size_t i = 0; i < checking->marks->count; i++)
        vents_and_mark(checking, i);
    for (size_t i = 0; i < checking->roof->bracket_count; i++)
        vents_and_bracket(checking, i);
}
