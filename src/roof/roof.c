/* The order in which a roof is built from its survey. */
#include "build.h"

#include <stdlib.h>

/* Inches; defaults of the survey's keys. */
#define APART 12.0 /* room for a hand and a wrench */
#define TAPE (1.0 / 16)
#define TAPE_MM (1.0 / LENGTH_MM_PER_INCH)
#define TAPE_MOST 1.0
#define ENOUGH 0.125
#define HOLE_WORTH 12.0

static enum measure read_measure(const struct reader *reader, const char *text) {
    static const char *const list[] = {[MEASURE_IN] = "in", [MEASURE_MM] = "mm"};
    static const struct reader_words words = {list, 2};
    return (enum measure)reader_word(reader, "measure", text, &words, MEASURE_IN);
}

static void read_heading(const struct reader *reader, const struct survey_roof *survey,
                         struct roof *roof) {
    static const char *const list[] = {[CORNER_LEFT] = "left", [CORNER_RIGHT] = "right"};
    static const struct reader_words words = {list, 2};
    reader_text(reader, "roof", survey->roof, roof->name, sizeof roof->name);
    if (survey->zero != NULL)
        reader_text(reader, "zero", survey->zero, roof->zero, sizeof roof->zero);
    roof->corner = (enum corner)reader_word(reader, "corner", survey->corner, &words, CORNER_LEFT);
}

/* Lengths that stand alone in the file. */
static void read_choices(const struct reader *reader, const struct survey_roof *survey,
                         const double *tape, struct roof *roof) {
    double tape_usual = roof->measure == MEASURE_MM ? TAPE_MM : TAPE;
    roof->apart = reader_length(reader, "apart", survey->apart, SIGN_NOT_NEGATIVE, APART);
    roof->tape = reader_length(reader, "tape", survey->tape, SIGN_ABOVE_ZERO, tape_usual);
    if (roof->tape > TAPE_MOST + LENGTH_TOLERANCE)
        reader_refuse(reader, "tape", survey->tape,
                      "the finest mark on the tape, at most 1 in, such as 1/16");
    roof->enough = reader_length(reader, "enough", survey->enough, SIGN_NOT_NEGATIVE, ENOUGH);
    roof->hole_worth =
        reader_length(reader, "hole_worth", survey->hole_worth, SIGN_NOT_NEGATIVE, HOLE_WORTH);
    if (tape != NULL)
        roof->tape = *tape;
}

static enum outcome build_kits(const struct survey *survey, struct problems *problems,
                               struct roof *roof) {
    roof->kits = calloc(survey->kit_count + 1, sizeof *roof->kits);
    roof->kit_loads = calloc(survey->kit_count + 1, sizeof *roof->kit_loads);
    if (roof->kits == NULL || roof->kit_loads == NULL)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < survey->kit_count; i++) {
        const struct survey_kit_file *file = &survey->kits[i];
        struct reader reader = {.file = file->path, .lines = file->lines, .problems = problems};
        reader.measure = read_measure(&reader, file->kit->measure);
        kit_build(&reader, file->kit, roof->corner, &roof->kits[i]);
        kit_loads_build(&reader, file->kit, roof->corner, &roof->kits[i], &roof->kit_loads[i]);
    }
    roof->kit_count = survey->kit_count;
    return OUTCOME_DONE;
}

/* Everything in its order; faults of the survey are in problems. */
static enum outcome build_parts(const struct survey *survey, const struct roof_options *options,
                                struct roof *roof, struct problems *problems) {
    const struct survey_roof *written = survey->roof;
    size_t before = problems->total;
    struct reader reader = {.file = survey->path, .lines = survey->lines, .problems = problems};
    reader.measure = roof->measure = read_measure(&reader, written->measure);
    read_heading(&reader, written, roof);
    enum outcome outcome = plane_build(&reader, written, roof);
    if (outcome == OUTCOME_DONE)
        outcome = courses_build(&reader, written->courses, roof);
    if (outcome == OUTCOME_DONE)
        outcome = rafters_build(&reader, written, roof);
    if (outcome == OUTCOME_DONE)
        outcome = keepouts_build(&reader, written, roof);
    if (outcome == OUTCOME_DONE)
        outcome = vents_build(&reader, written->vents, written->vents_count, roof);
    if (outcome == OUTCOME_DONE)
        outcome = build_kits(survey, problems, roof);
    if (outcome == OUTCOME_DONE)
        outcome = place_build(&reader, survey, options->hardware, roof);
    if (outcome == OUTCOME_DONE)
        outcome = pipes_build(&reader, written->pipes, written->pipes_count, roof);
    if (outcome == OUTCOME_DONE)
        outcome = loads_build(&reader, survey, roof);
    if (outcome == OUTCOME_DONE)
        read_choices(&reader, written, options->tape, roof);
    if (outcome == OUTCOME_DONE && problems->total == before)
        outcome = doubts_note(&reader, roof);
    return outcome;
}

enum outcome roof_build(const struct survey *survey, const struct roof_options *options,
                        struct roof **roof, struct problems *problems) {
    static const struct roof_options as_written;
    size_t before = problems->total;
    struct roof *built = calloc(1, sizeof *built);
    if (built == NULL)
        return OUTCOME_FAULT;
    enum outcome outcome =
        build_parts(survey, options != NULL ? options : &as_written, built, problems);
    if (outcome == OUTCOME_DONE && problems->total > before)
        outcome = OUTCOME_BAD_INPUT;
    if (outcome == OUTCOME_DONE)
        *roof = built;
    else
        roof_free(built);
    return outcome;
}

void roof_free(struct roof *roof) {
    if (roof == NULL)
        return;
    free(roof->edges);
    free(roof->corners);
    free(roof->courses);
    free(roof->joints);
    free(roof->rafters);
    free(roof->plies);
    free(roof->keepouts);
    free(roof->vents);
    free(roof->pipes);
    free(roof->kits);
    free(roof->kit_loads);
    free(roof->loads);
    free(roof->brackets);
    free(roof->warnings);
    free(roof);
}
