/* Laying out again round holes already drilled. */
#include "drilled.h"
#include "plain_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

static struct roof *new_roof(void) {
    const struct plain_knobs knobs = plain_knobs();
    struct roof *roof = plain_roof(&knobs);
    roof->doubt = 2;
    return roof;
}

/* Every set of holes of the best layout, all found solid: nothing beyond that layout is needed. */
static void good_holes_of_the_best_layout_need_no_further_ones(void **unused) {
    (void)unused;
    struct roof *roof = new_roof();
    struct carried best = drilled_best(roof);
    const size_t count = best.marks->count;
    assert_true(count >= 4 && count <= 6);
    for (unsigned set = 0; set < 1U << count; set++) {
        struct drilled drilled = {.file = {.path = NULL}};
        struct revised revised;
        for (size_t m = 0; m < count; m++)
            if (set >> m & 1)
                drilled_add(&drilled, &best.marks->list[m], best.marks->list[m].x, DRILL_WOOD);
        assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
        assert_true(revised.carried.verdict->holds);
        assert_int_equal(revised.given_up, 0);
        assert_int_equal(revised.carried.marks->count, count);
        assert_int_equal(revised.fresh.marks->count, count);
        size_t done = 0;
        for (size_t m = 0; m < count; m++)
            done += revised.done[m];
        assert_int_equal(done, drilled.file.drilled_count);
        revised_free(&revised);
    }
    carried_free(&best);
    roof_free(roof);
}

/* What a drill would find, the rafter nearest to x being `off` away from where it was measured. */
static enum drill found_at(const struct roof *roof, double x, const double *off) {
    for (size_t r = 0; r < roof->rafter_count; r++) {
        const double from_face = fabs(x - roof->rafters[r].at - off[r]) - 0.75;
        if (from_face <= roof->tape)
            return from_face >= -roof->tape ? DRILL_EDGE : DRILL_WOOD;
    }
    return DRILL_AIR;
}

/* What came of all sets. */
struct tally {
    size_t laid_out, kept, dead, given_up, patched, moved, open;
};

/* Numerical Recipes' generator. */
static uint32_t draw(uint32_t *state) {
    return *state = *state * 1664525U + 1013904223U;
}

/* Half of the rafters off by up to an inch, the best layout's holes drilled in part, one in four
 * 1/2 in beside as well. */
static void drill_set(const struct roof *roof, const struct marks *best, uint32_t *state,
                      double *off, struct drilled *drilled) {
    for (size_t r = 0; r < roof->rafter_count; r++) {
        const uint32_t drawn = draw(state);
        off[r] = drawn >> 31 ? 0 : ((int)(drawn >> 16 & 31) - 16) / 16.0;
    }
    for (size_t m = 0; m < best->count; m++) {
        const uint32_t drawn = draw(state);
        const struct mark *mark = &best->list[m];
        if (drawn >> 31)
            drilled_add(drilled, mark, mark->x, found_at(roof, mark->x, off));
        if ((drawn >> 29 & 3) == 3)
            drilled_add(drilled, mark, mark->x + 0.5, found_at(roof, mark->x + 0.5, off));
    }
}

static void count_up(const struct revised *revised, struct tally *tally) {
    for (size_t r = 0; r < revised->roof.rafter_count; r++) {
        tally->moved += revised->learned[r].knowledge == KNOWLEDGE_MOVED;
        tally->open += revised->learned[r].knowledge == KNOWLEDGE_OPEN;
    }
    for (size_t i = 0; i < revised->hole_count; i++)
        *(revised->holes[i].fate == FATE_KEPT ? &tally->kept : &tally->dead) += 1;
    tally->patched += revised->patches[0];
    tally->given_up += revised->given_up;
    tally->laid_out += revised->carried.verdict && revised->carried.verdict->holds;
}

/* What was learned is true of the roof that was drilled. */
static void judge_learned(const struct revised *revised, const double *off) {
    for (size_t r = 0; r < revised->roof.rafter_count; r++) {
        const struct learned *learned = &revised->learned[r];
        if (learned->knowledge == KNOWLEDGE_MOVED)
            assert_true(fabs(learned->shift - off[r]) <= learned->tolerance + 1e-6);
    }
}

/* One set: what is kept stays where it is, and the rest is as the rules want it. */
static void try_set(const struct roof *roof, const struct marks *best, uint32_t *state,
                    struct tally *tally) {
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    double off[ROOF_RAFTERS_MOST];
    drill_set(roof, best, state, off, &drilled);
    assert_int_equal(drilled_revise(roof, &drilled, &revised), OUTCOME_DONE);
    judge_learned(&revised, off);
    if (revised.carried.verdict && revised.carried.verdict->holds)
        drilled_judge(&revised);
    count_up(&revised, tally);
    revised_free(&revised);
}

