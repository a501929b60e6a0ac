/* Other people's text inside HTML and SVG: names, notes, whatever a file says. */
#ifndef RUDDLE_MARKUP_H
#define RUDDLE_MARKUP_H

#include <stdio.h>

/* Writes text so that none of it is markup, between tags and inside quoted attributes alike. */
void markup_put(FILE *stream, const char *text);

#endif
