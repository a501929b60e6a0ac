/* Pipe holes on a sheet: apart from the lag holes, between rafters, near their ports; and how their
 * broken rules are told. */
#include "../src/sheet/words.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One at a time: made afresh by each test. */
static struct sheet_answer made;

enum { HOT = 5, COLD = 6 }; /* marks: after the five lags of frame A */

static void pipe_holes_stand_apart_with_a_warning(void **state) {
    (void)state;
    const char *const order[] = {
        "LAG HOLES",
        "A-top-3",
        "PIPE HOLES, apart from the lag holes",
        "BETWEEN rafters: DO",
        "NOT HIT WOOD",
        "A-pipe-hot",
        "A-pipe-cold",
        "Close: tape every + and O again",
        "A-pipe-hot      23' 7\" (283)\n", /* 360 - 77 */
        "A-pipe-cold     21' 6\" (258)\n",
        "Probe BOTH faces",
        "Drill to the flag",
        "Probe each O for wood",
        "1-7/16\" LEFT and RIGHT of it: no wood", /* 11/16 + 3/4 */
        "Bore the pipe holes, through shingles and sheathing ONLY",
        "A-pipe-hot      bore 1-3/8\"    clear / WOOD   [ ] seal  [ ] flash",
        "Bolt on feet"};
    answer_make(&made, 1);
    answer_add_pipes(&made);
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, order, sizeof order / sizeof order[0]);
    assert_says(sheet, "every hole may be off by that much");
    free(sheet);
}

static void roof_without_pipes_has_none_of_it(void **state) {
    (void)state;
    answer_make(&made, 1);
    char *sheet = answer_sheet(&made);
    assert_silent_on(sheet, "pipe hole");
    assert_silent_on(sheet, "PIPE");
    assert_silent_on(sheet, "Bore");
    free(sheet);
}

/* Hot at 77: 12 1/4 from the face of rafter 3 at 64 3/4, 10 1/4 from that of rafter 4 at 87 1/4;
 * its port is at 54 1/8 + 18 5/8 = 72 3/4 and 40 + 45 1/8 = 85 1/8; its butt edge at 79 1/8. */
static void pipe_hole_has_its_reading_its_rafters_and_its_port(void **state) {
    (void)state;
    const char *const hot[] = {"A-pipe-hot      6' 5\" (77)                  6' 11-1/8\" (83-1/8)",
                               "between rafter 3 (its face 1' 0-1/4\" (12-1/4) LEFT)",
                               "and rafter 4 (its face 10-1/4\" RIGHT)",
                               "4-1/4\" RIGHT of its port, 2\" below it",
                               "4\" above the 14th butt edge;",
                               "its flashing's lower edge 1/2\" above it",
                               "bore 1-3/8\"; no wood within 3/4\" of its edge",
                               "room to miss 1-3/4\" (pipe hole to its port)",
                               "3/8\" LEFT of its port"};
    answer_make(&made, 1);
    answer_add_pipes(&made);
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, hot, sizeof hot / sizeof hot[0]);
    free(sheet);
}

/* The same roof with its corner on the right: everything is on the other side. */
static void right_corner_turns_pipe_holes_too(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.roof.corner = CORNER_RIGHT;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "4-1/4\" LEFT of its port, 2\" below it");
    assert_says(sheet, "between rafter 3 (its face 1' 0-1/4\" (12-1/4) RIGHT)");
    assert_says(sheet, "and rafter 4 (its face 10-1/4\" LEFT)");
    assert_says(sheet, "port of pipe hot: 4' 5-3/8\" (53-3/8) from its LEFT side, ");
    free(sheet);
}

static void hole_beyond_the_last_rafter_is_bounded_by_the_rake(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[HOT].x = 10;
    made.list[COLD].x = 340;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "between the LEFT rake");
    assert_says(sheet, "and rafter 1 (its face 5-1/4\" RIGHT)");      /* 15 1/4 - 10 */
    assert_says(sheet, "between rafter 14 (its face 11-1/4\" LEFT)"); /* 340 - 328 3/4 */
    assert_says(sheet, "and the RIGHT rake");
    free(sheet);
}

/* Two pipes of one kind: 2 + 1 spare; the lags' own count stays as it was.  7 holes: 1 + 1 tubes.
 */
static void carry_list_has_the_pipe_flashings(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    char *sheet = answer_sheet(&made);
    assert_says(sheet,
                "  3  pipe flashings 9\" x 1' 0\" (12), for a bore of 1-3/8\"  (2 + 1 spare)");
    assert_says(sheet, "  1  hole saw for the pipe holes, 1-3/8\"");
    assert_says(sheet, "  7  lags 5/16\" x 4\", with washers  (5 + 2 spare)");
    free(sheet);
    made.pipes[1].bore = 2;
    sheet = answer_sheet(&made);
    assert_says(sheet,
                "  2  pipe flashings 9\" x 1' 0\" (12), for a bore of 1-3/8\"  (1 + 1 spare)");
    assert_says(sheet, "  2  pipe flashings 9\" x 1' 0\" (12), for a bore of 2\"  (1 + 1 spare)");
    assert_says(sheet, "hole saw for the pipe holes, 2\"");
    free(sheet);
}

