/* A strut: lagged once in each rafter of a run, carrying each leg by one clamp.
 */
#include "strut.h"

#include <stdlib.h>

struct line strut_lag_line(const struct parts *parts, size_t bracket, enum row row, size_t ply) {
    const struct given *given = roof_given(parts->roof, bracket, row, ply);
    const struct ply *target = &parts->roof->plies[ply];
    return given ? (struct line){given->x, 0} : (struct line){target->at, target->lean};
}

struct linear strut_lag_x(const struct parts *parts, size_t bracket, enum row row, size_t ply) {
    const struct given *given = roof_given(parts->roof, bracket, row, ply);
    return given ? linear_of(given->x)
                 : ply_x(parts, ply, parts->model->brackets[bracket].rows[row].y);
}

struct interval strut_lag_reach(const struct parts *parts, const struct strut *strut, size_t i) {
    size_t ply = strut->found->plies[i];
    const struct given *given = roof_given(parts->roof, strut->bracket, strut->row, ply);
    return given ? (struct interval){given->x, given->x}
                 : candidates_ply_x(&parts->roof->plies[ply], strut->found->y);
}

static struct linear lag_x(const struct parts *parts, const struct strut *strut, size_t i) {
    return strut_lag_x(parts, strut->bracket, strut->row, strut->found->plies[i]);
}

static size_t rafter_of(const struct parts *parts, const struct strut *strut, size_t i) {
    return parts->roof->plies[strut->found->plies[i]].rafter;
}

static bool whole_run_lagged(const struct strut *strut) {
    return strut->kit->every_rafter;
}

static void add_columns(struct parts *parts, struct strut *strut) {
    struct program *program = parts->program;
    const char *row = roof_row_word(strut->row);
    size_t number = strut->bracket + 1;
    for (size_t i = 0; i < strut->found->ply_count; i++) {
        size_t ply = strut->found->plies[i];
        bool drilled = roof_given(parts->roof, strut->bracket, strut->row, ply) != NULL;
        /* With one ply in a rafter that the run may not skip, `used` follows from
         * first and last.
         */
        bool free_choice = !whole_run_lagged(strut) ||
                           parts->roof->rafters[parts->roof->plies[ply].rafter].ply_count > 1;
        strut->columns->used[i] = program_column(program, drilled ? 1 : 0, 1, free_choice,
                                                 "used_%zu_%s_%zu", number, row, ply + 1);
        strut->first[i] =
            program_column(program, 0, 1, true, "first_%zu_%s_%zu", number, row, ply + 1);
        strut->last[i] =
            program_column(program, 0, 1, true, "last_%zu_%s_%zu", number, row, ply + 1);
        if (parts->stage->kind == STAGE_COST && !program->failed)
            program->columns[strut->columns->used[i]].cost = parts->roof->hole_worth;
    }
    for (size_t r = strut->first_rafter; r <= strut->last_rafter; r++)
        strut->running[r - strut->first_rafter] =
            program_column(program, 0, 1, false, "run_%zu_%s_%zu", number, row, r + 1);
}

static void one_of_each_end(struct parts *parts, const struct strut *strut) {
    struct program *program = parts->program;
    const size_t *ends[2] = {strut->first, strut->last};
    for (int end = 0; end < 2; end++) {
        program_row(program, 1, true);
        for (size_t i = 0; i < strut->found->ply_count; i++)
            program_term(program, ends[end][i], 1);
        for (size_t i = 0; i < strut->found->ply_count; i++) {
            program_row(program, 0, false);
            program_term(program, strut->columns->used[i], 1);
            program_term(program, ends[end][i], -1);
        }
    }
    program_row(program, 2, false);
    for (size_t i = 0; i < strut->found->ply_count; i++)
        program_term(program, strut->columns->used[i], 1);
}

/* running(r) = running(r - 1) - last in r - 1 + first in r; a sound rafter in
 * the run takes one lag (at most one where the strut may skip it). */
static void follow_run(struct parts *parts, const struct strut *strut) {
    struct program *program = parts->program;
    size_t i = 0, before = 0;
    for (size_t r = strut->first_rafter; r <= strut->last_rafter; r++) {
        size_t begin = i;
        while (i < strut->found->ply_count && rafter_of(parts, strut, i) == r)
            i++;
        size_t running = strut->running[r - strut->first_rafter];
        program_row(program, 0, true);
        program_term(program, running, -1);
        for (size_t j = begin; j < i; j++)
            program_term(program, strut->first[j], 1);
        for (size_t j = before; j < begin && r > strut->first_rafter; j++)
            program_term(program, strut->last[j], -1);
        if (r > strut->first_rafter)
            program_term(program, strut->running[r - 1 - strut->first_rafter], 1);
        before = begin;
        if (!parts->roof->rafters[r].sound)
            continue;
        program_row(program, 0, whole_run_lagged(strut));
        program_term(program, running, 1);
        for (size_t j = begin; j < i; j++)
            program_term(program, strut->columns->used[j], -1);
    }
}

/* The column that is 1 only if ply j takes a lag within the span of ply i's:
 * `used`, unless the rafters lean so much that it depends on the height. */
static size_t used_within_span(struct parts *parts, const struct strut *strut, size_t i, size_t j) {
    struct program *program = parts->program;
    struct linear gap = linear_sum(lag_x(parts, strut, j), lag_x(parts, strut, i), -1);
    struct linear spare = linear_sum(linear_of(strut->kit->span), gap, -1);
    size_t used = strut->columns->used[j];
    if (length_holds(program_least(program, &spare)))
        return used;
    if (!length_holds(program_most(program, &spare)))
        return MODEL_NONE;
    size_t near = program_column(program, 0, 1, true, "near_%zu", program->column_count);
    program_require(program, linear_plus(linear_plus(linear_of(0), used, 1), near, -1));
    program_require_when(program, spare, &near, 1);
    return near;
}

