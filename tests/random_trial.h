/* What tests on random roofs share: a folder of their own, roofs written and read back, layouts
 * found, figures held against each other. */
#ifndef RUDDLE_RANDOM_TRIAL_H
#define RUDDLE_RANDOM_TRIAL_H

#include "layout.h"
#include "random_roof.h"

/* A group set-up and tear-down for cmocka: *state is the path of an empty folder. */
int random_folder_make(void **state);
int random_folder_remove(void **state);

/* How many roofs a test tries: RUDDLE_ROOFS of the environment where that is fewer. */
size_t random_roof_count(size_t wanted);

/* Writes a roof in one of its forms and reads it as the program does; `hardware` (top, bottom) may
 * be NULL.  Fails the test where the file is refused.  Freed with roof_free. */
struct roof *random_roof_read(const struct random_roof *made, enum random_form form,
                              const char *folder, const enum hardware *hardware);

/* layout_find without a model, within so many seconds; fails the test where there is a fault.
 * Freed with layout_free. */
struct layout *random_layout(const struct roof *roof, double limit_s, uint64_t seed);

/* The same, and fails the test where a limit ended the search. */
struct layout *random_proved_layout(const struct roof *roof, uint64_t seed);

/* Fails the test unless the two are within the tolerance; a NaN fails. */
void expect_of_seed(const char *what, uint64_t seed, double found, double wanted, double tolerance);

#endif
