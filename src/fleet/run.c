/* The run: hands are hired, given roofs, heard, and dismissed. */
#include "fleet_inner.h"

#include "clock.h"
#include "cores.h"
#include "hand.h"
#include "progress.h"

#include <errno.h>
#include <inttypes.h>
#include <math.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* What is done is committed so often, and signals and the clock are looked at. */
#define BEAT_S 0.2

struct run {
    struct fleet *fleet;
    const struct fleet_labour *labour;
    struct hiring hiring;
    struct hand *hands;   /* owned */
    struct pollfd *polls; /* owned */
    size_t hand_count, at_work;
    struct record_task next; /* the roof to be given out; number 0: none is left */
    uint64_t given;          /* the number of the last one given out */
    sigset_t signals;        /* that end the run; blocked while it lasts */
    double committed_s;
    struct progress progress;
    bool stopped;
};

/* ---- Rows ----------------------------------------------------------------------------------- */

static enum outcome settle(struct run *run, struct hand *hand, const struct fleet_row *row) {
    struct record *record = run->fleet->record;
    const char *sheets = row->status == FLEET_ERROR ? NULL : hand->sheets;
    const enum outcome outcome = row->unchanged ? record_keep(record, hand->number)
                                                : record_store(record, hand->number, row, sheets);
    progress_count(&run->progress, row->unchanged ? hand->before : row->status);
    hand->number = 0;
    free(hand->sheets);
    hand->sheets = NULL;
    run->at_work--;
    return outcome;
}

static enum outcome settle_error(struct run *run, struct hand *hand, const char *error,
                                 double seconds) {
    struct fleet_row row = {
        .status = FLEET_ERROR, .forgiveness = NAN, .moved = NAN, .holes = -1, .seconds = seconds};
    snprintf(row.error, sizeof row.error, "%s", error);
    return settle(run, hand, &row);
}

/* ---- Giving out ------------------------------------------------------------------------------ */

static enum outcome fetch(struct run *run) {
    return record_next(run->fleet->record, run->given, &run->next);
}

/* True where the roof's old row and its sheet may do. */
static bool may_do(const struct run *run, const char *sheets) {
    char path[4200];
    if (!run->next.known || sheets == NULL) {
        return run->next.known;
    }
    snprintf(path, sizeof path, "%s/%s", sheets, run->fleet->sheet);
    return run->next.sheets != NULL && strcmp(run->next.sheets, sheets) == 0 &&
           access(path, F_OK) == 0;
}

/* Asks a hand, hiring it if need be, and another in its place if it is gone. */
static bool ask(struct run *run, struct hand *hand, const struct fleet_task *task) {
    for (int tries = 0; tries < 2; tries++) {
        int status = 0;
        if (hand->pid == 0 && !hand_hire(hand, &run->hiring)) {
            return false;
        }
        if (hand_ask(hand, task)) {
            return true;
        }
        hand_dismiss(hand, true, &status);
    }
    return false;
}

/* Gives the next roof to an idle hand.  BLOCKED: it cannot be had; perhaps later. */
static enum outcome give(struct run *run, struct hand *hand) {
    char *sheets = fleet_sheet_folder(run->fleet, run->next.file);
    if (run->fleet->sheets != NULL && sheets == NULL) {
        return OUTCOME_FAULT;
    }
    const struct fleet_task task = {.file = run->next.file,
                                    .sheets = sheets,
                                    .known = may_do(run, sheets),
                                    .digest = run->next.digest};
    if (!ask(run, hand, &task)) {
        free(sheets);
        return OUTCOME_BLOCKED;
    }
    hand->before = run->next.status;
    hand->number = run->given = run->next.number;
    hand->sheets = sheets;
    hand->since_s = clock_now_s();
    run->at_work++;
    return fetch(run);
}

static enum outcome give_all(struct run *run, struct problems *problems) {
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < run->hand_count && run->next.number != 0; i++) {
        if (run->hands[i].number == 0) {
            outcome = give(run, &run->hands[i]);
        }
        if (outcome == OUTCOME_FAULT) {
            return outcome;
        }
    }
    if (outcome == OUTCOME_BLOCKED && run->at_work == 0) {
        problems_add(problems, "ruddle", 0, NULL, strerror(errno),
                     "a worker process: the system gives none");
        return OUTCOME_FAULT;
    }
    return OUTCOME_DONE;
}

/* ---- Hearing --------------------------------------------------------------------------------- */

static void end_text(char *text, size_t size, int status) {
    if (WIFSIGNALED(status)) {
        snprintf(text, size, "its worker was ended by signal %d", WTERMSIG(status));
    } else {
        snprintf(text, size, "its worker ended with exit code %d", WEXITSTATUS(status));
    }
}

/* A worker that is gone takes its roof's row with it, and nothing else. */
static enum outcome bury(struct run *run, struct hand *hand, const char *why) {
    char text[80];
    int status = 0;
    const double seconds = clock_now_s() - hand->since_s;
    const uint64_t number = hand->number;
    hand_dismiss(hand, why != NULL, &status);
    hand->number = number;
    end_text(text, sizeof text, status);
    return number == 0 ? OUTCOME_DONE : settle_error(run, hand, why != NULL ? why : text, seconds);
}

/* A row, and what it says of the one who sent it. */
static enum outcome take_row(struct run *run, struct hand *hand, const struct fleet_row *row) {
    const enum outcome outcome = hand->number == 0 ? OUTCOME_DONE : settle(run, hand, row);
    if (row->fault) {
        int status = 0;
        hand_dismiss(hand, false, &status);
    }
    return outcome;
}

