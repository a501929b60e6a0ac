#include "command.h"

#include "help.h"
#include "nearest.h"
#include "options.h"
#include "output.h"

#include <stdio.h>
#include <string.h>

enum { OPERANDS_MOST = 2 };

/* Options that every command on a roof takes. */
#define ROOF_OPTIONS                                                                               \
    [OPTION_JSON] = true, [OPTION_OUT] = true, [OPTION_TOP] = true, [OPTION_BOTTOM] = true,        \
    [OPTION_FROM] = true, [OPTION_BURN] = true, [OPTION_TAPE] = true, [OPTION_LIMIT] = true,       \
    [OPTION_QUIET] = true, [OPTION_HELP] = true, [OPTION_VERSION] = true

struct command {
    const char *name;
    const char *usage;
    const char *operands[OPERANDS_MOST]; /* what each is; NULL: there is none */
    size_t optional;                     /* so many of the last may be left out */
    bool any_number;                     /* the last of them may be many */
    bool takes[OPTION_COUNT];
    const char *help;
    int (*run)(const struct options *options);
};

static const struct command commands[] = {
    {.name = "layout",
     .usage = "ruddle layout ROOF",
     .operands = {"the roof file"},
     .takes = {ROOF_OPTIONS, [OPTION_MODEL] = true, [OPTION_PAPER] = true, [OPTION_AS_MANY] = true},
     .help = help_layout,
     .run = command_layout},
    {.name = "check",
     .usage = "ruddle check ROOF LAYOUT",
     .operands = {"the roof file", "the layout file"},
     .takes = {ROOF_OPTIONS},
     .help = help_check,
     .run = command_check},
    {.name = "compare",
     .usage = "ruddle compare ROOF",
     .operands = {"the roof file"},
     .takes = {ROOF_OPTIONS},
     .help = help_compare,
     .run = command_compare},
    {.name = "explain",
     .usage = "ruddle explain ROOF [MARK]",
     .operands = {"the roof file", "the hole"},
     .optional = 1,
     .takes = {ROOF_OPTIONS},
     .help = help_explain,
     .run = command_explain},
    {.name = "revise",
     .usage = "ruddle revise ROOF DRILLED",
     .operands = {"the roof file", "the file of drilled holes"},
     .takes = {ROOF_OPTIONS, [OPTION_ASBUILT] = true, [OPTION_PAPER] = true},
     .help = help_revise,
     .run = command_revise},
    {.name = "fleet",
     .usage = "ruddle fleet PATH...",
     .operands = {"a roof file or a folder of them"},
     .any_number = true,
     .takes = {ROOF_OPTIONS, [OPTION_JOBS] = true, [OPTION_REPORT] = true, [OPTION_RESUME] = true,
               [OPTION_SHARD] = true, [OPTION_MERGE] = true, [OPTION_FILES] = true},
     .help = help_fleet,
     .run = command_fleet},
    {.name = "survey",
     .usage = "ruddle survey [FILE]",
     .operands = {"the roof file to fill in"},
     .optional = 1,
     .takes = {[OPTION_ASK] = true,
               [OPTION_OUT] = true,
               [OPTION_PAPER] = true,
               [OPTION_QUIET] = true,
               [OPTION_HELP] = true,
               [OPTION_VERSION] = true},
     .help = help_survey,
     .run = command_survey},
    {.name = "practice",
     .usage = "ruddle practice",
     .takes = {[OPTION_SEED] = true,
               [OPTION_LEVEL] = true,
               [OPTION_PROGRESS] = true,
               [OPTION_GRADE] = true,
               [OPTION_JSON] = true,
               [OPTION_OUT] = true,
               [OPTION_QUIET] = true,
               [OPTION_HELP] = true,
               [OPTION_VERSION] = true},
     .help = help_practice,
     .run = command_practice},
};
enum { COMMAND_COUNT = sizeof commands / sizeof commands[0] };

static enum outcome write_text(const void *subject, FILE *stream) {
    fputs(subject, stream); /* a failure shows on the stream */
    return OUTCOME_DONE;
}

static int print_text(const char *text) {
    struct problems problems = {0};
    const struct output output = {.write = write_text, .subject = text};
    const enum outcome outcome = output_print(&output, &problems);
    return output_end(outcome, &problems);
}

/* Says that a command is wanted, and which there are; `hint` ends the line. */
static void want_command(const char *found, const char *hint, struct problems *problems) {
    char wanted[200];
    size_t used = (size_t)snprintf(wanted, sizeof wanted, "a command:");
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        const char *before = i == 0 ? " " : i + 1 == COMMAND_COUNT ? " or " : ", ";
        used +=
            (size_t)snprintf(wanted + used, sizeof wanted - used, "%s%s", before, commands[i].name);
    }
    snprintf(wanted + used, sizeof wanted - used, "; %s", hint);
    problems_add(problems, "ruddle", 0, NULL, found, wanted);
}

