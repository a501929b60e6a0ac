/* Rafters in bending, before and after the frames, by the real places of the lags.
 *
 * A rafter is a straight beam along the slope on two supports, loaded square to itself.  A load of
 * p psf of horizontal projection on a strip of width t presses p t cos^2(pitch) on each inch of
 * slope, which over a horizontal span L makes w L^2 / 8 with w = p t, as for any level span.
 * What pushes along the rafter is left out of its bending.
 */
#include "judging.h"

#include <math.h>
#include <stdint.h>

static const double SQUARE_INCHES = 144; /* in one square foot */

/* One rafter as a beam. */
struct line {
    size_t rafter;
    double lower_in, upper_in; /* its supports, up the slope */
    double from_in, to_in;     /* x of the strip of roof that it carries */
    double modulus_in3;        /* of all its plies that run the whole way */
    double slope_squared;      /* cos^2 of the pitch */
    bool repetitive;           /* a neighbour on either side within 24 in */
    int bracket;               /* the first frame that concerns it, or STRENGTH_NONE */
};

static double middle_at(const struct roof *roof, size_t rafter, double y) {
    return roof->rafters[rafter].at + roof->rafters[rafter].lean * y;
}

/* The next sound rafter on a side, or rafter_count: split or cut ones carry nothing. */
static size_t neighbour(const struct roof *roof, size_t rafter, enum side side) {
    size_t i = rafter;
    do {
        if (i == 0 && side == SIDE_NEAR)
            return roof->rafter_count;
        i = side == SIDE_NEAR ? i - 1 : i + 1;
    } while (i < roof->rafter_count && roof->rafters[i].ply_count == 0);
    return i;
}

/* Half way to the neighbour on each side; all the way to the rake where there is none. */
static void find_strip(const struct roof *roof, struct line *line) {
    const double y = (line->lower_in + line->upper_in) / 2;
    const double x = middle_at(roof, line->rafter, y);
    double edges[SIDE_COUNT];
    line->repetitive = true;
    for (int side = 0; side < SIDE_COUNT; side++) {
        const size_t next = neighbour(roof, line->rafter, (enum side)side);
        if (next < roof->rafter_count) {
            const double other = middle_at(roof, next, y);
            edges[side] = (x + other) / 2;
            if (fabs(other - x) > LUMBER_SHARING_IN + LENGTH_TOLERANCE)
                line->repetitive = false;
        } else {
            edges[side] = roof_rake_x(roof, (enum side)side, y);
            line->repetitive = false;
        }
    }
    line->from_in = fmin(x, edges[SIDE_NEAR]);
    line->to_in = fmax(x, edges[SIDE_FAR]);
}

/* Sound plies share; one that ends short of the others (a short sister) does not count. */
static double section_modulus(const struct roof *roof, size_t rafter, double depth_in) {
    const struct rafter *member = &roof->rafters[rafter];
    double low = ROOF_ENDLESS, high = -ROOF_ENDLESS, thickness = 0;
    for (size_t i = 0; i < member->ply_count; i++) {
        const struct ply *ply = &roof->plies[member->first_ply + i];
        low = fmin(low, ply->reach[0]);
        high = fmax(high, ply->reach[1]);
    }
    for (size_t i = 0; i < member->ply_count; i++) {
        const struct ply *ply = &roof->plies[member->first_ply + i];
        if (ply->reach[0] <= low && ply->reach[1] >= high)
            thickness += 2 * ply->half;
    }
    if (!(thickness > 0)) /* each falls short somewhere: as good as one */
        thickness = 2 * roof->plies[member->first_ply].half;
    return lumber_section(thickness, depth_in).modulus_in3;
}

/* How far two stretches overlap. */
static double overlap(double a0, double a1, double b0, double b1) {
    return fmax(0, fmin(a1, b1) - fmax(a0, b0));
}

/* Uniform loads between two places: the roof's own, and no roof snow under the frames (theirs comes
 * through the lags).  Returns how many; room for ROOF_BRACKETS_MOST + 1. */
static size_t lay_roof(const struct judging *judging, const struct line *line,
                       const struct combination_factors *factors, bool frames, double from,
                       double to, struct beam_stretch stretches[]) {
    const double by_psf = line->slope_squared / SQUARE_INCHES;
    const double snow = factors->snow * judging->loads->snow_psf;
    const double all = factors->dead * judging->loads->rafter.dead_psf + snow;
    size_t count = 0;
    stretches[count++] =
        (struct beam_stretch){from, to, all * by_psf * (line->to_in - line->from_in)};
    for (size_t b = 0; frames && b < judging->roof->bracket_count; b++) {
        const struct standing *frame = &judging->marks->brackets[b];
        const struct kit *kit = roof_kit(judging->roof, b);
        const double wide = overlap(line->from_in, line->to_in, frame->x, frame->x + kit->width);
        const double low = fmax(from, frame->y), high = fmin(to, frame->y + kit->height);
        if (wide > 0 && high > low)
            stretches[count++] = (struct beam_stretch){low, high, -snow * by_psf * wide};
    }
    return count;
}

