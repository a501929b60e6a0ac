/* The messages of the public interface: faults as lines of text. */
#ifndef RUDDLE_LIBRARY_MESSAGES_H
#define RUDDLE_LIBRARY_MESSAGES_H

#include "problem.h"
#include "ruddle.h"

/* Forgets what was there. */
void messages_clear(struct ruddle_messages *messages); /* accepts NULL */

/* Takes the faults over as lines.  Without memory only the count of what could be kept is true. */
void messages_take(struct ruddle_messages *messages, const struct problems *problems);

#endif
