#include "explain.h"

#include "clock.h"
#include "laid.h"
#include "output.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Everything made on the way; all owned. */
struct made {
    struct laid laid;
    struct moves *moves, *frames; /* of holes and of frames */
    struct wish *wishes;
    struct changes changes;
    struct explanation explanation; /* borrows from the others */
};

static void made_free(struct made *made) {
    explain_changes_free(&made->changes);
    free(made->moves);
    free(made->frames);
    free(made->wishes);
    laid_free(&made->laid);
}

/* The one hole that was asked for.  BAD_INPUT: there is none of that name. */
static enum outcome find_mark(const struct options *options, const struct answer *answer,
                              size_t *mark, struct problems *problems) {
    char wanted[224] = "the name of a hole:";
    *mark = SIZE_MAX;
    if (options->operand_count < 2 || answer->marks == NULL) {
        return OUTCOME_DONE;
    }
    for (size_t i = 0; i < answer->marks->count; i++) {
        char name[EXPLAIN_NAME];
        explain_hole_name(answer->roof, answer->marks, i, name);
        const size_t used = strlen(wanted);
        snprintf(wanted + used, sizeof wanted - used, "%s %.60s", i > 0 ? "," : "", name);
        if (strcmp(name, options->operands[1]) == 0) {
            *mark = i;
        }
    }
    if (*mark == SIZE_MAX) {
        problems_add(problems, options->operands[0], 0, NULL, options->operands[1], wanted);
        return OUTCOME_BAD_INPUT;
    }
    return OUTCOME_DONE;
}

/* How holes and frames could move, in half of the time until then, a quarter of that for frames;
 * and what keeps frames from where they were wanted. */
static enum outcome look_at_moves(struct made *made, double end_s) {
    const struct carried *carried = &made->laid.carried;
    const struct roof *roof = made->laid.input.roof;
    const size_t mark = made->explanation.mark;
    const size_t frame = mark == SIZE_MAX ? SIZE_MAX : carried->marks->list[mark].bracket;
    const double half_s = fmax(0, end_s - clock_now_s()) / 2, middle_s = end_s - half_s;
    enum outcome outcome = explain_frame_moves(roof, carried->marks, carried->verdict,
                                               carried->strength, frame, half_s / 4, &made->frames);
    if (outcome == OUTCOME_DONE) {
        outcome = explain_moves(roof, carried->marks, carried->verdict, carried->strength, mark,
                                fmax(0, middle_s - clock_now_s()), &made->moves);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = explain_wishes(roof, carried->marks, &made->wishes);
    }
    made->explanation.moves = made->moves;
    made->explanation.frames = made->frames;
    made->explanation.wishes = made->wishes;
    return outcome;
}

/* What is left of the time after the layout: half for the moves, the rest for the changes. */
static enum outcome look_around(struct made *made, const struct options *options, double end_s,
                                struct problems *problems) {
    const struct carried *carried = &made->laid.carried;
    struct explanation *explanation = &made->explanation;
    enum outcome outcome = carried->marks != NULL ? look_at_moves(made, end_s) : OUTCOME_DONE;
    if (outcome == OUTCOME_DONE && explanation->answer.status != STATUS_OK) {
        outcome = explain_changes(made->laid.input.roof, carried, options->from,
                                  fmax(0, end_s - clock_now_s()), &made->changes, problems);
        explanation->changes = &made->changes;
    }
    return outcome;
}

static enum outcome make(const struct options *options, struct made *made,
                         struct problems *problems) {
    const double end_s = clock_now_s() + options->limit_s;
    const struct layout_options how = {.limit_s = options->limit_s};
    enum outcome outcome = input_read(options, &made->laid.input, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = laid_find(&made->laid, options, &how, problems);
    }
    if (outcome == OUTCOME_DONE) {
        made->explanation.answer = made->laid.answer;
        outcome = find_mark(options, &made->laid.answer, &made->explanation.mark, problems);
    }
    return outcome == OUTCOME_DONE ? look_around(made, options, end_s, problems) : outcome;
}

static enum outcome write_page(const void *subject, FILE *stream) {
    return explain_write(subject, stream);
}

static enum outcome write_json(const void *subject, FILE *stream) {
    return explain_write_json(subject, stream);
}

int command_explain(const struct options *options) {
    struct problems problems = {0};
    struct made made = {0};
    enum outcome outcome = make(options, &made, &problems);
    const struct output outputs[] = {{"explain.txt", write_page, &made.explanation},
                                     {"explain.json", write_json, &made.explanation}};
    if (outcome == OUTCOME_DONE && options->out_dir != NULL) {
        outcome = output_files(options->out_dir, outputs, 2, &problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = output_print(&outputs[options->json ? 1 : 0], &problems);
    }
    if (outcome == OUTCOME_DONE && made.explanation.answer.status != STATUS_OK) {
        outcome = OUTCOME_BLOCKED;
    }
    made_free(&made);
    return output_end(outcome, &problems);
}
