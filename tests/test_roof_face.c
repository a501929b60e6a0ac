/* Faces that are no rectangle: leaning corners, outlines, and what a tape shows on them. */
#include "edited_roof.h"
#include "length.h"
#include "roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define PLANE "plane: {width: 30', slope: 16' 4\", pitch: 5/12}"
#define DEGREES(radians) ((radians)*180 / acos(-1))

/* Not (difference <= tolerance) fails, so NaN does. */
#define assert_within(found, wanted, tolerance)                                                    \
    do {                                                                                           \
        double found_ = (found), wanted_ = (wanted);                                               \
        if (!(fabs(found_ - wanted_) <= (tolerance)))                                              \
            fail_msg("%s:%d: found %.9g, wanted %.9g", __FILE__, __LINE__, found_, wanted_);       \
    } while (0)

static struct roof *roof_with(const struct edit *edits) {
    return edited_roof_good(&(struct edited_roof){.root = RUDDLE_ROOT, .roof = edits});
}

static struct roof *roof_on(const char *plane) {
    const struct edit edits[] = {{PLANE, plane}, {0}};
    return roof_with(edits);
}

static const struct edge *edge_of(const struct roof *roof, enum edge_kind kind) {
    for (size_t i = 0; i < roof->edge_count; i++)
        if (roof->edges[i].kind == kind)
            return &roof->edges[i];
    fail_msg("no edge of kind %d", (int)kind);
    return NULL;
}

static double distance(const struct edge *edge, double x, double y) {
    return edge->nx * x + edge->ny * y - edge->offset;
}

/* Every face: counter-clockwise corners, each edge through both of its own, all others inside. */
static void assert_closed(const struct roof *roof) {
    size_t count = roof->corner_count;
    assert_true(count >= 3 && roof->edge_count == count);
    for (size_t i = 0; i < count; i++) {
        const struct edge *edge = &roof->edges[i];
        assert_near(hypot(edge->nx, edge->ny), 1);
        for (size_t j = 0; j < count; j++) {
            double inside = distance(edge, roof->corners[j].x, roof->corners[j].y);
            if (j == i || j == (i + 1) % count)
                assert_near(inside, 0);
            else
                assert_true(inside > -1e-9);
        }
    }
}

/* 3-4-5: 96 and 72 with 120 between them is square to the last bit, and changes nothing. */
static void corner_of_3_4_5_is_square(void **state) {
    (void)state;
    struct roof *roof = roof_on("plane: {width: 30', slope: 16' 4\", pitch: 5/12, "
                                "square: {along: 96, up: 72, diagonal: 120}}");
    assert_true(roof->square_checked && !roof->outlined);
    assert_true(roof->rake_rad[SIDE_NEAR] == acos(0) && roof->rake_rad[SIDE_FAR] == acos(0));
    assert_true(roof_rake_x(roof, SIDE_NEAR, 196) == 0);
    assert_true(roof_rake_x(roof, SIDE_FAR, 196) == 360);
    assert_true(roof_height_reading(roof, SIDE_NEAR, 114.25) == 114.25);
    assert_int_equal(roof->warning_count, 0);
    assert_closed(roof);
    roof_free(roof);
    roof = roof_on(PLANE);
    assert_false(roof->square_checked);
    assert_closed(roof);
    roof_free(roof);
}

/* Published angles of measured triangles, to their last digit.  Law of cosines, as derived in any
 * handbook: C = acos((a^2 + b^2 - d^2) / (2 a b)). */
static void corner_has_the_angle_of_its_triangle(void **state) {
    (void)state;
    static const struct {
        const char *sides;
        double degrees;
    } cases[] = {
        {"along: 144, up: 108, diagonal: 180", 90},
        {"along: 36, up: 48, diagonal: 60", 90},
        {"along: 144, up: 108, diagonal: 180 1/2", 90.33204},
        {"along: 144, up: 108, diagonal: 181", 90.66500},
        {"along: 96, up: 72, diagonal: 120 1/4", 90.24894},
        /* cos C = 239 / 13824 = 0.0172888, so C is 0.0172897 rad = 0.99062 degrees short of 90 */
        {"along: 96, up: 72, diagonal: 119", 89.00938},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char plane[160];
        snprintf(plane, sizeof plane,
                 "plane: {width: 30', slope: 16' 4\", pitch: 5/12, square: {%s}}", cases[i].sides);
        struct roof *roof = roof_on(plane);
        assert_within(DEGREES(roof->rake_rad[SIDE_NEAR]), cases[i].degrees, 6e-6);
        assert_within(DEGREES(roof->rake_rad[SIDE_FAR]), cases[i].degrees, 6e-6);
        roof_free(roof);
    }
}

