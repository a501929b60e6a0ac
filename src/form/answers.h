/* The answers so far, and the file that they make: every answer one line of it. */
#ifndef RUDDLE_FORM_ANSWERS_H
#define RUDDLE_FORM_ANSWERS_H

#include "problem.h"
#include "terminal.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { ANSWERS_PATH = 48, ANSWERS_MOST = 4000 };

/* One answer.  Its path is written as in messages: rafters.list[2].at; entries count from 1. */
struct answered_key {
    char path[ANSWERS_PATH];
    char value[TERMINAL_LINE]; /* as it was typed; "" where it was left out */
    bool left_out;
    int line; /* of the file that it was read from; 0: from none */
};

/* Starts as {0}; freed with answers_free. */
struct answers {
    struct answered_key *list; /* owned */
    size_t count, room;
};

void answers_free(struct answers *answers); /* leaves {0} */

/* NULL: not answered yet. */
const struct answered_key *answers_find(const struct answers *answers, const char *path);

/* Answers a question, or answers it anew; a NULL value leaves it out.  FAULT: no memory, or more
 * than ANSWERS_MOST. */
enum outcome answers_set(struct answers *answers, const char *path, const char *value);

/* As if it had never been answered. */
void answers_drop(struct answers *answers, const char *path);

/* Writes keys one after the other as YAML.  Starts as {.stream = ...}.  What belongs together has
 * to come together. */
struct answers_writer {
    FILE *stream;
    char before[ANSWERS_PATH]; /* the path written last */
};
void answers_write(struct answers_writer *writer, const char *path, const char *value);

/* That a question was answered by leaving it out: a comment. */
void answers_write_left_out(struct answers_writer *writer, const char *path);

/* The first line of every such file. */
extern const char answers_head[];

/* Reads back what was written.  BAD_INPUT: a line is none of ours; problems says which.  FAULT: no
 * memory.  answers is freed by the caller whatever the outcome. */
enum outcome answers_read(const char *file, const char *text, struct answers *answers,
                          struct problems *problems);

#endif
