/* What a part of the readings can still come to at best, before the rest is chosen.
 *
 * Rules of one mark, one bracket or one row are asked of check itself.  Rules between marks are
 * bounded here: wherever a reading or the side of a clamp is still open, the value that suits the
 * rule best is taken, each rule for itself, so that no bound is ever below what check will find.
 */
#include "round.h"

#include "length.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

struct worth round_unbounded(const struct roof *roof) {
    return (struct worth){.forgiveness = roof->enough};
}

void round_note(struct worth *worth, double margin) {
    worth->forgiveness = length_lesser(worth->forgiveness, margin);
    worth->shortfall += length_greater(0, -margin);
}

struct worth round_hopeless(void) {
    return (struct worth){ROUND_HOPELESS, -INFINITY, INFINITY, ROUND_HOPELESS, INFINITY, INFINITY};
}

double round_moved(const struct roof *roof, const struct piece *piece, size_t place) {
    const struct standing at = round_standing(piece, place);
    const struct bracket *bracket = &roof->brackets[piece->bracket];
    return fabs(at.x - bracket->want_x) + fabs(at.y - bracket->want_y);
}

static void note_least(struct worth *worth, const struct least *least) {
    worth->forgiveness = length_lesser(worth->forgiveness, least->counted);
    worth->shortfall += least->shortfall;
}

/* One hard rule of a strut. */
static void note_hard(struct worth *worth, double margin, double tick) {
    if (!length_holds(margin))
        worth->broken++;
    if (margin < tick - ROUND_SLACK)
        worth->bare++;
}

struct worth round_both(struct worth a, struct worth b) {
    return (struct worth){
        .broken = a.broken + b.broken,
        .forgiveness = length_lesser(a.forgiveness, b.forgiveness),
        .shortfall = a.shortfall + b.shortfall,
        .bare = a.bare + b.bare,
        .moved = a.moved + b.moved,
        .away = a.away + b.away,
    };
}

/* Whichever of two turns out, it is no better than this. */
static struct worth either(struct worth a, struct worth b) {
    return (struct worth){
        .broken = a.broken < b.broken ? a.broken : b.broken,
        .forgiveness = length_greater(a.forgiveness, b.forgiveness),
        .shortfall = length_lesser(a.shortfall, b.shortfall),
        .bare = a.bare < b.bare ? a.bare : b.bare,
        .moved = length_lesser(a.moved, b.moved),
        .away = length_lesser(a.away, b.away),
    };
}

double round_gap(struct box a, struct box b) {
    const double along_x = length_greater(b.x0 - a.x1, a.x0 - b.x1);
    const double along_y = length_greater(b.y0 - a.y1, a.y0 - b.y1);
    return length_greater(along_x, along_y);
}

struct box round_flashing_box(const struct piece *piece, enum row row, size_t lag) {
    const struct line *line = &piece->lines[row];
    const struct flashing *flashing = line->flashing;
    const double x = line->lags[lag].x[line->step][line->lags[lag].step];
    const double lower = line->height.value[line->step] - flashing->hole_up;
    return (struct box){x - flashing->width / 2, lower, x + flashing->width / 2,
                        lower + flashing->height};
}

struct box round_bracket_box(const struct piece *piece) {
    const struct standing at = round_standing(piece, piece->place);
    return (struct box){at.x, at.y, at.x + piece->kit->width, at.y + piece->kit->height};
}

static inline struct span lag_span(const struct lag *lag, size_t height_step, bool fixed) {
    if (!fixed)
        return lag->open[height_step];
    const double x = lag->x[height_step][lag->step];
    return (struct span){x, x};
}

/* A strut's x from its first and last lag and the clamps of its first and last leg turned inward:
 * it reaches at least that far. */
static struct span strut_span(const struct kit *kit, double bracket_x, struct span first,
                              struct span last) {
    const double near_clamp = bracket_x + kit->legs[0] + kit->grip;
    const double far_clamp = bracket_x + kit->legs[kit->leg_count - 1] - kit->grip;
    return (struct span){length_lesser(first.hi, near_clamp) - kit->strut_end,
                         length_greater(last.lo, far_clamp) + kit->strut_end};
}

struct box round_strut_box(const struct piece *piece, enum row row) {
    const struct line *line = &piece->lines[row];
    const struct span x = strut_span(piece->kit, round_standing(piece, piece->place).x,
                                     lag_span(&line->lags[0], line->step, true),
                                     lag_span(&line->lags[line->count - 1], line->step, true));
    const double y = line->height.value[line->step];
    return (struct box){x.lo, y - piece->kit->strut_half, x.hi, y + piece->kit->strut_half};
}

