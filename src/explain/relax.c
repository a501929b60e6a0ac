/* Each rule asked for less, alone: the key that eases it, how far, and what that does. */
#include "altered.h"

#include <assert.h>
#include <math.h>

/* Beyond these, in inches, a relaxed part would be another part: common practice, no source. */
#define SLOT_MOST 3.0
#define WINDOW_MOST 6.0
#define REACH_MOST 24.0
#define OVERHANG_MOST 12.0
#define SPAN_MOST 48.0
#define STOCK_MOST 120.0
#define EDGE_MOST 2.0

static bool has_row(const struct roof *roof, enum hardware hardware) {
    for (size_t i = 0; i < roof->bracket_count; i++)
        for (int row = 0; row < ROW_COUNT; row++)
            if (roof->brackets[i].hardware[row] == hardware)
                return true;
    return false;
}

/* Kits: the least of a length over all of them, as none may become negative. */
static double least_of_kits(const struct roof *roof, enum relaxed relaxed) {
    double least = INFINITY;
    for (size_t i = 0; i < roof->kit_count; i++) {
        const struct kit *kit = &roof->kits[i];
        least = fmin(least, relaxed == RELAXED_LAG_EDGE       ? kit->lag_edge
                            : relaxed == RELAXED_COURSE_BLOCK ? kit->flashing.clear
                            : relaxed == RELAXED_LAP          ? kit->flashing.lap
                            : relaxed == RELAXED_CLEARANCE    ? kit->wrench
                                                              : kit->lag_clear);
    }
    for (size_t i = 0; i < roof->pipe_count; i++) {
        const struct flashing *flashing = &roof->pipes[i].flashing;
        if (relaxed == RELAXED_COURSE_BLOCK)
            least = fmin(least, flashing->clear);
        if (relaxed == RELAXED_LAP)
            least = fmin(least, flashing->lap);
    }
    return least;
}

static double most_of_rafters(const struct roof *roof) {
    double most = 0;
    for (size_t i = 0; i < roof->rafter_count; i++)
        most = fmax(most, roof->rafters[i].tolerance);
    return most;
}

static double most_of_vents(const struct roof *roof, enum relaxed relaxed) {
    double most = 0;
    for (size_t i = 0; i < roof->vent_count; i++)
        most = fmax(most, relaxed == RELAXED_VENT_FLASHING ? roof->vents[i].keep_flashing
                                                           : roof->vents[i].keep_bracket);
    return most;
}

static double most_of_setbacks(const struct roof *roof) {
    double most = 0;
    for (size_t i = 0; i < roof->edge_count; i++)
        most = fmax(most, roof->edges[i].setback);
    return most;
}

static double most_of_pipes(const struct roof *roof) {
    double most = 0;
    for (size_t i = 0; i < roof->pipe_count; i++)
        most = fmax(most, roof->pipes[i].keep_rafter);
    return most;
}

double altered_most(const struct roof *roof, enum relaxed relaxed) {
    const double with_strut = has_row(roof, HARDWARE_STRUT) ? 1 : 0;
    switch (relaxed) {
    case RELAXED_RAFTERS:
        return most_of_rafters(roof);
    case RELAXED_COURSES:
        return roof->course_tolerance;
    case RELAXED_JOINTS:
        return roof_has_joints(roof) ? roof->keep_joint : 0;
    case RELAXED_COURSE_EDGE:
        return EDGE_MOST;
    case RELAXED_VENT_FLASHING:
    case RELAXED_VENT_BRACKET:
        return most_of_vents(roof, relaxed);
    case RELAXED_SETBACK:
        return most_of_setbacks(roof);
    case RELAXED_ROW:
        return WINDOW_MOST;
    case RELAXED_FOOT_REACH:
        return has_row(roof, HARDWARE_FEET) ? SLOT_MOST : 0;
    case RELAXED_PIPE_BAY:
        return most_of_pipes(roof);
    case RELAXED_PIPE_REACH:
        return roof->pipe_count > 0 ? REACH_MOST : 0;
    case RELAXED_APART:
        return roof->bracket_count > 1 ? roof->apart : 0;
    case RELAXED_CLAMP_CLEAR:
        return with_strut * least_of_kits(roof, relaxed);
    case RELAXED_CLAMP_OVERHANG:
        return with_strut * OVERHANG_MOST;
    case RELAXED_SPAN:
        return with_strut * SPAN_MOST;
    case RELAXED_STOCK:
        return with_strut * STOCK_MOST;
    default:
        return least_of_kits(roof, relaxed);
    }
}

static void relax_flashing(struct flashing *flashing, enum relaxed relaxed, double by) {
    if (relaxed == RELAXED_COURSE_EDGE)
        flashing->edge[1] += by;
    if (relaxed == RELAXED_COURSE_BLOCK)
        flashing->clear = fmax(0, flashing->clear - by);
    if (relaxed == RELAXED_LAP)
        flashing->lap = fmax(0, flashing->lap - by);
}

/* The window of a row grows at both ends; the bottom one stays below the top one. */
static void relax_window(struct kit *kit, double by) {
    const double between = (kit->window[ROW_TOP][0] - kit->window[ROW_BOTTOM][1]) / 2;
    const double inner = fmin(by, fmax(0, between - LENGTH_TOLERANCE));
    kit->window[ROW_BOTTOM][0] = fmax(0, kit->window[ROW_BOTTOM][0] - by);
    kit->window[ROW_BOTTOM][1] += inner;
    kit->window[ROW_TOP][0] -= inner;
    kit->window[ROW_TOP][1] = fmin(kit->height, kit->window[ROW_TOP][1] + by);
}

