/* What tests of the rules ask of a verdict. */
#ifndef RUDDLE_HELD_H
#define RUDDLE_HELD_H

#include "check.h"
#include "plain_roof.h"

#define TICK (1.0 / 16) /* inches */

/* The plain roof with marks that obey every rule on it, each test its own.  Marks of one bracket:
 * 0, 1, 2 are the strut's lags at 64, 88, 112; 3, 4 the feet at 64, 112. */
struct trial {
    struct roof *roof;
    struct marks *marks;
};
int trial_set_up(void **state);
int trial_set_up_pair(void **state);  /* two brackets: those of B are 5 ... 9 */
int trial_set_up_pipes(void **state); /* one bracket with hot and cold: marks 5 and 6 */
int trial_tear_down(void **state);

/* Builds the roof of a trial anew with other knobs, and the plain marks on it. */
void trial_rebuild(struct trial *trial, const struct plain_knobs *knobs);

/* The edge of that kind, the first of several. */
struct edge *trial_edge(struct trial *trial, enum edge_kind kind);

/* Moves a bracket and all its marks. */
void trial_shift(struct trial *trial, size_t bracket, double x, double y);

/* Moves every mark of one row up. */
void trial_raise_row(struct trial *trial, size_t bracket, enum row row, double y);

/* Takes one mark away. */
void trial_drop(struct trial *trial, size_t mark);

/* The verdict on these marks; ends the test without memory.  Freed with verdict_free. */
struct verdict *held(const struct roof *roof, const struct marks *marks);

/* A finding to look for: about one mark, row or bracket alone.  Set more of it for pairs. */
struct finding about(enum rule rule, int bracket, int row, int mark);

/* The finding that is about the same thing; NULL where there is none. */
const struct finding *held_find(const struct verdict *verdict, struct finding wanted);

/* Its margin; fails the test where there is no such finding. */
double held_margin(const struct verdict *verdict, struct finding wanted);

/* Judges the marks, and fails unless that finding has that margin, to 1e-9 in, and holds as it
 * should. */
void expect_margin(const struct roof *roof, const struct marks *marks, struct finding about_what,
                   double wanted);

/* Fails unless the two lie within 1e-9; a NaN fails. */
void expect_inches(double found, double wanted);

/* Fails unless the rules broken are those named, separated by single blanks and in the order of
 * enum rule; "" where every rule holds. */
void expect_broken(const struct roof *roof, const struct marks *marks, const char *names);

#endif