static void try_sets(enum hardware top, size_t sets, uint32_t state, struct tally *tally) {
    struct plain_knobs knobs = plain_knobs();
    knobs.width = 132;
    knobs.slope = 130;
    knobs.rafter_count = 5;
    knobs.hardware[ROW_TOP] = top;
    struct roof *roof = plain_roof(&knobs);
    roof->doubt = 2;
    struct carried best = drilled_best(roof);
    for (size_t set = 0; set < sets; set++)
        try_set(roof, best.marks, &state, tally);
    carried_free(&best);
    roof_free(roof);
}

static void five_hundred_drilled_sets_come_out_as_the_rules_want_them(void **unused) {
    (void)unused;
    const char *wanted = getenv("RUDDLE_ROOFS");
    const size_t sets = wanted != NULL ? strtoul(wanted, NULL, 10) : 500;
    struct tally tally = {0};
    try_sets(HARDWARE_FEET, sets - sets / 5, 7, &tally);
    try_sets(HARDWARE_STRUT, sets / 5, 11, &tally);
    print_message("%zu sets, %zu laid out: %zu holes kept, %zu given up, %zu dead, %zu patches; "
                  "%zu rafters moved, %zu open\n",
                  sets, tally.laid_out, tally.kept, tally.given_up, tally.dead, tally.patched,
                  tally.moved, tally.open);
    if (sets >= 40)
        assert_true(tally.laid_out > sets / 2 && tally.kept > 20 && tally.dead > 20 &&
                    tally.moved > 0 && tally.open > 0 && tally.patched > 0 && tally.given_up > 0);
}

/* Solid 2 in apart in one rafter of 1 1/2: both cannot be. */
static void holes_that_cannot_all_be_true_are_named(void **unused) {
    (void)unused;
    struct roof *roof = new_roof();
    struct drilled drilled = {.file = {.path = NULL}};
    struct revised revised;
    struct problems problems = {0};
    const struct layout_options options = {.limit_s = 20};
    const struct mark mark = {.row = ROW_TOP, .y = 110};
    drilled_add(&drilled, &mark, 63, DRILL_WOOD);
    drilled_add(&drilled, &mark, 65, DRILL_WOOD);
    assert_int_equal(revise_find(roof, &drilled.file, &options, SIDE_NEAR, &revised, &problems),
                     OUTCOME_BAD_INPUT);
    assert_int_equal(problems.total, 2);
    assert_string_equal(problems.list[0].key, "drilled[1].found");
    assert_string_equal(problems.list[1].key, "drilled[2].found");
    problems_free(&problems);
    roof_free(roof);
}

static void names_that_the_roof_does_not_know_and_doubled_holes_are_refused(void **unused) {
    (void)unused;
    struct roof *roof = new_roof();
    struct drilled drilled = {.file = {.path = NULL}};
    struct hole *holes = NULL;
    size_t count = 0;
    struct problems problems = {0};
    char stranger[] = "Z", middle[] = "middle", soft[] = "soft";
    const struct mark mark = {.row = ROW_TOP, .y = 110};
    drilled_add(&drilled, &mark, 64, DRILL_WOOD);
    drilled_add(&drilled, &mark, 64, DRILL_AIR);
    for (unsigned i = 0; i < 3; i++)
        drilled_add(&drilled, &mark, 70 + i, DRILL_AIR);
    drilled.holes[2].bracket = stranger;
    drilled.holes[3].row = middle;
    drilled.holes[4].found = soft;
    assert_int_equal(holes_from_survey(roof, &drilled.file, &holes, &count, &problems),
                     OUTCOME_BAD_INPUT);
    static const char *const keys[] = {"drilled[2].x", "drilled[3].bracket", "drilled[4].row",
                                       "drilled[5].found"};
    assert_int_equal(problems.total, 4);
    for (size_t i = 0; i < 4; i++)
        assert_string_equal(problems.list[i].key, keys[i]);
    problems_free(&problems);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(good_holes_of_the_best_layout_need_no_further_ones),
        cmocka_unit_test(five_hundred_drilled_sets_come_out_as_the_rules_want_them),
        cmocka_unit_test(holes_that_cannot_all_be_true_are_named),
        cmocka_unit_test(names_that_the_roof_does_not_know_and_doubled_holes_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
