/* How late it is: seconds of a clock that only goes forward. */
#ifndef RUDDLE_EXPLAIN_CLOCK_H
#define RUDDLE_EXPLAIN_CLOCK_H

#include <time.h>

static inline double clock_now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

#endif
