/* Lack: what rules miss, as a convex function of one length, made of hinges: nothing where they
 * hold, and so much for every inch beyond.
 */
#ifndef RUDDLE_LACK_H
#define RUDDLE_LACK_H

#include "candidates.h"

#include <stdbool.h>
#include <stddef.h>

/* A value at x below `at` costs below * (at - x), above it above * (x - at). */
struct hinge {
    double at, below, above; /* inches; inches of lack an inch, 0 at least */
};

enum { LACK_HINGES_MOST = 32 };
struct lack {
    double base; /* inches: what is lacked everywhere */
    struct hinge hinges[LACK_HINGES_MOST];
    size_t count;
    bool full;            /* there were more hinges: the function lies below the true one */
    double least;         /* of lack_settle: the least value */
    struct interval flat; /* of lack_settle: where that is; may be endless */
};

/* A value outside lo to hi costs `weight` an inch; where lo > hi, the larger of the two. */
void lack_window(struct lack *lack, double lo, double hi, double weight);
void lack_add(struct lack *lack, const struct lack *other);
/* To be called once all is added. */
void lack_settle(struct lack *lack);

double lack_at(const struct lack *lack, double x);
/* How far a value lies outside an interval, or beyond its further end where lo > hi. */
double lack_beyond(struct interval inside, double at);
/* Where within the interval, which is not empty, the least value is; *least is that value. */
struct interval lack_best(const struct lack *lack, struct interval within, double *least);

/* A line at y inside `line` lacks one, its height above Y, inside `met`, lacks the other: the least
 * of both together as a function of Y (lack_settle is still to be called), and the Y for which
 * there is any. */
struct interval lack_meet(const struct lack *line, struct interval line_in, const struct lack *met,
                          struct interval met_in, struct lack *both);
/* The y at which that is had for one Y, and what an inch below and above it lacks more; INFINITY:
 * there is no such y. */
struct line_best {
    struct interval at, in; /* in: where the line may be at all */
    double below, above;
};
struct line_best lack_line(const struct lack *line, struct interval line_in, const struct lack *met,
                           struct interval met_in, double y);

/* -1, 0, 1: some order, in which the same functions are 0. */
int lack_order(const struct lack *a, const struct lack *b);
bool lack_same(const struct lack *a, const struct lack *b);

#endif
