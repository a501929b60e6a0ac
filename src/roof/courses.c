/* Butt edges of the shingles, from first edge and exposure. */
#include "build.h"

#include <stdlib.h>

#define COURSE_TOLERANCE 0.125 /* inches */

/* How many edges lie on the face; 0 with a fault told where they are too many. */
static size_t count_edges(const struct reader *reader, const struct survey_courses *survey,
                          double first, double exposure, double slope) {
    if (!(exposure > 0) || !length_holds(slope - first))
        return 0; /* refused already, or the first edge is above the ridge: no course */
    double steps = floor((slope - first + LENGTH_TOLERANCE) / exposure);
    if (steps + 1 > ROOF_COURSES_MOST) {
        reader_refuse(reader, "exposure", survey->exposure,
                      "at most %d butt edges between eave and ridge, such as 5 5/8",
                      ROOF_COURSES_MOST);
        return 0;
    }
    return (size_t)steps + 1;
}

enum outcome courses_build(const struct reader *reader, const struct survey_courses *survey,
                           struct roof *roof) {
    static const char *const later[] = {"edges", "check"};
    static const struct survey_courses none;
    struct reader inside = reader_group(reader, "courses");
    if (survey == NULL)
        survey = &none;
    refuse_later_keys(&inside, later, sizeof later / sizeof *later);
    roof->course_tolerance =
        reader_length(&inside, "tolerance", survey->tolerance, SIGN_NOT_NEGATIVE, COURSE_TOLERANCE);
    if (reader_has(&inside, "edges") || reader_has(&inside, "check"))
        return OUTCOME_DONE; /* first and exposure may rightly be absent there */
    double first =
        reader_length(&inside, "first", survey->first, SIGN_NOT_NEGATIVE, READER_REQUIRED);
    double exposure =
        reader_length(&inside, "exposure", survey->exposure, SIGN_ABOVE_ZERO, READER_REQUIRED);
    size_t count = count_edges(&inside, survey, first, exposure, roof->slope);
    roof->courses = calloc(count > 0 ? count : 1, sizeof *roof->courses);
    if (roof->courses == NULL)
        return OUTCOME_FAULT;
    for (size_t k = 0; k < count; k++)
        roof->courses[k] = first + (double)k * exposure;
    roof->course_count = count;
    return OUTCOME_DONE;
}
