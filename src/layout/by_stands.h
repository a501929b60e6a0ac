/* The search by stands: a company whose brackets' stands can be listed needs no program. Private to
 * this folder.
 */
#ifndef RUDDLE_BY_STANDS_H
#define RUDDLE_BY_STANDS_H

#include "hunt.h"
#include "rungs.h"
#include "stands.h"

#include <stdbool.h>

/* What the stands of a company say. */
struct stands_answer {
    struct layout *layout; /* owned: a layout; NULL: not found this way */
    bool last_word; /* the layout is the best, or the best found in time; otherwise it has the
                       best forgiveness there is, but not the best shortfall and cost */
    bool held;      /* several: no rule between them took anything from the layout's levels */
    bool crossed;   /* several: the check did not bear out a packing of theirs, where what struts
                       reach   may not have been looked at */
    bool has_worst; /* one bracket, without a layout: the best forgiveness is known */
    double worst;
    double most;        /* several: the worst of them has no more */
    struct rungs rungs; /* several: who has how much, if nothing but the gaps between brackets is in
                           the way; count 0: not known */
    struct stands *stands[ROOF_BRACKETS_MOST]; /* owned: of each bracket alone, at the depth that
                                                  leaves it any; NULL: not listed */
};
void stands_answer_free(struct stands_answer *answer); /* but for the layout */

/* Where what it says of stands and rungs is not so of all there are: only its layout, with no more
 * proved of it than what each bracket has alone. */
void stands_answer_strip(const struct roof *roof, const struct terms *terms,
                         struct stands_answer *answer);

/* Answers what can be answered by stands alone, into an empty answer; the rest is for the program.
 * FAULT: no memory. */
enum outcome by_stands(const struct roof *roof, const struct terms *terms,
                       struct stands_answer *answer);

#endif
