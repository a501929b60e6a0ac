#include "statements.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* What the head of the file says: whose it is, and how its tables are laid out. */
#define APPLICATION 0x52644c66
#define LAYOUT 1

static const char schema[] =
    "CREATE TABLE facts (name BLOB PRIMARY KEY, value BLOB) WITHOUT ROWID;"
    "CREATE TABLE roofs (file BLOB PRIMARY KEY, number INTEGER, settled INTEGER NOT NULL DEFAULT 0,"
    " digest INTEGER, sheets BLOB, status INTEGER, roof BLOB, forgiveness REAL, holes INTEGER,"
    " moved REAL, rule BLOB, mark BLOB, error BLOB, measure INTEGER, proved INTEGER, seconds REAL);"
    "CREATE INDEX roofs_by_number ON roofs (number);"
    "PRAGMA application_id = 1382304870; PRAGMA user_version = 1;";

/* Lists that are of use to one run only. */
static const char scratch[] =
    "CREATE TEMP TABLE seen (file BLOB PRIMARY KEY) WITHOUT ROWID;"
    "CREATE TEMP TABLE names (level INTEGER, name BLOB, PRIMARY KEY (level, name)) WITHOUT ROWID;";

#define ROW_COLUMNS                                                                                \
    "status, roof, forgiveness, holes, moved, rule, mark, error, measure, proved, seconds"

static const char *const texts[SQL_STATEMENT_COUNT] = {
    [SQL_BEGIN] = "BEGIN",
    [SQL_COMMIT] = "COMMIT",
    [SQL_SET_FACT] = "INSERT OR REPLACE INTO facts VALUES (?, ?)",
    [SQL_FACT] = "SELECT value FROM facts WHERE name = ?",
    [SQL_UNLIST] = "UPDATE roofs SET number = NULL, settled = 0",
    [SQL_FORGET_SEEN] = "DELETE FROM seen",
    [SQL_SEE] = "INSERT OR IGNORE INTO seen VALUES (?)",
    [SQL_LIST] = "INSERT INTO roofs (file, number) VALUES (?, ?)"
                 " ON CONFLICT (file) DO UPDATE SET number = excluded.number",
    [SQL_LIST_ERROR] = "INSERT OR REPLACE INTO roofs (file, number, settled, status, error)"
                       " VALUES (?, ?, 1, 3, ?)",
    [SQL_DROP_UNLISTED] = "DELETE FROM roofs WHERE number IS NULL",
    [SQL_NEXT] = "SELECT number, file, sheets, digest, status FROM roofs"
                 " WHERE number > ? AND settled = 0 ORDER BY number LIMIT 1",
    [SQL_STORE] = "UPDATE roofs SET settled = 1, digest = ?2, sheets = ?3, status = ?4, roof = ?5,"
                  " forgiveness = ?6, holes = ?7, moved = ?8, rule = ?9, mark = ?10, error = ?11,"
                  " measure = ?12, proved = ?13, seconds = ?14 WHERE number = ?1",
    [SQL_KEEP] = "UPDATE roofs SET settled = 1 WHERE number = ?",
    [SQL_COUNT] = "SELECT status, count(*) FROM roofs WHERE number IS NOT NULL AND settled >= ?"
                  " GROUP BY status",
    [SQL_EACH] = "SELECT number, file, sheets, " ROW_COLUMNS " FROM roofs"
                 " WHERE number > ? AND status IS NOT NULL ORDER BY number LIMIT ? OFFSET ?",
    [SQL_RULES] = "SELECT rule, count(*) AS roofs FROM roofs WHERE number IS NOT NULL"
                  " AND status = 1 GROUP BY rule ORDER BY roofs DESC, rule LIMIT ?",
    [SQL_SLOWEST] = "SELECT file, seconds FROM roofs WHERE number IS NOT NULL AND seconds > 0"
                    " ORDER BY seconds DESC, number LIMIT ?",
    [SQL_PUSH_NAME] = "INSERT OR IGNORE INTO names VALUES (?, ?)",
    [SQL_FIRST_NAME] = "SELECT name FROM names WHERE level = ? ORDER BY name LIMIT 1",
    [SQL_DROP_NAME] = "DELETE FROM names WHERE level = ? AND name = ?",
};

