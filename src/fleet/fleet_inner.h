/* What the files of this folder share.  Private to it. */
#ifndef RUDDLE_FLEET_INNER_H
#define RUDDLE_FLEET_INNER_H

#include "record.h"

struct fleet {
    struct record *record; /* owned */
    unsigned shard, shards;
    char *sheets;                /* owned: an absolute path; NULL: no sheets */
    char sheet[32], printed[32]; /* names, as of fleet_start; printed may be empty */
    size_t paged;                /* the page written last, and the number of the last row on it */
    uint64_t paged_to;           /* so that the next one need not count from the start */
};

/* What goes wrong with the record is told once, wherever it is noticed. */
enum outcome fleet_told(const struct fleet *fleet, enum outcome outcome, struct problems *problems);

/* The folder of a file's sheet; owned by the caller, NULL without memory or without sheets. */
char *fleet_sheet_folder(const struct fleet *fleet, const char *file);

#endif
