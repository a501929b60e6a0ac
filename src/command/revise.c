#include "revise.h"

#include "files.h"
#include "laid.h"
#include "output.h"
#include "revised.h"

/* Everything made on the way; all owned. */
struct made {
    struct input input;
    struct survey_drilled *drilled;
    struct revised revised;
    struct revised_answer answer; /* borrows from the others */
    char fingerprint[FINGERPRINT_TEXT];
};

static void made_free(struct made *made) {
    revised_free(&made->revised);
    survey_drilled_free(made->drilled);
    input_free(&made->input);
}

static void fill_answer(struct made *made, const struct options *options) {
    const struct revised *revised = &made->revised;
    made->answer = (struct revised_answer){.revised = revised,
                                           .answer = {.roof = &revised->roof,
                                                      .from = options->from,
                                                      .burn = made->input.burn,
                                                      .fingerprint = made->fingerprint,
                                                      .limit_s = options->limit_s,
                                                      .done = revised->done,
                                                      .patches = revised->patches,
                                                      .dead_holes = revised->dead_count}};
    sheet_take_layout(&made->answer.answer, &revised->carried);
}

static enum outcome make(const struct options *options, struct made *made,
                         struct problems *problems) {
    const struct layout_options how = {.limit_s = options->limit_s};
    enum outcome outcome = input_read(options, &made->input, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = survey_read_drilled(options->operands[1], &made->drilled, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = fingerprint_take(&made->input, options->operands[1], options->from,
                                   made->fingerprint, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = revise_find(made->input.roof, made->drilled, &how, options->from, &made->revised,
                              problems);
    }
    if (outcome == OUTCOME_DONE) {
        fill_answer(made, options);
    }
    return outcome;
}

static enum outcome write_sheet(const void *subject, FILE *stream) {
    return revised_write_sheet(subject, stream);
}

static enum outcome write_json(const void *subject, FILE *stream) {
    return revised_write_json(subject, stream);
}

static enum outcome tell(const void *subject, const struct sheet_taker *taker) {
    return revised_tell(subject, taker);
}

static enum outcome write_asbuilt(const void *subject, FILE *stream) {
    return revised_write_asbuilt(subject, stream);
}

static enum outcome put_out(const struct revised_answer *answer, const struct options *options,
                            struct problems *problems) {
    const struct telling telling = {tell, answer};
    const struct files files = {.answer = &answer->answer,
                                .telling = &telling,
                                .text = {"sheet.txt", write_sheet, answer},
                                .json = {"layout.json", write_json, answer}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->asbuilt_path != NULL) {
        outcome = output_file(options->asbuilt_path, write_asbuilt, answer, problems);
    }
    if (outcome == OUTCOME_DONE && options->out_dir != NULL) {
        outcome = files_write(&files, options, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = options->json ? output_print(&files.json, problems)
                                : output_show(&files.text, problems);
    }
    return outcome;
}

int command_revise(const struct options *options) {
    struct problems problems = {0};
    struct made made = {0};
    enum outcome outcome = make(options, &made, &problems);
    if (outcome == OUTCOME_DONE) {
        outcome = put_out(&made.answer, options, &problems);
    }
    if (outcome == OUTCOME_DONE && made.answer.answer.status != STATUS_OK) {
        outcome = OUTCOME_BLOCKED;
    }
    made_free(&made);
    return output_end(outcome, &problems);
}
