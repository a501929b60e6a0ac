/* Letters of UTF-8: where one ends, and which ones may be shown as they are. */
#ifndef RUDDLE_LETTER_H
#define RUDDLE_LETTER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The bytes of the letter that `text`, which ends in a NUL, starts with; 0 where they are no
 * well-formed UTF-8.  *letter is its number; untouched then. */
size_t letter_read(const char *text, uint32_t *letter);

/* False for what nobody sees but what obeys it: control characters, marks of no width (two names
 * would look alike), and marks that turn the direction of writing (figures beside them would be
 * read in another order).  The two joiners that scripts and emoji are written with may be shown. */
bool letter_is_shown(uint32_t letter);

/* The bytes of the letter, or of what stands in its place: at least 1, but 0 at the NUL.  *shown is
 * false where it has to be replaced. */
size_t letter_step(const char *text, bool *shown);

#endif
