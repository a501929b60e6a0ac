/* What tests of fleets share: a folder of files, a craft that needs no roof, and runs that end in
 * the bytes of a report. */
#ifndef RUDDLE_FLEET_TRIAL_H
#define RUDDLE_FLEET_TRIAL_H

#include "fleet.h"
#include "run_program.h"

/* A craft that goes by the text of a file:
 *
 *     roof: NAME     a good row; its forgiveness is the text's length in sixteenths
 *     blocked: RULE  a blocked one
 *     late: NAME     a good row, after 50 ms
 *     crash:         the worker ends by SIGSEGV
 *     leave:         the worker ends with exit code 7
 *     hang:          the worker waits for ever
 *     hog:           the worker asks for memory until it gets none, and says so
 *     stop:          the worker sends SIGINT to the one who hired it, and waits
 *     kill:          somebody ends the worker by SIGKILL
 *
 * Its digest is that of the text; FILE.tally gets a byte each time that it is laid out. */
struct fleet_craft trial_craft(void);

struct trial_how {
    const char *report; /* NULL: none */
    bool resume;
    unsigned shard, shards; /* 0: 1 */
    unsigned jobs;          /* 0: 2 */
    double patience_s;      /* 0: 60 */
    const char *settings;   /* NULL: "the same" */
    const char *sheets;
};

/* Lays out what the paths name; the report as CSV, owned by the caller.  *stopped may be NULL. */
char *trial_run(const struct trial_how *how, const char *const *paths, size_t count, bool *stopped);

/* The same in steps, for whoever wants the fleet itself: opened with its files listed, run (true if
 * it was stopped), closed. */
struct fleet *trial_open(const struct trial_how *how, const char *const *paths, size_t count);
bool trial_labour(struct fleet *fleet, const struct trial_how *how);
void trial_close(struct fleet *fleet);

/* What a writer writes, owned by the caller. */
char *trial_text(enum outcome (*write)(const void *subject, FILE *stream), const void *subject);

/* Writes a file below a folder and makes the folders on the way. */
void trial_write(const char *folder, const char *name, const char *text);

/* Where a report tells of a file that ends so: its whole line, owned by the caller; NULL where it
 * tells nothing of it. */
char *trial_line(const char *report, const char *file_end);

/* How many lines a text has. */
size_t trial_lines(const char *text);

#endif
