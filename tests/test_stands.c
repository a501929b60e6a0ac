/* Where a bracket can stand: every corner of every spot keeps every rule, by the check; nothing is
 * left just above the best level; and the layouts that come of it are those of the integer program
 * alone. */
#include "check.h"
#include "in_spot.h"
#include "random_trial.h"
#include "stands.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#define SAME 1e-6 /* inches */

static struct random_knobs rich(uint64_t seed, size_t brackets) {
    return (struct random_knobs){.seed = seed,
                                 .brackets = brackets,
                                 .vents = 3,
                                 .small = seed % 3 == 0,
                                 .narrow = seed % 3 == 1,
                                 .sisters = true,
                                 .unsound = true,
                                 .bonded = true,
                                 .right = seed % 2 == 0};
}

static struct roof *read_rich(const char *folder, uint64_t seed, size_t brackets, bool uneven) {
    struct random_knobs knobs = rich(seed, brackets);
    struct random_roof made;
    knobs.uneven = uneven;
    random_roof_make(&knobs, &made);
    return random_roof_read(&made, RANDOM_PLAIN, folder, NULL);
}

static void every_corner_of_a_spot_keeps_every_rule(void **state) {
    const size_t asked = random_roof_count(100), count = asked < 40 ? 40 : asked;
    size_t listed = 0, spots = 0, below_zero = 0;
    for (uint64_t seed = 500; seed < 500 + count; seed++) {
        struct roof *roof = read_rich(*state, seed, 1, seed % 5 == 0);
        struct stands *stands = NULL;
        if (stands_apply(roof)) {
            const struct stands_ask ask = {.roof = roof};
            assert_int_equal(stands_find(&ask, -1, &stands), OUTCOME_DONE);
            const double best = stands_best(stands);
            if (!stands->crowded && best > -INFINITY) {
                listed++;
                below_zero += best < 0;
                assert_true(hold_spots(stands, best, seed) > 0);
                spots += hold_spots(stands, best - 0.05, seed);
                if (best < roof->enough - SAME)
                    assert_int_equal(hold_spots(stands, best + 10 * SAME, seed), 0);
            }
        }
        stands_free(stands);
        roof_free(roof);
    }
    printf("%zu of %zu roofs with %zu spots, %zu nearest misses\n", listed, count, spots,
           below_zero);
    assert_true(listed > count / 20 && below_zero > 0);
}

/* Spots are many, and what they lack mostly the same: a function that came up stands in one place,
 * however many others came between. */
static size_t hold_kept_once(const struct misses *misses, uint64_t seed) {
    const size_t step = 1 + misses->count / 400; /* enough of them */
    size_t same = 0;
    for (size_t i = 0; i < misses->count; i += step)
        for (size_t j = 0; j < i; j += step)
            for (int axis = 0; axis < 2; axis++) {
                const struct lack *one = misses->spots[i].miss->held[axis];
                const struct lack *other = misses->spots[j].miss->held[axis];
                if (lack_same(one, other) && one != other)
                    fail_msg("seed %llu: one function twice", (unsigned long long)seed);
                same += one == other;
            }
    return same;
}

static void what_spots_lack_is_kept_once(void **state) {
    size_t same = 0;
    for (uint64_t seed = 500; seed < 502; seed++) {
        struct roof *roof = read_rich(*state, seed, 2, false);
        const struct stands_ask ask = {.roof = roof};
        const struct misses_ask what = {.level = -6, .most = 32, .room = 100000};
        struct stands *stands = NULL;
        struct misses *misses = NULL;
        if (stands_apply(roof)) {
            assert_int_equal(stands_find(&ask, -6, &stands), OUTCOME_DONE);
            assert_int_equal(stands_misses(stands, &what, &misses), OUTCOME_DONE);
            assert_true(!misses->crowded || misses->count == 0);
            same += hold_kept_once(misses, seed);
        }
        misses_free(misses);
        stands_free(stands);
        roof_free(roof);
    }
    assert_true(same > 0);
}

/* The fewest holes on which a bracket can stand at a place; SIZE_MAX: it cannot. */
static size_t holes_at(const struct spot *spots, size_t count, double x, double y) {
    size_t least = SIZE_MAX;
    for (size_t i = 0; i < count; i++)
        if (x >= spots[i].x.lo - SAME && x <= spots[i].x.hi + SAME && y >= spots[i].y.lo - SAME &&
            y <= spots[i].y.hi + SAME && spots[i].holes < least)
            least = spots[i].holes;
    return least;
}

