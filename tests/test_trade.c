/* Values that the trade works with, each with its status: what the program makes of them. */
#include "closed_form.h"

#include "check.h"
#include "layout.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#define SAME 1e-6 /* inches */

/* Rafters at 16, 19.2 and 24 in on centre.  Status: the common framing layouts (19.2 in is the
 * fifth part of 8 ft: 19.2, 38.4, 57.6, 76.8, 96), confirmed by published framing files; real
 * rafters stray from them.
 *
 * Legs 48 apart are three spacings of 16 and two of 24: only the ply binds, 5/32.  On 19.2 the feet
 * want 45, 48 or 51, and rafters offer 38.4 or 57.6: d = 6.6, and the forgiveness is
 * (2 x 5/32 + 2 x 3/4 - 6.6) / 4 = -1.196875 (see test_closed_form.c).  A strut has 5/32 there. */
static void rafter_spacings(void **state) {
    (void)state;
    static const double spacings[] = {16, 19.2, 24};
    static const double feet[] = {0.15625, -1.196875, 0.15625};
    for (size_t i = 0; i < sizeof spacings / sizeof *spacings; i++) {
        struct plain_knobs knobs = plain_knobs();
        knobs.spacing = spacings[i];
        struct roof *roof = uncapped_roof(knobs, HARDWARE_FEET);
        expect_forgiveness(roof, "feet, rafters at", spacings[i], feet[i]);
        roof_free(roof);
        roof = uncapped_roof(knobs, HARDWARE_STRUT);
        expect_forgiveness(roof, "strut, rafters at", spacings[i], 0.15625);
        roof_free(roof);
    }
}

/* One ply 1 1/2 in thick.  Status: dressed two-by lumber, American Softwood Lumber Standard PS 20;
 * edge distance 1.5 diameters, NDS Table 12.5.1C, confirmed by a stored page.  Beside the middle of
 * a ply a lag of 1/4, 5/16, 3/8, 1/2 has 3/8, 9/32, 3/16, 0 (derived from the formula); a rafter
 * found to 1/8 takes that off. */
static void lag_in_a_ply_of_1_1_2(void **state) {
    (void)state;
    static const double diameters[] = {0.25, 0.3125, 0.375, 0.5};
    static const double beside[] = {0.375, 0.28125, 0.1875, 0};
    for (size_t i = 0; i < sizeof diameters / sizeof *diameters; i++) {
        struct roof *roof = uncapped_roof(plain_knobs(), HARDWARE_FEET);
        roof->kits[0].lag_edge = 1.5 * diameters[i];
        expect_forgiveness(roof, "lag", diameters[i], beside[i] - 0.125);
        roof_free(roof);
    }
}

/* y of the rows of the best layout above the butt edge of their course. */
static void expect_above_edge(const struct roof *roof, double wanted) {
    const struct layout_options options = {.limit_s = 60};
    struct problems problems = {0};
    struct layout *layout = NULL;
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    assert_int_equal(layout->state, LAYOUT_PROVED);
    for (size_t i = 0; i < layout->marks->count; i++) {
        const struct mark *mark = &layout->marks->list[i];
        double edge = roof->courses[layout->courses[mark->bracket][mark->row] - 1];
        if (!(fabs(mark->y - edge - wanted) <= SAME))
            fail_msg("%.9g above its butt edge, not %.9g", mark->y - edge, wanted);
    }
    layout_free(layout);
    problems_free(&problems);
}

/* Shingle exposures of 5 and 5 5/8 in.  Status: strip shingles of 12 x 36 in and 13 1/4 x 39 3/8
 * in, confirmed by shingle size pages.  With the plain flashing (hole 3 1/4 up, block 1, edge 0 to
 * 1, clear 1/4) a lag may lie, above the butt edge of its course (derived from the formula):
 *   5 5/8: 3 1/4 to 4 1/4, best in the middle, 3 3/4, 1/2 from either end;
 *   5:     3 1/4 to 3 3/4, where the block meets the next course, best at 3 1/2, 1/4 from the ends.
 * A course tolerance of 1/8 takes that off: 3/8 and 1/8.  Bonded members of three plies keep the
 * wood out of it (play 2 1/4 - 15/32 - 1/8 = 1.65625). */
static void shingle_exposures(void **state) {
    (void)state;
    static const double exposures[] = {5, 5.625}, wanted[] = {0.125, 0.375}, above[] = {3.5, 3.75};
    for (size_t i = 0; i < sizeof exposures / sizeof *exposures; i++) {
        struct plain_knobs knobs = plain_knobs();
        knobs.exposure = exposures[i];
        knobs.plies = 3;
        knobs.bonded = true;
        struct roof *roof = uncapped_roof(knobs, HARDWARE_FEET);
        expect_forgiveness(roof, "exposure", exposures[i], wanted[i]);
        expect_above_edge(roof, above[i]);
        roof_free(roof);
    }
}

/* A first butt edge 6 in up and 5 5/8 in to the weather put edge 13 at 73 1/2 and edge 20 at
 * 112 7/8.  Status: arithmetic, 6 + 12 x 5 5/8 and 6 + 19 x 5 5/8. */
static void butt_edges_counted_up_the_roof(void **state) {
    (void)state;
    struct roof *roof = plain_roof(NULL);
    assert_true(fabs(roof->courses[12] - 73.5) <= 1e-9);
    assert_true(fabs(roof->courses[19] - 112.875) <= 1e-9);
    roof_free(roof);
}

/* The bottom bracket sits 1 to 1 1/2 in above the legs' cut end.  Status: common practice, no
 * source.  It may end up anywhere in that range, so the rule takes the most: the row must clear
 * gap + depth 2 + wrench 1/2 + half of a foot, 1.  With a window that ends at 5 1/4 the row has
 * 5 1/4 - 3 1/2 - gap to itself, and the best is half of it: 1/8 at 1 1/2, 1/4 at 1 1/4.  (Bonded
 * members again; the top window is wide enough for any course.) */
static void bottom_bracket_1_to_1_1_2_up(void **state) {
    (void)state;
    static const double most[] = {1.5, 1.25}, wanted[] = {0.125, 0.25};
    for (size_t i = 0; i < sizeof most / sizeof *most; i++) {
        struct plain_knobs knobs = plain_knobs();
        knobs.plies = 3;
        knobs.bonded = true;
        struct roof *roof = uncapped_roof(knobs, HARDWARE_FEET);
        roof->kits[0].gap[1] = most[i];
        roof->kits[0].window[ROW_BOTTOM][0] = 3;
        roof->kits[0].window[ROW_BOTTOM][1] = 5.25;
        expect_forgiveness(roof, "greatest gap", most[i], wanted[i]);
        roof_free(roof);
    }
}

/* A tape's finest mark is 1/16 in.  Status: common practice, no source.  No reading is further than
 * 1/32 from where it should be. */
static void tape_to_the_sixteenth(void **state) {
    (void)state;
    for (int i = -500; i < 500; i++) {
        double length = 0.0137 * i;
        assert_true(fabs(length_to_tape(length, 1.0 / 16) - length) <= 1.0 / 32 + 1e-12);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rafter_spacings),
        cmocka_unit_test(lag_in_a_ply_of_1_1_2),
        cmocka_unit_test(shingle_exposures),
        cmocka_unit_test(butt_edges_counted_up_the_roof),
        cmocka_unit_test(bottom_bracket_1_to_1_1_2_up),
        cmocka_unit_test(tape_to_the_sixteenth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
