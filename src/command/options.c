#include "options.h"

#include "piped.h"
#include "values.h"

#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* getopt's own codes are letters; ours lie above any. */
enum { CODE_FIRST = 256 };

static const struct option known[OPTION_COUNT + 1] = {
    [OPTION_JSON] = {"json", no_argument, NULL, CODE_FIRST + OPTION_JSON},
    [OPTION_OUT] = {"out", required_argument, NULL, CODE_FIRST + OPTION_OUT},
    [OPTION_TOP] = {"top", required_argument, NULL, CODE_FIRST + OPTION_TOP},
    [OPTION_BOTTOM] = {"bottom", required_argument, NULL, CODE_FIRST + OPTION_BOTTOM},
    [OPTION_FROM] = {"from", required_argument, NULL, CODE_FIRST + OPTION_FROM},
    [OPTION_BURN] = {"burn", required_argument, NULL, CODE_FIRST + OPTION_BURN},
    [OPTION_TAPE] = {"tape", required_argument, NULL, CODE_FIRST + OPTION_TAPE},
    [OPTION_LIMIT] = {"limit", required_argument, NULL, CODE_FIRST + OPTION_LIMIT},
    [OPTION_MODEL] = {"model", required_argument, NULL, CODE_FIRST + OPTION_MODEL},
    [OPTION_AS_MANY] = {"as-many-as-fit", no_argument, NULL, CODE_FIRST + OPTION_AS_MANY},
    [OPTION_PAPER] = {"paper", required_argument, NULL, CODE_FIRST + OPTION_PAPER},
    [OPTION_ASBUILT] = {"asbuilt", required_argument, NULL, CODE_FIRST + OPTION_ASBUILT},
    [OPTION_JOBS] = {"jobs", required_argument, NULL, CODE_FIRST + OPTION_JOBS},
    [OPTION_REPORT] = {"report", required_argument, NULL, CODE_FIRST + OPTION_REPORT},
    [OPTION_RESUME] = {"resume", no_argument, NULL, CODE_FIRST + OPTION_RESUME},
    [OPTION_SHARD] = {"shard", required_argument, NULL, CODE_FIRST + OPTION_SHARD},
    [OPTION_MERGE] = {"merge", no_argument, NULL, CODE_FIRST + OPTION_MERGE},
    [OPTION_FILES] = {"files", required_argument, NULL, CODE_FIRST + OPTION_FILES},
    [OPTION_ASK] = {"ask", no_argument, NULL, CODE_FIRST + OPTION_ASK},
    [OPTION_SEED] = {"seed", required_argument, NULL, CODE_FIRST + OPTION_SEED},
    [OPTION_LEVEL] = {"level", required_argument, NULL, CODE_FIRST + OPTION_LEVEL},
    [OPTION_PROGRESS] = {"progress", required_argument, NULL, CODE_FIRST + OPTION_PROGRESS},
    [OPTION_GRADE] = {"grade", required_argument, NULL, CODE_FIRST + OPTION_GRADE},
    [OPTION_QUIET] = {"quiet", no_argument, NULL, CODE_FIRST + OPTION_QUIET},
    [OPTION_VERSION] = {"version", no_argument, NULL, CODE_FIRST + OPTION_VERSION},
    [OPTION_HELP] = {"help", no_argument, NULL, CODE_FIRST + OPTION_HELP},
};

/* Room for a name with its dashes. */
enum { NAME_MOST = 40 };

static void refuse(struct problems *problems, const char *name, const char *found,
                   const char *wanted) {
    problems_add(problems, "ruddle", 0, name, found, wanted);
}

/* True if `word` writes that option out, with or without `=` and a value. */
static bool is_spelt_out(const char *word, const char *name) {
    const size_t length = strlen(name);
    return strncmp(word, "--", 2) == 0 && strncmp(word + 2, name, length) == 0 &&
           (word[2 + length] == '\0' || word[2 + length] == '=');
}

/* True if the word is an option itself, so that the one before it has lost its value. */
static bool is_option(const char *word) {
    bool found = false;
    for (size_t i = 0; i < OPTION_COUNT; i++) {
        found = found || is_spelt_out(word, known[i].name);
    }
    return found;
}

/* Kept for whoever knows which options the command has. */
static void take_unknown(const char *word, struct command_line *line) {
    line->unknown[line->unknown_count++] = word;
}

static void take_operand(const char *word, struct command_line *line) {
    struct options *options = &line->options;
    if (line->command == NULL) {
        line->command = word;
        return;
    }
    line->operands[options->operand_count++] = word;
}

static const struct option *option_of(int code) {
    const bool is_known = code >= 0 && code < OPTION_COUNT;
    return &known[is_known ? code : OPTION_COUNT]; /* the last one has no name */
}

const char *options_name(enum option_code code) {
    return known[code].name;
}

