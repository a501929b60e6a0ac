#include "files.h"

#include "drawing.h"
#include "pocket.h"
#include "printed.h"

static enum outcome write_csv(const void *subject, FILE *stream) {
    return sheet_write_csv(subject, stream);
}

static enum outcome write_svg(const void *subject, FILE *stream) {
    return drawing_write_svg(subject, stream);
}

static enum outcome write_pdf(const void *subject, FILE *stream) {
    return drawing_write_pdf(subject, stream);
}

static enum outcome write_png(const void *subject, FILE *stream) {
    return drawing_write_png(subject, stream);
}

static enum outcome write_dxf(const void *subject, FILE *stream) {
    return drawing_write_dxf(subject, stream);
}

static enum outcome write_printed(const void *subject, FILE *stream) {
    return printed_write(subject, stream);
}

static enum outcome write_pocket(const void *subject, FILE *stream) {
    return pocket_write(subject, stream);
}

enum outcome files_write(const struct files *files, const struct options *options,
                         struct problems *problems) {
    struct drawing *drawing = NULL;
    const struct answer *answer = files->answer;
    const enum paper paper =
        options->paper_given ? options->paper : drawing_usual_paper(answer->roof);
    enum outcome outcome = drawing_make(answer, paper, &drawing, problems);
    const struct printed printed = {answer, drawing, paper, files->telling};
    const struct pocket pocket = {answer, drawing, files->telling};
    const struct output outputs[] = {
        files->text,
        files->json,
        {"sheet.pdf", write_printed, &printed},
        {"sheet.html", write_pocket, &pocket},
        {"holes.csv", write_csv, answer},
        {"drawing.svg", write_svg, drawing},
        {"drawing.pdf", write_pdf, drawing},
        {"drawing.png", write_png, drawing},
        {"drawing.dxf", write_dxf, drawing},
    };
    if (outcome == OUTCOME_DONE) {
        const size_t count = sizeof outputs / sizeof outputs[0];
        outcome = files->anew ? output_files_anew(options->out_dir, outputs, count, problems)
                              : output_files(options->out_dir, outputs, count, problems);
    }
    drawing_free(drawing);
    return outcome;
}
