/* Flashings, struts and brackets that must not overlap. */
#include "parts.h"

#include <stdlib.h>

static struct subject pair_of(size_t bracket, size_t other) {
    if (bracket == other)
        return (struct subject){bracket, NOBODY};
    return (struct subject){bracket < other ? bracket : other, bracket < other ? other : bracket};
}

/* The lags of a row: how many there can be, and the flashing of each. */
static size_t lag_count(const struct parts *parts, size_t bracket, enum row row) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    return found->plies ? found->ply_count : found->leg_count;
}

/* The flashing of one lag, and the binary that says whether it is there
 * (MODEL_NONE: always). */
static struct sides lag_sides(const struct parts *parts, size_t bracket, enum row row, size_t i,
                              size_t *used) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    const struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    struct linear y = linear_plus(linear_of(0), columns->y, 1);
    struct linear x = found->plies ? ply_x(parts, found->plies[i], columns->y)
                                   : linear_plus(linear_of(0), columns->x[i], 1);
    *used = found->plies ? columns->used[i] : MODEL_NONE;
    return flashing_sides(&roof_kit(parts->roof, bracket)->flashing, x, y);
}

/* True where two plies of one rafter are meant: a strut has one lag in each, so
 * never both. */
static bool exclude_each_other(const struct parts *parts, size_t bracket, enum row row, size_t i,
                               size_t j) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    return found->plies &&
           parts->roof->plies[found->plies[i]].rafter == parts->roof->plies[found->plies[j]].rafter;
}

static void lag_pair(struct parts *parts, const size_t brackets[2], const enum row rows[2],
                     const size_t lags[2]) {
    size_t when[2], count = 0, used;
    struct sides sides[2];
    for (int k = 0; k < 2; k++) {
        sides[k] = lag_sides(parts, brackets[k], rows[k], lags[k], &used);
        if (used != MODEL_NONE)
            when[count++] = used;
    }
    struct subject subject = pair_of(brackets[0], brackets[1]);
    struct gap_rule rule = {subject, 0, 2, when, count};
    require_gap(parts, &sides[0], &sides[1], &rule);
}

static void lags_of_one_row(struct parts *parts, size_t bracket, enum row row) {
    size_t count = lag_count(parts, bracket, row);
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++)
            if (!exclude_each_other(parts, bracket, row, i, j))
                lag_pair(parts, (size_t[]){bracket, bracket}, (enum row[]){row, row},
                         (size_t[]){i, j});
}

static void lags_of_two_rows(struct parts *parts, size_t bracket, enum row row, size_t other,
                             enum row other_row) {
    size_t count = lag_count(parts, bracket, row);
    size_t other_count = lag_count(parts, other, other_row);
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < other_count; j++)
            lag_pair(parts, (size_t[]){bracket, other}, (enum row[]){row, other_row},
                     (size_t[]){i, j});
}

static void struts(struct parts *parts, size_t bracket, enum row row, size_t other,
                   enum row other_row) {
    if (parts->roof->brackets[bracket].hardware[row] != HARDWARE_STRUT ||
        parts->roof->brackets[other].hardware[other_row] != HARDWARE_STRUT)
        return;
    struct sides a = strut_sides(parts, bracket, row), b = strut_sides(parts, other, other_row);
    struct subject subject = pair_of(bracket, other);
    struct gap_rule rule = {subject, 0, 2, NULL, 0};
    require_gap(parts, &a, &b, &rule);
}

/* The rows of one bracket are at least this far apart, since each meets the
 * bracket in its window by the least level. */
static double rise_between_rows(const struct parts *parts, size_t bracket) {
    const struct kit *kit = roof_kit(parts->roof, bracket);
    return kit->window[ROW_TOP][0] - kit->window[ROW_BOTTOM][1] + 2 * levels_least(parts);
}

static void keep_own_apart(struct parts *parts, size_t bracket) {
    const struct kit *kit = roof_kit(parts->roof, bracket);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        lags_of_one_row(parts, bracket, (enum row)row);
    double rise = rise_between_rows(parts, bracket), most = 2 * levels_most(parts);
    if (rise - kit->flashing.height < most)
        lags_of_two_rows(parts, bracket, ROW_TOP, bracket, ROW_BOTTOM);
    if (rise - 2 * kit->strut_half < most)
        struts(parts, bracket, ROW_TOP, bracket, ROW_BOTTOM);
}

