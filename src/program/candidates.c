#include "candidates.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* Bounds are widened by this much, so that a candidate that only just fits is
 * never struck out. */
#define ROUNDING 1e-6

double candidates_play(const struct roof *roof, const struct kit *kit, size_t ply) {
    return roof->plies[ply].half - kit->lag_edge - roof->plies[ply].tolerance;
}

struct course_bounds candidates_bounds(const struct roof *roof, const struct flashing *flashing,
                                       size_t course) {
    const double *edge = &roof->courses[course - 1], up = flashing->hole_up;
    const double tolerance = roof->course_tolerance;
    return (struct course_bounds){.edge = {edge[0] + flashing->edge[0] + up + tolerance,
                                           edge[0] + flashing->edge[1] + up - tolerance},
                                  .block = edge[1] - flashing->clear - flashing->block - tolerance,
                                  .lap =
                                      edge[2] + flashing->lap - flashing->height + up + tolerance};
}

struct interval candidates_course(const struct roof *roof, const struct flashing *flashing,
                                  size_t course) {
    const struct course_bounds bounds = candidates_bounds(roof, flashing, course);
    return (struct interval){fmax(bounds.edge[0], bounds.lap), fmin(bounds.edge[1], bounds.block)};
}

double candidates_lag_play(const struct roof *roof, size_t bracket, enum row row, size_t ply) {
    const struct given *given = roof_given(roof, bracket, row, ply);
    const double off = given ? fabs(given->x - roof_ply_x(&roof->plies[ply], given->y)) : 0;
    return candidates_play(roof, roof_kit(roof, bracket), ply) - off;
}

static bool meets(struct interval a, struct interval b) {
    return a.lo <= b.hi + ROUNDING && b.lo <= a.hi + ROUNDING;
}

static struct interval shifted(struct interval interval, double lo, double hi) {
    return (struct interval){interval.lo + lo, interval.hi + hi};
}

static void say_why(struct candidates *found, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void say_why(struct candidates *found, const char *format, ...) {
    if (found->why_count >= CANDIDATES_WHYS)
        return;
    va_list words;
    va_start(words, format);
    vsnprintf(found->why[found->why_count++], CANDIDATES_WHY, format, words);
    va_end(words);
}

/* How far inside the edge's line the near lower corner of a width x height
 * rectangle has to lie for its corner next to the edge to lie on the line (by
 * the setback, if asked). */
static double inset(const struct edge *edge, double width, double height, bool setback) {
    return edge->offset + (setback ? edge->setback : 0) - fmin(0, edge->nx * width) -
           fmin(0, edge->ny * height);
}

static bool inside_all(const struct roof *roof, double width, double height, bool setback,
                       double least, double x, double y) {
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        double off = inset(edge, width, height, setback) + least;
        if (edge->nx * x + edge->ny * y < off - ROUNDING)
            return false;
    }
    return true;
}

/* Where the near lower corner of a width x height rectangle can stand, inside
 * every edge by its setback (if asked) and by `least`: the corners of that
 * region are crossings of its edges, so their bounds are the region's.  Empty
 * intervals where it does not fit. */
static void bound_corner(const struct roof *roof, double width, double height, bool setback,
                         double least, struct interval *x, struct interval *y) {
    *x = *y = (struct interval){INFINITY, -INFINITY};
    for (size_t i = 0; i < roof->edge_count; i++)
        for (size_t j = i + 1; j < roof->edge_count; j++) {
            const struct edge *edges[2] = {&roof->edges[i], &roof->edges[j]};
            double off[2];
            for (int k = 0; k < 2; k++)
                off[k] = inset(edges[k], width, height, setback) + least;
            double turn = edges[0]->nx * edges[1]->ny - edges[0]->ny * edges[1]->nx;
            if (fabs(turn) < 1e-12)
                continue;
            double at_x = (off[0] * edges[1]->ny - off[1] * edges[0]->ny) / turn;
            double at_y = (edges[0]->nx * off[1] - edges[1]->nx * off[0]) / turn;
            if (!inside_all(roof, width, height, setback, least, at_x, at_y))
                continue;
            *x = (struct interval){fmin(x->lo, at_x), fmax(x->hi, at_x)};
            *y = (struct interval){fmin(y->lo, at_y), fmax(y->hi, at_y)};
        }
}