/* Lags in this rafter, at most between two places. */
static size_t lay_lags(struct judging *judging, const struct line *line,
                       enum combination combination, double from, double to) {
    size_t count = 0;
    for (size_t i = 0; i < judging->marks->count; i++) {
        const size_t ply = judging->verdict->seats[i].ply;
        const struct mark_force *force = &judging->forces[i][combination];
        const double y = judging->marks->list[i].y;
        if (force->known && ply != SIZE_MAX && judging->roof->plies[ply].rafter == line->rafter &&
            y >= from && y <= to)
            judging->points[count++] = (struct beam_point){y, force->normal_lb};
    }
    return count;
}

/* The greatest moment: of the span alone, or with what stands on the overhang below it and beyond
 * its upper support, which can only be reckoned with as if nothing held the rafter further up. */
static double greatest_moment(struct judging *judging, const struct line *line,
                              enum combination combination, bool frames) {
    const struct combination_factors *factors = loads_combination(combination);
    const double supports[] = {line->lower_in, line->upper_in};
    double most = 0;
    for (int whole = 0; whole < 2; whole++) {
        struct beam_stretch stretches[ROOF_BRACKETS_MOST + 1];
        struct beam_answer answer;
        struct beam beam = {.supports_in = supports,
                            .support_count = 2,
                            .points = judging->points,
                            .stretches = stretches};
        const double from = whole ? fmin(0, line->lower_in) : line->lower_in;
        beam.stretch_count =
            lay_roof(judging, line, factors, frames, from, line->upper_in, stretches);
        if (frames)
            beam.point_count =
                lay_lags(judging, line, combination, from, whole ? ROOF_ENDLESS : line->upper_in);
        if (beam_solve(&beam, &answer))
            most = fmax(most, beam_greatest_inlb(&answer));
    }
    return most;
}

/* A rafter under one combination, with the frames or before them. */
static struct strength_item judge_one(struct judging *judging, const struct line *line,
                                      enum combination combination, bool frames) {
    const struct loads_rafter *rafter = &judging->loads->rafter;
    struct strength_item item = {
        .kind = STRENGTH_RAFTER,
        .bracket = line->bracket,
        .row = STRENGTH_NONE,
        .mark = STRENGTH_NONE,
        .rafter = (int)line->rafter,
        .combination = combination,
        .demand = greatest_moment(judging, line, combination, frames) / line->modulus_in3,
        .capacity =
            lumber_adjusted_bending_psi(rafter->species, rafter->size,
                                        loads_combination(combination)->duration, line->repetitive),
        .clause = "NDS 2018 3.3.1, 4.3"};
    item.ratio = item.demand / item.capacity;
    return item;
}

static void judge_rafter(struct judging *judging, const struct line *line) {
    struct strength_item worst = judge_one(judging, line, (enum combination)0, true);
    double before = 0;
    for (int c = 0; c < COMBINATION_COUNT; c++) {
        const struct strength_item after = judge_one(judging, line, (enum combination)c, true);
        judging_worse(&worst, &after);
        if (loads_combination((enum combination)c)->wind == 0)
            before = fmax(before, judge_one(judging, line, (enum combination)c, false).ratio);
    }
    worst.before = before;
    judging_add(judging->strength, &worst);
}

/* The first frame with a lag in this rafter or standing over it. */
static int first_frame(const struct judging *judging, const struct line *line) {
    const double y = (line->lower_in + line->upper_in) / 2;
    const double x = middle_at(judging->roof, line->rafter, y);
    int first = STRENGTH_NONE;
    for (size_t b = judging->roof->bracket_count; b-- > 0;) {
        const struct standing *frame = &judging->marks->brackets[b];
        if (x >= frame->x && x <= frame->x + roof_kit(judging->roof, b)->width)
            first = (int)b;
    }
    for (size_t i = 0; i < judging->marks->count; i++) {
        const size_t ply = judging->verdict->seats[i].ply;
        const int bracket = (int)judging->marks->list[i].bracket;
        if (judging->forces[i][0].known && ply != SIZE_MAX &&
            judging->roof->plies[ply].rafter == line->rafter &&
            (first == STRENGTH_NONE || bracket < first))
            first = bracket;
    }
    return first;
}

void judging_rafters(struct judging *judging) {
    const struct roof *roof = judging->roof;
    const struct loads_rafter *rafter = &judging->loads->rafter;
    const double cosine = cos(roof->pitch_rad);
    for (size_t i = 0; i < roof->rafter_count; i++) {
        if (roof->rafters[i].ply_count == 0)
            continue;
        struct line line = {.rafter = i,
                            .lower_in = rafter->bearing_in,
                            .upper_in = rafter->bearing_in + rafter->span_in / cosine,
                            .slope_squared = cosine * cosine};
        line.modulus_in3 = section_modulus(roof, i, lumber_depth_in(rafter->size));
        find_strip(roof, &line);
        line.bracket = first_frame(judging, &line);
        if (line.bracket != STRENGTH_NONE)
            judge_rafter(judging, &line);
    }
}