/* The middles of some spots of the one list: no worse in the other. */
static void hold_covered(const struct spot *these, size_t count, const struct spot *those,
                         size_t other_count, uint64_t seed) {
    const size_t step = 1 + count / 200; /* enough of them */
    for (size_t i = 0; i < count; i += step) {
        const double x = (these[i].x.lo + these[i].x.hi) / 2;
        const double y = (these[i].y.lo + these[i].y.hi) / 2;
        if (holes_at(those, other_count, x, y) > these[i].holes)
            fail_msg("seed %llu: %zu holes at %g, %g are not in the other list",
                     (unsigned long long)seed, these[i].holes, x, y);
    }
}

/* Stands at a level from a rack on which there are deeper ones; returns how many spots they have.
 */
static size_t hold_racked(const struct roof *roof, struct rack *rack, double level, bool cut,
                          uint64_t seed) {
    struct stands *stands[2] = {NULL, NULL};
    struct spot *spots[2] = {NULL, NULL};
    size_t counts[2] = {0, 0};
    for (int racked = 0; racked < 2; racked++) {
        const struct stands_ask ask = {.roof = roof, .rack = racked ? rack : NULL};
        assert_int_equal(cut ? stands_cut(&ask, level, &stands[racked])
                             : stands_find(&ask, level, &stands[racked]),
                         OUTCOME_DONE);
        assert_int_equal(stands_at(stands[racked], level, true, &spots[racked], &counts[racked]),
                         OUTCOME_DONE);
    }
    const bool whole = !stands[0]->crowded && !stands[1]->crowded;
    if (whole) {
        hold_covered(spots[0], counts[0], spots[1], counts[1], seed);
        hold_covered(spots[1], counts[1], spots[0], counts[0], seed);
    }
    if (whole && !cut)
        assert_true(fabs(stands_best(stands[0]) - stands_best(stands[1])) < SAME ||
                    (stands_best(stands[0]) < level && stands_best(stands[1]) < level));
    for (int racked = 0; racked < 2; racked++) {
        stands_free(stands[racked]);
        free(spots[racked]);
    }
    return whole ? counts[0] : 0;
}

static void deeper_lists_say_all_of_higher_ones(void **state) {
    static const double levels[] = {0.05, -0.5, -1, -0.25, -3, -2};
    size_t spots = 0;
    for (uint64_t seed = 700; seed < 740; seed++) {
        struct roof *roof = read_rich(*state, seed, 1, false);
        struct rack *rack = rack_new();
        assert_non_null(rack);
        for (size_t i = 0; i < sizeof levels / sizeof *levels && stands_apply(roof); i++)
            for (int cut = 0; cut < 2; cut++)
                spots += hold_racked(roof, rack, levels[i], cut != 0, seed);
        rack_free(rack);
        roof_free(roof);
    }
    assert_true(spots > 1000);
}

/* Puts the parts of spots that lie between two X first; returns how many there are. */
static size_t clip(struct spot *spots, size_t count, double lo, double hi) {
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        struct spot spot = spots[i];
        spot.x.lo = fmax(spot.x.lo, lo);
        spot.x.hi = fmin(spot.x.hi, hi);
        if (spot.x.lo <= spot.x.hi)
            spots[kept++] = spot;
    }
    return kept;
}

static void near_a_wish_is_all_that_lies_there(void **state) {
    enum { ALL, NEAR, BOTH };
    const double level = -0.5, near = 5;
    size_t fewer = 0, some = 0;
    for (uint64_t seed = 700; seed < 740; seed++) {
        struct roof *roof = read_rich(*state, seed, 1, false);
        const double want = roof->brackets[0].want_x;
        struct stands *stands[BOTH] = {NULL, NULL};
        struct spot *spots[BOTH] = {NULL, NULL};
        size_t counts[BOTH] = {0, 0};
        for (int which = ALL; which < BOTH && stands_apply(roof); which++) {
            const struct stands_ask ask = {.roof = roof, .near = which == NEAR ? near : 0};
            assert_int_equal(stands_find(&ask, level, &stands[which]), OUTCOME_DONE);
            assert_int_equal(stands_at(stands[which], level, true, &spots[which], &counts[which]),
                             OUTCOME_DONE);
        }
        const size_t there = clip(spots[ALL], counts[ALL], want - near, want + near);
        if (stands[ALL] && !stands[ALL]->crowded) {
            assert_int_equal(
                clip(spots[NEAR], counts[NEAR], want - near - SAME, want + near + SAME),
                counts[NEAR]);
            hold_covered(spots[ALL], there, spots[NEAR], counts[NEAR], seed);
            hold_covered(spots[NEAR], counts[NEAR], spots[ALL], there, seed);
            fewer += there < counts[ALL];
            some += there > 0;
        }
        for (int which = ALL; which < BOTH; which++) {
            stands_free(stands[which]);
            free(spots[which]);
        }
        roof_free(roof);
    }
    assert_true(fewer > 5 && some > 5);
}

