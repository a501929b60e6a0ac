/* A face given by its corners: convex, named from 1 as they stand in the file. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>

enum { OUTLINE_LEAST = 3, OUTLINE_MOST = 24, OUTLINE_KEY = 48, OUTLINE_WANTED = 192 };

/* Twice the area of the triangle; above 0 where c lies to the left of the way from a to b. */
static double turn(struct point a, struct point b, struct point c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* How far c lies to the left of the line from a to b. */
static double left_of(struct point a, struct point b, struct point c) {
    return turn(a, b, c) / hypot(b.x - a.x, b.y - a.y);
}

static void refuse_corner(const struct reader *reader, const struct survey_plane *survey,
                          size_t corner, const char *wanted) {
    char key[OUTLINE_KEY], found[READER_KEY_MOST];
    char *const *texts = survey->outline[corner].list;
    snprintf(key, sizeof key, "outline[%zu]", corner + 1);
    snprintf(found, sizeof found, "%s, %s", texts[0] != NULL ? texts[0] : "",
             texts[1] != NULL ? texts[1] : "");
    reader_refuse(reader, key, found, "%s", wanted);
}

/* True if every figure could be read. */
static bool read_points(const struct reader *reader, const struct survey_plane *survey,
                        struct point *points) {
    bool good = true;
    for (size_t i = 0; i < survey->outline_count; i++) {
        double figures[2];
        for (size_t axis = 0; axis < 2; axis++) {
            char key[OUTLINE_KEY];
            const char *text = survey->outline[i].list[axis];
            snprintf(key, sizeof key, "outline[%zu][%zu]", i + 1, axis + 1);
            figures[axis] = reader_length(
                reader, key, text, axis == 0 ? SIGN_ANY : SIGN_NOT_NEGATIVE, READER_REQUIRED);
            good = good && !isnan(figures[axis]);
        }
        points[i] = (struct point){figures[0], figures[1]};
    }
    return good;
}

static bool refuse_doubled(const struct reader *reader, const struct survey_plane *survey,
                           const struct point *points) {
    char wanted[OUTLINE_WANTED];
    for (size_t j = 1; j < survey->outline_count; j++)
        for (size_t i = 0; i < j; i++)
            if (hypot(points[i].x - points[j].x, points[i].y - points[j].y) <= LENGTH_TOLERANCE) {
                snprintf(wanted, sizeof wanted,
                         "each corner once: corner %zu is the same as corner %zu", j + 1, i + 1);
                refuse_corner(reader, survey, j, wanted);
                return true;
            }
    return false;
}

/* True if the stretches from a to b and from c to d have a place in common. */
static bool stretches_meet(double a, double b, double c, double d) {
    return fmax(fmin(a, b), fmin(c, d)) <= fmin(fmax(a, b), fmax(c, d));
}

/* True if two edges without a common corner meet. */
static bool edges_meet(struct point a, struct point b, struct point c, struct point d) {
    return stretches_meet(a.x, b.x, c.x, d.x) && stretches_meet(a.y, b.y, c.y, d.y) &&
           turn(a, b, c) * turn(a, b, d) <= 0 && turn(c, d, a) * turn(c, d, b) <= 0;
}

static bool refuse_crossing(const struct reader *reader, const struct survey_plane *survey,
                            const struct point *points) {
    size_t count = survey->outline_count;
    char wanted[OUTLINE_WANTED];
    for (size_t i = 0; i + 2 < count; i++)
        for (size_t j = i + 2; j < count - (i == 0); j++)
            if (edges_meet(points[i], points[i + 1], points[j], points[(j + 1) % count])) {
                snprintf(wanted, sizeof wanted,
                         "edges that do not cross: that from corner %zu to %zu crosses that from "
                         "%zu to %zu",
                         i + 1, i + 2, j + 1, (j + 1) % count + 1);
                refuse_corner(reader, survey, j, wanted);
                return true;
            }
    return false;
}

static double twice_area(const struct point *points, size_t count) {
    double area = 0;
    for (size_t i = 1; i + 1 < count; i++)
        area += turn(points[0], points[i], points[i + 1]);
    return area;
}

/* A corner may lie on the straight line between its neighbours, not inside it. */
static bool refuse_hollow(const struct reader *reader, const struct survey_plane *survey,
                          const struct point *points) {
    size_t count = survey->outline_count;
    double area = twice_area(points, count), sense = area < 0 ? -1 : 1;
    char wanted[OUTLINE_WANTED];
    for (size_t i = 0; i < count; i++) {
        struct point before = points[(i + count - 1) % count], after = points[(i + 1) % count];
        if (sense * left_of(before, after, points[i]) <= LENGTH_TOLERANCE)
            continue; /* it lies outside the line between its neighbours, or on it */
        snprintf(wanted, sizeof wanted,
                 "a convex face: it bends inwards at corner %zu; lay the parts out as faces of "
                 "their own",
                 i + 1);
        refuse_corner(reader, survey, i, wanted);
        return true;
    }
    if (fabs(area) > LENGTH_TOLERANCE)
        return false;
    refuse_corner(reader, survey, count - 1, "corners that are not all in one line");
    return true;
}

/* Counter-clockwise, from the lowest corner (of two, the one with the smaller x). */
static void store(struct roof *roof, const struct point *points, size_t count) {
    size_t first = 0;
    bool turned = twice_area(points, count) < 0;
    for (size_t i = 1; i < count; i++) {
        double higher = points[i].y - points[first].y;
        if (higher < -LENGTH_TOLERANCE ||
            (higher <= LENGTH_TOLERANCE && points[i].x < points[first].x))
            first = i;
    }
    for (size_t i = 0; i < count; i++)
        roof->corners[i] = points[(first + (turned ? count - i : i)) % count];
    roof->corner_count = count;
}

enum outcome outline_build(const struct reader *reader, const struct survey_plane *survey,
                           struct roof *roof) {
    size_t count = survey->outline_count;
    struct point points[OUTLINE_MOST];
    if (count < OUTLINE_LEAST || count > OUTLINE_MOST) {
        char found[32];
        snprintf(found, sizeof found, "%zu corners", count);
        reader_refuse(reader, "outline", found,
                      "%d to %d corners, such as [[0, 0], [360, 0], [180, 150]]", OUTLINE_LEAST,
                      OUTLINE_MOST);
        return OUTCOME_DONE;
    }
    if (!read_points(reader, survey, points) || refuse_doubled(reader, survey, points) ||
        refuse_crossing(reader, survey, points) || refuse_hollow(reader, survey, points))
        return OUTCOME_DONE;
    roof->corners = calloc(count, sizeof *roof->corners);
    if (roof->corners == NULL)
        return OUTCOME_FAULT;
    store(roof, points, count);
    return OUTCOME_DONE;
}
