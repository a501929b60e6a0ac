/* How late it is. */
#ifndef RUDDLE_CLOCK_H
#define RUDDLE_CLOCK_H

/* Seconds of a clock that never goes back, from a moment of its own. */
double clock_now_s(void);

#endif