static void relax_kit(struct kit *kit, enum relaxed relaxed, double by) {
    relax_flashing(&kit->flashing, relaxed, by);
    if (relaxed == RELAXED_LAG_EDGE)
        kit->lag_edge = fmax(0, kit->lag_edge - by);
    if (relaxed == RELAXED_ROW)
        relax_window(kit, by);
    if (relaxed == RELAXED_CLEARANCE)
        kit->wrench = fmax(0, kit->wrench - by);
    if (relaxed == RELAXED_FOOT_REACH)
        kit->foot_slot += by;
    if (relaxed == RELAXED_CLAMP_CLEAR)
        kit->lag_clear = fmax(0, kit->lag_clear - by);
    if (relaxed == RELAXED_CLAMP_OVERHANG)
        kit->overhang += by;
    if (relaxed == RELAXED_SPAN)
        kit->span += by;
    if (relaxed == RELAXED_STOCK && kit->stock_count > 0)
        kit->stock[kit->stock_count - 1] += by;
}

static void relax_pipe(struct pipe *pipe, enum relaxed relaxed, double by) {
    relax_flashing(&pipe->flashing, relaxed, by);
    if (relaxed == RELAXED_PIPE_BAY)
        pipe->keep_rafter = fmax(0, pipe->keep_rafter - by);
    if (relaxed == RELAXED_PIPE_REACH)
        pipe->reach += by;
}

static void relax_tolerances(struct roof *roof, double by) {
    for (size_t i = 0; i < roof->rafter_count; i++)
        roof->rafters[i].tolerance = fmax(0, roof->rafters[i].tolerance - by);
    for (size_t i = 0; i < roof->ply_count; i++)
        roof->plies[i].tolerance = fmax(0, roof->plies[i].tolerance - by);
}

static void relax_vent(struct vent *vent, enum relaxed relaxed, double by) {
    if (relaxed == RELAXED_VENT_FLASHING)
        vent->keep_flashing = fmax(0, vent->keep_flashing - by);
    if (relaxed == RELAXED_VENT_BRACKET)
        vent->keep_bracket = fmax(0, vent->keep_bracket - by);
}

void altered_relax(struct altered *altered, enum relaxed relaxed, double by) {
    struct roof *roof = &altered->roof;
    for (size_t i = 0; i < roof->kit_count; i++)
        relax_kit(&roof->kits[i], relaxed, by);
    for (size_t i = 0; i < roof->pipe_count; i++)
        relax_pipe(&roof->pipes[i], relaxed, by);
    for (size_t i = 0; i < roof->vent_count; i++)
        relax_vent(&roof->vents[i], relaxed, by);
    for (size_t i = 0; i < roof->edge_count && relaxed == RELAXED_SETBACK; i++)
        roof->edges[i].setback = fmax(0, roof->edges[i].setback - by);
    if (relaxed == RELAXED_RAFTERS)
        relax_tolerances(roof, by);
    if (relaxed == RELAXED_COURSES)
        roof->course_tolerance = fmax(0, roof->course_tolerance - by);
    if (relaxed == RELAXED_JOINTS)
        roof->keep_joint = fmax(0, roof->keep_joint - by);
    if (relaxed == RELAXED_APART)
        roof->apart = fmax(0, roof->apart - by);
}

static const struct {
    enum rule rule;
    const char *key;
} eases[RELAXED_COUNT] = {
    [RELAXED_LAG_EDGE] = {RULE_WOOD, "lag.edge"},
    [RELAXED_RAFTERS] = {RULE_WOOD, "rafters.tolerance"},
    [RELAXED_COURSE_EDGE] = {RULE_COURSE_EDGE, "flashing.edge"},
    [RELAXED_COURSE_BLOCK] = {RULE_COURSE_BLOCK, "flashing.clear"},
    [RELAXED_LAP] = {RULE_LAP, "flashing.lap"},
    [RELAXED_COURSES] = {RULE_COURSE_EDGE, "courses.tolerance"},
    [RELAXED_JOINTS] = {RULE_JOINTS, "courses.joints.keep"},
    [RELAXED_VENT_FLASHING] = {RULE_VENT_FLASHING, "vents.keep_flashing"},
    [RELAXED_VENT_BRACKET] = {RULE_VENT_BRACKET, "vents.keep_bracket"},
    [RELAXED_SETBACK] = {RULE_SETBACK, "setback"},
    [RELAXED_ROW] = {RULE_ROW, "bracket.top, bracket.bottom"},
    [RELAXED_CLEARANCE] = {RULE_CLEARANCE, "bracket.bottom_bracket.wrench"},
    [RELAXED_FOOT_REACH] = {RULE_FOOT_REACH, "foot.slot"},
    [RELAXED_PIPE_BAY] = {RULE_PIPE_BAY, "pipes.keep_rafter"},
    [RELAXED_PIPE_REACH] = {RULE_PIPE_REACH, "pipes.reach"},
    [RELAXED_APART] = {RULE_APART, "apart"},
    [RELAXED_CLAMP_CLEAR] = {RULE_STRUT_CLAMP, "strut.lag_clear"},
    [RELAXED_CLAMP_OVERHANG] = {RULE_STRUT_CLAMP, "strut.overhang"},
    [RELAXED_SPAN] = {RULE_STRUT_SPAN, "strut.span"},
    [RELAXED_STOCK] = {RULE_STRUT_STOCK, "strut.stock"},
};

enum rule explain_relaxed_rule(enum relaxed relaxed) {
    assert((unsigned)relaxed < RELAXED_COUNT);
    return eases[relaxed].rule;
}

const char *explain_relaxed_key(enum relaxed relaxed) {
    assert((unsigned)relaxed < RELAXED_COUNT);
    return eases[relaxed].key;
}