struct interval candidates_ply_x(const struct ply *ply, struct interval y) {
    double a = ply->at + ply->lean * y.lo, b = ply->at + ply->lean * y.hi;
    return (struct interval){fmin(a, b), fmax(a, b)};
}

/* The courses whose window meets y; y is narrowed to them.  False without
 * memory. */
static bool find_courses(const struct roof *roof, const struct flashing *flashing, double least,
                         size_t **courses, size_t *count, struct interval *y) {
    *courses = calloc(roof->course_count + 1, sizeof **courses);
    if (!*courses)
        return false;
    struct interval all = {INFINITY, -INFINITY};
    for (size_t k = 1; k + 2 <= roof->course_count; k++) {
        struct interval window = shifted(candidates_course(roof, flashing, k), least, -least);
        if (window.lo > window.hi + ROUNDING || !meets(window, *y))
            continue;
        (*courses)[(*count)++] = k;
        all.lo = fmin(all.lo, window.lo);
        all.hi = fmax(all.hi, window.hi);
    }
    y->lo = fmax(y->lo, all.lo - ROUNDING);
    y->hi = fmin(y->hi, all.hi + ROUNDING);
    return true;
}

/* Whether a ply takes a lag somewhere on the row at all: its play, and its
 * reach up the slope. */
static bool takes_lag(const struct roof *roof, const struct kit *kit, size_t ply, double least,
                      struct interval y) {
    const double *reach = roof->plies[ply].reach;
    return candidates_play(roof, kit, ply) >= least - ROUNDING &&
           meets((struct interval){reach[0] + least, reach[1] - least}, y);
}

static bool find_leg(const struct roof *roof, const struct kit *kit, double least,
                     struct interval bracket_x, double leg_x, struct interval y,
                     struct candidate_leg *leg) {
    leg->plies = calloc(roof->ply_count + 1, sizeof *leg->plies);
    if (!leg->plies)
        return false;
    struct interval sides[SIDE_COUNT] = {{0, 0}, {0, 0}};
    double slip = kit->foot_slot - least;
    for (int side = SIDE_NEAR; side < SIDE_COUNT && slip >= -ROUNDING; side++) {
        double reach = side == SIDE_NEAR ? -kit->foot_reach : kit->foot_reach;
        sides[side] = shifted(bracket_x, leg_x + reach - slip, leg_x + reach + slip);
    }
    leg->x = (struct interval){INFINITY, -INFINITY};
    for (size_t t = 0; t < roof->ply_count && slip >= -ROUNDING; t++) {
        double play = candidates_play(roof, kit, t) - least;
        struct interval x = shifted(candidates_ply_x(&roof->plies[t], y), -play, play);
        bool taken = false;
        for (int side = SIDE_NEAR; side < SIDE_COUNT && takes_lag(roof, kit, t, least, y); side++)
            if (meets(x, sides[side]))
                taken = leg->side[side] = true;
        if (!taken)
            continue;
        leg->plies[leg->count++] = t;
        leg->x.lo = fmin(leg->x.lo, x.lo - ROUNDING);
        leg->x.hi = fmax(leg->x.hi, x.hi + ROUNDING);
    }
    return true;
}

/* A lag further off a strut's clamps than one span and the overhang never
 * helps: the strut could end one rafter sooner, which breaks no rule and saves
 * a hole. */
static bool find_strut(const struct roof *roof, size_t b, enum row which, double least,
                       struct interval bracket_x, struct candidate_row *row) {
    const struct kit *kit = roof_kit(roof, b);
    row->plies = calloc(roof->ply_count + 1, sizeof *row->plies);
    if (!row->plies)
        return false;
    double beyond = kit->grip + kit->overhang + kit->span;
    struct interval reach =
        shifted(bracket_x, kit->legs[0] - beyond, kit->legs[kit->leg_count - 1] + beyond);
    for (size_t t = 0; t < roof->ply_count; t++) {
        struct interval x = candidates_ply_x(&roof->plies[t], row->y);
        if (roof_given(roof, b, which, t) ||
            (takes_lag(roof, kit, t, least, row->y) && meets(x, reach)))
            row->plies[row->ply_count++] = t;
    }
    return true;
}

