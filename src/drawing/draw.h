/* What the parts of the drawing share: the picture under way, and where things go on it. */
#ifndef RUDDLE_DRAWING_DRAW_H
#define RUDDLE_DRAWING_DRAW_H

#include "../sheet/places.h"
#include "drawing.h"
#include "picture.h"
#include "placer.h"

struct canvas {
    const struct answer *answer;
    const struct roof *roof;
    struct picture *picture;
    struct placer placer;
    struct box field;    /* where the roof and its readings go, points */
    struct box face;     /* the roof's bounding box on the page, points */
    const size_t *order; /* marks in chalking order; order[0] has number 1 */
    size_t holes;        /* how many; 0 without marks */
    size_t unplaced;     /* labels for which there was no room */
};

/* A label beside what it names: a badge with a number, where there is one, and a text. */
struct label {
    struct point at; /* what it names, points */
    double clear, up, right;
    double size;
    bool bold;
    bool optional; /* left out where there is no room, without a word */
    bool leader;   /* a thin line leads to it */
    size_t number; /* in a badge; 0: none */
    bool square;   /* the badge is square, else round */
    enum bounds bounds;
    size_t own; /* the frame that it names, where the bounds are its own */
    const char *text;
};

/* False where there was no room for it. */
bool draw_label(struct canvas *canvas, const struct label *label);

/* A text that stands where it is put; nothing is placed over it. */
void draw_text(struct canvas *canvas, enum layer layer, const struct written *written,
               struct point at, const char *text);

/* The roof: edges, setbacks, butt edges, rafters, vents. */
void draw_roof(struct canvas *canvas);

/* The names of its edges, once everything else has its place. */
void draw_edge_names(struct canvas *canvas);

/* What stands on it: flashings, frames, struts, feet. */
void draw_frames(struct canvas *canvas);

/* Points beside the face that the heights of the lines take, on the side of the zero. */
double draw_beside(const struct canvas *canvas);

/* Chalk lines and their readings. */
void draw_lines(struct canvas *canvas);
void draw_holes(struct canvas *canvas);

/* Around it: title, legend, scale bar, north, and the stamp on what does not work. */
void draw_surround(struct canvas *canvas);

/* A place on the roof as a point of the page. */
struct point draw_place(const struct canvas *canvas, double x, double y);

/* A rectangle on the roof as a box of the page. */
struct box draw_box(const struct canvas *canvas, struct box on_roof);

/* 1 where x grows to the right of the page, -1 where to the left. */
double draw_way(const struct roof *roof);

/* Small signs, alike on the roof and in the legend. */
void draw_lag(struct picture *picture, enum layer layer, struct point at, bool works);
void draw_pipe(struct picture *picture, enum layer layer, struct point at, double radius);
void draw_clamp(struct picture *picture, enum layer layer, struct point at);
void draw_zero(struct picture *picture, enum layer layer, struct point at);
void draw_hatch(struct picture *picture, enum layer layer, struct box box);
void draw_vent(struct picture *picture, enum layer layer, enum vent_kind kind, struct box box);

extern const struct style draw_rafter_style, draw_course_style, draw_setback_style,
    draw_flashing_style, draw_frame_style, draw_strut_style, draw_foot_style, draw_chalk_style,
    draw_thin_style;

#endif
