/* The roof file, filled in by asking. */
#include "form.h"
#include "trial.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { PROMPT = 160, TOLD = 400 };

struct asking {
    const char *path;
    struct terminal *terminal;
    form_save *save;
    struct answers answers;
    char opened[ANSWERS_PATH]; /* a quick question that was answered `no`; "": none */
    struct problems *problems;
};

/* Where asking stands: the next question, and the answers before it. */
struct place {
    struct asked next;
    char before[ANSWERS_PATH], earlier[ANSWERS_PATH]; /* "" where there is none */
};

/* ---- The file ------------------------------------------------------------------------------- */

static enum outcome write_answers(const void *subject, FILE *stream) {
    const struct answers *answers = subject;
    struct answers_writer writer = {.stream = stream};
    struct walk walk = {.answers = answers};
    struct asked asked;
    fprintf(stream, "%s\n", answers_head);
    while (walk_next(&walk, &asked)) {
        const struct answered_key *key = answers_find(answers, asked.path);
        if (key == NULL || asked.question->quick[0] != NULL) {
            continue;
        }
        if (key->left_out) {
            answers_write_left_out(&writer, asked.path);
        } else {
            answers_write(&writer, asked.path, key->value);
        }
    }
    return OUTCOME_DONE;
}

/* Reads a whole plain file; *text stays NULL where there is none.  Owned by the caller. */
static enum outcome read_text(const char *path, char **text, struct problems *problems) {
    struct stat status = {0};
    if (stat(path, &status) != 0 && errno == ENOENT) {
        return OUTCOME_DONE;
    }
    FILE *stream = S_ISREG(status.st_mode) ? fopen(path, "r") : NULL;
    if (stream == NULL || status.st_size > SURVEY_BYTES_MOST) {
        problems_add(problems, path, 0, NULL, NULL, "a file that --ask began, or none yet");
        if (stream != NULL) {
            fclose(stream);
        }
        return OUTCOME_BAD_INPUT;
    }
    const size_t size = (size_t)status.st_size;
    char *read = malloc(size + 1);
    enum outcome outcome = OUTCOME_FAULT;
    if (read != NULL) {
        read[fread(read, 1, size, stream)] = '\0';
        outcome = ferror(stream) == 0 ? OUTCOME_DONE : OUTCOME_FAULT;
    }
    fclose(stream);
    *text = read;
    return outcome;
}

/* Every key of the file has to belong to a question that was reached. */
static enum outcome find_strangers(const struct asking *asking) {
    const size_t before = asking->problems->total;
    for (size_t i = 0; i < asking->answers.count; i++) {
        const struct answered_key *key = &asking->answers.list[i];
        struct walk walk = {.answers = &asking->answers};
        struct asked asked;
        bool known = false;
        while (!known && walk_next(&walk, &asked)) {
            known = asked.question->quick[0] == NULL && strcmp(asked.path, key->path) == 0;
        }
        if (!known) {
            problems_add(asking->problems, asking->path, key->line, key->path, key->value,
                         "no such key here: asking does not come to it");
        }
    }
    return asking->problems->total > before ? OUTCOME_BAD_INPUT : OUTCOME_DONE;
}

/* Goes on with what is there. */
static enum outcome take_up(struct asking *asking) {
    char *text = NULL;
    enum outcome outcome = read_text(asking->path, &text, asking->problems);
    if (outcome == OUTCOME_DONE && text != NULL) {
        outcome = answers_read(asking->path, text, &asking->answers, asking->problems);
        if (outcome == OUTCOME_DONE) {
            outcome = find_strangers(asking);
        }
        if (outcome == OUTCOME_DONE) {
            outcome = trial_hold(asking->path, &asking->answers, NULL, asking->problems);
        }
    }
    free(text);
    return outcome;
}

static enum outcome save(struct asking *asking) {
    return asking->save(asking->path, write_answers, &asking->answers, asking->problems);
}

/* ---- One question --------------------------------------------------------------------------- */