sqlite3_stmt *statement_of(struct record *record, enum statement which) {
    sqlite3_stmt **kept = &record->statements[which];
    if (*kept == NULL && sqlite3_prepare_v3(record->base, texts[which], -1,
                                            SQLITE_PREPARE_PERSISTENT, kept, NULL) != SQLITE_OK) {
        return NULL;
    }
    return *kept;
}

enum outcome statement_run(sqlite3_stmt *statement) {
    if (statement == NULL) {
        return OUTCOME_FAULT;
    }
    const int step = sqlite3_step(statement);
    const int reset = sqlite3_reset(statement);
    sqlite3_clear_bindings(statement);
    return step == SQLITE_DONE && reset == SQLITE_OK ? OUTCOME_DONE : OUTCOME_FAULT;
}

bool statement_bind_text(sqlite3_stmt *statement, int place, const char *text) {
    if (statement == NULL) {
        return false;
    }
    const int code = text == NULL ? sqlite3_bind_null(statement, place)
                                  : sqlite3_bind_blob64(statement, place, text, strlen(text) + 1,
                                                        SQLITE_TRANSIENT);
    return code == SQLITE_OK;
}

const char *statement_text(sqlite3_stmt *statement, int column) {
    return sqlite3_column_blob(statement, column);
}

/* ---- Opening and closing -------------------------------------------------------------------- */

static enum outcome run_text(struct record *record, const char *text) {
    return sqlite3_exec(record->base, text, NULL, NULL, NULL) == SQLITE_OK ? OUTCOME_DONE
                                                                           : OUTCOME_FAULT;
}

/* A number that a PRAGMA tells; -1 where it cannot. */
static int64_t pragma(struct record *record, const char *text) {
    sqlite3_stmt *statement = NULL;
    int64_t number = -1;
    if (sqlite3_prepare_v2(record->base, text, -1, &statement, NULL) == SQLITE_OK &&
        sqlite3_step(statement) == SQLITE_ROW) {
        number = sqlite3_column_int64(statement, 0);
    }
    sqlite3_finalize(statement);
    return number;
}

void record_tell(const struct record *record, struct problems *problems) {
    const int code = sqlite3_errcode(record->base) & 0xff;
    if (code == SQLITE_OK || code == SQLITE_ROW || code == SQLITE_DONE) {
        return; /* it was not SQLite: memory ran out, which is told where nothing else is */
    }
    problems_add(problems, record->path, 0, NULL, sqlite3_errmsg(record->base),
                 code == SQLITE_FULL ? "room for the record of what is done"
                                     : "a record of what is done that can be read and written");
}

/* Why a file could not be opened: whoever asks wants to know whose fault it is. */
static enum outcome refuse(const struct record *record, struct problems *problems) {
    const int code = sqlite3_errcode(record->base) & 0xff;
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED) {
        problems_add(problems, record->path, 0, NULL, NULL,
                     "one run at a time: another one is at work on this report");
        return OUTCOME_BAD_INPUT;
    }
    if (code == SQLITE_NOTADB || code == SQLITE_OK) {
        problems_add(problems, record->path, 0, NULL, NULL,
                     "a record of this program; this file is something else: move it away");
        return OUTCOME_BAD_INPUT;
    }
    record_tell(record, problems);
    return OUTCOME_FAULT;
}

/* Locked for this process from the first statement on.  A commit is in the write-ahead log when it
 * comes back: a killed process loses nothing of it.  The log is not forced to the disk each time,
 * so that a power cut may take the last commits: those roofs are then done again. */
static const char ways[] = "PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = WAL;"
                           "PRAGMA synchronous = NORMAL; PRAGMA temp_store = FILE;"
                           "PRAGMA main.cache_size = -512; PRAGMA temp.cache_size = -512;";

