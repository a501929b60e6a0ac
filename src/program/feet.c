/* A row of single feet: each lag in a ply, within its slot of its leg. */
#include "parts.h"

#include <math.h>
#include <stdlib.h>

static void choose_seat(struct parts *parts, const struct candidate_leg *found, size_t *seats,
                        size_t bracket, enum row row, size_t leg) {
    struct program *program = parts->program;
    for (size_t i = 0; i < found->count; i++)
        seats[i] = program_column(program, 0, 1, true, "seat_%zu_%s_%zu_%zu", bracket + 1,
                                  roof_row_word(row), leg + 1, found->plies[i] + 1);
    program_row(program, 1, true);
    for (size_t i = 0; i < found->count; i++)
        program_term(program, seats[i], 1);
}

/* |x - middle of the ply| <= its play - level, as convex combinations over the
 * plies; and the lag where the ply takes one. */
static void hold_wood(struct parts *parts, const struct candidate_leg *found, const size_t *seats,
                      size_t x, size_t y, const struct kit *kit, size_t level) {
    struct program *program = parts->program;
    struct line *lines = calloc(found->count, sizeof *lines);
    if (!lines) {
        program->failed = true;
        return;
    }
    for (size_t i = 0; i < found->count; i++) {
        const struct ply *ply = &parts->roof->plies[found->plies[i]];
        lines[i] = (struct line){ply->at, ply->lean};
        hold_along(parts, found->plies[i], y, level, seats[i]);
    }
    size_t *shares = share_height(parts, seats, lines, found->count, y);
    for (int side = SIDE_NEAR; side < SIDE_COUNT && !program->failed; side++) {
        double sign = side == SIDE_NEAR ? 1 : -1;
        for (size_t i = 0; i < found->count; i++)
            lines[i].at = parts->roof->plies[found->plies[i]].at -
                          sign * candidates_play(parts->roof, kit, found->plies[i]);
        program_row(program, 0, false);
        program_term(program, x, sign);
        program_term(program, level, -1);
        add_lines(parts, seats, lines, found->count, shares, -sign);
    }
    free(shares);
    free(lines);
}

/* slip = x - X - leg + reach - 2 reach * turned, within the slot by the level.
 */
static void hold_reach(struct parts *parts, size_t x, size_t turned, size_t bracket_x, double leg,
                       const struct kit *kit, size_t level) {
    struct linear slip = linear_of(kit->foot_reach - leg);
    slip = linear_plus(linear_plus(slip, x, 1), bracket_x, -1);
    slip = linear_plus(slip, turned, -2 * kit->foot_reach);
    struct linear slot = linear_plus(linear_of(kit->foot_slot), level, -1);
    program_require(parts->program, linear_sum(slot, slip, -1));
    program_require(parts->program, linear_sum(slot, slip, 1));
}

static void place_foot(struct parts *parts, size_t bracket, enum row row, size_t leg) {
    struct program *program = parts->program;
    const struct kit *kit = roof_kit(parts->roof, bracket);
    const struct candidate_leg *found = &parts->candidates->brackets[bracket].rows[row].legs[leg];
    struct model_bracket *own = &parts->model->brackets[bracket];
    struct model_row *columns = &own->rows[row];
    struct subject subject = {bracket, NOBODY};
    columns->seats[leg] = calloc(found->count, sizeof *columns->seats[leg]);
    if (!columns->seats[leg]) {
        program->failed = true;
        return;
    }
    columns->x[leg] = program_column(program, found->x.lo, found->x.hi, false, "x_%zu_%s_%zu",
                                     bracket + 1, roof_row_word(row), leg + 1);
    columns->turned[leg] =
        program_column(program, found->side[SIDE_NEAR] ? 0 : 1, found->side[SIDE_FAR] ? 1 : 0, true,
                       "turned_%zu_%s_%zu", bracket + 1, roof_row_word(row), leg + 1);
    choose_seat(parts, found, columns->seats[leg], bracket, row, leg);
    hold_wood(parts, found, columns->seats[leg], columns->x[leg], columns->y, kit,
              level_of(parts, subject, 1));
    hold_reach(parts, columns->x[leg], columns->turned[leg], own->x, kit->legs[leg], kit,
               level_of(parts, subject, 1));
    if (leg > 0) {
        struct linear rise = linear_plus(linear_of(0), columns->x[leg], 1);
        program_require(program, linear_plus(rise, columns->x[leg - 1], -1));
    }
    struct linear x = linear_plus(linear_of(0), columns->x[leg], 1);
    struct linear y = linear_plus(linear_of(0), columns->y, 1);
    struct sides sides = flashing_sides(&kit->flashing, x, y);
    require_flashing(parts, &sides, subject, MODEL_NONE);
}

