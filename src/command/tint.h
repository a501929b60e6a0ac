/* Colour on a terminal, for text that says the same without it. */
#ifndef RUDDLE_TINT_H
#define RUDDLE_TINT_H

#include <stdbool.h>
#include <stdio.h>

/* True where standard output is a terminal that shows colours and nobody has said no: NO_COLOR is
 * unset or empty, TERM is set and not `dumb`. */
bool tint_wanted(void);

/* Writes a sheet, or lines of a check, with warnings, results, headings and readings set off.  Not
 * a character of the text itself is changed. */
void tint_put(const char *text, FILE *stream);

#endif
