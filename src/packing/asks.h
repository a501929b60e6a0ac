/* What those that stand in a sweep ask of the next one up the slope, and it of them.  Private to
 * this folder. */
#ifndef RUDDLE_ASKS_H
#define RUDDLE_ASKS_H

#include "swept.h"

/* Who stands, and who comes next. */
struct next {
    struct last last[RANK_COUNT];
    struct reach far[RANK_COUNT][FLANK_PARTS];
    size_t class;
    int rank;
    struct berth *berth;
    double first; /* X from which on it is behind them */
};

/* Whether it can be clear of another rank's last wherever it is along the eave. */
bool asks_is_over(const struct ranks *ranks, const struct next *next, int rank);

/* The next one's place is at least `up` above one of the last of a rank, or at least `down` below
 * it (INFINITY: it cannot be); or X is beyond what is in the way. */
struct ask {
    int rank;
    size_t own, other; /* places of leeways */
    double up, down, past;
};
enum { ASKS_MOST = 32 };
struct asks {
    struct ask list[ASKS_MOST];
    size_t count;
};
/* Those with the next one at x that do not hold anyway. */
void asks_list(const struct sweep *sweep, const struct next *next, double x, struct asks *asks);

/* The leeways of the last ones and of the next one. */
enum { POSE_NEXT = RANK_COUNT, POSE_COUNT };
struct pose {
    struct leeway of[POSE_COUNT];
};
enum { POSES_MOST = 16 };
struct poses {
    struct pose list[POSES_MOST];
    size_t count;
    bool many; /* there are more */
};
/* What is left of a pose where all that is asked holds, by the ways in which it can. */
void asks_heed(const struct asks *asks, const struct pose *pose, struct poses *poses);

#endif
