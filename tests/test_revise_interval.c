/* What holes say of one member, against every position on a fine grid. */
#include "revise.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define HALF 0.75
#define MARK 0.0625
#define GRID 512 /* positions an inch: a power of two, so that every one is exact */

enum { SETS = 500 };

/* A small generator of our own (xorshift, Marsaglia 2003), so that every run is the same. */
static uint32_t next(uint32_t *state) {
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

static bool agrees(const struct probe *probes, size_t count, double at) {
    for (size_t i = 0; i < count; i++) {
        const double off = fabs(probes[i].off - at);
        if ((probes[i].found == DRILL_WOOD && off > probes[i].half) ||
            (probes[i].found == DRILL_AIR && off < probes[i].half) ||
            (probes[i].found == DRILL_EDGE && fabs(off - probes[i].half) > MARK))
            return false;
    }
    return true;
}

static bool inside(const struct pieces_left *left, double at) {
    for (size_t i = 0; i < left->count; i++)
        if (at >= left->from[i] && at <= left->to[i])
            return true;
    return false;
}

/* Half of the sets are true of some position, half are made up. */
static size_t draw(uint32_t *state, struct probe *probes) {
    const size_t count = 1 + next(state) % 5;
    const bool truthful = next(state) % 2 == 0;
    const double truth = ((int)(next(state) % 65) - 32) / 16.0;
    for (size_t i = 0; i < count; i++) {
        const double off = ((int)(next(state) % 97) - 48) / 16.0;
        const double from_face = fabs(off - truth) - HALF;
        enum drill found = fabs(from_face) <= MARK ? DRILL_EDGE
                           : from_face < 0         ? DRILL_WOOD
                                                   : DRILL_AIR;
        probes[i] = (struct probe){off, HALF, truthful ? found : (enum drill)(next(state) % 3)};
    }
    return count;
}

static void five_hundred_drilled_sets_leave_what_a_fine_grid_leaves(void **unused) {
    (void)unused;
    uint32_t state = 20240607;
    size_t seen[KNOWLEDGE_CONTRADICTED + 1] = {0};
    for (size_t set = 0; set < SETS; set++) {
        struct probe probes[8];
        const size_t count = draw(&state, probes);
        struct learned learned;
        struct pieces_left left;
        double low = INFINITY, high = -INFINITY;
        bool near = false;
        interval_left(probes, count, 2, MARK, &left);
        interval_learn(probes, count, 0.125, 2, MARK, HALF, &learned);
        for (int step = -2 * GRID; step <= 2 * GRID; step++) {
            const double at = (double)step / GRID;
            const bool good = agrees(probes, count, at);
            if (good != inside(&left, at))
                fail_msg("set %zu: %g is %s", set, at, good ? "lost" : "kept");
            near = near || (good && fabs(at) <= 0.125);
            low = good ? fmin(low, at) : low;
            high = good ? fmax(high, at) : high;
        }
        seen[learned.knowledge]++;
        assert_int_equal(learned.knowledge == KNOWLEDGE_STANDS, near);
        assert_int_equal(learned.knowledge == KNOWLEDGE_CONTRADICTED, !near && !(low <= high));
        if (learned.knowledge == KNOWLEDGE_MOVED &&
            (!(fabs(learned.shift - (low + high) / 2) <= 1e-9) ||
             !(fabs(learned.tolerance - (high - low) / 2) <= 1e-9) || !(high - low <= 0.25)))
            fail_msg("set %zu: moved by %g to %g", set, learned.shift, learned.tolerance);
    }
    for (int i = 0; i <= KNOWLEDGE_CONTRADICTED; i++)
        assert_true(seen[i] >= 10); /* every outcome was met */
}

/* Air at 0 leaves -2 ... -3/4 and 3/4 ... 2: 2 1/2 in two pieces.  A probe at u finds wood for
 * u - 3/4 ... u + 3/4; u = 1 1/2 covers just 3/4 ... 2, half of it; 1 1/4 is the nearest such. */
static void one_miss_leaves_two_pieces_and_a_probe_that_halves_them(void **unused) {
    (void)unused;
    const struct probe miss = {0, HALF, DRILL_AIR};
    struct learned learned;
    interval_learn(&miss, 1, 0.125, 2, MARK, HALF, &learned);
    assert_int_equal(learned.knowledge, KNOWLEDGE_OPEN);
    assert_int_equal(learned.left.count, 2);
    double share = 0;
    for (size_t i = 0; i < 2; i++)
        share += fmax(0, fmin(learned.left.to[i], learned.probe + HALF) -
                             fmax(learned.left.from[i], learned.probe - HALF));
    if (!(fabs(share - 1.25) <= 1e-9) || !(fabs(fabs(learned.probe) - 1.25) <= 1e-9))
        fail_msg("probe at %g covers %g", learned.probe, share);
}

/* A miss between two faces 1/2 in either side of the tolerance is no news. */
static void miss_that_the_tolerance_allows_leaves_the_survey(void **unused) {
    (void)unused;
    const struct probe probes[] = {{0.75, HALF, DRILL_AIR}, {0, HALF, DRILL_WOOD}};
    struct learned learned;
    interval_learn(probes, 2, 0.125, 2, MARK, HALF, &learned);
    assert_int_equal(learned.knowledge, KNOWLEDGE_STANDS);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(five_hundred_drilled_sets_leave_what_a_fine_grid_leaves),
        cmocka_unit_test(one_miss_leaves_two_pieces_and_a_probe_that_halves_them),
        cmocka_unit_test(miss_that_the_tolerance_allows_leaves_the_survey),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
