/* Packing brackets into their spots, against every choice there is: lengths are whole inches, and
 * then a best packing lies on whole inches too (orders and bounds are differences, so the program
 * is totally unimodular; Schrijver, Theory of Linear and Integer Programming, 1986, chapter 19,
 * from memory). */
#include "packing.h"
#include "random_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { PARCELS_MOST = 3, SPOTS = 3, ALONG = 16, UP = 9 };
enum { CROWD = 4 };

struct trial {
    struct parcel parcels[PARCELS_MOST];
    struct spot spots[PARCELS_MOST][SPOTS];
    size_t count;
    double hole_worth;
};

static double between(struct random_source *source, int lo, int hi) {
    return random_between(source, lo, hi);
}

static void make(uint64_t seed, struct trial *trial) {
    struct random_source source = {seed};
    trial->count = (size_t)random_between(&source, 2, PARCELS_MOST);
    trial->hole_worth = between(&source, 1, 6);
    for (size_t b = 0; b < trial->count; b++) {
        trial->parcels[b] = (struct parcel){.width = between(&source, 2, 5),
                                            .height = between(&source, 2, 4),
                                            .want_x = between(&source, 0, ALONG),
                                            .want_y = between(&source, 0, UP),
                                            .room = between(&source, 0, 2),
                                            .spots = trial->spots[b],
                                            .spot_count = SPOTS};
        for (size_t i = 0; i < SPOTS; i++) {
            struct spot *spot = &trial->spots[b][i];
            spot->x.lo = between(&source, 0, ALONG - 1);
            spot->x.hi = fmin(ALONG - 1, spot->x.lo + between(&source, 0, 4));
            spot->y.lo = between(&source, 0, UP - 1);
            spot->y.hi = fmin(UP - 1, spot->y.lo + between(&source, 0, 3));
            spot->stand = i;
            spot->miss = NULL;
            spot->holes = (size_t)random_between(&source, 2, 5);
        }
    }
}

static bool apart(const struct parcel *one, const struct parcel *other, const double a[2],
                  const double b[2]) {
    const double room = fmax(one->room, other->room);
    return a[0] + one->width + room <= b[0] || b[0] + other->width + room <= a[0] ||
           a[1] + one->height + room <= b[1] || b[1] + other->height + room <= a[1];
}

/* The cost of a parcel at a place, with the fewest holes there; INFINITY where it has no spot. */
static double alone(const struct trial *trial, size_t b, const double at[2]) {
    const struct parcel *parcel = &trial->parcels[b];
    double best = INFINITY;
    for (size_t i = 0; i < SPOTS; i++) {
        const struct spot *spot = &trial->spots[b][i];
        if (at[0] >= spot->x.lo && at[0] <= spot->x.hi && at[1] >= spot->y.lo &&
            at[1] <= spot->y.hi)
            best = fmin(best, fabs(at[0] - parcel->want_x) + fabs(at[1] - parcel->want_y) +
                                  trial->hole_worth * (double)spot->holes);
    }
    return best;
}

static double try_all(const struct trial *trial, size_t b, double placed[][2]) {
    double best = INFINITY;
    if (b >= trial->count || b >= PARCELS_MOST)
        return 0;
    for (int x = 0; x < ALONG; x++)
        for (int y = 0; y < UP; y++) {
            placed[b][0] = x;
            placed[b][1] = y;
            const double own = alone(trial, b, placed[b]);
            bool fits = own < INFINITY;
            for (size_t o = 0; o < b && fits; o++)
                fits = apart(&trial->parcels[o], &trial->parcels[b], placed[o], placed[b]);
            if (fits)
                best = fmin(best, own + try_all(trial, b + 1, placed));
        }
    return best;
}

static void hold_packing(const struct trial *trial, const struct placed *placed, double cost,
                         uint64_t seed) {
    double sum = 0;
    for (size_t b = 0; b < trial->count; b++) {
        const double at[2] = {placed[b].x, placed[b].y};
        sum += fabs(at[0] - trial->parcels[b].want_x) + fabs(at[1] - trial->parcels[b].want_y) +
               trial->hole_worth * (double)placed[b].spot.holes;
        assert_true(at[0] >= placed[b].spot.x.lo - 1e-6 && at[0] <= placed[b].spot.x.hi + 1e-6);
        for (size_t o = 0; o < b; o++) {
            const double other[2] = {placed[o].x, placed[o].y};
            if (!apart(&trial->parcels[o], &trial->parcels[b], other, at))
                fail_msg("seed %llu: %zu and %zu overlap", (unsigned long long)seed, o, b);
        }
    }
    assert_true(fabs(sum - cost) < 1e-6);
}

