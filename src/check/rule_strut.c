/* strut-clear, strut-clamp, strut-span and strut-stock. */
#include "rules.h"

#include <math.h>
#include <stdint.h>

static const struct kit *kit_of(const struct checking *checking, const struct strut *strut) {
    return roof_kit(checking->roof, strut->bracket);
}

static size_t lag_mark(const struct checking *checking, const struct strut *strut, size_t lag) {
    return checking->verdict->order[strut->first_lag + lag];
}

static const struct mark *lag_of(const struct checking *checking, const struct strut *strut,
                                 size_t lag) {
    return &checking->marks->list[lag_mark(checking, strut, lag)];
}

double check_lag_x(const struct checking *checking, const struct strut *strut, size_t lag) {
    return lag_of(checking, strut, lag)->x;
}

static size_t lag_rafter(const struct checking *checking, const struct strut *strut, size_t lag) {
    size_t ply = checking->verdict->seats[lag_mark(checking, strut, lag)].ply;
    return ply == SIZE_MAX ? SIZE_MAX : checking->roof->plies[ply].rafter;
}

double check_clamp_x(const struct checking *checking, const struct strut *strut, size_t leg,
                     bool far) {
    const struct kit *kit = kit_of(checking, strut);
    double middle = checking->marks->brackets[strut->bracket].x + kit->legs[leg];
    return far ? middle + kit->grip : middle - kit->grip;
}

static double nearest_lag(const struct checking *checking, const struct strut *strut, double x) {
    double least = INFINITY;
    for (size_t i = 0; i < strut->lag_count; i++)
        least = check_lesser(least, fabs(check_lag_x(checking, strut, i) - x));
    return least;
}

double check_clamp(const struct checking *checking, const struct strut *strut, double x) {
    const struct kit *kit = kit_of(checking, strut);
    double beyond = check_greater(0, check_greater(strut->start - x, x - strut->finish));
    return check_lesser(nearest_lag(checking, strut, x) - kit->lag_clear, kit->overhang - beyond);
}

double check_stock(const struct kit *kit, double length) {
    double longest = 0;
    for (size_t i = 0; i < kit->stock_count; i++)
        longest = check_greater(longest, kit->stock[i]);
    return longest - length;
}

double check_strut_vent(const struct vent *vent, const struct box *strut) {
    return check_gap(&vent->flange, strut) - vent->keep_flashing;
}

/* From a lag to the middle of a ply, at the lag's own height. */
static double way_to_ply(const struct mark *mark, const struct ply *ply) {
    return fabs(check_ply_x(ply, mark->y) - mark->x);
}

/* How far a lag would have to go into another rafter than the one it is in. */
static double way_to_another(const struct roof *roof, const struct mark *mark, size_t rafter) {
    double least = roof->width;
    for (size_t i = 0; i < roof->ply_count; i++)
        if (roof->plies[i].rafter != rafter)
            least = check_lesser(least, way_to_ply(mark, &roof->plies[i]));
    return least;
}

/* Neighbours no further apart than the span, and never two in one rafter. */
static double neighbours(const struct checking *checking, const struct strut *strut) {
    double span = kit_of(checking, strut)->span, least = span;
    for (size_t i = 1; i < strut->lag_count; i++) {
        double x = check_lag_x(checking, strut, i);
        size_t rafter = lag_rafter(checking, strut, i);
        least = check_lesser(least, span - (x - check_lag_x(checking, strut, i - 1)));
        if (rafter != SIZE_MAX && rafter == lag_rafter(checking, strut, i - 1))
            least = check_lesser(
                least, -way_to_another(checking->roof, lag_of(checking, strut, i), rafter));
    }
    return least;
}

static bool lagged_to(const struct checking *checking, const struct strut *strut, size_t rafter) {
    for (size_t i = 0; i < strut->lag_count; i++)
        if (lag_rafter(checking, strut, i) == rafter)
            return true;
    return false;
}

