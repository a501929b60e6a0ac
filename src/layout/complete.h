/* What a layout of brackets alone still lacks: their pipes.  Private to this folder.
 */
#ifndef RUDDLE_COMPLETE_H
#define RUDDLE_COMPLETE_H

#include "hunt.h"

/* The roof without its pipes; it borrows all else. */
struct roof complete_bare(const struct roof *roof);

/* Every bracket of a layout of the bare roof with its pipes, where it stands and with the lags it
 * has, or as little else as is tried.  *layout is owned by the caller, feasible, with no bounds;
 * NULL where a pipe finds no place in time, or all together break a hard rule.  FAULT: no memory.
 */
enum outcome complete_brackets(const struct roof *roof, const struct terms *terms,
                               const struct layout *bare, struct layout **layout);

#endif
