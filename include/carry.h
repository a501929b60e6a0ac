/* A layout that carries: found, rounded to the tape, held against every rule and judged for
 * strength, and sought again where a lag or strut would not carry.
 *
 * Strength ranks before everything else and is judged on the marks as printed.  A row that needs
 * more lags than it could have wherever its frame stands is told so before the search (a bound,
 * see strength_least_lags).  Beyond that, a set of plies whose lags or strut came out over 1 is
 * ruled out and the search goes on: such a set might carry elsewhere, so what is found then is not
 * proved to be the best.
 */
#ifndef RUDDLE_CARRY_H
#define RUDDLE_CARRY_H

#include "check.h"
#include "layout.h"
#include "marks.h"
#include "problem.h"
#include "roof.h"
#include "strength.h"

#include <stdbool.h>
#include <stddef.h>

/* All owned; carried_free frees what it holds. */
struct carried {
    struct layout *layout;     /* before rounding; its state says what is proved of the whole */
    struct marks *marks;       /* rounded; NULL without a layout */
    struct verdict *verdict;   /* on those; NULL without a layout */
    struct strength *strength; /* of those; NULL without loads or a layout */
    bool held;                 /* before rounding every rule held */
    bool none_carry;           /* no layout carries: proved by the bound */
    size_t searches;           /* how many layouts were looked at */
};

/* Finds it, with readings from that rake.  Without loads it is layout_find, layout_round and
 * check_marks in turn.  Where nothing carries, the layout with the least worst ratio comes back.
 * FAULT: as layout_find.  *carried is untouched unless DONE. */
enum outcome carry_find(const struct roof *roof, const struct layout_options *options,
                        enum side from, struct carried *carried, struct problems *problems);

void carried_free(struct carried *carried); /* leaves all NULL */

#endif
