/* Asking a person: one line out, one line in.  Standard input may as well be a file or a pipe.
 *
 * From terminal_open to terminal_close the signals that ask a program to stop (SIGINT, SIGTERM,
 * SIGHUP) end the input instead, so that whatever is under way is finished and nothing is left half
 * written.
 */
#ifndef RUDDLE_TERMINAL_H
#define RUDDLE_TERMINAL_H

#include "problem.h"

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { TERMINAL_LINE = 256 }; /* bytes of an answer, with its NUL; longer ones are refused */

struct terminal {
    FILE *out;          /* borrowed; where questions go */
    int in;             /* borrowed: a descriptor */
    int signals;        /* owned: a descriptor; -1 once closed */
    sigset_t before;    /* the signals that were blocked before */
    char waiting[4096]; /* read, and not yet asked for */
    size_t from, to;    /* of what is waiting */
    bool ended;         /* no more input will come */
    bool echoes;        /* a person types here, and sees a new line after each answer */
};

enum reply {
    REPLY_TEXT,  /* something was answered */
    REPLY_EMPTY, /* the line was empty */
    REPLY_BACK,  /* `back` */
    REPLY_WHY,   /* `?` */
    REPLY_WRONG, /* no text that could be an answer: too long, or control characters */
    REPLY_END    /* end of input, or a signal to stop */
};

/* FAULT: the system refused; problems says so.  Whatever the outcome terminal_close may follow. */
enum outcome terminal_open(struct terminal *terminal, int in, FILE *out, struct problems *problems);

/* Stops taking signals over; those that came meanwhile are spent. */
void terminal_close(struct terminal *terminal);

/* Prints the question, reads one line and trims it into answer; "" unless REPLY_TEXT. */
enum reply terminal_ask(struct terminal *terminal, const char *question,
                        char answer[TERMINAL_LINE]);

/* Prints a paragraph, wrapped between words at 80 columns, each line `indent` columns in. */
void terminal_say(struct terminal *terminal, int indent, const char *text);

#endif
