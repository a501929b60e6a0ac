/* Every kind of chalk sheet: plain, inside its page, in the words of the trade; and those that
 * nobody may drill by. */
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

/* ------------------------------------------------------------------- every kind of sheet */

static void lose_marks(enum status status, enum layout_state state) {
    made.answer.status = status;
    made.answer.marks = NULL;
    made.answer.verdict = NULL;
    made.layout.state = state;
    made.layout.marks = NULL;
    made.layout.reason_count = 1;
    snprintf(made.reasons[0].text, sizeof made.reasons[0].text,
             "bracket A, bottom: no course 9 within reach of the near marks");
}

static void make_mm(void) {
    made.roof.measure = MEASURE_MM;
    made.roof.tape = 1 / LENGTH_MM_PER_INCH;
}

static void make_long_names(void) {
    memset(made.roof.name, 'W', ROOF_NAME_MOST);
    memset(made.brackets[0].name, 'F', ROOF_NAME_MOST);
    memset(made.kits[0].name, 'K', ROOF_NAME_MOST);
    memset(made.roof.zero, 'Z', sizeof made.roof.zero - 1);
    memset(made.vents[0].name, 'V', ROOF_NAME_MOST);
    snprintf(made.brackets[1].name, sizeof made.brackets[1].name,
             "S\xC3\xBC"
             "d\tseite \xE2\x82\xAC");
}

/* Unsound, leaning, short and notched. */
static void make_timbers_odd(void) {
    made.rafters[3].sound = false;
    made.rafters[2].lean = 0.005;
    made.plies[made.rafters[2].first_ply].reach[0] = 50;
    made.plies[made.rafters[2].first_ply].reach[1] = 112;
    made.keepouts[0] = (struct keepout){2, 115, 120, ""};
    memset(made.keepouts[0].why, 'K', ROOF_NAME_MOST);
    made.roof.keepouts = made.keepouts;
    made.roof.keepout_count = 1;
    made.roof.has_wall_line = true;
    made.roof.wall_line = 40;
}

enum { KINDS = 19 };

/* Each kind in turn; true while there is one. */
static bool make_kind(int kind) {
    answer_make(&made, kind % 2 == 0 ? 2 : 1);
    switch (kind) {
    case 1:
        made.roof.corner = CORNER_RIGHT;
        break;
    case 2:
        make_mm();
        break;
    case 3:
        made.answer.burn = 1;
        made.answer.from = SIDE_FAR;
        break;
    case 4:
        answer_break(&made);
        break;
    case 5:
        lose_marks(STATUS_UNDECIDED, LAYOUT_UNDECIDED);
        break;
    case 6:
        lose_marks(STATUS_BLOCKED, LAYOUT_IMPOSSIBLE);
        break;
    case 7:
        made.layout.state = LAYOUT_FEASIBLE;
        made.layout.bound_cost = 50;
        made.answer.tight = true;
        break;
    case 8:
        make_long_names();
        break;
    case 9:
        answer_break(&made);
        made.answer.tape_broke = true;
        break;
    case 10:
        make_long_names();
        answer_break(&made);
        break;
    case 11:
        made.roof.zero[0] = '\0';
        made.kits[0].has_weight = false;
        made.roof.found = FOUND_SOUNDED;
        break;
    case 12: /* every rafter is far out: the widest readings a roof can have */
        for (size_t i = 0; i < made.marks.count; i++) {
            made.list[i].x += 119999.9375 - 400;
        }
        break;
    case 13:
        answer_break(&made);
        make_mm();
        made.roof.corner = CORNER_RIGHT;
        break;
    case 15:
        answer_add_pipes(&made);
        answer_lean(&made, false);
        made.answer.from = SIDE_FAR;
        break;
    case 16:
        answer_outline(&made);
        make_timbers_odd();
        break;
    case 17:
        answer_add_pipes(&made);
        make_long_names();
        memset(made.pipes[0].name, 'P', ROOF_NAME_MOST);
        answer_break(&made);
        break;
    case 18:
        answer_lean(&made, true);
        make_mm();
        break;
    default:
        break;
    }
    return kind < KINDS;
}

static void no_line_is_wider_than_the_page_and_all_is_plain(void **state) {
    (void)state;
    for (int kind = 0; make_kind(kind); kind++) {
        char *sheet = answer_sheet(&made);
        size_t column = 0;
        for (const char *at = sheet; *at != '\0'; at++) {
            column = *at == '\n' ? 0 : column + 1;
            assert_true(column <= 80);
            assert_true(*at == '\n' || (*at >= 0x20 && *at < 0x7F));
            assert_false(at[0] == ' ' && at[1] == '\n');
        }
        assert_true(sheet[strlen(sheet) - 1] == '\n');
        free(sheet);
    }
}

static void no_word_of_the_files_is_on_any_sheet(void **state) {
    (void)state;
    for (int kind = 0; make_kind(kind); kind++) {
        char *sheet = answer_sheet(&made);
        const char *word = words_kept_off(sheet);
        if (word != NULL) {
            fail_msg("kind %d: %.60s", kind, word);
        }
        free(sheet);
    }
}

/* A box to tick opens its line, or the inside of the STOP box. */
static void boxes_open_their_lines(void **state) {
    (void)state;
    for (int kind = 0; make_kind(kind); kind++) {
        char *sheet = answer_sheet(&made);
        for (char *line = strtok(sheet, "\n"); line != NULL; line = strtok(NULL, "\n")) {
            const char *box = strstr(line, "[ ]");
            bool many = count_of(line, "[ ]") > 1; /* the line of one lag hole */
            if (box != NULL && !many) {
                assert_int_equal(strspn(line, " |"), box - line);
            }
        }
        free(sheet);
    }
}

