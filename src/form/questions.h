/* What `ruddle survey --ask` asks, in order, and the walk through it. */
#ifndef RUDDLE_FORM_QUESTIONS_H
#define RUDDLE_FORM_QUESTIONS_H

#include "answers.h"

struct question {
    const char *path;     /* of its key; `[]` stands for the entry under way */
    const char *ask;      /* `%zu` stands for the entry's number */
    const char *why;      /* what `?` tells */
    const char *usual;    /* what an empty line means; "": left out; NULL: an answer is wanted */
    size_t least;         /* of the first of a list: so many entries there have to be */
    bool leads;           /* the first of a list's entry: left out, it ends the list */
    const char *needs;    /* asked only where that was answered; NULL: always */
    const char *unless;   /* ... and was not answered this; NULL: whatever it was */
    const char *without;  /* ... and only where that was not; NULL: whatever was */
    const char *quick[4]; /* asked first: `yes` gives those keys of the entry those values, key,
                             value, key, value; its own path is the first of the keys */
    const char *stand_in; /* what stands for it until it is answered, while others are tried; NULL:
                             it is left out; "=PATH": what was answered there */
};

/* The table of them, in the order of asking (questionnaire.c). */
extern const struct question questions_list[];
extern const size_t questions_count;

/* One question at its place. */
struct asked {
    const struct question *question;
    char path[ANSWERS_PATH];
    size_t entry; /* from 1; 0 outside of lists */
};

/* The walk.  Starts as {.answers = ...}. */
struct walk {
    const struct answers *answers;
    const char *opened; /* path of a quick question that was answered `no`; NULL: none */
    size_t at;          /* the next question */
    size_t entry;       /* of the list under way, from 0 */
    bool led;           /* the entry under way is there */
};

/* The next question that applies, answered or not; false behind the last one.  An answer looked at
 * counts as it stands in answers; one that is not there counts as left out. */
bool walk_next(struct walk *walk, struct asked *asked);

/* A path of the same entry. */
void questions_path(const char *path, size_t entry, char concrete[ANSWERS_PATH]);

#endif
