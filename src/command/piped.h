/* A roof file that comes in on standard input. */
#ifndef RUDDLE_PIPED_H
#define RUDDLE_PIPED_H

#include "problem.h"

#include <stdbool.h>
#include <stddef.h>

/* What a command line has in place of a roof file's name then; what messages call it too. */
#define PIPED_NAME "-"

struct piped {
    char *bytes; /* owned; ends in a NUL that size does not count.  NULL: nothing was read */
    size_t size;
};

/* Reads standard input to its end.  BAD_INPUT: problems says why it is no file of a sane size that
 * holds text.  FAULT: no memory.  *piped is untouched unless DONE; the caller frees bytes. */
enum outcome piped_read(struct piped *piped, struct problems *problems);

/* The text, behind a byte-order mark where there is one; borrowed. */
const char *piped_text(const struct piped *piped);

#endif
