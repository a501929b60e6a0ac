#include "candidates.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/* Bounds are widened by this much, so that a candidate that only just fits is never struck out. */
#define ROUNDING 1e-6

double candidates_play(const struct roof *roof, const struct kit *kit, size_t ply) {
    return roof->plies[ply].half - kit->lag_edge - roof->plies[ply].tolerance;
}

struct interval candidates_course(const struct roof *roof, const struct flashing *flashing,
                                  size_t course) {
    const double *edge = &roof->courses[course - 1];
    double tolerance = roof->course_tolerance;
    double above_edge = edge[0] + flashing->edge[0] + flashing->hole_up;
    double lapped = edge[2] + flashing->lap - flashing->height + flashing->hole_up;
    double below_edge = edge[0] + flashing->edge[1] + flashing->hole_up;
    double block_clear = edge[1] - flashing->clear - flashing->block;
    return (struct interval){fmax(above_edge, lapped) + tolerance,
                             fmin(below_edge, block_clear) - tolerance};
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

/* Where the bracket's corner can stand inside the edges that run along an axis; `least` off each.
 */
static void bound_corner(const struct roof *roof, const struct kit *kit, double least,
                         struct candidate_bracket *bracket) {
    /* A face is bounded, so a corner further off than this is never the nearest miss. */
    double far = roof->width + roof->slope + kit->width + kit->height + fabs(least);
    bracket->x = bracket->y = (struct interval){-far, far};
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        double off = edge->offset + edge->setback + least;
        if (edge->ny == 0 && edge->nx > 0)
            bracket->x.lo = fmax(bracket->x.lo, off / edge->nx);
        else if (edge->ny == 0)
            bracket->x.hi = fmin(bracket->x.hi, off / edge->nx - kit->width);
        else if (edge->nx == 0 && edge->ny > 0)
            bracket->y.lo = fmax(bracket->y.lo, off / edge->ny);
        else if (edge->nx == 0)
            bracket->y.hi = fmin(bracket->y.hi, off / edge->ny - kit->height);
    }
}

static bool find_courses(const struct roof *roof, const struct kit *kit, double least,
                         struct candidate_row *row) {
    row->courses = calloc(roof->course_count + 1, sizeof *row->courses);
    if (!row->courses)
        return false;
    struct interval all = {INFINITY, -INFINITY};
    for (size_t k = 1; k + 2 <= roof->course_count; k++) {
        struct interval y = shifted(candidates_course(roof, &kit->flashing, k), least, -least);
        if (y.lo > y.hi + ROUNDING || !meets(y, row->y))
            continue;
        row->courses[row->course_count++] = k;
        all.lo = fmin(all.lo, y.lo);
        all.hi = fmax(all.hi, y.hi);
    }
    row->y.lo = fmax(row->y.lo, all.lo - ROUNDING);
    row->y.hi = fmin(row->y.hi, all.hi + ROUNDING);
    return true;
}

static bool find_leg(const struct roof *roof, const struct kit *kit, double least,
                     struct interval bracket_x, double leg_x, struct candidate_leg *leg) {
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
        struct interval x = {roof->plies[t].at - play, roof->plies[t].at + play};
        bool taken = false;
        for (int side = SIDE_NEAR; side < SIDE_COUNT && play >= -ROUNDING; side++)
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

/* A lag further off a strut's clamps than one span and the overhang never helps: the strut could
 * end one rafter sooner, which breaks no rule and saves a hole. */
static bool find_strut(const struct roof *roof, const struct kit *kit, double least,
                       struct interval bracket_x, struct candidate_row *row) {
    row->plies = calloc(roof->ply_count + 1, sizeof *row->plies);
    if (!row->plies)
        return false;
    double beyond = kit->grip + kit->overhang + kit->span;
    struct interval reach =
        shifted(bracket_x, kit->legs[0] - beyond, kit->legs[kit->leg_count - 1] + beyond);
    for (size_t t = 0; t < roof->ply_count; t++) {
        struct interval x = {roof->plies[t].at, roof->plies[t].at};
        if (candidates_play(roof, kit, t) >= least - ROUNDING && meets(x, reach))
            row->plies[row->ply_count++] = t;
    }
    return true;
}

/* Why no lag of a frame can find wood: every ply too thin for the lag's edge distance and the
 * rafters' tolerance, or none within reach. */
static void say_no_wood(const struct roof *roof, size_t b, double least, const char *place,
                        const char *need, struct candidates *found) {
    double most = -INFINITY;
    for (size_t t = 0; t < roof->ply_count; t++)
        most = fmax(most, candidates_play(roof, roof_kit(roof, b), t));
    char short_by[LENGTH_TEXT];
    if (roof->ply_count > 0 && most < least)
        say_why(found,
                "frame %s, %s: no ply is sure to hold a lag, even in its middle: thickness, "
                "edge distance and tolerance leave it short by %s",
                roof->brackets[b].name, place,
                length_text(short_by, -most, roof->tape / 2, roof->measure));
    else
        say_why(found, "frame %s, %s: %s", roof->brackets[b].name, place, need);
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
    if (!find_courses(roof, kit, least, row))
        return false;
    if (roof->brackets[b].hardware[which] == HARDWARE_STRUT)
        return find_strut(roof, kit, least, bracket->x, row);
    row->legs = calloc(kit->leg_count, sizeof *row->legs);
    if (!row->legs)
        return false;
    row->leg_count = kit->leg_count;
    for (size_t i = 0; i < kit->leg_count; i++)
        if (!find_leg(roof, kit, least, bracket->x, kit->legs[i], &row->legs[i]))
            return false;
    return true;
}

static bool find_bracket(const struct roof *roof, size_t b, double least,
                         struct candidates *found) {
    struct candidate_bracket *bracket = &found->brackets[b];
    bound_corner(roof, roof_kit(roof, b), least, bracket);
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

enum outcome candidates_find(const struct roof *roof, double least,
                             struct candidates **candidates) {
    struct candidates *found = calloc(1, sizeof *found);
    if (!found)
        return OUTCOME_FAULT;
    found->brackets = calloc(roof->bracket_count, sizeof *found->brackets);
    found->why = calloc(CANDIDATES_WHYS, sizeof *found->why);
    bool good = found->brackets && found->why;
    if (good)
        found->bracket_count = roof->bracket_count;
    for (size_t b = 0; good && b < roof->bracket_count; b++)
        good = find_bracket(roof, b, least, found);
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
    free(candidates->brackets);
    free(candidates->why);
    free(candidates);
}
