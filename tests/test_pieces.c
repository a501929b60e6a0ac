/* Functions made of straight pieces, against their values place by place.  All ends and values are
 * whole numbers and slopes are whole, so halves between them tell everything. */
#include "pieces.h"
#include "random_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

enum { SPAN = 24, TRIALS = 3000, MANY = 6 };
#define NEAR 1e-9

static double value(const struct pieces *pieces, double at) {
    double found;
    pieces_at(pieces, at, 0, &found);
    return found;
}

/* The same by going through the pieces. */
static double slow_value(const struct pieces *pieces, double at) {
    double least = INFINITY;
    for (size_t i = 0; i < pieces->count; i++) {
        const struct piece *piece = &pieces->list[i];
        if (at < piece->from || at > piece->to)
            continue;
        const double share =
            piece->to > piece->from ? (at - piece->from) / (piece->to - piece->from) : 0;
        least = fmin(least, piece->at_from + share * (piece->at_to - piece->at_from));
    }
    return least;
}

static bool same(double a, double b) {
    return (isinf(a) && isinf(b)) || fabs(a - b) < NEAR;
}

static void make(struct random_source *source, struct pieces *pieces) {
    int at = random_between(source, 0, 4);
    double now = random_between(source, 0, 8);
    *pieces = (struct pieces){.list = NULL};
    for (int i = random_between(source, 0, 5); i > 0 && at < SPAN; i--) {
        const int to = at + random_between(source, 0, 4);
        const double then = now + random_between(source, -2, 2) * (to - at);
        assert_true(pieces_add(pieces, (struct piece){at, to, now, then, (size_t)i}));
        at = to + (random_once_in(source, 3) ? random_between(source, 1, 3) : 0);
        now = then + (random_once_in(source, 2) ? random_between(source, -3, 3) : 0);
    }
}

/* Rising, and apart but for their ends. */
static void expect_order(const struct pieces *pieces) {
    for (size_t i = 0; i < pieces->count; i++) {
        assert_true(pieces->list[i].from <= pieces->list[i].to);
        assert_true(i == 0 || pieces->list[i - 1].to <= pieces->list[i].from);
    }
}

static void least_and_sum_are_those_of_the_values(void **state) {
    (void)state;
    struct random_source source = {11};
    for (int trial = 0; trial < TRIALS; trial++) {
        struct pieces one, other, least = {.list = NULL}, sum = {.list = NULL};
        make(&source, &one);
        make(&source, &other);
        assert_true(pieces_lesser(&one, &other, &least) && pieces_sum(&one, &other, &sum));
        expect_order(&least);
        expect_order(&sum);
        for (int half = -2; half <= 2 * SPAN + 20; half++) {
            const double at = half / 2.0, a = slow_value(&one, at), b = slow_value(&other, at);
            assert_true(same(value(&one, at), a));
            if (!same(slow_value(&least, at), fmin(a, b)) || !same(slow_value(&sum, at), a + b))
                fail_msg("trial %d at %g: %g and %g give %g and %g", trial, at, a, b,
                         slow_value(&least, at), slow_value(&sum, at));
        }
        pieces_free(&one);
        pieces_free(&other);
        pieces_free(&least);
        pieces_free(&sum);
    }
}

static void least_of_many_is_below_all(void **state) {
    (void)state;
    struct random_source source = {12};
    for (int trial = 0; trial < TRIALS / 4; trial++) {
        struct pieces many[MANY], kept[MANY], least = {.list = NULL};
        for (int i = 0; i < MANY; i++) {
            make(&source, &many[i]);
            assert_true(pieces_copy(&many[i], &kept[i]));
        }
        assert_true(pieces_least(many, MANY, &least));
        for (int half = 0; half <= 2 * SPAN; half++) {
            double lowest = INFINITY;
            for (int i = 0; i < MANY; i++)
                lowest = fmin(lowest, slow_value(&kept[i], half / 2.0));
            assert_true(same(slow_value(&least, half / 2.0), lowest));
        }
        double at = 0, lowest = INFINITY;
        for (int whole = 0; whole <= SPAN + 4; whole++)
            lowest = fmin(lowest, slow_value(&least, whole));
        assert_true(same(pieces_lowest(&least, &at), lowest));
        assert_true(isinf(lowest) || same(slow_value(&least, at), lowest));
        for (int i = 0; i < MANY; i++) {
            assert_false(pieces_undercut(&least, &kept[i]));
            pieces_free(&kept[i]);
        }
        pieces_free(&least);
    }
}

static double slow_behind(const struct pieces *before, const struct behind *behind, double x,
                          double sign) {
    double least = INFINITY;
    for (int half = -2; half <= 2 * SPAN + 20; half++) {
        const double at = half / 2.0, apart = sign * (x - at);
        if (apart >= behind->by - NEAR)
            least = fmin(least,
                         slow_value(before, at) + behind->weight * fmax(0, behind->rather - apart));
    }
    return least;
}

