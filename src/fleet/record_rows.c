/* The rows of a record: listed, settled, handed over. */
#include "statements.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Copies a text that may be missing. */
static void take_text(char *to, size_t size, const char *text) {
    snprintf(to, size, "%s", text == NULL ? "" : text);
}

static bool bind_number(sqlite3_stmt *statement, int place, uint64_t number) {
    return statement != NULL &&
           sqlite3_bind_int64(statement, place, (sqlite3_int64)number) == SQLITE_OK;
}

/* NaN is NULL to SQLite. */
static bool bind_real(sqlite3_stmt *statement, int place, double number) {
    return statement != NULL && sqlite3_bind_double(statement, place, number) == SQLITE_OK;
}

/* ---- Listing -------------------------------------------------------------------------------- */

enum outcome record_list_anew(struct record *record) {
    enum outcome outcome = statement_run(statement_of(record, SQL_UNLIST));
    if (outcome == OUTCOME_DONE) {
        outcome = statement_run(statement_of(record, SQL_FORGET_SEEN));
    }
    return outcome;
}

enum outcome record_see(struct record *record, const char *file, bool *fresh) {
    sqlite3_stmt *statement = statement_of(record, SQL_SEE);
    if (!statement_bind_text(statement, 1, file)) {
        return OUTCOME_FAULT;
    }
    const enum outcome outcome = statement_run(statement);
    *fresh = outcome == OUTCOME_DONE && sqlite3_changes(record->base) > 0;
    return outcome;
}

enum outcome record_list(struct record *record, uint64_t number, const char *file,
                         const char *error) {
    sqlite3_stmt *statement = statement_of(record, error == NULL ? SQL_LIST : SQL_LIST_ERROR);
    bool bound = statement_bind_text(statement, 1, file) && bind_number(statement, 2, number);
    if (error != NULL) {
        bound = bound && statement_bind_text(statement, 3, error);
    }
    return bound ? statement_run(statement) : OUTCOME_FAULT;
}

enum outcome record_drop_unlisted(struct record *record) {
    return statement_run(statement_of(record, SQL_DROP_UNLISTED));
}

/* ---- Names of folders under way -------------------------------------------------------------- */

enum outcome record_push_name(struct record *record, uint64_t level, const char *name) {
    sqlite3_stmt *statement = statement_of(record, SQL_PUSH_NAME);
    const bool bound = bind_number(statement, 1, level) && statement_bind_text(statement, 2, name);
    return bound ? statement_run(statement) : OUTCOME_FAULT;
}

enum outcome record_pop_name(struct record *record, uint64_t level, char **name) {
    sqlite3_stmt *first = statement_of(record, SQL_FIRST_NAME);
    sqlite3_stmt *drop = statement_of(record, SQL_DROP_NAME);
    *name = NULL;
    if (!bind_number(first, 1, level)) {
        return OUTCOME_FAULT;
    }
    const int step = sqlite3_step(first);
    char *found = step == SQLITE_ROW ? strdup(statement_text(first, 0)) : NULL;
    sqlite3_reset(first);
    if (step == SQLITE_DONE) {
        return OUTCOME_DONE;
    }
    if (found == NULL || !bind_number(drop, 1, level) || !statement_bind_text(drop, 2, found) ||
        statement_run(drop) != OUTCOME_DONE) {
        free(found);
        return OUTCOME_FAULT;
    }
    *name = found;
    return OUTCOME_DONE;
}

/* ---- Settling ------------------------------------------------------------------------------- */

enum outcome record_next(struct record *record, uint64_t after, struct record_task *task) {
    sqlite3_stmt *statement = statement_of(record, SQL_NEXT);
    free(task->file);
    free(task->sheets);
    *task = (struct record_task){.number = 0};
    if (!bind_number(statement, 1, after)) {
        return OUTCOME_FAULT;
    }
    const int step = sqlite3_step(statement);
    enum outcome outcome = step == SQLITE_ROW || step == SQLITE_DONE ? OUTCOME_DONE : OUTCOME_FAULT;
    if (step == SQLITE_ROW) {
        const char *sheets = statement_text(statement, 2);
        task->number = (uint64_t)sqlite3_column_int64(statement, 0);
        task->file = strdup(statement_text(statement, 1));
        task->sheets = sheets == NULL ? NULL : strdup(sheets);
        task->digest = (uint64_t)sqlite3_column_int64(statement, 3);
        task->known = sqlite3_column_type(statement, 4) != SQLITE_NULL &&
                      sqlite3_column_int(statement, 4) != FLEET_ERROR && task->digest != 0;
        task->status = (enum fleet_status)sqlite3_column_int(statement, 4);
        if (task->file == NULL || (sheets != NULL && task->sheets == NULL)) {
            outcome = OUTCOME_FAULT;
        }
    }
    sqlite3_reset(statement);
    return outcome;
}

enum outcome record_store(struct record *record, uint64_t number, const struct fleet_row *row,
                          const char *sheets) {
    sqlite3_stmt *statement = statement_of(record, SQL_STORE);
    const bool bound =
        bind_number(statement, 1, number) && bind_number(statement, 2, row->digest) &&
        statement_bind_text(statement, 3, sheets) &&
        bind_number(statement, 4, (uint64_t)row->status) &&
        statement_bind_text(statement, 5, row->roof) && bind_real(statement, 6, row->forgiveness) &&
        sqlite3_bind_int64(statement, 7, row->holes) == SQLITE_OK &&
        bind_real(statement, 8, row->moved) && statement_bind_text(statement, 9, row->rule) &&
        statement_bind_text(statement, 10, row->mark) &&
        statement_bind_text(statement, 11, row->error) &&
        bind_number(statement, 12, (uint64_t)row->measure) &&
        bind_number(statement, 13, row->proved ? 1 : 0) && bind_real(statement, 14, row->seconds);
    return bound ? statement_run(statement) : OUTCOME_FAULT;
}

