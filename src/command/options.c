#include "options.h"

#include "nearest.h"

#include <getopt.h>
#include <stdio.h>
#include <string.h>

#define DAY_S 86400.0 /* nobody waits longer for a layout */

enum option_code {
    OPTION_JSON = 256, /* above any letter */
    OPTION_OUT,
    OPTION_TOP,
    OPTION_BOTTOM,
    OPTION_FROM,
    OPTION_BURN,
    OPTION_TAPE,
    OPTION_LIMIT,
    OPTION_MODEL,
    OPTION_ASBUILT,
    OPTION_QUIET,
    OPTION_VERSION,
    OPTION_HELP,
};

static const struct option known[] = {
    {"json", no_argument, NULL, OPTION_JSON},
    {"out", required_argument, NULL, OPTION_OUT},
    {"top", required_argument, NULL, OPTION_TOP},
    {"bottom", required_argument, NULL, OPTION_BOTTOM},
    {"from", required_argument, NULL, OPTION_FROM},
    {"burn", required_argument, NULL, OPTION_BURN},
    {"tape", required_argument, NULL, OPTION_TAPE},
    {"limit", required_argument, NULL, OPTION_LIMIT},
    {"model", required_argument, NULL, OPTION_MODEL},
    {"asbuilt", required_argument, NULL, OPTION_ASBUILT},
    {"quiet", no_argument, NULL, OPTION_QUIET},
    {"version", no_argument, NULL, OPTION_VERSION},
    {"help", no_argument, NULL, OPTION_HELP},
    {NULL, 0, NULL, 0},
};
enum { KNOWN_COUNT = sizeof known / sizeof known[0] - 1 };

/* Room for a name with its dashes. */
enum { NAME_MOST = 40 };

static void refuse(struct problems *problems, const char *name, const char *found,
                   const char *wanted) {
    problems_add(problems, "ruddle", 0, name, found, wanted);
}

/* Says that there is no such option, and which one may have been meant. */
static void refuse_unknown(struct problems *problems, const char *word) {
    char bare[NAME_MOST];
    char wanted[120];
    const char *start = word + strspn(word, "-");
    const size_t length = strcspn(start, "=");
    snprintf(bare, sizeof bare, "%.*s", (int)(length < sizeof bare ? length : sizeof bare), start);
    struct nearest nearest = {0};
    for (size_t i = 0; i < KNOWN_COUNT; i++) {
        nearest_offer(&nearest, bare, known[i].name, 1);
    }
    if (nearest.word != NULL) {
        snprintf(wanted, sizeof wanted, "an option that exists; the nearest is --%s", nearest.word);
    } else {
        snprintf(wanted, sizeof wanted, "an option that exists; ruddle --help lists them");
    }
    refuse(problems, NULL, word, wanted);
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
    for (size_t i = 0; i < KNOWN_COUNT; i++) {
        found = found || is_spelt_out(word, known[i].name);
    }
    return found;
}

static const char *value_wanted(int code) {
    switch (code) {
    case OPTION_OUT:
        return "a folder, such as --out out";
    case OPTION_TOP:
    case OPTION_BOTTOM:
        return "strut or feet";
    case OPTION_FROM:
        return "near or far (near: the corner's rake)";
    case OPTION_BURN:
        return "a length that is not negative, such as 1 or 25 mm";
    case OPTION_TAPE:
        return "a length above 0, such as 1/16 or 1 mm";
    case OPTION_LIMIT:
        return "a number of seconds above 0 and up to 86400, such as 60";
    case OPTION_ASBUILT:
        return "a file name, such as --asbuilt asbuilt.yaml";
    case OPTION_MODEL:
        return "a file name that ends in .mps or .lp";
    default:
        return "no value";
    }
}

static bool read_hardware(const char *value, struct options *options, enum row row) {
    for (enum hardware hardware = HARDWARE_STRUT; hardware <= HARDWARE_FEET; hardware++) {
        if (strcmp(value, roof_hardware_word(hardware)) == 0) {
            options->hardware[row] = hardware;
            options->hardware_given[row] = true;
            return true;
        }
    }
    return false;
}

static bool read_from(const char *value, struct options *options) {
    for (enum side side = SIDE_NEAR; side < SIDE_COUNT; side++) {
        if (strcmp(value, roof_side_word(side)) == 0) {
            options->from = side;
            return true;
        }
    }
    return false;
}

/* The measure of a bare number is the file's, which is not read yet; whether the text is a length,
 * and its sign, is the same in either. */
static bool is_length(const char *value, bool zero_too) {
    double length = 0;
    return length_read(value, MEASURE_IN, &length) == LENGTH_GOOD &&
           (zero_too ? length >= 0 : length > 0);
}

