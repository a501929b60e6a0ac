/* A mixed-integer linear program, without a solver: named columns, rows that say "at least" or
 * "equal", a cost to minimise.  It can be read by a person and handed to any solver.
 *
 * Building never returns an error in the middle: a lack of memory sets `failed`, further calls do
 * nothing harmful, and whoever builds looks once at the end.
 */
#ifndef RUDDLE_PROGRAM_H
#define RUDDLE_PROGRAM_H

#include <stdbool.h>
#include <stddef.h>

enum { PROGRAM_NAME = 32 };

struct column {
    char name[PROGRAM_NAME]; /* letters, digits and _ only: every solver's file format takes it */
    double lo, hi;           /* finite bounds */
    bool binary;
    double cost; /* of one unit, to be minimised */
};

struct term {
    size_t column;
    double factor;
};

/* first_term ... first_term + term_count - 1 of program.terms, summed, are at least (or equal to)
 * `least`. */
struct program_row {
    size_t first_term, term_count;
    double least;
    bool equal;
};

/* A short sum of columns plus a constant. */
enum { LINEAR_TERMS = 8 };
struct linear {
    double constant;
    size_t count;
    struct term terms[LINEAR_TERMS];
};

/* A way out that was made before: the same sum gets the same binary again.  Of many brackets there
 * are hundreds of thousands. */
struct made_choice {
    struct linear sum;
    size_t binary;
};

struct program {
    struct column *columns;
    size_t column_count, column_room;
    struct program_row *rows;
    size_t row_count, row_room;
    struct term *terms;
    size_t term_count, term_room;
    void *choices; /* a tree of made_choice, as of tsearch */
    bool failed;   /* memory ran out: throw the program away */
};

void program_free(struct program *program); /* frees what it holds and leaves {0} */

/* Adds a column; the name is made as by printf and cut to fit.  Returns its index. */
size_t program_column(struct program *program, double lo, double hi, bool binary,
                      const char *format, ...) __attribute__((format(printf, 5, 6)));

/* Begins a row; program_term then adds to the row begun last. */
void program_row(struct program *program, double least, bool equal);
void program_term(struct program *program, size_t column, double factor);

/* constant + sum of `pairs` (column, factor) terms. */
struct linear linear_of(double constant);
struct linear linear_plus(struct linear sum, size_t column, double factor);

/* The least and the most a sum can be within the bounds of its columns. */
double program_least(const struct program *program, const struct linear *sum);
double program_most(const struct program *program, const struct linear *sum);

/* Requires sum >= 0 (left out where the bounds say so already). */
void program_require(struct program *program, struct linear sum);

/* Requires sum >= 0 wherever all `count` binaries are 1.  The constant that switches the row off is
 * the least one that the bounds allow. */
void program_require_when(struct program *program, struct linear sum, const size_t *binaries,
                          size_t count);

/* A way out of a choice: a binary that may only be 1 where its sum is at least 0; or one of the two
 * words below where the bounds decide it. */
enum { CHOICE_MOST = 8 };
#define CHOICE_ALWAYS ((size_t)-1)
#define CHOICE_NEVER ((size_t)-2)
size_t program_choice(struct program *program, struct linear sum, const char *name);

/* Requires at least one of the ways out wherever all `when_count` binaries are 1. */
void program_one_of(struct program *program, const size_t *ways, size_t way_count,
                    const size_t *when, size_t when_count);

/* Whether every figure is finite: a solver may call a NaN "infeasible". */
bool program_finite(const struct program *program);
/* Whether a column can lie nowhere, its bounds being the wrong way round. */
bool program_bounds_cross(const struct program *program);
/* How many columns the cost is a sum of. */
size_t program_cost_count(const struct program *program);
/* Numbers, from 1, the columns that have a coefficient or a cost; returns how many.  `numbers` has
 * one entry a column, all 0 before, and stays 0 for the others. */
int program_number_columns(const struct program *program, int *numbers);

#endif
