/* What can go wrong, and how it is told: exit codes, and bounded messages that name file, line,
 * key, what was found and what is wanted.  Nothing here prints unless asked to.
 */
#ifndef RUDDLE_PROBLEM_H
#define RUDDLE_PROBLEM_H

#include <stddef.h>
#include <stdio.h>

/* What a step, and in the end the process, comes to.  The values are the exit codes. */
enum outcome {
    OUTCOME_DONE = 0,      /* done, and every rule holds */
    OUTCOME_BLOCKED = 1,   /* an honest answer, but not a layout to drill by */
    OUTCOME_BAD_INPUT = 2, /* a file or a command line that cannot be used */
    OUTCOME_FAULT = 3,     /* out of memory, a write that failed, a defect */
};

/* One fault of an input.  Texts are cut to fit and always end in NUL; empty ones are left out when
 * printed.  They may hold bytes from the input: problems_print shows control bytes as '?'.
 */
struct problem {
    char file[256];   /* as the user named it */
    int line;         /* from 1; 0 where the fault has no line */
    char key[96];     /* path of the key, such as rafters.list[2].at (entries count from 1) */
    char found[96];   /* the text found there, or empty */
    char wanted[224]; /* what is wanted instead, with an example of a good value */
};

/* Every fault found so far, in the order found.  Starts as {0}.  At most PROBLEMS_MOST are kept;
 * the rest are counted.
 */
enum { PROBLEMS_MOST = 100 };
struct problems {
    struct problem *list; /* owned */
    size_t count;         /* kept in list */
    size_t total;         /* reported, kept or not; not zero means that the input is refused */
};

/* Adds a fault.  A NULL text counts as empty.  Never fails: without memory it only counts. */
void problems_add(struct problems *problems, const char *file, int line, const char *key,
                  const char *found, const char *wanted);

/* Prints one line a fault: FILE:LINE: KEY: found "TEXT", wanted WANTED */
void problems_print(const struct problems *problems, FILE *stream);

/* Frees the list and leaves {0}. */
void problems_free(struct problems *problems);

#endif
