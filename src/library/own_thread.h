/* Work in a thread of its own, where nothing of the caller's can matter or be touched. */
#ifndef RUDDLE_LIBRARY_OWN_THREAD_H
#define RUDDLE_LIBRARY_OWN_THREAD_H

#include "problem.h"

/* Does the work in a new thread and waits for it: its locale is "C", so that figures have decimal
 * points; no signal is delivered there; what the solver keeps for a thread is that thread's own.
 * FAULT: no thread or no locale to be had, and the work is not done; otherwise what the work comes
 * to. */
enum outcome own_thread_do(enum outcome (*work)(void *subject), void *subject);

#endif