/* strut-clamp for one clamp, each lag where it suits the clamp best. */
static double clamp_margin(const struct kit *kit, const struct line *line, size_t step,
                           size_t fixed, double clamp) {
    const struct span first = lag_span(&line->lags[0], step, fixed > 0);
    const struct span last = lag_span(&line->lags[line->count - 1], step, fixed >= line->count);
    double margin =
        kit->overhang - length_greater(0, length_greater(first.lo - clamp, clamp - last.hi));
    for (size_t i = 0; i < line->count; i++) {
        const struct span lag = lag_span(&line->lags[i], step, i < fixed);
        const double apart = length_greater(fabs(clamp - lag.lo), fabs(clamp - lag.hi));
        margin = length_lesser(margin, apart - kit->lag_clear);
    }
    return margin;
}

static void note_strut_hard(const struct roof *roof, const struct kit *kit, const struct line *line,
                            size_t step, size_t fixed, double bracket_x, struct worth *worth) {
    double clamps = INFINITY;
    for (size_t leg = 0; leg < kit->leg_count; leg++) {
        const double at = bracket_x + kit->legs[leg];
        const double near = clamp_margin(kit, line, step, fixed, at - kit->grip);
        const double far = clamp_margin(kit, line, step, fixed, at + kit->grip);
        clamps = length_lesser(clamps, length_greater(near, far));
    }
    note_hard(worth, clamps, roof->tape);

    double spacing = INFINITY;
    struct span before = lag_span(&line->lags[0], step, fixed > 0);
    const struct span first = before;
    for (size_t i = 1; i < line->count; i++) {
        const struct span lag = lag_span(&line->lags[i], step, i < fixed);
        spacing = length_lesser(spacing, kit->span - (lag.lo - before.hi));
        before = lag;
    }
    note_hard(worth, spacing, roof->tape);

    const struct span ends = strut_span(kit, bracket_x, first, before);
    const double stock = kit->stock_count > 0 ? kit->stock[kit->stock_count - 1] : INFINITY;
    note_hard(worth, stock - (ends.hi - ends.lo), roof->tape);
}

/* strut-clear against the face and the vents; other brackets are the search's. */
static void note_strut_clear(const struct roof *roof, struct box strut, struct worth *worth) {
    double least = INFINITY;
    for (size_t e = 0; e < roof->edge_count; e++) {
        const struct edge *edge = &roof->edges[e];
        const double x = edge->nx > 0 ? strut.x0 : strut.x1;
        const double y = edge->ny > 0 ? strut.y0 : strut.y1;
        least = length_lesser(least, edge->nx * x + edge->ny * y - edge->offset);
    }
    round_note(worth, least);
    for (size_t v = 0; v < roof->vent_count; v++)
        round_note(worth, round_gap(strut, roof->vents[v].flange) - roof->vents[v].keep_flashing);
}

static void note_strut(const struct roof *roof, const struct piece *piece, enum row row,
                       size_t step, size_t fixed, double bracket_x, struct worth *worth) {
    const struct kit *kit = piece->kit;
    const struct line *line = &piece->lines[row];
    note_strut_hard(roof, kit, line, step, fixed, bracket_x, worth);
    const struct span x =
        strut_span(kit, bracket_x, lag_span(&line->lags[0], step, fixed > 0),
                   lag_span(&line->lags[line->count - 1], step, fixed >= line->count));
    const double y = line->height.value[step];
    note_strut_clear(roof, (struct box){x.lo, y - kit->strut_half, x.hi, y + kit->strut_half},
                     worth);
}

/* Which table of a row's marks holds for a place: a strut's marks do not ask where the bracket
 * stands, feet ask only for its X, which is the same at every Y unless the rake leans; pipes ask
 * for both. */
static size_t table_of(const struct piece *piece, enum row row, size_t place) {
    if (piece->hardware[row] == HARDWARE_STRUT)
        return 0;
    if (row >= ROW_PIPE)
        return place;
    const double *x = piece->x[place / ROUND_STEPS];
    const bool upright = fabs(x[place % ROUND_STEPS] - x[0]) < ROUND_SLACK;
    return upright ? place - place % ROUND_STEPS : place;
}

static const struct least *at_steps(const struct least *table, size_t lag, size_t height_step,
                                    size_t step) {
    return &table[(lag * ROUND_STEPS + height_step) * ROUND_STEPS + step];
}

