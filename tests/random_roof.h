/* Random roofs for tests: realistic, seeded, the same on every machine.
 *
 * Every length is a whole number of sixteenths of an inch, so that a roof can be written in
 * millimetres (1/16 in = 1.5875 mm) and come back the same.
 */
#ifndef RUDDLE_RANDOM_ROOF_H
#define RUDDLE_RANDOM_ROOF_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/* A generator of its own (splitmix64), so that no test depends on the machine's. */
struct random_source {
    uint64_t state;
};
uint64_t random_next(struct random_source *source);

/* A whole number from lo to hi, both counted. */
int random_between(struct random_source *source, int lo, int hi);

/* True once in so many. */
bool random_once_in(struct random_source *source, int times);

enum {
    RANDOM_LEGS_MOST = 4,
    RANDOM_RAFTERS_MOST = 128,
    RANDOM_VENTS_MOST = 3,
    RANDOM_BRACKETS_MOST = 64,
    RANDOM_ABREAST_MOST = 4,   /* brackets in one row; more stand in two */
    RANDOM_TWO_ROWS_MOST = 16, /* and more than these in four */
    RANDOM_PLIES_MOST = 3,
    RANDOM_KEEPOUTS_MOST = 2,
    RANDOM_COURSES_MOST = 80,
    RANDOM_JOINTS_MOST = 6,
    RANDOM_PATH = 512,
};

/* Hardware of the rows; SPAN is struts that are lagged as often as their span asks for. */
enum random_rows { RANDOM_ROWS_ANY, RANDOM_ROWS_STRUT, RANDOM_ROWS_FEET, RANDOM_ROWS_SPAN };

struct random_kit;

struct random_knobs {
    uint64_t seed;
    size_t brackets; /* 1 to RANDOM_BRACKETS_MOST */
    size_t vents;    /* at most so many */
    bool small;      /* few rafters and courses: small enough to try every choice */
    bool sisters, unsound, bonded;
    bool right;   /* corner: right */
    bool fair;    /* what a strut needs to be at least as forgiving as feet, see random_roof.c */
    bool narrow;  /* windows and slots that seldom fit: nearest misses */
    bool uneven;  /* hips, leaning corners, crooked and short members, keepouts, uneven courses */
    bool piped;   /* with a pipe on bracket A */
    bool jointed; /* cutouts between the tabs, or joints measured one by one */
    bool loaded;  /* with loads, and a weight in the kit */
    enum random_rows rows;
    const struct random_kit *kit; /* used instead of one made up; NULL: none */
};

enum random_sister { RANDOM_AWAY, RANDOM_TOWARD, RANDOM_BOTH };

struct random_rafter {
    int at, plies;
    int tolerance; /* 0: not written */
    enum random_sister sister;
    bool sound;
    int again;    /* at the second of the heights; `at` where it is straight */
    int gap;      /* between its plies; 0: not written */
    int reach[2]; /* of its extra plies; 0, 0: not written */
    bool some_unsound, ply_unsound[RANDOM_PLIES_MOST]; /* nearest the corner first */
};

enum random_face { RANDOM_RECTANGLE, RANDOM_LEANING, RANDOM_HIP };

struct random_keepout {
    size_t rafter;
    int from, to;
};

/* What roofs that are not neat have; all zero on the others. */
struct random_uneven {
    enum random_face face;
    int diagonals[2]; /* leaning: across 96 along and 72 up, at the corner and the far end; the far
                         one 0: not measured */
    int insets[2];    /* hip: how far the ridge's ends lie inside the eave's */
    int heights[2];   /* of `at` and `again`; 0, 0: not written */
    struct random_keepout keepouts[RANDOM_KEEPOUTS_MOST];
    size_t keepout_count;
    int wall_line; /* 0: none */
    int edges[RANDOM_COURSES_MOST];
    size_t edge_count; /* 0: courses by first and exposure */
    bool piped;
    int port[2], pipe_reach, bore, keep_rafter; /* of a pipe on bracket A, flashed as its lags */
};

/* What hangs on the roof, in pounds, feet and miles per hour; as the words of the file format where
 * it has words. */
