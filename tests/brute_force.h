/* The best layout of a small roof by trying every choice, to hold the optimiser against.  It
 * shares nothing with the optimiser or the check: from the roof alone, with arithmetic of its own.
 *
 * How.  Every choice is made in turn: the lags and clamps of each strut, the course of each row,
 * the ply and side of each foot, the side on which any two things pass each other.  What is left
 * once all is chosen are conditions "this place lies at least so far beyond that one", a system of
 * difference constraints, which is kept closed as it grows: no condition is left to be discovered.
 * Where a rafter or an edge leans, a condition has a height in it as well; of that the closed
 * system knows what holds at every height still open, and the figures at the end are exact. A
 * choice that contradicts the system at the forgiveness still worth having is dropped.  When
 * everything is chosen, a simplex on a small dense table (brute_table.c) finds the best figures.
 */
#ifndef RUDDLE_BRUTE_FORCE_H
#define RUDDLE_BRUTE_FORCE_H

#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

enum { BRUTE_BRACKETS_MOST = 2 };

struct brute_answer {
    bool possible; /* some layout keeps the hard rules */
    /* Forgiveness of the brackets, capped at roof.enough, worst first. */
    double forgiveness[BRUTE_BRACKETS_MOST];
    double shortfall; /* of a nearest miss; otherwise 0 */
    double cost;      /* moved + hole_worth * holes, least at that forgiveness and shortfall */
};

/* False if the roof is too large to try every choice, or memory ran out. */
bool brute_force(const struct roof *roof, struct brute_answer *answer);

#endif