static bool read_limit(const char *value, struct options *options) {
    double seconds = 0;
    if (length_read_number(value, &seconds) != LENGTH_GOOD || !(seconds > 0) ||
        !(seconds <= DAY_S)) {
        return false;
    }
    options->limit_s = seconds;
    return true;
}

static bool ends_in(const char *text, const char *end) {
    const size_t length = strlen(text);
    return length > strlen(end) && strcmp(text + length - strlen(end), end) == 0;
}

static bool read_model(const char *value, struct options *options) {
    options->model_path = value;
    return ends_in(value, ".mps") || ends_in(value, ".lp");
}

/* Takes one option with its value; false where the value is none that it can take. */
static bool take(int code, const char *value, struct command_line *line) {
    struct options *options = &line->options;
    switch (code) {
    case OPTION_JSON:
        options->json = true;
        return true;
    case OPTION_QUIET:
        options->quiet = true;
        return true;
    case OPTION_VERSION:
        line->version = true;
        return true;
    case OPTION_HELP:
        line->help = true;
        return true;
    case OPTION_OUT:
        options->out_dir = value;
        return value[0] != '\0';
    case OPTION_TOP:
        return read_hardware(value, options, ROW_TOP);
    case OPTION_BOTTOM:
        return read_hardware(value, options, ROW_BOTTOM);
    case OPTION_FROM:
        return read_from(value, options);
    case OPTION_BURN:
        options->burn = value;
        return is_length(value, true);
    case OPTION_TAPE:
        options->tape = value;
        return is_length(value, false);
    case OPTION_LIMIT:
        return read_limit(value, options);
    case OPTION_ASBUILT:
        options->asbuilt_path = value;
        return value[0] != '\0' && value[strlen(value) - 1] != '/';
    case OPTION_MODEL:
        return read_model(value, options);
    default:
        return false;
    }
}

static void take_operand(const char *word, struct command_line *line) {
    struct options *options = &line->options;
    if (line->command == NULL) {
        line->command = word;
        return;
    }
    line->operand_total++;
    if (options->operand_count < sizeof options->operands / sizeof options->operands[0]) {
        options->operands[options->operand_count++] = word;
    } else if (line->surplus == NULL) {
        line->surplus = word;
    }
}

static const struct option *option_of(int code) {
    size_t i = 0;
    while (i < KNOWN_COUNT && known[i].val != code) {
        i++;
    }
    return &known[i]; /* the last one has no name */
}

/* What getopt could not take: `word` is the option that it stopped at. */
static void refuse_word(int code, const char *word, struct problems *problems) {
    const struct option *option = option_of(code);
    if (option->name != NULL && is_spelt_out(word, option->name)) {
        char name[NAME_MOST];
        snprintf(name, sizeof name, "--%s", option->name);
        const char *value = strchr(word, '=');
        refuse(problems, name, value == NULL ? NULL : value + 1, value_wanted(code));
    } else {
        refuse_unknown(problems, word);
    }
}

/* One option that getopt knows: refuses abbreviations, then takes it. */
static void take_option(int code, char *const *argv, struct command_line *line,
                        struct problems *problems) {
    const char *name = option_of(code)->name;
    const char *value = optarg;
    char dashed[NAME_MOST];
    const bool apart = value != NULL && value == argv[optind - 1];
    const char *word = argv[optind - (apart ? 2 : 1)];
    snprintf(dashed, sizeof dashed, "--%s", name);
    if (!is_spelt_out(word, name)) {
        refuse_unknown(problems, word);
    } else if (apart && is_option(value)) {
        refuse(problems, dashed, NULL, value_wanted(code));
        optind--; /* that word is an option of its own */
    } else if (!take(code, value, line)) {
        refuse(problems, dashed, value, value_wanted(code));
    }
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
    *line = (struct command_line){.options = {.from = SIDE_NEAR, .limit_s = 60}};
    optind = 1;
    while (code != -1) {
        if (optind < argc && is_letter_option(argv[optind])) {
            refuse_unknown(problems, argv[optind++]);
            continue;
        }
        code = getopt_long(argc, argv, letters, known, NULL);
        if (code == 1) {
            take_operand(optarg, line);
        } else if (code == '?' || code == ':') {
            refuse_word(optopt, argv[optind - 1], problems);
        } else if (code != -1) {
            take_option(code, argv, line, problems);
        }
    }
    for (int i = optind; i < argc; i++) { /* behind a `--` */
        take_operand(argv[i], line);
    }
    return problems->total == 0 ? OUTCOME_DONE : OUTCOME_BAD_INPUT;
}
