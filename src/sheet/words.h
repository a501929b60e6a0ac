/* The one table from the words of files (keys, rule names) to the words of the trade, and which of
 * the former must never be seen on a sheet, a drawing or a page.
 */
#ifndef RUDDLE_SHEET_WORDS_H
#define RUDDLE_SHEET_WORDS_H

#include "check.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

struct word {
    const char *file;  /* as files say it */
    const char *sheet; /* as a sheet says it */
    bool kept_off;     /* the file's word must never be printed on a sheet */
};

/* The table, for walking; *count is how many.  Never NULL. */
const struct word *words_all(size_t *count);

/* What a sheet says for a word of the files; the word itself where the table has none. */
const char *words_for(const char *file);

/* What a sheet says for a rule: "foot's reach to its leg". */
const char *words_rule(enum rule rule);

/* LEFT or RIGHT as one faces the ridge: of a rake, and of the way in which x grows or shrinks. */
const char *words_side(const struct roof *roof, enum side side);
const char *words_way(const struct roof *roof, double along_x);

/* 1st, 2nd, 3rd, 4th, 11th ...  Returns buffer. */
enum { WORDS_ORDINAL = 24 };
const char *words_ordinal(char buffer[WORDS_ORDINAL], size_t number);

/* Writes text into out (cut to fit), every word that is kept off sheets replaced by the trade's;
 * the roof's own names are left as they are.  size > 0. */
void words_say(const struct roof *roof, const char *text, char *out, size_t size);

/* The first place of text that holds a word kept off sheets, or NULL. */
const char *words_kept_off(const char *text);

#endif
