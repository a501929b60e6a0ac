/* The four ways to choose hardware, strut or feet on top and below, side by side. */
#ifndef RUDDLE_COMPARE_H
#define RUDDLE_COMPARE_H

#include "carry.h"
#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { COMPARE_CHOICES = 4 };

/* One choice for every frame of the roof, and its layout. */
struct compared {
    enum hardware hardware[ROW_COUNT];
    struct bracket *brackets; /* owned: the roof's, with this hardware */
    struct roof roof;         /* the whole roof with them; shares the rest */
    struct carried carried;   /* owned */
    bool works;               /* every rule holds as printed, and it carries if loads are given */
    size_t struts, clamps, feet, lags, pipe_holes; /* to buy; a flashing goes with every hole */
    double strut_in;                               /* all struts end to end */
    double chance;                                 /* see compare_chance; NAN without marks */
    double cost; /* of feet, struts as cut, clamps, lags and their flashings, in the currency of the
                    kits' prices; NAN without marks, or where some frame's kit has no prices */
};

struct comparison {
    struct compared choices[COMPARE_CHOICES]; /* strut/feet, strut/strut, feet/feet, feet/strut:
                                                 top, then bottom */
    double limit_s;                           /* what each of them had */
};

/* Lays the roof out in all four ways, each within a fourth of the time.  FAULT: as carry_find.
 * *comparison is untouched unless DONE; freed with compare_free. */
enum outcome compare_find(const struct roof *roof, double limit_s, enum side from,
                          struct comparison *comparison, struct problems *problems);

void compare_free(struct comparison *comparison);

/* The chance that every lag hits on the first try, if the survey errs as it says: each rafter's
 * measured place is off by a normal error of its own with a standard deviation of half the rafter's
 * tolerance, the same for all its plies and at every height; a lag hits where it lies in its ply
 * and keeps its edge distance.  Chalk and drill are taken to be exact.  Lags of one rafter share
 * its error, rafters are independent, so the chance is the product over rafters of that of an
 * interval: exact, no simulation. */
double compare_chance(const struct roof *roof, const struct marks *marks,
                      const struct verdict *verdict);

/* The table for people, 80 columns, and the result for machines ({"ruddle": "compare/1"}).  FAULT:
 * no memory. */
enum outcome compare_write(const struct roof *roof, const struct comparison *comparison,
                           FILE *stream);
enum outcome compare_write_json(const struct roof *roof, const struct comparison *comparison,
                                FILE *stream);

#endif
