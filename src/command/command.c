#include "command.h"

#include "nearest.h"
#include "options.h"
#include "output.h"

#include <stdio.h>
#include <string.h>

/* Each help fits one screen of 24 lines by 80 columns. */
static const char program_help[] =
    "ruddle finds where the brackets of a heavy water-filled collector go on a\n"
    "shingled roof, and prints the sheet to chalk them by.\n"
    "\n"
    "  ruddle layout ROOF         lay out the brackets; print the chalk sheet\n"
    "  ruddle check ROOF LAYOUT   hold somebody's layout against every rule\n"
    "  ruddle compare ROOF        strut or feet, top and bottom, side by side\n"
    "  ruddle revise ROOF DRILLED lay out again round holes already drilled\n"
    "\n"
    "  --json                 the result for machines, nothing else printed\n"
    "  --out DIR              put the files of the result into DIR\n"
    "  --top strut|feet       hardware of the top row, over the roof file's word\n"
    "  --bottom strut|feet    the same for the bottom row\n"
    "  --tape LENGTH          finest mark on the tape, such as 1/8\n"
    "  --quiet                print nothing: exit code and files only\n"
    "  --version, --help      `ruddle COMMAND --help` shows the rest\n"
    "\n"
    "Exit codes: 0 every rule holds; 1 a rule breaks, or no layout was found;\n"
    "2 the roof file or the command line is wrong; 3 the program failed.\n"
    "\n"
    "Example: ruddle layout roofs/easy.yaml\n";

static const char layout_help[] =
    "ruddle layout ROOF [OPTIONS]\n"
    "\n"
    "Finds the layout with the most room to miss and prints the chalk sheet.\n"
    "\n"
    "  --top strut|feet      hardware of every top row, over the roof file's word\n"
    "  --bottom strut|feet   the same for every bottom row\n"
    "  --from near|far       rake that the readings start from (near: the corner's)\n"
    "  --burn LENGTH         added to every reading along a line: hold the tape there\n"
    "  --tape LENGTH         finest mark on the tape, such as 1/8\n"
    "  --limit SECONDS       longest search; default 60\n"
    "  --model FILE          write the program solved first, as .mps or .lp\n"
    "  --out DIR             write DIR/sheet.txt and DIR/layout.json\n"
    "  --json                print the result for machines instead of the sheet\n"
    "  --quiet               print nothing: exit code and files only\n"
    "\n"
    "Exit codes: 0 the layout obeys every rule; 1 blocked or undecided: do not\n"
    "drill; 2 a wrong roof file or command line; 3 the program failed.\n"
    "\n"
    "Example: ruddle layout roofs/easy.yaml --out out\n";

static const char check_help[] =
    "ruddle check ROOF LAYOUT [OPTIONS]\n"
    "\n"
    "Holds a layout against every rule, whoever made it: one line a broken rule.\n"
    "LAYOUT is YAML or JSON, the JSON of `ruddle layout` too:\n"
    "  brackets: [{name: A, x: 54 1/8, y: 40}]\n"
    "  marks: [{bracket: A, row: top, x: 64, y: 110 3/4}]\n"
    "\n"
    "  --top strut|feet      hardware of top rows where LAYOUT does not say\n"
    "  --bottom strut|feet   the same for bottom rows\n"
    "  --tape LENGTH         finest mark on the tape, such as 1/8\n"
    "  --out DIR             write DIR/check.txt and DIR/check.json\n"
    "  --json                print every rule at every place, for machines\n"
    "  --quiet               print nothing: exit code and files only\n"
    "--from, --burn and --limit are taken too, and change nothing here.\n"
    "\n"
    "Exit codes: 0 every rule holds; 1 a rule breaks; 2 a wrong file or command\n"
    "line; 3 the program failed.\n"
    "\n"
    "Example: ruddle check roofs/easy.yaml out/layout.json\n";

static const char compare_help[] =
    "ruddle compare ROOF [OPTIONS]\n"
    "\n"
    "Lays the roof out in all four ways, strut or feet on the top and the bottom\n"
    "line, and shows them side by side: room to miss, holes, parts, strength, and\n"
    "the chance that all lags hit on the first try if the survey errs as it says.\n"
    "\n"
    "  --from near|far       rake that the readings start from\n"
    "  --tape LENGTH         finest mark on the tape, such as 1/8\n"
    "  --limit SECONDS       longest search, all four together; default 60\n"
    "  --out DIR             write DIR/compare.txt and DIR/compare.json\n"
    "  --json                print the result for machines instead of the table\n"
    "  --quiet               print nothing: exit code and files only\n"
    "--top, --bottom and --burn are taken too, and change nothing here.\n"
    "\n"
    "Exit codes: 0 at least one of the four works; 1 none does; 2 a wrong roof file\n"
    "or command line; 3 the program failed.\n"
    "\n"
    "Example: ruddle compare roofs/easy.yaml\n";

