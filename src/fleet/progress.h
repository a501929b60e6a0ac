/* How far a run has come, for whoever waits.  Private to this folder. */
#ifndef RUDDLE_FLEET_PROGRESS_H
#define RUDDLE_FLEET_PROGRESS_H

#include "fleet.h"

struct progress {
    enum fleet_talk talk;
    FILE *stream; /* borrowed */
    double begun_s, shown_s;
    size_t total;   /* listed */
    size_t settled; /* of those, in this run */
    size_t before;  /* of those, before it began */
    size_t blocked, undecided, errors;
};

void progress_begin(struct progress *progress, double now_s);

/* Counts one roof more. */
void progress_count(struct progress *progress, enum fleet_status status);

/* Shows it if it is time to. */
void progress_show(struct progress *progress, double now_s);

/* Takes the bar off the terminal. */
void progress_end(struct progress *progress);

/* The line that is shown, at most 79 columns and without an end of line. */
enum { PROGRESS_TEXT = 80 };
void progress_text(const struct progress *progress, double now_s, char text[PROGRESS_TEXT]);

#endif
