#include "layout.h"

#include "carry.h"
#include "fingerprint.h"
#include "input.h"
#include "json.h"
#include "output.h"
#include "sheet.h"

#define TIGHT_IN (1.0 / 16) /* a counted margin below this makes a layout tight */

/* Everything made on the way; all owned. */
struct made {
    struct input input;
    struct carried carried;
    struct answer answer; /* borrows from the others */
    char fingerprint[FINGERPRINT_TEXT];
};

static void made_free(struct made *made) {
    carried_free(&made->carried);
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
    struct answer *answer = &made->answer;
    const struct carried *carried = &made->carried;
    answer->roof = made->input.roof;
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
}

static enum outcome make(const struct options *options, struct made *made,
                         struct problems *problems) {
    const struct layout_options how = {.limit_s = options->limit_s,
                                       .model_path = options->model_path};
    enum outcome outcome = input_read(options, &made->input, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = fingerprint_take(&made->input, NULL, options->from, made->fingerprint, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = carry_find(made->input.roof, &how, options->from, &made->carried, problems);
    }
    if (outcome == OUTCOME_DONE) {
        fill_answer(made, options);
    }
    return outcome;
}

static enum outcome write_sheet(const void *subject, FILE *stream) {
    return sheet_write(subject, stream);
}

static enum outcome write_json(const void *subject, FILE *stream) {
    return json_write(subject, stream);
}

static enum outcome put_out(const struct answer *answer, const struct options *options,
                            struct problems *problems) {
    const struct output outputs[] = {{"sheet.txt", write_sheet, answer},
                                     {"layout.json", write_json, answer}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->out_dir != NULL) {
        outcome = output_files(options->out_dir, outputs, 2, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = output_print(&outputs[options->json ? 1 : 0], problems);
    }
    return outcome;
}

int command_layout(const struct options *options) {
    struct problems problems = {0};
    struct made made = {0};
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
    made_free(&made);
    return output_end(outcome, &problems);
}
