#include "layout.h"

#include "check.h"
#include "fingerprint.h"
#include "input.h"
#include "json.h"
#include "output.h"
#include "sheet.h"

#define TIGHT_IN (1.0 / 16) /* a counted margin below this makes a layout tight */

/* Everything made on the way; all owned. */
struct made {
    struct input input;
    struct layout *layout;
    struct marks *marks;     /* rounded */
    struct verdict *verdict; /* on those */
    struct answer answer;    /* borrows from the others */
    char fingerprint[FINGERPRINT_TEXT];
};

static void made_free(struct made *made) {
    verdict_free(made->verdict);
    marks_free(made->marks);
    layout_free(made->layout);
    input_free(&made->input);
}

/* Whether the layout held every rule before it was rounded. */
static enum outcome held_before(const struct made *made, bool *held) {
    struct verdict *verdict = NULL;
    const enum outcome outcome = check_marks(made->input.roof, made->layout->marks, &verdict);
    if (outcome == OUTCOME_DONE) {
        *held = verdict->holds;
        verdict_free(verdict);
    }
    return outcome;
}

/* Rounds the layout's marks and holds what will be printed against every rule. */
static enum outcome round_and_check(struct made *made, enum side from) {
    const struct roof *roof = made->input.roof;
    bool obeyed = false; /* the check's own word counts, not this one */
    bool held = false;
    enum outcome outcome = layout_round(roof, made->layout, from, &made->marks, &obeyed);
    if (outcome == OUTCOME_DONE) {
        outcome = check_marks(roof, made->marks, &made->verdict);
    }
    if (outcome == OUTCOME_DONE && !made->verdict->holds) {
        outcome = held_before(made, &held);
    }
    made->answer.tape_broke = held;
    return outcome;
}

static enum status status_of(const struct made *made) {
    if (made->layout->state == LAYOUT_UNDECIDED) {
        return STATUS_UNDECIDED;
    }
    return made->verdict != NULL && made->verdict->holds ? STATUS_OK : STATUS_BLOCKED;
}

static void fill_answer(struct made *made, const struct options *options) {
    struct answer *answer = &made->answer;
    answer->roof = made->input.roof;
    answer->layout = made->layout;
    answer->marks = made->marks;
    answer->verdict = made->verdict;
    answer->status = status_of(made);
    answer->tight = answer->status == STATUS_OK && !length_holds(made->verdict->least - TIGHT_IN);
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
        outcome = fingerprint_take(&made->input, options->from, made->fingerprint, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = layout_find(made->input.roof, &how, &made->layout, problems);
    }
    if (outcome == OUTCOME_DONE && made->layout->marks != NULL) {
        outcome = round_and_check(made, options->from);
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
    if (outcome == OUTCOME_DONE && options->model_path != NULL && !made.layout->model_written) {
        fprintf(stderr, "ruddle: %s: not written: nothing can be placed, so there is no program\n",
                options->model_path);
    }
    if (outcome == OUTCOME_DONE && made.answer.status != STATUS_OK) {
        outcome = OUTCOME_BLOCKED;
    }
    made_free(&made);
    return output_end(outcome, &problems);
}
