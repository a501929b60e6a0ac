/* A bracket's readings: their values on the tape, and which of them keep target and course. */
#include "round.h"

#include "length.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

static void set_figure(struct figure *figure, double exact, double tick) {
    figure->exact = exact;
    const double plain = length_to_tape(exact, tick);
    for (size_t k = 0; k < ROUND_STEPS; k++) {
        const double ticks = (double)k - ROUND_PLAIN;
        /* Rounded once more, so that a value is the same number however it was reached. */
        figure->value[k] = length_to_tape(plain + ticks * tick, tick);
        figure->away[k] = fabs(figure->value[k] - exact);
    }
}

/* A height: read up the rake in use, its values then heights on the roof again. */
static void set_height(const struct roof *roof, enum side from, double y, struct figure *height) {
    set_figure(height, roof_height_reading(roof, from, y), roof->tape);
    for (size_t k = 0; k < ROUND_STEPS; k++)
        height->value[k] = roof_height_from_reading(roof, from, height->value[k]);
}

/* A hole already drilled is where it is, on the tape or not: its reading has one value. */
static void fix_figure(struct figure *figure) {
    for (size_t k = 0; k < ROUND_STEPS; k++) {
        figure->value[k] = figure->exact;
        figure->away[k] = 0;
    }
}

/* The margin of `wood`: beside the lag, and along the ply to where it takes no lag. */
static double wood_at(const struct roof *roof, const struct kit *kit, const struct ply *ply,
                      double x, double y) {
    double wood = ply->half - fabs(x - roof_ply_x(ply, y)) - kit->lag_edge - ply->tolerance;
    wood = length_lesser(wood, length_lesser(y - ply->reach[0], ply->reach[1] - y));
    for (size_t k = 0; k < roof->keepout_count; k++) {
        const struct keepout *keepout = &roof->keepouts[k];
        if (keepout->rafter == ply->rafter)
            wood = length_lesser(wood, length_greater(keepout->y0 - y, y - keepout->y1));
    }
    return wood;
}

/* No other target has more wood round (x, y): check then takes this one.  A tie is left to check.
 */
static bool target_kept(const struct roof *roof, const struct kit *kit, size_t ply, double x,
                        double y) {
    const double wood = wood_at(roof, kit, &roof->plies[ply], x, y);
    for (size_t other = 0; other < roof->ply_count; other++)
        if (wood_at(roof, kit, &roof->plies[other], x, y) > wood + ROUND_SLACK)
            return false;
    return true;
}

/* The least margin of the rules on courses, course tolerance left out: it is the same for all. */
static double course_at(const struct roof *roof, const struct flashing *flashing, size_t course,
                        double y) {
    const double *edge = &roof->courses[course - 1]; /* E_k, E_k+1, E_k+2 */
    const double lower = y - flashing->hole_up;
    const double on_edge =
        length_lesser(lower - edge[0] - flashing->edge[0], edge[0] + flashing->edge[1] - lower);
    const double block = edge[1] - flashing->clear - (y + flashing->block);
    const double lap = lower + flashing->height - (edge[2] + flashing->lap);
    return length_lesser(on_edge, length_lesser(block, lap));
}

static bool course_kept(const struct roof *roof, const struct flashing *flashing, size_t course,
                        double y) {
    if (!roof_course_usable(roof, course))
        return false;
    if (roof_has_joints(roof))
        return true; /* they depend on x as well: check decides */
    const double least = course_at(roof, flashing, course, y);
    for (size_t other = 1; other <= roof->course_count; other++)
        if (roof_course_usable(roof, other) &&
            course_at(roof, flashing, other, y) > least + ROUND_SLACK)
            return false;
    return true;
}

static void set_lag(const struct roof *roof, const struct kit *kit, enum side from,
                    const struct line *line, const struct mark *mark, size_t ply, struct lag *lag) {
    set_figure(&lag->reading, roof_reading(roof, from, mark->x, mark->y), roof->tape);
    const struct given *given =
        mark->row == ROW_PIPE ? NULL : roof_given(roof, mark->bracket, mark->row, ply);
    if (given)
        fix_figure(&lag->reading);
    lag->ply = ply;
    lag->step = ROUND_PLAIN;
    for (size_t h = 0; h < ROUND_STEPS; h++) {
        lag->open[h] = (struct span){INFINITY, -INFINITY};
        for (size_t k = 0; k < ROUND_STEPS; k++) {
            lag->x[h][k] =
                given ? given->x
                      : roof_from_reading(roof, from, lag->reading.value[k], line->height.value[h]);
            lag->kept[h][k] = mark->row == ROW_PIPE || given ||
                              target_kept(roof, kit, ply, lag->x[h][k], line->height.value[h]);
            if (!lag->kept[h][k])
                continue;
            lag->open[h].lo = length_lesser(lag->open[h].lo, lag->x[h][k]);
            lag->open[h].hi = length_greater(lag->open[h].hi, lag->x[h][k]);
        }
    }
}

