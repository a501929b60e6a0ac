/* The command line, read. */
#ifndef RUDDLE_OPTIONS_H
#define RUDDLE_OPTIONS_H

#include "command.h"

/* Every option there is; which of them a command takes is told where the commands are listed. */
enum option_code {
    OPTION_JSON,
    OPTION_OUT,
    OPTION_TOP,
    OPTION_BOTTOM,
    OPTION_FROM,
    OPTION_BURN,
    OPTION_TAPE,
    OPTION_LIMIT,
    OPTION_MODEL,
    OPTION_AS_MANY,
    OPTION_PAPER,
    OPTION_ASBUILT,
    OPTION_JOBS,
    OPTION_REPORT,
    OPTION_RESUME,
    OPTION_SHARD,
    OPTION_MERGE,
    OPTION_FILES,
    OPTION_ASK,
    OPTION_SEED,
    OPTION_LEVEL,
    OPTION_PROGRESS,
    OPTION_GRADE,
    OPTION_QUIET,
    OPTION_VERSION,
    OPTION_HELP,
    OPTION_COUNT
};

/* The option's name without its dashes; never NULL. */
const char *options_name(enum option_code code);

/* What all words of main come to. */
struct command_line {
    struct options options; /* texts are those of argv */
    const char **operands;  /* owned: those of options */
    const char *command;    /* the first word that is no option; NULL: none */
    const char **unknown;   /* owned: options that there are none of, as written */
    size_t unknown_count;
    char *usual_out;                  /* owned: where `--out` without DIR writes; NULL */
    bool given[OPTION_COUNT];         /* whether it was written, rightly or not */
    const char *values[OPTION_COUNT]; /* the last value written; NULL: none */
    bool help, version;
};

/* Reads the words of main: options and operands in any order, no abbreviations, everything after
 * `--` an operand.  BAD_INPUT: every fault is in problems, but for the unknown.  FAULT: no memory.
 * *line is always written and freed with options_free. */
enum outcome options_read(int argc, char **argv, struct command_line *line,
                          struct problems *problems);

void options_free(struct command_line *line);

#endif
