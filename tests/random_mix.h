/* Roofs of every sort, one a seed: what tests/referee puts before other solvers. */
#ifndef RUDDLE_RANDOM_MIX_H
#define RUDDLE_RANDOM_MIX_H

#include "random_roof.h"

/* The roof of a seed and the form that it is written in: any of what random_roof.h knows, each by
 * chance of its own; mostly small and with one bracket, as outside solvers take seconds over
 * several. */
void random_mix_make(uint64_t seed, struct random_roof *roof, enum random_form *form);

#endif
