/* Shared by the files of brute_force only. */
#ifndef RUDDLE_BRUTE_PARTS_H
#define RUDDLE_BRUTE_PARTS_H

#include "brute_force.h"

enum {
    BRUTE_NODES_MOST = 40,
    BRUTE_BOUNDS_MOST = 16384,
    BRUTE_WAYS_MOST = 8192,
    BRUTE_CHOICES_MOST = 1024,
    BRUTE_FINDINGS_MOST = 1024,
    BRUTE_LAGS_MOST = 16,
    BRUTE_PIPES_MOST = 2,
    BRUTE_HARD = -1, /* the finding of a hard rule */
};

/* So much more for each inch of a node's place: of a height, where a rafter or an edge leans. */
enum { BRUTE_TILTS_MOST = 3 };
struct brute_tilt {
    int node;
    double factor;
};

/* place(to) - place(from) + tilts >= constant + factor * forgiveness of the owners.  Its margin,
 * where factor > 0, is (place(to) - place(from) + tilts - constant) / factor. */
struct brute_bound {
    int from, to; /* nodes */
    struct brute_tilt tilts[BRUTE_TILTS_MOST];
    size_t tilt_count;
    double constant;
    double factor;   /* 0 for a hard rule, 2 where two things share the room between them, more
                        where an edge leans */
    int finding;     /* the rule and place that it belongs to, or BRUTE_HARD */
    unsigned owners; /* one bit a bracket */
};

/* One way out of a choice: all its bounds hold. */
struct brute_way {
    size_t first, count;
};

struct brute_choice {
    size_t first, count; /* ways */
};

/* How one strut is lagged and clamped. */
struct brute_strut {
    size_t lags[BRUTE_LAGS_MOST]; /* indices into roof.plies, rising in x */
    size_t count;
    bool far[ROOF_LEGS_MOST]; /* which side of each leg its clamp is on */
};

/* One row of one bracket; strut is NULL for feet. */
struct brute_row {
    bool present;
    const struct brute_strut *strut;
};

/* Everything that must hold once the struts are chosen. */
struct brute_system {
    size_t node_count; /* node 0 is the origin of x and of y */
    struct brute_bound bounds[BRUTE_BOUNDS_MOST];
    size_t bound_count;
    size_t fixed_count; /* bounds[0 ... fixed_count - 1] belong to no choice */
    struct brute_way ways[BRUTE_WAYS_MOST];
    size_t way_count;
    struct brute_choice choices[BRUTE_CHOICES_MOST];
    size_t choice_count;
    size_t finding_count;
    size_t holes;
    bool full; /* did not fit: the roof is too large */
};

/* Nodes of a bracket's corner. */
size_t brute_node_x(const struct roof *roof, size_t bracket);
size_t brute_node_y(const struct roof *roof, size_t bracket);

/* Node of x of a pipe's hole; that of y is the next. */
size_t brute_node_pipe(const struct roof *roof, size_t pipe);

/* Builds the system; rows that are not present are left out (a relaxation). */
void brute_system_build(const struct roof *roof,
                        struct brute_row rows[BRUTE_BRACKETS_MOST][ROW_COUNT],
                        struct brute_system *system);

/* A dense table for: minimise cost . x, rows . x >= least, x free where free, else >= 0.
 * Costs of free columns must be 0, the others' at least 0. */
struct brute_table {
    size_t column_count, free_count; /* the first free_count columns are free */
    size_t row_count, row_room;
    double *cost;
    double *rows; /* row_room x column_count */
    double *least;
};

bool brute_table_new(size_t free_count, size_t other_count, size_t row_room,
                     struct brute_table *table);
void brute_table_free(struct brute_table *table);

/* Begins a row and returns its coefficients, all zero. */
double *brute_table_row(struct brute_table *table, double least);

/* The least cost, and where it is (x may be NULL); INFINITY if no x keeps every row, NAN if memory
 * ran out. */
double brute_table_solve(const struct brute_table *table, double *x);

#endif