static void strut_against_bracket(struct parts *parts, size_t bracket, enum row row, size_t other) {
    if (parts->roof->brackets[bracket].hardware[row] != HARDWARE_STRUT)
        return;
    struct sides strut = strut_sides(parts, bracket, row), frame = bracket_sides(parts, other);
    struct gap_rule rule = {pair_of(bracket, other), 0, 1, NULL, 0};
    require_gap(parts, &strut, &frame, &rule);
}

void keep_apart(struct parts *parts, size_t bracket, size_t other) {
    if (bracket == other) {
        keep_own_apart(parts, bracket);
        return;
    }
    struct sides a = bracket_sides(parts, bracket), b = bracket_sides(parts, other);
    struct gap_rule rule = {{bracket, other}, parts->roof->apart, 2, NULL, 0};
    require_gap(parts, &a, &b, &rule);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        strut_against_bracket(parts, bracket, (enum row)row, other);
        strut_against_bracket(parts, other, (enum row)row, bracket);
        for (int other_row = ROW_TOP; other_row < ROW_COUNT; other_row++) {
            lags_of_two_rows(parts, bracket, (enum row)row, other, (enum row)other_row);
            struts(parts, bracket, (enum row)row, other, (enum row)other_row);
        }
    }
}

/* The bore itself, and its flashing. */
static struct sides bore_sides(const struct parts *parts, size_t pipe) {
    double half = parts->roof->pipes[pipe].bore / 2;
    struct linear x = linear_plus(linear_of(0), parts->model->pipes[pipe].x, 1);
    struct linear y = linear_plus(linear_of(0), parts->model->pipes[pipe].y, 1);
    return around(x, y, half, half);
}

static struct sides pipe_flashing_sides(const struct parts *parts, size_t pipe) {
    struct linear x = linear_plus(linear_of(0), parts->model->pipes[pipe].x, 1);
    struct linear y = linear_plus(linear_of(0), parts->model->pipes[pipe].y, 1);
    return flashing_sides(&parts->roof->pipes[pipe].flashing, x, y);
}

/* Against one row of a bracket: the bore off its strut or feet, the flashing
 * off its flashings. */
static void pipe_against_row(struct parts *parts, size_t pipe, size_t bracket, enum row row) {
    const struct pipe *own = &parts->roof->pipes[pipe];
    const struct kit *kit = roof_kit(parts->roof, bracket);
    const struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    struct sides bore = bore_sides(parts, pipe), flashing = pipe_flashing_sides(parts, pipe);
    struct subject subject = pair_of(own->bracket, bracket);
    struct gap_rule off = {subject, own->keep_rafter, 1, NULL, 0};
    size_t count = lag_count(parts, bracket, row);
    if (parts->roof->brackets[bracket].hardware[row] == HARDWARE_STRUT) {
        struct sides strut = strut_sides(parts, bracket, row);
        require_gap(parts, &bore, &strut, &off);
    }
    for (size_t i = 0; i < count; i++) {
        size_t used;
        struct sides lag = lag_sides(parts, bracket, row, i, &used);
        struct gap_rule apart = {subject, 0, 2, &used, used == MODEL_NONE ? 0 : 1};
        require_gap(parts, &flashing, &lag, &apart);
        if (used != MODEL_NONE)
            continue;
        struct linear x = linear_plus(linear_of(0), columns->x[i], 1);
        struct linear y = linear_plus(linear_of(0), columns->y, 1);
        struct sides foot = around(x, y, kit->foot_reach, kit->foot_half);
        require_gap(parts, &bore, &foot, &off);
    }
}

void keep_pipe_apart(struct parts *parts, size_t pipe) {
    const struct roof *roof = parts->roof;
    const struct pipe *own = &roof->pipes[pipe];
    struct sides flashing = pipe_flashing_sides(parts, pipe);
    for (size_t b = 0; b < roof->bracket_count; b++) {
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            pipe_against_row(parts, pipe, b, (enum row)row);
        if (b == own->bracket)
            continue;
        struct sides frame = bracket_sides(parts, b);
        struct gap_rule rule = {pair_of(own->bracket, b), 0, 2, NULL, 0};
        require_gap(parts, &flashing, &frame, &rule);
    }
    for (size_t q = pipe + 1; q < roof->pipe_count; q++) {
        struct sides other = pipe_flashing_sides(parts, q);
        struct gap_rule rule = {pair_of(own->bracket, roof->pipes[q].bracket), 0, 2, NULL, 0};
        require_gap(parts, &flashing, &other, &rule);
    }
}
