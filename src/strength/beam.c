/* Continuous beams by the three-moment equation: for neighbouring spans L1, L2
 *   M1 L1 + 2 M2 (L1 + L2) + M3 L2 = - (loads on L1 about its far end) - (likewise on L2),
 * where a point load P, a from the outer support of its span, adds P a (L^2 - a^2) / L, and a
 * uniform stretch the integral of that.  The moments at the outer supports are those of the
 * overhangs; one tridiagonal sweep gives the rest.
 */
#include "beam.h"

#include <math.h>

/* A load is on a support where it lies this close to it: it then bends nothing. */
static bool same_place(double a, double b) {
    return a == b;
}

/* The part of a stretch between two places; false where there is none. */
static bool clip(const struct beam_stretch *stretch, double from, double to,
                 struct beam_stretch *part) {
    *part = *stretch;
    part->from_in = fmax(stretch->from_in, from);
    part->to_in = fmin(stretch->to_in, to);
    return part->to_in > part->from_in;
}

static bool within(const struct beam_point *point, double from, double to) {
    return point->at_in > from && point->at_in < to;
}

/* Where the loads and supports begin or end. */
static double outermost(const struct beam *beam, int direction) {
    double most = direction * beam->supports_in[direction > 0 ? beam->support_count - 1 : 0];
    for (size_t i = 0; i < beam->point_count; i++)
        most = fmax(most, direction * beam->points[i].at_in);
    for (size_t i = 0; i < beam->stretch_count; i++)
        most = fmax(most, direction * (direction > 0 ? beam->stretches[i].to_in
                                                     : beam->stretches[i].from_in));
    return direction * most;
}

/* A place past everything on that side. */
static double beyond(const struct beam *beam, int direction) {
    return outermost(beam, direction) + direction;
}

/* What the loads between two places come to. */
struct sum {
    double load;        /* lb */
    double about_left;  /* in-lb: load times its distance from the left place */
    double about_right; /* likewise from the right one */
};

static struct sum loads_between(const struct beam *beam, double from, double to) {
    struct sum sum = {0, 0, 0};
    for (size_t i = 0; i < beam->point_count; i++) {
        const struct beam_point *point = &beam->points[i];
        if (!within(point, from, to))
            continue;
        sum.load += point->down_lb;
        sum.about_left += point->down_lb * (point->at_in - from);
        sum.about_right += point->down_lb * (to - point->at_in);
    }
    for (size_t i = 0; i < beam->stretch_count; i++) {
        struct beam_stretch part;
        if (!clip(&beam->stretches[i], from, to, &part))
            continue;
        const double load = part.down_lb_per_in * (part.to_in - part.from_in);
        const double middle = part.from_in + (part.to_in - part.from_in) / 2;
        sum.load += load;
        sum.about_left += load * (middle - from);
        sum.about_right += load * (to - middle);
    }
    return sum;
}

/* Integral of a (L^2 - a^2) / L from 0 to a. */
static double integral(double a, double length) {
    return a * a * (2 * length * length - a * a) / (4 * length);
}

/* The load term of one span in the equation of its support at `inner`; `outer` is its other end. */
static double load_term(const struct beam *beam, double outer, double inner) {
    const double length = fabs(inner - outer);
    const double from = fmin(outer, inner), to = fmax(outer, inner);
    double term = 0;
    for (size_t i = 0; i < beam->point_count; i++) {
        if (!within(&beam->points[i], from, to))
            continue;
        const double a = fabs(beam->points[i].at_in - outer);
        term += beam->points[i].down_lb * a * (length - a) * (length + a) / length;
    }
    for (size_t i = 0; i < beam->stretch_count; i++) {
        struct beam_stretch part;
        if (!clip(&beam->stretches[i], from, to, &part))
            continue;
        const double near = fmin(fabs(part.from_in - outer), fabs(part.to_in - outer));
        const double far = fmax(fabs(part.from_in - outer), fabs(part.to_in - outer));
        term += part.down_lb_per_in * (integral(far, length) - integral(near, length));
    }
    return term;
}

/* Moments at the supports between the outer ones, whose own are known; by elimination downward and
 * substitution upward.  The matrix is diagonally dominant, so nothing needs pivoting. */
