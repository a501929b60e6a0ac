/* A practice roof before it is written down: plausible figures by chance. */
#ifndef RUDDLE_PRACTICE_PLAN_H
#define RUDDLE_PRACTICE_PLAN_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

enum { PLAN_RAFTERS_MOST = 40, PLAN_VENTS_MOST = 3 };

struct plan_rafter {
    int at, again; /* equal where it is straight */
    bool doubled, away, bad;
};

struct plan_vent {
    const char *name, *kind;
    int x, y, width, height;
};

/* Lengths in eighths of an inch. */
struct plan {
    unsigned level, seed;
    bool right; /* the zero corner */
    int width, slope, rise;
    int first, exposure;
    struct plan_rafter rafters[PLAN_RAFTERS_MOST];
    int rafter_count;
    struct plan_vent vents[PLAN_VENTS_MOST];
    int vent_count;
    int keepout, keepout_from, keepout_to; /* of rafter `keepout`, from 1; 0: none */
    int frame_width, frame_height, legs[2], top[2], bottom[2];
    bool strut[2]; /* top, bottom */
    int want_x, want_y;
};

/* The plan of a level and a number; `attempt` counts from 0 where earlier ones would not do. */
void plan_make(unsigned level, unsigned seed, unsigned attempt, struct plan *plan);

/* Writes it as a roof file and its kit file. */
void plan_write_roof(const struct plan *plan, FILE *stream);
void plan_write_kit(const struct plan *plan, FILE *stream);

#endif
