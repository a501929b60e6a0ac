/* What is better not torn by the end of a page: a step up to its first heading, and what stands
 * below each heading.  How high each is shows when the sheet is set on a page without end. */
#ifndef RUDDLE_PRINTED_STRETCHES_H
#define RUDDLE_PRINTED_STRETCHES_H

#include "problem.h"

#include <stdbool.h>
#include <stddef.h>

struct stretch {
    double height; /* points */
    bool step;     /* begins with a step's words; else with a heading below one */
    bool joined;   /* nothing lies between its end and the next one */
};

/* All of a sheet, in their order. */
struct stretches {
    struct stretch *list; /* owned */
    size_t count, room;
    bool open;  /* the last one has no end yet */
    double top; /* where that one began, points */
};

/* The next one begins at y, and ends whatever is open.  FAULT: no memory. */
enum outcome stretches_begin(struct stretches *stretches, bool step, double y);
void stretches_end(struct stretches *stretches, double y);

/* How high number `at` is, with the first heading of a step that has few words before it; 0 where
 * there is no such number. */
double stretches_height(const struct stretches *stretches, size_t at);

void stretches_free(struct stretches *stretches);

#endif