enum outcome record_keep(struct record *record, uint64_t number) {
    sqlite3_stmt *statement = statement_of(record, SQL_KEEP);
    return bind_number(statement, 1, number) ? statement_run(statement) : OUTCOME_FAULT;
}

/* ---- Handing over ---------------------------------------------------------------------------- */

static double real_of(sqlite3_stmt *statement, int column) {
    return sqlite3_column_type(statement, column) == SQLITE_NULL
               ? NAN
               : sqlite3_column_double(statement, column);
}

/* -1 where there is none, as in the row of what was never laid out. */
static long holes_of(sqlite3_stmt *statement, int column) {
    return sqlite3_column_type(statement, column) == SQLITE_NULL
               ? -1
               : (long)sqlite3_column_int64(statement, column);
}

/* The columns of a row from the `at`-th on. */
static void take_row(sqlite3_stmt *statement, int at, struct fleet_row *row) {
    *row = (struct fleet_row){.status = (enum fleet_status)sqlite3_column_int(statement, at),
                              .forgiveness = real_of(statement, at + 2),
                              .holes = holes_of(statement, at + 3),
                              .moved = real_of(statement, at + 4),
                              .measure = (enum measure)sqlite3_column_int(statement, at + 8),
                              .proved = sqlite3_column_int(statement, at + 9) != 0,
                              .seconds = sqlite3_column_double(statement, at + 10)};
    take_text(row->roof, sizeof row->roof, statement_text(statement, at + 1));
    take_text(row->rule, sizeof row->rule, statement_text(statement, at + 5));
    take_text(row->mark, sizeof row->mark, statement_text(statement, at + 6));
    take_text(row->error, sizeof row->error, statement_text(statement, at + 7));
}

enum outcome record_each(struct record *record, struct record_span span,
                         enum outcome (*take)(void *taker, const struct record_row *row),
                         void *taker) {
    sqlite3_stmt *statement = statement_of(record, SQL_EACH);
    if (!bind_number(statement, 1, span.after) || !bind_number(statement, 2, span.most) ||
        !bind_number(statement, 3, span.skip)) {
        return OUTCOME_FAULT;
    }
    enum outcome outcome = OUTCOME_DONE;
    int step = sqlite3_step(statement);
    while (outcome == OUTCOME_DONE && step == SQLITE_ROW) {
        struct record_row row = {.number = (uint64_t)sqlite3_column_int64(statement, 0),
                                 .file = statement_text(statement, 1),
                                 .sheets = statement_text(statement, 2)};
        take_row(statement, 3, &row.row);
        outcome = take(taker, &row);
        step = sqlite3_step(statement);
    }
    sqlite3_reset(statement);
    return outcome == OUTCOME_DONE && step != SQLITE_DONE ? OUTCOME_FAULT : outcome;
}

enum outcome record_count(struct record *record, bool settled_only, size_t *listed,
                          size_t count[FLEET_STATUS_COUNT]) {
    sqlite3_stmt *statement = statement_of(record, SQL_COUNT);
    if (!bind_number(statement, 1, settled_only ? 1 : 0)) {
        return OUTCOME_FAULT;
    }
    *listed = 0;
    memset(count, 0, FLEET_STATUS_COUNT * sizeof *count);
    int step = sqlite3_step(statement);
    for (; step == SQLITE_ROW; step = sqlite3_step(statement)) {
        const size_t roofs = (size_t)sqlite3_column_int64(statement, 1);
        const int status = sqlite3_column_int(statement, 0);
        *listed += roofs;
        if (sqlite3_column_type(statement, 0) != SQLITE_NULL && status >= 0 &&
            status < FLEET_STATUS_COUNT) {
            count[status] += roofs;
        }
    }
    sqlite3_reset(statement);
    return step == SQLITE_DONE ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome record_rules(struct record *record, struct fleet_summary *summary) {
    sqlite3_stmt *statement = statement_of(record, SQL_RULES);
    if (!bind_number(statement, 1, FLEET_RULES_MOST)) {
        return OUTCOME_FAULT;
    }
    int step = sqlite3_step(statement);
    for (; step == SQLITE_ROW; step = sqlite3_step(statement)) {
        const char *rule = statement_text(statement, 0);
        const size_t roofs = (size_t)sqlite3_column_int64(statement, 1);
        if (rule == NULL || rule[0] == '\0') {
            summary->without_marks += roofs;
        } else {
            struct fleet_rule *kept = &summary->rules[summary->rule_count++];
            take_text(kept->rule, sizeof kept->rule, rule);
            kept->count = roofs;
        }
    }
    sqlite3_reset(statement);
    return step == SQLITE_DONE ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome record_slowest(struct record *record, struct fleet_summary *summary) {
    sqlite3_stmt *statement = statement_of(record, SQL_SLOWEST);
    if (!bind_number(statement, 1, FLEET_SLOWEST)) {
        return OUTCOME_FAULT;
    }
    int step = sqlite3_step(statement);
    for (; step == SQLITE_ROW; step = sqlite3_step(statement)) {
        struct fleet_slow *slow = &summary->slowest[summary->slow_count++];
        const char *file = statement_text(statement, 0);
        const size_t length = strlen(file);
        const size_t cut = length < sizeof slow->file ? 0 : length - sizeof slow->file + 1;
        take_text(slow->file, sizeof slow->file, file + cut);
        slow->seconds = sqlite3_column_double(statement, 1);
    }
    sqlite3_reset(statement);
    return step == SQLITE_DONE ? OUTCOME_DONE : OUTCOME_FAULT;
}