/* Makes the tables where the file is new, or looks whether it is ours. */
static enum outcome make_tables(struct record *record, enum record_mode mode,
                                struct problems *problems) {
    const int64_t tables = pragma(record, "SELECT count(*) FROM sqlite_schema");
    if (tables < 0) {
        return refuse(record, problems);
    }
    if (mode == RECORD_READ && tables > 0 && pragma(record, "PRAGMA user_version") == LAYOUT) {
        return run_text(record, "BEGIN") == OUTCOME_DONE ? OUTCOME_DONE : refuse(record, problems);
    }
    if (mode == RECORD_READ) {
        return refuse(record, problems);
    }
    if (tables > 0 && (pragma(record, "PRAGMA application_id") != APPLICATION ||
                       pragma(record, "PRAGMA user_version") != LAYOUT)) {
        return refuse(record, problems);
    }
    bool good = run_text(record, ways) == OUTCOME_DONE &&
                run_text(record, "BEGIN IMMEDIATE") == OUTCOME_DONE;
    if (good && tables == 0) {
        good = run_text(record, schema) == OUTCOME_DONE;
    } else if (good && mode == RECORD_ANEW) {
        good = run_text(record, "DELETE FROM roofs; DELETE FROM facts;") == OUTCOME_DONE;
    }
    good = good && run_text(record, scratch) == OUTCOME_DONE;
    return good ? OUTCOME_DONE : refuse(record, problems);
}

enum outcome record_open(const char *path, enum record_mode mode, struct record **record,
                         struct problems *problems) {
    struct record *made = calloc(1, sizeof *made);
    if (made == NULL) {
        return OUTCOME_FAULT;
    }
    made->path = strdup(path == NULL ? "the list of what is done" : path);
    const int code = sqlite3_open_v2(
        path == NULL ? "" : path, &made->base,
        mode == RECORD_READ ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE,
        NULL);
    enum outcome outcome = OUTCOME_FAULT;
    if (made->base != NULL && made->path != NULL) {
        outcome = code == SQLITE_OK ? make_tables(made, mode, problems) : refuse(made, problems);
    }
    if (outcome == OUTCOME_DONE) {
        *record = made;
    } else {
        sqlite3_close(made->base);
        free(made->path);
        free(made);
    }
    return outcome;
}

enum outcome record_close(struct record *record, struct problems *problems) {
    if (record == NULL) {
        return OUTCOME_DONE;
    }
    enum outcome outcome = OUTCOME_DONE;
    /* None is open where SQLite gave it up: whoever was there then has told why. */
    if (sqlite3_get_autocommit(record->base) == 0) {
        outcome = statement_run(statement_of(record, SQL_COMMIT));
    }
    if (outcome != OUTCOME_DONE && problems->total == 0) {
        record_tell(record, problems);
    }
    for (int i = 0; i < SQL_STATEMENT_COUNT; i++) {
        sqlite3_finalize(record->statements[i]);
    }
    /* One plain file, so that it can be copied and read where nothing may be written. */
    (void)run_text(record, "PRAGMA journal_mode = DELETE");
    sqlite3_close(record->base);
    free(record->path);
    free(record);
    return outcome;
}

enum outcome record_commit(struct record *record) {
    enum outcome outcome = statement_run(statement_of(record, SQL_COMMIT));
    if (outcome == OUTCOME_DONE) {
        outcome = statement_run(statement_of(record, SQL_BEGIN));
    }
    return outcome;
}

/* ---- Facts ---------------------------------------------------------------------------------- */

enum outcome record_set_fact(struct record *record, const char *name, const char *text) {
    sqlite3_stmt *statement = statement_of(record, SQL_SET_FACT);
    const bool bound =
        statement_bind_text(statement, 1, name) && statement_bind_text(statement, 2, text);
    return bound ? statement_run(statement) : OUTCOME_FAULT;
}

enum outcome record_fact(struct record *record, const char *name, char *text, size_t size) {
    sqlite3_stmt *statement = statement_of(record, SQL_FACT);
    if (!statement_bind_text(statement, 1, name)) {
        return OUTCOME_FAULT;
    }
    text[0] = '\0';
    const int step = sqlite3_step(statement);
    const char *found = step == SQLITE_ROW ? statement_text(statement, 0) : NULL;
    if (found != NULL) {
        snprintf(text, size, "%s", found);
    }
    sqlite3_reset(statement);
    return step == SQLITE_ROW || step == SQLITE_DONE ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome record_set_number(struct record *record, const char *name, uint64_t number) {
    char text[24];
    snprintf(text, sizeof text, "%" PRIu64, number);
    return record_set_fact(record, name, text);
}

enum outcome record_number(struct record *record, const char *name, uint64_t *number) {
    char text[24];
    const enum outcome outcome = record_fact(record, name, text, sizeof text);
    if (outcome == OUTCOME_DONE) {
        *number = strtoull(text, NULL, 10);
    }
    return outcome;
}
