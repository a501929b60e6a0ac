/* The search for one company of brackets, stage by stage: worst forgiveness, the next worst,
 * shortfalls, cost.  Private to this folder.
 */
#ifndef RUDDLE_HUNT_H
#define RUDDLE_HUNT_H

#include "layout.h"
#include "model.h"
#include "problem.h"
#include "roof.h"
#include "stands.h"

#include <stdbool.h>

/* What a company is searched under; borrowed. */
struct terms {
    double deadline_s;           /* by solve_now(steps) */
    uint64_t *steps;             /* as of layout_options */
    const double *ceiling;       /* one a bracket: its forgiveness alone; NULL where not known */
    const struct limits *limits; /* NULL: none */
    const struct box *pinned;    /* X and Y of the first brackets stay in there */
    size_t pinned_count;
    const struct box *pipes; /* the flashings of all pipes lie in there, as far as they can; NULL:
                                anywhere */
    struct rack *rack;       /* as of layout_options */
    bool plain;              /* by the program alone, as of layout_options */
    enum ends closest; /* how closely they are looked at before brackets are moved apart instead */
    enum ends *arms;   /* what has to be looked at of what struts and feet reach, as far as it is
                          known or comes out; NULL: not of interest */
    double *most; /* likewise: what the worst of them can have at most; NULL: not of interest */
    bool lenient; /* as of stands_ask: what comes out bounds, and is no layout */
    double near;  /* above 0: brackets only stand so near their wishes along the eave */
    double quick; /* above 0: what is found in this part of the time is enough for now, proved or
                     not */
};

/* The same terms with a part of the time that is left. */
struct terms terms_in_part(const struct terms *terms, double share);

/* The best layout of all brackets of this roof under the terms; what the terms leave out is not
 * looked at.  As layout_find. */
enum outcome hunt_company(const struct roof *roof, const struct terms *terms,
                          struct layout **layout);

/* Writes the first stage of this roof as hunt_company would solve it for an answer of that
 * forgiveness, or the first below it that has a program at all.  *written is false where none has:
 * nothing can be placed.  FAULT: no memory, or the file could not be written, which problems says.
 */
enum outcome hunt_write_model(const struct roof *roof, const struct terms *terms,
                              double forgiveness, const char *path, bool *written,
                              struct problems *problems);

#endif