/* What getopt could not take: `word` is the option that it stopped at. */
static void refuse_word(int code, const char *word, struct command_line *line,
                        struct problems *problems) {
    const struct option *option = option_of(code);
    if (option->name != NULL && is_spelt_out(word, option->name)) {
        char name[NAME_MOST];
        snprintf(name, sizeof name, "--%s", option->name);
        const char *value = strchr(word, '=');
        refuse(problems, name, value == NULL ? NULL : value + 1,
               value_wanted((enum option_code)code));
    } else {
        take_unknown(word, line);
    }
}

/* One option that getopt knows: refuses abbreviations, then takes it. */
static void take_option(int code, char *const *argv, struct command_line *line,
                        struct problems *problems) {
    const char *name = option_of(code)->name;
    const char *value = optarg;
    char dashed[NAME_MOST];
    line->given[code] = true;
    line->values[code] = value;
    const bool apart = value != NULL && value == argv[optind - 1];
    const char *word = argv[optind - (apart ? 2 : 1)];
    snprintf(dashed, sizeof dashed, "--%s", name);
    if (!is_spelt_out(word, name)) {
        take_unknown(word, line);
    } else if (apart && is_option(value)) {
        refuse(problems, dashed, NULL, value_wanted((enum option_code)code));
        optind--; /* that word is an option of its own */
    } else if (!value_take((enum option_code)code, value, line)) {
        refuse(problems, dashed, value, value_wanted((enum option_code)code));
    }
}

/* Takes `--out` at the end of the line: the files go into out/NAME, where the first operand is
 * NAME.yaml. */
static enum outcome take_usual_out(struct command_line *line) {
    static const char parent[] = "out/";
    const bool is_piped = strcmp(line->operands[0], PIPED_NAME) == 0;
    const char *path = is_piped ? "roof" : line->operands[0], *slash = strrchr(path, '/');
    const char *name = slash == NULL ? path : slash + 1;
    const char *dot = strrchr(name, '.');
    const size_t length = dot == NULL || dot == name ? strlen(name) : (size_t)(dot - name);
    line->usual_out = malloc(sizeof parent + length);
    if (line->usual_out == NULL) {
        return OUTCOME_FAULT;
    }
    snprintf(line->usual_out, sizeof parent + length, "%s%.*s", parent, (int)length, name);
    line->given[OPTION_OUT] = true;
    line->options.out_dir = line->usual_out;
    line->options.out_usual = true;
    return OUTCOME_DONE;
}

/* True where that is how the line ends, and there is a file to name the folder after. */
static bool is_usual_out(int code, const char *word, const struct command_line *line) {
    return code == OPTION_OUT && strcmp(word, "--out") == 0 && line->options.operand_count > 0 &&
           line->usual_out == NULL;
}

/* True for `-x`: no option is a single letter. */
static bool is_letter_option(const char *word) {
    return word != NULL && word[0] == '-' && word[1] != '-' && word[1] != '\0';
}

enum outcome options_read(int argc, char **argv, struct command_line *line,
                          struct problems *problems) {
    /* `-`: operands come in order, as code 1; `:`: no messages of its own. */
    static const char *const letters = "-:";
    int code = 0;
    *line = (struct command_line){
        .options = {.from = SIDE_NEAR, .limit_s = 60, .shard = 1, .shards = 1},
        .operands = calloc((size_t)argc + 1, sizeof *line->operands),
        .unknown = calloc((size_t)argc + 1, sizeof *line->unknown)};
    if (line->operands == NULL || line->unknown == NULL) {
        return OUTCOME_FAULT;
    }
    line->options.operands = line->operands;
    optind = 1;
    while (code != -1) {
        if (optind < argc && is_letter_option(argv[optind])) {
            take_unknown(argv[optind++], line);
            continue;
        }
        code = getopt_long(argc, argv, letters, known, NULL);
        if (code == 1) {
            take_operand(optarg, line);
        } else if (code == ':' && is_usual_out(optopt - CODE_FIRST, argv[optind - 1], line)) {
            if (take_usual_out(line) != OUTCOME_DONE) {
                return OUTCOME_FAULT;
            }
        } else if (code == '?' || code == ':') {
            refuse_word(optopt - CODE_FIRST, argv[optind - 1], line, problems);
        } else if (code != -1) {
            take_option(code - CODE_FIRST, argv, line, problems);
        }
    }
    for (int i = optind; i < argc; i++) { /* behind a `--` */
        take_operand(argv[i], line);
    }
    return problems->total == 0 && line->unknown_count == 0 ? OUTCOME_DONE : OUTCOME_BAD_INPUT;
}

void options_free(struct command_line *line) {
    free(line->operands);
    free(line->unknown);
    free(line->usual_out);
    line->unknown = NULL;
    line->usual_out = NULL;
    line->operands = NULL;
    line->options.operands = NULL;
}
