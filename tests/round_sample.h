/* Small roofs for rounding, built in memory, each with exact marks on it. */
#ifndef RUDDLE_ROUND_SAMPLE_H
#define RUDDLE_ROUND_SAMPLE_H

#include "marks.h"
#include "roof.h"

#include <stdbool.h>
#include <stdint.h>

enum { SAMPLE_RAFTERS = 40, SAMPLE_COURSES = 40, SAMPLE_BRACKETS = 4 };

struct sample {
    struct roof roof; /* its arrays are those below */
    struct rafter rafters[SAMPLE_RAFTERS];
    struct ply plies[2 * SAMPLE_RAFTERS];
    struct edge edges[4];
    double courses[SAMPLE_COURSES];
    struct vent vents[1];
    struct kit kit;
    struct bracket brackets[SAMPLE_BRACKETS];
};

/* A face 360 by 196, setbacks of 12, single rafters (1 1/2 thick, tolerance 1/8) every `spacing`
 * from x = 16 on, butt edges at 6, 11 5/8, ... (tolerance 1/8); `bracket_count` brackets of a kit
 * 72 by 84 with legs at 12 and 60, feet on both rows, wanted at (0, 0). */
void sample_build(struct sample *sample, double spacing, size_t bracket_count);

/* The middle of the window that a course leaves for a hole's y: 3 3/4 above its butt edge, where
 * edge and block have 1/2 - 1/8 to spare each with an exposure of 5 5/8. */
double sample_middle(const struct sample *sample, size_t course);

/* Adds a mark. */
void sample_mark(struct marks *marks, size_t bracket, enum row row, double x, double y);

/* A small generator of its own (xorshift, 64 bits), the same numbers everywhere. */
struct dice {
    uint64_t state; /* never 0 */
};
double dice_between(struct dice *dice, double lo, double hi);
size_t dice_below(struct dice *dice, size_t count);

/* What a random sample is to be. */
enum sample_kind {
    SAMPLE_FEET,       /* a bottom row of two feet, nothing else */
    SAMPLE_STRUT,      /* a top row of one strut with two lags, nothing else */
    SAMPLE_ONE_LEG,    /* a bracket of one leg, complete with one foot above and one below */
    SAMPLE_NEIGHBOURS, /* two brackets close to each other, one of them with a foot */
};

/* A random roof with exact marks of that kind, close to where rules break or broken a little;
 * marks are the caller's. */
struct marks *sample_random(struct sample *sample, enum sample_kind kind, struct dice *dice);

#endif
