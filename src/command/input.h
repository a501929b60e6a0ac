/* What every command starts from: the roof that the files and the command line describe. */
#ifndef RUDDLE_INPUT_H
#define RUDDLE_INPUT_H

#include "command.h"
#include "piped.h"

struct input {
    struct survey *survey; /* owned */
    struct roof *roof;     /* owned */
    double burn;           /* inches */
    struct piped piped;    /* owned: the roof file where it came on standard input */
};

/* Reads roof and kits; the roof from standard input where its name is PIPED_NAME, its kits then
 * from the folder that the program runs in.  Starts from {0}; whatever the outcome, input_free
 * frees it. BAD_INPUT: problems says why.  FAULT: no memory. */
enum outcome input_read(const struct options *options, struct input *input,
                        struct problems *problems);

/* The same with kit files from a shelf, and PIPED_NAME a name as any other: see
 * survey_read_shelved. */
enum outcome input_read_shelved(const struct options *options, struct survey_shelf *shelf,
                                struct input *input, struct problems *problems);

void input_free(struct input *input); /* leaves {0} */

#endif
