#include "form.h"

#include "command.h"
#include "output.h"

#include <unistd.h>

#define FILE_TO_ASK "roof.yaml"

static enum outcome write_text(const void *subject, FILE *stream) {
    (void)subject;
    return form_write_text(stream);
}

static enum outcome write_roof(const void *subject, FILE *stream) {
    (void)subject;
    return form_write_roof(stream);
}

static enum outcome write_kit(const void *subject, FILE *stream) {
    (void)subject;
    return form_write_kit(stream);
}

/* The printed form wants to say more than that it failed. */
struct printing {
    enum paper paper;
    struct problems *problems;
};

static enum outcome write_pdf(const void *subject, FILE *stream) {
    const struct printing *printing = subject;
    return form_write_pdf(printing->paper, stream, printing->problems);
}

static enum outcome give_blank(const struct options *options, struct problems *problems) {
    const struct printing printing = {options->paper_given ? options->paper : PAPER_LETTER,
                                      problems};
    const struct output outputs[] = {
        {"form.txt", write_text, NULL},
        {"form.pdf", write_pdf, &printing},
        {"roof.yaml", write_roof, NULL},
        {FORM_KIT_NAME, write_kit, NULL},
    };
    if (options->out_dir != NULL) {
        return output_files(options->out_dir, outputs, sizeof outputs / sizeof outputs[0],
                            problems);
    }
    return options->quiet ? OUTCOME_DONE : output_print(&outputs[0], problems);
}

static void tell_end(struct terminal *terminal, const char *path, enum form_end end) {
    char text[400];
    if (end == FORM_COMPLETE) {
        snprintf(text, sizeof text, "Every question is answered. Next: ruddle layout %.250s", path);
    } else if (access(path, F_OK) == 0) {
        snprintf(text, sizeof text,
                 "%.250s has what was answered so far. The same command goes on with it.", path);
    } else {
        snprintf(text, sizeof text, "Nothing was answered: %.250s was not written.", path);
    }
    terminal_say(terminal, 0, text);
}

static enum outcome ask(const char *path, struct problems *problems) {
    struct terminal terminal;
    enum form_end end = FORM_STOPPED;
    enum outcome outcome = terminal_open(&terminal, STDIN_FILENO, stdout, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = form_ask(path, &terminal, output_file, &end, problems);
    }
    if (outcome == OUTCOME_DONE) {
        tell_end(&terminal, path, end);
        outcome = end == FORM_COMPLETE ? OUTCOME_DONE : OUTCOME_BLOCKED;
    }
    terminal_close(&terminal);
    return outcome;
}

/* What goes with asking, and what does not. */
static enum outcome judge(const struct options *options, struct problems *problems) {
    if (options->operand_count > 0 && !options->ask) {
        problems_add(problems, "ruddle", 0, NULL, options->operands[0],
                     "nothing after ruddle survey, or --ask");
    }
    if (options->ask && (options->out_dir != NULL || options->quiet || options->paper_given)) {
        problems_add(problems, "ruddle", 0, "--ask", NULL,
                     "no --out, --paper or --quiet beside it");
    }
    return problems->total == 0 ? OUTCOME_DONE : OUTCOME_BAD_INPUT;
}

int command_survey(const struct options *options) {
    struct problems problems = {0};
    enum outcome outcome = judge(options, &problems);
    if (outcome == OUTCOME_DONE && options->ask) {
        outcome = ask(options->operand_count > 0 ? options->operands[0] : FILE_TO_ASK, &problems);
    } else if (outcome == OUTCOME_DONE) {
        outcome = give_blank(options, &problems);
    }
    return output_end(outcome, &problems);
}