/* Leaning rafters and rakes are for the program. */
static void roofs_that_lean_are_not_listed(void **state) {
    size_t lean = 0, listed = 0;
    for (uint64_t seed = 1; seed < 40; seed++) {
        struct roof *roof = read_rich(*state, seed, 1, true);
        bool upright = true;
        for (size_t i = 0; i < roof->ply_count; i++)
            upright = upright && !(fabs(roof->plies[i].lean) > 0);
        if (!upright) {
            assert_false(stands_apply(roof));
            lean++;
        }
        listed += stands_apply(roof);
        roof_free(roof);
    }
    assert_true(lean > 5 && listed > 0);
}

static struct layout *by_program(const struct roof *roof, double limit_s) {
    const struct layout_options options = {.limit_s = limit_s, .plain = true};
    struct problems problems = {0};
    struct layout *layout = NULL;
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    problems_free(&problems);
    return layout;
}

static double cost(const struct roof *roof, const struct layout *layout) {
    return layout->moved + (double)layout->holes * roof->hole_worth;
}

static bool settled(const struct layout *layout) {
    return layout->state == LAYOUT_PROVED || layout->state == LAYOUT_IMPOSSIBLE;
}

/* True where both searches came to an end. */
static bool compare_both(const struct roof *roof, uint64_t seed, double limit_s) {
    struct layout *layout = random_layout(roof, limit_s, seed), *plain = by_program(roof, limit_s);
    const bool both = settled(layout) && settled(plain);
    if (both && layout->state != plain->state)
        fail_msg("seed %llu: state %d, by the program %d", (unsigned long long)seed, layout->state,
                 plain->state);
    if (both && layout->marks) {
        expect_of_seed("forgiveness", seed, layout->forgiveness, plain->forgiveness, 1e-5);
        expect_of_seed("shortfall", seed, layout->shortfall, plain->shortfall, 1e-4);
        expect_of_seed("cost", seed, cost(roof, layout), cost(roof, plain), 1e-3);
    }
    layout_free(layout);
    layout_free(plain);
    return both;
}

static void one_bracket_comes_out_as_by_the_program_alone(void **state) {
    const size_t count = random_roof_count(60);
    size_t both = 0;
    for (uint64_t seed = 2000; seed < 2000 + count; seed++) {
        struct roof *roof = read_rich(*state, seed, 1, seed % 4 == 0);
        both += compare_both(roof, seed, 60);
        roof_free(roof);
    }
    assert_true(both >= count - count / 20);
}

/* Pairs of brackets on small roofs on which the program alone comes to an end soon. */
static void several_come_out_as_by_the_program_alone(void **state) {
    static const uint64_t seeds[] = {9087, 9033, 9096, 9111, 9024, 9051, 9069, 9000, 9039, 9057};
    const size_t all = sizeof seeds / sizeof *seeds;
    const size_t count = random_roof_count(4 * all) / 4;
    for (size_t i = 0; i < count; i++) {
        struct roof *roof = read_rich(*state, seeds[i], 2, false);
        if (!compare_both(roof, seeds[i], 60))
            fail_msg("seed %llu: not proved", (unsigned long long)seeds[i]);
        roof_free(roof);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_corner_of_a_spot_keeps_every_rule),
        cmocka_unit_test(what_spots_lack_is_kept_once),
        cmocka_unit_test(deeper_lists_say_all_of_higher_ones),
        cmocka_unit_test(near_a_wish_is_all_that_lies_there),
        cmocka_unit_test(roofs_that_lean_are_not_listed),
        cmocka_unit_test(one_bracket_comes_out_as_by_the_program_alone),
        cmocka_unit_test(several_come_out_as_by_the_program_alone),
    };
    return cmocka_run_group_tests_name("stands", tests, random_folder_make, random_folder_remove);
}
