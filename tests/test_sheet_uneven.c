/* Sheets of faces and timbers that are not neat: leaning rakes, hips, rafters that lean or stop
 * short, what must be kept off, what an engineer must see. */
#include "../src/sheet/words.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One at a time: made afresh by each test. */
static struct sheet_answer made;

/* ------------------------------------------------------------------------- leaning rakes */

/* x = -9/40 y: the line at 54 1/2 starts 12.2625 before the eave's zero, that at 110 3/4 24.91875;
 * 64 reads 76.2625 and 88.91875: 76 1/4 and 88 15/16.  Up the rake 54 1/2 reads 54.5 x 41/40 =
 * 55.8625, 110 3/4 reads 113.51875: 55 7/8 and 113 1/2.  Butt edges at 51 and 107 1/4: 52 1/4 and
 * 109 15/16 (52.275, 109.93). */
static void leaning_rake_has_readings_of_its_own_at_every_height(void **state) {
    (void)state;
    const char *const order[] = {
        "from the LEFT rake, where that line really crosses",
        "along the rake, tape on",
        "The LEFT rake is not straight above that 0",
        "Find each line",
        "tape   4' 7-7/8\" (55-7/8)",
        "up BOTH rakes",
        "there the roof is 30' 0\" (360) wide from rake to rake",
        "count  9th butt edge above the eave edge (tapes at 4' 4-1/4\" (52-1/4))",
        "the line is 3-1/2\" above that butt edge",
        "tape   9' 5-1/2\" (113-1/2)",
        "count  19th butt edge above the eave edge (tapes at 9' 1-15/16\"",
        "[ ] A-bottom-1      6' 4-1/4\" (76-1/4)",
        "[ ] A-top-1         7' 4-15/16\" (88-15/16)"};
    answer_make(&made, 1);
    answer_lean(&made, true);
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, order, sizeof order / sizeof order[0]);
    assert_silent_on(sheet, "up the RIGHT rake");
    free(sheet);
}

/* The corners of frame A, at 54 1/8 and 126 1/8, each from the rake at its own height: at 40 it is
 * 9 out, at 124 27.9: 63 1/8, 135 1/8, 82 (82.025), 154 (154.025); up the rake 41 and 127.1. */
static void frame_corners_read_at_their_own_heights(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_lean(&made, true);
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "corner        from the LEFT rake          up the LEFT rake\n");
    assert_says(sheet, "lower LEFT    5' 3-1/8\" (63-1/8)          3' 5\" (41)\n");
    assert_says(sheet, "lower RIGHT   11' 3-1/8\" (135-1/8)        3' 5\" (41)\n");
    assert_says(sheet, "upper LEFT    6' 10\" (82)                 10' 7-1/8\" (127-1/8)\n");
    assert_says(sheet, "upper RIGHT   12' 10\" (154)               10' 7-1/8\" (127-1/8)\n");
    free(sheet);
}

/* The RIGHT rake is straight: it shows the height itself. */
static void rakes_that_differ_have_a_reading_each(void **state) {
    (void)state;
    const char *const lines[] = {"tape   4' 7-7/8\" (55-7/8)         up the LEFT rake",
                                 "tape   4' 6-1/2\" (54-1/2)         up the RIGHT rake",
                                 "lower LEFT    5' 3-1/8\" (63-1/8)          3' 5\" (41)\n",
                                 "3' 4\" (40) up the RIGHT rake\n"};
    answer_make(&made, 1);
    answer_lean(&made, false);
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, lines, sizeof lines / sizeof lines[0]);
    assert_silent_on(sheet, "up BOTH rakes");
    free(sheet);
    made.answer.from = SIDE_FAR;
    sheet = answer_sheet(&made);
    assert_says(sheet,
                "lower LEFT    25' 5-7/8\" (305-7/8)        3' 4\" (40)\n"); /* 360 - 54 1/8 */
    assert_says(sheet, "3' 5\" (41) up the LEFT rake\n");
    assert_silent_on(sheet, "is not straight above that 0");
    assert_says(sheet, "the LEFT one. From");
    free(sheet);
}

