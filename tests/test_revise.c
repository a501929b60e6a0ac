/* Laying out again round holes already drilled. */
#include "revise.h"

#include "plain_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

enum { MOST = 16, TEXT = 32 };

/* A file of holes in memory. */
struct sheet {
    struct survey_drilled file;
    struct survey_hole holes[MOST];
    char texts[MOST][2][TEXT];
};

static void add_hole(struct sheet *sheet, const struct mark *mark, double x, enum drill found) {
    /* A survey's texts are not const. */
    static char name[] = "A";
    // cppcheck-suppress constVariable
    static char rows[ROW_COUNT][8] = {"top", "bottom"};
    // cppcheck-suppress constVariable
    static char words[DRILL_COUNT][8] = {"wood", "edge", "air"};
    const unsigned i = sheet->file.drilled_count++;
    assert_true(i < MOST);
    snprintf(sheet->texts[i][0], TEXT, "%.5f", x);
    snprintf(sheet->texts[i][1], TEXT, "%.5f", mark->y);
    sheet->holes[i] = (struct survey_hole){.bracket = name,
                                           .row = rows[mark->row],
                                           .x = sheet->texts[i][0],
                                           .y = sheet->texts[i][1],
                                           .found = words[found]};
    sheet->file.drilled = sheet->holes;
}

static const struct layout_options options = {.limit_s = 20};

static enum outcome revise(const struct roof *roof, const struct sheet *sheet,
                           struct revised *revised) {
    struct problems problems = {0};
    const enum outcome outcome =
        revise_find(roof, &sheet->file, &options, SIDE_NEAR, revised, &problems);
    problems_free(&problems);
    return outcome;
}

static struct roof *new_roof(void) {
    const struct plain_knobs knobs = plain_knobs();
    struct roof *roof = plain_roof(&knobs);
    roof->doubt = 2;
    return roof;
}

static struct carried best_of(const struct roof *roof) {
    struct carried best = {.layout = NULL};
    struct problems problems = {0};
    assert_int_equal(carry_find(roof, &options, SIDE_NEAR, &best, &problems), OUTCOME_DONE);
    assert_true(best.verdict->holds);
    return best;
}

