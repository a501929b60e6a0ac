/* SQL, as the record's files share it.  Private to the record. */
#ifndef RUDDLE_FLEET_STATEMENTS_H
#define RUDDLE_FLEET_STATEMENTS_H

#include "record.h"

#include <sqlite3.h>

enum statement {
    SQL_BEGIN,
    SQL_COMMIT,
    SQL_SET_FACT,
    SQL_FACT,
    SQL_UNLIST,
    SQL_FORGET_SEEN,
    SQL_SEE,
    SQL_LIST,
    SQL_LIST_ERROR,
    SQL_DROP_UNLISTED,
    SQL_NEXT,
    SQL_STORE,
    SQL_KEEP,
    SQL_COUNT,
    SQL_EACH,
    SQL_RULES,
    SQL_SLOWEST,
    SQL_PUSH_NAME,
    SQL_FIRST_NAME,
    SQL_DROP_NAME,
    SQL_STATEMENT_COUNT
};

struct record {
    sqlite3 *base;
    char *path; /* owned; as in messages */
    sqlite3_stmt *statements[SQL_STATEMENT_COUNT];
};

/* A statement ready to be bound and stepped; NULL where it cannot be prepared. */
sqlite3_stmt *statement_of(struct record *record, enum statement which);

/* Steps a statement that gives no rows, and resets it. */
enum outcome statement_run(sqlite3_stmt *statement);

/* Texts are bytes to SQLite: they are compared as bytes, and need not be UTF-8.  NULL: none. */
bool statement_bind_text(sqlite3_stmt *statement, int place, const char *text);

/* The bytes of a column as a text; NULL where it is NULL.  Borrowed until the next step. */
const char *statement_text(sqlite3_stmt *statement, int column);

#endif
