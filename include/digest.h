/* A short mark of some bytes, to see whether they have changed: FNV-1a, 64 bits, as published by
 * Fowler, Noll and Vo.  It guards against accidents, not against malice.
 */
#ifndef RUDDLE_DIGEST_H
#define RUDDLE_DIGEST_H

#include <stddef.h>
#include <stdint.h>
#include <string.h>

#define DIGEST_START UINT64_C(0xcbf29ce484222325)

/* The mark of what was marked before and these bytes behind it. */
uint64_t digest_bytes(uint64_t before, const void *bytes, size_t count);

/* The same of a text with its NUL, so that what follows cannot be taken for its end. */
uint64_t digest_text(uint64_t before, const char *text);

/* The same of a number, whatever the machine's order of bytes. */
uint64_t digest_number(uint64_t before, uint64_t number);

/* The same of a figure in one step, for what is only told apart while the program runs. */
static inline uint64_t digest_figure(uint64_t before, double figure) {
    uint64_t bits;
    const double plain = figure + 0.0; /* no zero below zero */
    memcpy(&bits, &plain, sizeof bits);
    const uint64_t mixed = (before ^ bits) * UINT64_C(0x9e3779b97f4a7c15);
    return mixed ^ mixed >> 29;
}

#endif