static bool table_ready(const struct roof *roof, struct piece *piece, enum row row, size_t place) {
    struct line *line = &piece->lines[row];
    struct least **table = &line->tables[table_of(piece, row, place)];
    if (*table || line->count == 0)
        return true;
    if (line->count > SIZE_MAX / (ROUND_PLACES * sizeof **table))
        return false;
    *table = malloc(line->count * ROUND_PLACES * sizeof **table);
    if (!*table)
        return false;
    const struct standing standing = round_standing(piece, place);
    struct least *next = *table;
    for (size_t i = 0; i < line->count; i++)
        for (size_t h = 0; h < ROUND_STEPS; h++)
            for (size_t k = 0; k < ROUND_STEPS; k++, next++)
                if (line->kept[h] && line->lags[i].kept[h][k]) {
                    const struct mark mark = {.bracket = piece->bracket,
                                              .row = row < ROW_COUNT ? row : ROW_PIPE,
                                              .pipe = line->pipe,
                                              .x = line->lags[i].x[h][k],
                                              .y = line->height.value[h]};
                    *next = check_one_mark(roof, &standing, &mark, i);
                } else {
                    *next = (struct least){.counted = -INFINITY};
                }
    return true;
}

/* The best of one lag over the readings still open to it. */
static struct worth lag_best(const struct roof *roof, const struct lag *lag,
                             const struct least *table, size_t index, size_t height_step,
                             bool fixed) {
    struct worth best = round_hopeless();
    for (size_t k = 0; k < ROUND_STEPS; k++) {
        if (fixed ? k != lag->step : !lag->kept[height_step][k])
            continue;
        struct worth worth = round_unbounded(roof);
        note_least(&worth, at_steps(table, index, height_step, k));
        worth.away = lag->reading.away[k];
        best = either(best, worth);
    }
    return best;
}

struct worth round_row_best(const struct roof *roof, const struct piece *piece, size_t place,
                            enum row row, size_t step, size_t fixed) {
    const struct line *line = &piece->lines[row];
    const struct flashing *flashing = line->flashing;
    const struct least *table = line->tables[table_of(piece, row, place)];
    assert(piece->places[place].ready);

    struct worth worth = round_unbounded(roof);
    if (line->count == 0)
        return worth;
    worth.away = line->height.away[step];
    note_least(&worth, &piece->places[place].rows[row][step]);
    struct span before = {0, 0};
    for (size_t i = 0; i < line->count; i++) {
        const struct lag *lag = &line->lags[i];
        worth = round_both(worth, lag_best(roof, lag, table, i, step, i < fixed));
        if (!(worth.forgiveness > -INFINITY))
            return round_hopeless();
        const struct span span = lag_span(lag, step, i < fixed);
        /* Neighbours' flashings are level: only x can part them. */
        if (i > 0) {
            const double apart = length_greater(span.hi - before.lo, before.hi - span.lo);
            round_note(&worth, length_greater(apart - flashing->width, -flashing->height) / 2);
        }
        before = span;
    }
    if (piece->hardware[row] == HARDWARE_STRUT)
        note_strut(roof, piece, row, step, fixed, round_standing(piece, place).x, &worth);
    return worth;
}

bool round_place_ready(const struct roof *roof, struct piece *piece, size_t place) {
    struct place *made = &piece->places[place];
    if (made->ready)
        return true;
    const struct standing standing = round_standing(piece, place);
    const struct least least = check_one_bracket(roof, piece->bracket, &standing);
    made->own = round_unbounded(roof);
    note_least(&made->own, &least);
    made->own.moved = round_moved(roof, piece, place);
    made->own.away = piece->across.away[place / ROUND_STEPS] + piece->up.away[place % ROUND_STEPS];
    for (size_t r = 0; r < ROUND_LINES; r++) {
        const struct line *line = &piece->lines[r];
        if (!table_ready(roof, piece, (enum row)r, place))
            return false;
        for (size_t h = 0; h < ROUND_STEPS && line->count > 0; h++)
            made->rows[r][h] = r < ROW_COUNT
                                   ? check_one_row(roof, piece->bracket, &standing, (enum row)r,
                                                   line->height.value[h])
                                   : (struct least){.counted = INFINITY, .hard = INFINITY};
    }
    made->ready = true;
    for (size_t r = 0; r < ROUND_LINES; r++) {
        const struct line *line = &piece->lines[r];
        made->best[r] = round_unbounded(roof);
        if (line->count == 0)
            continue;
        made->best[r] = round_hopeless();
        for (size_t h = 0; h < ROUND_STEPS; h++)
            if (line->kept[h])
                made->best[r] =
                    either(made->best[r], round_row_best(roof, piece, place, (enum row)r, h, 0));
    }
    return true;
}
