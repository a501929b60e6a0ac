/* Candidates: which courses, which plies and which side of its leg a lag could take at all, found
 * before any program is built.  What cannot be reached at the forgiveness asked for is struck out,
 * and the reason is kept for messages.
 */
#ifndef RUDDLE_CANDIDATES_H
#define RUDDLE_CANDIDATES_H

#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

struct interval {
    double lo, hi; /* inches; empty where lo > hi */
};

/* One foot: the plies that it could be lagged into, rising in x. */
struct candidate_leg {
    size_t *plies; /* indices into roof.plies */
    size_t count;
    struct interval x;     /* where its lag can lie */
    bool side[SIDE_COUNT]; /* on which sides of its leg */
};

struct candidate_row {
    size_t *courses; /* numbers from 1, rising */
    size_t course_count;
    struct interval y;          /* where the row can lie */
    struct candidate_leg *legs; /* feet: one a leg; NULL for a strut */
    size_t leg_count;
    size_t *plies; /* strut: the plies that it could be lagged into, rising in x; NULL for feet */
    size_t ply_count;
};

struct candidate_bracket {
    struct interval x, y; /* of its near lower corner */
    struct candidate_row rows[ROW_COUNT];
};

/* A stretch between two neighbouring rafters that a pipe can come up in: bay b lies between rafters
 * b - 1 and b (0: before the first; rafter_count: after the last). */
struct candidate_pipe {
    size_t *courses;
    size_t course_count;
    struct interval x, y;
    size_t *bays;
    size_t bay_count;
};

enum { CANDIDATES_WHY = 200, CANDIDATES_WHYS = 32 };

struct candidates {
    struct candidate_bracket *brackets; /* one a bracket of the roof */
    size_t bracket_count;
    struct candidate_pipe *pipes; /* one a pipe of the roof */
    size_t pipe_count;
    bool hopeless;               /* something cannot be placed: `why` says which and why */
    char (*why)[CANDIDATES_WHY]; /* in trade words, for people; CANDIDATES_WHYS at most */
    size_t why_count;
};

/* Finds the candidates at a forgiveness of at least `least` (inches; may be negative).
 * FAULT: no memory.  *candidates is untouched unless DONE; owned by the caller. */
enum outcome candidates_find(const struct roof *roof, double least, struct candidates **candidates);

void candidates_free(struct candidates *candidates); /* accepts NULL */

/* Half the play that a lag has in a ply: what is left of half its thickness beside the lag's edge
 * distance and the rafter's tolerance. */
double candidates_play(const struct roof *roof, const struct kit *kit, size_t ply);

/* The same of a strut's lag, which lies in the middle of its ply unless it is drilled already. */
double candidates_lag_play(const struct roof *roof, size_t bracket, enum row row, size_t ply);

/* Where the middle of a ply lies while y runs through an interval. */
struct interval candidates_ply_x(const struct ply *ply, struct interval y);

/* x of the faces that bound a bay at height y, each by what the pipe keeps off it; beyond the last
 * rafter -ROOF_ENDLESS and ROOF_ENDLESS. */
struct interval candidates_bay(const struct roof *roof, const struct pipe *pipe, size_t bay,
                               double y);

/* What each rule of a course asks of the height of a flashing's hole, above the eave edge, at a
 * forgiveness of 0: between edge[0] and edge[1], at most `block`, at least `lap`. */
struct course_bounds {
    double edge[2], block, lap;
};
struct course_bounds candidates_bounds(const struct roof *roof, const struct flashing *flashing,
                                       size_t course);

/* How far the hole of a flashing may lie above the eave edge on course k, at a forgiveness of 0. */
struct interval candidates_course(const struct roof *roof, const struct flashing *flashing,
                                  size_t course);

#endif