/* 90.24894 degrees: at y 114.25 the rake has gone 0.49640 outwards; y is 114.25108 up the rake;
 * x 88 reads 88.49640 from it.  The far rake lies parallel: 360 - 0.49640 - 88 from there. */
static void readings_start_at_the_leaning_rake(void **state) {
    (void)state;
    struct roof *roof = roof_on("plane: {width: 30', slope: 16' 4\", pitch: 5/12, "
                                "square: {along: 96, up: 72, diagonal: 120 1/4}}");
    assert_closed(roof);
    assert_within(roof_height_reading(roof, SIDE_NEAR, 114.25), 114.25108, 5e-6);
    assert_within(roof_height_reading(roof, SIDE_FAR, 114.25), 114.25108, 5e-6);
    assert_near(
        roof_height_from_reading(roof, SIDE_NEAR, roof_height_reading(roof, SIDE_NEAR, 114.25)),
        114.25);
    assert_within(roof_rake_x(roof, SIDE_NEAR, 114.25), -0.49640, 5e-6);
    assert_within(roof_reading(roof, SIDE_NEAR, 88, 114.25), 88.49640, 5e-6);
    assert_within(roof_reading(roof, SIDE_FAR, 88, 114.25), 271.50360, 5e-6);
    assert_near(
        roof_from_reading(roof, SIDE_NEAR, roof_reading(roof, SIDE_NEAR, 88, 114.25), 114.25), 88);
    assert_near(roof_from_reading(roof, SIDE_FAR, roof_reading(roof, SIDE_FAR, 88, 114.25), 114.25),
                88);
    assert_near(roof_reading(roof, SIDE_NEAR, 88, 0), 88);
    roof_free(roof);
}

/* The corner of a 5-12-13 triangle: sides 130 and 50 with 120 make cos C = 5/13, sin C = 12/13, so
 * the near rake gains 5 in x for each 12 in y.  At y 120 it stands at 50; its setback of 12 is
 * square to it, so 13 along x: a bracket's corner may stand at 63 there. */
static void setback_is_square_to_the_leaning_rake(void **state) {
    (void)state;
    struct roof *roof = roof_on("plane: {width: 30', slope: 16' 4\", pitch: 5/12, "
                                "square: {along: 130, up: 50, diagonal: 120}}");
    const struct edge *near = edge_of(roof, EDGE_NEAR), *far = edge_of(roof, EDGE_FAR);
    assert_near(near->nx, 12.0 / 13);
    assert_near(near->ny, -5.0 / 13);
    assert_near(roof_rake_x(roof, SIDE_NEAR, 120), 50);
    assert_near(roof_rake_x(roof, SIDE_FAR, 120), 410);
    assert_near(near->setback, 12);
    assert_near(distance(near, 63, 120), 12);
    assert_near(distance(far, 397, 120), 12);
    /* 120 up is 130 along the rake. */
    assert_near(roof_height_reading(roof, SIDE_NEAR, 120), 130);
    assert_near(roof_height_from_reading(roof, SIDE_FAR, 130), 120);
    assert_closed(roof);
    roof_free(roof);
}

/* The far corner measured inside the face by the same triangle leans the other way: the ridge is
 * 360 - 2 x 196 x 5/12 long. */
static void far_corner_leans_as_it_was_measured(void **state) {
    (void)state;
    struct roof *roof = roof_on("plane: {width: 30', slope: 16' 4\", pitch: 5/12, "
                                "square: {along: 130, up: 50, diagonal: 120}, "
                                "square_far: {along: 130, up: 50, diagonal: 120}}");
    assert_near(roof_rake_x(roof, SIDE_NEAR, 120), 50);
    assert_near(roof_rake_x(roof, SIDE_FAR, 120), 310);
    assert_near(edge_of(roof, EDGE_FAR)->nx, -12.0 / 13);
    assert_near(edge_of(roof, EDGE_FAR)->ny, -5.0 / 13);
    assert_within(DEGREES(roof->rake_rad[SIDE_NEAR]), 67.38014, 5e-6); /* atan(12/5) */
    assert_within(DEGREES(roof->rake_rad[SIDE_FAR]), 112.61986, 5e-6);
    assert_near(roof->corners[2].x - roof->corners[3].x, 360 - 2 * 196 * 5.0 / 12);
    assert_near(roof_reading(roof, SIDE_FAR, 300, 120), 10);
    assert_closed(roof);
    roof_free(roof);
}

/* Rakes that lean outwards reach beyond the eave's corners: a rafter may start at x below 0. */
static void face_that_widens_holds_rafters_beyond_its_corner(void **state) {
    (void)state;
    const struct edit edits[] = {{PLANE,
                                  "plane: {outline: [[0, 0], [360, 0], [380, 196], [-20, 196]], "
                                  "pitch: 5/12}"},
                                 {"{at: 16 1/4}", "{at: -8}"},
                                 {0}};
    struct roof *roof = roof_with(edits);
    assert_near(roof->rafters[0].at, -8);
    assert_near(roof->width, 400);
    assert_near(roof->slope, 196);
    assert_near(roof_rake_x(roof, SIDE_NEAR, 98), -10);
    assert_closed(roof);
    roof_free(roof);
}