static void burn_is_added_where_the_rake_leans_too(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_lean(&made, true);
    made.answer.burn = 1;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "[ ] A-bottom-1      6' 5-1/4\" (77-1/4)");
    assert_says(sheet, "tape   4' 7-7/8\" (55-7/8)");
    free(sheet);
}

/* 40 along and 41 up, 102.68 degrees. */
static void measured_corner_is_taped_again(void **state) {
    (void)state;
    const char *const check[] = {"Chalk a big 0",
                                 "Corner check (3-4-5) at the eave's LEFT end",
                                 "3' 4\" (40) along the eave, and  3' 5\" (41) up the LEFT",
                                 "it reads  5' 3-1/4\" (63-1/4).",
                                 "Off by more than 1/8\": STOP.",
                                 "102.7 degrees",
                                 "Tape test"};
    answer_make(&made, 1);
    answer_lean(&made, true);
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, check, sizeof check / sizeof check[0]);
    assert_silent_on(sheet, "SQUARE NOT CHECKED");
    assert_int_equal(count_of(sheet, "Corner check"), 1);
    free(sheet);
    made.roof.triangles[SIDE_FAR] = (struct triangle){96, 72, 120};
    made.roof.rake_rad[SIDE_FAR] = made.roof.rake_rad[SIDE_NEAR];
    sheet = answer_sheet(&made); /* at the far end the angle inside is 180 - 102.7 */
    assert_says(sheet, "Corner check (3-4-5) at the eave's RIGHT end");
    assert_says(sheet, "77.3 degrees");
    free(sheet);
}

static void what_was_checked_is_not_doubted(void **state) {
    (void)state;
    answer_make(&made, 1);
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "SQUARE NOT CHECKED");
    assert_says(sheet, "COURSES NOT CHECKED");
    assert_silent_on(sheet, "Corner check");
    free(sheet);
    made.roof.square_checked = made.roof.courses_checked = true;
    sheet = answer_sheet(&made);
    assert_silent_on(sheet, "NOT CHECKED");
    free(sheet);
    answer_make(&made, 1);
    answer_outline(&made);
    made.roof.square_checked = false; /* an outline speaks for itself */
    sheet = answer_sheet(&made);
    assert_silent_on(sheet, "SQUARE NOT CHECKED");
    free(sheet);
}

/* ---------------------------------------------------------------------------------- hips */

/* x = 5/12 y: at 54 1/2 the edge is 22.708 in, at 110 3/4 46.146: 64 reads 41.292 and 17.854; the
 * roof is 360 - 45.417 = 314.583 and 267.708 wide there.  The tape test at 16, at the eave. */
static void readings_on_a_hip_start_at_the_real_edge(void **state) {
    (void)state;
    const char *const order[] = {"from the LEFT edge, where that line really crosses",
                                 "Chalk a big 0 on the LEFT edge at the eave",
                                 "The LEFT edge is not straight above that 0",
                                 "It reads  1' 4\" (16)",
                                 "tape   4' 6-1/2\" (54-1/2)         straight up from the eave",
                                 "there the roof is 26' 2-9/16\" (314-9/16) wide from edge to edge",
                                 "tape   9' 2-3/4\" (110-3/4)        straight up from the eave",
                                 "there the roof is 22' 3-11/16\" (267-11/16) wide",
                                 "[ ] A-bottom-1      3' 5-5/16\" (41-5/16)",
                                 "[ ] A-top-1         1' 5-7/8\" (17-7/8)",
                                 "from the OTHER edge, the RIGHT one. From where"};
    answer_make(&made, 1);
    answer_outline(&made);
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, order, sizeof order / sizeof order[0]);
    assert_silent_on(sheet, "rake,");
    assert_silent_on(sheet, "BOTH rakes");
    free(sheet);
}