static void best_packing_is_the_best_of_all(void **state) {
    (void)state;
    size_t found = 0;
    for (uint64_t seed = 1; seed <= 400; seed++) {
        struct trial trial;
        struct placed placed[PARCELS_MOST];
        double tried[PARCELS_MOST][2];
        struct worth worth = {0, 0}, bound = {0, 0};
        enum packing_end end;
        make(seed, &trial);
        const struct packing_task task = {
            .parcels = trial.parcels, .count = trial.count, .hole_worth = trial.hole_worth};
        assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
        const double best = try_all(&trial, 0, tried);
        assert_int_equal(end, best < INFINITY ? PACKING_PROVED : PACKING_NONE);
        if (end == PACKING_NONE)
            continue;
        found++;
        if (!(fabs(worth.cost - best) < 1e-6))
            fail_msg("seed %llu: costs %g, best %g", (unsigned long long)seed, worth.cost, best);
        hold_packing(&trial, placed, worth.cost, seed);
    }
    assert_true(found > 100 && found < 400);
}

/* Whether any packing exists does not hang on what it costs. */
static void any_packing_is_found_where_there_is_one(void **state) {
    (void)state;
    for (uint64_t seed = 1; seed <= 200; seed++) {
        struct trial trial;
        struct placed placed[PARCELS_MOST];
        struct worth worth, bound;
        enum packing_end any, best;
        make(seed, &trial);
        struct packing_task task = {
            .parcels = trial.parcels, .count = trial.count, .hole_worth = trial.hole_worth};
        assert_int_equal(packing_find(&task, &best, placed, &worth, &bound), OUTCOME_DONE);
        task.any = true;
        assert_int_equal(packing_find(&task, &any, placed, &worth, &bound), OUTCOME_DONE);
        assert_int_equal(any, best);
    }
}

/* Parcels alike, which are only looked at in one order, still pack wherever they can; nodes: gone
 * through at most. */
static size_t pack_alike(size_t nodes) {
    size_t none = 0, said = 0;
    for (uint64_t seed = 1; seed <= 400; seed++) {
        struct trial trial;
        struct placed placed[PARCELS_MOST];
        double tried[PARCELS_MOST][2];
        struct worth worth, bound;
        enum packing_end end;
        make(seed, &trial);
        trial.parcels[0].width += 4;
        trial.parcels[0].height += 3;
        for (size_t b = 1; b < trial.count; b++) {
            trial.parcels[b] = trial.parcels[0]; /* and its very spots */
            memcpy(trial.spots[b], trial.spots[0], sizeof trial.spots[0]);
        }
        const struct packing_task task = {.parcels = trial.parcels,
                                          .count = trial.count,
                                          .hole_worth = trial.hole_worth,
                                          .any = true,
                                          .most_nodes = nodes};
        assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
        if (nodes > 0 && end == PACKING_UNDECIDED)
            continue;
        said++;
        const bool can = try_all(&trial, 0, tried) < INFINITY;
        assert_int_equal(end, can ? PACKING_PROVED : PACKING_NONE);
        none += !can;
        if (can)
            hold_packing(&trial, placed, worth.cost, seed);
    }
    assert_true(none > 100 && none < 300);
    return said;
}

static void any_packing_of_parcels_alike_is_found_where_there_is_one(void **state) {
    (void)state;
    assert_int_equal(pack_alike(0), 400);
}

/* What is said before anything is searched for is so. */
static void one_node_says_of_parcels_alike_what_is_so(void **state) {
    (void)state;
    assert_true(pack_alike(1) > 380);
}

static bool stop_when_asked(void *subject) {
    *(bool *)subject = true;
    return true;
}

/* Four frames that all want the middle of one wide spot: the search is not over when it is first
 * asked whether to go on.  Whatever it then says, the whole search bears it out. */
static void stopped_search_claims_no_more_than_it_knows(void **state) {
    (void)state;
    static const struct spot plane = {.x = {0, 40}, .y = {0, 30}, .holes = 4};
    struct parcel parcels[CROWD];
    struct placed placed[CROWD];
    struct worth worth, bound = {0, 0}, best = {0, 0}, proved;
    enum packing_end end;
    bool asked = false;
    for (size_t b = 0; b < CROWD; b++)
        parcels[b] = (struct parcel){.width = 6 + (double)(b % 3),
                                     .height = 5 + (double)(b % 2),
                                     .want_x = 20,
                                     .want_y = 15,
                                     .room = 1,
                                     .spots = &plane,
                                     .spot_count = 1};
    struct packing_task task = {.parcels = parcels,
                                .count = CROWD,
                                .hole_worth = 1,
                                .stop = stop_when_asked,
                                .subject = &asked};
    assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
    assert_true(asked && (end == PACKING_UNDECIDED || end == PACKING_FOUND));
    task.stop = NULL;
    assert_int_equal(packing_find(&task, &end, placed, &best, &proved), OUTCOME_DONE);
    assert_int_equal(end, PACKING_PROVED);
    assert_true(bound.cost <= best.cost + 1e-6);
}

/* A row in which each frame stands as close to the next as it may, or closer by as little as levels
 * are off that a program has found: it is packed whatever is wanted. */
