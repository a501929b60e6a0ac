/* A plain roof made in memory, without any file: a rectangular face, rafters 24 in apart, straight
 * courses, and the 72 x 84 in frame on two legs.  Tests alter what they are about, in the knobs
 * before it is built or in the struct itself after.
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
};

struct plain_knobs plain_knobs(void);

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
 * B is the same 96 in (four rafters) further on.  Freed with marks_free. */
struct marks *plain_marks(const struct roof *roof);

enum { PLAIN_BOTTOM_COURSE = 7, PLAIN_TOP_COURSE = 18 };
#define PLAIN_X 50.5
#define PLAIN_Y 32.375
#define PLAIN_BOTTOM_Y 43.5
#define PLAIN_TOP_Y 105.375
#define PLAIN_PITCH 96.0    /* from bracket to bracket */
#define PLAIN_LEAST 0.15625 /* forgiveness of the plain marks */

#endif
