/* The columns of a line on the page: words, big readings, boxes, choices and blanks. */
#ifndef RUDDLE_POCKET_COLUMNS_H
#define RUDDLE_POCKET_COLUMNS_H

#include "../sheet/cells.h"
#include "leaf.h"

/* All columns; one behind the first that begins with a length is a reading. */
void columns_put(struct leaf *leaf, const struct cells *cells);

/* The columns from that one on, as words in a row. */
void columns_words(struct leaf *leaf, const struct cells *cells, size_t from);

/* Words of the sheet; no length in them breaks at the end of a line. */
void columns_say(struct leaf *leaf, const char *text);

/* True for a line in which something is to be ticked, ringed or written. */
bool columns_asks(const char *text);

/* A box to tick, with its number; its label is for the caller to write. */
void columns_box(struct leaf *leaf);

#endif
