/* The solver: the one place that knows GLPK.  Private to this folder. */
#ifndef RUDDLE_SOLVE_H
#define RUDDLE_SOLVE_H

#include "program.h"

#include <stdint.h>

enum solve_end {
    SOLVE_OPTIMAL,    /* values are the best there are */
    SOLVE_FEASIBLE,   /* the time ran out: values are good but perhaps not the best */
    SOLVE_INFEASIBLE, /* proved: no values */
    SOLVE_UNDECIDED,  /* the time ran out before any values were found */
    SOLVE_FAULT,      /* no memory, or the solver gave up on numbers it could not handle */
};

struct solution {
    double *values; /* one a column, binaries exactly 0 or 1, the rest recomputed for exactly
                       those binaries; owned; NULL without values */
    double cost;    /* of the values */
    double bound;   /* no values cost less than this; -INFINITY if nothing is known */
};

/* Seconds: where steps is NULL, of a clock that never goes back; otherwise what those steps stand
 * for, see layout.h. */
double solve_now(const uint64_t *steps);

/* Minimises the program's cost within so many seconds of solve_now(steps); the steps taken are
 * added to *steps.  *solution is always set; free it with solution_free. */
enum solve_end solve_program(const struct program *program, double limit_s, uint64_t *steps,
                             struct solution *solution);

void solution_free(struct solution *solution);

/* Writes the program for other solvers, in the LP format or else as free MPS.  False if it could
 * not be written; there may be a part of it then. */
bool solve_write_to(const struct program *program, const char *path, bool lp);

/* model_file.c: the same, the format as the path ends (.lp or .mps); beside the path first, then
 * renamed, so that a path has all of it or is as it was. */
bool solve_write(const struct program *program, const char *path);

/* Gives back what the solver keeps between calls in this thread. */
void solve_close(void);

#endif
