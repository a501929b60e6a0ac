/* A roof with one thing changed: what can be done to it, on copies of all that changes. */
#ifndef RUDDLE_EXPLAIN_ALTERED_H
#define RUDDLE_EXPLAIN_ALTERED_H

#include "explain.h"

/* Shares with the roof it was made from what no change is to. */
struct altered {
    struct roof roof;
};

/* FAULT: no memory.  Freed with altered_free, whatever the outcome. */
enum outcome altered_make(const struct roof *roof, struct altered *altered);
void altered_free(struct altered *altered); /* leaves {0} */

/* The most that may be taken off, or put to, so that the key is still one; 0: this roof has nothing
 * that the rule is about. */
double altered_most(const struct roof *roof, enum relaxed relaxed);
void altered_relax(struct altered *altered, enum relaxed relaxed, double by);

void altered_move_vent(struct altered *altered, size_t vent, enum way way, double by);
void altered_drop_vent(struct altered *altered, size_t vent);

/* One more sound ply of the same thickness, full length, against the rafter's side.  false: there
 * is no room for it, or the rafter has as many as a survey may say.  *altered is then as it was. */
bool altered_sister(struct altered *altered, size_t rafter, enum way way);

void altered_hardware(struct altered *altered, const enum hardware hardware[ROW_COUNT]);

#endif
