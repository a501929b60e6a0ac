/* A strut: lagged once in each rafter of a run, carrying each leg by one clamp.
 */
#include "parts.h"

#include <math.h>
#include <stdlib.h>

/* A strut while its rows are written.  Arrays have one entry a candidate ply,
 * in order of x, but `running`, which has one for each rafter from the first to
 * the last candidate's. */
struct strut {
    size_t bracket;
    enum row row;
    const struct kit *kit;
    const struct candidate_row *found;
    struct model_row *columns;
    size_t *first, *last; /* 1 where the ply takes the strut's first, last lag */
    size_t first_rafter, last_rafter;
    size_t *running; /* 1 where the rafter lies between the first and last lag,
                        both counted */
};

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

/* Where a lag lies while the row's height runs through its candidates. */
static struct interval span_of(const struct parts *parts, const struct strut *strut, size_t i) {
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

/* x of a leg's clamp: X + leg - grip, or + grip where `turned` is 1. */
static struct linear clamp_x(const struct parts *parts, const struct strut *strut, size_t leg) {
    struct linear x = linear_of(strut->kit->legs[leg] - strut->kit->grip);
    x = linear_plus(x, parts->model->brackets[strut->bracket].x, 1);
    return linear_plus(x, strut->columns->turned[leg], 2 * strut->kit->grip);
}

/* One end of a run: the binaries that pick its lag, and their shares of the
 * height. */
struct run_end {
    const size_t *ways;
    size_t *shares;
    const struct line *lines;
};

/* Requires sign * (sum - x of the lag at that end) + spare >= 0. */
static void hold_against_end(struct parts *parts, const struct strut *strut,
                             const struct run_end *end, struct linear sum, double sign,
                             double spare) {
    struct program *program = parts->program;
    program_row(program, -spare - sign * sum.constant, false);
    for (size_t i = 0; i < sum.count; i++)
        program_term(program, sum.terms[i].column, sign * sum.terms[i].factor);
    add_lines(parts, end->ways, end->lines, strut->found->ply_count, end->shares, -sign);
}

static int by_value(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The places where a clamp's line is cut by the reach of lags, from lo to hi,
 * both counted. */
static size_t cut_line(const struct parts *parts, const struct strut *strut, double lo, double hi,
                       double *cuts) {
    size_t count = 0;
    cuts[count++] = lo;
    for (size_t i = 0; i < strut->found->ply_count; i++)
        for (int side = -1; side <= 1; side += 2) {
            double cut = span_of(parts, strut, i).lo + side * strut->kit->lag_clear;
            if (cut > lo && cut < hi)
                cuts[count++] = cut;
        }
    cuts[count++] = hi;
    qsort(cuts, count, sizeof *cuts, by_value);
    return count;
}

/* A clamp lies in one of the stretches between the cuts; a stretch that a ply's
 * lag reaches over excludes that lag. */
static void clear_of_lags(struct parts *parts, const struct strut *strut, size_t leg, double *cuts,
                          size_t *stretches) {
    struct program *program = parts->program;
    struct linear clamp = clamp_x(parts, strut, leg);
    size_t count =
        cut_line(parts, strut, program_least(program, &clamp), program_most(program, &clamp), cuts);
    for (size_t j = 0; j + 1 < count; j++)
        stretches[j] = program_column(program, 0, 1, true, "bay_%zu_%s_%zu_%zu", strut->bracket + 1,
                                      roof_row_word(strut->row), leg + 1, j + 1);
    program_row(program, 1, true);
    for (size_t j = 0; j + 1 < count; j++)
        program_term(program, stretches[j], 1);
    for (int end = 0; end < 2; end++) {
        double sign = end == 0 ? 1 : -1;
        program_row(program, -sign * clamp.constant, false);
        for (size_t i = 0; i < clamp.count; i++)
            program_term(program, clamp.terms[i].column, sign * clamp.terms[i].factor);
        for (size_t j = 0; j + 1 < count; j++)
            program_term(program, stretches[j], -sign * cuts[j + (size_t)end]);
    }
    for (size_t i = 0; i < strut->found->ply_count; i++) {
        program_row(program, -1, false);
        program_term(program, strut->columns->used[i], -1);
        for (size_t j = 0; j + 1 < count; j++)
            if (fabs((cuts[j] + cuts[j + 1]) / 2 - span_of(parts, strut, i).lo) <
                strut->kit->lag_clear)
                program_term(program, stretches[j], -1);
    }
}

/* The same where rafters lean: the clamp lies to one side or the other of every
 * lag. */
static void clear_of_leaning_lags(struct parts *parts, const struct strut *strut, size_t leg) {
    struct program *program = parts->program;
    struct linear clamp = clamp_x(parts, strut, leg);
    struct linear clear = linear_of(strut->kit->lag_clear);
    for (size_t i = 0; i < strut->found->ply_count; i++) {
        struct linear past = linear_sum(clamp, lag_x(parts, strut, i), -1);
        size_t ways[2] = {program_choice(program, linear_sum(past, clear, -1), "past"),
                          program_choice(program,
                                         linear_sum(linear_sum(linear_of(0), past, -1), clear, -1),
                                         "short")};
        program_one_of(program, ways, 2, &strut->columns->used[i], 1);
    }
}

static bool leaning(const struct parts *parts, const struct strut *strut) {
    for (size_t i = 0; i < strut->found->ply_count; i++)
        if (span_of(parts, strut, i).hi > span_of(parts, strut, i).lo)
            return true;
    return false;
}

static void hold_clamps(struct parts *parts, const struct strut *strut,
                        const struct run_end ends[2]) {
    const struct kit *kit = strut->kit;
    size_t room = 2 * strut->found->ply_count + 2;
    double *cuts = calloc(room, sizeof *cuts);
    size_t *stretches = calloc(room, sizeof *stretches);
    if (!cuts || !stretches)
        parts->program->failed = true;
    for (size_t leg = 0; leg < kit->leg_count && !parts->program->failed; leg++) {
        struct linear clamp = clamp_x(parts, strut, leg);
        hold_against_end(parts, strut, &ends[0], clamp, 1, kit->overhang);
        hold_against_end(parts, strut, &ends[1], clamp, -1, kit->overhang);
        if (leaning(parts, strut))
            clear_of_leaning_lags(parts, strut, leg);
        else
            clear_of_lags(parts, strut, leg, cuts, stretches);
    }
    free(cuts);
    free(stretches);
}

/* The strut's ends reach `end` past its outermost lag or clamp; it is cut from
 * stock. */
static void hold_ends(struct parts *parts, const struct strut *strut,
                      const struct run_end ends[2]) {
    struct program *program = parts->program;
    const struct kit *kit = strut->kit;
    double lo = INFINITY, hi = -INFINITY;
    for (size_t i = 0; i < strut->found->ply_count; i++) {
        lo = fmin(lo, span_of(parts, strut, i).lo);
        hi = fmax(hi, span_of(parts, strut, i).hi);
    }
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        struct linear clamp = clamp_x(parts, strut, leg);
        lo = fmin(lo, program_least(program, &clamp));
        hi = fmax(hi, program_most(program, &clamp));
    }
    size_t from = program_column(program, lo - kit->strut_end, hi, false, "from_%zu_%s",
                                 strut->bracket + 1, roof_row_word(strut->row));
    size_t to = program_column(program, lo, hi + kit->strut_end, false, "to_%zu_%s",
                               strut->bracket + 1, roof_row_word(strut->row));
    strut->columns->from = from;
    strut->columns->to = to;
    struct linear left = linear_plus(linear_of(0), from, 1);
    struct linear right = linear_plus(linear_of(0), to, 1);
    hold_against_end(parts, strut, &ends[0], left, -1, -kit->strut_end);
    hold_against_end(parts, strut, &ends[1], right, 1, -kit->strut_end);
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        struct linear clamp = clamp_x(parts, strut, leg);
        struct linear end = linear_of(kit->strut_end);
        program_require(program, linear_sum(linear_sum(clamp, left, -1), end, -1));
        program_require(program, linear_sum(linear_sum(right, clamp, -1), end, -1));
    }
    struct linear stock = linear_of(kit->stock[kit->stock_count - 1]);
    program_require(program, linear_sum(linear_sum(stock, left, 1), right, -1));
}

/* Clamps and ends hang on where the first and the last lag are. */
static void hold_run(struct parts *parts, const struct strut *strut) {
    size_t count = strut->found->ply_count;
    struct line *lines = calloc(count, sizeof *lines);
    if (!lines) {
        parts->program->failed = true;
        return;
    }
    for (size_t i = 0; i < count; i++)
        lines[i] = strut_lag_line(parts, strut->bracket, strut->row, strut->found->plies[i]);
    size_t y = strut->columns->y;
    struct run_end ends[2] = {
        {strut->first, share_height(parts, strut->first, lines, count, y), lines},
        {strut->last, share_height(parts, strut->last, lines, count, y), lines}};
    if (!parts->program->failed) {
        hold_clamps(parts, strut, ends);
        hold_ends(parts, strut, ends);
    }
    free(ends[0].shares);
    free(ends[1].shares);
    free(lines);
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
        hold_run(parts, &strut);
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
        const struct interval x_at = span_of(parts, &strut, i);
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
