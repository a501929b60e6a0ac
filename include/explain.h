/* Why each hole is where it is, and each frame: which way it could still move before which rule
 * stops it; and where no layout works, which single change would free the roof, each proved by
 * laying out again. */
#ifndef RUDDLE_EXPLAIN_H
#define RUDDLE_EXPLAIN_H

#include "carry.h"
#include "check.h"
#include "marks.h"
#include "problem.h"
#include "roof.h"
#include "sheet.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum way { WAY_NEAR, WAY_FAR, WAY_UP, WAY_DOWN, WAY_COUNT };

/* "near", "far", "up", "down": the words of files; never NULL. */
const char *explain_way_word(enum way way);

/* Nothing is looked for beyond this: a hole that could move further is far from every rule. */
#define EXPLAIN_MOVE_MOST 24.0 /* inches */

enum stopped {
    STOPPED_RULE,     /* by `finding` */
    STOPPED_STRENGTH, /* a lag or strut would no longer carry */
    STOPPED_NEVER,    /* not within EXPLAIN_MOVE_MOST */
    STOPPED_UNKNOWN   /* the time ran out before this was looked at */
};

/* How far one hole or frame could move one way.  A frame moves alone, its holes stay.  A lag moves
 * along the eave alone, and up or down with its whole line, because one line is snapped for it; a
 * pipe hole moves alone; frames stay where they are.  A strut's ends and clamps, and which course,
 * ply or side of a leg is taken, follow as the check infers them. */
struct move {
    enum stopped stopped;
    double by;              /* inches: every rule that holds keeps holding up to here; what is
                               broken already gets no worse */
    struct finding finding; /* the rule that breaks just beyond, with its margin one tick beyond */
};

/* One a mark, or one a frame. */
struct moves {
    struct move way[WAY_COUNT];
};

/* The moves of every mark, or of that one (SIZE_MAX: of every one; the others come out UNKNOWN).
 * verdict and strength are the check's and the judge's of these marks; strength NULL: not looked
 * at.  Exact to 1e-6 in where the rule that stops it stays broken over an eighth of a tick.  FAULT:
 * no memory.  *moves is untouched unless DONE; an array of marks.count, freed by the caller. */
enum outcome explain_moves(const struct roof *roof, const struct marks *marks,
                           const struct verdict *verdict, const struct strength *strength,
                           size_t mark, double limit_s, struct moves **moves);

/* The moves of every frame, or of that one, as those of marks; an array of marks.bracket_count. */
enum outcome explain_frame_moves(const struct roof *roof, const struct marks *marks,
                                 const struct verdict *verdict, const struct strength *strength,
                                 size_t bracket, double limit_s, struct moves **moves);

/* What would be broken if a frame stood where it was wanted, with everything else where it is: of
 * the rules about the frame alone (vents, edges, other frames) the one that lacks most.  Its holes
 * are left out of it, as they would be others there. */
struct wish {
    bool broken;
    struct finding finding; /* where it is */
};

/* One a frame.  FAULT: no memory.  *wishes is untouched unless DONE; freed by the caller. */
enum outcome explain_wishes(const struct roof *roof, const struct marks *marks,
                            struct wish **wishes);

/* What one change is to. */
enum change_kind {
    CHANGE_RULE,     /* a rule asks for less: `relaxed` by `by` inches */
    CHANGE_VENT,     /* vent `which` moves `by` inches one way */
    CHANGE_SISTER,   /* rafter `which` gets one more sound ply, on one side */
    CHANGE_HARDWARE, /* other hardware on every frame */
    CHANGE_TAPE,     /* readings to half of the finest mark */
    CHANGE_LOADS,    /* strength is not looked at */
    CHANGE_KIND_COUNT
};
const char *explain_change_word(enum change_kind kind);