/* Why no lag of a frame can find wood: every ply too thin for the lag's edge
 * distance and the rafters' tolerance, or none within reach. */
static void say_no_wood(const struct roof *roof, size_t b, double least, const char *place,
                        const char *need, struct candidates *found) {
    double most = -INFINITY;
    for (size_t t = 0; t < roof->ply_count; t++)
        most = fmax(most, candidates_play(roof, roof_kit(roof, b), t));
    if (roof->ply_count > 0 && most < least) {
        char short_by[LENGTH_TEXT];
        say_why(found,
                "frame %s, %s: no ply is sure to hold a lag, even in its middle: thickness, edge "
                "distance and tolerance leave it short by %s",
                roof->brackets[b].name, place,
                length_text(short_by, -most, roof->tape / 2, roof->measure));
    } else {
        say_why(found, "frame %s, %s: %s", roof->brackets[b].name, place, need);
    }
    found->hopeless = true;
}

static void judge_row(const struct roof *roof, size_t b, enum row which, double least,
                      const struct candidate_row *row, struct candidates *found) {
    const char *place = which == ROW_TOP ? "top line" : "bottom line";
    if (row->course_count == 0) {
        say_why(found, "frame %s, %s: no shingle course takes its flashings",
                roof->brackets[b].name, place);
        found->hopeless = true;
    }
    for (size_t i = 0; i < row->leg_count; i++)
        if (row->legs[i].count == 0) {
            say_no_wood(roof, b, least, place, "a leg has no sound rafter within its reach", found);
            break;
        }
    bool two = false;
    for (size_t i = 1; row->plies && i < row->ply_count; i++)
        two |= roof->plies[row->plies[i]].rafter != roof->plies[row->plies[0]].rafter;
    if (row->plies && !two)
        say_no_wood(roof, b, least, place, "a strut needs two sound rafters within its reach",
                    found);
}

static bool find_row(const struct roof *roof, size_t b, enum row which, double least,
                     struct candidate_bracket *bracket) {
    const struct kit *kit = roof_kit(roof, b);
    struct candidate_row *row = &bracket->rows[which];
    const double *window = kit->window[which];
    row->y = shifted(bracket->y, window[0] + least, window[1] - least);
    const struct given *given = roof_given(roof, b, which, SIZE_MAX);
    if (given && meets((struct interval){given->y, given->y}, row->y))
        row->y = (struct interval){given->y, given->y};
    else if (given)
        row->y = (struct interval){INFINITY, -INFINITY}; /* meets no course */
    if (!find_courses(roof, &kit->flashing, least, &row->courses, &row->course_count, &row->y))
        return false;
    if (roof->brackets[b].hardware[which] == HARDWARE_STRUT)
        return find_strut(roof, b, which, least, bracket->x, row);
    row->legs = calloc(kit->leg_count, sizeof *row->legs);
    if (!row->legs)
        return false;
    row->leg_count = kit->leg_count;
    for (size_t i = 0; i < kit->leg_count; i++)
        if (!find_leg(roof, kit, least, bracket->x, kit->legs[i], row->y, &row->legs[i]))
            return false;
    return true;
}

static bool find_bracket(const struct roof *roof, size_t b, double least,
                         struct candidates *found) {
    struct candidate_bracket *bracket = &found->brackets[b];
    const struct kit *kit = roof_kit(roof, b);
    bound_corner(roof, kit->width, kit->height, true, least, &bracket->x, &bracket->y);
    bracket->x = shifted(bracket->x, -ROUNDING, ROUNDING);
    bracket->y = shifted(bracket->y, -ROUNDING, ROUNDING);
    if (bracket->x.lo > bracket->x.hi + ROUNDING || bracket->y.lo > bracket->y.hi + ROUNDING) {
        say_why(found, "frame %s does not fit inside the setbacks", roof->brackets[b].name);
        found->hopeless = true;
    }
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        if (!find_row(roof, b, (enum row)row, least, bracket))
            return false;
        judge_row(roof, b, (enum row)row, least, &bracket->rows[row], found);
    }
    return true;
}

