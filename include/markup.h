/* Other people's text inside HTML, SVG and tables, and at a terminal: names, notes, whatever a file
 * says.  Whatever may not be shown (see letter.h) becomes '?' everywhere.
 */
#ifndef RUDDLE_MARKUP_H
#define RUDDLE_MARKUP_H

#include <stdio.h>

/* Writes text so that none of it is markup, between tags and inside quoted attributes alike. */
void markup_put(FILE *stream, const char *text);

/* Writes text for a terminal. */
void markup_put_plain(FILE *stream, const char *text);

/* Writes text as a quoted field of a table (RFC 4180), guarded. */
void markup_put_quoted(FILE *stream, const char *text);

/* What goes before a text in a table: a spreadsheet would run what begins like a formula, after
 * blanks as well, and an apostrophe makes it plain text there.  "" where none is needed. */
const char *markup_guard(const char *text);

#endif
