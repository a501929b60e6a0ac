/* Margins inside a face, against an outside referee: GEOS (libgeos, C API), which knows the face as
 * a polygon of corners and nothing of half-planes.  Random convex outlines; brackets, flashings and
 * struts inside, across and outside of them.  To 1e-9 in. */
#include "held.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>
#include <geos_c.h>

enum { CORNERS_MOST = 9, OUTLINES = 1500, PLACES = 4 };
#define SAME 1e-9 /* inches */

/* A small generator of its own, the same on every machine: the multiplier is Knuth's for 64 bits
 * (from memory).  From 0 to 1. */
static double draw(uint64_t *seed) {
    *seed = *seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (double)(*seed >> 11) / 9007199254740992.0;
}

/* The face as the referee has it. */
struct referee {
    GEOSContextHandle_t geos;
    GEOSGeometry *face, *boundary;
    const struct point *corners;
    size_t count;
};

static GEOSCoordSequence *ring(GEOSContextHandle_t geos, const struct point *corners,
                               size_t count) {
    GEOSCoordSequence *sequence = GEOSCoordSeq_create_r(geos, (unsigned)count, 2);
    assert_non_null(sequence);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(
            GEOSCoordSeq_setXY_r(geos, sequence, (unsigned)i, corners[i].x, corners[i].y), 1);
    }
    return sequence;
}

static GEOSGeometry *polygon(GEOSContextHandle_t geos, const struct point *corners, size_t count) {
    struct point closed[CORNERS_MOST + 1];
    for (size_t i = 0; i <= count; i++) {
        closed[i] = corners[i % count];
    }
    GEOSGeometry *outer = GEOSGeom_createLinearRing_r(geos, ring(geos, closed, count + 1));
    assert_non_null(outer);
    GEOSGeometry *made = GEOSGeom_createPolygon_r(geos, outer, NULL, 0);
    assert_non_null(made);
    return made;
}

static void open_referee(struct referee *referee, const struct point *corners, size_t count) {
    *referee = (struct referee){.geos = GEOS_init_r(), .corners = corners, .count = count};
    assert_non_null(referee->geos);
    referee->face = polygon(referee->geos, corners, count);
    referee->boundary = GEOSBoundary_r(referee->geos, referee->face);
    assert_non_null(referee->boundary);
}

static void close_referee(struct referee *referee) {
    GEOSGeom_destroy_r(referee->geos, referee->boundary);
    GEOSGeom_destroy_r(referee->geos, referee->face);
    GEOS_finish_r(referee->geos);
}

static double distance(const struct referee *referee, const GEOSGeometry *a,
                       const GEOSGeometry *b) {
    double found = NAN;
    assert_int_equal(GEOSDistance_r(referee->geos, a, b, &found), 1);
    return found;
}

/* How far a point is inside the line through one edge; negative outside.  The edge is drawn out far
 * beyond the face, so that the nearest point of it is the foot of the square to its line. */
static double inside_edge(const struct referee *referee, size_t edge, struct point point) {
    struct point from = referee->corners[edge], to = referee->corners[(edge + 1) % referee->count];
    double stretch = 3000 / hypot(to.x - from.x, to.y - from.y);
    struct point ends[2] = {
        {from.x - stretch * (to.x - from.x), from.y - stretch * (to.y - from.y)},
        {to.x + stretch * (to.x - from.x), to.y + stretch * (to.y - from.y)}};
    GEOSGeometry *line = GEOSGeom_createLineString_r(referee->geos, ring(referee->geos, ends, 2));
    GEOSGeometry *spot = GEOSGeom_createPointFromXY_r(referee->geos, point.x, point.y);
    assert_non_null(line);
    assert_non_null(spot);
    double off = distance(referee, line, spot);
    int side = GEOSOrientationIndex_r(referee->geos, from.x, from.y, to.x, to.y, point.x, point.y);
    GEOSGeom_destroy_r(referee->geos, line);
    GEOSGeom_destroy_r(referee->geos, spot);
    return side < 0 ? -off : off;
}

/* Least over the rectangle's corners and the edges, each less its setback if they count. */
static double least_by_edges(const struct referee *referee, const struct roof *roof,
                             const struct point box[4], bool setbacks) {
    double least = INFINITY;
    for (size_t edge = 0; edge < referee->count; edge++) {
        double kept = setbacks ? roof->edges[edge].setback : 0;
        for (size_t i = 0; i < 4; i++) {
            least = fmin(least, inside_edge(referee, edge, box[i]) - kept);
        }
    }
    return least;
}

