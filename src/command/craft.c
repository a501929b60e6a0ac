#include "craft.h"

#include "digest.h"
#include "files.h"
#include "json.h"
#include "laid.h"
#include "output.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What a worker keeps from one roof to the next. */
struct bench {
    const struct options *options;
    struct survey_shelf *shelf; /* owned */
    uint64_t settings;          /* digest of the options and of this program */
};

void craft_settings(const struct options *options, char text[CRAFT_SETTINGS]) {
    const char *hardware[ROW_COUNT];
    for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
        hardware[row] =
            options->hardware_given[row] ? roof_hardware_word(options->hardware[row]) : "as filed";
    }
    snprintf(text, CRAFT_SETTINGS,
             "%s; top %s; bottom %s; from %s; burn %.40s; tape %.40s; limit %.9g", RUDDLE_VERSION,
             hardware[ROW_TOP], hardware[ROW_BOTTOM], roof_side_word(options->from),
             options->burn == NULL ? "none" : options->burn,
             options->tape == NULL ? "as filed" : options->tape, options->limit_s);
}

static void *begin(const void *order) {
    char settings[CRAFT_SETTINGS];
    struct bench *bench = calloc(1, sizeof *bench);
    if (bench == NULL) {
        return NULL;
    }
    bench->options = order;
    bench->shelf = survey_shelf_new();
    craft_settings(bench->options, settings);
    bench->settings = digest_text(DIGEST_START, settings);
    return bench;
}

static void end(void *clearing) {
    struct bench *bench = clearing;
    if (bench != NULL) {
        survey_shelf_free(bench->shelf);
        free(bench);
    }
}

/* ---- The row --------------------------------------------------------------------------------- */

/* Of everything that the row depends on; never 0. */
static uint64_t digest_of(const struct bench *bench, const struct survey *survey) {
    uint64_t digest = digest_number(bench->settings, survey->digest);
    for (size_t i = 0; i < survey->kit_count; i++) {
        digest = digest_number(digest, survey->kits[i].digest);
    }
    return digest == 0 ? 1 : digest;
}

/* The first of the faults, as it is printed; of more than one, how many. */
static void tell_error(const struct problems *problems, struct fleet_row *row) {
    row->status = FLEET_ERROR;
    if (problems->total == 0 || problems->count == 0) {
        snprintf(row->error, sizeof row->error, "out of memory, or a defect of the program");
        row->fault = true;
        return;
    }
    FILE *stream = fmemopen(row->error, sizeof row->error - 1, "w");
    const struct problems first = {.list = problems->list, .count = 1, .total = 1};
    if (stream != NULL) {
        problems_print(&first, stream);
        fclose(stream);
    }
    row->error[strcspn(row->error, "\n")] = '\0';
    if (problems->total > 1) {
        const size_t used = strlen(row->error);
        snprintf(row->error + used, sizeof row->error - used, " (and %zu more)",
                 problems->total - 1);
    }
}

/* The rule with the least margin among those that break; where none does, among those counted. */
static const struct finding *worst(const struct verdict *verdict) {
    const struct finding *found = NULL;
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        const bool eligible =
            verdict->holds ? check_rule_counted(finding->rule) : !length_holds(finding->margin);
        if (eligible && (found == NULL || finding->margin < found->margin)) {
            found = finding;
        }
    }
    return found;
}

static void name_mark(const struct answer *answer, int mark, struct fleet_row *row) {
    if (mark != CHECK_NONE) {
        sheet_hole_name(answer->roof, answer->marks, (size_t)mark, row->mark, sizeof row->mark);
    }
}

/* A lag or strut that does not carry is told where every other rule holds. */
static void fill_rule(const struct answer *answer, struct fleet_row *row) {
    const struct strength *strength = answer->strength;
    if (answer->verdict->holds && strength != NULL && !strength->carries) {
        const struct strength_item *weakest = NULL;
        for (size_t i = 0; i < strength->count; i++) {
            const struct strength_item *item = &strength->items[i];
            if (item->kind != STRENGTH_RAFTER &&
                (weakest == NULL || item->ratio > weakest->ratio)) {
                weakest = item;
            }
        }
        snprintf(row->rule, sizeof row->rule, "strength");
        name_mark(answer, weakest == NULL ? CHECK_NONE : weakest->mark, row);
        return;
    }
    const struct finding *finding = worst(answer->verdict);
    if (finding != NULL) {
        snprintf(row->rule, sizeof row->rule, "%s", check_rule_name(finding->rule));
        name_mark(answer, finding->mark, row);
    }
}

