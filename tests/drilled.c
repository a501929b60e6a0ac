#include "drilled.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#define LIMIT_S 20.0

void drilled_add(struct drilled *drilled, const struct mark *mark, double x, enum drill found) {
    /* A survey's texts are not const. */
    // cppcheck-suppress constVariable
    static char names[][2] = {"A", "B", "C"};
    // cppcheck-suppress constVariable
    static char rows[ROW_COUNT][8] = {"top", "bottom"};
    // cppcheck-suppress constVariable
    static char words[DRILL_COUNT][8] = {"wood", "edge", "air"};
    const unsigned i = drilled->file.drilled_count++;
    assert_true(i < DRILLED_MOST && mark->bracket < sizeof names / sizeof *names);
    assert_true(mark->row < ROW_COUNT);
    snprintf(drilled->texts[i][0], DRILLED_TEXT, "%.5f\"", x);
    snprintf(drilled->texts[i][1], DRILLED_TEXT, "%.5f\"", mark->y);
    drilled->holes[i] = (struct survey_hole){.bracket = names[mark->bracket],
                                             .row = rows[mark->row],
                                             .x = drilled->texts[i][0],
                                             .y = drilled->texts[i][1],
                                             .found = words[found]};
    drilled->file.drilled = drilled->holes;
}

enum outcome drilled_revise(const struct roof *roof, const struct drilled *drilled,
                            struct revised *revised) {
    const struct layout_options options = {.limit_s = LIMIT_S};
    struct problems problems = {0};
    const enum outcome outcome =
        revise_find(roof, &drilled->file, &options, SIDE_NEAR, revised, &problems);
    if (problems.total > 0)
        print_message("%s: %s\n", problems.list[0].key, problems.list[0].wanted);
    problems_free(&problems);
    return outcome;
}

struct carried drilled_best(const struct roof *roof) {
    const struct layout_options options = {.limit_s = LIMIT_S};
    struct carried best = {.layout = NULL};
    struct problems problems = {0};
    assert_int_equal(carry_find(roof, &options, SIDE_NEAR, &best, &problems), OUTCOME_DONE);
    assert_true(best.verdict != NULL && best.verdict->holds);
    return best;
}

static bool is_under(const struct roof *roof, const struct mark *mark, const struct hole *hole) {
    const struct flashing *flashing =
        mark->row == ROW_PIPE ? &roof->pipes[mark->pipe].flashing : &roof->kits[0].flashing;
    const double lower = mark->y - flashing->hole_up;
    return fabs(mark->x - hole->x) <= flashing->width / 2 - 2 + 1e-6 && hole->y >= lower - 1e-6 &&
           hole->y <= lower + flashing->height + 1e-6;
}

/* Timbers of all roofs here are less than 4 in wide and more than 4 apart. */
static bool in_one_rafter(double x, double other) {
    return fabs(x - other) <= 4;
}

static void judge_hole(const struct revised *revised, const struct hole *hole) {
    const struct roof *roof = &revised->roof;
    const struct marks *marks = revised->carried.marks;
    const double keep = 4 * roof->kits[0].lag_diameter;
    const bool dead = hole->fate != FATE_KEPT;
    bool stays = false, covered = false;
    for (size_t m = 0; m < marks->count; m++) {
        const struct mark *mark = &marks->list[m];
        const bool here = fabs(mark->x - hole->x) <= 1e-6 && fabs(mark->y - hole->y) <= 1e-6;
        stays = stays || (here && mark->row == hole->row && mark->bracket == hole->bracket &&
                          revised->done[m]);
        covered = covered || is_under(roof, mark, hole);
        if (dead && hole->found != DRILL_AIR && mark->row != ROW_PIPE &&
            in_one_rafter(mark->x, hole->x) && !(fabs(mark->y - hole->y) >= keep - 1e-6))
            fail_msg("lag hole %zu too near drilled hole %zu", m, hole->entry + 1);
    }
    assert_int_equal(stays, !dead);
    if (dead)
        assert_int_equal(covered, hole->cover != REVISE_PATCH);
    if (dead && hole->cover != REVISE_PATCH)
        assert_true(is_under(roof, &marks->list[hole->cover], hole));
}

void drilled_judge(const struct revised *revised) {
    size_t dead = 0, done = 0, kept = 0;
    for (size_t i = 0; i < revised->hole_count; i++) {
        judge_hole(revised, &revised->holes[i]);
        *(revised->holes[i].fate == FATE_KEPT ? &kept : &dead) += 1;
    }
    for (size_t m = 0; m < revised->carried.marks->count; m++)
        done += revised->done[m];
    assert_int_equal(done, kept);
    assert_int_equal(dead, revised->dead_count);
}