/* ---- What is broken ------------------------------------------------------------------------- */

static struct finding at_hole(enum rule rule, int mark, double margin) {
    return (struct finding){rule,       0,          ROW_PIPE,   mark,  CHECK_NONE,
                            CHECK_NONE, CHECK_NONE, CHECK_NONE, margin};
}

/* Prints the one finding and compares the line. */
static void assert_line(struct finding finding, const char *expected) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    made.findings[0] = finding;
    made.verdict.count = 1;
    assert_int_equal(sheet_write_broken(&made.roof, &made.marks, &made.verdict, stream), 1);
    assert_int_equal(fclose(stream), 0);
    assert_string_equal(text, expected);
    assert_null(words_kept_off(text));
    free(text);
}

/* 11/16 of bore, 3/4 beside it and 1/8 of tolerance: 1 9/16.  At 86 the face of rafter 4 at 87 1/4
 * is 1 1/4 off; at 87 1/2 the middle is 1/4 inside it. */
static void rafter_in_the_way_of_a_pipe_is_named(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[HOT].x = 86;
    assert_line(
        at_hole(RULE_PIPE_BAY, HOT, -0.3125),
        "pipe hole A-pipe-hot: pipe hole between rafters: needs 1-9/16\" from its middle to "
        "the face of rafter 4; has rafter 4 in the way, 1-1/4\" from its middle; short by "
        "5/16\"; move it 5/16\" LEFT\n");
    made.list[HOT].x = 87.5;
    assert_line(
        at_hole(RULE_PIPE_BAY, HOT, -1.8125),
        "pipe hole A-pipe-hot: pipe hole between rafters: needs 1-9/16\" from its middle to "
        "the face of rafter 4; has rafter 4 in the way, its middle is 1/4\" inside it; "
        "short by 1-13/16\"; move it 1-13/16\" LEFT\n");
    made.list[HOT].x = 90;
    assert_line(
        at_hole(RULE_PIPE_BAY, HOT, -0.3125),
        "pipe hole A-pipe-hot: pipe hole between rafters: needs 1-9/16\" from its middle to "
        "the face of rafter 4; has rafter 4 in the way, 1-1/4\" from its middle; short by "
        "5/16\"; move it 5/16\" RIGHT\n");
}

/* Rafter 4 leans by 1/16 in 1: at 83 1/8 its faces are 5.195 further along. */
static void leaning_rafter_is_in_the_way_where_the_hole_is(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.rafters[3].lean = 0.0625;
    made.list[HOT].x = 92;
    assert_line(
        at_hole(RULE_PIPE_BAY, HOT, -1.117),
        "pipe hole A-pipe-hot: pipe hole between rafters: needs 1-9/16\" from its middle to "
        "the face of rafter 4; has rafter 4 in the way, 7/16\" from its middle; short by "
        "1-1/8\"; move it 1-1/8\" LEFT\n");
}

/* Rafters 4 and 5 brought to 88 and 92: 2 1/2 between their faces, less 1/8 each; 2 7/8 needed. */
static void bay_too_narrow_for_a_pipe_is_not_a_move(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.rafters[4].from = 91.25;
    made.rafters[4].to = 92.75;
    made.list[HOT].x = 89.75;
    assert_line(
        at_hole(RULE_PIPE_BAY, HOT, -0.5625),
        "pipe hole A-pipe-hot: pipe hole between rafters: needs 1-9/16\" from its middle to "
        "the face of rafter 4; has rafter 4 in the way, 1\" from its middle; short by "
        "9/16\"; the bay on that side is too narrow for it: take another\n");
}

/* The top strut lies 7/8 to either side of 110 3/4; a foot takes 1 1/2 by 1 in around its lag at
 * (64, 54 1/2).  The bore is 11/16 to either side. */
static void pipe_hole_too_near_a_strut_or_a_foot(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[HOT].y = 108.5;
    struct finding finding = at_hole(RULE_PIPE_BAY, HOT, -0.0625); /* 109 7/8 - 109 3/16 = 11/16 */
    finding.other_bracket = 0;
    finding.other_row = ROW_TOP;
    assert_line(finding,
                "pipe hole A-pipe-hot and frame A, top line: pipe hole between rafters: "
                "needs a gap of 3/4\"; has 11/16\"; short by 1/16\"; move the first 1/16\" "
                "down\n");
    made.list[HOT].x = 66.5; /* 65 13/16 - 65 1/2 = 5/16 */
    made.list[HOT].y = 54.5;
    finding = at_hole(RULE_PIPE_BAY, HOT, -0.4375);
    finding.other_bracket = 0;
    finding.other_mark = 3;
    assert_line(finding, "pipe hole A-pipe-hot and lag hole A-bottom-1: pipe hole between rafters: "
                         "needs a gap of 3/4\"; has 5/16\"; short by 7/16\"; move the first 7/16\" "
                         "RIGHT\n");
}

