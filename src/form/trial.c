#include "trial.h"

#include <stdlib.h>
#include <string.h>

/* No file is called that. */
static const char no_kit[] = "(no kit yet)";

struct trial {
    const char *file;
    const struct answers *answers;
    struct answers full;   /* the answers with what stands in; owned */
    struct answers stands; /* what stands in; owned */
    char *text;            /* the roof file; owned */
    size_t size;
};

/* The value that stands in; NULL: none does. */
static const char *stand_in(const struct trial *trial, const struct asked *asked) {
    const char *text = asked->question->stand_in;
    if (text == NULL || (asked->question->leads && asked->entry > asked->question->least)) {
        return NULL;
    }
    if (text[0] == '=') {
        const struct answered_key *key = answers_find(&trial->full, text + 1);
        return key == NULL ? NULL : key->value;
    }
    return strcmp(text, "-") == 0 ? no_kit : text;
}

/* Takes one question's answer, or what stands in for it. */
static enum outcome take(struct trial *trial, const struct asked *asked,
                         struct answers_writer *writer) {
    const struct answered_key *key = answers_find(trial->answers, asked->path);
    const char *value = key == NULL ? stand_in(trial, asked) : key->left_out ? NULL : key->value;
    enum outcome outcome = OUTCOME_DONE;
    if (value == NULL || asked->question->quick[0] != NULL) {
        return OUTCOME_DONE;
    }
    answers_write(writer, asked->path, value);
    outcome = answers_set(&trial->full, asked->path, value);
    if (outcome == OUTCOME_DONE && key == NULL) {
        outcome = answers_set(&trial->stands, asked->path, value);
    }
    return outcome;
}

static enum outcome write_file(struct trial *trial) {
    struct answers_writer writer = {.stream = open_memstream(&trial->text, &trial->size)};
    struct walk walk = {.answers = &trial->full};
    struct asked asked;
    enum outcome outcome = writer.stream == NULL ? OUTCOME_FAULT : OUTCOME_DONE;
    while (outcome == OUTCOME_DONE && walk_next(&walk, &asked)) {
        outcome = take(trial, &asked, &writer);
    }
    if (writer.stream != NULL && fclose(writer.stream) != 0) {
        outcome = OUTCOME_FAULT;
    }
    return outcome;
}

static enum outcome read_file(const struct trial *trial, struct roof **roof,
                              struct problems *problems) {
    const struct survey_stand_in texts = {trial->text, no_kit, form_kit_text};
    const struct roof_options options = {0};
    struct survey *survey = NULL;
    enum outcome outcome = survey_read_text(trial->file, &texts, &survey, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = roof_build(survey, &options, roof, problems);
    }
    survey_free(survey);
    return outcome;
}

/* Hands on the problems that are about answers. */
static enum outcome judge(const struct trial *trial, const struct problems *found,
                          struct problems *problems) {
    const size_t before = problems->total;
    for (size_t i = 0; i < found->count; i++) {
        const struct problem *problem = &found->list[i];
        const bool here = strcmp(problem->file, trial->file) == 0;
        const struct answered_key *key = answers_find(trial->answers, problem->key);
        if (here && answers_find(&trial->stands, problem->key) != NULL) {
            continue;
        }
        problems_add(problems, problem->file,
                     !here         ? problem->line
                     : key == NULL ? 0
                                   : key->line,
                     problem->key, problem->found, problem->wanted);
    }
    return problems->total > before ? OUTCOME_BAD_INPUT : OUTCOME_DONE;
}

enum outcome trial_hold(const char *file, const struct answers *answers, struct roof **roof,
                        struct problems *problems) {
    struct trial trial = {.file = file, .answers = answers};
    struct problems found = {0};
    struct roof *built = NULL;
    enum outcome outcome = write_file(&trial);
    if (outcome == OUTCOME_DONE) {
        outcome = read_file(&trial, &built, &found);
    }
    if (outcome == OUTCOME_BAD_INPUT) {
        outcome = judge(&trial, &found, problems);
    }
    if (roof != NULL && outcome == OUTCOME_DONE && trial.stands.count == 0) {
        *roof = built;
        built = NULL;
    }
    roof_free(built);
    problems_free(&found);
    answers_free(&trial.full);
    answers_free(&trial.stands);
    free(trial.text);
    return outcome;
}