struct random_loads {
    bool given, windy, lumber, no_gap;
    int snow_psf, uplift_psf;                            /* uplift: where it is not windy */
    int speed_mph, height_ft, exposure, coefficient_x10; /* exposure: index into B, C, D */
    int size, species, bearing, span, dead_psf;          /* of its lumber; the lengths in 16ths */
};

struct random_joint {
    int course, at;
};

/* All zero where the knobs do not ask for it. */
struct random_joints {
    int tab, stagger, first; /* tab 0: no cutouts */
    int keep;                /* 0: not written */
    struct random_joint list[RANDOM_JOINTS_MOST];
    size_t count;
};

struct random_vent {
    int kind; /* index into the kinds of the file format */
    int x, y, width, height;
    int tall, keep_flashing, keep_bracket; /* 0: not written */
};

struct random_bracket {
    int want_x, want_y;
    bool feet[2]; /* top, bottom */
};

/* x counts from the bracket's left side, as in a kit file. */
struct random_kit {
    int width, height, legs[RANDOM_LEGS_MOST], top[2], bottom[2], standoff;
    size_t leg_count;
    int foot_reach, foot_slot, foot_half;
    int strut_half, grip, lag_clear, end, overhang, span, stock[2];
    bool every_rafter;
    int flashing_width, flashing_height, hole_up, block, edge, clear, lap;
    int lag_diameter;
    int dry_lb, fill_gal, centre[3]; /* dry_lb 0: no weight is written */
};

/* Lengths in sixteenths of an inch, from the reference corner. */
struct random_roof {
    struct random_knobs knobs;
    int width, slope, rise; /* rise: of the pitch, in 12 */
    int setback_eave, setback_ridge, setback_near, setback_far;
    int first, exposure, course_tolerance;
    int found; /* index into probed, attic, sounded */
    bool bonded;
    struct random_rafter rafters[RANDOM_RAFTERS_MOST];
    size_t rafter_count;
    struct random_vent vents[RANDOM_VENTS_MOST];
    size_t vent_count;
    struct random_bracket brackets[RANDOM_BRACKETS_MOST];
    size_t bracket_count;
    int apart, enough, hole_worth; /* 0: not written */
    struct random_kit kit;
    struct random_uneven uneven;
    struct random_joints joints;
    struct random_loads loads;
    char kit_file[64]; /* of a kit that is there already, from the roof's folder; empty: one is
                          written beside the roof */
};

/* The same roof from the same knobs, always. */
void random_roof_make(const struct random_knobs *knobs, struct random_roof *roof);

/* Makes a roof uneven: random_roof_make does it last, where the knobs ask for it. */
void random_uneven_make(struct random_source *source, struct random_roof *roof);

/* The same for loads. */
void random_loads_make(struct random_source *source, struct random_roof *roof);

/* Their part of a roof file, nothing where there are none; and of a kit file.  `mm`: in the file's
 * other measure. */
void random_loads_write(const struct random_loads *loads, bool mm, FILE *file);
void random_weight_write(const struct random_kit *kit, bool mm, bool mirrored, FILE *file);

/* A multiple of `step` sixteenths between two numbers of inches. */
int random_length(struct random_source *source, int lo_in, int hi_in, int step);

/* How a roof is written.  Every form has the same best layout. */
enum random_form {
    RANDOM_PLAIN,
    RANDOM_MIRRORED,  /* the mirror image of roof and kit, from the mirrored corner */
    RANDOM_TURNED,    /* the same roof surveyed from its other corner; not where a corner leans, as
                         the other corner's triangle has no whole diagonal */
    RANDOM_REORDERED, /* lists in another order */
    RANDOM_MM,        /* in millimetres, exactly */
    RANDOM_FORM_COUNT
};

/* Writes a kit in inches into an existing folder, as STEM.yaml.  False if it could not be. */
bool random_kit_write(const struct random_kit *kit, const char *folder, const char *stem);

/* Writes STEM.yaml and STEM-kit.yaml into an existing folder; the roof's path into `path`.
 * False if a file could not be written. */
bool random_roof_write(const struct random_roof *roof, enum random_form form, const char *folder,
                       const char *stem, char path[RANDOM_PATH]);

#endif
