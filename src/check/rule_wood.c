/* wood: the lag is in sound wood, clear of its faces, of its ends and of every keepout. */
#include "rules.h"

#include <math.h>
#include <stdint.h>

double check_ply_x(const struct ply *ply, double y) {
    return ply->at + ply->lean * y;
}

/* From the lag to the nearer face of a ply, with what is lost on the way. */
static double across(const struct mark *mark, const struct ply *ply, double lag_edge) {
    double off = fabs(mark->x - (ply->at + ply->lean * mark->y));
    return ply->half - off - lag_edge - ply->tolerance;
}

/* Up the roof: inside what there is of the ply, and off every keepout of its rafter. */
static double along(const struct roof *roof, const struct mark *mark, const struct ply *ply) {
    double least = check_lesser(mark->y - ply->reach[0], ply->reach[1] - mark->y);
    for (size_t i = 0; i < roof->keepout_count; i++) {
        const struct keepout *keepout = &roof->keepouts[i];
        if (keepout->rafter == ply->rafter)
            least =
                check_lesser(least, check_greater(keepout->y0 - mark->y, mark->y - keepout->y1));
    }
    return least;
}

double check_wood(const struct roof *roof, const struct mark *mark, size_t ply) {
    if (ply == SIZE_MAX)
        return -roof->width; /* no wood anywhere on the face */
    const struct ply *target = &roof->plies[ply];
    const double lag_edge = roof_kit(roof, mark->bracket)->lag_edge;
    return check_lesser(across(mark, target, lag_edge), along(roof, mark, target));
}

size_t check_best_ply(const struct roof *roof, const struct mark *mark) {
    size_t best = SIZE_MAX;
    double most = -INFINITY;
    const double lag_edge = roof_kit(roof, mark->bracket)->lag_edge;
    for (size_t i = 0; i < roof->ply_count; i++) {
        double margin = across(mark, &roof->plies[i], lag_edge);
        /* Most plies are too far away, however far they run up the roof. */
        if (best != SIZE_MAX && !(margin > most))
            continue;
        margin = check_lesser(margin, along(roof, mark, &roof->plies[i]));
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
        if (mark->row == ROW_PIPE)
            continue;
        struct finding finding = check_finding(RULE_WOOD, mark->bracket);
        finding.row = (int)mark->row;
        finding.mark = (int)i;
        finding.margin = check_wood(checking->roof, mark, checking->verdict->seats[i].ply);
        check_add(checking, &finding);
    }
}
