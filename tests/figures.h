/* Figures held against their source, and random numbers that are the same everywhere. */
#ifndef RUDDLE_FIGURES_H
#define RUDDLE_FIGURES_H

#include <stdint.h>

/* Fails the test, naming what and where from, unless found lies within `tolerance` of wanted. */
void expect_figure(const char *what, const char *source, double found, double wanted,
                   double tolerance);

/* The same, within a share of the greater of |wanted| and `scale`. */
void expect_share(const char *what, double found, double wanted, double scale, double share);

/* A random number from lo up to hi (splitmix64). */
double figures_random(uint64_t *state, double lo, double hi);
unsigned figures_random_below(uint64_t *state, unsigned count);

#endif
