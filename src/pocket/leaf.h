/* The page under way: which parts of it are open, and what was numbered so far. */
#ifndef RUDDLE_POCKET_LEAF_H
#define RUDDLE_POCKET_LEAF_H

#include "../drawing/holder.h"
#include "pocket.h"

#include <stdbool.h>
#include <stddef.h>

struct leaf {
    FILE *stream;
    const struct pocket *pocket;
    size_t inputs;                   /* boxes, choices and blanks so far; each has its number */
    size_t shown;                    /* holes that have had their button to the drawing */
    bool section, step, group, item; /* open now, each inside the one before */
    bool in_box, box_head;           /* of the STOP box; the next paragraph is its head */
    bool headed;                     /* a part of the sheet has had its heading */
    bool drawn;                      /* the drawing has had its place */
    bool failed;                     /* no memory */
};

/* One piece of the sheet. */
void leaf_take(struct leaf *leaf, const struct piece *piece);

/* Ends whatever is open. */
void leaf_end(struct leaf *leaf);

/* The drawing, with what makes it larger and smaller. */
void leaf_draw(struct leaf *leaf);

/* Text of the sheet, with whatever is no text in it made harmless. */
void leaf_text(struct leaf *leaf, const char *text);

/* The looks of the page and what moves on it: lines to be written one after the other, the last one
 * NULL. */
extern const char *const leaf_look[];
extern const char *const leaf_script[];

#endif
