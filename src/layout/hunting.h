/* A search of one company while it runs; private to this folder. */
#ifndef RUDDLE_HUNTING_H
#define RUDDLE_HUNTING_H

#include "by_stands.h"
#include "hunt.h"
#include "solve.h"

struct hunt {
    const struct roof *roof;
    const struct terms *terms;
    struct layout *layout; /* being made */
    double *ladder;        /* forgiveness proved so far, worst first */
    size_t ladder_count;
    double deadline_s;                 /* of the stage that runs */
    bool cut_short;                    /* the time ran out somewhere */
    const struct stands_answer *known; /* borrowed */
};

/* One stage: build, solve, read back.  *end says how it went; *solution is the caller's to free.
 * Where candidates are hopeless the stage is infeasible without a search. */
enum outcome hunting_stage(struct hunt *hunt, const struct stage *stage, double least,
                           enum solve_end *end, struct solution *solution);

/* A stage that keeps what earlier ones proved.  The answer of the last one satisfies it, so where
 * the solver finds nothing it is rounding that forbids it: the stage is run again with more room.
 */
enum outcome hunting_keep(struct hunt *hunt, struct stage *stage, enum solve_end *end,
                          struct solution *solution);

/* Holes that no choice can save are not in the program's cost. */
size_t hunting_sure_holes(const struct roof *roof);

/* By rungs that are known beforehand, see rungs.h, or by what each bracket has alone.  True in
 * *done where that gave a layout. */
enum outcome hunting_rungs(struct hunt *hunt, bool *done);

int hunting_by_value(const void *a, const void *b); /* of double, for qsort */

#endif