/* A hipped face, both hips 12 along for 13 up (45 degrees in plan at 5/12).  At y 65 they stand at
 * 60 and 420; heights are read up the roof itself. */
static void hips_are_rakes_that_run_in(void **state) {
    (void)state;
    struct roof *roof =
        roof_on("plane: {pitch: 5/12, outline: [[0, 0], [480, 0], [336, 156], [144, 156]]}");
    static const enum edge_kind kinds[] = {EDGE_EAVE, EDGE_FAR, EDGE_RIDGE, EDGE_NEAR};
    assert_true(roof->outlined && roof->square_checked);
    assert_int_equal(roof->edge_count, 4);
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(roof->edges[i].kind, kinds[i]);
    assert_near(roof->width, 480);
    assert_near(roof->slope, 156);
    assert_near(roof_rake_x(roof, SIDE_NEAR, 65), 60);
    assert_near(roof_rake_x(roof, SIDE_FAR, 65), 420);
    assert_near(roof_reading(roof, SIDE_NEAR, 100, 65), 40);
    assert_near(roof_reading(roof, SIDE_FAR, 100, 65), 320);
    assert_near(roof_height_reading(roof, SIDE_NEAR, 65), 65);
    assert_near(roof_height_from_reading(roof, SIDE_FAR, 65), 65);
    assert_near(edge_of(roof, EDGE_RIDGE)->setback, 18);
    assert_near(edge_of(roof, EDGE_NEAR)->setback, 12);
    assert_int_equal(roof->course_count, 27); /* 6 + 26 x 5 5/8 = 152 1/4 */
    assert_closed(roof);
    roof_free(roof);
}

/* The same hip, begun at any corner and walked either way. */
static void outline_is_the_same_whichever_way_it_is_walked(void **state) {
    (void)state;
    static const double x[] = {0, 480, 336, 144}, y[] = {0, 0, 156, 156};
    for (size_t start = 0; start < 4; start++)
        for (size_t way = 1; way <= 3; way += 2) {
            char plane[160] = "plane: {pitch: 5/12, outline: [";
            for (size_t i = 0; i < 4; i++) {
                size_t corner = (start + way * i) % 4;
                snprintf(plane + strlen(plane), sizeof plane - strlen(plane), "%s[%g, %g]",
                         i > 0 ? ", " : "", x[corner], y[corner]);
            }
            strcat(plane, "]}");
            struct roof *roof = roof_on(plane);
            for (size_t i = 0; i < 4; i++) {
                assert_near(roof->corners[i].x, x[i]);
                assert_near(roof->corners[i].y, y[i]);
            }
            roof_free(roof);
        }
}

/* A gablet that comes to a point has no ridge; a valley that begins at one has no eave.  Frames are
 * still wanted inside: at half of 196 up, rakes at 90 and 270 and 12 x hypot(180, 196)/196 inside
 * them; up the slope, centred between the eave's setback and the point. */
static void triangles_have_no_ridge_or_no_eave(void **state) {
    (void)state;
    const struct edit edits[] = {
        {PLANE, "plane: {pitch: 5/12, outline: [[0, 0], [360, 0], [180, 196]]}"},
        {", want: [60, 40]", ""},
        {"at: [200, 120]", "at: [180, 140]"},
        {0}};
    struct roof *roof = roof_with(edits);
    assert_int_equal(roof->edge_count, 3);
    assert_int_equal(roof->edges[0].kind, EDGE_EAVE);
    assert_int_equal(roof->edges[1].kind, EDGE_FAR);
    assert_int_equal(roof->edges[2].kind, EDGE_NEAR);
    assert_near(roof->brackets[0].want_x, (360 - 72) / 2.0);
    assert_near(roof->brackets[0].want_y, (12 + 196 - 84) / 2.0);
    assert_closed(roof);
    roof_free(roof);
    roof = roof_on("plane: {pitch: 5/12, outline: [[180, 0], [360, 196], [0, 196]]}");
    assert_int_equal(roof->edges[0].kind, EDGE_FAR);
    assert_int_equal(roof->edges[1].kind, EDGE_RIDGE);
    assert_int_equal(roof->edges[2].kind, EDGE_NEAR);
    assert_near(roof_rake_x(roof, SIDE_NEAR, 98), 90);
    roof_free(roof);
}

/* A corner on the straight line between its neighbours is none, and does no harm; a rake that
 * bends is met where it is: from (0, 0) to (0, 98), then in by 49 to the ridge. */
