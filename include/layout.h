/* The layout: the best places that the rules allow, proved.  A roof goes in, an integer program is
 * built and solved stage by stage (see docs/program.md), and exact figures come out, not yet
 * rounded to any tape.
 */
#ifndef RUDDLE_LAYOUT_H
#define RUDDLE_LAYOUT_H

#include "marks.h"
#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* How the search ended. */
enum layout_state {
    LAYOUT_PROVED,     /* the best there is, every stage solved to proof */
    LAYOUT_FEASIBLE,   /* a limit ended the search: a layout, with bounds */
    LAYOUT_UNDECIDED,  /* a limit ended the search before any layout was found */
    LAYOUT_IMPOSSIBLE, /* proved: no layout at any forgiveness; reasons say why */
};

struct reason {
    char text[200];
};

struct layout {
    enum layout_state state;
    struct marks *marks; /* exact, in the order of marks.h; NULL without a layout */
    size_t *plies;       /* one a mark: the target chosen, index into roof.plies; pipes: SIZE_MAX */
    size_t *legs;        /* one a mark: feet, index into kit.legs; otherwise SIZE_MAX */
    size_t (*courses)[ROW_COUNT]; /* one pair a bracket: the course chosen, from 1 */
    size_t *pipe_courses;         /* one a pipe: the course chosen, from 1 */
    double *bracket_forgiveness;  /* one a bracket, capped at roof.enough */
    double forgiveness;           /* of the worst bracket, capped at roof.enough */
    double shortfall;             /* of a nearest miss: the sum of its shortfalls; otherwise 0 */
    double moved;                 /* sum of |X - want_x| + |Y - want_y| */
    size_t holes;
    double bound_forgiveness; /* proved: no layout is better than this */
    double bound_cost;      /* proved: at that forgiveness none is cheaper; -INFINITY if unknown */
    bool model_written;     /* the model asked for was written */
    struct reason *reasons; /* why nothing can be placed, or what was struck out on the way */
    size_t reason_count;
};

/* Where a limit counts the solver's steps, this many are a second.  On one core of 2024 GLPK
 * was seen to take 3 000 (large programs) to 40 000; what counts is that it is one number. */
#define LAYOUT_STEPS_PER_S 5000.0

struct limits;
struct layout_options {
    double limit_s;         /* seconds for all stages together */
    uint64_t *steps;        /* NULL: the limit is by the clock.  Otherwise by the solver's steps
                               (iterations of simplex, and calls of a search), which are added
                               up here: the same end on any machine, however busy */
    const char *model_path; /* where the first stage is written (.mps or .lp); NULL: nowhere */
    const struct limits *limits; /* choices ruled out, see model.h; NULL: none */
    struct rack
        *rack; /* what was listed of the roof before, see stands.h; borrowed; NULL: nothing */
    const struct layout *known; /* of the same roof and nothing ruled out: what is found is no
                                   worse; borrowed; NULL: none */
    bool any;   /* the first layout that obeys every rule will do; it need not be proved */
    bool plain; /* by the integer program alone, without the shorter ways: for referees */
};

/* Finds the layout.  DONE: *layout is owned by the caller (layout_free), whatever its state.
 * FAULT: no memory, solver defect or the model could not be written; problems says which.
 * *layout is untouched unless DONE. */
enum outcome layout_find(const struct roof *roof, const struct layout_options *options,
                         struct layout **layout, struct problems *problems);

void layout_free(struct layout *layout); /* accepts NULL */

/* Rounds a layout to the tape: the readings from the rake in use become whole ticks, and X, Y, x, y
 * follow from them.  If plain rounding (half to even) breaks a rule or loses forgiveness, all
 * readings within two ticks that keep each mark's target and course are tried; the best by the
 * order of the rules (docs/rules.md) is taken, where readings with a tick to spare on the hard
 * rules win a tie of forgiveness.  *obeyed says whether a layout that held every rule still does.
 * FAULT: no memory.  *marks is untouched unless DONE; owned by the caller. */
enum outcome layout_round(const struct roof *roof, const struct layout *layout, enum side from,
                          struct marks **marks, bool *obeyed);

#endif
