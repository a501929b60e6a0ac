/* What looks wrong in a survey that is possible all the same: worth a word, never an error. */
#include "build.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#define SPACING_OFF 2.0 /* inches off the usual gap */
#define MISSED_SLACK                                                                               \
    0.125               /* of the usual gap: how far from twice it a missed rafter's gap may be */
#define COURSE_OFF 0.25 /* inches off the neighbouring courses */
#define CORNER_OFF_DEG 3.0

enum {
    GAPS_LEAST = 3,   /* fewer gaps have no usual one */
    COURSES_EACH = 2, /* neighbours looked at on either side */
    DOUBTS_MOST = 5,  /* of one kind; the rest are counted */
    NEIGHBOURS_MOST = 2 * COURSES_EACH
};

enum outcome doubt_add(struct roof *roof, const char *format, ...) {
    struct warning *list =
        realloc(roof->warnings, (roof->warning_count + 1) * sizeof *roof->warnings);
    if (list == NULL)
        return OUTCOME_FAULT;
    roof->warnings = list;
    va_list values;
    va_start(values, format);
    vsnprintf(list[roof->warning_count++].text, sizeof list->text, format, values);
    va_end(values);
    return OUTCOME_DONE;
}

static int compare_lengths(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return a < b ? -1 : a > b;
}

/* The middle one, or the mean of the middle two; sorts the list. */
static double middle(double *list, size_t count) {
    qsort(list, count, sizeof *list, compare_lengths);
    return (list[(count - 1) / 2] + list[count / 2]) / 2;
}

/* Steps between neighbours (rafters, butt edges), and what each would usually be. */
struct steps {
    double *found, *usual;
    size_t count;
    double off; /* what is worth a word */
};

static double deviation(const struct steps *steps, size_t i) {
    return steps->found[i] - steps->usual[i];
}

static bool is_odd(const struct steps *steps, size_t i) {
    return fabs(deviation(steps, i)) > steps->off + LENGTH_TOLERANCE;
}

/* Two odd steps in a row, one long and one short: what stands between them is off, not they. */
static bool between_is_off(const struct steps *steps, size_t i) {
    return i + 1 < steps->count && is_odd(steps, i) && is_odd(steps, i + 1) &&
           deviation(steps, i) * deviation(steps, i + 1) < 0;
}

/* A missed rafter leaves about twice the usual gap. */
static bool rafter_is_missed(const struct steps *gaps, size_t i) {
    double usual = gaps->usual[i];
    return fabs(gaps->found[i] - 2 * usual) <= MISSED_SLACK * 2 * usual;
}

static enum outcome tell_gap(const struct reader *reader, const struct steps *gaps, size_t i,
                             struct roof *roof) {
    if (rafter_is_missed(gaps, i))
        return doubt_add(roof,
                         "Rafters %zu and %zu are %s apart, about twice the usual %s: was one "
                         "missed between them?",
                         i + 1, i + 2, reader_shown(reader, gaps->found[i]).text,
                         reader_shown(reader, gaps->usual[i]).text);
    if (between_is_off(gaps, i))
        return doubt_add(roof, "Rafter %zu is %s off the usual spacing: find it again.", i + 2,
                         reader_shown(reader, fabs(deviation(gaps, i))).text);
    return doubt_add(roof, "Rafters %zu and %zu are %s apart, where %s is usual: find them again.",
                     i + 1, i + 2, reader_shown(reader, gaps->found[i]).text,
                     reader_shown(reader, gaps->usual[i]).text);
}

static enum outcome tell_course(const struct reader *reader, const struct steps *courses, size_t i,
                                struct roof *roof) {
    if (between_is_off(courses, i))
        return doubt_add(roof,
                         "Butt edge %zu is %s off where its neighbours put it: measure it again.",
                         i + 2, reader_shown(reader, fabs(deviation(courses, i))).text);
    return doubt_add(roof,
                     "Butt edges %zu and %zu are %s apart, their neighbours %s: measure them "
                     "again.",
                     i + 1, i + 2, reader_shown(reader, courses->found[i]).text,
                     reader_shown(reader, courses->usual[i]).text);
}

/* How one kind of odd step is told. */
typedef enum outcome (*teller)(const struct reader *reader, const struct steps *steps, size_t i,
                               struct roof *roof);