/* Every set of holes of the best layout, all found solid: nothing beyond that layout is needed. */
static void good_holes_of_the_best_layout_need_no_further_ones(void **unused) {
    (void)unused;
    struct roof *roof = new_roof();
    struct carried best = best_of(roof);
    const size_t count = best.marks->count;
    assert_true(count >= 4 && count <= 6);
    for (unsigned set = 0; set < 1U << count; set++) {
        struct sheet sheet = {.file = {.path = NULL}};
        struct revised revised;
        for (size_t m = 0; m < count; m++)
            if (set >> m & 1)
                add_hole(&sheet, &best.marks->list[m], best.marks->list[m].x, DRILL_WOOD);
        assert_int_equal(revise(roof, &sheet, &revised), OUTCOME_DONE);
        assert_true(revised.carried.verdict->holds);
        assert_int_equal(revised.given_up, 0);
        assert_int_equal(revised.carried.marks->count, count);
        assert_int_equal(revised.fresh.marks->count, count);
        size_t done = 0;
        for (size_t m = 0; m < count; m++)
            done += revised.done[m];
        assert_int_equal(done, sheet.file.drilled_count);
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

static bool under(const struct kit *kit, const struct mark *mark, const struct hole *hole) {
    const double lower = mark->y - kit->flashing.hole_up;
    return fabs(mark->x - hole->x) <= kit->flashing.width / 2 - 2 + 1e-6 &&
           hole->y >= lower - 1e-6 && hole->y <= lower + kit->flashing.height + 1e-6;
}

/* Holds a result against the rules, by arithmetic of its own. */
static void judge(const struct revised *revised) {
    const struct marks *marks = revised->carried.marks;
    const struct kit *kit = roof_kit(&revised->roof, 0);
    for (size_t i = 0; i < revised->hole_count; i++) {
        const struct hole *hole = &revised->holes[i];
        bool stays = false, covered = false;
        for (size_t m = 0; m < marks->count; m++) {
            const struct mark *mark = &marks->list[m];
            const bool here = fabs(mark->x - hole->x) <= 1e-6 && fabs(mark->y - hole->y) <= 1e-6;
            stays = stays || (here && mark->row == hole->row && revised->done[m]);
            covered = covered || under(kit, mark, hole);
            if (hole->fate != FATE_KEPT && hole->found != DRILL_AIR &&
                fabs(mark->x - hole->x) <= 4 && !(fabs(mark->y - hole->y) >= 1.25 - 1e-6))
                fail_msg("lag hole %zu too near dead hole %zu", m, i);
        }
        assert_int_equal(stays, hole->fate == FATE_KEPT);
        if (hole->fate != FATE_KEPT)
            assert_int_equal(covered, hole->cover != REVISE_PATCH);
        if (hole->fate != FATE_KEPT && hole->cover != REVISE_PATCH)
            assert_true(under(kit, &marks->list[hole->cover], hole));
    }
}

/* Rafters off by up to an inch, the best layout's holes drilled in part: what was learned is true,
 * what is kept stays where it is, and the rest is as the rules want it. */
static void drilled_roofs_come_out_as_the_rules_want_them(void **unused) {
    (void)unused;
    const char *wanted = getenv("RUDDLE_ROOFS");
    const size_t sets = wanted != NULL ? strtoul(wanted, NULL, 10) : 40;
    struct roof *roof = new_roof();
    struct carried best = best_of(roof);
    uint32_t state = 7;
    size_t kept = 0, dead = 0, moved = 0, open = 0;
    for (size_t set = 0; set < sets; set++) {
        struct sheet sheet = {.file = {.path = NULL}};
        struct revised revised;
        double off[ROOF_RAFTERS_MOST];
        for (size_t r = 0; r < roof->rafter_count; r++) {
            state = state * 1664525U + 1013904223U; /* Numerical Recipes' generator */
            off[r] = state >> 30 ? 0 : ((int)(state >> 16 & 31) - 16) / 16.0;
        }
        for (size_t m = 0; m < best.marks->count; m++) {
            state = state * 1664525U + 1013904223U;
            const struct mark *mark = &best.marks->list[m];
            if (state >> 31)
                add_hole(&sheet, mark, mark->x, found_at(roof, mark->x, off));
            if (state >> 30 & 1)
                add_hole(&sheet, mark, mark->x + 0.5, found_at(roof, mark->x + 0.5, off));
        }
        assert_int_equal(revise(roof, &sheet, &revised), OUTCOME_DONE);
        for (size_t r = 0; r < roof->rafter_count; r++) {
            const struct learned *learned = &revised.learned[r];
            moved += learned->knowledge == KNOWLEDGE_MOVED;
            open += learned->knowledge == KNOWLEDGE_OPEN;
            if (learned->knowledge == KNOWLEDGE_MOVED)
                assert_true(fabs(learned->shift - off[r]) <= learned->tolerance + 1e-6);
        }
        for (size_t i = 0; i < revised.hole_count; i++)
            *(revised.holes[i].fate == FATE_KEPT ? &kept : &dead) += 1;
        if (revised.carried.verdict && revised.carried.verdict->holds)
            judge(&revised);
        revised_free(&revised);
    }
    if (sets >= 40)
        assert_true(kept > 20 && dead > 20 && moved > 0 && open > 0);
    carried_free(&best);
    roof_free(roof);
}

/* Solid 2 in apart in one rafter of 1 1/2: both cannot be. */
static void holes_that_cannot_all_be_true_are_named(void **unused) {
    (void)unused;
    struct roof *roof = new_roof();
    struct sheet sheet = {.file = {.path = NULL}};
    struct revised revised;
    struct problems problems = {0};
    const struct mark mark = {.row = ROW_TOP, .y = 110};
    add_hole(&sheet, &mark, 63, DRILL_WOOD);
    add_hole(&sheet, &mark, 65, DRILL_WOOD);
    assert_int_equal(revise_find(roof, &sheet.file, &options, SIDE_NEAR, &revised, &problems),
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
    struct sheet sheet = {.file = {.path = NULL}};
    struct hole *holes = NULL;
    size_t count = 0;
    struct problems problems = {0};
    char stranger[] = "Z", middle[] = "middle", soft[] = "soft";
    const struct mark mark = {.row = ROW_TOP, .y = 110};
    add_hole(&sheet, &mark, 64, DRILL_WOOD);
    add_hole(&sheet, &mark, 64, DRILL_AIR);
    for (unsigned i = 0; i < 3; i++)
        add_hole(&sheet, &mark, 70 + i, DRILL_AIR);
    sheet.holes[2].bracket = stranger;
    sheet.holes[3].row = middle;
    sheet.holes[4].found = soft;
    assert_int_equal(holes_from_survey(roof, &sheet.file, &holes, &count, &problems),
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
        cmocka_unit_test(drilled_roofs_come_out_as_the_rules_want_them),
        cmocka_unit_test(holes_that_cannot_all_be_true_are_named),
        cmocka_unit_test(names_that_the_roof_does_not_know_and_doubled_holes_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
