/* A packing as a layout, and what is left of it once every rule counts.  Private to this folder. */
#ifndef RUDDLE_PLACES_H
#define RUDDLE_PLACES_H

#include "check.h"
#include "layout.h"
#include "packing.h"
#include "stands.h"

/* A layout of all brackets on their places, each in its own list of stands and at its own level.
 * False without memory. */
bool places_read(const struct roof *roof, struct stands *const *stands, const double *levels,
                 const struct placed *placed, struct layout **layout);

/* Lowers the levels of a layout to what the check finds; true where nothing was to be lowered. */
bool places_lower(const struct roof *roof, const struct verdict *verdict, struct layout *layout);

/* Inches, by axis, lower and higher of a pair, as of packing_task. */
typedef double places_room[ROOF_BRACKETS_MOST][ROOF_BRACKETS_MOST];

/* Lowers the levels of a layout to what is left of them once the rules between lags and struts of
 * different brackets count too, which a packing does not look at; mostly the gap between the
 * brackets sees to them.  *holds: nothing was lost.  Marks that break a hard rule are none: *layout
 * is then NULL.  Pairs that lose by it are told to keep further apart (wider, by axis; may be
 * NULL).  FAULT: no memory. */
enum outcome places_hold(const struct roof *roof, struct layout **layout, places_room *wider,
                         bool *holds);

#endif
