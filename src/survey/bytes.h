/* The bytes of a file, read only if it is a plain file of a sane size, and looked through for what
 * YAML may not hold.
 */
#ifndef RUDDLE_SURVEY_BYTES_H
#define RUDDLE_SURVEY_BYTES_H

#include "problem.h"

#include <stddef.h>

struct bytes {
    char *data; /* owned; ends in a NUL that size does not count */
    size_t size;
};

enum { BYTES_REASON = 128 };

/* Reads a whole file.  BAD_INPUT: reason says in a few words why it cannot be read.  *bytes is
 * untouched unless DONE; the caller frees bytes->data. */
enum outcome bytes_read(const char *path, struct bytes *bytes, char reason[BYTES_REASON]);

/* Reports the first byte that is not text (NUL, another control character, broken UTF-8, a line
 * end that editors do not count).  BAD_INPUT if there is one. */
enum outcome bytes_check(const struct bytes *bytes, const char *file, struct problems *problems);

/* The line of the first %TAG, from 1; 0: there is none.  The parser compares each of them with all
 * the others, so a file full of them would keep it busy for minutes. */
int bytes_tag_line(const struct bytes *bytes);

#endif