/* Distance of a rafter's nearest ply to the nearest lag; half that ply's thickness at least. */
static double way_to_rafter(const struct checking *checking, const struct strut *strut,
                            const struct rafter *rafter) {
    double least = INFINITY;
    for (size_t i = 0; i < rafter->ply_count; i++) {
        const struct ply *ply = &checking->roof->plies[rafter->first_ply + i];
        double way = INFINITY;
        for (size_t lag = 0; lag < strut->lag_count; lag++)
            way = check_lesser(way, way_to_ply(lag_of(checking, strut, lag), ply));
        least = check_lesser(least, check_greater(ply->half, way));
    }
    return least;
}

/* With a lag to every sound rafter between first and last, none is skipped. */
static double skipped(const struct checking *checking, const struct strut *strut) {
    size_t first = lag_rafter(checking, strut, 0);
    size_t last = lag_rafter(checking, strut, strut->lag_count - 1);
    double least = INFINITY;
    if (first == SIZE_MAX || last == SIZE_MAX)
        return least;
    for (size_t i = first + 1; i < last; i++) {
        const struct rafter *rafter = &checking->roof->rafters[i];
        if (rafter->sound && rafter->ply_count > 0 && !lagged_to(checking, strut, i))
            least = check_lesser(least, -way_to_rafter(checking, strut, rafter));
    }
    return least;
}

static void add_alone(struct checking *checking, const struct strut *strut, enum rule rule,
                      double margin) {
    struct finding finding = check_finding(rule, strut->bracket);
    finding.row = (int)strut->row;
    finding.margin = margin;
    check_add(checking, &finding);
}

static void add_hard(struct checking *checking, const struct strut *strut) {
    const struct kit *kit = kit_of(checking, strut);
    double clamps = INFINITY;
    for (size_t i = 0; i < kit->leg_count; i++) {
        double x = check_clamp_x(checking, strut, i, strut->far[i]);
        clamps = check_lesser(clamps, check_clamp(checking, strut, x));
    }
    double span = neighbours(checking, strut);
    if (kit->every_rafter)
        span = check_lesser(span, skipped(checking, strut));
    add_alone(checking, strut, RULE_STRUT_CLAMP, clamps);
    add_alone(checking, strut, RULE_STRUT_SPAN, span);
    add_alone(checking, strut, RULE_STRUT_STOCK, check_stock(kit, strut->to - strut->from));
}

/* The lower bracket of the two comes first, whichever of them owns the strut. */
static void add_bracket(struct checking *checking, const struct strut *strut, size_t other,
                        double margin) {
    bool first = strut->bracket < other;
    struct finding finding = check_finding(RULE_STRUT_CLEAR, first ? strut->bracket : other);
    finding.other_bracket = (int)(first ? other : strut->bracket);
    *(first ? &finding.row : &finding.other_row) = (int)strut->row;
    finding.margin = margin;
    check_add(checking, &finding);
}

static void add_clear(struct checking *checking, const struct strut *strut) {
    const struct roof *roof = checking->roof;
    struct box box = check_strut_box(roof, strut, strut->from, strut->to);
    add_alone(checking, strut, RULE_STRUT_CLEAR, check_inside(roof, &box, false));
    for (size_t i = 0; i < roof->vent_count; i++) {
        struct finding finding = check_finding(RULE_STRUT_CLEAR, strut->bracket);
        finding.row = (int)strut->row;
        finding.vent = (int)i;
        finding.margin = check_strut_vent(&roof->vents[i], &box);
        check_add(checking, &finding);
    }
    for (size_t i = 0; i < roof->bracket_count; i++) {
        if (i == strut->bracket)
            continue;
        struct box other = check_bracket_box(roof, i, &checking->marks->brackets[i]);
        add_bracket(checking, strut, i, check_gap(&box, &other));
    }
}

void check_all_struts(struct checking *checking) {
    for (size_t i = 0; i < checking->strut_count; i++) {
        add_clear(checking, &checking->struts[i]);
        add_hard(checking, &checking->struts[i]);
    }
}
