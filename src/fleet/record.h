/* The record of a fleet: the only place that knows SQLite.  Private to this folder.
 *
 * What is stored is in the file once record_commit has come back: a process that is killed loses
 * nothing of it, a machine that loses its power perhaps the last commits, never more.  Every other
 * function works within the transaction that the last commit opened.
 */
#ifndef RUDDLE_FLEET_RECORD_H
#define RUDDLE_FLEET_RECORD_H

#include "fleet.h"

struct record;

enum record_mode {
    RECORD_ANEW, /* whatever was in it is forgotten */
    RECORD_KEEP, /* it stays; the file need not be there */
    RECORD_READ, /* nothing is changed, and the file must be there */
};

/* Opens the record at a path, or one that is gone when it is closed (NULL).  As fleet_open. */
enum outcome record_open(const char *path, enum record_mode mode, struct record **record,
                         struct problems *problems);
enum outcome record_close(struct record *record, struct problems *problems); /* accepts NULL */

/* Adds what SQLite says of the last FAULT.  Every function from here on returns DONE or FAULT. */
void record_tell(const struct record *record, struct problems *problems);

enum outcome record_commit(struct record *record);

/* Facts about the whole. */
enum outcome record_set_fact(struct record *record, const char *name, const char *text);
enum outcome record_fact(struct record *record, const char *name, char *text, size_t size);
enum outcome record_set_number(struct record *record, const char *name, uint64_t number);
enum outcome record_number(struct record *record, const char *name, uint64_t *number);

/* Nothing is listed any more, and nothing settled; rows stay for those listed again. */
enum outcome record_list_anew(struct record *record);

/* *fresh: the file has not been seen since record_list_anew. */
enum outcome record_see(struct record *record, const char *file, bool *fresh);

/* Lists a file under its place in the input, from 1.  With an error its row is that error, and
 * settled; NULL: none. */
enum outcome record_list(struct record *record, uint64_t number, const char *file,
                         const char *error);
enum outcome record_drop_unlisted(struct record *record);

/* A file that is not settled. */
struct record_task {
    uint64_t number;
    char *file; /* borrowed until the next call */
    bool known; /* a good row of an earlier run is there, of this status */
    enum fleet_status status;
    char *sheets; /* where its sheet was put then, or NULL; borrowed likewise */
    uint64_t digest;
};

/* The first one behind that number; task->number is 0 where there is none. */
enum outcome record_next(struct record *record, uint64_t after, struct record_task *task);

/* Settles a file: with a new row, or with the one it has. */
enum outcome record_store(struct record *record, uint64_t number, const struct fleet_row *row,
                          const char *sheets);
enum outcome record_keep(struct record *record, uint64_t number);

/* How many are listed, and of those how many have a row of each status. */
enum outcome record_count(struct record *record, bool settled_only, size_t *listed,
                          size_t count[FLEET_STATUS_COUNT]);

/* Hands rows over in the order of the input: those numbered above `after`, less the first `skip` of
 * them, at most so many.  A taker that returns another outcome than DONE ends it with that one. */
struct record_span {
    uint64_t after;
    size_t skip, most;
};
#define RECORD_ALL ((struct record_span){.most = SIZE_MAX >> 1})
struct record_row {
    uint64_t number; /* its place in the input, from 1 */
    const char *file;
    const char *sheets; /* where its sheet is, or NULL */
    struct fleet_row row;
};
enum outcome record_each(struct record *record, struct record_span span,
                         enum outcome (*take)(void *taker, const struct record_row *row),
                         void *taker);

/* Figures for a summary. */
enum outcome record_rules(struct record *record, struct fleet_summary *summary);
enum outcome record_slowest(struct record *record, struct fleet_summary *summary);

/* Names in folders while they are walked: sorted, and not in memory. */
enum outcome record_push_name(struct record *record, uint64_t level, const char *name);
/* The first name of that level, taken off; NULL in *name where there is none.  Owned by the caller.
 */
enum outcome record_pop_name(struct record *record, uint64_t level, char **name);

#endif
