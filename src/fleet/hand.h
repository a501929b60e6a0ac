/* A hand: a worker process, and the wire to it.  Private to this folder. */
#ifndef RUDDLE_FLEET_HAND_H
#define RUDDLE_FLEET_HAND_H

#include "fleet.h"

#include <sys/types.h>

struct hand {
    pid_t pid;                /* 0: there is none */
    int wire;                 /* a socket that keeps messages whole */
    uint64_t number;          /* of the roof that it works at; 0: idle */
    double since_s;           /* by clock_now_s */
    enum fleet_status before; /* of that roof's row, where it has one */
    char *sheets;             /* owned: where the sheet of that roof goes, or NULL */
};

/* What a new hand is made with.  `hands` and `count`: all there are, whose wires it has to let go
 * of, or the others would not notice when this process ends. */
struct hiring {
    const struct fleet_craft *craft;
    uint64_t memory_most;
    const struct hand *hands;
    size_t count;
};

/* Starts a worker; false where there can be none (errno). */
bool hand_hire(struct hand *hand, const struct hiring *hiring);

/* Gives it a roof; false where it is gone. */
bool hand_ask(const struct hand *hand, const struct fleet_task *task);

/* Takes what it has to say without waiting. */
enum hand_word { HAND_NOTHING, HAND_ROW, HAND_GONE };
enum hand_word hand_hear(const struct hand *hand, struct fleet_row *row);

/* Ends it, if need be by force, and waits for it; its end in *status as of waitpid. */
void hand_dismiss(struct hand *hand, bool force, int *status);

#endif
