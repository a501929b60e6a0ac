/* Areas and lines cut to the face, which is convex. */
#ifndef RUDDLE_DRAWING_CLIP_H
#define RUDDLE_DRAWING_CLIP_H

#include "roof.h"

#include <stddef.h>

enum { CLIP_MOST = 64 }; /* corners of a cut area: its own and one for each edge of the face */

/* Cuts a convex area (corners in order, in inches on the roof) to the face, its edges moved inside
 * by `inside` inches, or each by its setback where `setbacks`.  Returns how many corners are left
 * (0: nothing, or too many edges). */
size_t clip_area(const struct roof *roof, bool setbacks, struct point area[CLIP_MOST],
                 size_t count);

/* The same for the line between two points; false where nothing of it is left. */
bool clip_line(const struct roof *roof, struct point ends[2]);

#endif
