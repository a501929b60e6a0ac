/* The face: a rectangle, one whose corners were measured and lean, or an outline. */
#include "build.h"

#include <stdlib.h>
#include <string.h>

#define CORNER_COSINE_MOST 0.70710678118654752 /* 45 degrees: beyond 135 or below, an outline */
#define OUTLINE_SLACK 0.25 /* inches: how far width and slope may differ from their outline */

/* The direction of a rake, up the roof; its angle counts from x. */
struct rake {
    double cosine, sine;
};
static const struct rake square_rake = {0, 1};

/* The corner between two measured sides, by the law of cosines. */
static struct rake read_corner(const struct reader *reader, const char *key,
                               const struct survey_square *survey, struct triangle *triangle) {
    struct reader inside = reader_group(reader, key);
    double a = reader_length(&inside, "along", survey->along, SIGN_ABOVE_ZERO, READER_REQUIRED);
    double b = reader_length(&inside, "up", survey->up, SIGN_ABOVE_ZERO, READER_REQUIRED);
    double d =
        reader_length(&inside, "diagonal", survey->diagonal, SIGN_ABOVE_ZERO, READER_REQUIRED);
    double cosine = (a * a + b * b - d * d) / (2 * a * b);
    if (d >= a + b - LENGTH_TOLERANCE || d <= fabs(a - b) + LENGTH_TOLERANCE) {
        reader_refuse(&inside, "diagonal", survey->diagonal,
                      "a third side that closes the triangle: more than %s, less than %s",
                      reader_shown(reader, fabs(a - b)).text, reader_shown(reader, a + b).text);
    } else if (fabs(cosine) > CORNER_COSINE_MOST) {
        reader_refuse(&inside, "diagonal", survey->diagonal,
                      "a corner of 45 to 135 degrees (these sides make %.1f); a face that leans "
                      "more is written as plane.outline",
                      acos(cosine) * 180 / acos(-1));
    } else {
        *triangle = (struct triangle){a, b, d};
        return (struct rake){cosine, sqrt((1 - cosine) * (1 + cosine))};
    }
    return square_rake;
}

/* Both rakes: the far one lies like the near one unless it was measured, inside the face. */
static void read_rakes(const struct reader *reader, const struct survey_plane *survey,
                       struct triangle triangles[SIDE_COUNT], struct rake rakes[SIDE_COUNT]) {
    rakes[SIDE_NEAR] = survey->square != NULL
                           ? read_corner(reader, "square", survey->square, &triangles[SIDE_NEAR])
                           : square_rake;
    rakes[SIDE_FAR] = rakes[SIDE_NEAR];
    if (survey->square_far == NULL)
        return;
    if (survey->square == NULL)
        reader_refuse(reader, "square_far", "",
                      "plane.square beside it: readings start from the corner");
    rakes[SIDE_FAR] = read_corner(reader, "square_far", survey->square_far, &triangles[SIDE_FAR]);
    rakes[SIDE_FAR].cosine = -rakes[SIDE_FAR].cosine;
}

static enum outcome build_corners(const struct reader *reader, const struct survey_plane *survey,
                                  struct roof *roof) {
    struct rake rakes[SIDE_COUNT];
    roof->width = reader_length(reader, "width", survey->width, SIGN_ABOVE_ZERO, READER_REQUIRED);
    roof->slope = reader_length(reader, "slope", survey->slope, SIGN_ABOVE_ZERO, READER_REQUIRED);
    read_rakes(reader, survey, roof->triangles, rakes);
    double gained[SIDE_COUNT]; /* along x, for each inch up the roof */
    for (size_t i = 0; i < SIDE_COUNT; i++) {
        gained[i] = rakes[i].cosine / rakes[i].sine;
        roof->rake_rad[i] = atan2(rakes[i].sine, rakes[i].cosine);
    }
    double closing = gained[SIDE_NEAR] - gained[SIDE_FAR];
    if (roof->width - closing * roof->slope <= LENGTH_TOLERANCE)
        reader_refuse(reader, "slope", survey->slope,
                      "a ridge below where the two rakes meet, %s up the roof",
                      reader_shown(reader, roof->width / closing).text);
    const double top[SIDE_COUNT] = {gained[SIDE_NEAR] * roof->slope,
                                    roof->width + gained[SIDE_FAR] * roof->slope};
    const struct point corners[] = {
        {0, 0}, {roof->width, 0}, {top[SIDE_FAR], roof->slope}, {top[SIDE_NEAR], roof->slope}};
    roof->corners = malloc(sizeof corners);
    if (roof->corners == NULL)
        return OUTCOME_FAULT;
    memcpy(roof->corners, corners, sizeof corners);
    if (!isnan(top[SIDE_NEAR] + top[SIDE_FAR]))
        roof->corner_count = sizeof corners / sizeof *corners;
    roof->square_checked = survey->square != NULL;
    return OUTCOME_DONE;
}

