/* The known word that a mistyped one most likely meant. */
#ifndef RUDDLE_SUGGEST_H
#define RUDDLE_SUGGEST_H

#include <stddef.h>

/* The word of `known` nearest to `word`: one that it begins, or else one that a slip or two of the
 * fingers (a letter too many, too few, wrong, or two swapped) makes of it; the first of equals.
 * NULL where none is near. */
const char *suggest_nearest(const char *word, const char *const *known, size_t count);

#endif
