#include "values.h"

#include "length.h"

#include <stdlib.h>
#include <string.h>

#define DAY_S 86400.0 /* nobody waits longer for a layout */

const char *value_wanted(enum option_code code) {
    switch (code) {
    case OPTION_OUT:
        return "a folder, such as --out out";
    case OPTION_PAPER:
        return "letter or a4";
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
    case OPTION_JOBS:
        return "a whole number from 1 to 1024, such as 2";
    case OPTION_REPORT:
        return "a file name, such as --report fleet.csv";
    case OPTION_SHARD:
        return "I/N, I from 1 to N and N up to 100000, such as 1/3";
    case OPTION_FILES:
        return "sheet or all";
    case OPTION_ASBUILT:
        return "a file name, such as --asbuilt asbuilt.yaml";
    case OPTION_SEED:
        return "a whole number from 1 to 999999999, such as 7";
    case OPTION_LEVEL:
        return "1, 2 or 3";
    case OPTION_PROGRESS:
        return "a file name, such as --progress practice.csv";
    case OPTION_GRADE:
        return "a file name, such as --grade answer.yaml";
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

static bool read_paper(const char *value, struct options *options) {
    for (enum paper paper = PAPER_LETTER; paper < PAPER_COUNT; paper++) {
        if (strcmp(value, drawing_paper_word(paper)) == 0) {
            options->paper = paper;
            options->paper_given = true;
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

/* A whole number from 1 on that ends where `*end` is then; 0 where there is none or it is above
 * `most`. */
static unsigned read_count(const char *text, unsigned most, const char **end) {
    unsigned count = 0;
    while (*text >= '0' && *text <= '9' && count <= most) {
        count = count * 10 + (unsigned)(*text++ - '0');
    }
    *end = text;
    return count <= most ? count : 0;
}

/* A whole number from 1 to `most`, and nothing behind it. */
static bool read_whole(const char *value, unsigned most, unsigned *number) {
    const char *end = NULL;
    *number = read_count(value, most, &end);
    return *number > 0 && *end == '\0';
}

static bool read_shard(const char *value, struct options *options) {
    const char *end = NULL;
    options->shard = read_count(value, SHARDS_MOST, &end);
    if (*end != '/') {
        return false;
    }
    options->shards = read_count(end + 1, SHARDS_MOST, &end);
    return *end == '\0' && options->shard > 0 && options->shard <= options->shards;
}

/* A path whose last part can be a file's name. */
static bool is_file_name(const char *value) {
    return value[0] != '\0' && value[strlen(value) - 1] != '/';
}

static bool ends_in(const char *text, const char *end) {
    const size_t length = strlen(text);
    return length > strlen(end) && strcmp(text + length - strlen(end), end) == 0;
}

static bool read_model(const char *value, struct options *options) {
    options->model_path = value;
    return ends_in(value, ".mps") || ends_in(value, ".lp");
}

bool value_take(enum option_code code, const char *value, struct command_line *line) {
    struct options *options = &line->options;
    switch (code) {
    case OPTION_JSON:
        options->json = true;
        return true;
    case OPTION_AS_MANY:
        options->as_many = true;
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
    case OPTION_PAPER:
        return read_paper(value, options);
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
        return is_file_name(value);
    case OPTION_JOBS:
        return read_whole(value, JOBS_MOST, &options->jobs);
    case OPTION_REPORT:
        options->report_path = value;
        return is_file_name(value);
    case OPTION_RESUME:
        options->resume = true;
        return true;
    case OPTION_SHARD:
        return read_shard(value, options);
    case OPTION_FILES:
        options->all_files = strcmp(value, "all") == 0;
        return options->all_files || strcmp(value, "sheet") == 0;
    case OPTION_MERGE:
        options->merge = true;
        return true;
    case OPTION_ASK:
        options->ask = true;
        return true;
    case OPTION_SEED:
        return read_whole(value, SEED_MOST, &options->seed);
    case OPTION_LEVEL:
        return read_whole(value, LEVEL_MOST, &options->level);
    case OPTION_PROGRESS:
        options->progress_path = value;
        return is_file_name(value);
    case OPTION_GRADE:
        options->grade_path = value;
        return is_file_name(value);
    case OPTION_MODEL:
        return read_model(value, options);
    default:
        return false;
    }
}
