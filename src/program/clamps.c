/* What hangs on where a strut's first and last lag are: its clamps, its ends, and its length. */
#include "strut.h"

#include <math.h>
#include <stdlib.h>

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
            double cut = strut_lag_reach(parts, strut, i).lo + side * strut->kit->lag_clear;
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
            if (fabs((cuts[j] + cuts[j + 1]) / 2 - strut_lag_reach(parts, strut, i).lo) <
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
        struct linear past = linear_sum(
            clamp, strut_lag_x(parts, strut->bracket, strut->row, strut->found->plies[i]), -1);
        size_t ways[2] = {program_choice(program, linear_sum(past, clear, -1), "past"),
                          program_choice(program,
                                         linear_sum(linear_sum(linear_of(0), past, -1), clear, -1),
                                         "short")};
        program_one_of(program, ways, 2, &strut->columns->used[i], 1);
    }
}

static bool leaning(const struct parts *parts, const struct strut *strut) {
    for (size_t i = 0; i < strut->found->ply_count; i++)
        if (strut_lag_reach(parts, strut, i).hi > strut_lag_reach(parts, strut, i).lo)
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
        lo = fmin(lo, strut_lag_reach(parts, strut, i).lo);
        hi = fmax(hi, strut_lag_reach(parts, strut, i).hi);
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

void hold_strut_ends(struct parts *parts, const struct strut *strut) {
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
