/* Candidates struck out by what the stands of a bracket say.  Private to this folder. */
#ifndef RUDDLE_NARROW_H
#define RUDDLE_NARROW_H

#include "candidates.h"
#include "problem.h"
#include "stands.h"

/* Strikes out the plies, sides, courses and places of one bracket that no stand of a level of
 * `level` or above uses.  Stands that were not listed because another one betters them are of no
 * use to a shortfall or a cost either.  Nothing is struck out where the stands do not reach that
 * far down.  FAULT: no memory. */
enum outcome narrow_bracket(const struct stands *stands, double level,
                            struct candidate_bracket *bracket);

#endif
