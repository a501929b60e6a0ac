/* Somebody who types at the program: a terminal of its own for the tests of what asks. */
#ifndef RUDDLE_TESTS_TYPIST_H
#define RUDDLE_TESTS_TYPIST_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

#define TYPIST_CTRL_C "\003"
#define TYPIST_END_OF_INPUT "\004"

enum { TYPIST_TEXT = 1 << 17 };

struct typist {
    int master; /* owned */
    pid_t child;
    char text[TYPIST_TEXT]; /* everything seen so far, what was typed too */
    size_t used;
    size_t looked; /* what lies before was waited for already */
};

/* Starts the program in a folder (NULL: this one).  A failure ends the test, here and below. */
void typist_start(struct typist *typist, const char *program, const char *const *words,
                  const char *folder);

/* Waits until a text comes up behind the last one that was waited for. */
void typist_wait(struct typist *typist, const char *part);

/* Types a text as it stands; a line wants its own "\n". */
void typist_type(struct typist *typist, const char *text);

/* What is asked, and what is typed then, with a line end. */
struct typed {
    const char *asked, *answer;
};
void typist_answer(struct typist *typist, const struct typed *typed);

/* Waits for the end; the exit code, or 128 + signal. */
int typist_end(struct typist *typist);

#endif
