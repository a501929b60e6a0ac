/* The check: every rule, held against roof and marks alone, by arithmetic of its own.  Nothing of
 * the optimiser is seen here; whose marks they are makes no difference.
 *
 * The margin of a rule is how far a mark may be off, in inches, before that rule breaks; a rule
 * holds where length_holds(margin).  What the marks do not say is inferred as the choice with the
 * greatest least margin: the course of a row or pipe, the ply of a lag, the side of a foot, the
 * clamps of a strut.  Feet belong to legs in order of x.
 */
#ifndef RUDDLE_CHECK_H
#define RUDDLE_CHECK_H

#include "marks.h"
#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

enum rule {
    RULE_WOOD,
    RULE_COURSE_EDGE,
    RULE_COURSE_BLOCK,
    RULE_LAP,
    RULE_JOINTS,
    RULE_VENT_FLASHING,
    RULE_VENT_BRACKET,
    RULE_SETBACK,
    RULE_ROW,
    RULE_CLEARANCE,
    RULE_FOOT_REACH,
    RULE_PIPE_BAY,
    RULE_PIPE_REACH,
    RULE_STRUT_CLEAR,
    RULE_APART,
    RULE_STRUT_CLAMP,
    RULE_STRUT_SPAN,
    RULE_STRUT_STOCK,
    RULE_ROW_LINE,
    RULE_COMPLETE,
    RULE_COUNT
};

/* The rule's name in files ("course-edge"), and whether forgiveness counts it. */
const char *check_rule_name(enum rule rule);
bool check_rule_counted(enum rule rule);

enum { CHECK_NONE = -1 }; /* no mark, vent, ... */

/* One rule at one place.  Indices are into marks.list, roof.brackets, roof.vents. */
struct finding {
    enum rule rule;
    int bracket;       /* whose rule it is: the pipe's for pipe-bay, else the lower of a pair */
    int row;           /* enum row, or CHECK_NONE for a rule of the whole bracket */
    int mark;          /* or CHECK_NONE; complete of a pipe: its first mark if it has one */
    int other_bracket; /* the other one of a pair (may be the same bracket), or CHECK_NONE */
    int other_row;     /* of two struts, a strut against a bracket, a bore against a strut, or
                          CHECK_NONE */
    int other_mark;    /* the other flashing of a pair, a bore's foot, or CHECK_NONE */
    int vent;          /* or CHECK_NONE */
    double margin;     /* inches; always finite */
};

/* What was inferred for a mark. */
struct seat {
    size_t ply;     /* index into roof.plies; SIZE_MAX for pipes and without sound wood */
    size_t leg;     /* feet: index into kit.legs; otherwise SIZE_MAX */
    enum side side; /* feet: the side of its leg that the lag is on */
    double slip;    /* feet: s of foot-reach, x - (X + leg +- reach) */
    size_t course;  /* pipes: its course, from 1; 0 for lags (see the row) and without courses */
};

/* What was inferred for a row. */
struct row_seat {
    size_t course;                 /* from 1; 0 where the roof has no usable course */
    double y;                      /* of its first mark */
    size_t first_mark, count;      /* its marks by x: verdict.order[first_mark ...] */
    double from, to;               /* struts: its two ends */
    double clamps[ROOF_LEGS_MOST]; /* struts: x of each leg's clamp */
};

struct verdict {
    struct finding *findings; /* every rule at every place, ordered by rule, bracket, row, mark */
    size_t count;
    struct seat *seats;                 /* one a mark */
    size_t *order;                      /* marks as marks_sort has them; 0, 1, 2 ... if sorted */
    struct row_seat (*rows)[ROW_COUNT]; /* one pair a bracket */
    double *forgiveness; /* one a bracket: its least counted margin; pairs count for both */
    double least;        /* of the worst bracket */
    double shortfall;    /* sum over counted findings of max(0, -margin) */
    double hard_least;   /* least margin of a rule that is not counted */
    bool holds;          /* every rule holds */
    size_t holes;
};

/* Holds marks against every rule.  marks need not be sorted or complete.  FAULT: no memory.
 * *verdict is untouched unless DONE; owned by the caller (verdict_free). */
enum outcome check_marks(const struct roof *roof, const struct marks *marks,
                         struct verdict **verdict);

void verdict_free(struct verdict *verdict); /* accepts NULL */

/* The course that was inferred for a mark: its row's, or a pipe's own; 0 where there is none. */
size_t verdict_course(const struct verdict *verdict, const struct marks *marks, size_t index);

/* The least margins over a few rules at one place: what a search over readings asks first. */
struct least {
    double counted;   /* least counted margin; INFINITY where no rule is counted */
    double hard;      /* least hard margin; INFINITY where there is none */
    double shortfall; /* sum of max(0, -margin) over the counted ones */
};

/* Rules that need one mark and its own bracket's place only: wood, course-edge, course-block, lap,
 * joints, vent-flashing, setback (flashing), foot-reach (leg is the index of its leg; ignored for
 * struts and pipes), pipe-bay against rafters, pipe-reach. */
struct least check_one_mark(const struct roof *roof, const struct standing *standing,
                            const struct mark *mark, size_t leg);

/* Rules of the bracket alone: setback, vent-bracket. */
struct least check_one_bracket(const struct roof *roof, size_t bracket,
                               const struct standing *standing);

/* Rules of where a row meets its bracket: row, clearance. */
struct least check_one_row(const struct roof *roof, size_t bracket, const struct standing *standing,
                           enum row row, double y);

#endif