/* A foot drilled already keeps its place; which leg stands on it is free. */
static void keep_drilled(struct parts *parts, size_t bracket, enum row row,
                         const struct given *given) {
    struct program *program = parts->program;
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    const struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    program_row(program, 1, false);
    for (size_t leg = 0; leg < found->leg_count; leg++)
        for (size_t i = 0; i < found->legs[leg].count; i++)
            if (found->legs[leg].plies[i] == given->ply)
                program_term(program, columns->seats[leg][i], 1);
    for (size_t leg = 0; leg < found->leg_count; leg++)
        for (size_t i = 0; i < found->legs[leg].count; i++) {
            if (found->legs[leg].plies[i] != given->ply)
                continue;
            struct linear off = linear_plus(linear_of(-given->x), columns->x[leg], 1);
            program_require_when(program, off, &columns->seats[leg][i], 1);
            program_require_when(program, linear_sum(linear_of(0), off, -1),
                                 &columns->seats[leg][i], 1);
        }
}

void place_feet(struct parts *parts, size_t bracket, enum row row) {
    size_t legs = roof_kit(parts->roof, bracket)->leg_count;
    struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    columns->x = calloc(legs, sizeof *columns->x);
    columns->turned = calloc(legs, sizeof *columns->turned);
    columns->seats = calloc(legs, sizeof *columns->seats);
    if (!columns->x || !columns->turned || !columns->seats) {
        parts->program->failed = true;
        return;
    }
    columns->leg_count = legs;
    for (size_t leg = 0; leg < legs; leg++)
        place_foot(parts, bracket, row, leg);
    for (size_t i = 0; i < parts->roof->given_count && !parts->program->failed; i++) {
        const struct given *given = &parts->roof->given[i];
        if (given->bracket == bracket && given->row == row)
            keep_drilled(parts, bracket, row, given);
    }
}

/* Where its lag can lie in each ply of a foot. */
static void find_places(const struct parts *parts, size_t bracket, enum row row,
                        const struct candidate_leg *found, struct interval *x_at) {
    const struct kit *kit = roof_kit(parts->roof, bracket);
    const struct interval y = parts->candidates->brackets[bracket].rows[row].y;
    for (size_t i = 0; i < found->count; i++) {
        const double play =
            candidates_play(parts->roof, kit, found->plies[i]) - levels_least(parts);
        const struct interval middle = candidates_ply_x(&parts->roof->plies[found->plies[i]], y);
        x_at[i] = (struct interval){fmax(found->x.lo, middle.lo - play),
                                    fmin(found->x.hi, middle.hi + play)};
    }
}

void keep_feet_off_joints(struct parts *parts, size_t bracket, enum row row) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    const struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    for (size_t leg = 0; leg < found->leg_count && !parts->program->failed; leg++) {
        const size_t count = found->legs[leg].count;
        struct interval *x_at = calloc(count, sizeof *x_at);
        if (!x_at) {
            parts->program->failed = true;
            return;
        }
        find_places(parts, bracket, row, &found->legs[leg], x_at);
        const struct off_joints hole = {.subject = {bracket, NOBODY},
                                        .flashing = &roof_kit(parts->roof, bracket)->flashing,
                                        .numbers = found->courses,
                                        .courses = columns->courses,
                                        .course_count = found->course_count,
                                        .x = linear_plus(linear_of(0), columns->x[leg], 1),
                                        .x_at = x_at,
                                        .places = columns->seats[leg],
                                        .place_count = count,
                                        .used = MODEL_NONE};
        keep_off_joints(parts, &hole);
        free(x_at);
    }
}
