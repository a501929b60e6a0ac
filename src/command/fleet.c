#include "fleet.h"

#include "command.h"
#include "craft.h"
#include "output.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Roofs take up to a few times the limit on a slow or busy machine, and reading and rounding take
 * no steps of the solver; beyond this a worker hangs. */
#define PATIENCE_FACTOR 4.0
#define PATIENCE_MORE_S 30.0

/* A worker may have so much.  The largest roof that is let in needs a fraction of it.  Sanitizers
 * reserve far more for themselves. */
#if defined(__SANITIZE_ADDRESS__)
#define MEMORY_MOST 0
#else
#define MEMORY_MOST (UINT64_C(1) << 30)
#endif

/* Everything made on the way. */
struct made {
    struct fleet *fleet;          /* owned */
    struct fleet_summary summary; /* of it */
    char *report;                 /* owned; NULL: none */
    bool stopped;
};

/* The report's own name, or that below the folder of all files. */
static enum outcome name_report(const struct options *options, struct made *made) {
    if (options->report_path == NULL && options->out_dir == NULL) {
        return OUTCOME_DONE;
    }
    if (options->report_path != NULL) {
        made->report = strdup(options->report_path);
    } else {
        const size_t room = strlen(options->out_dir) + sizeof "/fleet.csv";
        made->report = malloc(room);
        if (made->report != NULL) {
            snprintf(made->report, room, "%s/fleet.csv", options->out_dir);
        }
    }
    return made->report != NULL ? OUTCOME_DONE : OUTCOME_FAULT;
}

static enum outcome judge(const struct options *options, const struct made *made,
                          struct problems *problems) {
    if (options->resume && made->report == NULL) {
        problems_add(problems, "ruddle", 0, "--resume", NULL,
                     "--report FILE or --out DIR as well: that is what is gone on with");
    }
    if (options->merge && options->resume) {
        problems_add(problems, "ruddle", 0, "--resume", NULL, "no --resume with --merge");
    }
    if (options->all_files && options->out_dir == NULL) {
        problems_add(problems, "ruddle", 0, "--files", "all", "--out DIR as well: they go there");
    }
    if (options->merge && options->shards > 1) {
        problems_add(problems, "ruddle", 0, "--shard", NULL, "no --shard with --merge");
    }
    for (size_t i = 0; options->merge && made->report != NULL && i < options->operand_count; i++) {
        if (strcmp(options->operands[i], made->report) == 0) {
            problems_add(problems, "ruddle", 0, "--report", made->report,
                         "another name than that of a shard's report");
        }
    }
    return problems->total == 0 ? OUTCOME_DONE : OUTCOME_BAD_INPUT;
}

static enum outcome open_fleet(const struct options *options, struct made *made,
                               struct problems *problems) {
    char settings[CRAFT_SETTINGS];
    craft_settings(options, settings);
    const struct fleet_start start = {.report = made->report,
                                      .resume = options->resume,
                                      .shard = options->shard,
                                      .shards = options->shards,
                                      .settings = settings,
                                      .sheets = options->out_dir,
                                      .sheet = options->all_files ? "sheet.html" : "sheet.txt",
                                      .printed = options->all_files ? "sheet.pdf" : NULL};
    enum outcome outcome = OUTCOME_DONE;
    if (made->report != NULL) {
        outcome = output_clear_path(made->report, problems);
    }
    return outcome == OUTCOME_DONE ? fleet_open(&start, &made->fleet, problems) : outcome;
}

static enum outcome work(const struct options *options, struct made *made,
                         struct problems *problems) {
    const struct fleet_craft craft = craft_of_fleet(options);
    const struct fleet_labour labour = {.jobs = options->jobs,
                                        .patience_s =
                                            PATIENCE_FACTOR * options->limit_s + PATIENCE_MORE_S,
                                        .memory_most = MEMORY_MOST,
                                        .talk = options->quiet               ? FLEET_SILENT
                                                : isatty(STDERR_FILENO) == 1 ? FLEET_BAR
                                                                             : FLEET_LINES,
                                        .talk_to = stderr};
    const enum outcome outcome =
        fleet_list(made->fleet, options->operands, options->operand_count, problems);
    return outcome == OUTCOME_DONE
               ? fleet_run(made->fleet, &craft, &labour, &made->stopped, problems)
               : outcome;
}

/* ---- What is put out ------------------------------------------------------------------------- */

static enum outcome put_pages(const struct options *options, const struct made *made,
                              struct problems *problems) {
    enum outcome outcome = OUTCOME_DONE;
    const size_t pages = fleet_pages(&made->summary);
    for (size_t number = 1; outcome == OUTCOME_DONE && number <= pages; number++) {
        char name[FLEET_PAGE_NAME];
        const struct fleet_page page = {made->fleet, &made->summary, number};
        const struct output output = {fleet_page_name(name, number), fleet_write_page, &page};
        outcome = output_files(options->out_dir, &output, 1, problems);
    }
    return outcome;
}

static enum outcome put_out(const struct options *options, const struct made *made,
                            struct problems *problems) {
    enum outcome outcome = OUTCOME_DONE;
    if (made->report != NULL) {
        outcome = output_file(made->report, fleet_write_csv, made->fleet, problems);
    }
    if (outcome == OUTCOME_DONE && options->out_dir != NULL) {
        outcome = put_pages(options, made, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        const struct output lines = {.write = fleet_write_json, .subject = made->fleet};
        const struct output summary = {.write = fleet_write_summary, .subject = &made->summary};
        outcome = output_print(options->json ? &lines : &summary, problems);
    }
    return outcome;
}

static enum outcome tell_stop(const struct made *made, struct problems *problems) {
    char wanted[160];
    size_t done = 0;
    for (size_t i = 0; i < FLEET_STATUS_COUNT; i++) {
        done += made->summary.count[i];
    }
    snprintf(wanted, sizeof wanted, "to go on: %zu of %zu roofs are done%s", done,
             made->summary.listed, made->report != NULL ? "; --resume does the rest" : "");
    problems_add(problems, "ruddle", 0, NULL, "a signal to stop", wanted);
    return OUTCOME_FAULT;
}

static enum outcome judge_rows(const struct fleet_summary *summary) {
    if (summary->count[FLEET_ERROR] > 0) {
        return OUTCOME_BAD_INPUT;
    }
    const size_t not_good = summary->count[FLEET_BLOCKED] + summary->count[FLEET_UNDECIDED];
    return not_good > 0 ? OUTCOME_BLOCKED : OUTCOME_DONE;
}

static enum outcome run(const struct options *options, struct made *made,
                        struct problems *problems) {
    enum outcome outcome = name_report(options, made);
    if (outcome == OUTCOME_DONE) {
        outcome = judge(options, made, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = open_fleet(options, made, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = options->merge ? fleet_merge(made->fleet, options->operands,
                                               options->operand_count, problems)
                                 : work(options, made, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = fleet_summarise(made->fleet, &made->summary, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = put_out(options, made, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = made->stopped ? tell_stop(made, problems) : judge_rows(&made->summary);
    }
    return outcome;
}

int command_fleet(const struct options *options) {
    struct problems problems = {0};
    struct made made = {.fleet = NULL};
    enum outcome outcome = run(options, &made, &problems);
    const enum outcome closed = fleet_close(made.fleet, &problems);
    free(made.report);
    return output_end(closed == OUTCOME_DONE ? outcome : closed, &problems);
}