/* A rafter that only starts up in the hip is nothing to try a tape on at the eave. */
static void tape_test_takes_a_rafter_that_reaches_the_eave(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_outline(&made);
    made.edges[2].offset = 12.0 / 13 * 20; /* the eave starts at 20 */
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "Find the middle of rafter 3"); /* rafter 2 is doubled */
    free(sheet);
}

/* ------------------------------------------------------------------------------- timbers */

/* Rafter 3 gains 1/200 of its height: at 110 3/4 it lies 0.55375 further along.  The lag stays at
 * 64, 3/4 - 0.55375 = 0.19625 from the left face and 1.30375 from the right one. */
static void leaning_rafter_is_probed_at_the_line(void **state) {
    (void)state;
    answer_make(&made, 1);
    made.rafters[2].lean = 0.005;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "A-top-1         face   3/16\" LEFT, 1-5/16\" RIGHT");
    assert_says(sheet, "rafter 3 leans: probe at the line itself\n");
    assert_int_equal(count_of(sheet, "leans: probe"), 2); /* a lag of either line is in it */
    free(sheet);
}

/* The top line at 110 3/4: what is within 12 in is told, and no more. */
static void short_plies_and_keepouts_close_by_are_told(void **state) {
    (void)state;
    answer_make(&made, 1);
    size_t ply = made.rafters[2].first_ply;
    made.plies[ply].reach[0] = 100;
    made.plies[ply].reach[1] = 122;
    made.keepouts[0] = (struct keepout){2, 112, 116, "scarf joint"};
    made.roof.keepouts = made.keepouts;
    made.roof.keepout_count = 1;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "rafter 3: this ply begins, no lag below 8' 4\" (100)");
    assert_says(sheet, "rafter 3: this ply ends, no lag above 10' 2\" (122)");
    assert_says(sheet, "rafter 3: no lag from 9' 4\" (112) to 9' 8\" (116)");
    assert_says(sheet, "scarf joint");
    free(sheet);
    made.plies[ply].reach[0] = 40; /* bottom lag at 54 1/2, top lag at 110 3/4: far from both */
    made.plies[ply].reach[1] = 122.875;
    made.keepouts[0].y0 = 122.875;
    made.keepouts[0].y1 = 130;
    sheet = answer_sheet(&made);
    assert_silent_on(sheet, "this ply");
    assert_silent_on(sheet, "scarf");
    free(sheet);
}

static void wall_is_told_as_the_wall(void **state) {
    (void)state;
    answer_make(&made, 1);
    made.roof.has_wall_line = true;
    made.roof.wall_line = 42;
    for (size_t i = 0; i < ANSWER_PLIES; i++) {
        made.plies[i].reach[0] = 48;
    }
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "WALL: its plate's outer face is 3' 6\" (42) up the roof");
    assert_says(sheet, "rafter 3: the wall, no lag below 4' 0\" (48) up the roof");
    assert_silent_on(sheet, "this ply");
    free(sheet);
}

/* Rafter 2 is sistered on the RIGHT; the lag is in its LEFT ply at 40, faces at 39 1/4 and 40 3/4.
 * The sister ends below the line: the RIGHT face may be 3/4 off, not 2 1/4. */
static void sister_that_stops_short_leaves_the_plys_own_faces(void **state) {
    (void)state;
    answer_make(&made, 1);
    made.list[0].x = 40;
    made.seats[0].ply = 1;
    made.plies[2].reach[1] = 100;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "A-top-1         face    3/4\" LEFT,  2-1/4\" RIGHT");
    assert_says(sheet, "a ply beside it may end short of here: its own faces 3/4\"");
    free(sheet);
    made.plies[2].reach[1] = 111;
    sheet = answer_sheet(&made);
    assert_silent_on(sheet, "a ply beside it");
    free(sheet);
}

