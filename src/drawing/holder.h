/* What a drawing holds, for those who write it out. */
#ifndef RUDDLE_DRAWING_HOLDER_H
#define RUDDLE_DRAWING_HOLDER_H

#include "../sheet/places.h"
#include "drawing.h"
#include "picture.h"

/* A hole as it is named beside its sign. */
struct drawn_hole {
    size_t number; /* in chalking order, from 1 */
    bool pipe;
    double x, y; /* inches on the roof */
    char name[PLACES_NAME];
};

struct drawing {
    struct letters *letters; /* owned */
    struct picture *picture; /* owned */
    char roof[ROOF_NAME_MOST + 1];
    enum measure measure;
    bool works;
    struct drawn_hole *holes; /* one a mark; owned */
    size_t hole_count;
    size_t unplaced; /* labels for which there was no room */
};

/* Points; upright. */
struct page_size {
    double width, height;
};
struct page_size drawing_page(enum paper paper);

/* Letters without hints, so that they are as wide as they were measured. */
void paint_set_up(cairo_t *cr);

/* Paints a picture on cr, at its own size, from the origin. */
void paint_picture(const struct picture *picture, cairo_t *cr);

/* A PDF on a stream: the same bytes at any time of any day. */
cairo_surface_t *paint_pdf(FILE *stream, double width, double height, const char *title);

/* Closes and frees a surface.  FAULT: cairo lacked memory; a failed write is no fault here, it
 * shows on the stream. */
enum outcome paint_end(cairo_surface_t *surface, cairo_t *cr);

#endif
