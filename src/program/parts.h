/* The parts that a model is put together from; private to this folder. */
#ifndef RUDDLE_PARTS_H
#define RUDDLE_PARTS_H

#include "candidates.h"
#include "model.h"
#include "program.h"
#include "roof.h"

/* What every part needs at hand while a model is built; borrowed. */
struct parts {
    const struct roof *roof;
    const struct candidates *candidates;
    const struct stage *stage;
    struct model *model;
    struct program *program; /* of the model */
    size_t *pair_levels;     /* levels shared by a pair of brackets, bracket_count
                                squared; 0: none */
    struct term *shortfalls; /* columns of shortfalls, and how many places share each */
    size_t shortfall_count, shortfall_room;
};

/* Who a rule speaks of: a bracket, or a pair of different ones. */
#define NOBODY ((size_t)-1)
struct subject {
    size_t bracket, other; /* other is NOBODY for a rule of one bracket */
};

/* levels.c */

/* True in the stages after a nearest miss, where every rule at every place has
 * a level of its own.
 */
bool levels_apart(const struct parts *parts);
/* The highest level that any rule can be held to. */
double levels_most(const struct parts *parts);
/* The least level. */
double levels_least(const struct parts *parts);
void levels_begin(struct parts *parts);
/* The level that a rule of this subject is held to at one place; `times` marks
 * share that place's margin (0: none yet, see level_shared). */
size_t level_of(struct parts *parts, struct subject subject, double times);
/* One more mark shares the margin of that level if the binary `used` is 1. */
void level_shared(struct parts *parts, size_t level, size_t used);
void levels_end(struct parts *parts);

/* place.c: setback, vent-bracket, and the cost of moving. */
void place_bracket(struct parts *parts, size_t bracket);

/* line.c: row, clearance, courses: what all marks of a row have in common. */
void place_line(struct parts *parts, size_t bracket, enum row row);

/* Marks that sit on one course, and share the margins of its rules. */
struct on_course {
    struct subject subject;
    const struct flashing *flashing;
    const size_t *numbers; /* of the candidate courses */
    size_t count;
    size_t y;           /* the column of their height */
    double times;       /* marks that are always there */
    const size_t *used; /* marks that may be left out: one column each */
    size_t used_count;
    const char *name; /* begins the names of the binaries */
};
/* Chooses a course; returns one binary a candidate (owned by the caller), NULL
 * without memory. */
size_t *place_on_course(struct parts *parts, const struct on_course *marks);

/* joints.c: a hole whose flashing keeps off the joints above its course. */
struct off_joints {
    struct subject subject;
    const struct flashing *flashing;
    const size_t *numbers, *courses; /* the candidate courses, and one binary for each */
    size_t course_count;
    struct linear x;
    const struct interval *x_at; /* where x can lie in each of its places */
    const size_t *places; /* one binary each, of which exactly one is 1; unused where it is one */
    size_t place_count;   /* at least 1 */
    size_t used; /* a binary, 0 where the hole is left out, which takes a single place; MODEL_NONE:
                    it is always there */
};
void keep_off_joints(struct parts *parts, const struct off_joints *hole);

/* feet.c: wood, foot-reach. */
void place_feet(struct parts *parts, size_t bracket, enum row row);
/* Needs the row's courses, as the next one does. */
void keep_feet_off_joints(struct parts *parts, size_t bracket, enum row row);

/* strut.c: a strut's lags, its clamps, spans, stock and strut-clear. */
void place_strut(struct parts *parts, size_t bracket, enum row row);
void keep_strut_off_joints(struct parts *parts, size_t bracket, enum row row);

/* pipes.c: a bore that must miss the rafters: pipe-bay, pipe-reach and its
 * flashing's rules. */
void place_pipe(struct parts *parts, size_t pipe);
/* Its distance from struts and feet, and its flashing's from all others. */
void keep_pipe_apart(struct parts *parts, size_t pipe);

/* leaning.c: rafters that do not run square to the eave. */

/* x of a ply's middle at the height in column y. */
struct linear ply_x(const struct parts *parts, size_t ply, size_t y);
/* One of several sloping lines is chosen by `ways`, binaries of which exactly
 * one is 1.  Adds to the row begun last factor * (sum of way * at + lean *
 * height), as a convex combination: where a line leans, each way gets its own
 * share of the height y.  The shares are made by share_height before that row
 * is begun; NULL where nothing leans. */
struct line {
    double at, lean;
};
size_t *share_height(struct parts *parts, const size_t *ways, const struct line *lines,
                     size_t count, size_t y);
void add_lines(struct parts *parts, const size_t *ways, const struct line *lines, size_t count,
               const size_t *shares, double factor);
/* strut.c: where a strut's lag lies in a ply: in its middle, or where it is already drilled. */
struct line strut_lag_line(const struct parts *parts, size_t bracket, enum row row, size_t ply);
struct linear strut_lag_x(const struct parts *parts, size_t bracket, enum row row, size_t ply);
/* A lag in this ply lies within the ply's reach up the slope and off every
 * keepout, by the level, where the binary `used` is 1. */
void hold_along(struct parts *parts, size_t ply, size_t y, size_t level, size_t used);
/* True if a rule of hold_along can bind at all. */
bool limited_along(const struct parts *parts, size_t ply, size_t y);

/* limits.c: choices of plies that strength rules out. */
void hold_limits(struct parts *parts);

/* apart.c: flashings, struts and brackets that must not overlap; other may be
 * bracket itself. */
void keep_apart(struct parts *parts, size_t bracket, size_t other);

/* gaps.c */

/* A rectangle whose sides are sums of columns. */
struct sides {
    struct linear x0, y0, x1, y1;
};
/* The rectangle round a point. */
struct sides around(struct linear x, struct linear y, double half_width, double half_height);
struct sides fixed_sides(const struct box *box);
struct sides bracket_sides(const struct parts *parts, size_t bracket);
struct sides flashing_sides(const struct flashing *flashing, struct linear x, struct linear y);
struct sides strut_sides(const struct parts *parts, size_t bracket, enum row row);

/* a + factor * b */
struct linear linear_sum(struct linear a, struct linear b, double factor);

/* A rule that max(gap along x, gap along y) >= keep + weight * level, wherever
 * all `when` are 1. */
struct gap_rule {
    struct subject subject;
    double keep, weight;
    const size_t *when;
    size_t when_count;
};
void require_gap(struct parts *parts, const struct sides *a, const struct sides *b,
                 const struct gap_rule *rule);

/* Four ways for b to be apart from a: a left of it, right of it, below it, above it. */
enum way { WAY_LEFT, WAY_RIGHT, WAY_BELOW, WAY_ABOVE, WAY_COUNT };
/* The four choices of a rule, not yet required of anything. */
void gap_ways(struct parts *parts, const struct sides *a, const struct sides *b,
              const struct gap_rule *rule, size_t ways[WAY_COUNT]);
/* True where the bounds keep the two apart at any level. */
bool always_apart(const struct parts *parts, const struct sides *a, const struct sides *b,
                  const struct gap_rule *rule);

/* Every corner inside every edge of the face, by a level of the subject's (and
 * by the setback, if asked); only where the binary `used` is 1 (MODEL_NONE:
 * always). */
void require_inside(struct parts *parts, const struct sides *sides, struct subject subject,
                    bool setback, size_t used);

/* A flashing on the face and clear of every vent. */
void require_flashing(struct parts *parts, const struct sides *sides, struct subject subject,
                      size_t used);

#endif