/* What may be relaxed alone; each is one key of the roof or of its kits (all of them at once). */
enum relaxed {
    RELAXED_LAG_EDGE,
    RELAXED_RAFTERS,
    RELAXED_COURSE_EDGE,
    RELAXED_COURSE_BLOCK,
    RELAXED_LAP,
    RELAXED_COURSES,
    RELAXED_JOINTS,
    RELAXED_VENT_FLASHING,
    RELAXED_VENT_BRACKET,
    RELAXED_SETBACK,
    RELAXED_ROW,
    RELAXED_CLEARANCE,
    RELAXED_FOOT_REACH,
    RELAXED_PIPE_BAY,
    RELAXED_PIPE_REACH,
    RELAXED_APART,
    RELAXED_CLAMP_CLEAR,
    RELAXED_CLAMP_OVERHANG,
    RELAXED_SPAN,
    RELAXED_STOCK,
    RELAXED_COUNT
};

/* The rule, and the key that eases it: RULE_FOOT_REACH and "foot.slot". */
enum rule explain_relaxed_rule(enum relaxed relaxed);
const char *explain_relaxed_key(enum relaxed relaxed);

enum freed {
    FREED_YES,     /* proved: the roof so changed was laid out, and every rule holds */
    FREED_NO,      /* proved: no layout obeys even so */
    FREED_UNKNOWN, /* the time ran out over it */
};

struct change {
    enum change_kind kind;
    enum relaxed relaxed;              /* CHANGE_RULE */
    size_t which;                      /* CHANGE_VENT, CHANGE_SISTER: index into vents, rafters */
    enum way way;                      /* CHANGE_VENT; CHANGE_SISTER: WAY_NEAR or WAY_FAR */
    enum hardware hardware[ROW_COUNT]; /* CHANGE_HARDWARE */
    enum freed freed;
    double by;  /* inches that free it; where it does not, the most that was tried */
    bool least; /* one step less was tried, and does not free it */
};

struct changes {
    struct change *list; /* owned; in the order tried */
    size_t count;
    size_t left; /* not even begun when the time ran out */
    size_t solves;
};

/* The steps of `by`: 1/32 in, or 1 mm in mm files; of vents 16 and 10 times that. */
double explain_step(const struct roof *roof);

/* Tries every single change to a roof that does not work, whose own search ended as `carried`.
 * FAULT: as carry_find.  *changes is untouched unless DONE; freed with explain_changes_free. */
enum outcome explain_changes(const struct roof *roof, const struct carried *carried, enum side from,
                             double limit_s, struct changes *changes, struct problems *problems);

void explain_changes_free(struct changes *changes); /* leaves {0} */

/* A hole's name as sheets and results have it: `A-bottom-2`, `A-pipe-hot`.  Returns buffer. */
enum { EXPLAIN_NAME = 2 * ROOF_NAME_MOST + 32 };
const char *explain_hole_name(const struct roof *roof, const struct marks *marks, size_t mark,
                              char buffer[EXPLAIN_NAME]);

/* A frame, one of its lines, or one hole: CHECK_NONE for what it is not. */
struct scope {
    int bracket, row, mark;
};

/* Whether a finding, either side of it, is about the hole; or about the line or frame alone, no
 * hole of which has a part in it. */
bool explain_is_about(const struct finding *finding, const struct scope *scope);

/* Everything that is explained; borrowed. */
struct explanation {
    struct answer answer;
    const struct moves *moves;     /* one a mark; NULL without marks */
    const struct moves *frames;    /* one a frame; NULL without marks */
    const struct wish *wishes;     /* likewise */
    const struct changes *changes; /* NULL where the roof works */
    size_t mark;                   /* the only one asked for; SIZE_MAX: all */
};

/* For people, 80 columns, and for machines ({"ruddle": "explain/1"}).  FAULT: no memory. */
enum outcome explain_write(const struct explanation *explanation, FILE *stream);
enum outcome explain_write_json(const struct explanation *explanation, FILE *stream);

#endif
