/* What the rules share: the work in hand, the rectangles that things cover on the roof, and the
 * margin of each rule at one place.  Margins are inches; negative where a rule is broken.
 */
#ifndef RUDDLE_CHECK_RULES_H
#define RUDDLE_CHECK_RULES_H

#include "check.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

/* As fmin and fmax, but a NaN stays one: a figure that is none must never pass for a margin. */
static inline double check_lesser(double a, double b) {
    return a < b || isnan(a) ? a : b;
}

static inline double check_greater(double a, double b) {
    return a > b || isnan(a) ? a : b;
}

/* One strut with a lag at least.  Lags are verdict->order[first_lag ... first_lag + lag_count - 1],
 * rising in x. */
struct strut {
    size_t bracket;
    enum row row;
    size_t first_lag, lag_count;
    double low, high;         /* y of its lowest and highest lag */
    double start, finish;     /* x of its first and last lag */
    bool far[ROOF_LEGS_MOST]; /* inferred: the clamp is on the far side of its leg */
    double from, to;          /* inferred: its ends */
};

/* The work in hand.  Rules add findings; without memory they only set `starved`. */
struct checking {
    const struct roof *roof;
    const struct marks *marks;
    struct verdict *verdict;
    size_t room; /* findings that verdict->findings has room for */
    struct strut *struts;
    size_t strut_count;
    size_t *pipe_marks; /* indices into marks->list: the pipe holes, in order */
    size_t pipe_mark_count;
    bool starved;
};

/* The flashing that a mark lies under: its kit's, or its pipe's own. */
const struct flashing *check_mark_flashing(const struct roof *roof, const struct mark *mark);

/* Rectangles: a mark's flashing, the room that a foot takes, a bore, a bracket, a strut. */
struct box check_flashing_box(const struct roof *roof, const struct mark *mark);
struct box check_foot_box(const struct roof *roof, const struct mark *mark);
struct box check_bore_box(const struct roof *roof, const struct mark *mark);
struct box check_bracket_box(const struct roof *roof, size_t bracket,
                             const struct standing *standing);
struct box check_strut_box(const struct roof *roof, const struct strut *strut, double from,
                           double to);

/* The greater of the gaps along x and along y; negative where the two overlap. */
double check_gap(const struct box *a, const struct box *b);

/* Least distance of a rectangle's corners inside an edge of the face, less that edge's setback if
 * setbacks count. */
double check_inside(const struct roof *roof, const struct box *box, bool setbacks);

/* A finding about a bracket alone; the caller fills in what else it is about. */
struct finding check_finding(enum rule rule, size_t bracket);
void check_add(struct checking *checking, const struct finding *finding);

/* The margin as it is kept: always finite, whatever figures came in. */
double check_finite(double margin);

/* x of the middle of a ply at height y. */
double check_ply_x(const struct ply *ply, double y);

/* wood: the mark's lag in the ply (an index into roof.plies; SIZE_MAX where no wood is sound). */
double check_wood(const struct roof *roof, const struct mark *mark, size_t ply);
size_t check_best_ply(const struct roof *roof, const struct mark *mark);

/* The three rules of a flashing on a course (a number from 1; 0 where no course can carry one). */
struct course_margins {
    double edge, block, lap;
};
struct course_margins check_course(const struct roof *roof, const struct flashing *flashing,
                                   size_t course, double y);

/* Marks that lie on one course under flashings of one kind: list[order[i]], or list[i] where order
 * is NULL. */
struct on_course {
    const struct mark *list;
    const size_t *order;
    size_t count; /* at least 1 */
    const struct flashing *flashing;
};
/* The course with the greatest least margin over those marks, joints counted. */
size_t check_best_course(const struct roof *roof, const struct on_course *marks);

/* joints: the sides of a flashing whose hole is at x, on that course; INFINITY where none is known
 * in the course above it. */
double check_joints(const struct roof *roof, const struct flashing *flashing, size_t course,
                    double x);

double check_vent_flashing(const struct vent *vent, const struct box *flashing);
double check_vent_bracket(const struct vent *vent, const struct box *bracket);
bool check_vent_minds(const struct vent *vent, const struct kit *kit); /* a bracket over it? */

/* row and clearance, `up` being the height of the row above the bracket's lower corner. */
double check_row(const struct kit *kit, enum row row, double up);
double check_clearance(const struct kit *kit, enum hardware hardware, double up);

/* pipe-bay against the rafters, and against a strut or a foot; pipe-reach. */
double check_bay(const struct roof *roof, const struct mark *mark);
double check_bore_clear(const struct roof *roof, const struct mark *mark, const struct box *box);
double check_pipe_reach(const struct pipe *pipe, const struct standing *standing,
                        const struct mark *mark);

/* s of foot-reach: x less the place that the foot has on the side it is nearer to. */
double check_slip(const struct kit *kit, size_t leg, double up, enum side *side);

/* x of a leg's clamp on one side of it, and strut-clamp there. */
double check_clamp_x(const struct checking *checking, const struct strut *strut, size_t leg,
                     bool far);
double check_clamp(const struct checking *checking, const struct strut *strut, double x);
double check_stock(const struct kit *kit, double length);

/* strut-clear against the vents, and halves of gaps: what apart asks for. */
double check_strut_vent(const struct vent *vent, const struct box *strut);
double check_apart(const struct box *a, const struct box *b, double least);

/* x of a lag of a strut, counted from 0 in order of x. */
double check_lag_x(const struct checking *checking, const struct strut *strut, size_t lag);

/* Order of work: what is inferred first, then every rule at every place. */
void check_seat_marks(struct checking *checking);
void check_seat_clamps(struct checking *checking);
void check_all_wood(struct checking *checking);
void check_all_courses(struct checking *checking);
void check_all_joints(struct checking *checking);
void check_all_vents(struct checking *checking);
void check_all_setbacks(struct checking *checking);
void check_all_rows(struct checking *checking);
void check_all_feet(struct checking *checking);
void check_all_pipes(struct checking *checking);
void check_all_struts(struct checking *checking);
void check_all_apart(struct checking *checking);
void check_all_complete(struct checking *checking);
void check_sum_up(struct checking *checking);

#endif
