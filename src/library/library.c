/* The public interface: each call as an errand for a thread of its own. */
#include "ruddle.h"

#include "answer.h"
#include "carry.h"
#include "json.h"
#include "messages.h"
#include "own_thread.h"
#include "sheet.h"
#include "strength.h"

#include <stdlib.h>
#include <string.h>

#define LIMIT_S 60.0 /* as the program's own --limit */

_Static_assert((int)RUDDLE_BLOCKED == (int)OUTCOME_BLOCKED &&
                   (int)RUDDLE_BAD_INPUT == (int)OUTCOME_BAD_INPUT &&
                   (int)RUDDLE_FAULT == (int)OUTCOME_FAULT,
               "the public outcomes are the steps' own");

struct ruddle_roof {
    struct roof *roof; /* owned */
};

const char *ruddle_version(void) {
    return RUDDLE_VERSION;
}

/* Runs the errand and tells what went wrong.  A fault that named nothing gets a line too. */
static enum ruddle_outcome do_errand(enum outcome (*work)(void *subject), void *subject,
                                     struct problems *problems, struct ruddle_messages *messages) {
    messages_clear(messages);
    const enum outcome outcome = own_thread_do(work, subject);
    if (outcome == OUTCOME_FAULT && problems->total == 0) {
        problems_add(problems, "ruddle", 0, NULL, NULL, "more memory or threads");
    }
    messages_take(messages, problems);
    problems_free(problems);
    return (enum ruddle_outcome)outcome;
}

/* A text is held to the same limit as a file. */
static enum outcome look_at_text(const char *path, const char *text, struct problems *problems) {
    if (text != NULL && strlen(text) > SURVEY_BYTES_MOST) {
        problems_add(problems, path, 0, NULL, NULL, "a text of at most 1 MiB");
        return OUTCOME_BAD_INPUT;
    }
    return OUTCOME_DONE;
}

/* ---- A roof ---------------------------------------------------------------------------------- */

struct reading {
    const char *path, *text;
    struct ruddle_roof *roof;
    struct problems problems;
};

static enum outcome read_survey(struct reading *reading, struct survey **survey) {
    const struct survey_stand_in texts = {.roof = reading->text};
    return reading->text == NULL
               ? survey_read(reading->path, survey, &reading->problems)
               : survey_read_text(reading->path, &texts, survey, &reading->problems);
}

static enum outcome read_roof(void *subject) {
    struct reading *reading = subject;
    const struct roof_options as_filed = {0};
    struct survey *survey = NULL;
    enum outcome outcome = look_at_text(reading->path, reading->text, &reading->problems);
    if (outcome == OUTCOME_DONE) {
        outcome = read_survey(reading, &survey);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = roof_build(survey, &as_filed, &reading->roof->roof, &reading->problems);
    }
    survey_free(survey);
    return outcome;
}

enum ruddle_outcome ruddle_read(const char *path, const char *text, struct ruddle_roof **roof,
                                struct ruddle_messages *messages) {
    struct reading reading = {.path = path, .text = text};
    reading.roof = calloc(1, sizeof *reading.roof);
    if (reading.roof == NULL) {
        messages_clear(messages);
        return RUDDLE_FAULT;
    }
    const enum ruddle_outcome outcome = do_errand(read_roof, &reading, &reading.problems, messages);
    if (outcome == RUDDLE_DONE) {
        *roof = reading.roof;
    } else {
        ruddle_roof_free(reading.roof);
    }
    return outcome;
}

const char *ruddle_roof_name(const struct ruddle_roof *roof) {
    return roof->roof->name;
}

void ruddle_roof_free(struct ruddle_roof *roof) {
    if (roof != NULL) {
        roof_free(roof->roof);
        free(roof);
    }
}

/* ---- Laying out ------------------------------------------------------------------------------ */

struct laying {
    const struct roof *roof;
    struct layout_options how;
    enum side from;
    struct ruddle_answer *answer;
    struct problems problems;
};

static enum outcome write_layout(const void *subject, FILE *stream) {
    return json_write(subject, stream);
}

