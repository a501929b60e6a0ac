/* The commands: order of steps, messages, exit codes; the one place that opens outputs. */
#ifndef RUDDLE_COMMAND_H
#define RUDDLE_COMMAND_H

#include "drawing.h"
#include "problem.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

/* The options that commands share, as read from the command line. */
struct options {
    const char *const *operands; /* the words that are no options: ROOF, LAYOUT; of fleet any
                                    number of paths */
    size_t operand_count;
    enum hardware hardware[ROW_COUNT]; /* where hardware_given */
    enum side from;
    enum paper paper; /* what printed sheets are laid out for, where paper_given */
    const char *burn; /* a length as written, bare numbers in the file's measure; NULL: none */
    const char *tape; /* likewise; NULL: as the file says */
    double limit_s;
    const char *model_path;    /* NULL: not wanted */
    const char *out_dir;       /* NULL: no files */
    const char *asbuilt_path;  /* of revise: where the record goes; NULL: nowhere */
    const char *report_path;   /* of fleet; NULL: no report */
    unsigned jobs;             /* of fleet: roofs at a time; 0: one a core */
    unsigned shard, shards;    /* of fleet; 1 and 1: all roofs */
    unsigned seed, level;      /* of practice, and the paths below; 0: not given */
    const char *progress_path; /* NULL: nothing is remembered */
    const char *grade_path;    /* NULL: the trainee is asked */
    /* Flags side by side, as each takes a byte. */
    bool json, quiet;
    bool hardware_given[ROW_COUNT];
    bool paper_given;   /* false: as goes with the file's measure */
    bool out_usual;     /* out_dir is out/NAME, NAME as the roof file's */
    bool as_many;       /* of layout: leave off frames that do not fit beside the others */
    bool resume, merge; /* of fleet */
    bool all_files; /* of fleet: those of every roof, as of layout; false: its sheet and result */
    bool ask;       /* of survey: at the terminal */
};

/* Limits on --jobs, --shard, --seed and --level. */
enum { JOBS_MOST = 1024, SHARDS_MOST = 100000, SEED_MOST = 999999999, LEVEL_MOST = 3 };

/* Runs the command that the words of main name; returns the exit code (enum outcome). */
int command_run(int argc, char **argv);

int command_layout(const struct options *options);
int command_check(const struct options *options);
int command_compare(const struct options *options);
int command_explain(const struct options *options);
int command_revise(const struct options *options);
int command_fleet(const struct options *options);
int command_survey(const struct options *options);
int command_practice(const struct options *options);

#endif
