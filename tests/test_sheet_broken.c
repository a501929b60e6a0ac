/* One line a broken rule: where, needed, found, by how much, which way to move. */
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

static struct sheet_answer made;

/* What sheet_write_broken says; the caller frees it. */
static char *lines_of(size_t expected) {
    char *text = NULL;
    size_t size = 0;
    FILE *stream = open_memstream(&text, &size);
    assert_non_null(stream);
    size_t broken = sheet_write_broken(&made.roof, &made.marks, &made.verdict, stream);
    assert_int_equal(fclose(stream), 0);
    assert_int_equal(broken, expected);
    return text;
}

/* Frame A top (row 0): marks 0 to 2; bottom (row 1): marks 3 and 4. */
static struct finding at_mark(enum rule rule, int mark, double margin) {
    return (struct finding){rule,       0,          mark < 3 ? ROW_TOP : ROW_BOTTOM,
                            mark,       CHECK_NONE, CHECK_NONE,
                            CHECK_NONE, CHECK_NONE, margin};
}

static struct finding at_row(enum rule rule, enum row row, double margin) {
    return (struct finding){rule,       0,          row,        CHECK_NONE, CHECK_NONE,
                            CHECK_NONE, CHECK_NONE, CHECK_NONE, margin};
}

static struct finding at_frame(enum rule rule, double margin) {
    return (struct finding){rule,       0,          CHECK_NONE, CHECK_NONE, CHECK_NONE,
                            CHECK_NONE, CHECK_NONE, CHECK_NONE, margin};
}

/* Prints the one finding and compares the line. */
static void assert_line(struct finding finding, const char *expected) {
    made.findings[0] = finding;
    made.verdict.count = 1;
    char *text = lines_of(1);
    assert_string_equal(text, expected);
    assert_null(words_kept_off(text));
    free(text);
}

static void rules_that_hold_say_nothing(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.findings[0].margin = 0;
    made.findings[1].margin = -0.9e-6; /* the tolerance is 1e-6 in */
    char *text = lines_of(0);
    assert_string_equal(text, "");
    free(text);
}

static void each_broken_rule_has_one_line(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.findings[0].margin = -0.1;
    made.findings[2].margin = -0.1;
    char *text = lines_of(2);
    size_t lines = 0;
    for (const char *at = text; *at != '\0'; at++)
        lines += *at == '\n';
    assert_int_equal(lines, 2);
    assert_int_equal(text[strlen(text) - 1], '\n');
    free(text);
}

/* The first lag at 64 1/2 in a ply at 64: 1/4 to its face, 15/32 + 1/8 needed. */
static void lag_beside_its_wood_is_sent_back_to_the_middle(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.list[0].x = 64.5;
    assert_line(at_mark(RULE_WOOD, 0, -0.34375),
                "lag hole A-top-1: solid wood around the lag: needs 19/32\" of wood to the face of "
                "rafter 3; has 1/4\"; short by 11/32\"; move it 11/32\" LEFT\n");
    made.roof.corner = CORNER_RIGHT;
    assert_line(at_mark(RULE_WOOD, 0, -0.34375),
                "lag hole A-top-1: solid wood around the lag: needs 19/32\" of wood to the face of "
                "rafter 3; has 1/4\"; short by 11/32\"; move it 11/32\" RIGHT\n");
    made.roof.corner = CORNER_LEFT;
    made.list[0].x = 65.75;
    assert_line(at_mark(RULE_WOOD, 0, -1.59375),
                "lag hole A-top-1: solid wood around the lag: needs 19/32\" of wood to the face of "
                "rafter 3; has none, it is 1\" outside; short by 1-19/32\"; move it 1-19/32\" "
                "LEFT\n");
}

/* With a tolerance of 1/2 the middle itself (3/4) falls short of 15/32 + 1/2. */
static void ply_with_no_place_for_a_lag_is_not_a_move(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.plies[made.seats[0].ply].tolerance = 0.5;
    assert_line(at_mark(RULE_WOOD, 0, -0.21875),
                "lag hole A-top-1: solid wood around the lag: needs 31/32\" of wood to the face of "
                "rafter 3; has 3/4\"; short by 7/32\"; even the middle of that ply is not enough: "
                "take another, or find it closer\n");
    made.seats[0].ply = SIZE_MAX;
    assert_line(at_mark(RULE_WOOD, 0, -60),
                "lag hole A-top-1: solid wood around the lag: needs a sound rafter; has none on "
                "this roof\n");
}

/* The lower edge may sit 1/8 to 7/8 above the 19th butt edge at 107 1/4; a line at 110 puts it at
 * 106 3/4, one at 112 at 108 3/4. */