/* False where every question is answered. */
static bool find_place(const struct asking *asking, struct place *place) {
    struct walk walk = {.answers = &asking->answers, .opened = asking->opened};
    place->before[0] = place->earlier[0] = '\0';
    while (walk_next(&walk, &place->next)) {
        if (answers_find(&asking->answers, place->next.path) == NULL) {
            return true;
        }
        memcpy(place->earlier, place->before, sizeof place->earlier);
        memcpy(place->before, place->next.path, sizeof place->before);
    }
    return false;
}

/* What an empty line comes to: *value, NULL where the question is left out; false where an answer
 * is wanted. */
static bool usual_of(const struct asked *asked, const char **value) {
    const struct question *question = asked->question;
    *value = question->usual;
    if (question->usual == NULL || (question->leads && asked->entry <= question->least)) {
        return false;
    }
    if (question->usual[0] == '\0') {
        *value = NULL;
    }
    return true;
}

static void write_prompt(const struct asked *asked, char prompt[PROMPT]) {
    const char *ask = asked->question->ask, *usual = NULL, *number = strstr(ask, "%zu");
    int used = 0;
    if (number != NULL) {
        used = snprintf(prompt, PROMPT, "%.*s%zu%s", (int)(number - ask), ask, asked->entry,
                        number + 3);
    } else {
        used = snprintf(prompt, PROMPT, "%s", ask);
    }
    const bool shown = usual_of(asked, &usual);
    snprintf(prompt + used, PROMPT - (size_t)used, "%s%s%s: ", shown ? " [" : "",
             !shown          ? ""
             : usual == NULL ? "-"
                             : usual,
             shown ? "]" : "");
}

/* Says what is wrong with an answer, in the words of whoever reads roof files. */
static void tell(const struct asking *asking, const char *path, const struct problems *problems) {
    for (size_t i = 0; i < problems->count; i++) {
        const struct problem *problem = &problems->list[i];
        const bool here = strcmp(problem->file, asking->path) == 0;
        char text[TOLD + sizeof problem->file + sizeof problem->key];
        if (!here) {
            snprintf(text, sizeof text, "no: %s:%d: %s: wanted %s", problem->file, problem->line,
                     problem->key, problem->wanted);
        } else if (strcmp(problem->key, path) == 0) {
            snprintf(text, sizeof text, "no: wanted %s", problem->wanted);
        } else {
            snprintf(text, sizeof text, "no, because of %s: wanted %s", problem->key,
                     problem->wanted);
        }
        terminal_say(asking->terminal, 4, text);
    }
}

/* Keeps an answer if it is good: then the file has it.  DONE even if it is not. */
static enum outcome try_answer(struct asking *asking, const char *path, const char *value) {
    struct problems problems = {0};
    enum outcome outcome = answers_set(&asking->answers, path, value);
    if (outcome == OUTCOME_DONE) {
        outcome = trial_hold(asking->path, &asking->answers, NULL, &problems);
    }
    if (outcome == OUTCOME_BAD_INPUT) {
        tell(asking, path, &problems);
        answers_drop(&asking->answers, path);
        outcome = OUTCOME_DONE;
    } else if (outcome == OUTCOME_DONE) {
        outcome = save(asking);
    }
    problems_free(&problems);
    return outcome;
}

/* `yes` answers several questions at once; left out (NULL) means `no`. */
static enum outcome try_quick(struct asking *asking, const struct asked *asked,
                              const char *answer) {
    const char *const *quick = asked->question->quick;
    if (answer == NULL || strcmp(answer, "no") == 0) {
        memcpy(asking->opened, asked->path, sizeof asking->opened);
        return OUTCOME_DONE;
    }
    if (strcmp(answer, "yes") != 0) {
        terminal_say(asking->terminal, 4, "no: wanted yes or no");
        return OUTCOME_DONE;
    }
    const size_t stem = strlen(asked->path) - strlen(quick[0]);
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < 4 && outcome == OUTCOME_DONE; i += 2) {
        char path[ANSWERS_PATH];
        snprintf(path, sizeof path, "%.*s%s", (int)stem, asked->path, quick[i]);
        outcome = answers_set(&asking->answers, path, quick[i + 1]);
    }
    return outcome == OUTCOME_DONE ? save(asking) : outcome;
}

