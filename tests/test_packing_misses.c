/* Packings in spots where rules are missed, against every choice there is.  Lengths and hinges are
 * whole inches: as in test_packing.c a best packing then lies on whole inches too, since what is
 * lacked is a sum of hinges of single places and of differences. */
#include "packing.h"
#include "random_roof.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

enum { PARCELS_MOST = 3, SPOTS = 3, ALONG = 14, UP = 8, AXES = 2 };

struct trial {
    struct parcel parcels[PARCELS_MOST];
    struct spot spots[PARCELS_MOST][SPOTS];
    struct miss misses[PARCELS_MOST][SPOTS];
    struct lack lacks[PARCELS_MOST][SPOTS][AXES], held[PARCELS_MOST][SPOTS];
    size_t count;
    double hole_worth, apart;
};

static double between(struct random_source *source, int lo, int hi) {
    return random_between(source, lo, hi);
}

static void make_lack(struct random_source *source, int most, struct lack *lack) {
    *lack = (struct lack){.base = random_once_in(source, 3)};
    for (int i = random_between(source, -2, 2); i > 0; i--) {
        const double lo = between(source, 0, most);
        /* the larger of two sides that pass each other by an even distance meets on a whole inch */
        lack_window(lack, lo, lo + 2 * between(source, -1, 2), between(source, 1, 2));
    }
    lack_settle(lack);
}

/* A spot; its setbacks, along the eave alone, are those of its parcel. */
static void make_spot(struct random_source *source, struct trial *trial, size_t b, size_t i) {
    struct spot *spot = &trial->spots[b][i];
    struct miss *miss = &trial->misses[b][i];
    *spot = (struct spot){.holes = (size_t)random_between(source, 2, 5), .miss = miss};
    spot->x.lo = between(source, 0, ALONG - 1);
    spot->x.hi = fmin(ALONG - 1, spot->x.lo + between(source, 0, 6));
    spot->y.lo = between(source, 0, UP - 1);
    spot->y.hi = fmin(UP - 1, spot->y.lo + between(source, 0, 4));
    make_lack(source, ALONG, &trial->lacks[b][i][0]);
    make_lack(source, UP, &trial->lacks[b][i][1]);
    trial->held[b][i] = trial->lacks[b][i][0];
    lack_window(&trial->held[b][i], trial->parcels[b].inside[0].lo, trial->parcels[b].inside[0].hi,
                1);
    lack_settle(&trial->held[b][i]);
    *miss = (struct miss){.lack = {&trial->lacks[b][i][0], &trial->lacks[b][i][1]},
                          .held = {&trial->held[b][i], &trial->lacks[b][i][1]},
                          .edge = {true, false}};
}

static void make(uint64_t seed, struct trial *trial) {
    struct random_source source = {seed};
    trial->count = (size_t)random_between(&source, 1, PARCELS_MOST);
    trial->hole_worth = between(&source, 1, 6);
    trial->apart = 2 * between(&source, 0, 2);
    for (size_t b = 0; b < trial->count; b++) {
        trial->parcels[b] =
            (struct parcel){.width = between(&source, 3, 7),
                            .height = between(&source, 3, 6),
                            .want_x = between(&source, 0, ALONG),
                            .want_y = between(&source, 0, UP),
                            .room = between(&source, -1, 5),
                            .spots = trial->spots[b],
                            .spot_count = SPOTS,
                            .inside = {{between(&source, 0, 4), 0}, {-INFINITY, INFINITY}}};
        struct interval *inside = &trial->parcels[b].inside[0];
        inside->hi = inside->lo + 2 * between(&source, -1, 6);
        for (size_t i = 0; i < SPOTS; i++)
            make_spot(&source, trial, b, i);
    }
}

static double gap(const struct parcel *one, const struct parcel *other, const double a[2],
                  const double b[2]) {
    return fmax(fmax(b[0] - a[0] - one->width, a[0] - b[0] - other->width),
                fmax(b[1] - a[1] - one->height, a[1] - b[1] - other->height));
}

static double slow_lack(const struct lack *lack, double x) {
    double sum = lack->base;
    for (size_t i = 0; i < lack->count; i++)
        sum += lack->hinges[i].below * fmax(0, lack->hinges[i].at - x) +
               lack->hinges[i].above * fmax(0, x - lack->hinges[i].at);
    return sum;
}

static bool less(struct worth a, struct worth b) {
    return a.lack < b.lack - 1e-9 || (a.lack <= b.lack + 1e-9 && a.cost < b.cost);
}

/* What the spot at that place is worth; INFINITY where it does not reach there. */
static struct worth worth_in(const struct trial *trial, size_t b, size_t i, const double at[2]) {
    const struct parcel *parcel = &trial->parcels[b];
    const struct spot *spot = &trial->spots[b][i];
    const struct interval *inside = &parcel->inside[0];
    if (at[0] < spot->x.lo || at[0] > spot->x.hi || at[1] < spot->y.lo || at[1] > spot->y.hi)
        return (struct worth){INFINITY, INFINITY};
    return (struct worth){slow_lack(&trial->lacks[b][i][0], at[0]) +
                              slow_lack(&trial->lacks[b][i][1], at[1]) +
                              fmax(0, fmax(inside->lo - at[0], at[0] - inside->hi)),
                          fabs(at[0] - parcel->want_x) + fabs(at[1] - parcel->want_y) +
                              trial->hole_worth * (double)spot->holes};
}