/* Of a doubled rafter only the RIGHT ply is sound: one target, and no bonded member. */
static void ply_beside_an_unsound_one_is_named_by_its_side(void **state) {
    (void)state;
    answer_make(&made, 1);
    made.list[0].x = 41.5;
    made.seats[0].ply = 2;
    made.rafters[1].ply_count = 1;
    made.rafters[1].first_ply = 2;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "rafter 2, RIGHT ply");
    assert_silent_on(sheet, "bonded");
    free(sheet);
    made.plies[2].half = 1.5;
    made.plies[2].at = 40.75;
    sheet = answer_sheet(&made);
    assert_says(sheet, "rafter 2, middle of the bonded");
    free(sheet);
}

/* Frame A covers 54 1/8 to 126 1/8, frame B 144 more: rafter 4 at 88 is under A alone, rafter 14 at
 * 328 under none. */
static void unsound_rafter_under_a_frame_asks_for_an_engineer(void **state) {
    (void)state;
    const char *const top[] = {
        "Fingerprint", "! Rafter 4 is not sound and lies under frame A: ask a licensed engineer",
        "STOP. "};
    answer_make(&made, 2);
    made.rafters[3].sound = false;
    made.rafters[13].sound = false;
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, top, sizeof top / sizeof top[0]);
    assert_int_equal(count_of(sheet, "is not sound"), 1);
    free(sheet);
    answer_make(&made, 1);
    made.rafters[5].sound = false; /* at 136: 127 1/4 ... once it leans back by 8 in at 124 */
    sheet = answer_sheet(&made);
    assert_silent_on(sheet, "is not sound");
    free(sheet);
    made.rafters[5].lean = -0.08; /* its near face at 135 1/4 - 9.92 = 125.33 */
    sheet = answer_sheet(&made);
    assert_says(sheet, "Rafter 6 is not sound and lies under frame A");
    free(sheet);
}

/* ---------------------------------------------------------------------- what is broken */

static void assert_line(double margin, const char *expected) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    made.findings[0] = (struct finding){RULE_WOOD,  0,          ROW_TOP,    0,     CHECK_NONE,
                                        CHECK_NONE, CHECK_NONE, CHECK_NONE, margin};
    made.verdict.count = 1;
    assert_int_equal(sheet_write_broken(&made.roof, &made.marks, &made.verdict, stream), 1);
    assert_int_equal(fclose(stream), 0);
    assert_string_equal(text, expected);
    assert_null(words_kept_off(text));
    free(text);
}

/* The lag at (64, 110 3/4) in rafter 3, whose middle is at 64.55375 there: to the RIGHT. */
static void lag_beside_a_leaning_rafter_is_sent_to_where_it_is(void **state) {
    (void)state;
    answer_make(&made, 1);
    made.plies[made.seats[0].ply].lean = 0.005;
    assert_line(-0.3975,
                "lag hole A-top-1: solid wood around the lag: needs 19/32\" of wood to the face of "
                "rafter 3; has 3/16\"; short by 13/32\"; move it 13/32\" RIGHT\n");
}

static void lag_beyond_its_ply_or_in_a_keepout_is_told_why(void **state) {
    (void)state;
    answer_make(&made, 1);
    struct ply *ply = &made.plies[made.seats[0].ply];
    ply->reach[1] = 108;
    assert_line(-2.75, "lag hole A-top-1: solid wood around the lag: needs at most 9' 0\" (108) up "
                       "the roof in that ply of rafter 3; has 9' 2-3/4\" (110-3/4); short by "
                       "2-3/4\"; move the line 2-3/4\" down\n");
    ply->reach[1] = ROOF_ENDLESS;
    ply->reach[0] = 112;
    assert_line(-1.25,
                "lag hole A-top-1: solid wood around the lag: needs at least 9' 4\" (112) up "
                "the roof in that ply of rafter 3; has 9' 2-3/4\" (110-3/4); short by "
                "1-1/4\"; move the line 1-1/4\" up\n");
    ply->reach[0] = -ROOF_ENDLESS;
    made.keepouts[0] = (struct keepout){2, 104, 112, "splice"};
    made.roof.keepouts = made.keepouts;
    made.roof.keepout_count = 1;
    assert_line(-1.25, "lag hole A-top-1: solid wood around the lag: needs no lag in rafter 3 from "
                       "8' 8\" (104) to 9' 4\" (112) up the roof: splice; has it at 9' 2-3/4\" "
                       "(110-3/4); short by 1-1/4\"; move the line 1-1/4\" up\n");
    made.keepouts[0].rafter = 1; /* of another rafter: its own faces are what breaks */
    made.list[0].x = 64.5;
    assert_line(-0.34375,
                "lag hole A-top-1: solid wood around the lag: needs 19/32\" of wood to the face of "
                "rafter 3; has 1/4\"; short by 11/32\"; move it 11/32\" LEFT\n");
}

