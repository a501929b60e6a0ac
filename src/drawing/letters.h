/* Letters: the two faces that everything drawn is lettered in, opened straight from their files, so
 * that no other font can slip in and no set-up of the machine changes a byte. */
#ifndef RUDDLE_DRAWING_LETTERS_H
#define RUDDLE_DRAWING_LETTERS_H

#include "problem.h"

#include <cairo.h>
#include <stdbool.h>
#include <stddef.h>

/* What a text looks like. */
struct lettering {
    double size; /* points, of the em */
    bool bold;
};

/* Shares of the size that letters rise above their base line and hang below it. */
#define LETTERS_RISE 0.76
#define LETTERS_FALL 0.24

struct letters; /* opaque; the open faces */

/* Opens both faces.  FAULT: no memory or no font file; problems says which.  *letters is untouched
 * unless DONE; owned by the caller (letters_free). */
enum outcome letters_open(struct letters **letters, struct problems *problems);

void letters_free(struct letters *letters); /* accepts NULL */

/* Points from the origin of the text, as letters_clean has it, to where a next letter would stand.
 * 0 without memory: whoever measures asks letters_measured at the end. */
double letters_width(const struct letters *letters, const struct lettering *how, const char *text);

/* False where some width came out 0 for want of memory. */
bool letters_measured(const struct letters *letters);

/* Sets the face and size on cr, for cairo_show_text. */
void letters_use(const struct letters *letters, const struct lettering *how, cairo_t *cr);

/* Writes text into out (cut to fit at a whole character) with whatever is no character of UTF-8, or
 * no printable one, replaced by '?'.  size > 0. */
void letters_clean(const char *text, char *out, size_t size);

#endif
