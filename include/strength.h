/* Strength: whether the lags, struts and rafters under the frames carry what hangs on them.
 *
 * It screens, it never certifies: wherever one of its figures is shown, that is said beside it.
 * Formulas and sources are in lag.h, beam.h, loads.h, wind.h, lumber.h and docs/strength.md.
 */
#ifndef RUDDLE_STRENGTH_H
#define RUDDLE_STRENGTH_H

#include "lag.h"
#include "loads.h"
#include "lumber.h"
#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

struct marks;
struct verdict;

/* A kit's lag in this roof's rafters, C_D = 1. */
struct strength_lag {
    struct lag_screw screw;
    struct lag_seat seat;
    struct lag_yield yield;
    double gravity;
    double withdrawal_lb; /* W p_t */
    double lateral_lb;    /* Z, along the grain */
};

/* LAG_GOOD, or why the kit's lag cannot be reckoned with (a roof file that asks for strength is
 * then refused); *lag is written only if LAG_GOOD. */
enum lag_fault strength_lag_find(const struct kit *kit, const struct kit_loads *kit_loads,
                                 const struct loads *loads, struct strength_lag *lag);

/* What a lag holds under one combination: C_D counted, a test report's figures taken as they are.
 */
struct lag_limits {
    double withdrawal_lb, lateral_lb;
};
struct lag_limits strength_limits(const struct strength_lag *lag, const struct kit_loads *kit_loads,
                                  const struct combination_factors *factors);

/* The least that a lag's ratio can come to at that shear, whatever it is pulled by: with pull T the
 * ratio is (V^2 / Z' + T^2 / W'p) / sqrt(V^2 + T^2), least at T = 0 while W'p <= 2 Z', and beyond
 * that at T^2 = V^2 (W'p / Z' - 2), where it is 2 V sqrt(W'p / Z' - 1) / W'p. */
double strength_least_ratio(double shear_lb, double withdrawal_lb, double lateral_lb);

/* A bound on every layout of a row: with fewer lags some lag is over 1 wherever the frame stands.
 * The legs' shear does not depend on that, and the lags of a strut share it, so that one of them
 * takes the average at least.  0: no bound (feet that may carry, no loads); SIZE_MAX: no layout
 * carries, as each foot takes its leg's shear. */
size_t strength_least_lags(const struct roof *roof, size_t bracket, enum row row);

enum strength_kind { STRENGTH_LAG, STRENGTH_STRUT, STRENGTH_RAFTER, STRENGTH_KIND_COUNT };
const char *strength_kind_word(enum strength_kind kind);

enum { STRENGTH_NONE = -1 };

/* One part under its worst combination. */
struct strength_item {
    enum strength_kind kind;
    int bracket; /* rafters: the first frame that bears on it or stands over it */
    int row;     /* enum row; rafters: STRENGTH_NONE */
    int mark;    /* lags: index into marks.list; otherwise STRENGTH_NONE */
    int rafter;  /* index into roof.rafters; struts: STRENGTH_NONE */
    enum combination combination;
    double demand, capacity;  /* lags: lb, of pull and shear together; others: bending, psi */
    double ratio;             /* demand / capacity; over 1 it does not carry */
    double before;            /* rafters: the worst ratio without any frame; otherwise 0 */
    double pull_lb, shear_lb; /* lags: what the demand is made of */
    const char *clause;       /* static text */
};

struct strength {
    struct strength_item *items; /* lags in the order of marks, then struts, then rafters */
    size_t count;
    double worst;        /* ratio over lags and struts; 0 without any */
    double worst_rafter; /* likewise over rafters */
    bool carries;        /* no lag or strut over 1 */
    bool struts_judged;  /* false: a strut has no section or stress to judge by */
    bool rafters_judged; /* false: the file says nothing of its rafters, or they are trusses, whose
                            chords only their maker can judge */
    bool complete;       /* false: a row that breaks hard rules (no lag, too few) was left out */
};

/* Judges marks under every combination.  verdict is check_marks' on the same marks: the plies, legs
 * and clamps that it inferred are used.  BAD_INPUT: a kit's lag cannot be reckoned with
 * (strength_lag_find says why) or has no weight.  FAULT: no memory.  *strength is untouched unless
 * DONE; owned by the caller. */
enum outcome strength_judge(const struct roof *roof, const struct marks *marks,
                            const struct verdict *verdict, const struct loads *loads,
                            struct strength **strength);

/* Holds marks against every rule and, where the roof has loads, judges them: *strength stays as it
 * is without.  Outcomes and owners as of check_marks and strength_judge; both are the caller's to
 * free whatever the outcome, so they start as NULL. */
enum outcome strength_hold(const struct roof *roof, const struct marks *marks,
                           struct verdict **verdict, struct strength **strength);

void strength_free(struct strength *strength); /* accepts NULL */

#endif
