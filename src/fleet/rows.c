/* Reports: every row, as CSV and as JSON. */
#include "fleet_inner.h"

#include "length.h"
#include "letter.h"
#include "markup.h"

#include <jansson.h>
#include <math.h>
#include <string.h>

/* ---- CSV (RFC 4180) -------------------------------------------------------------------------- */

/* A field, quoted where it has to be.  Spaces at its ends count, but not every reader keeps them
 * without quotes. */
static void put_field(FILE *stream, const char *text, const char *after) {
    const size_t length = strlen(text);
    const bool spaced = length > 0 && (text[0] == ' ' || text[length - 1] == ' ');
    if (spaced || strpbrk(text, ",\"") != NULL) {
        markup_put_quoted(stream, text);
    } else {
        fputs(markup_guard(text), stream);
        markup_put_plain(stream, text);
    }
    fputs(after, stream);
}

static void put_length(FILE *stream, double length, const char *after) {
    if (isfinite(length)) {
        fprintf(stream, "%.6f", length_settled(length));
    }
    fputs(after, stream);
}

static enum outcome put_csv(void *taker, const struct record_row *entry) {
    FILE *stream = taker;
    const struct fleet_row *row = &entry->row;
    const bool error = row->status == FLEET_ERROR;
    put_field(stream, entry->file, ",");
    put_field(stream, row->roof, ",");
    put_field(stream, fleet_status_word(row->status), ",");
    put_length(stream, row->forgiveness, ",");
    if (row->holes >= 0) {
        fprintf(stream, "%ld", row->holes);
    }
    fputs(",", stream);
    put_length(stream, row->moved, ",");
    put_field(stream, row->rule, ",");
    put_field(stream, row->mark, ",");
    put_field(stream, row->error, ",");
    put_field(stream, error ? "" : row->measure == MEASURE_MM ? "mm" : "in", ",");
    put_field(stream, error ? "" : row->proved ? "true" : "false", "\r\n");
    return ferror(stream) == 0 ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome fleet_write_csv(const void *subject, FILE *stream) {
    const struct fleet *fleet = subject;
    fputs("file,roof,status,forgiveness,holes,moved,rule,mark,error,measure,proved\r\n", stream);
    return record_each(fleet->record, RECORD_ALL, put_csv, stream);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

/* A text, null where it is empty; bytes that are no UTF-8 become question marks. */
static json_t *text_value(const char *text) {
    char plain[4200];
    json_t *value = text[0] == '\0' ? json_null() : json_string(text);
    if (value != NULL) {
        return value;
    }
    snprintf(plain, sizeof plain, "%s", text);
    for (char *at = plain; *at != '\0'; at++) {
        *at = ((unsigned char)*at & 0x80u) != 0 ? '?' : *at;
    }
    return json_string(plain);
}

static json_t *length_value(double length) {
    return isfinite(length) ? json_real(length_settled(length)) : json_null();
}

static json_t *row_value(const struct record_row *entry) {
    const struct fleet_row *row = &entry->row;
    const bool error = row->status == FLEET_ERROR;
    return json_pack("{s:o, s:o, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "file",
                     text_value(entry->file), "roof", text_value(row->roof), "status",
                     fleet_status_word(row->status), "forgiveness", length_value(row->forgiveness),
                     "holes", row->holes < 0 ? json_null() : json_integer(row->holes), "moved",
                     length_value(row->moved), "rule", text_value(row->rule), "mark",
                     text_value(row->mark), "error", text_value(row->error), "measure",
                     error ? json_null() : json_string(row->measure == MEASURE_MM ? "mm" : "in"),
                     "proved", error ? json_null() : json_boolean(row->proved));
}

/* False where a text holds what a terminal would obey or nobody would see: that is then written as
 * `\u202e`, the same text to whatever reads JSON. */
static bool is_shown(const char *text) {
    bool shown = true;
    for (size_t length = letter_step(text, &shown); shown && length > 0;
         length = letter_step(text, &shown)) {
        text += length;
    }
    return text[0] == '\0';
}

static enum outcome put_json(void *taker, const struct record_row *entry) {
    FILE *stream = taker;
    json_t *value = row_value(entry);
    const bool shown = is_shown(entry->file) && is_shown(entry->row.error);
    const size_t flags = JSON_REAL_PRECISION(15) | (shown ? 0 : JSON_ENSURE_ASCII);
    const bool whole = value != NULL && json_dumpf(value, stream, flags) == 0;
    json_decref(value);
    fputs("\n", stream);
    return whole && ferror(stream) == 0 ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome fleet_write_json(const void *subject, FILE *stream) {
    const struct fleet *fleet = subject;
    return record_each(fleet->record, RECORD_ALL, put_json, stream);
}
