/* The command line, read. */
#ifndef RUDDLE_OPTIONS_H
#define RUDDLE_OPTIONS_H

#include "command.h"

/* What all words of main come to. */
struct command_line {
    struct options options; /* texts are those of argv */
    const char *command;    /* the first word that is no option; NULL: none */
    size_t operand_total;   /* the words after it, kept in options.operands or not */
    const char *surplus;    /* the first word that was not kept, or NULL */
    bool help, version;
};

/* Reads the words of main: options and operands in any order, no abbreviations, everything after
 * `--` an operand.  BAD_INPUT: every fault is in problems.  *line is always written. */
enum outcome options_read(int argc, char **argv, struct command_line *line,
                          struct problems *problems);

#endif
