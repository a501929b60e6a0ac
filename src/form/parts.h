/* What the blank form asks for: the one table that the text and the printed form are made from. */
#ifndef RUDDLE_FORM_PARTS_H
#define RUDDLE_FORM_PARTS_H

#include <stdbool.h>
#include <stddef.h>

/* One line to fill in. */
struct form_line {
    const char *label;
    const char *ticks; /* words to tick one of, parted by '|'; NULL: room to write */
};

/* A grid to fill in. */
struct form_table {
    const char *const *heads; /* of the columns; '|' breaks one in two lines */
    const int *widths;        /* of the columns, in characters; each column costs one more, and the
                                 table one again */
    size_t columns;
    size_t lines;  /* to fill in */
    bool numbered; /* the first column counts from 1 */
};

/* Which sketch of the printed form goes with it. */
enum sketch {
    SKETCH_ZERO,
    SKETCH_ACCESS,
    SKETCH_FACE,
    SKETCH_FRAMING,
    SKETCH_RAFTERS,
    SKETCH_DECK,
    SKETCH_EDGES,
    SKETCH_VENTS,
    SKETCH_ATTIC,
    SKETCH_FRAMES,
    SKETCH_WEATHER,
    SKETCH_NONE
};

struct form_part {
    const char *title;
    const char *why; /* one or two sentences below it */
    const struct form_line *lines;
    size_t line_count;
    const char *const *art; /* the sketch of the text form, lines of at most FORM_ART columns */
    size_t art_count;
    enum sketch sketch;
    const struct form_table *table; /* NULL: none */
};

enum { FORM_WIDTH = 80, FORM_ART = 32, FORM_LINES = 46 };

#define FORM_TITLE "SURVEY FORM"
#define FORM_RULE                                                                                  \
    "Measure twice, write at once. One tape from first to last. Every length along the eave is "   \
    "from the zero rake, never added up from piece to piece."

const struct form_part *form_parts(size_t *count);

/* The next of some words parted by '|': its bytes; *text moves behind it, to NULL after the last.
 */
size_t form_word(const char **text, const char **word);

#endif
