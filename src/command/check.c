#include "check.h"

#include "input.h"
#include "json.h"
#include "output.h"
#include "sheet.h"
#include "strength.h"

#include <math.h>
#include <stdbool.h>

/* Everything made on the way; all owned. */
struct held {
    struct input input;
    struct survey_layout *survey;
    struct marks *marks;
    struct verdict *verdict;
    struct strength *strength; /* NULL without loads */
};

static void held_free(struct held *held) {
    strength_free(held->strength);
    verdict_free(held->verdict);
    marks_free(held->marks);
    survey_layout_free(held->survey);
    input_free(&held->input);
}

static enum outcome hold(const struct options *options, struct held *held,
                         struct problems *problems) {
    enum outcome outcome = input_read(options, &held->input, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = survey_read_layout(options->operands[1], &held->survey, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = marks_from_survey(held->input.roof, held->survey, &held->marks, problems);
    }
    if (outcome == OUTCOME_DONE) {
        marks_sort(held->marks);
        outcome = strength_hold(held->input.roof, held->marks, &held->verdict, &held->strength);
    }
    return outcome;
}

/* The forgiveness in trade words, never more than there is: cut to the thousandth of an inch or the
 * hundredth of a millimetre. */
static void write_good(const struct held *held, FILE *stream) {
    const double least = held->verdict->least;
    if (held->input.roof->measure == MEASURE_MM) {
        const double mm = (least + LENGTH_TOLERANCE) * LENGTH_MM_PER_INCH;
        fprintf(stream, "every rule holds; room to miss %.2f mm\n", floor(mm * 100) / 100);
    } else {
        fprintf(stream, "every rule holds; room to miss %.3f in\n",
                floor((least + LENGTH_TOLERANCE) * 1000) / 1000);
    }
}

static enum outcome write_lines(const void *subject, FILE *stream) {
    const struct held *held = subject;
    if (sheet_good(held->verdict, held->strength)) {
        write_good(held, stream);
    } else {
        (void)sheet_write_broken(held->input.roof, held->marks, held->verdict, stream);
    }
    sheet_write_weak(held->input.roof, held->marks, held->strength, stream);
    sheet_write_reasons(held->verdict, held->strength, stream);
    if (held->strength != NULL) {
        fputs("strength is screened, not certified: a licensed engineer decides\n", stream);
    }
    return OUTCOME_DONE;
}

static enum outcome write_json(const void *subject, FILE *stream) {
    const struct held *held = subject;
    return json_write_check(held->input.roof, held->marks, held->verdict, held->strength, stream);
}

static enum outcome put_out(const struct held *held, const struct options *options,
                            struct problems *problems) {
    const struct output outputs[] = {{"check.txt", write_lines, held},
                                     {"check.json", write_json, held}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->out_dir != NULL) {
        outcome = output_files(options->out_dir, outputs, 2, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = options->json ? output_print(&outputs[1], problems)
                                : output_show(&outputs[0], problems);
    }
    return outcome;
}

int command_check(const struct options *options) {
    struct problems problems = {0};
    struct held held = {0};
    enum outcome outcome = hold(options, &held, &problems);
    if (outcome == OUTCOME_DONE) {
        outcome = put_out(&held, options, &problems);
    }
    if (outcome == OUTCOME_DONE && !sheet_good(held.verdict, held.strength)) {
        outcome = OUTCOME_BLOCKED;
    }
    held_free(&held);
    return output_end(outcome, &problems);
}