/* Takes the answer before back.  One that `yes` gave along with another goes with it. */
static enum outcome go_back(struct asking *asking, const struct place *place) {
    const char *tail = strrchr(place->before, '.');
    if (asking->opened[0] != '\0' && strcmp(asking->opened, place->next.path) == 0) {
        asking->opened[0] = '\0'; /* the quick question once more */
        return OUTCOME_DONE;
    }
    asking->opened[0] = '\0';
    if (place->before[0] == '\0') {
        terminal_say(asking->terminal, 4, "this is the first question");
        return OUTCOME_DONE;
    }
    const struct answered_key *earlier = answers_find(&asking->answers, place->earlier);
    if (tail != NULL && strcmp(tail, ".sound") == 0 && earlier != NULL &&
        strcmp(earlier->value, "1") == 0) {
        answers_drop(&asking->answers, place->earlier);
    }
    answers_drop(&asking->answers, place->before);
    return save(asking);
}

static enum outcome answer(struct asking *asking, const struct asked *asked, const char *value) {
    return asked->question->quick[0] != NULL ? try_quick(asking, asked, value)
                                             : try_answer(asking, asked->path, value);
}

/* Asks once; *ended where no more input will come. */
static enum outcome ask_once(struct asking *asking, const struct place *place, bool *ended) {
    char prompt[PROMPT], text[TERMINAL_LINE];
    const char *usual = NULL;
    write_prompt(&place->next, prompt);
    switch (terminal_ask(asking->terminal, prompt, text)) {
    case REPLY_TEXT:
        return answer(asking, &place->next, text);
    case REPLY_EMPTY:
        if (usual_of(&place->next, &usual)) {
            return answer(asking, &place->next, usual);
        }
        terminal_say(asking->terminal, 4, "an answer is wanted; ? tells more");
        return OUTCOME_DONE;
    case REPLY_BACK:
        return go_back(asking, place);
    case REPLY_WHY:
        terminal_say(asking->terminal, 4, place->next.question->why);
        return OUTCOME_DONE;
    case REPLY_WRONG:
        terminal_say(asking->terminal, 4, "no: wanted one line of text, at most 250 bytes");
        return OUTCOME_DONE;
    default:
        *ended = true;
        return OUTCOME_DONE;
    }
}

/* ---- The whole ------------------------------------------------------------------------------ */

/* The doubts that the sheet would be headed with. */
static enum outcome tell_doubts(const struct asking *asking) {
    struct roof *roof = NULL;
    const enum outcome outcome =
        trial_hold(asking->path, &asking->answers, &roof, asking->problems);
    for (size_t i = 0; roof != NULL && i < roof->warning_count; i++) {
        char text[TOLD];
        snprintf(text, sizeof text, "Look again: %s", roof->warnings[i].text);
        terminal_say(asking->terminal, 0, text);
    }
    roof_free(roof);
    return outcome;
}

static void greet(const struct asking *asking) {
    terminal_say(asking->terminal, 0,
                 "Each answer is checked, and kept in the file at once. An empty line takes what "
                 "stands in [ ], where - leaves it out; ? tells more; back takes the last answer "
                 "back; Ctrl-C ends for now.");
}

static enum outcome ask_all(struct asking *asking, enum form_end *end) {
    struct place place;
    bool ended = false;
    enum outcome outcome = OUTCOME_DONE;
    while (outcome == OUTCOME_DONE && !ended && find_place(asking, &place)) {
        outcome = ask_once(asking, &place, &ended);
    }
    if (outcome == OUTCOME_DONE && !ended) {
        outcome = tell_doubts(asking);
    }
    if (outcome == OUTCOME_DONE) {
        *end = ended ? FORM_STOPPED : FORM_COMPLETE;
    }
    return outcome;
}

enum outcome form_ask(const char *path, struct terminal *terminal, form_save *save_file,
                      enum form_end *end, struct problems *problems) {
    struct asking asking = {
        .path = path, .terminal = terminal, .save = save_file, .problems = problems};
    enum outcome outcome = take_up(&asking);
    if (outcome == OUTCOME_DONE) {
        greet(&asking);
        outcome = ask_all(&asking, end);
    }
    answers_free(&asking.answers);
    return outcome;
}
