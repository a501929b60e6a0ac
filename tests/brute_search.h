/* The search through the choices of one system; shared by the files of brute_force only. */
#ifndef RUDDLE_BRUTE_SEARCH_H
#define RUDDLE_BRUTE_SEARCH_H

#include "brute_parts.h"

/* What is sought. */
enum brute_aim {
    BRUTE_ANY,   /* whether anything at all holds at the levels */
    BRUTE_LEVEL, /* the greatest level of the brackets in `rising`; stops at the first one found
                    that is better than `best` */
    BRUTE_SHORT, /* the least sum of shortfalls */
    BRUTE_COST   /* the least cost */
};

struct brute_search {
    const struct roof *roof;
    const struct brute_system *system;
    enum brute_aim aim;
    double levels[BRUTE_BRACKETS_MOST]; /* forgiveness that each bracket must have */
    unsigned rising;                    /* LEVEL: one bit for each bracket whose level is sought */
    bool miss;                          /* shortfalls are limited or sought */
    double shortfall;                   /* COST after a miss: their sum may not exceed this */
    double best;                        /* what was found so far, -INFINITY or INFINITY at first */
    bool found;
    bool failed; /* memory ran out */
};

/* Searches the system; updates best and found. */
void brute_search_run(struct brute_search *search);

/* The level of a bound: the greatest of its owners'. */
double brute_level(const struct brute_search *search, const struct brute_bound *bound);

/* closed[from][to]: the most that is known of place(to) - place(from). */
typedef double brute_closed[BRUTE_NODES_MOST][BRUTE_NODES_MOST];

/* The least and the most that the left side of a bound can be. */
double brute_least(const struct brute_bound *bound, const brute_closed closed);
double brute_most(const struct brute_bound *bound, const brute_closed closed);

/* The left side of a bound with everything where `at` says. */
double brute_side(const struct brute_bound *bound, const double at[BRUTE_NODES_MOST]);

/* The best figure for the choices made so far, and the places of all nodes that give it.  `active`
 * are the indices of the bounds that hold.  Choices still open are as good as forgotten, so this
 * is the figure itself when none is, and a bound on it before. */
double brute_leaf(const struct brute_search *search, const unsigned short *active,
                  size_t active_count, const brute_closed closed, double at[BRUTE_NODES_MOST]);

/* Every way to lag and clamp the strut of a bracket; *struts is owned by the caller (free). */
bool brute_struts_list(const struct roof *roof, size_t bracket, struct brute_strut **struts,
                       size_t *count);

#endif
