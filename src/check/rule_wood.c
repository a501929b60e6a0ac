/* wood: the lag is in sound wood, clear of its faces. */
#include "rules.h"

#include <math.h>
#include <stdint.h>

double check_wood(const struct roof *roof, const struct kit *kit, double x, size_t ply) {
    if (ply == SIZE_MAX)
        return -roof->width; /* no wood anywhere on the face */
    const struct ply *target = &roof->plies[ply];
    return target->half - fabs(x - target->at) - kit->lag_edge - target->tolerance;
}

size_t check_best_ply(const struct roof *roof, const struct kit *kit, double x) {
    size_t best = SIZE_MAX;
    double most = -INFINITY;
    for (size_t i = 0; i < roof->ply_count; i++) {
        double margin = check_wood(roof, kit, x, i);
        if (best == SIZE_MAX || margin > most) {
            best = i;
            most = margin;
        }
    }
    return best;
}

void check_all_wood(struct checking *checking) {
    for (size_t i = 0; i < checking->marks->count; i++) {
        const struct mark *mark = &checking->marks->list[i];
        struct finding finding = check_finding(RULE_WOOD, mark->bracket);
        finding.row = (int)mark->row;
        finding.mark = (int)i;
        finding.margin = check_wood(checking->roof, roof_kit(checking->roof, mark->bracket),
                                    mark->x, checking->verdict->seats[i].ply);
        check_add(checking, &finding);
    }
}
