/* A continuous beam of one section on supports that do not give: any number of unequal spans,
 * overhangs at both ends, point loads and stretches of uniform load.  Solved exactly by the
 * three-moment equation (Clapeyron, 1857).
 *
 * Loads count downward, onto the supports; reactions upward; a moment is positive where the beam
 * sags.  Forces in lb, lengths in inches, moments in in-lb; any other pair of units serves as well.
 */
#ifndef RUDDLE_BEAM_H
#define RUDDLE_BEAM_H

#include <stdbool.h>
#include <stddef.h>

enum { BEAM_SUPPORTS_MOST = 200 };

struct beam_point {
    double at_in;
    double down_lb;
};

/* Uniform from one place to another; stretches may overlap, and add. */
struct beam_stretch {
    double from_in, to_in;
    double down_lb_per_in;
};

/* Borrowed, never kept; loads need not be sorted. */
struct beam {
    const double *supports_in; /* strictly rising, 2 ... BEAM_SUPPORTS_MOST of them */
    size_t support_count;
    const struct beam_point *points;
    size_t point_count;
    const struct beam_stretch *stretches;
    size_t stretch_count;
};

struct beam_place {
    double value; /* moment or shear there */
    double at_in;
};

struct beam_answer {
    double reaction_lb[BEAM_SUPPORTS_MOST]; /* one a support; below 0 it is held down */
    double moment_inlb[BEAM_SUPPORTS_MOST]; /* likewise, at the support */
    struct beam_place sag, hog; /* most and least moment anywhere (hog.value <= 0 <= sag.value) */
    struct beam_place shear;    /* of the greatest size anywhere */
};

/* false: too few or too many supports, or not strictly rising, or a figure that is not finite;
 * *answer is then untouched. */
bool beam_solve(const struct beam *beam, struct beam_answer *answer);

/* The moment of the greatest size, without its sign. */
double beam_greatest_inlb(const struct beam_answer *answer);

/* Moment at x of a solved beam; 0 beyond its loads and supports. */
double beam_moment_inlb(const struct beam *beam, const struct beam_answer *answer, double x_in);

#endif