static void those_behind_and_ahead_cost_least_where_they_can(void **state) {
    (void)state;
    struct random_source source = {13};
    for (int trial = 0; trial < TRIALS; trial++) {
        struct pieces one, after = {.list = NULL}, ahead = {.list = NULL};
        struct behind behind = {.by = random_between(&source, 1, 5)};
        behind.rather = behind.by + random_between(&source, 0, 4);
        behind.weight = random_between(&source, 0, 3);
        make(&source, &one);
        assert_true(pieces_behind(&one, &behind, 60, 7, &after) &&
                    pieces_ahead(&one, &behind, -30, &ahead));
        for (int whole = 0; whole <= SPAN + 16; whole++) {
            const double least = slow_behind(&one, &behind, whole, 1);
            double before = INFINITY, at = 0;
            if (!same(slow_value(&after, whole), least))
                fail_msg("trial %d at %d: %g, not %g", trial, whole, slow_value(&after, whole),
                         least);
            assert_true(
                same(slow_value(&ahead, whole - 16), slow_behind(&one, &behind, whole - 16, -1)));
            for (size_t i = 0; i < one.count; i++)
                before = fmin(before, piece_before(&one.list[i], &behind, whole, &at));
            assert_true(same(before, least));
        }
        pieces_free(&one);
        pieces_free(&after);
        pieces_free(&ahead);
    }
}

/* Whether a function of one hinge, and so much more, is allowed anywhere, and from where to where.
 */
static void what_is_allowed_is_found(void **state) {
    (void)state;
    struct random_source source = {14};
    size_t nowhere = 0;
    for (int trial = 0; trial < TRIALS; trial++) {
        struct pieces most;
        struct lack lack = {.base = random_between(&source, 0, 2)};
        const double lo = random_between(&source, 0, SPAN);
        lack_window(&lack, lo, lo + random_between(&source, 0, 3), 1);
        lack_settle(&lack);
        make(&source, &most);
        struct interval within = {random_between(&source, 0, 9), 0}, expected;
        within.hi = within.lo + random_between(&source, 0, 9);
        expected = (struct interval){INFINITY, -INFINITY};
        double largest, expected_largest = -INFINITY;
        for (int part = (int)(12 * within.lo); part <= (int)(12 * within.hi); part++) {
            const double at = part / 12.0; /* slopes differ by 3 at the most */
            double room = -INFINITY;       /* of pieces that meet, the one that allows more */
            for (size_t i = 0; i < most.count; i++) {
                const struct pieces alone = {.list = &most.list[i], .count = 1};
                const double value_there = slow_value(&alone, at);
                if (!isinf(value_there))
                    room = fmax(room, value_there);
            }
            if (lack_at(&lack, at) + 1 > room + NEAR)
                continue;
            expected.lo = fmin(expected.lo, at);
            expected.hi = fmax(expected.hi, at);
            expected_largest = fmax(expected_largest, room);
        }
        const bool allowed = pieces_allow(&most, &lack, 1, &within, &largest);
        assert_int_equal(allowed, expected.lo <= expected.hi);
        nowhere += !allowed;
        if (allowed && (fabs(within.lo - expected.lo) > 1e-6 ||
                        fabs(within.hi - expected.hi) > 1e-6 || largest < expected_largest - 1e-6))
            fail_msg("trial %d: %g to %g and %g, not %g to %g and %g", trial, within.lo, within.hi,
                     largest, expected.lo, expected.hi, expected_largest);
        pieces_free(&most);
    }
    assert_true(nowhere > TRIALS / 10 && nowhere < TRIALS - TRIALS / 10);
}

/* On whole places only, where all turns are. */
static double lowest_with(const struct pieces *pieces, double want) {
    double lowest = INFINITY;
    for (int whole = 0; whole <= SPAN + 4; whole++)
        lowest = fmin(lowest, slow_value(pieces, whole) + fabs(whole - want));
    return lowest;
}

static void ways_and_hinges_are_added(void **state) {
    (void)state;
    struct random_source source = {15};
    for (int trial = 0; trial < TRIALS / 4; trial++) {
        struct pieces one, with, hinged = {.list = NULL};
        struct lack lack = {.base = 1};
        const double want = random_between(&source, 0, SPAN), lo = random_between(&source, 0, SPAN);
        lack_window(&lack, lo, lo + random_between(&source, 0, 4), 2);
        make(&source, &one);
        assert_true(pieces_copy(&one, &with) && pieces_add_way(&with, want));
        assert_true(
            pieces_add_lack(&hinged, &lack, (struct interval){2, 20}, (struct scale){3, 5}, 0));
        for (int half = 4; half <= 40; half++) {
            const double at = half / 2.0;
            assert_true(same(slow_value(&with, at), slow_value(&one, at) + fabs(at - want)));
            assert_true(same(slow_value(&hinged, at), 5 + 3 * lack_at(&lack, at)));
        }
        pieces_turn(&with, 50);
        pieces_turn(&with, 50);
        assert_true(same(pieces_lowest(&with, &(double){0}), lowest_with(&one, want)));
        pieces_free(&one);
        pieces_free(&with);
        pieces_free(&hinged);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(least_and_sum_are_those_of_the_values),
        cmocka_unit_test(least_of_many_is_below_all),
        cmocka_unit_test(those_behind_and_ahead_cost_least_where_they_can),
        cmocka_unit_test(what_is_allowed_is_found),
        cmocka_unit_test(ways_and_hinges_are_added),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