static void flashing_off_its_butt_edge_is_told_from_there(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.list[0].y = 110;
    assert_line(at_mark(RULE_COURSE_EDGE, 0, -0.625),
                "lag hole A-top-1: flashing's lower edge: needs 1/8\" to 7/8\" above the 19th butt "
                "edge; has 1/2\" below it; short by 5/8\"; move the line 5/8\" up\n");
    made.list[0].y = 112;
    assert_line(at_mark(RULE_COURSE_EDGE, 0, -0.625),
                "lag hole A-top-1: flashing's lower edge: needs 1/8\" to 7/8\" above the 19th butt "
                "edge; has 1-1/2\" above it; short by 5/8\"; move the line 5/8\" down\n");
    assert_line(at_mark(RULE_COURSE_BLOCK, 0, -0.25),
                "lag hole A-top-1: hub below the next butt edge: needs 3/8\" between hub and 20th "
                "butt edge; has 1/8\"; short by 1/4\"; move the line 1/4\" down\n");
    assert_line(
        at_mark(RULE_LAP, 0, -0.25),
        "lag hole A-top-1: flashing's top lap: needs its top 5/8\" past the 21st butt edge; "
        "has 3/8\"; short by 1/4\"; move the line 1/4\" up\n");
    made.rows[0][ROW_TOP].course = 0;
    assert_line(
        at_mark(RULE_LAP, 0, -0.25),
        "lag hole A-top-1: flashing's top lap: needs butt edges to lie under; has none that "
        "can take a flashing\n");
}

/* s = +1: the lag is too far along, so back LEFT. */
static void foot_that_does_not_reach_is_sent_towards_its_leg(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.seats[3].slip = 1;
    assert_line(at_mark(RULE_FOOT_REACH, 3, -0.25),
                "lag hole A-bottom-1: foot's reach to its leg: needs at most 3/4\" of slot; has to "
                "slide 1\"; short by 1/4\"; move it 1/4\" LEFT\n");
}

/* 54 1/2 is 14 1/2 up frame A; with the frame at 32 it is 22 1/2, past the window of 4 to 20. */
static void line_off_the_legs_is_told_from_their_end(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.standings[0].y = 32;
    assert_line(at_row(RULE_ROW, ROW_BOTTOM, -2.5),
                "frame A, bottom line: where the line meets the legs: needs 4\" to 1' 8\" (20) up "
                "the legs; has 1' 10-1/2\" (22-1/2); short by 2-1/2\"; move the line 2-1/2\" "
                "down\n");
    made.list[3].y = 33; /* one hole of the line is too low as well, and worse */
    assert_line(at_row(RULE_ROW, ROW_BOTTOM, -3),
                "frame A, bottom line: where the line meets the legs: needs 4\" to 1' 8\" (20) up "
                "the legs; has 1\"; short by 3\"; move the line 3\" up\n");
    made.list[3].y = 54.5;
    made.standings[0].y = 50.5; /* 4 up, 5 needed: 1 + 1/2 + 1 1/2 + 2 */
    assert_line(at_row(RULE_CLEARANCE, ROW_BOTTOM, -1),
                "frame A, bottom line: room at the bottom fitting: needs the line 5\" up the legs; "
                "has 4\"; short by 1\"; move the line 1\" up\n");
}

/* Frame A from 4 in: 12 asked for at the LEFT rake (x 0).  At 10 in up, 12 at the eave. */
static void frame_over_a_setback_names_the_edge(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.standings[0].x = 4;
    assert_line(at_frame(RULE_SETBACK, -8),
                "frame A: distance to the roof's edge: needs 1' 0\" (12) to the LEFT rake; has "
                "4\"; short by 8\"; move it 8\" RIGHT\n");
    made.standings[0].x = 60;
    made.standings[0].y = 10;
    assert_line(at_frame(RULE_SETBACK, -2),
                "frame A: distance to the roof's edge: needs 1' 0\" (12) to the eave; has 10\"; "
                "short by 2\"; move it 2\" up\n");
    made.list[0].x = 3; /* its flashing, 9 wide, hangs 1 1/2 over the rake */
    assert_line(at_mark(RULE_SETBACK, 0, -1.5),
                "lag hole A-top-1: distance to the roof's edge: needs 0\" to the LEFT rake; has "
                "1-1/2\" over it; short by 1-1/2\"; move it 1-1/2\" RIGHT\n");
}

/* The stack is at 194 to 206 by 113 to 127; a lag at 188 has its flashing to 192 1/2, 1 1/2 away.
 */
static void flashing_at_a_vent_is_sent_away_from_it(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.list[2].x = 188;
    struct finding finding = at_mark(RULE_VENT_FLASHING, 2, -1.5);
    finding.vent = 0;
    assert_line(finding, "lag hole A-top-3 and vent soil stack: flashing to vent: needs a gap of "
                         "3\"; has 1-1/2\"; short by 1-1/2\"; move the first 1-1/2\" LEFT\n");
    made.standings[0].x = 120; /* to 192 */
    finding = at_frame(RULE_VENT_BRACKET, -4);
    finding.vent = 0;
    assert_line(finding, "frame A and vent soil stack: frame to vent: needs a gap of 6\"; has 2\"; "
                         "short by 4\"; move the first 4\" LEFT\n");
    made.rows[0][ROW_TOP].from = 100;
    made.rows[0][ROW_TOP].to = 196; /* 2 into the stack along x, 1 3/8 clear of it up the roof */
    finding = at_row(RULE_STRUT_CLEAR, ROW_TOP, -1.625);
    finding.vent = 0;
    assert_line(finding, "frame A, top line and vent soil stack: room around the strut: needs a "
                         "gap of 3\"; has 1-3/8\"; short by 1-5/8\"; move the first 1-5/8\" "
                         "down\n");
}

