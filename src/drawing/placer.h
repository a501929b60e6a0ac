/* Where labels go: each as close to what it names as there is room, none over another. */
#ifndef RUDDLE_DRAWING_PLACER_H
#define RUDDLE_DRAWING_PLACER_H

#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* A text in an outline is taken for the name of what is outlined, unless a line leads elsewhere. */
enum bounds {
    BOUNDS_PAGE,    /* anywhere on the page */
    BOUNDS_OWN,     /* whole in the outline of what it names, and in no other */
    BOUNDS_OUTSIDE, /* in no outline */
};

/* A label to be placed. */
struct wish {
    struct point at;      /* what it names, points */
    double clear;         /* how far from there it begins at least */
    double width, height; /* of the label */
    double up;            /* 1: better above, -1: better below, 0: either */
    double right;         /* 1: better to the right, -1: to the left, 0: either */
    enum bounds bounds;
    size_t own; /* BOUNDS_OWN: which outline, counted from 0 as they were told */
};

struct placed {
    bool found;         /* false: there is no room for it */
    struct box box;     /* where it goes */
    struct point elbow; /* where its leader line ends, on the box */
};

/* What is taken already.  Starts as {0} but for the page; placer_free frees what it holds. */
struct placer {
    struct box page; /* labels stay inside it */
    struct box *hard, *soft, *outlines;
    size_t hard_count, soft_count, outline_count, hard_room, soft_room, outline_room;
    struct point (*leaders)[2], (*lines)[2];
    size_t leader_count, leader_room, line_count, line_room;
    bool failed; /* no memory */
};

/* No label may come over such a box; none should, if there is another place. */
void placer_keep_off(struct placer *placer, struct box box);
void placer_avoid(struct placer *placer, struct box box);
void placer_avoid_line(struct placer *placer, struct point from, struct point to);

/* An outline, for the bounds of labels. */
void placer_outline(struct placer *placer, struct box box);

/* Finds a place for a label and takes it. */
struct placed placer_place(struct placer *placer, const struct wish *wish);

void placer_free(struct placer *placer);

#endif