/* ------------------------------------------------------------------------------- the tape */

/* 54 1/8 in = 1374.8 mm.  The tape's marks decide what a reading counts in. */
static void readings_are_in_what_the_tape_is_marked_in(void **state) {
    (void)state;
    const struct {
        double tape;
        enum measure measure;
        const char *reading;
    } cases[] = {{0.125, MEASURE_IN, "lower LEFT    4' 6-1/8\" (54-1/8) "},
                 {0.03125, MEASURE_IN, "lower LEFT    4' 6-1/8\" (54-1/8) "},
                 {1 / LENGTH_MM_PER_INCH, MEASURE_IN, "lower LEFT    1375 mm "},
                 {0.5 / LENGTH_MM_PER_INCH, MEASURE_IN, "lower LEFT    1375 mm "},
                 {1 / LENGTH_MM_PER_INCH, MEASURE_MM, "lower LEFT    1375 mm "},
                 {0.0625, MEASURE_MM, "lower LEFT    4' 6-1/8\" (54-1/8) "}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        answer_make(&made, 1);
        made.roof.tape = cases[i].tape;
        made.roof.measure = cases[i].measure;
        char *sheet = answer_sheet(&made);
        assert_says(sheet, cases[i].reading);
        free(sheet);
    }
}

/* What is bought is named as the file counts, whatever the tape shows. */
static void parts_keep_the_measure_of_the_file(void **state) {
    (void)state;
    answer_make(&made, 1);
    made.roof.tape = 1 / LENGTH_MM_PER_INCH;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "lags 5/16\" x 4\", with washers");
    assert_says(sheet, "Off by more than 3 mm: STOP");
    free(sheet);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(leaning_rake_has_readings_of_its_own_at_every_height),
        cmocka_unit_test(frame_corners_read_at_their_own_heights),
        cmocka_unit_test(rakes_that_differ_have_a_reading_each),
        cmocka_unit_test(burn_is_added_where_the_rake_leans_too),
        cmocka_unit_test(measured_corner_is_taped_again),
        cmocka_unit_test(what_was_checked_is_not_doubted),
        cmocka_unit_test(readings_on_a_hip_start_at_the_real_edge),
        cmocka_unit_test(tape_test_takes_a_rafter_that_reaches_the_eave),
        cmocka_unit_test(leaning_rafter_is_probed_at_the_line),
        cmocka_unit_test(short_plies_and_keepouts_close_by_are_told),
        cmocka_unit_test(wall_is_told_as_the_wall),
        cmocka_unit_test(sister_that_stops_short_leaves_the_plys_own_faces),
        cmocka_unit_test(ply_beside_an_unsound_one_is_named_by_its_side),
        cmocka_unit_test(unsound_rafter_under_a_frame_asks_for_an_engineer),
        cmocka_unit_test(lag_beside_a_leaning_rafter_is_sent_to_where_it_is),
        cmocka_unit_test(lag_beyond_its_ply_or_in_a_keepout_is_told_why),
        cmocka_unit_test(readings_are_in_what_the_tape_is_marked_in),
        cmocka_unit_test(parts_keep_the_measure_of_the_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