#define ROUNDING 2e-10
static void row_that_just_fits_is_packed(void **state) {
    (void)state;
    static const struct lack none = {.flat = {-INFINITY, INFINITY}};
    static const struct miss nothing = {.lack = {&none, &none}, .held = {&none, &none}};
    struct random_source source = {5};
    for (int trial = 0; trial < 300; trial++) {
        struct parcel parcels[CROWD];
        struct spot spots[CROWD][2];
        struct placed placed[CROWD];
        struct worth worth, bound;
        enum packing_end end;
        const double width = between(&source, 700, 900) / 16.0;
        const double room = between(&source, -20, 120) / 10.0;
        const double first = between(&source, 0, 999) / 48.0;
        for (size_t i = 0; i < CROWD; i++) {
            const double x = first + (double)i * (width + room - ROUNDING);
            const size_t b = (i * 3 + (size_t)trial) % CROWD;
            spots[b][0] = (struct spot){.x = {x, x}, .y = {1, 2}, .holes = 4, .miss = &nothing};
            spots[b][1] = spots[b][0];
            if (random_once_in(&source, 2))
                spots[b][1].x.lo -= between(&source, 1, 9) / 7.0;
            else
                spots[b][1].x.hi += between(&source, 1, 9) / 7.0;
            parcels[b] = (struct parcel){.width = width,
                                         .height = 5,
                                         .want_x = between(&source, 0, 200),
                                         .room = room,
                                         .spots = spots[b],
                                         .spot_count = 2,
                                         .inside = {{-INFINITY, INFINITY}, {-INFINITY, INFINITY}}};
        }
        for (int kind = 0; kind < 3; kind++) {
            const struct packing_task task = {.parcels = parcels,
                                              .count = CROWD,
                                              .hole_worth = 1,
                                              .any = kind == 1,
                                              .misses = kind == 2};
            assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
            if (end != PACKING_PROVED)
                fail_msg("trial %d, kind %d: ended with %d", trial, kind, (int)end);
        }
    }
}

/* One place that only the last of them can have, which the first is closest to: a search that is
 * given up at once squeezes them in all the same. */
static void whoever_found_no_place_comes_first(void **state) {
    (void)state;
    enum { LAST = 8, ALL };
    struct parcel parcels[ALL];
    struct spot wide = {.x = {0, 200}, .y = {0, 0}, .holes = 4};
    struct spot narrow = {.x = {0, 0}, .y = {0, 0}, .holes = 4};
    struct placed placed[ALL];
    struct worth worth, bound;
    enum packing_end end;
    for (size_t b = 0; b < ALL; b++)
        parcels[b] = (struct parcel){.width = 10 + (double)b,
                                     .height = 5,
                                     .spots = b == LAST ? &narrow : &wide,
                                     .spot_count = 1,
                                     .inside = {{-INFINITY, INFINITY}, {-INFINITY, INFINITY}}};
    const struct packing_task task = {
        .parcels = parcels, .count = ALL, .hole_worth = 1, .any = true, .most_nodes = 1};
    assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
    assert_int_equal(end, PACKING_PROVED);
    for (size_t a = 0; a < ALL; a++)
        for (size_t b = a + 1; b < ALL; b++)
            assert_true(placed[a].x + parcels[a].width <= placed[b].x + 1e-6 ||
                        placed[b].x + parcels[b].width <= placed[a].x + 1e-6);
    assert_true(fabs(placed[LAST].x) < 1e-6);
}

/* What is as good as something that is known is of no use, what is better is. */
static void only_what_is_better_is_packed(void **state) {
    (void)state;
    size_t asked = 0;
    for (uint64_t seed = 1; seed <= 200; seed++) {
        struct trial trial;
        struct placed placed[PARCELS_MOST];
        struct worth worth, bound, than, better;
        enum packing_end end;
        make(seed, &trial);
        struct packing_task task = {
            .parcels = trial.parcels, .count = trial.count, .hole_worth = trial.hole_worth};
        assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
        if (end != PACKING_PROVED)
            continue;
        asked++;
        than = worth;
        task.than = &than;
        assert_int_equal(packing_find(&task, &end, placed, &better, &bound), OUTCOME_DONE);
        assert_int_equal(end, PACKING_NONE);
        than.cost += 0.5;
        assert_int_equal(packing_find(&task, &end, placed, &better, &bound), OUTCOME_DONE);
        assert_int_equal(end, PACKING_PROVED);
        assert_true(fabs(better.cost - worth.cost) < 1e-6);
        hold_packing(&trial, placed, better.cost, seed);
    }
    assert_true(asked > 50);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(best_packing_is_the_best_of_all),
        cmocka_unit_test(any_packing_is_found_where_there_is_one),
        cmocka_unit_test(any_packing_of_parcels_alike_is_found_where_there_is_one),
        cmocka_unit_test(one_node_says_of_parcels_alike_what_is_so),
        cmocka_unit_test(stopped_search_claims_no_more_than_it_knows),
        cmocka_unit_test(row_that_just_fits_is_packed),
        cmocka_unit_test(whoever_found_no_place_comes_first),
        cmocka_unit_test(only_what_is_better_is_packed),
    };
    return cmocka_run_group_tests_name("packing", tests, NULL, NULL);
}