static const char revise_help[] =
    "ruddle revise ROOF DRILLED [OPTIONS]\n"
    "\n"
    "Lays out again round holes already drilled: good ones stay, missed ones teach\n"
    "where the rafter is.  DRILLED is YAML or JSON:\n"
    "  drilled: [{bracket: A, row: top, x: 72, y: 110 3/4, found: edge}]\n"
    "found: wood, edge or air.  List every hole, the good ones too.\n"
    "\n"
    "  --asbuilt FILE        write the record for the job folder, blanks to fill in\n"
    "  --from near|far       rake that the readings start from\n"
    "  --burn LENGTH         added to every reading along a line\n"
    "  --tape LENGTH         finest mark on the tape, such as 1/8\n"
    "  --limit SECONDS       longest search; default 60\n"
    "  --out DIR             write DIR/sheet.txt and DIR/layout.json\n"
    "  --json                print the result for machines instead of the sheet\n"
    "  --quiet               print nothing: exit code and files only\n"
    "--top and --bottom are taken as by `ruddle layout`.\n"
    "\n"
    "Exit codes: 0 the new layout obeys every rule; 1 blocked or undecided; 2 a\n"
    "wrong file, or holes that cannot all be true; 3 the program failed.\n"
    "\n"
    "Example: ruddle revise roofs/easy.yaml roofs/drilled/easy.yaml\n";

struct command {
    const char *name;
    const char *usage;
    size_t operands;
    bool has_model; /* whether it solves a program that could be written out */
    const char *help;
    int (*run)(const struct options *options);
};

static const struct command commands[] = {
    {"layout", "ruddle layout ROOF", 1, true, layout_help, command_layout},
    {"check", "ruddle check ROOF LAYOUT", 2, false, check_help, command_check},
    {"compare", "ruddle compare ROOF", 1, false, compare_help, command_compare},
    {"revise", "ruddle revise ROOF DRILLED", 2, false, revise_help, command_revise},
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

static void refuse_command(const char *name, struct problems *problems) {
    struct nearest nearest = {0};
    char wanted[120];
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        nearest_offer(&nearest, name, commands[i].name, 1);
    }
    if (nearest.word != NULL) {
        snprintf(wanted, sizeof wanted,
                 "a command: layout, check, compare or revise; the nearest is %s", nearest.word);
    } else {
        snprintf(wanted, sizeof wanted,
                 "a command: layout, check, compare or revise; see ruddle --help");
    }
    problems_add(problems, "ruddle", 0, NULL, name, wanted);
}

static const struct command *find_command(const char *name) {
    for (size_t i = 0; i < COMMAND_COUNT; i++) {
        if (strcmp(name, commands[i].name) == 0) {
            return &commands[i];
        }
    }
    return NULL;
}

/* Refuses operands too few, too many or empty, and a model where there is none. */
static void judge(const struct command *command, const struct command_line *line,
                  struct problems *problems) {
    const char *const missing[] = {"the roof file: ", command->run == command_revise
                                                          ? "the file of drilled holes: "
                                                          : "the layout file: "};
    const struct options *options = &line->options;
    char wanted[120];
    if (line->operand_total < command->operands) {
        snprintf(wanted, sizeof wanted, "%s%s", missing[line->operand_total], command->usage);
        problems_add(problems, "ruddle", 0, NULL, NULL, wanted);
    }
    if (line->operand_total > command->operands) {
        const char *surplus = command->operands < options->operand_count
                                  ? options->operands[command->operands]
                                  : line->surplus;
        snprintf(wanted, sizeof wanted, "nothing after %s", command->usage);
        problems_add(problems, "ruddle", 0, NULL, surplus, wanted);
    }
    for (size_t i = 0; i < options->operand_count; i++) {
        if (options->operands[i][0] == '\0') {
            problems_add(problems, "ruddle", 0, NULL, NULL, "a file name that is not empty");
        }
    }
    if (options->model_path != NULL && !command->has_model) {
        problems_add(problems, "ruddle", 0, "--model", options->model_path,
                     command->run == command_check ? "no --model here: a check solves no program"
                                                   : "no --model here: only layout writes one");
    }
    if (options->asbuilt_path != NULL && command->run != command_revise) {
        problems_add(problems, "ruddle", 0, "--asbuilt", options->asbuilt_path,
                     "no --asbuilt here: it goes with ruddle revise");
    }
}

/* Whatever is not a run: help, version, and every way to get the command line wrong. */
static int run_line(const struct command_line *line, struct problems *problems) {
    const struct command *command = line->command == NULL ? NULL : find_command(line->command);
    if (line->command != NULL && command == NULL) {
        refuse_command(line->command, problems);
    } else if (problems->total == 0 && line->help) {
        return print_text(command == NULL ? program_help : command->help);
    } else if (problems->total == 0 && line->version) {
        return print_text("ruddle " RUDDLE_VERSION "\n");
    } else if (command == NULL) {
        problems_add(problems, "ruddle", 0, NULL, NULL,
                     "a command: layout, check, compare or revise; see ruddle --help");
    } else {
        judge(command, line, problems);
    }
    return problems->total != 0 ? output_end(OUTCOME_BAD_INPUT, problems)
                                : command->run(&line->options);
}

int command_run(int argc, char **argv) {
    struct problems problems = {0};
    struct command_line line;
    output_prepare();
    (void)options_read(argc, argv, &line, &problems); /* what is wrong is in problems */
    return run_line(&line, &problems);
}
