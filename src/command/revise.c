#include "revise.h"

#include "fingerprint.h"
#include "input.h"
#include "output.h"
#include "revised.h"

#include <string.h>

#define TIGHT_IN (1.0 / 16) /* a counted margin below this makes a layout tight */

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

static enum status status_of(const struct carried *carried) {
    if (carried->layout->state == LAYOUT_UNDECIDED) {
        return STATUS_UNDECIDED;
    }
    const bool holds = carried->verdict != NULL && carried->verdict->holds;
    const bool carries = carried->strength == NULL || carried->strength->carries;
    return holds && carries ? STATUS_OK : STATUS_BLOCKED;
}

static void fill_answer(struct made *made, const struct options *options) {
    struct answer *answer = &made->answer.answer;
    const struct carried *carried = &made->revised.carried;
    made->answer.revised = &made->revised;
    answer->roof = &made->revised.roof;
    answer->layout = carried->layout;
    answer->marks = carried->marks;
    answer->verdict = carried->verdict;
    answer->strength = carried->strength;
    answer->none_carry = carried->none_carry;
    answer->set_aside = carried->searches > 1 ? carried->searches - 1 : 0;
    answer->status = status_of(carried);
    answer->tight =
        answer->status == STATUS_OK && !length_holds(carried->verdict->least - TIGHT_IN);
    answer->tape_broke = carried->held && !carried->verdict->holds;
    answer->from = options->from;
    answer->burn = made->input.burn;
    answer->fingerprint = made->fingerprint;
    answer->limit_s = options->limit_s;
    answer->done = made->revised.done;
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

static enum outcome write_asbuilt(const void *subject, FILE *stream) {
    return revised_write_asbuilt(subject, stream);
}

/* The record goes where it was asked for; its folder is there or can be made. */
static enum outcome put_asbuilt(const struct revised_answer *answer, const char *path,
                                struct problems *problems) {
    char folder[1024] = ".";
    const char *slash = strrchr(path, '/');
    const size_t length = slash == NULL ? 0 : (size_t)(slash - path);
    if (length >= sizeof folder) {
        problems_add(problems, path, 0, "--asbuilt", NULL, "a shorter path");
        return OUTCOME_BAD_INPUT;
    }
    if (slash != NULL) {
        snprintf(folder, sizeof folder, "%.*s", (int)(length > 0 ? length : 1), path);
    }
    const struct output output = {slash == NULL ? path : slash + 1, write_asbuilt, answer};
    return output_files(folder, &output, 1, problems);
}

static enum outcome put_out(const struct revised_answer *answer, const struct options *options,
                            struct problems *problems) {
    const struct output outputs[] = {{"sheet.txt", write_sheet, answer},
                                     {"layout.json", write_json, answer}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->asbuilt_path != NULL) {
        outcome = put_asbuilt(answer, options->asbuilt_path, problems);
    }
    if (outcome == OUTCOME_DONE && options->out_dir != NULL) {
        outcome = output_files(options->out_dir, outputs, 2, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = output_print(&outputs[options->json ? 1 : 0], problems);
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
