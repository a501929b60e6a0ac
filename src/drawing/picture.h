/* A picture: strokes, areas and texts in the order in which they are laid down, as points on a page
 * (72 to the inch, y down), for whatever writes them out: cairo, SVG, DXF.
 */
#ifndef RUDDLE_DRAWING_PICTURE_H
#define RUDDLE_DRAWING_PICTURE_H

#include "letters.h"
#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* What a shape shows.  All but the last two are places on the roof, at the picture's scale. */
enum layer {
    LAYER_EDGES,
    LAYER_SETBACK,
    LAYER_COURSES,
    LAYER_RAFTERS,
    LAYER_UNSOUND,
    LAYER_KEEPOUTS,
    LAYER_WALL,
    LAYER_VENTS,
    LAYER_CHALK,
    LAYER_FLASHINGS,
    LAYER_FRAMES,
    LAYER_STRUTS,
    LAYER_FEET,
    LAYER_LAGS,
    LAYER_PIPES,
    LAYER_ZERO,
    LAYER_DIMENSIONS,
    LAYER_READINGS,
    LAYER_NOTES,
    LAYER_LEGEND,
    LAYER_COUNT
};
const char *picture_layer_word(enum layer layer); /* "LAG-HOLES"; never NULL */

enum ink {
    INK_NONE,
    INK_BLACK,
    INK_DARK,
    INK_MID,
    INK_LIGHT,
    INK_PALE,
    INK_WHITE,
    INK_BLUE,
    INK_COUNT
};
struct colour {
    unsigned char red, green, blue;
};
struct colour picture_colour(enum ink ink);

enum dash { DASH_NONE, DASH_SHORT, DASH_LONG, DASH_DOT, DASH_COUNT };
/* Lengths on and off in turn, points; *count of them. */
const double *picture_dash(enum dash dash, size_t *count);

struct style {
    enum ink line, fill; /* INK_NONE: not drawn */
    double width;        /* of the line, points */
    enum dash dash;
};

enum shape_kind { SHAPE_LINE, SHAPE_POLYGON, SHAPE_CIRCLE, SHAPE_TEXT };
enum anchor { ANCHOR_START, ANCHOR_MIDDLE, ANCHOR_END };

struct shape {
    enum shape_kind kind;
    enum layer layer;
    struct style style;  /* texts: fill is their ink */
    size_t first, count; /* points: picture.points[first ...]; circles and texts have one */
    double radius;       /* circles */
    struct lettering how;
    enum anchor anchor;
    double width;    /* texts: how wide they are */
    size_t text;     /* texts: offset into picture.texts */
    size_t hole;     /* the hole that it belongs to, index into marks.list; SIZE_MAX: none */
    bool is_reading; /* texts: a label that no other may overlap */
};

struct picture {
    double width, height; /* of the page */
    double scale;         /* points for each inch on the roof */
    struct point zero;    /* where x = 0, y = 0 of the roof lies */
    bool mirrored;        /* x grows to the left: the corner is on the right */
    struct shape *shapes;
    size_t count;
    struct point *points;
    size_t point_count;
    char *texts; /* each ended by NUL */
    size_t text_size;
    size_t room[3];                /* of shapes, points and texts */
    size_t hole;                   /* of the shapes that follow; SIZE_MAX: none */
    bool failed;                   /* a shape was lost for want of memory */
    const struct letters *letters; /* borrowed */
};

/* An empty picture.  NULL: no memory.  Owned by the caller (picture_free). */
struct picture *picture_new(const struct letters *letters, double width, double height);
void picture_free(struct picture *picture); /* accepts NULL */

/* Each adds one shape; without memory picture.failed is set instead. */
void picture_line(struct picture *picture, enum layer layer, const struct style *style,
                  struct point from, struct point to);
void picture_polygon(struct picture *picture, enum layer layer, const struct style *style,
                     const struct point *points, size_t count);
void picture_box(struct picture *picture, enum layer layer, const struct style *style,
                 struct box box);
void picture_circle(struct picture *picture, enum layer layer, const struct style *style,
                    struct point centre, double radius);

/* A text on its base line; `at` is its start, middle or end. */
struct written {
    struct lettering how;
    enum anchor anchor;
    enum ink ink;
    bool is_reading;
};
void picture_text(struct picture *picture, enum layer layer, const struct written *written,
                  struct point at, const char *text);

/* The text of a shape, and the box that it takes. */
const char *picture_text_of(const struct picture *picture, const struct shape *shape);
struct box picture_text_box(const struct picture *picture, const struct shape *shape);

/* A place on the roof as a point of the page, and back. */
struct point picture_place(const struct picture *picture, double x, double y);
struct point picture_roof_place(const struct picture *picture, struct point point);

#endif
