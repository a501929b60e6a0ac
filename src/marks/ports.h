/* Which hole is which pipe's, where a layout file does not say so; private to this folder. */
#ifndef RUDDLE_MARKS_PORTS_H
#define RUDDLE_MARKS_PORTS_H

#include "marks.h"

#include <stdbool.h>

/* Gives each pipe hole that is not `named` (one flag a mark) a pipe of its own bracket that none
 * names, so that the sum of distances from the ports is least; holes beyond the pipes belong to the
 * nearest port.  Where there are fewer holes than pipes, the others stay without one.  Every
 * bracket with such a hole has a pipe.  FAULT: no memory. */
enum outcome ports_assign(const struct roof *roof, const bool *named, struct marks *marks);

#endif