static enum outcome hear(struct run *run, struct hand *hand) {
    struct fleet_row row;
    switch (hand_hear(hand, &row)) {
    case HAND_ROW:
        return take_row(run, hand, &row);
    case HAND_GONE:
        return bury(run, hand, NULL);
    default:
        return OUTCOME_DONE;
    }
}

static enum outcome hear_all(struct run *run) {
    enum outcome outcome = OUTCOME_DONE;
    nfds_t count = 0;
    for (size_t i = 0; i < run->hand_count; i++) {
        if (run->hands[i].pid != 0) {
            run->polls[count++] = (struct pollfd){.fd = run->hands[i].wire, .events = POLLIN};
        }
    }
    (void)poll(run->polls, count, (int)(BEAT_S * 1000));
    for (size_t i = 0; i < run->hand_count && outcome == OUTCOME_DONE; i++) {
        if (run->hands[i].pid != 0) {
            outcome = hear(run, &run->hands[i]);
        }
    }
    return outcome;
}

static enum outcome watch_clock(struct run *run) {
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < run->hand_count && outcome == OUTCOME_DONE; i++) {
        struct hand *hand = &run->hands[i];
        if (hand->number != 0 && clock_now_s() - hand->since_s > run->labour->patience_s) {
            char why[80];
            snprintf(why, sizeof why, "no answer within %.6g s: its worker was stopped",
                     run->labour->patience_s);
            outcome = bury(run, hand, why);
        }
    }
    return outcome;
}

/* ---- The whole ------------------------------------------------------------------------------- */

static bool signal_is_waiting(const struct run *run) {
    const struct timespec at_once = {0, 0};
    return sigtimedwait(&run->signals, NULL, &at_once) > 0;
}

static enum outcome beat(struct run *run) {
    const double now_s = clock_now_s();
    progress_show(&run->progress, now_s);
    if (now_s - run->committed_s < BEAT_S) {
        return OUTCOME_DONE;
    }
    run->committed_s = now_s;
    return record_commit(run->fleet->record);
}

/* Signals first: what ends the run may have ended workers too, and is no roof's fault. */
static enum outcome labour_on(struct run *run, struct problems *problems) {
    enum outcome outcome = fetch(run);
    while (outcome == OUTCOME_DONE && (run->next.number != 0 || run->at_work > 0)) {
        outcome = give_all(run, problems);
        if (outcome == OUTCOME_DONE) {
            outcome = hear_all(run);
        }
        if (outcome == OUTCOME_DONE) {
            outcome = watch_clock(run);
        }
        if (outcome == OUTCOME_DONE) {
            outcome = beat(run);
        }
        run->stopped = signal_is_waiting(run);
        if (run->stopped) {
            break;
        }
    }
    return outcome;
}

static void dismiss_all(struct run *run) {
    int status = 0;
    for (size_t i = 0; i < run->hand_count; i++) {
        if (run->hands[i].pid != 0) {
            hand_dismiss(&run->hands[i], run->hands[i].number != 0, &status);
        }
    }
}

/* From here on the signals that end a run wait until they are asked for. */
static void hold_signals(struct run *run, sigset_t *before) {
    sigemptyset(&run->signals);
    sigaddset(&run->signals, SIGINT);
    sigaddset(&run->signals, SIGTERM);
    sigaddset(&run->signals, SIGHUP);
    sigprocmask(SIG_BLOCK, &run->signals, before);
}

static enum outcome begin(struct run *run) {
    struct progress *progress = &run->progress;
    size_t count[FLEET_STATUS_COUNT];
    const unsigned jobs = run->labour->jobs > 0 ? run->labour->jobs : cores_usable();
    run->hands = calloc(jobs, sizeof *run->hands);
    run->polls = calloc(jobs, sizeof *run->polls);
    if (run->hands == NULL || run->polls == NULL) {
        return OUTCOME_FAULT;
    }
    run->hand_count = jobs;
    run->hiring.hands = run->hands;
    run->hiring.count = jobs;
    enum outcome outcome = record_count(run->fleet->record, false, &progress->total, count);
    if (outcome == OUTCOME_DONE) {
        outcome = record_count(run->fleet->record, true, &progress->settled, count);
    }
    progress->blocked = count[FLEET_BLOCKED];
    progress->undecided = count[FLEET_UNDECIDED];
    progress->errors = count[FLEET_ERROR];
    progress->talk = run->labour->talk;
    progress->stream = run->labour->talk_to;
    run->committed_s = clock_now_s();
    progress_begin(progress, run->committed_s);
    progress_show(progress, run->committed_s);
    return outcome;
}

static enum outcome end(struct run *run, enum outcome outcome) {
    progress_end(&run->progress);
    dismiss_all(run);
    if (outcome == OUTCOME_DONE && !run->stopped) {
        outcome = record_set_number(run->fleet->record, "finished", 1);
    }
    return outcome == OUTCOME_DONE ? record_commit(run->fleet->record) : outcome;
}

enum outcome fleet_run(struct fleet *fleet, const struct fleet_craft *craft,
                       const struct fleet_labour *labour, bool *stopped,
                       struct problems *problems) {
    struct run run = {.fleet = fleet,
                      .labour = labour,
                      .hiring = {.craft = craft, .memory_most = labour->memory_most}};
    sigset_t before;
    hold_signals(&run, &before);
    enum outcome outcome = begin(&run);
    if (outcome == OUTCOME_DONE) {
        outcome = labour_on(&run, problems);
    }
    outcome = end(&run, outcome);
    sigprocmask(SIG_SETMASK, &before, NULL);
    free(run.hands);
    free(run.polls);
    free(run.next.file);
    free(run.next.sheets);
    *stopped = run.stopped;
    return fleet_told(fleet, outcome, problems);
}