static double moved(const struct answer *answer) {
    double sum = 0;
    for (size_t i = 0; i < answer->roof->bracket_count; i++) {
        const struct bracket *bracket = &answer->roof->brackets[i];
        sum += fabs(answer->marks->brackets[i].x - bracket->want_x) +
               fabs(answer->marks->brackets[i].y - bracket->want_y);
    }
    return sum;
}

static void fill_row(const struct answer *answer, struct fleet_row *row) {
    static const enum fleet_status statuses[] = {[STATUS_OK] = FLEET_OK,
                                                 [STATUS_BLOCKED] = FLEET_BLOCKED,
                                                 [STATUS_UNDECIDED] = FLEET_UNDECIDED};
    const struct roof *roof = answer->roof;
    const double unit = roof->measure == MEASURE_MM ? LENGTH_MM_PER_INCH : 1;
    row->status = statuses[answer->status];
    snprintf(row->roof, sizeof row->roof, "%s", roof->name);
    row->measure = roof->measure;
    row->proved =
        answer->layout->state == LAYOUT_PROVED || answer->layout->state == LAYOUT_IMPOSSIBLE;
    if (answer->marks != NULL && answer->verdict != NULL) {
        row->forgiveness = answer->verdict->least * unit;
        row->holes = (long)answer->verdict->holes;
        row->moved = moved(answer) * unit;
        fill_rule(answer, row);
    }
}

/* ---- The work -------------------------------------------------------------------------------- */

static enum outcome write_sheet(const void *subject, FILE *stream) {
    return sheet_write(subject, stream);
}

static enum outcome write_json(const void *subject, FILE *stream) {
    return json_write(subject, stream);
}

/* What lies about was left by workers that were killed: nobody else writes there. */
static enum outcome put_files(const struct answer *answer, const struct options *options,
                              struct problems *problems) {
    const struct files files = {.answer = answer,
                                .text = {"sheet.txt", write_sheet, answer},
                                .json = {"layout.json", write_json, answer},
                                .anew = true};
    const struct output sheet[] = {files.text, files.json};
    return options->all_files ? files_write(&files, options, problems)
                              : output_files_anew(options->out_dir, sheet, 2, problems);
}

/* From the file to the row; whatever is made on the way is in laid. */
static enum outcome lay_out_file(struct bench *bench, const struct fleet_task *task,
                                 struct laid *laid, struct fleet_row *row,
                                 struct problems *problems) {
    uint64_t steps = 0;
    const char *operands[] = {task->file};
    struct options options = *bench->options;
    options.operands = operands;
    options.operand_count = 1;
    options.out_dir = task->sheets;
    const struct layout_options how = {.limit_s = options.limit_s, .steps = &steps};
    enum outcome outcome = input_read_shelved(&options, bench->shelf, &laid->input, problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    row->digest = digest_of(bench, laid->input.survey);
    row->unchanged = task->known && task->digest == row->digest;
    if (row->unchanged) {
        return OUTCOME_DONE;
    }
    outcome = laid_find(laid, &options, &how, problems);
    if (outcome == OUTCOME_DONE) {
        fill_row(&laid->answer, row);
    }
    if (outcome == OUTCOME_DONE && task->sheets != NULL) {
        outcome = put_files(&laid->answer, &options, problems);
    }
    return outcome;
}

static void lay_out(void *at, const struct fleet_task *task, struct fleet_row *row) {
    struct bench *bench = at;
    struct problems problems = {0};
    struct laid laid = {0};
    row->forgiveness = row->moved = NAN;
    row->holes = -1;
    const enum outcome outcome =
        bench->shelf == NULL ? OUTCOME_FAULT : lay_out_file(bench, task, &laid, row, &problems);
    if (outcome != OUTCOME_DONE) {
        const double none = NAN;
        *row = (struct fleet_row){.forgiveness = none, .moved = none, .holes = -1};
        tell_error(&problems, row);
    }
    laid_free(&laid);
    problems_free(&problems);
}

struct fleet_craft craft_of_fleet(const struct options *options) {
    return (struct fleet_craft){.begin = begin, .lay_out = lay_out, .end = end, .order = options};
}
