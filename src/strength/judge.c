/* The judgement: from frames to legs, through struts and feet to lags, each held against what it
 * can carry under every combination.
 */
#include "judging.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

/* A ratio that comes out at 1 but for the last bits still carries. */
static const double RATIO_TOLERANCE = 1e-9;
/* Rows nearer than this to each other hold no moment that could be reckoned with. */
static const double ROWS_APART_LEAST_IN = 1e-3;

void judging_add(struct strength *strength, const struct strength_item *item) {
    strength->items[strength->count++] = *item;
    double *worst = item->kind == STRENGTH_RAFTER ? &strength->worst_rafter : &strength->worst;
    *worst = fmax(*worst, item->ratio);
}

void judging_worse(struct strength_item *item, const struct strength_item *other) {
    if (other->ratio > item->ratio)
        *item = *other;
}

static const struct kit_loads *kit_loads(const struct judging *judging, size_t bracket) {
    return &judging->loads->kits[judging->roof->brackets[bracket].kit];
}

/* The legs' forces go through a strut to its lags.  Returns the greatest moment, or a negative
 * number where the strut is none. */
static double through_strut(struct judging *judging, size_t bracket, enum row row,
                            const struct leg_force *legs, enum combination combination) {
    const struct row_seat *seat = &judging->verdict->rows[bracket][row];
    double lags[BEAM_SUPPORTS_MOST];
    struct leg_force lag_forces[BEAM_SUPPORTS_MOST];
    struct beam_answer beam;
    if (seat->count > BEAM_SUPPORTS_MOST)
        return -1;
    const size_t *order = &judging->verdict->order[seat->first_mark];
    for (size_t i = 0; i < seat->count; i++)
        lags[i] = judging->marks->list[order[i]].x;
    const struct strut_line strut = {lags, seat->count, seat->clamps,
                                     roof_kit(judging->roof, bracket)->leg_count};
    if (!loads_through_strut(&strut, legs, lag_forces, &beam))
        return -1;
    for (size_t i = 0; i < seat->count; i++)
        judging->forces[order[i]][combination] =
            (struct mark_force){.pull_lb = fmax(0, -lag_forces[i].normal_lb),
                                .shear_lb = lag_forces[i].down_lb,
                                .normal_lb = lag_forces[i].normal_lb,
                                .known = true};
    return beam_greatest_inlb(&beam);
}

/* Each foot takes its leg's force.  false: feet and legs do not match. */
static bool through_feet(struct judging *judging, size_t bracket, enum row row,
                         const struct leg_force *legs, enum combination combination) {
    const struct row_seat *seat = &judging->verdict->rows[bracket][row];
    const struct kit *kit = roof_kit(judging->roof, bracket);
    const struct kit_loads *more = kit_loads(judging, bracket);
    if (seat->count != kit->leg_count)
        return false;
    for (size_t i = 0; i < seat->count; i++) {
        const size_t mark = judging->verdict->order[seat->first_mark + i];
        const size_t leg = judging->verdict->seats[mark].leg;
        if (leg >= kit->leg_count)
            return false;
        const double away =
            judging->marks->list[mark].x - (judging->marks->brackets[bracket].x + kit->legs[leg]);
        judging->forces[mark][combination] = (struct mark_force){
            .pull_lb = loads_foot_pull_lb(legs[leg].normal_lb, away, more->foot_toe_in,
                                          more->foot_lag_factor),
            .shear_lb = legs[leg].down_lb,
            .normal_lb = legs[leg].normal_lb,
            .known = true};
    }
    return true;
}

/* One row of a frame under one combination; `strut` keeps the worst of a strut's bending. */
static void judge_row(struct judging *judging, size_t bracket, enum row row,
                      const struct leg_force *legs, enum combination combination,
                      struct strength_item *strut) {
    struct strength *strength = judging->strength;
    if (judging->marks->brackets[bracket].hardware[row] == HARDWARE_FEET) {
        if (!through_feet(judging, bracket, row, legs, combination))
            strength->complete = false;
        return;
    }
    const double moment = through_strut(judging, bracket, row, legs, combination);
    const struct kit_loads *more = kit_loads(judging, bracket);
    if (moment < 0) {
        strength->complete = false;
    } else if (!(more->strut_section_in3 > 0 && more->strut_stress_psi > 0)) {
        strength->struts_judged = false;
    } else {
        struct strength_item item = {.kind = STRENGTH_STRUT,
                                     .bracket = (int)bracket,
                                     .row = (int)row,
                                     .mark = STRENGTH_NONE,
                                     .rafter = STRENGTH_NONE,
                                     .combination = combination,
                                     .demand = moment / more->strut_section_in3,
                                     .capacity = more->strut_stress_psi,
                                     .clause = "bending by the kit's strut section and stress"};
        item.ratio = item.demand / item.capacity;
        judging_worse(strut, &item);
    }
}

/* Where up its legs a row meets its frame. */
static double meets_at(const struct judging *judging, size_t bracket, enum row row) {
    return judging->verdict->rows[bracket][row].y - judging->marks->brackets[bracket].y;
}

