/* Flashings, struts and brackets that must not overlap. */
#include "parts.h"

#include <math.h>
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
    struct linear x = found->plies ? strut_lag_x(parts, bracket, row, found->plies[i])
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

/* A lag of one row and a lag of another, or the same, row of a bracket. */
static void lag_pair(struct parts *parts, size_t bracket, const enum row rows[2],
                     const size_t lags[2]) {
    size_t when[2], count = 0, used;
    struct sides sides[2];
    for (int k = 0; k < 2; k++) {
        sides[k] = lag_sides(parts, bracket, rows[k], lags[k], &used);
        if (used != MODEL_NONE)
            when[count++] = used;
    }
    struct gap_rule rule = {{bracket, NOBODY}, 0, 2, when, count};
    require_gap(parts, &sides[0], &sides[1], &rule);
}

static void lags_of_one_row(struct parts *parts, size_t bracket, enum row row) {
    size_t count = lag_count(parts, bracket, row);
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++)
            if (!exclude_each_other(parts, bracket, row, i, j))
                lag_pair(parts, bracket, (enum row[]){row, row}, (size_t[]){i, j});
}

static void lags_of_both_rows(struct parts *parts, size_t bracket) {
    size_t count = lag_count(parts, bracket, ROW_TOP);
    size_t other_count = lag_count(parts, bracket, ROW_BOTTOM);
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < other_count; j++)
            lag_pair(parts, bracket, (enum row[]){ROW_TOP, ROW_BOTTOM}, (size_t[]){i, j});
}

static bool has_strut(const struct parts *parts, size_t bracket, enum row row) {
    return parts->roof->brackets[bracket].hardware[row] == HARDWARE_STRUT;
}

static void own_struts(struct parts *parts, size_t bracket) {
    if (!has_strut(parts, bracket, ROW_TOP) || !has_strut(parts, bracket, ROW_BOTTOM))
        return;
    struct sides a = strut_sides(parts, bracket, ROW_TOP);
    struct sides b = strut_sides(parts, bracket, ROW_BOTTOM);
    struct gap_rule rule = {{bracket, NOBODY}, 0, 2, NULL, 0};
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
        lags_of_both_rows(parts, bracket);
    if (rise - 2 * kit->strut_half < most)
        own_struts(parts, bracket);
}

/* Two different brackets, and the ways in which they can be apart. */
struct company {
    size_t bracket, other;
    size_t ways[WAY_COUNT]; /* for `other`, seen from `bracket` */
};

/* Where a part of a bracket can lie, seen from its near lower corner. */
struct offsets {
    struct interval x, y;
};

static const struct interval anywhere = {-INFINITY, INFINITY};

/* A rectangle of one bracket, and where that can lie on it. */
struct part {
    struct sides sides;
    struct offsets at;
    size_t used; /* the binary that says whether it is there (MODEL_NONE: always) */
};

/* A row meets its bracket in its window by the least level. */
static struct interval row_heights(const struct parts *parts, size_t bracket, enum row row,
                                   double below, double above) {
    const double *window = roof_kit(parts->roof, bracket)->window[row];
    double least = levels_least(parts);
    return (struct interval){window[0] + least - below, window[1] - least + above};
}

static struct part frame_part(const struct parts *parts, size_t bracket) {
    const struct kit *kit = roof_kit(parts->roof, bracket);
    return (struct part){
        bracket_sides(parts, bracket), {{0, kit->width}, {0, kit->height}}, MODEL_NONE};
}

/* The strut of a row: it may reach beyond its bracket. */
static struct part strut_part(const struct parts *parts, size_t bracket, enum row row) {
    double half = roof_kit(parts->roof, bracket)->strut_half;
    return (struct part){strut_sides(parts, bracket, row),
                         {anywhere, row_heights(parts, bracket, row, half, half)},
                         MODEL_NONE};
}

/* The flashing of a lag: a foot's is never further from its leg than reach and slot; a strut's may
 * lie beyond the bracket. */
static struct part lag_part(const struct parts *parts, size_t bracket, enum row row, size_t i) {
    const struct kit *kit = roof_kit(parts->roof, bracket);
    const struct flashing *flashing = &kit->flashing;
    struct part part;
    part.sides = lag_sides(parts, bracket, row, i, &part.used);
    part.at.y =
        row_heights(parts, bracket, row, flashing->hole_up, flashing->height - flashing->hole_up);
    part.at.x = anywhere;
    if (part.used == MODEL_NONE) {
        double off = kit->foot_reach + kit->foot_slot - levels_least(parts) + flashing->width / 2;
        part.at.x = (struct interval){kit->legs[i] - off, kit->legs[i] + off};
    }
    return part;
}

