/* The press: pages one after the other, each headed, and text set on them.  For each leading it
 * runs once on a page without end and once to count pages; then once to print them. */
#ifndef RUDDLE_PRINTED_PRESS_H
#define RUDDLE_PRINTED_PRESS_H

#include "../drawing/holder.h"
#include "printed.h"
#include "stretches.h"

#include <stdbool.h>
#include <stddef.h>

struct press {
    const struct printed *printed;
    cairo_surface_t *surface;
    cairo_t *cr; /* NULL while the pages are only counted */
    struct page_size size;
    double leading;              /* from line to line, points */
    size_t page, pages;          /* this one, from 1; of so many (0 while they are counted) */
    double settled;              /* down to there the page has room for all that comes, points */
    double y;                    /* the top of what comes next, points */
    bool on_roof;                /* readings are set big from here on */
    bool in_box;                 /* inside the STOP box */
    bool box_head;               /* the next paragraph is its head */
    bool drawn;                  /* the drawing has had its page */
    bool measuring;              /* the page has no end; its stretches are written down */
    bool failed;                 /* one was lost for want of memory */
    size_t stretch;              /* how many have begun so far, while they are not measured */
    struct stretches *stretches; /* borrowed */
};

#define PRESS_MARGIN 42.0 /* points, all round */

double press_left(void);
double press_right(const struct press *press);
double press_bottom(const struct press *press);

/* Ends the page and begins the next, with its heading. */
void press_turn(struct press *press);

/* Turns the page unless there is still so much room on it. */
void press_need(struct press *press, double height);

/* A stretch begins: turns the page unless it has room there whole, or, where that would leave much
 * of the page empty, for `least` of it. */
void press_stretch(struct press *press, bool step, double least);

/* A page on its side with the drawing. */
void press_drawing(struct press *press);

/* The first page and the last. */
void press_begin(struct press *press);
void press_end(struct press *press);

/* A text on its base line at (x, y); returns how wide it is.  Nothing is printed while pages are
 * counted. */
double press_text(struct press *press, const struct lettering *how, struct point at,
                  const char *text);
double press_white_text(struct press *press, const struct lettering *how, struct point at,
                        const char *text);

/* A rectangle: its outline, or filled black. */
void press_box(struct press *press, struct box box, bool filled);
void press_disc(struct press *press, struct point centre, double radius); /* black */
void press_rule(struct press *press, struct point from, struct point to, double width);

#endif
