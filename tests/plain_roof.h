/* A plain roof made in memory, without any file: a rectangular face, rafters 24 in apart, straight
 * courses, and the 72 x 84 in frame on two legs.  Knobs make it less neat.  Tests alter what they
 * are about, in the knobs before it is built or in the struct itself after.
 */
#ifndef RUDDLE_PLAIN_ROOF_H
#define RUDDLE_PLAIN_ROOF_H

#include "marks.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

struct plain_knobs {
    double width, slope;       /* 360, 196 */
    double first, exposure;    /* 6, 5 5/8: butt edges up to the ridge */
    double first_rafter;       /* 16: x of the first rafter's middle */
    double spacing;            /* 24 */
    size_t rafter_count;       /* 14: the last at 328 */
    double thickness;          /* 1 1/2, of one ply */
    double tolerance;          /* 1/8, of a rafter */
    size_t plies;              /* 1; 2: the extra one lies away from the corner; 3: both sides */
    bool bonded;               /* false: every ply is its own target */
    size_t unsound;            /* 0: none; otherwise the number of a rafter, from 1 */
    size_t vent_count;         /* 0: none; 1: one of 12 x 14 in at (300, 120) */
    size_t bracket_count;      /* 1; they are named A, B, ... */
    enum hardware hardware[2]; /* strut on top, feet below */
    double ridge_in[2]; /* 0, 0: how far the ridge's ends lie inside the eave's, near and far;
                           d and -d: a corner that leans; both above 0: hips */
    const struct point *outline; /* NULL; otherwise the face, counter-clockwise */
    size_t outline_count;
    double lean;            /* 0: x that every rafter gains for each inch up the roof */
    double sister_reach[2]; /* 0, 0; otherwise between which y the extra plies take a lag */
    size_t keepout;         /* 0: none; otherwise the number of a rafter, from 1 */
    double keepout_at[2];   /* from where to where up the roof */
    size_t pipe_count;      /* 0: none; 1: hot; 2: hot and cold; for each bracket */
};

struct plain_knobs plain_knobs(void);

/* The 72 x 84 in frame on two legs, which every roof made in memory has. */
struct kit plain_kit(void);

/* Builds it; NULL stands for the knobs as they come.  Freed with roof_free.  Ends the test without
 * memory. */
struct roof *plain_roof(const struct plain_knobs *knobs);

/* Marks that obey every rule on the roof as it comes, for one bracket or two, whatever hardware:
 * bracket A stands at (50 1/2, 32 3/8), B at (146 1/2, 32 3/8).
 *
 * By hand.  Legs at 62 1/2 and 110 1/2.  Feet turned away from the corner are lagged 1 1/2 beyond
 * their legs: 64 and 112, the middles of rafters 3 and 5, slip 0.  A strut is lagged to rafters 3,
 * 4, 5; clamps can be at 61 1/4 or 63 3/4 (too near to the lag at 64) and 109 1/4 or 111 3/4 (too
 * near to 112): it runs from 61 1/4 - 1 = 60 1/4 to 112 + 1 = 113.  The bottom row lies on course
 * 7, the top row on course 18, each flashing 1/2 above its butt edge:
 * y = 6 + 6 x 5 5/8 + 1/2 + 3 1/4 = 43 1/2 and 6 + 17 x 5 5/8 + 3 3/4 = 105 3/8, which is 11 1/8
 * and 73 up the legs.  The least margin is that of wood: 3/4 - 15/32 - 1/8 = 5/32.
 * B is the same 96 in (four rafters) further on.
 *
 * Pipes come after a bracket's lags.  Hot runs in the bay between rafters 3 and 4, cold in the
 * next, each in its middle: x 76 and 100, 11 1/4 from the nearest face, so that 11 1/4 - 11/16 -
 * 3/4 - 1/8 = 9 11/16 are left of pipe-bay.  Both lie on course 13, 1/2 above its butt edge: y = 6
 * + 12 x 5 5/8
 * + 1/2 + 3 1/2 = 77 1/2.  Their ports are at (24 1/2, 44) and (48 1/2, 44) of the bracket, 1 and
 * 1 1/8 off, of a reach of 6.  Freed with marks_free. */
struct marks *plain_marks(const struct roof *roof);

enum { PLAIN_BOTTOM_COURSE = 7, PLAIN_TOP_COURSE = 18, PLAIN_PIPE_COURSE = 13 };
#define PLAIN_X 50.5
#define PLAIN_Y 32.375
#define PLAIN_BOTTOM_Y 43.5
#define PLAIN_TOP_Y 105.375
#define PLAIN_PIPE_Y 77.5
#define PLAIN_BAY 9.6875    /* margin of pipe-bay against rafters */
#define PLAIN_PITCH 96.0    /* from bracket to bracket */
#define PLAIN_LEAST 0.15625 /* forgiveness of the plain marks */

#endif
