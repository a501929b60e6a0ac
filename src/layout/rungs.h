/* Rungs: how much forgiveness each bracket of a company that stands in each other's way can have,
 * worst first.  Private to this folder. */
#ifndef RUDDLE_RUNGS_H
#define RUDDLE_RUNGS_H

#include "packing.h"
#include "problem.h"
#include "roof.h"
#include "stands.h"

#include <stdbool.h>
#include <stddef.h>

/* Where no stand holds every rule, those that miss by this much at most are listed, then by more.
 */
enum { RUNGS_DEPTHS = 5 };
extern const double rungs_depths[RUNGS_DEPTHS];

/* A company whose stands are listed; all borrowed. */
struct crowd {
    const struct roof *roof;
    struct stands **stands;      /* one a bracket; listed anew where levels go further down */
    const struct limits *limits; /* NULL: none */
    double ceilings[ROOF_BRACKETS_MOST]; /* the best level of each alone */
    bool (*stop)(void *subject);         /* as of packing_task */
    void *subject;
};

/* A bracket of the company at a level, for a packing; its spots are still to be put in. */
struct parcel rungs_parcel(const struct crowd *crowd, size_t b, double level);

/* Packs the company with those levels, the cheapest way, or any way.  As packing_find, and
 * PACKING_UNDECIDED where the stands do not reach that far down. */
enum outcome rungs_pack(const struct crowd *crowd, const double *levels, bool any,
                        enum packing_end *end, struct placed *placed, struct worth *worth,
                        struct worth *bound);

/* Who has which rung: the best there is may be had in several ways. */
enum { RUNGS_WAYS = 16 };
struct rungs {
    double levels[RUNGS_WAYS][ROOF_BRACKETS_MOST];
    size_t count; /* of ways, all equally good; 0: not found in time, or there are more of them */
    bool has_worst;
    double worst; /* the least of the levels, proved */
    bool has_packing;
    double packing[ROOF_BRACKETS_MOST]; /* levels at which something packs, as good as were met */
};

/* Puts levels into their order, worst first. */
void rungs_sort(double *levels, size_t count);

/* Finds them, to 1e-6 and below what the rules between lags of different brackets may cost, which
 * a packing does not look at.  FAULT: no memory. */
enum outcome rungs_find(const struct crowd *crowd, struct rungs *rungs);

#endif