/* Sets the row that begins at mark `first` of the layout. */
static enum outcome set_line(const struct roof *roof, const struct layout *layout, enum side from,
                             size_t first, size_t count, struct piece *piece) {
    const struct mark *marks = &layout->marks->list[first];
    size_t row = (size_t)marks[0].row;
    while (row >= ROW_COUNT && piece->lines[row].count > 0)
        row++;
    assert(row < ROUND_LINES);
    struct line *line = &piece->lines[row];
    const bool pipe = marks[0].row == ROW_PIPE;
    line->flashing = pipe ? &roof->pipes[marks[0].pipe].flashing : &piece->kit->flashing;
    line->pipe = marks[0].pipe;
    line->lags = calloc(count, sizeof *line->lags);
    if (!line->lags)
        return OUTCOME_FAULT;
    line->count = count;
    line->course =
        pipe ? layout->pipe_courses[marks[0].pipe] : layout->courses[piece->bracket][row];
    line->step = ROUND_PLAIN;
    set_height(roof, from, marks[0].y, &line->height);
    if (!pipe && roof_given(roof, piece->bracket, marks[0].row, SIZE_MAX)) {
        line->height.exact = marks[0].y;
        fix_figure(&line->height);
    }
    for (size_t h = 0; h < ROUND_STEPS; h++)
        line->kept[h] = course_kept(roof, line->flashing, line->course, line->height.value[h]);
    for (size_t i = 0; i < count; i++)
        set_lag(roof, piece->kit, from, line, &marks[i], layout->plies[first + i], &line->lags[i]);
    return OUTCOME_DONE;
}

static void set_standing(const struct roof *roof, const struct standing *standing, enum side from,
                         struct piece *piece) {
    set_figure(&piece->across, roof_reading(roof, from, standing->x, standing->y), roof->tape);
    set_height(roof, from, standing->y, &piece->up);
    for (size_t i = 0; i < ROUND_STEPS; i++)
        for (size_t j = 0; j < ROUND_STEPS; j++)
            piece->x[i][j] =
                roof_from_reading(roof, from, piece->across.value[i], piece->up.value[j]);
    for (size_t row = 0; row < ROUND_LINES; row++)
        piece->hardware[row] = row < ROW_COUNT ? standing->hardware[row] : HARDWARE_FEET;
    piece->place = ROUND_PLAIN_PLACE;
}

enum outcome round_pieces_new(const struct roof *roof, const struct layout *layout, enum side from,
                              struct pieces **pieces) {
    const struct marks *marks = layout->marks;
    struct pieces *made = calloc(1, sizeof *made);
    if (!made)
        return OUTCOME_FAULT;
    made->list = calloc(roof->bracket_count, sizeof *made->list);
    if (!made->list)
        goto fault;
    made->roof = roof;
    made->count = roof->bracket_count;
    made->mark_count = marks->count;
    for (size_t b = 0; b < made->count; b++) {
        made->list[b].bracket = b;
        made->list[b].kit = roof_kit(roof, b);
        set_standing(roof, &marks->brackets[b], from, &made->list[b]);
    }
    for (size_t first = 0, next; first < marks->count; first = next) {
        const struct mark *mark = &marks->list[first];
        for (next = first + 1; next < marks->count && marks->list[next].bracket == mark->bracket &&
                               marks->list[next].row == mark->row && mark->row != ROW_PIPE;
             next++)
            ;
        struct piece *piece = &made->list[mark->bracket];
        assert(mark->row == ROW_PIPE || piece->lines[mark->row].count == 0); /* in order */
        if (set_line(roof, layout, from, first, next - first, piece) != OUTCOME_DONE)
            goto fault;
    }
    *pieces = made;
    return OUTCOME_DONE;
fault:
    round_pieces_free(made);
    return OUTCOME_FAULT;
}

void round_pieces_free(struct pieces *pieces) {
    if (!pieces)
        return;
    for (size_t b = 0; pieces->list && b < pieces->count; b++)
        for (size_t row = 0; row < ROUND_LINES; row++) {
            struct line *line = &pieces->list[b].lines[row];
            for (size_t place = 0; place < ROUND_PLACES; place++)
                free(line->tables[place]);
            free(line->lags);
        }
    free(pieces->list);
    free(pieces);
}

struct standing round_standing(const struct piece *piece, size_t place) {
    struct standing standing = {.x = piece->x[place / ROUND_STEPS][place % ROUND_STEPS],
                                .y = piece->up.value[place % ROUND_STEPS]};
    for (size_t row = 0; row < ROW_COUNT; row++)
        standing.hardware[row] = piece->hardware[row];
    return standing;
}

void round_write(const struct piece *piece, size_t bracket, struct marks *marks, size_t *next) {
    marks->brackets[bracket] = round_standing(piece, piece->place);
    for (size_t row = 0; row < ROUND_LINES; row++) {
        const struct line *line = &piece->lines[row];
        for (size_t i = 0; i < line->count; i++) {
            assert(*next < marks->count);
            marks->list[(*next)++] = (struct mark){
                .bracket = bracket,
                .row = row < ROW_COUNT ? (enum row)row : ROW_PIPE,
                .pipe = line->pipe,
                .x = line->lags[i].x[line->step][line->lags[i].step],
                .y = line->height.value[line->step],
            };
        }
    }
}