static void rake_that_bends_is_met_where_it_is(void **state) {
    (void)state;
    struct roof *roof = roof_on("plane: {width: 30', slope: 196 1/8, pitch: 5/12, outline: "
                                "[[0, 0], [200, 0], [360, 0], [360, 196], [49, 196], [0, 98]]}");
    assert_int_equal(roof->edge_count, 6);
    assert_near(roof->slope, 196); /* the outline's word, not the one beside it */
    assert_near(roof_rake_x(roof, SIDE_NEAR, 49), 0);
    assert_near(roof_rake_x(roof, SIDE_NEAR, 147), 24.5);
    assert_closed(roof);
    roof_free(roof);
}

/* Counts from the corner whichever that is: a right corner changes no figure of the face. */
static void corner_on_the_right_leans_alike(void **state) {
    (void)state;
    const struct edit edits[] = {{PLANE, "plane: {width: 30', slope: 16' 4\", pitch: 5/12, "
                                         "square: {along: 96, up: 72, diagonal: 120 1/4}}"},
                                 {"corner: left", "corner: right"},
                                 {0}};
    struct roof *roof = roof_with(edits);
    assert_within(roof_reading(roof, SIDE_NEAR, 88, 114.25), 88.49640, 5e-6);
    roof_free(roof);
}

/* The published slope-factor table: angle, slope over run, sine, cosine, hip (its length for 12 in
 * of run over 16.9706).  A hip of 120 in of run is drawn as an outline, and taped. */
static void pitches_have_the_published_slope_factors(void **state) {
    (void)state;
    static const struct {
        const char *pitch;
        double degrees, slope, rafter, sine, cosine, hip;
    } table[] = {
        {"2/12", 9.4623, 1.01379, 12.1655, 0.16440, 0.98639, 1.00692},
        {"3/12", 14.0362, 1.03078, 12.3693, 0.24254, 0.97014, 1.01550},
        {"4/12", 18.4349, 1.05409, 12.6491, 0.31623, 0.94868, 1.02740},
        {"5/12", 22.6199, 1.08333, 13.0000, 0.38462, 0.92308, 1.04250},
        {"6/12", 26.5651, 1.11803, 13.4164, 0.44721, 0.89443, 1.06066},
        {"8/12", 33.6901, 1.20185, 14.4222, 0.55470, 0.83205, 1.10554},
        {"9/12", 36.8699, 1.25000, 15.0000, 0.60000, 0.80000, 1.13192},
        {"10/12", 39.8056, 1.30171, 15.6205, 0.64018, 0.76822, 1.16070},
        {"12/12", 45.0000, 1.41421, 16.9706, 0.70711, 0.70711, 1.22474},
    };
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        char plane[160];
        double up = 10 * table[i].rafter;
        snprintf(plane, sizeof plane,
                 "plane: {pitch: %s, outline: [[0, 0], [360, 0], [240, %.4f], [120, %.4f]]}",
                 table[i].pitch, up, up);
        const struct edit edits[] = {{PLANE, plane}, {"at: [200, 120]", "at: [200, 50]"}, {0}};
        struct roof *roof = roof_with(edits);
        assert_within(DEGREES(roof->pitch_rad), table[i].degrees, 5.1e-5);
        assert_within(1 / cos(roof->pitch_rad), table[i].slope, 5.1e-6);
        assert_within(roof->slope / 120, table[i].slope, 1e-5);
        assert_within(sin(roof->pitch_rad), table[i].sine, 5.1e-6);
        assert_within(cos(roof->pitch_rad), table[i].cosine, 5.1e-6);
        assert_within(hypot(roof->corners[3].x, roof->corners[3].y) / 169.706, table[i].hip, 1e-5);
        /* Half way up, the hip has run in half its 120 in. */
        assert_within(roof_rake_x(roof, SIDE_NEAR, up / 2), 60, 1e-4);
        roof_free(roof);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(corner_of_3_4_5_is_square),
        cmocka_unit_test(corner_has_the_angle_of_its_triangle),
        cmocka_unit_test(readings_start_at_the_leaning_rake),
        cmocka_unit_test(setback_is_square_to_the_leaning_rake),
        cmocka_unit_test(far_corner_leans_as_it_was_measured),
        cmocka_unit_test(face_that_widens_holds_rafters_beyond_its_corner),
        cmocka_unit_test(hips_are_rakes_that_run_in),
        cmocka_unit_test(outline_is_the_same_whichever_way_it_is_walked),
        cmocka_unit_test(triangles_have_no_ridge_or_no_eave),
        cmocka_unit_test(rake_that_bends_is_met_where_it_is),
        cmocka_unit_test(corner_on_the_right_leans_alike),
        cmocka_unit_test(pitches_have_the_published_slope_factors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