static void find_moments(const struct beam *beam, double moment[]) {
    const double *at = beam->supports_in;
    const size_t last = beam->support_count - 1;
    double above[BEAM_SUPPORTS_MOST], right[BEAM_SUPPORTS_MOST];
    above[0] = 0;
    right[0] = moment[0];
    for (size_t i = 1; i < last; i++) {
        const double left_span = at[i] - at[i - 1], right_span = at[i + 1] - at[i];
        const double load = -load_term(beam, at[i - 1], at[i]) - load_term(beam, at[i + 1], at[i]);
        const double pivot = 2 * (left_span + right_span) - left_span * above[i - 1];
        above[i] = right_span / pivot;
        right[i] = (load - left_span * right[i - 1]) / pivot;
    }
    for (size_t i = last; i-- > 1;)
        moment[i] = right[i] - above[i] * moment[i + 1];
}

/* Shear just right of the left end of a span whose end moments are known. */
static double left_shear(const struct beam *beam, const double moment[], size_t span) {
    const double from = beam->supports_in[span], to = beam->supports_in[span + 1];
    return (moment[span + 1] - moment[span] + loads_between(beam, from, to).about_right) /
           (to - from);
}

static void find_reactions(const struct beam *beam, struct beam_answer *answer) {
    const double *at = beam->supports_in;
    const size_t last = beam->support_count - 1;
    answer->reaction_lb[0] = loads_between(beam, beyond(beam, -1), at[0]).load;
    for (size_t i = 0; i < last; i++) {
        const double shear = left_shear(beam, answer->moment_inlb, i);
        answer->reaction_lb[i] += shear;
        answer->reaction_lb[i + 1] = loads_between(beam, at[i], at[i + 1]).load - shear;
    }
    answer->reaction_lb[last] += loads_between(beam, at[last], beyond(beam, 1)).load;
    for (size_t i = 0; i < beam->point_count; i++)
        for (size_t k = 0; k <= last; k++)
            if (same_place(beam->points[i].at_in, at[k]))
                answer->reaction_lb[k] += beam->points[i].down_lb;
}

/* A walk along the beam: where one is, and shear and moment just right of there. */
struct walk {
    double x, shear, moment;
};

static void note(struct beam_answer *answer, const struct walk *walk) {
    if (walk->moment > answer->sag.value)
        answer->sag = (struct beam_place){walk->moment, walk->x};
    if (walk->moment < answer->hog.value)
        answer->hog = (struct beam_place){walk->moment, walk->x};
    if (fabs(walk->shear) > fabs(answer->shear.value))
        answer->shear = (struct beam_place){walk->shear, walk->x};
}

/* The next place after x, up to `to`, where something begins, ends or stands. */
static double next_place(const struct beam *beam, double x, double to) {
    double next = to;
    for (size_t i = 0; i < beam->point_count; i++)
        if (beam->points[i].at_in > x)
            next = fmin(next, beam->points[i].at_in);
    for (size_t i = 0; i < beam->stretch_count; i++) {
        if (beam->stretches[i].from_in > x)
            next = fmin(next, beam->stretches[i].from_in);
        if (beam->stretches[i].to_in > x)
            next = fmin(next, beam->stretches[i].to_in);
    }
    return next;
}

static double uniform_at(const struct beam *beam, double from, double to) {
    double sum = 0;
    for (size_t i = 0; i < beam->stretch_count; i++)
        if (beam->stretches[i].from_in <= from && beam->stretches[i].to_in >= to)
            sum += beam->stretches[i].down_lb_per_in;
    return sum;
}

/* Walks on to `x` under a uniform load. */
static struct walk step_to(const struct walk *walk, double x, double uniform) {
    const double along = x - walk->x;
    return (struct walk){x, walk->shear - uniform * along,
                         walk->moment + along * (walk->shear - uniform * along / 2)};
}