static void refuse_command(const char *name, struct problems *problems) {
    struct nearest nearest = {0};
    char hint[60] = "see ruddle --help";
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        nearest_offer(&nearest, name, commands[i].name, 1);
    }
    if (nearest.word != NULL) {
        snprintf(hint, sizeof hint, "the nearest is %s", nearest.word);
    }
    want_command(name, hint, problems);
}

static const struct command *find_command(const char *name) {
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        if (strcmp(name, commands[i].name) == 0) {
            return &commands[i];
        }
    }
    return NULL;
}

/* Refuses operands too few, too many or empty. */
static void judge_operands(const struct command *command, const struct options *options,
                           struct problems *problems) {
    char wanted[120];
    size_t most = 0;
    while (most < OPERANDS_MOST && command->operands[most] != NULL) {
        most++;
    }
    if (options->operand_count < most - command->optional) {
        snprintf(wanted, sizeof wanted, "%s: %s", command->operands[options->operand_count],
                 command->usage);
        problems_add(problems, "ruddle", 0, NULL, NULL, wanted);
    }
    if (options->operand_count > most && !command->any_number) {
        snprintf(wanted, sizeof wanted, "nothing after %s", command->usage);
        problems_add(problems, "ruddle", 0, NULL, options->operands[most], wanted);
    }
    for (size_t i = 0; i < options->operand_count; i++) {
        if (options->operands[i][0] == '\0') {
            problems_add(problems, "ruddle", 0, NULL, NULL, "a file name that is not empty");
        }
    }
}

/* Says that there is no such option, and which one may have been meant: of those that the command
 * takes, where the command is known. */
static void refuse_option(const struct command *command, const char *word,
                          struct problems *problems) {
    char bare[40];
    char wanted[120];
    const char *start = word + strspn(word, "-");
    const size_t length = strcspn(start, "=");
    snprintf(bare, sizeof bare, "%.*s", (int)(length < sizeof bare ? length : sizeof bare), start);
    struct nearest nearest = {0};
    for (enum option_code code = 0; code < OPTION_COUNT; code++) {
        if (command == NULL || command->takes[code]) {
            nearest_offer(&nearest, bare, options_name(code), 1);
        }
    }
    if (nearest.word != NULL) {
        snprintf(wanted, sizeof wanted, "an option that exists; the nearest is --%s", nearest.word);
    } else {
        snprintf(wanted, sizeof wanted, "an option that exists; ruddle%s%s --help lists them",
                 command == NULL ? "" : " ", command == NULL ? "" : command->name);
    }
    problems_add(problems, "ruddle", 0, NULL, word, wanted);
}

/* The first command that takes an option; every option has one. */
static const struct command *taker_of(enum option_code code) {
    size_t i = 0;
    while (i + 1 < COMMAND_COUNT && !commands[i].takes[code]) {
        i++;
    }
    return &commands[i];
}

/* Refuses options that belong to other commands. */
static void judge_options(const struct command *command, const struct command_line *line,
                          struct problems *problems) {
    for (enum option_code code = 0; code < OPTION_COUNT; code++) {
        if (!line->given[code] || command->takes[code]) {
            continue;
        }
        char name[40];
        char wanted[120];
        snprintf(name, sizeof name, "--%s", options_name(code));
        snprintf(wanted, sizeof wanted, "no %s with ruddle %s: it goes with ruddle %s", name,
                 command->name, taker_of(code)->name);
        problems_add(problems, "ruddle", 0, name, line->values[code], wanted);
    }
}

/* Whatever is not a run: help, version, and every way to get the command line wrong. */
static int run_line(const struct command_line *line, struct problems *problems) {
    const struct command *command = line->command == NULL ? NULL : find_command(line->command);
    for (size_t i = 0; i < line->unknown_count; i++) {
        refuse_option(command, line->unknown[i], problems);
    }
    if (line->command != NULL && command == NULL) {
        refuse_command(line->command, problems);
    } else if (problems->total == 0 && line->help) {
        return print_text(command == NULL ? help_program : command->help);
    } else if (problems->total == 0 && line->version) {
        return print_text("ruddle " RUDDLE_VERSION "\n");
    } else if (command == NULL) {
        want_command(NULL, "see ruddle --help", problems);
    } else if (line->unknown_count == 0) { /* or what follows one might be its value */
        judge_operands(command, &line->options, problems);
        judge_options(command, line, problems);
    }
    if (command == NULL || problems->total != 0) {
        return output_end(OUTCOME_BAD_INPUT, problems);
    }
    if (line->options.out_usual) { /* only the last level is made where files are written */
        const enum outcome outcome = output_folder("out", problems);
        if (outcome != OUTCOME_DONE) {
            return output_end(outcome, problems);
        }
    }
    return command->run(&line->options);
}

int command_run(int argc, char **argv) {
    struct problems problems = {0};
    struct command_line line;
    output_prepare();
    const enum outcome outcome = options_read(argc, argv, &line, &problems);
    const int code =
        outcome == OUTCOME_FAULT ? output_end(outcome, &problems) : run_line(&line, &problems);
    options_free(&line);
    return code;
}