/* The forces of one frame, and the worst of its struts. */
static void judge_frame(struct judging *judging, size_t bracket,
                        struct strength_item struts[ROW_COUNT]) {
    const struct kit *kit = roof_kit(judging->roof, bracket);
    const struct row_seat *rows = judging->verdict->rows[bracket];
    const double v[ROW_COUNT] = {[ROW_TOP] = meets_at(judging, bracket, ROW_TOP),
                                 [ROW_BOTTOM] = meets_at(judging, bracket, ROW_BOTTOM)};
    if (rows[ROW_TOP].count == 0 || rows[ROW_BOTTOM].count == 0 ||
        !(v[ROW_TOP] - v[ROW_BOTTOM] > ROWS_APART_LEAST_IN)) {
        judging->strength->complete = false;
        return;
    }
    for (int c = 0; c < COMBINATION_COUNT; c++) {
        const struct combination_factors *factors = loads_combination((enum combination)c);
        const double *centre =
            factors->filled ? kit->centre : kit_loads(judging, bracket)->centre_dry_in;
        const struct frame_loads frame = {.dead_lb = factors->filled ? kit->filled_lb : kit->dry_lb,
                                          .dead_centre_in = {centre[0], centre[1], centre[2]},
                                          .snow_psf = judging->loads->snow_psf,
                                          .wind_psf = judging->loads->uplift_psf,
                                          .pitch_rad = judging->roof->pitch_rad};
        struct leg_force legs[ROW_COUNT][ROOF_LEGS_MOST];
        loads_on_legs(kit, v, &frame, factors, legs);
        for (int row = 0; row < ROW_COUNT; row++)
            judge_row(judging, bracket, (enum row)row, legs[row], (enum combination)c,
                      &struts[row]);
    }
}

/* A lag under one combination. */
static struct strength_item judge_lag(const struct judging *judging, size_t mark,
                                      enum combination combination) {
    const struct mark *at = &judging->marks->list[mark];
    const struct mark_force *force = &judging->forces[mark][combination];
    const struct strength_lag *lag = &judging->lags[at->bracket];
    const struct kit_loads *more = kit_loads(judging, at->bracket);
    const struct lag_limits limits = strength_limits(lag, more, loads_combination(combination));
    const struct lag_combined both =
        lag_combined(force->pull_lb, force->shear_lb, limits.withdrawal_lb, limits.lateral_lb);
    const size_t ply = judging->verdict->seats[mark].ply;
    return (struct strength_item){
        .kind = STRENGTH_LAG,
        .bracket = (int)at->bracket,
        .row = (int)at->row,
        .mark = (int)mark,
        .rafter = ply == SIZE_MAX ? STRENGTH_NONE : (int)judging->roof->plies[ply].rafter,
        .combination = combination,
        .demand = both.demand_lb,
        .capacity = both.capacity_lb,
        .ratio = both.ratio,
        .pull_lb = force->pull_lb,
        .shear_lb = force->shear_lb,
        .clause = force->pull_lb > 0 ? "NDS 2018 12.2.1, 12.3.1, 12.4.1" : "NDS 2018 12.3.1"};
}

static void judge_lags(struct judging *judging) {
    for (size_t i = 0; i < judging->marks->count; i++) {
        if (!judging->forces[i][0].known)
            continue;
        struct strength_item worst = judge_lag(judging, i, (enum combination)0);
        for (int c = 1; c < COMBINATION_COUNT; c++) {
            const struct strength_item item = judge_lag(judging, i, (enum combination)c);
            judging_worse(&worst, &item);
        }
        judging_add(judging->strength, &worst);
    }
}

/* Frames first, as lags and rafters need their forces; items in the order of the header. */
static void judge_all(struct judging *judging) {
    static const struct strength_item none = {.ratio = -1};
    struct strength_item struts[ROOF_BRACKETS_MOST][ROW_COUNT];
    const size_t brackets = judging->roof->bracket_count;
    for (size_t b = 0; b < brackets; b++) {
        struts[b][ROW_TOP] = none;
        struts[b][ROW_BOTTOM] = none;
        judge_frame(judging, b, struts[b]);
    }
    judge_lags(judging);
    for (size_t b = 0; b < brackets; b++)
        for (int row = 0; row < ROW_COUNT; row++)
            if (struts[b][row].ratio >= 0)
                judging_add(judging->strength, &struts[b][row]);
    judging->strength->rafters_judged = judging->loads->has_rafter && !judging->roof->trusses;
    if (judging->strength->rafters_judged)
        judging_rafters(judging);
    judging->strength->carries = judging->strength->worst <= 1 + RATIO_TOLERANCE;
}

/* Every frame's lag; false where one cannot be reckoned with. */
static bool find_lags(struct judging *judging) {
    const struct roof *roof = judging->roof;
    for (size_t b = 0; b < roof->bracket_count; b++) {
        const struct kit *kit = roof_kit(roof, b);
        if (!kit->has_weight || strength_lag_find(kit, kit_loads(judging, b), judging->loads,
                                                  &judging->lags[b]) != LAG_GOOD)
            return false;
    }
    return true;
}

enum outcome strength_judge(const struct roof *roof, const struct marks *marks,
                            const struct verdict *verdict, const struct loads *loads,
                            struct strength **strength) {
    struct judging judging = {.roof = roof, .marks = marks, .verdict = verdict, .loads = loads};
    if (roof->bracket_count > ROOF_BRACKETS_MOST || loads->kit_count < roof->kit_count ||
        !find_lags(&judging))
        return OUTCOME_BAD_INPUT;
    const size_t items = marks->count + ROW_COUNT * roof->bracket_count + roof->rafter_count;
    judging.forces = calloc(marks->count + 1, sizeof *judging.forces);
    judging.points = calloc(marks->count + 1, sizeof *judging.points);
    judging.strength = calloc(1, sizeof *judging.strength);
    struct strength_item *room = calloc(items + 1, sizeof *room);
    const bool enough = judging.forces && judging.points && judging.strength && room;
    if (enough) {
        *judging.strength =
            (struct strength){.items = room, .struts_judged = true, .complete = true};
        judge_all(&judging);
        *strength = judging.strength;
    } else {
        free(room);
        free(judging.strength);
    }
    free(judging.points);
    free(judging.forces);
    return enough ? OUTCOME_DONE : OUTCOME_FAULT;
}
