/* What looks wrong in a survey that is possible all the same: a word each, and no more. */
#include "edited_roof.h"
#include "roof.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#define COURSES "courses: {first: 6, exposure: 5 5/8}"
#define PLANE "pitch: 5/12}"

/* The plain roof (rafters 24 apart but for the first at 16 1/4 and the second at 40 1/8) with
 * edits says exactly this, in this order; {0} ends the texts. */
static void assert_doubts(const struct edit *edits, const char *const *texts) {
    const struct edited_roof edited = {.root = RUDDLE_ROOT, .roof = edits};
    struct roof *roof = edited_roof_good(&edited);
    size_t count = 0;
    for (; texts[count] != NULL; count++) {
        if (count >= roof->warning_count ||
            strstr(roof->warnings[count].text, texts[count]) == NULL)
            fail_msg("wanted \"%s\", found \"%s\"", texts[count],
                     count < roof->warning_count ? roof->warnings[count].text : "nothing");
    }
    if (roof->warning_count != count)
        fail_msg("one more: %s", roof->warnings[count].text);
    roof_free(roof);
}

static void assert_doubt(const char *old, const char *new, const char *text) {
    const struct edit edits[] = {{old, new}, {0}};
    const char *const texts[] = {text, NULL};
    assert_doubts(edits, texts);
}

static void gap_twice_the_usual_looks_like_a_missed_rafter(void **state) {
    (void)state;
    assert_doubt("    - {at: 112}\n", "",
                 "Rafters 4 and 5 are 48 in apart, about twice the usual 24 in: was one missed");
    /* 45 is as near to twice 24 as to anything; 41 is not. */
    assert_doubt("    - {at: 304}\n    - {at: 328}\n", "    - {at: 325}\n",
                 "Rafters 12 and 13 are 45 in apart, about twice");
    assert_doubt("    - {at: 304}\n    - {at: 328}\n", "    - {at: 321}\n",
                 "Rafters 12 and 13 are 41 in apart, where 24 in is usual");
}

/* 112 found at 114 1/16: one gap long, the next as much short; at 114 nothing is said. */
static void rafter_off_the_usual_spacing_is_named(void **state) {
    (void)state;
    assert_doubt("{at: 112}", "{at: 114 1/16}",
                 "Rafter 5 is 2.0625 in off the usual spacing: find it again.");
    assert_doubt("{at: 112}", "{at: 114}", NULL);
    assert_doubt("{at: 112}", "{at: 109 15/16}", "Rafter 5 is 2.0625 in off");
}

/* The last bay alone is 20 in: no neighbour to blame. */
static void one_odd_bay_names_both_of_its_rafters(void **state) {
    (void)state;
    assert_doubt("{at: 328}", "{at: 324}",
                 "Rafters 13 and 14 are 20 in apart, where 24 in is usual: find them again.");
}

/* Right at the eave, 3 in out at the ridge. */
static void rafter_crooked_beyond_belief_is_named(void **state) {
    (void)state;
    assert_doubt("{at: 112}", "{at: 112, again: 115}", "Rafter 5 is 3 in off the usual spacing");
    assert_doubt("{at: 112}", "{at: 112, again: 114}", NULL);
}

static void three_rafters_have_no_usual_spacing(void **state) {
    (void)state;
    const char *const none[] = {NULL};
    const struct edit edits[] = {
        {"    - {at: 64}\n    - {at: 88}\n    - {at: 112}\n    - {at: 136}\n    - {at: 160}\n"
         "    - {at: 184}\n    - {at: 208}\n    - {at: 232}\n    - {at: 256}\n    - {at: 280}\n"
         "    - {at: 304}\n    - {at: 328}\n",
         "    - {at: 120}\n"},
        {0}};
    assert_doubts(edits, none);
}

/* Every other rafter 3 in further: bays of 27 and 21 by turns, so that the first bay's 23 7/8 is in
 * the middle of all of them.  Five are told, the sixth is counted. */
static void many_odd_bays_are_counted(void **state) {
    (void)state;
    const char *const texts[] = {"Rafter 3 is",
                                 "Rafter 5 is",
                                 "Rafter 7 is",
                                 "Rafter 9 is",
                                 "Rafter 11 is 3.125 in off",
                                 "And 1 more like the last.",
                                 NULL};
    const struct edit edits[] = {{"{at: 64}", "{at: 67}"},
                                 {"{at: 112}", "{at: 115}"},
                                 {"{at: 160}", "{at: 163}"},
                                 {"{at: 208}", "{at: 211}"},
                                 {"{at: 256}", "{at: 259}"},
                                 {"{at: 304}", "{at: 307}"},
                                 {0}};
    assert_doubts(edits, texts);
}

