#include "input.h"

#include <stdlib.h>
#include <string.h>

#define TAPE_MOST_IN 1.0 /* as for the key `tape` of a roof file */

/* The measure that bare numbers of the roof file count in; a word that is no measure is refused
 * where the roof is built. */
static enum measure measure_of(const struct survey *survey) {
    const char *word = survey->roof->measure;
    return word != NULL && strcmp(word, "mm") == 0 ? MEASURE_MM : MEASURE_IN;
}

/* A length of the command line, found good when it was read.  FAULT: it no longer is. */
static enum outcome read_length(const char *text, enum measure measure, double *inches) {
    return text == NULL || length_read(text, measure, inches) == LENGTH_GOOD ? OUTCOME_DONE
                                                                             : OUTCOME_FAULT;
}

static enum outcome read_piped(struct input *input, struct problems *problems) {
    const enum outcome outcome = piped_read(&input->piped, problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    const struct survey_stand_in texts = {.roof = piped_text(&input->piped)};
    return survey_read_text(PIPED_NAME, &texts, &input->survey, problems);
}

/* The roof of a survey already read, as the command line changes it. */
static enum outcome build(const struct options *options, struct input *input,
                          struct problems *problems) {
    const enum measure measure = measure_of(input->survey);
    double tape = 0;
    if (read_length(options->burn, measure, &input->burn) != OUTCOME_DONE ||
        read_length(options->tape, measure, &tape) != OUTCOME_DONE) {
        return OUTCOME_FAULT;
    }
    if (!length_holds(TAPE_MOST_IN - tape)) {
        problems_add(problems, "ruddle", 0, "--tape", options->tape,
                     "the finest mark on the tape, at most 1 in, such as 1/16 or 1 mm");
        return OUTCOME_BAD_INPUT;
    }
    struct roof_options over = {.tape = options->tape == NULL ? NULL : &tape};
    for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
        over.hardware[row] = options->hardware_given[row] ? &options->hardware[row] : NULL;
    }
    return roof_build(input->survey, &over, &input->roof, problems);
}

enum outcome input_read(const struct options *options, struct input *input,
                        struct problems *problems) {
    if (strcmp(options->operands[0], PIPED_NAME) != 0) {
        return input_read_shelved(options, NULL, input, problems);
    }
    const enum outcome outcome = read_piped(input, problems);
    return outcome == OUTCOME_DONE ? build(options, input, problems) : outcome;
}

enum outcome input_read_shelved(const struct options *options, struct survey_shelf *shelf,
                                struct input *input, struct problems *problems) {
    const enum outcome outcome =
        survey_read_shelved(options->operands[0], shelf, &input->survey, problems);
    return outcome == OUTCOME_DONE ? build(options, input, problems) : outcome;
}

void input_free(struct input *input) {
    roof_free(input->roof);
    survey_free(input->survey);
    free(input->piped.bytes);
    *input = (struct input){0};
}