/* The port at 72 3/4; a hole at 79 1/2 is 6 3/4 off.  Where it would reach, at 78 3/4, no rafter is
 * near.  With the hole at 85 1/4, rafter 3 brought to 77 1/4 ... 78 3/4 is hit there: the middle is
 * at its face, and 11/16 + 3/4 + 1/8 are missing. */
static void pipe_hole_out_of_reach_says_what_keeps_it_off(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[HOT].x = 79.5;
    assert_line(at_hole(RULE_PIPE_REACH, HOT, -0.75),
                "pipe hole A-pipe-hot: pipe hole to its port: needs at most 6\" from its port, "
                "along and up; has 6-3/4\" RIGHT of it; short by 3/4\"; move it 3/4\" LEFT\n");
    made.rafters[2].from = 77.25;
    made.rafters[2].to = 78.75;
    assert_line(at_hole(RULE_PIPE_REACH, HOT, -0.75),
                "pipe hole A-pipe-hot: pipe hole to its port: needs at most 6\" from its port, "
                "along and up; has 6-3/4\" RIGHT of it (where it would reach, rafter 3 is in the "
                "way by 1-9/16\"); short by 3/4\"; move it 3/4\" LEFT\n");
    made.list[HOT].x = 77;
    made.list[HOT].y = 78; /* its port is at 85 1/8 */
    assert_line(at_hole(RULE_PIPE_REACH, HOT, -1.125),
                "pipe hole A-pipe-hot: pipe hole to its port: needs at most 6\" from its port, "
                "along and up; has 7-1/8\" downhill of it; short by 1-1/8\"; move it 1-1/8\" up\n");
}

/* The pipe's own flashing: hub 3 1/2 up, on the 14th butt edge at 79 1/8, tolerance 1/8. */
static void pipe_hole_is_held_by_its_own_flashing(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[HOT].y = 82.5; /* lower edge at 79 */
    assert_line(at_hole(RULE_COURSE_EDGE, HOT, -0.25),
                "pipe hole A-pipe-hot: flashing's lower edge: needs 1/8\" to 7/8\" above the 14th "
                "butt edge; has 1/8\" below it; short by 1/4\"; move it 1/4\" up\n");
    made.pipes[0].flashing.width = 20; /* to 87; the lag at 88 has its own from 83 1/2 */
    made.list[HOT].y = 110.75;
    struct finding finding = at_hole(RULE_APART, HOT, -1.75);
    finding.other_bracket = 0;
    finding.other_row = ROW_TOP;
    finding.other_mark = 1;
    assert_line(finding,
                "pipe hole A-pipe-hot and lag hole A-top-2: gap between neighbours: needs a "
                "gap of 0\"; has an overlap of 3-1/2\"; short by 3-1/2\"; move the first "
                "3-1/2\" LEFT\n");
}

/* Cold has no hole; hot has two. */
static void pipe_without_its_hole_is_named(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    made.list[COLD].pipe = 0;
    assert_line(at_hole(RULE_COMPLETE, CHECK_NONE, -1),
                "pipe hole A-pipe-cold: count of holes: needs one hole; has 0\n");
    assert_line(at_hole(RULE_COMPLETE, HOT, -1),
                "pipe hole A-pipe-hot: count of holes: needs one hole; has 2\n");
}

static void closest_fit_lists_pipe_holes_too(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    answer_break(&made);
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "  frame A, pipe holes\n");
    assert_says(sheet, "  X   A-pipe-hot      6' 5\" (77)                  6' 11-1/8\" (83-1/8)");
    assert_silent_on(sheet, "Bore");
    free(sheet);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pipe_holes_stand_apart_with_a_warning),
        cmocka_unit_test(roof_without_pipes_has_none_of_it),
        cmocka_unit_test(pipe_hole_has_its_reading_its_rafters_and_its_port),
        cmocka_unit_test(right_corner_turns_pipe_holes_too),
        cmocka_unit_test(hole_beyond_the_last_rafter_is_bounded_by_the_rake),
        cmocka_unit_test(carry_list_has_the_pipe_flashings),
        cmocka_unit_test(rafter_in_the_way_of_a_pipe_is_named),
        cmocka_unit_test(leaning_rafter_is_in_the_way_where_the_hole_is),
        cmocka_unit_test(bay_too_narrow_for_a_pipe_is_not_a_move),
        cmocka_unit_test(pipe_hole_too_near_a_strut_or_a_foot),
        cmocka_unit_test(pipe_hole_out_of_reach_says_what_keeps_it_off),
        cmocka_unit_test(pipe_hole_is_held_by_its_own_flashing),
        cmocka_unit_test(pipe_without_its_hole_is_named),
        cmocka_unit_test(closest_fit_lists_pipe_holes_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
