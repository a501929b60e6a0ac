/* prctl and CPU sets are no part of POSIX; glibc shows them where this is asked for. */
#define _GNU_SOURCE
#include "hand.h"

#include "clock.h"

#include <errno.h>
#include <signal.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

/* Longer paths are refused by the system anyway. */
enum { PATH_BYTES = 4096 };

/* What goes over the wire to a worker, as far as the paths reach. */
struct order {
    uint64_t digest;
    bool known, with_sheet;
    char paths[2 * (PATH_BYTES + 1)]; /* that of the file, and behind its NUL that of the sheets */
};

/* ---- In the worker --------------------------------------------------------------------------- */

static void limit(uint64_t memory_most) {
    const struct rlimit none = {0, 0};
    setrlimit(RLIMIT_CORE, &none);
    if (memory_most > 0) {
        const struct rlimit memory = {memory_most, memory_most};
        setrlimit(RLIMIT_AS, &memory);
    }
}

/* Signals for the whole run are for the one who hired; nobody works on once that one is gone. */
static void stand_back(pid_t parent) {
    static const int meant_for_all[] = {SIGINT, SIGTERM, SIGHUP};
    const struct sigaction ignore = {.sa_handler = SIG_IGN};
    for (size_t i = 0; i < sizeof meant_for_all / sizeof meant_for_all[0]; i++) {
        sigaction(meant_for_all[i], &ignore, NULL);
    }
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (getppid() != parent) {
        _exit(0);
    }
}

static bool hear_order(int wire, struct order *order) {
    ssize_t size = 0;
    do {
        size = recv(wire, order, sizeof *order, 0);
    } while (size < 0 && errno == EINTR);
    return size > (ssize_t)offsetof(struct order, paths);
}

static bool send_row(int wire, const struct fleet_row *row) {
    ssize_t size = 0;
    do {
        size = send(wire, row, sizeof *row, MSG_NOSIGNAL);
    } while (size < 0 && errno == EINTR);
    return size == (ssize_t)sizeof *row;
}

static void work(const struct fleet_craft *craft, int wire) {
    struct order *order = calloc(1, sizeof *order);
    void *bench = craft->begin(craft->order);
    bool good = order != NULL && bench != NULL;
    while (good && hear_order(wire, order)) {
        struct fleet_row row;
        memset(&row, 0, sizeof row);
        const char *sheets = order->paths + strlen(order->paths) + 1;
        const struct fleet_task task = {.file = order->paths,
                                        .sheets = order->with_sheet ? sheets : NULL,
                                        .known = order->known,
                                        .digest = order->digest};
        const double start_s = clock_now_s();
        craft->lay_out(bench, &task, &row);
        row.seconds = clock_now_s() - start_s;
        good = send_row(wire, &row) && !row.fault;
    }
    craft->end(bench);
    free(order);
}

/* ---- In the one who hires ---------------------------------------------------------------------
 */

bool hand_hire(struct hand *hand, const struct hiring *hiring) {
    int wires[2];
    const pid_t parent = getpid();
    if (socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, wires) != 0) {
        return false;
    }
    const pid_t pid = fork();
    if (pid == 0) {
        for (size_t i = 0; i < hiring->count; i++) {
            if (hiring->hands[i].pid != 0) {
                close(hiring->hands[i].wire);
            }
        }
        close(wires[0]);
        stand_back(parent);
        limit(hiring->memory_most);
        work(hiring->craft, wires[1]);
        _exit(0); /* what stands in buffers is not ours to write */
    }
    close(wires[1]);
    if (pid < 0) {
        close(wires[0]);
        return false;
    }
    *hand = (struct hand){.pid = pid, .wire = wires[0]};
    return true;
}

bool hand_ask(const struct hand *hand, const struct fleet_task *task) {
    struct order order = {
        .digest = task->digest, .known = task->known, .with_sheet = task->sheets != NULL};
    const int file = snprintf(order.paths, PATH_BYTES + 1, "%.*s", PATH_BYTES, task->file);
    const int sheets = snprintf(order.paths + file + 1, PATH_BYTES + 1, "%.*s", PATH_BYTES,
                                task->sheets == NULL ? "" : task->sheets);
    const size_t length = offsetof(struct order, paths) + (size_t)file + (size_t)sheets + 2;
    ssize_t size = 0;
    do {
        size = send(hand->wire, &order, length, MSG_NOSIGNAL);
    } while (size < 0 && errno == EINTR);
    return size == (ssize_t)length;
}

enum hand_word hand_hear(const struct hand *hand, struct fleet_row *row) {
    const ssize_t size = recv(hand->wire, row, sizeof *row, MSG_DONTWAIT);
    if (size == (ssize_t)sizeof *row) {
        return HAND_ROW;
    }
    return size < 0 && (errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR) ? HAND_NOTHING
                                                                                   : HAND_GONE;
}

void hand_dismiss(struct hand *hand, bool force, int *status) {
    if (force) {
        kill(hand->pid, SIGKILL);
    }
    close(hand->wire);
    while (waitpid(hand->pid, status, 0) < 0 && errno == EINTR) {
    }
    free(hand->sheets);
    *hand = (struct hand){.pid = 0};
}