struct span plane_span(const struct roof *roof) {
    struct span span = {NAN, NAN};
    for (size_t i = 0; i < roof->corner_count; i++) {
        span.least = fmin(span.least, roof->corners[i].x);
        span.most = fmax(span.most, roof->corners[i].x);
    }
    return span;
}

/* A size written beside the outline has to be the outline's. */
static void hold_against_outline(const struct reader *reader, const char *key, const char *text,
                                 double found) {
    if (text == NULL)
        return;
    double written = reader_length(reader, key, text, SIGN_ABOVE_ZERO, READER_REQUIRED);
    if (fabs(written - found) > OUTLINE_SLACK)
        reader_refuse(reader, key, text, "%s as plane.outline has it, or no %s beside the outline",
                      reader_shown(reader, found).text, key);
}

static enum outcome build_outlined(const struct reader *reader, const struct survey_plane *survey,
                                   struct roof *roof) {
    static const char *const corners[] = {"square", "square_far"};
    for (size_t i = 0; i < sizeof corners / sizeof *corners; i++)
        if (reader_has(reader, corners[i]))
            reader_refuse(reader, corners[i], "", "either outline or %s, not both", corners[i]);
    roof->outlined = roof->square_checked = true;
    roof->rake_rad[SIDE_NEAR] = roof->rake_rad[SIDE_FAR] = acos(0);
    enum outcome outcome = outline_build(reader, survey, roof);
    struct span span = plane_span(roof);
    roof->width = span.most - span.least;
    roof->slope = NAN;
    for (size_t i = 0; i < roof->corner_count; i++)
        roof->slope = fmax(roof->slope, roof->corners[i].y);
    hold_against_outline(reader, "width", survey->width, roof->width);
    hold_against_outline(reader, "slope", survey->slope, roof->slope);
    return outcome;
}

/* The edge from one corner to the next of a face that lies to its left. */
static struct edge edge_between(struct point from, struct point to) {
    double along = to.x - from.x, up = to.y - from.y, length = hypot(along, up);
    struct edge edge = {.nx = (0 - up) / length, .ny = along / length};
    edge.offset = edge.nx * from.x + edge.ny * from.y;
    if (fabs(up) <= LENGTH_TOLERANCE)
        edge.kind = along > 0 ? EDGE_EAVE : EDGE_RIDGE;
    else
        edge.kind = edge.nx > 0 ? EDGE_NEAR : EDGE_FAR;
    return edge;
}

static enum outcome build_edges(const struct reader *reader, const struct survey_setback *survey,
                                struct roof *roof) {
    static const struct survey_setback none;
    struct reader inside = reader_group(reader, "setback");
    if (survey == NULL)
        survey = &none;
    const char *const texts[EDGE_KIND_COUNT] = {survey->eave, survey->ridge, survey->near,
                                                survey->far};
    static const char *const keys[EDGE_KIND_COUNT] = {"eave", "ridge", "near", "far"};
    double setbacks[EDGE_KIND_COUNT];
    bool given = false;
    for (size_t i = 0; i < EDGE_KIND_COUNT; i++) {
        setbacks[i] = reader_length(&inside, keys[i], texts[i], SIGN_NOT_NEGATIVE, 0);
        given = given || texts[i] != NULL;
    }
    roof->edges = calloc(roof->corner_count + 1, sizeof *roof->edges);
    if (roof->edges == NULL)
        return OUTCOME_FAULT;
    roof->edge_count = roof->corner_count;
    for (size_t i = 0; i < roof->edge_count; i++) {
        struct edge *edge = &roof->edges[i];
        *edge = edge_between(roof->corners[i], roof->corners[(i + 1) % roof->corner_count]);
        edge->setback = setbacks[edge->kind];
    }
    if (given)
        return OUTCOME_DONE;
    return doubt_add(roof, "No setback was given: frames may stand right up to the edges of the "
                           "roof. Ask what is required here.");
}

enum outcome plane_build(const struct reader *reader, const struct survey_roof *survey,
                         struct roof *roof) {
    static const struct survey_plane none;
    struct reader inside = reader_group(reader, "plane");
    const struct survey_plane *plane = survey->plane != NULL ? survey->plane : &none;
    bool outlined = plane->outline_count > 0 || reader_has(&inside, "outline");
    enum outcome outcome =
        outlined ? build_outlined(&inside, plane, roof) : build_corners(&inside, plane, roof);
    roof->pitch_rad = reader_pitch(&inside, "pitch", plane->pitch);
    return outcome == OUTCOME_DONE ? build_edges(reader, survey->setback, roof) : outcome;
}
