/* What a sheet says of strength. */
#ifndef RUDDLE_SHEET_CARRYING_H
#define RUDDLE_SHEET_CARRYING_H

#include "marks.h"
#include "roof.h"
#include "strength.h"

#include <stddef.h>

enum { CARRYING_TEXT = 320 };

/* A lag, strut or rafter by name: `lag hole A-top-1`, `frame A, top strut`, `rafter 5`. */
void carrying_name(const struct roof *roof, const struct marks *marks,
                   const struct strength_item *item, char text[CARRYING_TEXT]);

/* What it is asked and what it holds, in the file's measure, and under what:
 * "lag hole A-top-1: asked 176 lb, holds 99 lb, 1.77 times what it may carry, under D + S, filled".
 */
void carrying_tell(const struct roof *roof, const struct marks *marks,
                   const struct strength_item *item, char text[CARRYING_TEXT]);

/* "lb" or "N" for lags, "psi" or "MPa" for bending, and a figure in it. */
const char *carrying_unit(const struct roof *roof, enum strength_kind kind);
double carrying_figure(const struct roof *roof, enum strength_kind kind, double figure);

#endif
