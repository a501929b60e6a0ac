/* Other people's text inside HTML, SVG and tables: names, notes, whatever a file says. */
#ifndef RUDDLE_MARKUP_H
#define RUDDLE_MARKUP_H

#include <stdio.h>

/* Writes text so that none of it is markup, between tags and inside quoted attributes alike;
 * control bytes become '?'. */
void markup_put(FILE *stream, const char *text);

/* What goes before a text in a table: a spreadsheet would run what begins like a formula, and an
 * apostrophe makes it plain text there.  "" where none is needed. */
const char *markup_guard(const char *text);

#endif
