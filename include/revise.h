/* Laying out again round holes already drilled: what each hole says of the member it was meant for,
 * which holes stay lag holes and which are dead, and what covers the dead ones.
 *
 * docs/revise.md gives the reasoning.
 */
#ifndef RUDDLE_REVISE_H
#define RUDDLE_REVISE_H

#include "carry.h"
#include "layout.h"
#include "marks.h"
#include "problem.h"
#include "roof.h"
#include "survey.h"

#include <stdbool.h>
#include <stddef.h>

/* What a drill found. */
enum drill { DRILL_WOOD, DRILL_EDGE, DRILL_AIR, DRILL_COUNT };
const char *revise_drill_word(enum drill drill); /* of files: "wood", "edge", "air" */

/* ---- What holes say of one member (interval.c) ------------------------------------------------
 */

/* One hole at a member: how far it lies from where the middle of its ply was measured to be. */
struct probe {
    double off;  /* inches, along x */
    double half; /* half the thickness of that ply */
    enum drill found;
};

enum { INTERVAL_PIECES_MOST = 64, INTERVAL_PROBES_MOST = 60 };

/* Pieces of a line, rising, apart from each other; a piece may be a single point. */
struct pieces_left {
    double from[INTERVAL_PIECES_MOST], to[INTERVAL_PIECES_MOST];
    size_t count;
};

enum knowledge {
    KNOWLEDGE_STANDS,       /* nothing contradicts the survey: position and tolerance stay */
    KNOWLEDGE_MOVED,        /* one piece is left, narrow enough: the new position */
    KNOWLEDGE_OPEN,         /* too much is left: no lag until another probe */
    KNOWLEDGE_CONTRADICTED, /* nothing is left */
};

/* What is known of a member once its holes are heard. */
struct learned {
    enum knowledge knowledge;
    struct pieces_left left; /* how far the member may lie from where it was measured */
    double shift;            /* middle of what is left, from the measured position */
    double tolerance;        /* half the width of what is left; the old one where it stands */
    double probe;            /* OPEN: the point that halves what is left, an `off` */
};

/* The offsets within +-reach of the measured position that agree with every probe: no further than
 * half a thickness from a wood hole, no nearer than that to an air hole, a face within `mark` of an
 * edge hole.  At most INTERVAL_PROBES_MOST probes. */
void interval_left(const struct probe *probes, size_t count, double reach, double mark,
                   struct pieces_left *left);

/* The same drawn to its conclusion: `tolerance` is the survey's, `doubt` how far off the member is
 * sought once that is disproved, `half` half the thickness of the ply that a further probe would
 * aim at. */
void interval_learn(const struct probe *probes, size_t count, double tolerance, double doubt,
                    double mark, double half, struct learned *learned);

/* ---- Holes (holes.c) --------------------------------------------------------------------------
 */

enum fate {
    FATE_KEPT,     /* stays a lag hole */
    FATE_MISSED,   /* dead: edge or air */
    FATE_POOR,     /* dead: wood, but too near a face, an end or a keepout, or its member is open */
    FATE_GIVEN_UP, /* dead: no layout that obeys keeps it */
};

struct hole {
    size_t bracket;
    enum row row;
    double x, y;
    enum drill found;
    size_t entry;  /* of the file, from 0 */
    size_t ply;    /* the ply it tests, index into roof.plies; SIZE_MAX: none */
    size_t rafter; /* the member it lies nearest to */
    double spare;  /* wood holes with a ply: margin of `wood` there on the corrected roof */
    enum fate fate;
    int cover;    /* dead: the mark of the new layout whose flashing covers it; REVISE_PATCH */
    size_t patch; /* REVISE_PATCH: the hole whose patch covers it, itself where it has its own */
};
enum { REVISE_PATCH = -1, REVISE_HOLES_MOST = 200 };

/* Holes as the file has them, held against the roof's names.  BAD_INPUT: every fault in problems.
 * *holes is untouched unless DONE; owned by the caller (free). */
enum outcome holes_from_survey(const struct roof *roof, const struct survey_drilled *drilled,
                               struct hole **holes, size_t *count, struct problems *problems);

/* ---- The whole (revise.c) ---------------------------------------------------------------------
 */

/* All owned; revised_free frees what it holds. */
struct revised {
    struct hole *holes;
    size_t hole_count;
    struct learned *learned; /* one a rafter of the roof */
    bool *tested;            /* one a rafter: some hole tested it */
    struct roof roof; /* corrected: borrows all of the survey's roof but what is owned here */
    struct rafter *rafters;
    struct ply *plies;
    struct keepout *keepouts;
    struct given *given;
    struct carried carried; /* the new layout */
    struct carried fresh;   /* of the corrected roof, as if nothing had been drilled */
    bool *done;             /* one a mark of the new layout: a kept hole, do not drill */
    size_t *patches;        /* one a kit: its flashings to order as patches over dead holes */
    size_t dead_count;      /* holes that are not kept */
    size_t tries;           /* sets of kept holes that were tried */
    size_t given_up;        /* kept holes given up so that a layout obeys */
    bool contradicted;      /* some member has nothing left; carried is empty then */
};

/* Lays out again.  BAD_INPUT: holes contradict each other, named in problems with `path`. */
enum outcome revise_find(const struct roof *roof, const struct survey_drilled *drilled,
                         const struct layout_options *options, enum side from,
                         struct revised *revised, struct problems *problems);

void revised_free(struct revised *revised);

#endif
