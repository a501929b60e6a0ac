/* The known word that a mistyped one most likely meant: a key of a file, a command, an option. */
#ifndef RUDDLE_NEAREST_H
#define RUDDLE_NEAREST_H

#include <stddef.h>

/* The best word so far; starts as {0}. */
struct nearest {
    const char *word; /* borrowed from whoever offered it; NULL: none is near */
    size_t slips;
};

#define NEAREST_NEVER ((size_t)-1)

/* Offers a known word for a mistyped one: it is kept if it is near, and nearer than the one kept.
 * Slips of the fingers are a letter left out, added, changed, or two neighbours swapped; upper
 * case, and - or a space for _, are no slips.  Near are one slip in two letters, two in five, three
 * in nine; and a word cut short or drawn out, if at least `letters` of them agree (NEAREST_NEVER:
 * only slips count). */
void nearest_offer(struct nearest *nearest, const char *mistyped, const char *known,
                   size_t letters);

#endif
