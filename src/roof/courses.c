/* Butt edges of the shingles: reckoned from the first and the exposure, or as measured. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>

#define COURSE_TOLERANCE 0.125 /* inches */
#define EXPOSURE_SLACK 0.25    /* inches: how far a written exposure may be from measured edges */

/* What the edges are reckoned from; NaN where it was refused. */
struct steps {
    double first, exposure;
    const char *key, *text; /* of what the exposure comes from, for messages */
};

/* How many edges lie on the face; 0 with a fault told where they are too many. */
static size_t count_edges(const struct reader *reader, const struct steps *steps, double slope) {
    if (!(steps->exposure > 0) || !length_holds(slope - steps->first))
        return 0; /* refused already, or the first edge is above the ridge: no course */
    double last = floor((slope - steps->first + LENGTH_TOLERANCE) / steps->exposure);
    if (last + 1 > ROOF_COURSES_MOST) {
        reader_refuse(reader, steps->key, steps->text,
                      "at most %d butt edges between eave and ridge, such as 5 5/8",
                      ROOF_COURSES_MOST);
        return 0;
    }
    return (size_t)last + 1;
}

/* Warns where counted edges and written exposure are more than half a course apart: one of them
 * was miscounted or mistyped. */
static enum outcome doubt_check(const struct reader *reader, const struct steps *steps,
                                double written, size_t edge, struct roof *roof) {
    double apart = (steps->exposure - written) * (double)(edge - 1);
    if (!(fabs(apart) > written / 2))
        return OUTCOME_DONE;
    return doubt_add(roof,
                     "The check of the butt edges makes the exposure %s, not %s: count the edges "
                     "again.",
                     reader_shown(reader, steps->exposure).text,
                     reader_shown(reader, written).text);
}

/* The exposure that a counted edge says, in place of the written one. */
static enum outcome read_check(const struct reader *reader, const struct survey_courses *survey,
                               struct steps *steps, struct roof *roof) {
    struct reader inside = reader_group(reader, "check");
    const struct survey_course_check *check = survey->check;
    size_t edge =
        reader_count(&inside, "edge", check->edge != NULL ? check->edge : "", ROOF_COURSES_MOST, 2);
    double at = reader_length(&inside, "at", check->at, SIGN_ABOVE_ZERO, READER_REQUIRED);
    double written = steps->exposure;
    *steps = (struct steps){steps->first, NAN, "check.at", check->at};
    if (edge < 2) {
        reader_refuse(&inside, "edge", check->edge,
                      "a butt edge from the 2nd on: the 1st is courses.first");
        return OUTCOME_DONE;
    }
    steps->exposure = (at - steps->first) / (double)(edge - 1);
    if (steps->exposure <= 0)
        reader_refuse(&inside, "at", check->at, "a butt edge above the first, at %s",
                      reader_shown(reader, steps->first).text);
    roof->courses_checked = true;
    return survey->exposure != NULL ? doubt_check(reader, steps, written, edge, roof)
                                    : OUTCOME_DONE;
}

static enum outcome reckon_edges(const struct reader *reader, const struct survey_courses *survey,
                                 struct roof *roof) {
    struct steps steps = {.key = "exposure", .text = survey->exposure};
    enum outcome outcome = OUTCOME_DONE;
    steps.first = reader_length(reader, "first", survey->first, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    steps.exposure =
        survey->check != NULL && survey->exposure == NULL
            ? 0 /* the check says it */
            : reader_length(reader, "exposure", survey->exposure, SIGN_ABOVE_ZERO, READER_REQUIRED);
    if (survey->check != NULL)
        outcome = read_check(reader, survey, &steps, roof);
    size_t count = count_edges(reader, &steps, roof->slope);
    roof->courses = calloc(count + 1, sizeof *roof->courses);
    if (outcome != OUTCOME_DONE || roof->courses == NULL)
        return OUTCOME_FAULT;
    for (size_t k = 0; k < count; k++)
        roof->courses[k] = steps.first + (double)k * steps.exposure;
    roof->course_count = count;
    return OUTCOME_DONE;
}

/* Each edge above the one before. */
static void refuse_falling(const struct reader *reader, const struct survey_texts *texts,
                           const double *edges, size_t count) {
    char key[32];
    for (size_t k = 1; k < count; k++)
        if (edges[k] <= edges[k - 1] + LENGTH_TOLERANCE) {
            snprintf(key, sizeof key, "edges[%zu]", k + 1);
            reader_refuse(reader, key, texts->list[k], "a butt edge above the one before it, at %s",
                          reader_shown(reader, edges[k - 1]).text);
            return;
        }
}

/* First edge and exposure need not be written beside measured edges; where they are, they agree. */
static void hold_against_edges(const struct reader *reader, const struct survey_courses *survey,
                               const double *edges, size_t count) {
    if (survey->first != NULL && count > 0) {
        double first =
            reader_length(reader, "first", survey->first, SIGN_NOT_NEGATIVE, READER_REQUIRED);
        if (fabs(first - edges[0]) > EXPOSURE_SLACK)
            reader_refuse(reader, "first", survey->first, "%s as courses.edges has it, or no first",
                          reader_shown(reader, edges[0]).text);
    }
    if (survey->exposure != NULL && count > 1) {
        double usual = (edges[count - 1] - edges[0]) / (double)(count - 1);
        double exposure =
            reader_length(reader, "exposure", survey->exposure, SIGN_ABOVE_ZERO, READER_REQUIRED);
        if (fabs(exposure - usual) > EXPOSURE_SLACK)
            reader_refuse(reader, "exposure", survey->exposure,
                          "%s as courses.edges has it, or no exposure",
                          reader_shown(reader, usual).text);
    }
}

static enum outcome read_edges(const struct reader *reader, const struct survey_courses *survey,
                               struct roof *roof) {
    static const struct list_wanted wanted = {SIGN_NOT_NEGATIVE, 1, ROOF_COURSES_MOST};
    roof->courses = calloc(ROOF_COURSES_MOST, sizeof *roof->courses);
    if (roof->courses == NULL)
        return OUTCOME_FAULT;
    if (reader_has(reader, "check"))
        reader_refuse(reader, "check", "", "either edges or check, not both");
    size_t count = reader_lengths(reader, "edges", &survey->edges, &wanted, roof->courses);
    refuse_falling(reader, &survey->edges, roof->courses, count);
    hold_against_edges(reader, survey, roof->courses, count);
    roof->courses_checked = true;
    while (roof->course_count < count &&
           length_holds(roof->slope - roof->courses[roof->course_count]))
        roof->course_count++;
    return OUTCOME_DONE;
}

enum outcome courses_build(const struct reader *reader, const struct survey_courses *survey,
                           struct roof *roof) {
    static const struct survey_courses none;
    struct reader inside = reader_group(reader, "courses");
    if (survey == NULL)
        survey = &none;
    roof->course_tolerance =
        reader_length(&inside, "tolerance", survey->tolerance, SIGN_NOT_NEGATIVE, COURSE_TOLERANCE);
    bool measured = survey->edges.count > 0 || reader_has(&inside, "edges");
    enum outcome outcome =
        measured ? read_edges(&inside, survey, roof) : reckon_edges(&inside, survey, roof);
    return outcome == OUTCOME_DONE ? joints_build(&inside, survey->joints, roof) : outcome;
}