static struct worth try_all(const struct trial *trial, size_t b, double placed[][2]) {
    struct worth best = {INFINITY, INFINITY};
    if (b >= trial->count || b >= PARCELS_MOST)
        return (struct worth){0, 0};
    for (int x = 0; x < ALONG; x++)
        for (int y = 0; y < UP; y++) {
            struct worth own = {INFINITY, INFINITY};
            placed[b][0] = x;
            placed[b][1] = y;
            for (size_t i = 0; i < SPOTS; i++) {
                const struct worth worth = worth_in(trial, b, i, placed[b]);
                own = less(worth, own) ? worth : own;
            }
            for (size_t o = 0; o < b && own.lack < INFINITY; o++) {
                const struct parcel *one = &trial->parcels[o], *other = &trial->parcels[b];
                const double between_them = gap(one, other, placed[o], placed[b]);
                own.lack += between_them < fmax(one->room, other->room)
                                ? INFINITY
                                : fmax(0, (trial->apart - between_them) / 2);
            }
            if (!(own.lack < INFINITY))
                continue;
            const struct worth rest = try_all(trial, b + 1, placed);
            const struct worth all = {own.lack + rest.lack, own.cost + rest.cost};
            best = less(all, best) ? all : best;
        }
    return best;
}

static void least_lack_comes_before_least_cost(void **state) {
    (void)state;
    size_t found = 0, lacking = 0;
    for (uint64_t seed = 1; seed <= 300; seed++) {
        struct trial trial;
        struct placed placed[PARCELS_MOST];
        double tried[PARCELS_MOST][2];
        struct worth worth = {0, 0}, bound = {0, 0};
        enum packing_end end;
        make(seed, &trial);
        const struct packing_task task = {.parcels = trial.parcels,
                                          .count = trial.count,
                                          .hole_worth = trial.hole_worth,
                                          .misses = true,
                                          .apart = trial.apart};
        assert_int_equal(packing_find(&task, &end, placed, &worth, &bound), OUTCOME_DONE);
        const struct worth best = try_all(&trial, 0, tried);
        assert_int_equal(end, best.lack < INFINITY ? PACKING_PROVED : PACKING_NONE);
        if (end == PACKING_NONE)
            continue;
        found++;
        lacking += best.lack > 0;
        if (!(fabs(worth.lack - best.lack) < 1e-6 && fabs(worth.cost - best.cost) < 1e-6))
            fail_msg("seed %llu: lacks %g and costs %g, best %g and %g", (unsigned long long)seed,
                     worth.lack, worth.cost, best.lack, best.cost);
    }
    if (!(found > 100 && lacking > 50 && lacking < found && found < 300))
        fail_msg("%zu found, %zu of them lacking", found, lacking);
}

/* A line wants to be at 10 to 12, three inches an inch; its height above Y to be 4 to 5, one inch
 * an inch; it may be at 8 to 14, its height 2 to 7.  Y = 4 to 8 lacks nothing (10 - 5 = 5 to 12 - 4
 * = 8 does, and 4 to 5 misses by an inch at most).  At Y = 3 the line could be at 10 with 7 above
 * Y, two too many: 2.  At Y = 2 it is at 9, seven above Y: 3 + 2.  At Y = 10 it is at 12, two
 * above: 2; at Y = 11 at 13: 3 + 2. */
static void line_and_bracket_share_what_they_lack(void **state) {
    (void)state;
    struct lack line = {.base = 0}, met = {.base = 0}, both = {.base = 0};
    lack_window(&line, 10, 12, 3);
    lack_window(&met, 4, 5, 1);
    const struct interval line_in = {8, 14}, met_in = {2, 7};
    const struct interval y = lack_meet(&line, line_in, &met, met_in, &both);
    lack_settle(&both);
    static const double expected[][2] = {{1, 8}, {2, 5}, {3, 2},  {4, 1},  {5, 0},
                                         {8, 0}, {9, 1}, {10, 2}, {11, 5}, {12, 8}};
    assert_true(fabs(y.lo - 1) < 1e-12 && fabs(y.hi - 12) < 1e-12);
    for (size_t i = 0; i < sizeof expected / sizeof *expected; i++) {
        const double at = expected[i][0], lack = lack_at(&both, at);
        if (!(fabs(lack - expected[i][1]) < 1e-9))
            fail_msg("at %g: %g, not %g", at, lack, expected[i][1]);
        const struct interval best = lack_line(&line, line_in, &met, met_in, at).at;
        const double own = (best.lo + best.hi) / 2;
        assert_true(fabs(lack_at(&line, own) + lack_at(&met, own - at) - lack) < 1e-9);
    }
    assert_true(fabs(both.flat.lo - 5) < 1e-12 && fabs(both.flat.hi - 8) < 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(least_lack_comes_before_least_cost),
        cmocka_unit_test(line_and_bracket_share_what_they_lack),
    };
    return cmocka_run_group_tests_name("packing_misses", tests, NULL, NULL);
}