/* Frames at 54 1/8 and 130 1/8: 4 between them where 12 are asked for; the margin is half. */
static void pair_too_close_is_told_whole(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.standings[1].x = 130.125;
    struct finding finding = at_frame(RULE_APART, -4);
    finding.other_bracket = 1;
    assert_line(finding, "frame A and frame B: gap between neighbours: needs a gap of 1' 0\" (12); "
                         "has 4\"; short by 8\"; move the first 8\" LEFT\n");
    made.list[1].x = 70; /* flashings at 64 and 70, 9 wide: 3 in over one another */
    finding = at_mark(RULE_APART, 0, -1.5);
    finding.other_bracket = 0;
    finding.other_row = ROW_TOP;
    finding.other_mark = 1;
    assert_line(finding, "lag hole A-top-1 and lag hole A-top-2: gap between neighbours: needs a "
                         "gap of 0\"; has an overlap of 3\"; short by 3\"; move the first 3\" "
                         "LEFT\n");
    made.rows[0][ROW_TOP].to = 206;
    finding = at_row(RULE_STRUT_CLEAR, ROW_TOP, -75.875);
    finding.other_bracket = 1;
    finding.other_row = CHECK_NONE;
    char *text = NULL;
    made.findings[0] = finding;
    text = lines_of(1);
    assert_non_null(strstr(text, "frame A, top line and frame B: room around the strut"));
    free(text);
}

static void hard_rules_say_what_they_ask(void **state) {
    (void)state;
    answer_make(&made, 2);
    assert_line(
        at_row(RULE_STRUT_CLAMP, ROW_TOP, -0.5),
        "frame A, top line: clamp's place on the strut: needs each clamp 1-1/2\" from every "
        "lag, at most 6\" past the end lags; has a clamp that is not; short by 1/2\"\n");
    assert_line(at_row(RULE_STRUT_SPAN, ROW_TOP, -24),
                "frame A, top line: lags along the strut: needs one lag in every sound rafter it "
                "crosses; has a rafter skipped, or two lags in one\n");
    made.list[1].x = 126; /* 64, 112, 126 */
    made.kits[0].span = 40;
    assert_line(at_row(RULE_STRUT_SPAN, ROW_TOP, -8),
                "frame A, top line: lags along the strut: needs lags at most 3' 4\" (40) from one "
                "to the next; has 4' 0\" (48); short by 8\"\n");
    assert_line(at_row(RULE_STRUT_STOCK, ROW_TOP, -2),
                "frame A, top line: length of the strut: needs at most 20' 0\" (240), the longest "
                "bar; has 20' 2\" (242); short by 2\"\n");
    assert_line(at_row(RULE_ROW_LINE, ROW_TOP, -0.5),
                "frame A, top line: lags on one line: needs one height for all its lag holes; has "
                "heights 1/2\" apart\n");
    made.rows[0][ROW_TOP].count = 1;
    assert_line(at_row(RULE_COMPLETE, ROW_TOP, -1),
                "frame A, top line: count of holes: needs at least 2 lags; has 1\n");
    made.rows[0][ROW_BOTTOM].count = 3;
    assert_line(at_row(RULE_COMPLETE, ROW_BOTTOM, -1),
                "frame A, bottom line: count of holes: needs 2 feet, one to a leg; has 3\n");
}

static void shortage_is_never_rounded_down(void **state) {
    (void)state;
    answer_make(&made, 2);
    made.list[0].x = 64.5;
    made.findings[0] = at_mark(RULE_WOOD, 0, -0.01);
    made.verdict.count = 1;
    char *text = lines_of(1);
    assert_non_null(strstr(text, "short by 1/32\"; move it 1/32\" LEFT"));
    free(text);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rules_that_hold_say_nothing),
        cmocka_unit_test(each_broken_rule_has_one_line),
        cmocka_unit_test(lag_beside_its_wood_is_sent_back_to_the_middle),
        cmocka_unit_test(ply_with_no_place_for_a_lag_is_not_a_move),
        cmocka_unit_test(flashing_off_its_butt_edge_is_told_from_there),
        cmocka_unit_test(foot_that_does_not_reach_is_sent_towards_its_leg),
        cmocka_unit_test(line_off_the_legs_is_told_from_their_end),
        cmocka_unit_test(frame_over_a_setback_names_the_edge),
        cmocka_unit_test(flashing_at_a_vent_is_sent_away_from_it),
        cmocka_unit_test(pair_too_close_is_told_whole),
        cmocka_unit_test(hard_rules_say_what_they_ask),
        cmocka_unit_test(shortage_is_never_rounded_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