static enum outcome tell_odd(const struct reader *reader, const struct steps *steps, teller tell,
                             struct roof *roof) {
    size_t told = 0, more = 0;
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < steps->count && outcome == OUTCOME_DONE; i++) {
        if (!is_odd(steps, i))
            continue;
        if (told++ < DOUBTS_MOST)
            outcome = tell(reader, steps, i, roof);
        else
            more++;
        if (between_is_off(steps, i))
            i++;
    }
    if (more > 0 && outcome == OUTCOME_DONE)
        outcome = doubt_add(roof, "And %zu more like the last.", more);
    return outcome;
}

/* The gap between two neighbours where it differs most from the usual one: at the eave or at the
 * ridge. */
static double worst_gap(const struct roof *roof, size_t i, double usual) {
    const struct rafter *one = &roof->rafters[i], *next = &roof->rafters[i + 1];
    double eave = next->at - one->at;
    double ridge = eave + (next->lean - one->lean) * roof->slope;
    return fabs(ridge - usual) > fabs(eave - usual) + LENGTH_TOLERANCE ? ridge : eave;
}

static enum outcome note_rafters(const struct reader *reader, const struct steps *room,
                                 struct roof *roof) {
    struct steps gaps = *room;
    gaps.count = roof->rafter_count - 1;
    gaps.off = SPACING_OFF;
    if (gaps.count < GAPS_LEAST)
        return OUTCOME_DONE;
    for (size_t i = 0; i < gaps.count; i++)
        gaps.found[i] = worst_gap(roof, i, 0);
    double usual = middle(gaps.found, gaps.count);
    for (size_t i = 0; i < gaps.count; i++) {
        gaps.found[i] = worst_gap(roof, i, usual);
        gaps.usual[i] = usual;
    }
    return tell_odd(reader, &gaps, tell_gap, roof);
}

/* What the courses just below and above a course have in common. */
static double usual_course(const struct steps *courses, size_t i) {
    double list[NEIGHBOURS_MOST] = {0};
    size_t count = 0;
    size_t first = i > COURSES_EACH ? i - COURSES_EACH : 0;
    for (size_t j = first; j < courses->count && j <= i + COURSES_EACH; j++)
        if (j != i)
            list[count++] = courses->found[j];
    return middle(list, count);
}

static enum outcome note_courses(const struct reader *reader, const struct steps *room,
                                 struct roof *roof) {
    struct steps courses = *room;
    courses.off = COURSE_OFF;
    if (roof->course_count < GAPS_LEAST)
        return OUTCOME_DONE;
    courses.count = roof->course_count - 1;
    for (size_t i = 0; i < courses.count; i++)
        courses.found[i] = roof->courses[i + 1] - roof->courses[i];
    for (size_t i = 0; i < courses.count; i++)
        courses.usual[i] = usual_course(&courses, i);
    return tell_odd(reader, &courses, tell_course, roof);
}

static enum outcome note_steps(const struct reader *reader, struct roof *roof) {
    size_t most = roof->rafter_count + roof->course_count;
    double *room = calloc(2 * most, sizeof *room); /* a roof that is whole has rafters */
    if (room == NULL)
        return OUTCOME_FAULT;
    struct steps steps = {.found = room, .usual = room + most};
    enum outcome outcome = note_rafters(reader, &steps, roof);
    if (outcome == OUTCOME_DONE)
        outcome = note_courses(reader, &steps, roof);
    free(room);
    return outcome;
}

static enum outcome note_corners(struct roof *roof) {
    static const char *const names[SIDE_COUNT] = {
        [SIDE_NEAR] = "zero corner", [SIDE_FAR] = "other eave corner"};
    double degrees[SIDE_COUNT]; /* inside the face */
    degrees[SIDE_NEAR] = roof->rake_rad[SIDE_NEAR] * 180 / acos(-1);
    degrees[SIDE_FAR] = 180 - roof->rake_rad[SIDE_FAR] * 180 / acos(-1);
    enum outcome outcome = OUTCOME_DONE;
    for (size_t i = 0; i < SIDE_COUNT && outcome == OUTCOME_DONE; i++)
        if (fabs(degrees[i] - 90) > CORNER_OFF_DEG)
            outcome = doubt_add(roof, "The %s measures %.1f degrees: tape its three sides again.",
                                names[i], degrees[i]);
    return outcome;
}

enum outcome doubts_note(const struct reader *reader, struct roof *roof) {
    enum outcome outcome = note_corners(roof);
    if (outcome == OUTCOME_DONE)
        outcome = note_steps(reader, roof);
    if (outcome == OUTCOME_DONE && roof->trusses)
        outcome = doubt_add(roof, "The roof is framed with trusses: ask an engineer before any "
                                  "hole is made in one.");
    return outcome;
}
