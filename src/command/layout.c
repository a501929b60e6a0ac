#include "layout.h"

#include "files.h"
#include "input.h"
#include "json.h"
#include "laid.h"
#include "output.h"
#include "sheet.h"

static enum outcome make(const struct options *options, struct laid *made,
                         struct problems *problems) {
    const struct layout_options how = {.limit_s = options->limit_s,
                                       .model_path = options->model_path};
    const enum outcome outcome = input_read(options, &made->input, problems);
    return outcome == OUTCOME_DONE ? laid_find(made, options, &how, problems) : outcome;
}

static enum outcome write_sheet(const void *subject, FILE *stream) {
    return sheet_write(subject, stream);
}

static enum outcome write_json(const void *subject, FILE *stream) {
    return json_write(subject, stream);
}

static enum outcome put_out(const struct answer *answer, const struct options *options,
                            struct problems *problems) {
    const struct files files = {.answer = answer,
                                .text = {"sheet.txt", write_sheet, answer},
                                .json = {"layout.json", write_json, answer}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->out_dir != NULL) {
        outcome = files_write(&files, options, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = options->json ? output_print(&files.json, problems)
                                : output_show(&files.text, problems);
    }
    return outcome;
}

int command_layout(const struct options *options) {
    struct problems problems = {0};
    struct laid made = {0};
    enum outcome outcome = make(options, &made, &problems);
    if (outcome == OUTCOME_DONE) {
        outcome = put_out(&made.answer, options, &problems);
    }
    if (outcome == OUTCOME_DONE && options->model_path != NULL &&
        !made.carried.layout->model_written) {
        fprintf(stderr, "ruddle: %s: not written: nothing can be placed, so there is no program\n",
                options->model_path);
    }
    if (outcome == OUTCOME_DONE && made.answer.status != STATUS_OK) {
        outcome = OUTCOME_BLOCKED;
    }
    laid_free(&made);
    return output_end(outcome, &problems);
}