static enum outcome lay_out(void *subject) {
    struct laying *laying = subject;
    struct carried carried = {0};
    struct answer answer = {
        .roof = laying->roof, .from = laying->from, .limit_s = laying->how.limit_s};
    enum outcome outcome =
        carry_find(laying->roof, &laying->how, laying->from, &carried, &laying->problems);
    if (outcome == OUTCOME_DONE) {
        sheet_take_layout(&answer, &carried);
        const struct answered answered = {.roof = laying->roof,
                                          .marks = carried.marks,
                                          .verdict = carried.verdict,
                                          .write_json = write_layout,
                                          .subject = &answer};
        outcome = answer_make(&answered, &laying->answer);
    }
    if (outcome == OUTCOME_DONE && answer.status != STATUS_OK) {
        outcome = OUTCOME_BLOCKED;
    }
    carried_free(&carried);
    return outcome;
}

enum ruddle_outcome ruddle_lay_out(const struct ruddle_roof *roof,
                                   const struct ruddle_options *options,
                                   struct ruddle_answer **answer,
                                   struct ruddle_messages *messages) {
    struct laying laying = {.roof = roof->roof, .how = {.limit_s = LIMIT_S}, .from = SIDE_NEAR};
    if (options != NULL) {
        laying.from = options->from == RUDDLE_FAR ? SIDE_FAR : SIDE_NEAR;
        laying.how.limit_s = options->limit_s > 0 ? options->limit_s : LIMIT_S;
    }
    const enum ruddle_outcome outcome = do_errand(lay_out, &laying, &laying.problems, messages);
    if (laying.answer != NULL) {
        *answer = laying.answer;
    }
    return outcome;
}

/* ---- Checking -------------------------------------------------------------------------------- */

struct checking {
    const struct roof *roof;
    const char *path, *text;
    struct ruddle_answer *answer;
    struct problems problems;
};

/* Everything made on the way; all owned. */
struct held {
    const struct roof *roof; /* borrowed */
    struct marks *marks;
    struct verdict *verdict;
    struct strength *strength; /* NULL without loads */
};

static enum outcome write_check(const void *subject, FILE *stream) {
    const struct held *held = subject;
    return json_write_check(held->roof, held->marks, held->verdict, held->strength, stream);
}

static enum outcome read_marks(struct checking *checking, struct marks **marks) {
    struct survey_layout *layout = NULL;
    enum outcome outcome = look_at_text(checking->path, checking->text, &checking->problems);
    if (outcome == OUTCOME_DONE) {
        outcome =
            survey_read_layout_text(checking->path, checking->text, &layout, &checking->problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = marks_from_survey(checking->roof, layout, marks, &checking->problems);
    }
    survey_layout_free(layout);
    return outcome;
}

static enum outcome check(void *subject) {
    struct checking *checking = subject;
    struct held held = {.roof = checking->roof};
    enum outcome outcome = read_marks(checking, &held.marks);
    if (outcome == OUTCOME_DONE) {
        marks_sort(held.marks);
        outcome = strength_hold(held.roof, held.marks, &held.verdict, &held.strength);
    }
    if (outcome == OUTCOME_DONE) {
        const struct answered answered = {.roof = held.roof,
                                          .marks = held.marks,
                                          .verdict = held.verdict,
                                          .write_json = write_check,
                                          .subject = &held};
        outcome = answer_make(&answered, &checking->answer);
    }
    if (outcome == OUTCOME_DONE && !sheet_good(held.verdict, held.strength)) {
        outcome = OUTCOME_BLOCKED;
    }
    strength_free(held.strength);
    verdict_free(held.verdict);
    marks_free(held.marks);
    return outcome;
}

enum ruddle_outcome ruddle_check(const struct ruddle_roof *roof, const char *path, const char *text,
                                 struct ruddle_answer **answer, struct ruddle_messages *messages) {
    struct checking checking = {.roof = roof->roof, .path = path, .text = text};
    const enum ruddle_outcome outcome = do_errand(check, &checking, &checking.problems, messages);
    if (checking.answer != NULL) {
        *answer = checking.answer;
    }
    return outcome;
}
