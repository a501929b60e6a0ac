/* row, clearance and foot-reach: where rows and feet meet their bracket. */
#include "rules.h"

#include <math.h>
#include <stdint.h>

double check_row(const struct kit *kit, enum row row, double up) {
    const double *window = kit->window[row];
    return check_lesser(up - window[0], window[1] - up);
}

double check_clearance(const struct kit *kit, enum hardware hardware, double up) {
    return up - roof_hardware_half(kit, hardware) - kit->wrench - kit->gap[1] - kit->depth;
}

double check_slip(const struct kit *kit, size_t leg, double up, enum side *side) {
    double near = up - (kit->legs[leg] - kit->foot_reach);
    double far = up - (kit->legs[leg] + kit->foot_reach);
    *side = fabs(far) < fabs(near) ? SIDE_FAR : SIDE_NEAR;
    return *side == SIDE_FAR ? far : near;
}

static void add_row(struct checking *checking, size_t bracket, enum row row) {
    const struct row_seat *seat = &checking->verdict->rows[bracket][row];
    const struct standing *standing = &checking->marks->brackets[bracket];
    const struct kit *kit = roof_kit(checking->roof, bracket);
    double meets = INFINITY, clears = INFINITY;
    for (size_t i = 0; i < seat->count; i++) {
        size_t mark = checking->verdict->order[seat->first_mark + i];
        double up = checking->marks->list[mark].y - standing->y;
        meets = check_lesser(meets, check_row(kit, row, up));
        clears = check_lesser(clears, check_clearance(kit, standing->hardware[row], up));
    }
    if (seat->count == 0)
        return; /* no line to hold against the bracket: complete tells */
    struct finding finding = check_finding(RULE_ROW, bracket);
    finding.row = (int)row;
    finding.margin = meets;
    check_add(checking, &finding);
    if (row == ROW_BOTTOM) {
        finding.rule = RULE_CLEARANCE;
        finding.margin = clears;
        check_add(checking, &finding);
    }
}

void check_all_rows(struct checking *checking) {
    for (size_t i = 0; i < checking->roof->bracket_count; i++)
        for (int row = 0; row < ROW_COUNT; row++)
            add_row(checking, i, (enum row)row);
}

void check_all_feet(struct checking *checking) {
    for (size_t i = 0; i < checking->marks->count; i++) {
        const struct mark *mark = &checking->marks->list[i];
        const struct seat *seat = &checking->verdict->seats[i];
        if (seat->leg == SIZE_MAX)
            continue;
        struct finding finding = check_finding(RULE_FOOT_REACH, mark->bracket);
        finding.row = (int)mark->row;
        finding.mark = (int)i;
        finding.margin = roof_kit(checking->roof, mark->bracket)->foot_slot - fabs(seat->slip);
        check_add(checking, &finding);
    }
}
