/* A fleet from its record: opened, merged from shards, closed. */
/* For realpath. */
#define _XOPEN_SOURCE 700
#include "fleet_inner.h"

#include <errno.h>
#include <inttypes.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define RECORD_TAIL ".record" /* of the record's name, behind the report's */

static const char *const status_words[] = {
    [FLEET_OK] = "ok",
    [FLEET_BLOCKED] = "blocked",
    [FLEET_UNDECIDED] = "undecided",
    [FLEET_ERROR] = "error",
};

const char *fleet_status_word(enum fleet_status status) {
    return status_words[status];
}

enum outcome fleet_told(const struct fleet *fleet, enum outcome outcome,
                        struct problems *problems) {
    if (outcome == OUTCOME_FAULT && problems->total == 0) {
        record_tell(fleet->record, problems);
    }
    return outcome;
}

/* The name of a report's record; owned by the caller, NULL without memory. */
static char *record_name(const char *report) {
    const size_t room = strlen(report) + sizeof RECORD_TAIL;
    char *name = malloc(room);
    if (name != NULL) {
        snprintf(name, room, "%s" RECORD_TAIL, report);
    }
    return name;
}

char *fleet_sheet_folder(const struct fleet *fleet, const char *file) {
    char *name = fleet->sheets == NULL ? NULL : fleet_folder_name(file);
    char *path = NULL;
    if (name != NULL) {
        const size_t room = strlen(fleet->sheets) + strlen(name) + 2;
        path = malloc(room);
        if (path != NULL) {
            snprintf(path, room, "%s/%s", fleet->sheets, name);
        }
    }
    free(name);
    return path;
}

/* ---- Opening -------------------------------------------------------------------------------- */

static enum outcome open_record(const struct fleet_start *start, struct fleet *fleet,
                                struct problems *problems) {
    char *name = start->report == NULL ? NULL : record_name(start->report);
    if (start->report != NULL && name == NULL) {
        return OUTCOME_FAULT;
    }
    const enum record_mode mode = start->resume ? RECORD_KEEP : RECORD_ANEW;
    const enum outcome outcome = record_open(name, mode, &fleet->record, problems);
    free(name);
    return outcome;
}

/* Where sheets go, so that it can be told later whether it is the same place. */
static enum outcome take_sheets(const char *sheets, struct fleet *fleet,
                                struct problems *problems) {
    if (sheets == NULL) {
        return OUTCOME_DONE;
    }
    if (mkdir(sheets, 0777) != 0 && errno != EEXIST) {
        problems_add(problems, sheets, 0, NULL, strerror(errno),
                     "a folder that is there or can be made");
        return OUTCOME_FAULT;
    }
    fleet->sheets = realpath(sheets, NULL);
    return fleet->sheets != NULL ? OUTCOME_DONE : OUTCOME_FAULT;
}

static enum outcome put_facts(struct fleet *fleet, const struct fleet_start *start) {
    struct record *record = fleet->record;
    const bool put = record_set_number(record, "shard", start->shard) == OUTCOME_DONE &&
                     record_set_number(record, "shards", start->shards) == OUTCOME_DONE &&
                     record_set_fact(record, "settings", start->settings) == OUTCOME_DONE &&
                     record_set_number(record, "finished", 0) == OUTCOME_DONE &&
                     record_list_anew(record) == OUTCOME_DONE;
    return put ? record_commit(record) : OUTCOME_FAULT;
}

static void discard(struct fleet *fleet) {
    struct problems unheard = {0}; /* the first ones count */
    (void)fleet_close(fleet, &unheard);
    problems_free(&unheard);
}

