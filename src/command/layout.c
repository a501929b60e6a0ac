#include "layout.h"

#include "clock.h"
#include "files.h"
#include "input.h"
#include "json.h"
#include "laid.h"
#include "output.h"
#include "sheet.h"

#include <math.h>

/* A layout, and which frames could stand together where not all can. */
struct laid_fit {
    struct laid laid;
    struct fit fit;
};

/* Of the time for several frames, this part is kept for which of them can stand together; however
 * late it is, some of it. */
#define SHARE_TOGETHER 0.2
#define SHARE_LEAST 0.02

/* Leaves the frames off that do not fit beside the others; none where not even one fits. */
static enum outcome leave_off(const struct options *options, struct laid_fit *made,
                              struct problems *problems) {
    const struct layout_options how = {.limit_s = options->limit_s / 2};
    struct roof *roof = made->laid.input.roof;
    enum outcome outcome = fit_find(roof, &how, &made->fit, problems);
    if (outcome != OUTCOME_DONE || made->fit.count == 0 || made->fit.count == roof->bracket_count) {
        return outcome;
    }
    roof_keep(roof, made->fit.kept);
    for (size_t b = 0; b < made->fit.bracket_count && outcome == OUTCOME_DONE; b++) {
        if (!made->fit.kept[b]) {
            char why[sizeof roof->warnings->text];
            sheet_left_off(&made->fit, b, why, sizeof why);
            outcome = roof_warn(roof, why);
        }
    }
    made->laid.answer.fit = &made->fit;
    return outcome;
}

/* Whether it is the frames that are in each other's way, or on a face with no room for one. */
static bool is_crowded(const struct laid *laid) {
    const struct layout *layout = laid->carried.layout;
    return laid->answer.status == STATUS_BLOCKED && laid->input.roof->bracket_count > 1 &&
           (layout->state == LAYOUT_IMPOSSIBLE || !length_holds(layout->forgiveness));
}

/* Until then, but for what is kept for which of several frames can stand together. */
static enum outcome find_layout(const struct options *options, struct laid_fit *made, double end_s,
                                struct problems *problems) {
    struct laid *laid = &made->laid;
    const struct fit *fit = laid->answer.fit;
    const bool kept = fit == NULL && laid->input.roof->bracket_count > 1;
    const double left_s = fmax(end_s - clock_now_s(), 0);
    const struct layout_options how = {.limit_s = left_s * (kept ? 1 - SHARE_TOGETHER : 1),
                                       .known = made->fit.layout,
                                       .model_path = options->model_path};
    const enum outcome outcome = laid_find(laid, options, &how, problems);
    laid->answer.fit = fit;
    return outcome;
}

/* Which of the frames can stand together, in what was kept for that. */
static enum outcome look_together(const struct options *options, struct laid_fit *made,
                                  double end_s, struct problems *problems) {
    const double limit_s = options->limit_s, left_s = end_s - clock_now_s();
    const struct layout_options how = {
        .limit_s = fmax(limit_s * SHARE_LEAST, fmin(limit_s * SHARE_TOGETHER, left_s))};
    made->laid.answer.fit = &made->fit;
    return fit_find(made->laid.input.roof, &how, &made->fit, problems);
}

static enum outcome make(const struct options *options, struct laid_fit *made,
                         struct problems *problems) {
    const double end_s = clock_now_s() + options->limit_s;
    struct laid *laid = &made->laid;
    enum outcome outcome = input_read(options, &laid->input, problems);
    if (outcome == OUTCOME_DONE && options->as_many && laid->input.roof->bracket_count > 1) {
        outcome = leave_off(options, made, problems);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = find_layout(options, made, end_s, problems);
    }
    if (outcome == OUTCOME_DONE && laid->answer.fit == NULL && is_crowded(laid)) {
        outcome = look_together(options, made, end_s, problems);
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
    const struct files files = {.answer = answer,
                                .text = {"sheet.txt", write_sheet, answer},
                                .json = {"layout.json", write_json, answer}};
    enum outcome outcome = OUTCOME_DONE;
    if (options->out_dir != NULL) {
        outcome = files_write(&files, options, problems);
    }
    if (outcome == OUTCOME_DONE && !options->quiet) {
        outcome = options->json ? output_print(&files.json, problems)
                                : output_show(&files.text, problems);
    }
    return outcome;
}

int command_layout(const struct options *options) {
    struct problems problems = {0};
    struct laid_fit all = {.fit = {.count = 0}};
    enum outcome outcome = make(options, &all, &problems);
    const struct laid *made = &all.laid;
    if (outcome == OUTCOME_DONE) {
        outcome = put_out(&made->answer, options, &problems);
    }
    if (outcome == OUTCOME_DONE && options->model_path != NULL &&
        !made->carried.layout->model_written) {
        fprintf(stderr, "ruddle: %s: not written: nothing can be placed, so there is no program\n",
                options->model_path);
    }
    if (outcome == OUTCOME_DONE && made->answer.status != STATUS_OK) {
        outcome = OUTCOME_BLOCKED;
    }
    laid_free(&all.laid);
    fit_free(&all.fit);
    return output_end(outcome, &problems);
}
