/* A short mark of some bytes, to see whether they have changed: FNV-1a, 64 bits, as published by
 * Fowler, Noll and Vo.  It guards against accidents, not against malice.
 */
#ifndef RUDDLE_DIGEST_H
#define RUDDLE_DIGEST_H

#include <stddef.h>
#include <stdint.h>

#define DIGEST_START UINT64_C(0xcbf29ce484222325)

/* The mark of what was marked before and these bytes behind it. */
uint64_t digest_bytes(uint64_t before, const void *bytes, size_t count);

/* The same of a text with its NUL, so that what follows cannot be taken for its end. */
uint64_t digest_text(uint64_t before, const char *text);

/* The same of a number, whatever the machine's order of bytes. */
uint64_t digest_number(uint64_t before, uint64_t number);

#endif