static void expect_same(const char *what, double found, double wanted) {
    if (!(fabs(found - wanted) <= SAME)) {
        fail_msg("%s: margin %.17g, the referee has %.17g", what, found, wanted);
    }
}

/* A margin without setbacks: the distance to the face's boundary where the face covers the
 * rectangle, and below zero where it does not. */
static void expect_covered(const struct referee *referee, const struct point box[4], double margin,
                           size_t *covered) {
    GEOSGeometry *rectangle = polygon(referee->geos, box, 4);
    bool within = GEOSCovers_r(referee->geos, referee->face, rectangle) == 1;
    if (within) {
        expect_same("inside the face", margin, distance(referee, rectangle, referee->boundary));
    } else if (!(margin <= SAME)) {
        fail_msg("not covered by the face, but the margin is %.17g", margin);
    }
    GEOSGeom_destroy_r(referee->geos, rectangle);
    *covered += within;
}

static void expect_refereed(const struct referee *referee, const struct roof *roof,
                            struct box rectangle, bool setbacks, double margin, size_t *covered) {
    const struct point box[4] = {{rectangle.x0, rectangle.y0},
                                 {rectangle.x1, rectangle.y0},
                                 {rectangle.x1, rectangle.y1},
                                 {rectangle.x0, rectangle.y1}};
    expect_same(setbacks ? "by edges, less setbacks" : "by edges", margin,
                least_by_edges(referee, roof, box, setbacks));
    if (!setbacks) {
        expect_covered(referee, box, margin, covered);
    }
}

