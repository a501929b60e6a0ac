/* From the columns of a solved program back to marks on a roof.  Private to this folder. */
#ifndef RUDDLE_READ_BACK_H
#define RUDDLE_READ_BACK_H

#include "candidates.h"
#include "layout.h"
#include "model.h"

#include <stdbool.h>

/* Puts a solution's marks, plies, legs, courses, holes and moved into the layout, in place of what
 * it held before.  False without memory. */
bool read_back(const struct roof *roof, struct layout *layout, const struct candidates *candidates,
               const struct model *model, const double *values);

/* Room for that many marks, in place of what the layout held before.  False without memory. */
bool room_for_answer(const struct roof *roof, struct layout *layout, size_t holes);

/* A copy of its own of a layout of that roof that has marks, without its reasons; NULL without
 * memory. */
struct layout *layout_copy(const struct roof *roof, const struct layout *layout);

/* Frees the marks of a layout and all that goes with them. */
void drop_answer(struct layout *layout);

#endif