/* Courses of 5: the fourth edge at 21 1/4 is exactly 1/4 off, at 21 5/16 more. */
static void butt_edge_off_its_neighbours_is_named(void **state) {
    (void)state;
    assert_doubt(COURSES, "courses: {edges: [6, 11, 16, 21 1/4, 26, 31, 36]}", NULL);
    assert_doubt(COURSES, "courses: {edges: [6, 11, 16, 21 5/16, 26, 31, 36]}",
                 "Butt edge 4 is 0.3125 in off where its neighbours put it");
    /* One course of 5 1/2 among courses of 5: everything above moves up. */
    assert_doubt(COURSES, "courses: {edges: [6, 11, 16, 21 1/2, 26 1/2, 31 1/2, 36 1/2]}",
                 "Butt edges 3 and 4 are 5.5 in apart, their neighbours 5 in");
}

/* Courses that grow by and by are like their neighbours. */
static void courses_that_grow_slowly_are_no_doubt(void **state) {
    (void)state;
    assert_doubt(COURSES,
                 "courses: {edges: [6, 10 3/4, 15 5/8, 20 5/8, 25 3/4, 31, 36 3/8, 41 7/8]}", NULL);
}

/* 96, 72 and a diagonal of 124: cos C = -976/13824, 94.05 degrees; the far corner, leaning the same
 * way, is 85.95 inside the face.  123 makes 93.00 to the tenth: (14400 - 15129)/13824, 93.02. */
static void corner_out_by_more_than_three_degrees_is_named(void **state) {
    (void)state;
    const char *const both[] = {"The zero corner measures 94.0 degrees",
                                "The other eave corner measures 86.0 degrees", NULL};
    const char *const far[] = {"The other eave corner measures 94.0 degrees", NULL};
    const struct edit leaning[] = {
        {PLANE, "pitch: 5/12, square: {along: 96, up: 72, diagonal: 124}}"}, {0}};
    const struct edit measured[] = {{PLANE,
                                     "pitch: 5/12, square: {along: 96, up: 72, diagonal: 120},"
                                     " square_far: {along: 96, up: 72, diagonal: 124}}"},
                                    {0}};
    assert_doubts(leaning, both);
    assert_doubts(measured, far);
    /* (14400 - 122.9^2)/13824: 92.92 degrees. */
    assert_doubt(PLANE, "pitch: 5/12, square: {along: 96, up: 72, diagonal: 122.9}}", NULL);
}

static void trusses_ask_for_an_engineer(void **state) {
    (void)state;
    assert_doubt("corner: left", "corner: left\nframing: trusses",
                 "trusses: ask an engineer before any hole is made in one");
    assert_doubt("corner: left", "corner: left\nframing: rafters", NULL);
}

/* A sheet says LEFT and RIGHT, and never these words. */
static void doubts_speak_as_a_sheet_does(void **state) {
    (void)state;
    static const char *const words[] = {" near", " far ", "bracket", " mark", "square"};
    const struct edit edits[] = {
        {PLANE, "pitch: 5/12, square: {along: 96, up: 72, diagonal: 124}}"},
        {"setback: {eave: 12, ridge: 18, near: 12, far: 12}\n", ""},
        {COURSES, "courses: {first: 6, exposure: 5, check: {edge: 3, at: 30}}"},
        {"    - {at: 112}\n", ""},
        {"{at: 208}", "{at: 211}"},
        {"{at: 328}", "{at: 320}"},
        {"corner: left", "corner: left\nframing: trusses"},
        {0}};
    const struct edited_roof edited = {.root = RUDDLE_ROOT, .roof = edits};
    struct roof *roof = edited_roof_good(&edited);
    assert_int_equal(roof->warning_count, 8);
    for (size_t i = 0; i < roof->warning_count; i++)
        for (size_t j = 0; j < sizeof words / sizeof *words; j++)
            assert_null(strstr(roof->warnings[i].text, words[j]));
    assert_true(roof->trusses);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gap_twice_the_usual_looks_like_a_missed_rafter),
        cmocka_unit_test(rafter_off_the_usual_spacing_is_named),
        cmocka_unit_test(one_odd_bay_names_both_of_its_rafters),
        cmocka_unit_test(rafter_crooked_beyond_belief_is_named),
        cmocka_unit_test(three_rafters_have_no_usual_spacing),
        cmocka_unit_test(many_odd_bays_are_counted),
        cmocka_unit_test(butt_edge_off_its_neighbours_is_named),
        cmocka_unit_test(courses_that_grow_slowly_are_no_doubt),
        cmocka_unit_test(corner_out_by_more_than_three_degrees_is_named),
        cmocka_unit_test(trusses_ask_for_an_engineer),
        cmocka_unit_test(doubts_speak_as_a_sheet_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