/* A lag that is not the last has another no further on than the span. */
static void hold_span(struct parts *parts, const struct strut *strut) {
    struct program *program = parts->program;
    size_t count = strut->found->ply_count;
    size_t *next = calloc(count, sizeof *next);
    if (!next)
        program->failed = true;
    for (size_t i = 0; i < count && !program->failed; i++) {
        for (size_t j = i + 1; j < count; j++)
            next[j] = rafter_of(parts, strut, j) == rafter_of(parts, strut, i)
                          ? MODEL_NONE
                          : used_within_span(parts, strut, i, j);
        program_row(program, 0, false);
        program_term(program, strut->columns->used[i], -1);
        program_term(program, strut->last[i], 1);
        for (size_t j = i + 1; j < count; j++)
            if (next[j] != MODEL_NONE)
                program_term(program, next[j], 1);
    }
    free(next);
}

/* A lag goes into the middle of its ply, or is drilled already, so `wood` is a
 * constant there beside the ply's reach. */
static void hold_lags(struct parts *parts, const struct strut *strut) {
    struct program *program = parts->program;
    struct subject subject = {strut->bracket, NOBODY};
    for (size_t i = 0; i < strut->found->ply_count; i++) {
        size_t used = strut->columns->used[i], ply = strut->found->plies[i];
        double play = candidates_lag_play(parts->roof, strut->bracket, strut->row, ply);
        if (play < levels_most(parts) || limited_along(parts, ply, strut->columns->y)) {
            size_t level = level_of(parts, subject, 0);
            level_shared(parts, level, used);
            program_require_when(program, linear_plus(linear_of(play), level, -1), &used, 1);
            hold_along(parts, ply, strut->columns->y, level, used);
        }
        struct linear y = linear_plus(linear_of(0), strut->columns->y, 1);
        struct sides sides = flashing_sides(&strut->kit->flashing, lag_x(parts, strut, i), y);
        require_flashing(parts, &sides, subject, used);
    }
}

static void hold_clear(struct parts *parts, const struct strut *strut) {
    const struct roof *roof = parts->roof;
    struct subject subject = {strut->bracket, NOBODY};
    struct sides sides = strut_sides(parts, strut->bracket, strut->row);
    require_inside(parts, &sides, subject, false, MODEL_NONE);
    for (size_t v = 0; v < roof->vent_count; v++) {
        struct sides flange = fixed_sides(&roof->vents[v].flange);
        struct gap_rule rule = {subject, roof->vents[v].keep_flashing, 1, NULL, 0};
        require_gap(parts, &sides, &flange, &rule);
    }
}

static bool open_strut(const struct parts *parts, struct strut *strut) {
    size_t plies = strut->found->ply_count;
    strut->first_rafter = rafter_of(parts, strut, 0);
    strut->last_rafter = rafter_of(parts, strut, plies - 1);
    strut->columns->used = calloc(plies, sizeof *strut->columns->used);
    strut->columns->turned = calloc(strut->kit->leg_count, sizeof *strut->columns->turned);
    strut->columns->leg_count = strut->kit->leg_count;
    strut->first = calloc(plies, sizeof *strut->first);
    strut->last = calloc(plies, sizeof *strut->last);
    strut->running = calloc(strut->last_rafter - strut->first_rafter + 1, sizeof *strut->running);
    return strut->columns->used && strut->columns->turned && strut->first && strut->last &&
           strut->running;
}

void place_strut(struct parts *parts, size_t bracket, enum row row) {
    struct strut strut = {.bracket = bracket,
                          .row = row,
                          .kit = roof_kit(parts->roof, bracket),
                          .found = &parts->candidates->brackets[bracket].rows[row],
                          .columns = &parts->model->brackets[bracket].rows[row]};
    if (!open_strut(parts, &strut))
        parts->program->failed = true;
    if (!parts->program->failed) {
        for (size_t leg = 0; leg < strut.kit->leg_count; leg++)
            strut.columns->turned[leg] =
                program_column(parts->program, 0, 1, true, "turned_%zu_%s_%zu", bracket + 1,
                               roof_row_word(row), leg + 1);
        add_columns(parts, &strut);
        one_of_each_end(parts, &strut);
        follow_run(parts, &strut);
        hold_span(parts, &strut);
        hold_strut_ends(parts, &strut);
        hold_lags(parts, &strut);
        hold_clear(parts, &strut);
    }
    free(strut.first);
    free(strut.last);
    free(strut.running);
}

void keep_strut_off_joints(struct parts *parts, size_t bracket, enum row row) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    const struct strut strut = {.bracket = bracket, .row = row, .found = found};
    for (size_t i = 0; i < found->ply_count; i++) {
        const struct interval x_at = strut_lag_reach(parts, &strut, i);
        const struct off_joints hole = {.subject = {bracket, NOBODY},
                                        .flashing = &roof_kit(parts->roof, bracket)->flashing,
                                        .numbers = found->courses,
                                        .courses = columns->courses,
                                        .course_count = found->course_count,
                                        .x = lag_x(parts, &strut, i),
                                        .x_at = &x_at,
                                        .place_count = 1,
                                        .used = columns->used[i]};
        keep_off_joints(parts, &hole);
    }
}
