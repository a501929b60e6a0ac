/* The model: the rules of a roof written as an integer program, for one stage of the search.
 * docs/program.md gives the mathematics.
 *
 * Every rule reads "margin >= level".  What its level is makes the stage:
 *   WORST      one level for all, maximised: the forgiveness of the worst bracket;
 *   NEXT       one level a bracket, the next worst maximised while the worse ones keep theirs;
 *   SHORTFALL  nearest misses only: one level a rule and place, the sum of what they lack
 *              minimised;
 *   COST       forgiveness (and shortfall) kept, moved + hole_worth x holes minimised.
 */
#ifndef RUDDLE_MODEL_H
#define RUDDLE_MODEL_H

#include "candidates.h"
#include "problem.h"
#include "program.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* Stretches of where a frame stands and is met, inches: its X, and how far up its legs each row
 * meets it.  Both ends belong to them; -ROOF_ENDLESS, ROOF_ENDLESS: nothing limits that side. */
struct stance {
    double x[2];
    double v[ROW_COUNT][2];
};

/* A choice of a row's plies that is ruled out while its bracket stands inside `where`: of a strut
 * just this set of them, of feet these in order of legs. */
struct ruled_out {
    size_t bracket;
    enum row row;
    const size_t *plies; /* rising in x */
    size_t count;
    struct stance where;
};

/* What strength forbids; all 0: nothing. */
struct limits {
    const size_t (*least_lags)[ROW_COUNT]; /* of a strut, one pair a bracket; NULL: no limit */
    const struct ruled_out *list;
    size_t count;
};

enum stage_kind { STAGE_WORST, STAGE_NEXT, STAGE_SHORTFALL, STAGE_COST };

struct stage {
    enum stage_kind kind;
    double lo, hi;         /* the window that forgiveness is sought in, inches */
    const double *ladder;  /* forgiveness proved so far, worst first */
    size_t ladder_count;   /* NEXT: how many are known; SHORTFALL and COST: one a bracket */
    const double *ceiling; /* one a bracket: its forgiveness alone on the roof, which no company
                              betters; NULL where not known */
    const double *own;     /* SHORTFALL and COST: one a bracket, which keeps just this forgiveness;
                              the ladder is then these, sorted.  NULL: whichever bracket may have
                              whichever rung */
    const struct limits *limits; /* NULL: none */
    double kept; /* NEXT, SHORTFALL, COST: what was proved is kept to within this much, so that a
                    solver's rounding does not make its own answer infeasible */
    double shortfall; /* COST after a nearest miss: the sum it may not exceed */
};

/* Columns of one row of a bracket; MODEL_NONE where it has none of the kind. */
#define MODEL_NONE ((size_t)-3)
struct model_row {
    size_t y;
    size_t *courses;  /* one binary a candidate course */
    size_t *x;        /* feet: one a leg, where its lag is */
    size_t **seats;   /* feet: for each leg, one binary a candidate ply */
    size_t *turned;   /* feet: one a leg, 1 where the lag is on the far side */
    size_t leg_count; /* how many x, seats and turned hold */
    size_t *used;     /* strut: one column a candidate ply, 1 where it takes a lag */
    size_t from, to;  /* strut: its ends, never short of the real ones */
};

struct model_bracket {
    size_t x, y;
    size_t forgiveness; /* the column that its own rules are held to */
    struct model_row rows[ROW_COUNT];
};

struct model_pipe {
    size_t x, y;
    size_t *courses; /* one binary a candidate course */
};

struct model {
    struct program program;
    struct model_pipe *pipes;
    size_t pipe_count;
    struct model_bracket *brackets;
    size_t bracket_count;
    size_t goal; /* WORST, NEXT: the column that is maximised */
};

/* Builds the model of a stage.  Keeps no reference to roof or candidates.
 * FAULT: no memory.  *model is untouched unless DONE; owned by the caller. */
enum outcome model_build(const struct roof *roof, const struct candidates *candidates,
                         const struct stage *stage, struct model **model);

void model_free(struct model *model); /* accepts NULL */

#endif
