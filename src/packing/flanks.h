/* What the brackets of a ranking reach beyond their sides, for a sweep.  Private to this folder. */
#ifndef RUDDLE_FLANKS_H
#define RUDDLE_FLANKS_H

#include "parts.h"
#include "ranking.h"
#include "sweep.h"

/* What is looked at of all brackets of a ranking. */
struct view {
    const struct ranking *ranking;
    bool minded;             /* nothing is so far below zero that all may lie anywhere */
    bool struts[SIDE_COUNT]; /* any reaches beyond that side of any bracket */
    double beyond;           /* the furthest that anything does */
    double side;             /* of the least flashing */
    bool stacks; /* none can have a strut, or its side, wholly on the other side of the strut of
                    one that begins before it */
};
struct view view_of(const struct ranking *ranking);

/* Where a bracket may be up the slope, and the lines of its rows: whatever a part can be there it
 * is at its best, or where that is to hold as it is, at its worst. */
struct posture {
    struct interval up, lines[ROW_COUNT];
};
/* Where a row's line may lie; at 0 where it does not matter. */
size_t flank_lines(const struct view *view, size_t c, const struct spot *spot, struct interval up,
                   int row, struct interval strips[LINE_STRIPS_MOST]);

/* A bracket of a class in a spot, on either side. */
struct flank flank_of(const struct view *view, size_t c, const struct spot *spot,
                      const struct posture *posture, enum side side);

/* Flanks as they are found, and where each is by its print. */
struct notes {
    struct flanks *flanks;
    size_t *slots; /* owned: its place and one more; 0: none */
    size_t room;
};
bool notes_begin(struct flanks *flanks, struct notes *notes); /* false without memory */
/* Its place in the list; false without memory, or where there are too many. */
bool notes_add(struct notes *notes, const struct flank *flank, size_t *at);

#endif
