/* A fleet: many roofs, each laid out by a worker process of its own, one row each.
 *
 * What is done is kept in a record, an SQLite file beside the report, so that a run that was ended
 * at any moment can go on; reports and summaries are written from the record alone, in the order of
 * the input.  How one roof is laid out is none of this module's business: a craft does it.  Memory
 * does not grow with the number of roofs, in no process.
 */
#ifndef RUDDLE_FLEET_H
#define RUDDLE_FLEET_H

#include "length.h"
#include "problem.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

enum fleet_status {
    FLEET_OK,
    FLEET_BLOCKED,
    FLEET_UNDECIDED,
    FLEET_ERROR, /* the file cannot be used, or its worker came to grief */
    FLEET_STATUS_COUNT
};
const char *fleet_status_word(enum fleet_status status); /* as in a report: "ok" */

/* What came of one roof.  Texts end in NUL and are empty where there is nothing to say. */
struct fleet_row {
    enum fleet_status status;
    char roof[65];             /* its own name */
    double forgiveness, moved; /* in its own measure; NaN without marks */
    long holes;                /* -1 without marks */
    char rule[24], mark[168];  /* the tightest rule, or the one broken worst, and its mark */
    char error[720];           /* of an error: what is wrong; then all else is empty */
    enum measure measure;
    bool proved;
    uint64_t digest; /* of all that the row depends on; 0: not known */
    bool unchanged;  /* the task's digest still holds, so nothing was done again */
    bool fault;      /* the worker is no longer to be trusted: its memory ran out */
    double seconds;  /* it took; in no report */
};

/* What a worker is asked for. */
struct fleet_task {
    const char *file;
    const char *sheets; /* the folder that its sheet goes to; NULL: none is wanted */
    bool known;         /* it was done before, when digest held */
    uint64_t digest;
};

/* How a roof is laid out.  begin makes a bench in each worker (NULL: no memory), end clears it. */
struct fleet_craft {
    void *(*begin)(const void *order);
    void (*lay_out)(void *bench, const struct fleet_task *task, struct fleet_row *row);
    void (*end)(void *bench);
    const void *order; /* borrowed; handed to begin */
};

struct fleet; /* its record is open */

struct fleet_start {
    const char *report;     /* the record goes beside it; NULL: it is forgotten at the end */
    bool resume;            /* go on with the record that is there, if there is one */
    unsigned shard, shards; /* every shards-th file from the shard-th, from 1 */
    const char *settings;   /* whatever all shards of one fleet must have in common, as text */
    const char *sheets;     /* the folder below which every roof's sheet has its own; NULL: none */
    const char *sheet;   /* its name there: pages lead to it, and a roof without it is done again */
    const char *printed; /* the same sheet on paper, that pages lead to as well; NULL: none */
};

/* Opens the record.  BAD_INPUT: it is another program's, or another run is at work on it.  FAULT:
 * no memory, no room.  *fleet is untouched unless DONE; closed with fleet_close. */
enum outcome fleet_open(const struct fleet_start *start, struct fleet **fleet,
                        struct problems *problems);

/* Closes it; accepts NULL.  FAULT: what was last put into the record may not be there. */
enum outcome fleet_close(struct fleet *fleet, struct problems *problems);

/* Lists the roof files that the paths name, and those in the folders they name: depth first,
 * entries in the order of their bytes; kit files are passed over in folders.  A file named twice is
 * listed once.  What cannot be looked into becomes an error row. */
enum outcome fleet_list(struct fleet *fleet, const char *const *paths, size_t count,
                        struct problems *problems);

/* What is being done, for whoever waits. */
enum fleet_talk { FLEET_SILENT, FLEET_LINES, FLEET_BAR };

struct fleet_labour {
    unsigned jobs;        /* workers; 0: one for each core that this process may use */
    double patience_s;    /* a roof that takes longer by the clock is an error */
    uint64_t memory_most; /* bytes that a worker may have; 0: no limit */
    enum fleet_talk talk;
    FILE *talk_to;
};

/* Lays out whatever is listed and not done.  *stopped: a signal (INT, TERM, HUP) ended it early;
 * what is done is in the record.  FAULT: the record cannot be written, no worker can be had. */
enum outcome fleet_run(struct fleet *fleet, const struct fleet_craft *craft,
                       const struct fleet_labour *labour, bool *stopped, struct problems *problems);

/* Takes over the rows of all shards of one fleet, from the records beside their reports.
 * BAD_INPUT: one is missing, doubled, unfinished or of another fleet; problems says which. */
enum outcome fleet_merge(struct fleet *fleet, const char *const *reports, size_t count,
                         struct problems *problems);

/* Every row in the order of the input.  `subject` is a struct fleet.  The same bytes from the same
 * rows.  FAULT: the record cannot be read or no memory; a failed write shows on the stream. */
enum outcome fleet_write_csv(const void *subject, FILE *stream);  /* RFC 4180 */
enum outcome fleet_write_json(const void *subject, FILE *stream); /* one object a line */

enum { FLEET_RULES_MOST = 24, FLEET_SLOWEST = 10, FLEET_BINS = 10 };

struct fleet_summary {
    size_t listed;                    /* in this shard */
    size_t count[FLEET_STATUS_COUNT]; /* done, by status */
    size_t without_marks;             /* blocked ones on which nothing can be placed at all */
    struct fleet_rule {
        char rule[24];
        size_t count;
    } rules[FLEET_RULES_MOST]; /* of the blocked ones, most frequent first */
    size_t rule_count;
    size_t bins[FLEET_BINS]; /* how many have so much forgiveness, see fleet_bin_text */
    struct fleet_slow {
        char file[512]; /* the end of a longer one */
        double seconds;
    } slowest[FLEET_SLOWEST];
    size_t slow_count;
};

/* The bin that a forgiveness in inches falls into, and what it is called: "1/8 to 3/16". */
size_t fleet_bin(double inches);
const char *fleet_bin_text(size_t bin);
bool fleet_bin_works(size_t bin); /* false: below zero */

/* FAULT: the record cannot be read.  *summary is untouched unless DONE. */
enum outcome fleet_summarise(struct fleet *fleet, struct fleet_summary *summary,
                             struct problems *problems);

/* The summary as text, 80 columns wide, in the words of a sheet. */
enum outcome fleet_write_summary(const void *subject, FILE *stream); /* a struct fleet_summary */

/* Pages for a browser: counts, a plot, and a table of roofs with links to their sheets, so many a
 * page.  Page 1 is summary.html, the others summary-2.html and so on; all lie in the folder of the
 * sheets. */
enum { FLEET_PAGE_ROOFS = 1000 };
struct fleet_page {
    struct fleet *fleet;
    const struct fleet_summary *summary;
    size_t number; /* from 1 */
};
size_t fleet_pages(const struct fleet_summary *summary); /* how many; at least 1 */
enum { FLEET_PAGE_NAME = 40 };
const char *fleet_page_name(char name[FLEET_PAGE_NAME], size_t number);
enum outcome fleet_write_page(const void *subject, FILE *stream); /* a struct fleet_page */

/* The name of a roof's own folder: one part of a path, safe in shells and addresses, another for
 * every other file.  Owned by the caller; NULL: no memory. */
char *fleet_folder_name(const char *file);

#endif
