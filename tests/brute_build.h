/* What the files of brute_system build with. */
#ifndef RUDDLE_BRUTE_BUILD_H
#define RUDDLE_BRUTE_BUILD_H

#include "brute_parts.h"

/* node + offset + lean * height: a place along one axis; `height` is a node too. */
struct spot {
    int node;
    double offset, lean;
    int height;
};

/* A rectangle whose low side is the least of several places and whose high side the greatest. */
enum { SIDES_MOST = ROOF_LEGS_MOST + 1 };
struct shape {
    struct spot low[2][SIDES_MOST], high[2][SIDES_MOST]; /* 0: x, 1: y */
    size_t count[2];
    unsigned owners;
};

enum { COURSES_MOST = 128 };

/* A lag or a pipe's hole. */
struct built_mark {
    struct spot x;
    struct shape flashing;
};

struct built_row {
    size_t bracket;
    enum row row;
    const struct kit *kit;
    const struct brute_strut *strut;
    struct spot y, clamps[ROOF_LEGS_MOST];
    struct built_mark marks[BRUTE_LAGS_MOST];
    int wood[BRUTE_LAGS_MOST]; /* struts: the finding of each lag's wood */
    size_t mark_count;
    struct shape rail; /* struts */
};

struct builder {
    const struct roof *roof;
    struct brute_system *system;
    struct built_row rows[BRUTE_BRACKETS_MOST * ROW_COUNT];
    size_t row_count;
    struct built_mark pipes[BRUTE_PIPES_MOST];
    size_t pipe_count;        /* 0, or as many as the roof has */
    size_t kin[COURSES_MOST]; /* for each course, from 0, the first whose lines are the same */
};

/* brute_bounds.c */

/* The place that lies so much further along its axis. */
struct spot brute_beyond(struct spot spot, double offset);
struct spot brute_fixed_at(double at);
struct shape brute_rectangle(struct spot x0, struct spot x1, struct spot y0, struct spot y1,
                             unsigned owners);

/* A rule at a place, for the bounds that belong to it. */
int brute_new_finding(struct builder *builder);

/* high - low >= least + factor * forgiveness */
void brute_add_bound(struct builder *builder, struct spot low, struct spot high, double least,
                     double factor, int finding, unsigned owners);

/* A choice is begun, then each of its ways; bounds added within a way belong to that way alone. */
void brute_begin_choice(struct builder *builder);
void brute_begin_way(struct builder *builder);
void brute_end_way(struct builder *builder);

/* Two shapes pass each other along x or y, one way round or the other. */
void brute_keep_apart(struct builder *builder, const struct shape *a, const struct shape *b,
                      double least, double factor);

/* A shape lies on the face, and a bracket inside the setbacks. */
void brute_keep_inside(struct builder *builder, const struct shape *shape, bool setback);

/* brute_system.c */
struct shape brute_vent_shape(const struct vent *vent);
struct shape brute_bracket_shape(const struct roof *roof, size_t bracket);

/* brute_courses.c */

/* Sets builder->kin. */
void brute_find_kin(struct builder *builder);

/* The node that holds the kin of a row's or a pipe's course. */
struct spot brute_kin_node(const struct roof *roof, size_t line);

/* So many marks with one flashing, on one line, on one course, whose kin becomes the place of a
 * node of its own. */
void brute_choose_course(struct builder *builder, const struct flashing *flashing, struct spot y,
                         size_t count, struct spot kin_at, unsigned owner);

/* One of those marks, at x, keeps off the joints of the course above. */
void brute_keep_off_joints(struct builder *builder, const struct flashing *flashing,
                           struct spot kin_at, struct spot x, unsigned owner);

/* brute_rows.c: what must hold anyhow is bounded, then what can be had in several ways is chosen.
 */
struct built_mark brute_mark_at(struct spot x, struct spot y, const struct flashing *flashing,
                                unsigned owner);
void brute_make_row(struct builder *builder, size_t bracket, enum row which,
                    const struct brute_strut *strut);
void brute_bound_row(struct builder *builder, const struct built_row *row);
void brute_choose_row(struct builder *builder, const struct built_row *row);

/* brute_pipes.c: the same of pipes. */
void brute_make_pipes(struct builder *builder);
void brute_bound_pipe(struct builder *builder, size_t pipe);
void brute_choose_pipe(struct builder *builder, size_t pipe);

#endif