/* Walks to `to` (short of a load that stands there) and, with an answer, notes what is greatest. */
static struct walk walk_to(const struct beam *beam, struct walk walk, double to,
                           struct beam_answer *answer) {
    if (answer)
        note(answer, &walk);
    while (walk.x < to) {
        const double next = next_place(beam, walk.x, to);
        const double uniform = uniform_at(beam, walk.x, next);
        /* Where the shear passes 0 the moment is greatest or least. */
        const double level = uniform != 0 ? walk.x + walk.shear / uniform : walk.x;
        if (answer && level > walk.x && level < next) {
            const struct walk top = step_to(&walk, level, uniform);
            note(answer, &top);
        }
        walk = step_to(&walk, next, uniform);
        if (answer)
            note(answer, &walk);
        if (next < to) {
            for (size_t i = 0; i < beam->point_count; i++)
                if (same_place(beam->points[i].at_in, next))
                    walk.shear -= beam->points[i].down_lb;
            if (answer)
                note(answer, &walk);
        }
    }
    return walk;
}

/* What stands exactly at the free end at the left, where a walk starts. */
static double load_at(const struct beam *beam, double x) {
    double sum = 0;
    for (size_t i = 0; i < beam->point_count; i++)
        if (same_place(beam->points[i].at_in, x))
            sum += beam->points[i].down_lb;
    return sum;
}

/* A walk that starts at the left end of piece `piece`: 0 is the left overhang, then the spans, then
 * the right overhang. */
static struct walk start_of(const struct beam *beam, const double moment[], size_t piece) {
    const double *at = beam->supports_in;
    const size_t last = beam->support_count - 1;
    if (piece == 0) {
        const double x = outermost(beam, -1);
        return (struct walk){x, x < at[0] ? -load_at(beam, x) : 0, 0};
    }
    if (piece <= last)
        return (struct walk){at[piece - 1], left_shear(beam, moment, piece - 1), moment[piece - 1]};
    return (struct walk){at[last], loads_between(beam, at[last], beyond(beam, 1)).load,
                         moment[last]};
}

static double end_of(const struct beam *beam, size_t piece) {
    return piece < beam->support_count ? beam->supports_in[piece] : outermost(beam, 1);
}

static bool sane(const struct beam *beam) {
    if (beam->support_count < 2 || beam->support_count > BEAM_SUPPORTS_MOST)
        return false;
    for (size_t i = 0; i < beam->support_count; i++)
        if (!isfinite(beam->supports_in[i]) ||
            (i > 0 && !(beam->supports_in[i] > beam->supports_in[i - 1])))
            return false;
    for (size_t i = 0; i < beam->point_count; i++)
        if (!isfinite(beam->points[i].at_in) || !isfinite(beam->points[i].down_lb))
            return false;
    for (size_t i = 0; i < beam->stretch_count; i++) {
        const struct beam_stretch *stretch = &beam->stretches[i];
        if (!isfinite(stretch->from_in) || !isfinite(stretch->to_in) ||
            !isfinite(stretch->down_lb_per_in))
            return false;
    }
    return true;
}

bool beam_solve(const struct beam *beam, struct beam_answer *answer) {
    if (!sane(beam))
        return false;
    const double *at = beam->supports_in;
    const size_t last = beam->support_count - 1;
    const double end = outermost(beam, -1); /* where nothing bends it yet */
    *answer = (struct beam_answer){.sag.at_in = end, .hog.at_in = end, .shear.at_in = end};
    answer->moment_inlb[0] = -loads_between(beam, beyond(beam, -1), at[0]).about_right;
    answer->moment_inlb[last] = -loads_between(beam, at[last], beyond(beam, 1)).about_left;
    find_moments(beam, answer->moment_inlb);
    find_reactions(beam, answer);
    for (size_t piece = 0; piece <= beam->support_count; piece++)
        (void)walk_to(beam, start_of(beam, answer->moment_inlb, piece), end_of(beam, piece),
                      answer);
    return true;
}

double beam_greatest_inlb(const struct beam_answer *answer) {
    return fmax(answer->sag.value, -answer->hog.value);
}

double beam_moment_inlb(const struct beam *beam, const struct beam_answer *answer, double x_in) {
    if (x_in <= outermost(beam, -1) || x_in >= outermost(beam, 1))
        return 0;
    size_t piece = 0;
    while (piece < beam->support_count && x_in > end_of(beam, piece))
        piece++;
    return walk_to(beam, start_of(beam, answer->moment_inlb, piece), x_in, NULL).moment;
}
