#include "compare.h"

#include "input.h"
#include "output.h"

/* Everything made on the way; all owned. */
struct made {
    struct input input;
    struct comparison comparison;
};

static void made_free(struct made *made) {
    compare_free(&made->comparison);
    input_free(&made->input);
}

static enum outcome write_table(const void *subject, FILE *stream) {
    const struct made *made = subject;
    return compare_write(made->input.roof, &made->comparison, stream);
}

static enum outcome write_json(const void *subject, FILE *stream) {
    const struct made *made = subject;
    return compare_write_json(made->input.roof, &made->comparison, stream);
}

static enum outcome put_out(const struct made *made, const struct options *options,
                            struct problems *problems) {
    const struct output outputs[] = {{"compare.txt", write_table, made},
                                     {"compare.json", write_json, made}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->out_dir != NULL) {
        outcome = output_files(options->out_dir, outputs, 2, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = output_print(&outputs[options->json ? 1 : 0], problems);
    }
    return outcome;
}

static bool any_works(const struct comparison *comparison) {
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        if (comparison->choices[i].works) {
            return true;
        }
    }
    return false;
}

int command_compare(const struct options *options) {
    struct problems problems = {0};
    struct made made = {0};
    enum outcome outcome = input_read(options, &made.input, &problems);
    if (outcome == OUTCOME_DONE) {
        outcome = compare_find(made.input.roof, options->limit_s, options->from, &made.comparison,
                               &problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = put_out(&made, options, &problems);
    }
    if (outcome == OUTCOME_DONE && !any_works(&made.comparison)) {
        outcome = OUTCOME_BLOCKED;
    }
    made_free(&made);
    return output_end(outcome, &problems);
}