static int by_value(const void *left, const void *right) {
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* Corners on an ellipse in order of their angle: always convex.  The lowest lies on the eave. */
static size_t draw_outline(uint64_t *seed, struct point corners[CORNERS_MOST]) {
    size_t count = 3 + (size_t)(draw(seed) * (CORNERS_MOST - 2));
    double angles[CORNERS_MOST], wide = 100 + 200 * draw(seed), high = 60 + 150 * draw(seed);
    double low = INFINITY;
    for (size_t i = 0; i < count; i++) {
        angles[i] = ((double)i + 0.8 * draw(seed)) / (double)count * 2 * acos(-1);
    }
    qsort(angles, count, sizeof *angles, by_value);
    for (size_t i = 0; i < count; i++) {
        corners[i] = (struct point){200 + wide * cos(angles[i]), high * sin(angles[i])};
        low = fmin(low, corners[i].y);
    }
    for (size_t i = 0; i < count; i++) {
        corners[i].y -= low;
    }
    return count;
}

/* Another size and place of everything. */
static void scatter(struct trial *trial, uint64_t *seed, double high) {
    struct kit *kit = &trial->roof->kits[0];
    struct standing *standing = &trial->marks->brackets[0];
    kit->width = 5 + 70 * draw(seed);
    kit->height = 5 + 70 * draw(seed);
    kit->legs[0] = 0.2 * kit->width;
    kit->legs[1] = 0.8 * kit->width;
    kit->flashing.width = 4 + 20 * draw(seed);
    standing->x = 100 + 200 * draw(seed);
    standing->y = high * draw(seed);
    for (size_t i = 0; i < trial->marks->count; i++) {
        struct mark *mark = &trial->marks->list[i];
        mark->x = standing->x + kit->width * draw(seed);
        mark->y = standing->y + (mark->row == ROW_TOP ? kit->height : 0);
    }
    for (size_t i = 0; i < trial->roof->edge_count; i++) {
        trial->roof->edges[i].setback = 40 * draw(seed);
    }
    marks_sort(trial->marks);
}

static struct box box_round(const struct flashing *flashing, const struct mark *mark) {
    return (struct box){mark->x - flashing->width / 2, mark->y - flashing->hole_up,
                        mark->x + flashing->width / 2,
                        mark->y - flashing->hole_up + flashing->height};
}

/* Bracket, strut and every flashing, a pipe's own among them. */
static void compare(const struct trial *trial, const struct referee *referee, size_t *covered) {
    const struct roof *roof = trial->roof;
    const struct kit *kit = &roof->kits[0];
    const struct standing *at = &trial->marks->brackets[0];
    struct verdict *verdict = held(roof, trial->marks);
    const struct row_seat *seat = &verdict->rows[0][ROW_TOP];
    struct box bracket = {at->x, at->y, at->x + kit->width, at->y + kit->height};
    struct box strut = {seat->from, seat->y - kit->strut_half, seat->to, seat->y + kit->strut_half};
    expect_refereed(referee, roof, bracket, true,
                    held_margin(verdict, about(RULE_SETBACK, 0, CHECK_NONE, CHECK_NONE)), covered);
    expect_refereed(referee, roof, strut, false,
                    held_margin(verdict, about(RULE_STRUT_CLEAR, 0, ROW_TOP, CHECK_NONE)), covered);
    for (size_t i = 0; i < trial->marks->count; i++) {
        const struct mark *mark = &trial->marks->list[i];
        const struct flashing *flashing =
            mark->row == ROW_PIPE ? &roof->pipes[mark->pipe].flashing : &kit->flashing;
        struct finding subject = about(RULE_SETBACK, 0, (int)mark->row, (int)i);
        expect_refereed(referee, roof, box_round(flashing, mark), false,
                        held_margin(verdict, subject), covered);
    }
    verdict_free(verdict);
}

/* Both kinds of answer must have come up often, or the outlines were drawn badly. */
static void margins_on_random_outlines(void **state) {
    struct trial *trial = *state;
    uint64_t seed = 1955;
    size_t covered = 0, all = 0;
    for (int round = 0; round < OUTLINES; round++) {
        struct point corners[CORNERS_MOST];
        struct referee referee;
        struct plain_knobs knobs = plain_knobs();
        knobs.pipe_count = 2;
        knobs.outline = corners;
        knobs.outline_count = draw_outline(&seed, corners);
        trial_rebuild(trial, &knobs);
        open_referee(&referee, corners, knobs.outline_count);
        for (int place = 0; place < PLACES; place++) {
            scatter(trial, &seed, 150);
            compare(trial, &referee, &covered);
            all += 1 + trial->marks->count;
        }
        close_referee(&referee);
    }
    assert_true(covered > all / 4 && covered < all * 3 / 4);
}

/* The face drawn smaller by the referee, its corners kept sharp; true where it covers the bracket,
 * whose margin is then the distance to the smaller boundary. */
static bool expect_in_smaller(const struct referee *referee, double setback,
                              const struct point box[4], double margin) {
    GEOSContextHandle_t geos = referee->geos;
    GEOSGeometry *smaller = GEOSBufferWithStyle_r(geos, referee->face, -setback, 8,
                                                  GEOSBUF_CAP_FLAT, GEOSBUF_JOIN_MITRE, 1000);
    assert_non_null(smaller);
    GEOSGeometry *edge = GEOSBoundary_r(geos, smaller), *rectangle = polygon(geos, box, 4);
    assert_non_null(edge);
    bool within = GEOSCovers_r(geos, smaller, rectangle) == 1;
    if (within) {
        expect_same("inside the smaller face", margin, distance(referee, rectangle, edge));
    } else if (!(margin <= SAME)) {
        fail_msg("not covered by the smaller face, but the margin is %.17g", margin);
    }
    GEOSGeom_destroy_r(geos, rectangle);
    GEOSGeom_destroy_r(geos, edge);
    GEOSGeom_destroy_r(geos, smaller);
    return within;
}

/* Where all edges keep the same setback, it is the same as none on a smaller face. */
static void setback_is_a_smaller_face(void **state) {
    struct trial *trial = *state;
    uint64_t seed = 1957;
    size_t fits = 0;
    for (int round = 0; round < OUTLINES; round++) {
        struct point corners[CORNERS_MOST];
        struct referee referee;
        struct plain_knobs knobs = plain_knobs();
        knobs.outline = corners;
        knobs.outline_count = draw_outline(&seed, corners);
        trial_rebuild(trial, &knobs);
        open_referee(&referee, corners, knobs.outline_count);
        scatter(trial, &seed, 100);
        double setback = 1 + 20 * draw(&seed);
        for (size_t i = 0; i < trial->roof->edge_count; i++) {
            trial->roof->edges[i].setback = setback;
        }
        const struct kit *kit = &trial->roof->kits[0];
        const struct standing *at = &trial->marks->brackets[0];
        const struct point box[4] = {{at->x, at->y},
                                     {at->x + kit->width, at->y},
                                     {at->x + kit->width, at->y + kit->height},
                                     {at->x, at->y + kit->height}};
        struct verdict *verdict = held(trial->roof, trial->marks);
        double margin = held_margin(verdict, about(RULE_SETBACK, 0, CHECK_NONE, CHECK_NONE));
        verdict_free(verdict);
        fits += expect_in_smaller(&referee, setback, box, margin);
        close_referee(&referee);
    }
    assert_true(fits > OUTLINES / 10);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(margins_on_random_outlines, trial_set_up_pipes,
                                        trial_tear_down),
        cmocka_unit_test_setup_teardown(setback_is_a_smaller_face, trial_set_up, trial_tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