enum outcome fleet_open(const struct fleet_start *start, struct fleet **fleet,
                        struct problems *problems) {
    struct fleet *made = calloc(1, sizeof *made);
    if (made == NULL) {
        return OUTCOME_FAULT;
    }
    made->shard = start->shard;
    made->shards = start->shards;
    snprintf(made->sheet, sizeof made->sheet, "%s", start->sheet == NULL ? "" : start->sheet);
    snprintf(made->printed, sizeof made->printed, "%s",
             start->printed == NULL ? "" : start->printed);
    enum outcome outcome = open_record(start, made, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = take_sheets(start->sheets, made, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = fleet_told(made, put_facts(made, start), problems);
    }
    if (outcome == OUTCOME_DONE) {
        *fleet = made;
    } else {
        discard(made);
    }
    return outcome;
}

enum outcome fleet_close(struct fleet *fleet, struct problems *problems) {
    if (fleet == NULL) {
        return OUTCOME_DONE;
    }
    const enum outcome outcome = record_close(fleet->record, problems);
    free(fleet->sheets);
    free(fleet);
    return outcome;
}

/* ---- Merging -------------------------------------------------------------------------------- */

/* What the shards seen so far say of themselves. */
struct merging {
    struct fleet *fleet;
    uint64_t shards, total;
    char settings[256];
    bool *seen; /* owned: which shards, from 0 */
    struct problems *problems;
};

struct shard {
    const char *report;
    struct record *record; /* owned */
    uint64_t shard, shards, total, finished;
    char settings[256];
};

static enum outcome read_shard(struct shard *shard) {
    const bool read = record_number(shard->record, "shard", &shard->shard) == OUTCOME_DONE &&
                      record_number(shard->record, "shards", &shard->shards) == OUTCOME_DONE &&
                      record_number(shard->record, "total", &shard->total) == OUTCOME_DONE &&
                      record_number(shard->record, "finished", &shard->finished) == OUTCOME_DONE &&
                      record_fact(shard->record, "settings", shard->settings,
                                  sizeof shard->settings) == OUTCOME_DONE;
    return read ? OUTCOME_DONE : OUTCOME_FAULT;
}

static enum outcome refuse(const struct shard *shard, const char *wanted,
                           struct problems *problems) {
    char found[48];
    snprintf(found, sizeof found, "shard %" PRIu64 "/%" PRIu64, shard->shard, shard->shards);
    problems_add(problems, shard->report, 0, NULL, found, wanted);
    return OUTCOME_BAD_INPUT;
}

/* Whether a shard fits those before it; the first one says what fits. */
static enum outcome judge_shard(struct merging *merging, const struct shard *shard) {
    if (shard->finished != 1) {
        return refuse(shard, "a finished shard; run it again with --resume", merging->problems);
    }
    if (merging->seen == NULL) {
        merging->shards = shard->shards;
        merging->total = shard->total;
        memcpy(merging->settings, shard->settings, sizeof merging->settings);
        merging->seen = calloc(shard->shards, sizeof *merging->seen);
        if (merging->seen == NULL) {
            return OUTCOME_FAULT;
        }
    }
    if (shard->shards != merging->shards) {
        return refuse(shard, "shards of one fleet, all of the same number", merging->problems);
    }
    if (shard->total != merging->total) {
        return refuse(shard,
                      "shards that saw the same files: the folders have changed between them",
                      merging->problems);
    }
    if (strcmp(shard->settings, merging->settings) != 0) {
        return refuse(shard, "shards that were run with the same options", merging->problems);
    }
    if (shard->shard < 1 || shard->shard > shard->shards || merging->seen[shard->shard - 1]) {
        return refuse(shard, "each shard once", merging->problems);
    }
    merging->seen[shard->shard - 1] = true;
    return OUTCOME_DONE;
}

static enum outcome take_over(void *taker, const struct record_row *row) {
    const struct fleet *fleet = taker;
    const enum outcome outcome = record_list(fleet->record, row->number, row->file, NULL);
    return outcome == OUTCOME_DONE
               ? record_store(fleet->record, row->number, &row->row, row->sheets)
               : outcome;
}

static enum outcome merge_one(struct merging *merging, const char *report) {
    struct shard shard = {.report = report};
    char *name = record_name(report);
    enum outcome outcome = OUTCOME_FAULT;
    if (name != NULL) {
        outcome = record_open(name, RECORD_READ, &shard.record, merging->problems);
    }
    free(name);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    outcome = read_shard(&shard);
    if (outcome == OUTCOME_DONE) {
        outcome = judge_shard(merging, &shard);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = record_each(shard.record, RECORD_ALL, take_over, merging->fleet);
    }
    if (outcome == OUTCOME_FAULT && merging->problems->total == 0) {
        record_tell(shard.record, merging->problems);
    }
    const enum outcome closed = record_close(shard.record, merging->problems);
    return outcome == OUTCOME_DONE ? closed : outcome;
}

static enum outcome want_all(const struct merging *merging) {
    for (uint64_t i = 0; i < merging->shards; i++) {
        if (!merging->seen[i]) {
            char wanted[80];
            snprintf(wanted, sizeof wanted, "the report of shard %" PRIu64 "/%" PRIu64 " as well",
                     i + 1, merging->shards);
            problems_add(merging->problems, "ruddle", 0, "--merge", NULL, wanted);
            return OUTCOME_BAD_INPUT;
        }
    }
    return OUTCOME_DONE;
}

enum outcome fleet_merge(struct fleet *fleet, const char *const *reports, size_t count,
                         struct problems *problems) {
    struct merging merging = {.fleet = fleet, .problems = problems};
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; outcome == OUTCOME_DONE && i < count; i++) {
        outcome = merge_one(&merging, reports[i]);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = want_all(&merging);
    }
    free(merging.seen);
    return fleet_told(fleet, outcome, problems);
}
