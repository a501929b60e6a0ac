/* Flashings, struts and brackets that must not overlap. */
#include "parts.h"

#include <stdlib.h>

/* The lags of a row: how many there can be, and the flashing of each. */
static size_t lag_count(const struct parts *parts, size_t bracket, enum row row) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    return found->plies ? found->ply_count : found->leg_count;
}

/* The flashing of one lag, and the binary that says whether it is there (MODEL_NONE: always). */
static struct sides lag_sides(const struct parts *parts, size_t bracket, enum row row, size_t i,
                              size_t *used) {
    const struct candidate_row *found = &parts->candidates->brackets[bracket].rows[row];
    const struct model_row *columns = &parts->model->brackets[bracket].rows[row];
    struct linear y = linear_plus(linear_of(0), columns->y, 1);
    struct linear x = found->plies ? linear_of(parts->roof->plies[found->plies[i]].at)
                                   : linear_plus(linear_of(0), columns->x[i], 1);
    *used = found->plies ? columns->used[i] : MODEL_NONE;
    return flashing_sides(&roof_kit(parts->roof, bracket)->flashing, x, y);
}

/* True where two plies of one rafter are meant: a strut has one lag in each, so never both. */
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
    struct subject subject = {brackets[0], brackets[1] == brackets[0] ? NOBODY : brackets[1]};
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
    struct subject subject = {bracket, other == bracket ? NOBODY : other};
    struct gap_rule rule = {subject, 0, 2, NULL, 0};
    require_gap(parts, &a, &b, &rule);
}

/* The rows of one bracket are at least this far apart, since each meets the bracket in its window
 * by the least level. */
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
    struct subject subject = {bracket < other ? bracket : other, bracket < other ? other : bracket};
    struct gap_rule rule = {subject, 0, 1, NULL, 0};
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