static void fingerprint_is_on_every_part(void **state) {
    (void)state;
    answer_make(&made, 1);
    char *sheet = answer_sheet(&made);
    assert_int_equal(count_of(sheet, "1a2b3c4d\n"), 5);
    free(sheet);
}

/* ------------------------------------------------------------------ sheets not to drill by */

static void assert_nothing_to_drill_by(const char *sheet) {
    assert_silent_on(sheet, "WORKS");
    assert_silent_on(sheet, "ON THE GROUND");
    assert_silent_on(sheet, "ON THE ROOF");
    assert_silent_on(sheet, "Drill");
    assert_silent_on(sheet, "drill ");
    assert_silent_on(sheet, "SNAP");
    assert_silent_on(sheet, "pilot bit");
    assert_says(sheet, "STOP. ");
    assert_says(sheet, "END OF SHEET");
}

static void closest_fit_says_what_stands_in_the_way_and_is_not_to_be_drilled(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_break(&made);
    char *sheet = answer_sheet(&made);
    assert_nothing_to_drill_by(sheet);
    assert_says(sheet, "CLOSEST FIT (does NOT work).   DO NOT DRILL.");
    assert_says(sheet, "no layout keeps every rule");
    assert_says(sheet, "1. lag hole A-top-1: solid wood around the lag");
    assert_says(sheet, "short by 11/32\"");
    assert_silent_on(sheet, "   2. ");
    assert_true(count_of(sheet, "DO NOT DRILL") > 4);
    assert_says(sheet, "  X   A-top-1         5' 4\" (64)                  9' 2-3/4\" (110-3/4)");
    free(sheet);
}

/* A limit ended the search: that no layout works is then known only from the bound. */
static void closest_fit_without_a_proof_claims_none(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_break(&made);
    made.layout.state = LAYOUT_FEASIBLE;
    char *sheet = answer_sheet(&made);
    assert_says(sheet, "none was found that keeps every rule");
    assert_says(sheet, "NOT PROVED");
    assert_says(sheet, "this one is short by 11/32\"");
    free(sheet);
    made.layout.bound_forgiveness = -0.1;
    sheet = answer_sheet(&made);
    assert_says(sheet, "no layout keeps every rule");
    free(sheet);
}

static void tape_too_coarse_is_said_in_words(void **state) {
    (void)state;
    answer_make(&made, 1);
    answer_break(&made);
    made.answer.tape_broke = true;
    char *sheet = answer_sheet(&made);
    assert_nothing_to_drill_by(sheet);
    assert_says(sheet, "NO READINGS");
    assert_says(sheet, "1/16\"");
    assert_says(sheet, "finer tape");
    free(sheet);
}

static void sheet_without_a_layout_says_why_and_gives_no_reading(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        answer_make(&made, 1);
        lose_marks(i == 0 ? STATUS_UNDECIDED : STATUS_BLOCKED,
                   i == 0 ? LAYOUT_UNDECIDED : LAYOUT_IMPOSSIBLE);
        char *sheet = answer_sheet(&made);
        assert_nothing_to_drill_by(sheet);
        assert_says(sheet, i == 0 ? "NOT DECIDED: the limit of 60 s" : "NO LAYOUT");
        assert_says(sheet, "frame A, bottom: no 9th butt edge within reach of the LEFT lag holes");
        assert_silent_on(sheet, "A-bottom-1");
        assert_silent_on(sheet, "(64)");
        free(sheet);
    }
}

static void layout_without_a_proof_says_so_at_the_top(void **state) {
    (void)state;
    const char *const order[] = {"WORKS", "TIGHT", "NOT PROVED: the limit of 60 s",
                                 "none has more room to miss than 1/8\"", "STOP. "};
    answer_make(&made, 1);
    made.layout.state = LAYOUT_FEASIBLE;
    made.answer.tight = true;
    char *sheet = answer_sheet(&made);
    assert_in_order(sheet, order, sizeof order / sizeof order[0]);
    assert_silent_on(sheet, "Proved    ");
    free(sheet);
}

/* By 1/32: the strut's lags on their marks are a little off the middle, where 3/32 is the most. */
static void proof_is_of_lags_in_the_middle_where_marks_beside_it_do_better(void **state) {
    (void)state;
    for (int i = 0; i < 2; i++) {
        answer_make(&made, 1);
        made.layout.forgiveness = i == 0 ? made.verdict.least : 0.09375;
        char *sheet = answer_sheet(&made);
        assert_says(sheet,
                    i == 0 ? "Proved         no layout has more room to miss (counted up to"
                           : "Proved         none with its lags in the middle of their rafters");
        free(sheet);
    }
}

static void status_words_are_those_of_the_files(void **state) {
    (void)state;
    assert_string_equal(sheet_status_word(STATUS_OK), "ok");
    assert_string_equal(sheet_status_word(STATUS_BLOCKED), "blocked");
    assert_string_equal(sheet_status_word(STATUS_UNDECIDED), "undecided");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_line_is_wider_than_the_page_and_all_is_plain),
        cmocka_unit_test(no_word_of_the_files_is_on_any_sheet),
        cmocka_unit_test(boxes_open_their_lines),
        cmocka_unit_test(fingerprint_is_on_every_part),
        cmocka_unit_test(closest_fit_says_what_stands_in_the_way_and_is_not_to_be_drilled),
        cmocka_unit_test(closest_fit_without_a_proof_claims_none),
        cmocka_unit_test(tape_too_coarse_is_said_in_words),
        cmocka_unit_test(sheet_without_a_layout_says_why_and_gives_no_reading),
        cmocka_unit_test(layout_without_a_proof_says_so_at_the_top),
        cmocka_unit_test(proof_is_of_lags_in_the_middle_where_marks_beside_it_do_better),
        cmocka_unit_test(status_words_are_those_of_the_files),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
