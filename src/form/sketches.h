/* The sketches of the printed form. */
#ifndef RUDDLE_FORM_SKETCHES_H
#define RUDDLE_FORM_SKETCHES_H

#include "../drawing/picture.h"
#include "parts.h"

/* Points; what a sketch is drawn in. */
#define SKETCH_WIDTH 170.0
#define SKETCH_HEIGHT 102.0

/* Draws a sketch with its upper left corner there. */
void sketch_draw(struct picture *picture, enum sketch sketch, struct point corner);

#endif