/* How far two parts are apart at least, where their brackets just touch in that way. */
static double room_between(const struct parts *parts, const struct company *company, enum way way,
                           const struct offsets *a, const struct offsets *b) {
    const struct kit *kit = roof_kit(parts->roof, company->bracket);
    const struct kit *other = roof_kit(parts->roof, company->other);
    switch (way) {
    case WAY_LEFT:
        return kit->width + b->x.lo - a->x.hi;
    case WAY_RIGHT:
        return other->width + a->x.lo - b->x.hi;
    case WAY_BELOW:
        return kit->height + b->y.lo - a->y.hi;
    default:
        return other->height + a->y.lo - b->y.hi;
    }
}

/* Brackets apart in that way, by their own gap and twice the level, leave two parts as far apart as
 * their rule asks.  Where every place has a level of its own, the brackets' may be the least and
 * the rule's the greatest. */
static bool company_keeps(const struct parts *parts, const struct company *company, enum way way,
                          const struct offsets *a, const struct offsets *b,
                          const struct gap_rule *rule) {
    double room = room_between(parts, company, way, a, b) + parts->roof->apart - rule->keep;
    double least = levels_least(parts), most = levels_most(parts);
    if (levels_apart(parts))
        return room + 2 * least - rule->weight * most >= 0;
    return room + (2 - rule->weight) * least >= 0 && room + (2 - rule->weight) * most >= 0;
}

/* A rule between a part of `bracket` and one of `other`: asked for only where the way in which
 * their brackets are apart does not see to it. */
static void keep_parts_apart(struct parts *parts, const struct company *company,
                             const struct part *a, const struct part *b, double weight) {
    size_t when[3], count = 0, ways[WAY_COUNT];
    if (a->used != MODEL_NONE)
        when[count++] = a->used;
    if (b->used != MODEL_NONE)
        when[count++] = b->used;
    struct gap_rule rule = {{company->bracket, company->other}, 0, weight, when, count};
    if (always_apart(parts, &a->sides, &b->sides, &rule))
        return;
    bool made = false;
    for (size_t w = 0; w < WAY_COUNT; w++) {
        if (company->ways[w] == CHOICE_NEVER ||
            company_keeps(parts, company, (enum way)w, &a->at, &b->at, &rule))
            continue;
        if (!made)
            gap_ways(parts, &a->sides, &b->sides, &rule, ways);
        made = true;
        if (company->ways[w] != CHOICE_ALWAYS)
            when[count] = company->ways[w];
        program_one_of(parts->program, ways, WAY_COUNT, when,
                       count + (company->ways[w] != CHOICE_ALWAYS));
    }
}

static void keep_rows_apart(struct parts *parts, const struct company *company, enum row row,
                            enum row other_row) {
    size_t count = lag_count(parts, company->bracket, row);
    size_t other_count = lag_count(parts, company->other, other_row);
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < other_count; j++) {
            struct part a = lag_part(parts, company->bracket, row, i);
            struct part b = lag_part(parts, company->other, other_row, j);
            keep_parts_apart(parts, company, &a, &b, 2);
        }
}

/* The struts of two rows, each against the other and against the other's bracket. */
static void keep_struts_apart(struct parts *parts, const struct company *company) {
    struct part frame = frame_part(parts, company->bracket);
    struct part other_frame = frame_part(parts, company->other);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        if (has_strut(parts, company->other, (enum row)row)) {
            struct part strut = strut_part(parts, company->other, (enum row)row);
            keep_parts_apart(parts, company, &frame, &strut, 1);
        }
        if (!has_strut(parts, company->bracket, (enum row)row))
            continue;
        struct part strut = strut_part(parts, company->bracket, (enum row)row);
        keep_parts_apart(parts, company, &strut, &other_frame, 1);
        for (int other_row = ROW_TOP; other_row < ROW_COUNT; other_row++)
            if (has_strut(parts, company->other, (enum row)other_row)) {
                struct part other = strut_part(parts, company->other, (enum row)other_row);
                keep_parts_apart(parts, company, &strut, &other, 2);
            }
    }
}

/* Two brackets themselves: one of the four ways, or the one that the bounds settle. */
static struct company keep_frames_apart(struct parts *parts, size_t bracket, size_t other) {
    struct company company = {.bracket = bracket, .other = other};
    struct sides a = bracket_sides(parts, bracket), b = bracket_sides(parts, other);
    struct gap_rule rule = {{bracket, other}, parts->roof->apart, 2, NULL, 0};
    gap_ways(parts, &a, &b, &rule, company.ways);
    program_one_of(parts->program, company.ways, WAY_COUNT, NULL, 0);
    return company;
}

void keep_apart(struct parts *parts, size_t bracket, size_t other) {
    if (bracket == other) {
        keep_own_apart(parts, bracket);
        return;
    }
    struct company company = keep_frames_apart(parts, bracket, other);
    keep_struts_apart(parts, &company);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        for (int other_row = ROW_TOP; other_row < ROW_COUNT; other_row++)
            keep_rows_apart(parts, &company, (enum row)row, (enum row)other_row);
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
