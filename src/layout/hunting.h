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
 * Where that does not help either, the marks that there are stay, and no more is proved of them:
 * UNDECIDED. */
enum outcome hunting_keep(struct hunt *hunt, struct stage *stage, enum solve_end *end,
                          struct solution *solution);

/* The shortfall or the cost, with what was proved before kept; what came out of it is noted in the
 * layout.  own: one a bracket, which keeps just that level; NULL: whichever bracket may have
 * whichever rung of the ladder.  *end says how it went: INFEASIBLE only where there are no marks.
 */
enum outcome hunting_kept(struct hunt *hunt, enum stage_kind kind, const double *own,
                          enum solve_end *end);

/* By rungs that are known beforehand, see rungs.h, or by what each bracket has alone.  True in
 * *done where that gave a layout. */
enum outcome hunting_rungs(struct hunt *hunt, bool *done);

#endif
