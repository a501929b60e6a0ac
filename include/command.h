/* The commands: order of steps, messages, exit codes; the one place that opens outputs. */
#ifndef RUDDLE_COMMAND_H
#define RUDDLE_COMMAND_H

#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* The options that commands share, as read from the command line. */
struct options {
    bool json, quiet;
    const char *operands[2]; /* ROOF, LAYOUT */
    size_t operand_count;
    enum hardware hardware[ROW_COUNT];
    bool hardware_given[ROW_COUNT];
    enum side from;
    const char *burn; /* a length as written, bare numbers in the file's measure; NULL: none */
    const char *tape; /* likewise; NULL: as the file says */
    double limit_s;
    const char *model_path;   /* NULL: not wanted */
    const char *out_dir;      /* NULL: no files */
    const char *asbuilt_path; /* of revise: where the record goes; NULL: nowhere */
};

/* Runs the command that the words of main name; returns the exit code (enum outcome). */
int command_run(int argc, char **argv);

int command_layout(const struct options *options);
int command_check(const struct options *options);
int command_compare(const struct options *options);
int command_revise(const struct options *options);

#endif