struct interval candidates_bay(const struct roof *roof, const struct pipe *pipe, size_t bay,
                               double y) {
    struct interval between = {-ROOF_ENDLESS, ROOF_ENDLESS};
    double keep = pipe->bore / 2 + pipe->keep_rafter;
    if (bay > 0) {
        const struct rafter *rafter = &roof->rafters[bay - 1];
        between.lo = rafter->to + rafter->lean * y + keep + rafter->tolerance;
    }
    if (bay < roof->rafter_count) {
        const struct rafter *rafter = &roof->rafters[bay];
        between.hi = rafter->from + rafter->lean * y - keep - rafter->tolerance;
    }
    return between;
}

static bool find_bays(const struct roof *roof, const struct pipe *pipe, double least,
                      struct candidate_pipe *found) {
    found->bays = calloc(roof->rafter_count + 1, sizeof *found->bays);
    if (!found->bays)
        return false;
    for (size_t bay = 0; bay <= roof->rafter_count; bay++) {
        struct interval low = candidates_bay(roof, pipe, bay, found->y.lo);
        struct interval high = candidates_bay(roof, pipe, bay, found->y.hi);
        double width = fmax(low.hi - low.lo, high.hi - high.lo);
        struct interval x = {fmin(low.lo, high.lo) + least, fmax(low.hi, high.hi) - least};
        if (width >= 2 * least - ROUNDING && meets(x, found->x))
            found->bays[found->bay_count++] = bay;
    }
    return true;
}

static bool find_pipe(const struct roof *roof, size_t p, double least, struct candidates *all) {
    const struct pipe *pipe = &roof->pipes[p];
    const struct candidate_bracket *bracket = &all->brackets[pipe->bracket];
    struct candidate_pipe *found = &all->pipes[p];
    double off = pipe->reach - least;
    found->x = shifted(bracket->x, pipe->port_x - off, pipe->port_x + off);
    found->y = shifted(bracket->y, pipe->port_y - off, pipe->port_y + off);
    if (!find_courses(roof, &pipe->flashing, least, &found->courses, &found->course_count,
                      &found->y) ||
        !find_bays(roof, pipe, least, found))
        return false;
    if (found->course_count == 0 || found->bay_count == 0) {
        say_why(all, "pipe %s of frame %s: no %s within reach of its port", pipe->name,
                roof->brackets[pipe->bracket].name,
                found->bay_count == 0 ? "gap between rafters" : "shingle course");
        all->hopeless = true;
    }
    return true;
}

enum outcome candidates_find(const struct roof *roof, double least,
                             struct candidates **candidates) {
    struct candidates *found = calloc(1, sizeof *found);
    if (!found)
        return OUTCOME_FAULT;
    found->brackets = calloc(roof->bracket_count, sizeof *found->brackets);
    found->pipes = calloc(roof->pipe_count + 1, sizeof *found->pipes);
    found->why = calloc(CANDIDATES_WHYS, sizeof *found->why);
    bool good = found->brackets && found->pipes && found->why;
    if (good) {
        found->bracket_count = roof->bracket_count;
        found->pipe_count = roof->pipe_count;
    }
    for (size_t b = 0; good && b < roof->bracket_count; b++)
        good = find_bracket(roof, b, least, found);
    for (size_t p = 0; good && p < roof->pipe_count; p++)
        good = find_pipe(roof, p, least, found);
    if (!good) {
        candidates_free(found);
        return OUTCOME_FAULT;
    }
    *candidates = found;
    return OUTCOME_DONE;
}

static void free_row(struct candidate_row *row) {
    free(row->courses);
    free(row->plies);
    for (size_t i = 0; i < row->leg_count; i++)
        free(row->legs[i].plies);
    free(row->legs);
}

void candidates_free(struct candidates *candidates) {
    if (!candidates)
        return;
    for (size_t b = 0; b < candidates->bracket_count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            free_row(&candidates->brackets[b].rows[row]);
    for (size_t p = 0; p < candidates->pipe_count; p++) {
        free(candidates->pipes[p].courses);
        free(candidates->pipes[p].bays);
    }
    free(candidates->brackets);
    free(candidates->pipes);
    free(candidates->why);
    free(candidates);
}
