/* What a bracket may lack by its X: never more than it does in any of its spots; and the spots
 * gathered by what is allowed where lack as little there as all do. */
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

enum { SEEDS_MOST = 160, SEEDS_FEW = 48, SAMPLES = 40, ROOM = 100000 };
#define NEAR 1e-6    /* inches */
#define BEYOND 0.125 /* inches that lines are moved beyond what costs nothing */

/* So many roofs, fewer where RUDDLE_ROOFS asks for a quick run. */
static uint64_t seeds_wanted(void) {
    return random_roof_count(SEEDS_MOST) < SEEDS_MOST ? SEEDS_FEW : SEEDS_MOST;
}

/* Roofs on which nothing fits, mostly, and one vent at the most. */
static struct roof *read_narrow(const char *folder, uint64_t seed) {
    const struct random_knobs knobs = {.seed = seed,
                                       .brackets = 1,
                                       .vents = seed % 2,
                                       .small = seed % 3 != 0,
                                       .narrow = true,
                                       .sisters = true,
                                       .unsound = seed % 5 == 0};
    struct random_roof made;
    random_roof_make(&knobs, &made);
    return random_roof_read(&made, RANDOM_PLAIN, folder, NULL);
}

static struct misses *gather(struct stands *stands, double level, const struct pieces *allowed) {
    const struct misses_ask ask = {.level = level, .most = 1e3, .allowed = allowed, .room = ROOM};
    struct misses *misses = NULL;
    assert_int_equal(stands_misses(stands, &ask, &misses), OUTCOME_DONE);
    return misses;
}

/* The least that the spots lack at an X. */
static double least_at(const struct misses *misses, double x) {
    double least = INFINITY;
    for (size_t i = 0; i < misses->count; i++) {
        const struct spot *spot = &misses->spots[i];
        double up;
        if (x < spot->x.lo || x > spot->x.hi)
            continue;
        lack_best(spot->miss->held[1], spot->y, &up);
        least = fmin(least, lack_at(spot->miss->held[0], x) + up);
    }
    return least;
}

static double value(const struct pieces *pieces, double at) {
    double found;
    pieces_at(pieces, at, NEAR, &found);
    return found;
}

/* What is allowed: a few straight pieces around what may be lacked at the least. */
static void allow(struct random_source *source, const struct pieces *lacks,
                  struct pieces *allowed) {
    const double from = lacks->list[0].from, to = lacks->list[lacks->count - 1].to;
    const double step = (to - from) / 4;
    for (int i = 0; i < 4; i++) {
        const double at = from + step * i, ends[2] = {value(lacks, at), value(lacks, at + step)};
        const double low = fmin(fmin(ends[0], ends[1]), 1e2);
        assert_true(pieces_add(
            allowed, (struct piece){at, at + step, low + random_between(source, 0, 16) / 8.0,
                                    low + random_between(source, 0, 16) / 8.0, 0}));
    }
}

static void hold_allowed(struct stands *stands, double level, const struct misses *all,
                         const struct pieces *lacks, uint64_t seed, size_t *fewer) {
    struct random_source source = {seed};
    struct pieces allowed = {.list = NULL};
    allow(&source, lacks, &allowed);
    struct misses *some = gather(stands, level, &allowed);
    assert_false(some->crowded);
    *fewer += some->count < all->count;
    const double from = lacks->list[0].from, to = lacks->list[lacks->count - 1].to;
    for (int i = 0; i <= SAMPLES; i++) {
        const double x = from + (to - from) * i / SAMPLES, least = least_at(all, x);
        const double found = least_at(some, x);
        if (found < least - NEAR || (least < value(&allowed, x) - NEAR && found > least + NEAR))
            fail_msg("seed %llu at %g: lacks %g, %g gathered, %g allowed", (unsigned long long)seed,
                     x, least, found, value(&allowed, x));
    }
    misses_free(some);
    pieces_free(&allowed);
}

static void no_spot_lacks_less_than_may_be_lacked(void **state) {
    size_t tried = 0, told = 0, fewer = 0;
    for (uint64_t seed = 1; seed <= seeds_wanted(); seed++) {
        struct roof *roof = read_narrow(*state, seed);
        struct stands *stands = NULL;
        const struct stands_ask ask = {.roof = roof, .most = 2000};
        const double level = -(double)(1 + seed % 4) / 4;
        const struct misses_ask asked = {.level = level};
        assert_int_equal(stands_find(&ask, level, &stands), OUTCOME_DONE);
        struct misses *all = gather(stands, level, NULL);
        struct pieces lacks = {.list = NULL};
        bool crowded = true;
        assert_int_equal(
            stands_lacks(stands, &asked, (struct interval){-INFINITY, INFINITY}, &lacks, &crowded),
            OUTCOME_DONE);
        if (!stands->crowded && !all->crowded && all->count > 0) {
            assert_false(crowded);
            assert_true(lacks.count > 0);
            tried++;
            for (int i = 0; i <= SAMPLES; i++) {
                const double x =
                    lacks.list[0].from +
                    (lacks.list[lacks.count - 1].to - lacks.list[0].from) * i / SAMPLES;
                const double least = least_at(all, x);
                told += fabs(value(&lacks, x) - least) < NEAR;
                if (value(&lacks, x) > least + NEAR)
                    fail_msg("seed %llu at %g: may lack %g, lacks %g", (unsigned long long)seed, x,
                             value(&lacks, x), least);
            }
            hold_allowed(stands, level, all, &lacks, seed, &fewer);
        }
        pieces_free(&lacks);
        misses_free(all);
        stands_free(stands);
        roof_free(roof);
    }
    /* Mostly it is the very truth, and leaves many spots out. */
    if (tried < seeds_wanted() / 2 || told < tried * SAMPLES / 2 || fewer < tried / 2)
        fail_msg("%zu tried, %zu told, %zu with fewer spots", tried, told, fewer);
}

/* Only what the bracket may be up the slope counts. */
static void less_room_up_the_slope_lacks_no_less(void **state) {
    size_t more = 0;
    for (uint64_t seed = 1; seed <= SEEDS_MOST / 4; seed++) {
        struct roof *roof = read_narrow(*state, seed);
        struct stands *stands = NULL;
        const struct stands_ask ask = {.roof = roof, .most = 2000};
        const struct misses_ask asked = {.level = -1};
        assert_int_equal(stands_find(&ask, -1, &stands), OUTCOME_DONE);
        const struct interval up = stands_up(stands, -1);
        struct pieces lacks[3] = {{.list = NULL}};
        const struct interval parts[3] = {
            up, {up.lo, (up.lo + up.hi) / 2}, {(up.lo + up.hi) / 2, up.hi}};
        bool crowded = false;
        for (int i = 0; i < 3; i++)
            assert_int_equal(stands_lacks(stands, &asked, parts[i], &lacks[i], &crowded),
                             OUTCOME_DONE);
        for (int i = 0; i <= SAMPLES && lacks[0].count > 0; i++) {
            const double x = lacks[0].list[0].from + i;
            const double whole = value(&lacks[0], x), low = value(&lacks[1], x),
                         high = value(&lacks[2], x);
            assert_true((isinf(whole) && isinf(low) && isinf(high)) ||
                        fabs(fmin(low, high) - whole) < NEAR);
            more += low > whole + NEAR || high > whole + NEAR;
        }
        for (int i = 0; i < 3; i++)
            pieces_free(&lacks[i]);
        stands_free(stands);
        roof_free(roof);
    }
    assert_true(more > 0);
}

/* A bracket's outer lags and lines, and what it then lacks, but for its own flashings, which may
 * get in each other's way. */
struct told {
    double first[ROW_COUNT], last[ROW_COUNT], line[ROW_COUNT], lack;
};

static struct told tell(const struct stands *stands, const struct spot *spot, double level,
                        const double at[2], const struct rather *rather) {
    struct told told = {.lack = 0};
    struct verdict *verdict = NULL;
    struct marks *marks = marks_in_spot(stands, spot, level, at, rather);
    assert_int_equal(check_marks(stands->roof, marks, &verdict), OUTCOME_DONE);
    for (size_t i = 0; i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        if (check_rule_counted(finding->rule) && finding->rule != RULE_APART)
            told.lack += fmax(0, -finding->margin);
    }
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *own = &marks->list[i];
        const bool begins = i == 0 || marks->list[i - 1].row != own->row;
        told.first[own->row] = begins ? own->x : told.first[own->row];
        told.last[own->row] = own->x;
        told.line[own->row] = own->y;
    }
    verdict_free(verdict);
    marks_free(marks);
    return told;
}

/* What the spot says is lacked there. */
static double said_of(const struct misses *misses, const struct spot *spot, const double at[2]) {
    return lack_at(spot->miss->lack[0], at[0]) + lack_at(spot->miss->lack[1], at[1]) +
           fmax(lack_beyond(misses->inside[0], at[0]), lack_beyond(misses->inside[1], at[1]));
}

/* The least that is lacked at a place, on that many holes at the most. */
static double least_on(const struct misses *misses, const double at[2], size_t holes) {
    double least = INFINITY;
    for (size_t i = 0; i < misses->count; i++) {
        const struct spot *spot = &misses->spots[i];
        if (spot->holes <= holes && at[0] >= spot->x.lo - NEAR && at[0] <= spot->x.hi + NEAR &&
            at[1] >= spot->y.lo - NEAR && at[1] <= spot->y.hi + NEAR)
            least = fmin(least, said_of(misses, spot, at));
    }
    return least;
}

/* Struts on sistered rafters between vents: many ways to hold a row, most of them as good as
 * others.
 */
static struct roof *read_sistered(const char *folder, uint64_t seed) {
    const struct random_knobs knobs = {.seed = seed,
                                       .brackets = 1,
                                       .vents = 3,
                                       .small = true,
                                       .narrow = true,
                                       .sisters = true,
                                       .rows = seed % 3 == 0   ? RANDOM_ROWS_ANY
                                               : seed % 3 == 1 ? RANDOM_ROWS_SPAN
                                                               : RANDOM_ROWS_STRUT};
    struct random_roof made;
    random_roof_make(&knobs, &made);
    return random_roof_read(&made, RANDOM_PLAIN, folder, NULL);
}

/* A list without lesser holds lacks as little, wherever the whole one leaves the bracket. */
static void lesser_holds_are_not_missed(void **state) {
    size_t whole = 0, left = 0, places = 0;
    for (uint64_t seed = 1; seed <= seeds_wanted() / 2; seed++) {
        struct roof *roof = read_sistered(*state, seed);
        struct stands *stands[2] = {NULL, NULL};
        struct misses *misses[2];
        const double level = -2 * (double)(1 + seed % 6);
        const struct stands_ask ask = {.roof = roof, .most = 6000, .arms = seed % 4 == 0};
        assert_int_equal(stands_find(&ask, level, &stands[0]), OUTCOME_DONE);
        assert_int_equal(stands_lacking(&ask, level, &stands[1]), OUTCOME_DONE);
        for (int i = 0; i < 2; i++)
            misses[i] = gather(stands[i], level, NULL);
        const bool listed = !stands[0]->crowded && !misses[0]->crowded && !misses[1]->crowded;
        for (size_t i = 0; i < misses[0]->count && listed;
             i += 1 + misses[0]->count / (20 * SAMPLES)) {
            const struct spot *spot = &misses[0]->spots[i];
            const double at[2] = {(spot->x.lo + spot->x.hi) / 2, (spot->y.lo + spot->y.hi) / 2};
            const double lack = said_of(misses[0], spot, at);
            if (least_on(misses[1], at, spot->holes) > lack + NEAR)
                fail_msg("seed %llu: lacks %g at %g, %g, by the list without lesser holds %g",
                         (unsigned long long)seed, lack, at[0], at[1],
                         least_on(misses[1], at, spot->holes));
            places++;
        }
        whole += listed ? stands[0]->count : 0;
        left += listed ? stands[1]->count : 0;
        for (int i = 0; i < 2; i++) {
            misses_free(misses[i]);
            stands_free(stands[i]);
        }
        roof_free(roof);
    }
    printf("%zu of %zu stands are left, %zu places\n", left, whole, places);
    assert_true(left < whole && places > seeds_wanted() / 2);
}

/* How low a row's line lies for nothing more, or how high, by what the spot says. */
static double free_end(const struct spot *spot, int row, bool down, double y) {
    const struct drawn *end = &spot->miss->free[row][down ? SIDE_FAR : SIDE_NEAR];
    return down ? fmax(end->fixed, y + end->goes) : fmin(end->fixed, y + end->goes);
}

/* Lines so far beyond that, and lags as far in as they get. */
static struct rather far(const struct spot *spot, bool down, double y, double beyond) {
    struct rather rather = rather_anywhere();
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const double line = free_end(spot, row, down, y) + (down ? -beyond : beyond);
        rather.lines[row] = (struct interval){line, line};
        rather.lags[row] = (struct interval){1e4, -1e4};
    }
    return rather;
}

/* What lines lack beyond their free ends, by what the spot says. */
static double worth_of(const struct spot *spot, const struct told *told, bool down, double y) {
    double sum = 0;
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const double beyond = fabs(told->line[row] - free_end(spot, row, down, y));
        if (beyond > NEAR) /* where a line stays that may lack endlessly much */
            sum += beyond * spot->miss->worth[row][down ? SIDE_FAR : SIDE_NEAR];
    }
    return sum;
}

/* Lags that must be as far in as the level lets them are just there. */
static void hold_drawn(const struct stands *stands, const struct spot *spot, double level,
                       const double at[2]) {
    struct rather rather = rather_anywhere();
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        rather.must[row] = (struct interval){1e4, -1e4};
    const struct told told = tell(stands, spot, level, at, &rather);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        const struct drawn *last = &spot->miss->drawn[row][SIDE_FAR][SIDE_FAR][DRAWN_HARD];
        const struct drawn *first = &spot->miss->drawn[row][SIDE_NEAR][SIDE_NEAR][DRAWN_HARD];
        if (stands->roof->brackets[0].hardware[row] != HARDWARE_FEET)
            continue;
        assert_true(fabs(told.last[row] - fmax(last->fixed, at[0] + last->goes)) < NEAR);
        assert_true(fabs(told.first[row] - fmin(first->fixed, at[0] + first->goes)) < NEAR);
    }
}

static void hold_ends(const struct misses *misses, const struct spot *spot, double level,
                      uint64_t seed, size_t *drawn, size_t *given) {
    const struct stands *stands = misses->stands;
    const double at[2] = {(spot->x.lo + spot->x.hi) / 2, (spot->y.lo + spot->y.hi) / 2};
    const struct told plain = tell(stands, spot, level, at, NULL);
    const struct miss *miss = spot->miss;
    hold_drawn(stands, spot, level, at);
    for (int down = 0; down < 2; down++) {
        const struct rather rather = far(spot, down != 0, at[1], 0);
        const struct rather beyond = far(spot, down != 0, at[1], BEYOND);
        const struct told told = tell(stands, spot, level, at, &rather);
        const struct told more = tell(stands, spot, level, at, &beyond);
        for (int row = ROW_TOP; row < ROW_COUNT; row++) {
            const struct drawn *last = &miss->drawn[row][SIDE_FAR][SIDE_FAR][DRAWN_FREE];
            const struct drawn *first = &miss->drawn[row][SIDE_NEAR][SIDE_NEAR][DRAWN_FREE];
            const bool feet = stands->roof->brackets[0].hardware[row] == HARDWARE_FEET;
            assert_true(!feet || told.last[row] >= fmax(last->fixed, at[0] + last->goes) - NEAR);
            assert_true(!feet || told.first[row] <= fmin(first->fixed, at[0] + first->goes) + NEAR);
            *drawn += feet && (told.last[row] < plain.last[row] - NEAR ||
                               told.first[row] > plain.first[row] + NEAR);
        }
        const double said = said_of(misses, spot, at); /* the check may find a better seat */
        if (stands->roof->vent_count > 0)
            continue;
        if (told.lack > fmax(plain.lack, said) + 1e-4)
            fail_msg("seed %llu: lacks %g (%g said), drawn in %g", (unsigned long long)seed,
                     plain.lack, said, told.lack);
        const double worth = worth_of(spot, &more, down != 0, at[1]);
        if (more.lack < told.lack + worth - 1e-4)
            fail_msg("seed %llu: lacks %g, beyond its ends %g, which is less than %g more",
                     (unsigned long long)seed, told.lack, more.lack, worth);
        *given += worth > NEAR;
    }
}

/* Outer feet and lines go no further in, for nothing, than is said of them; and lines beyond that
 * for no less. */
static void ends_are_drawn_in_for_nothing(void **state) {
    size_t drawn = 0, given = 0, seen = 0;
    for (uint64_t seed = 1; seed <= seeds_wanted() / 2; seed++) {
        struct roof *roof = read_narrow(*state, seed);
        struct stands *stands = NULL;
        const double level = -(double)(1 + seed % 8) / 4;
        const struct stands_ask ask = {.roof = roof, .most = 2000, .arms = true};
        assert_int_equal(stands_find(&ask, level, &stands), OUTCOME_DONE);
        struct misses *all = gather(stands, level, NULL);
        for (size_t i = 0; i < all->count && !stands->crowded; i += 1 + all->count / 20) {
            assert_true(all->spots[i].miss->ends);
            hold_ends(all, &all->spots[i], level, seed, &drawn, &given);
            seen++;
        }
        misses_free(all);
        stands_free(stands);
        roof_free(roof);
    }
    if (seen < seeds_wanted() || drawn < seen / 10 || given < seen / 10)
        fail_msg("%zu seen, %zu drawn in, %zu beyond that", seen, drawn, given);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_spot_lacks_less_than_may_be_lacked),
        cmocka_unit_test(less_room_up_the_slope_lacks_no_less),
        cmocka_unit_test(lesser_holds_are_not_missed),
        cmocka_unit_test(ends_are_drawn_in_for_nothing),
    };
    return cmocka_run_group_tests_name("lacks", tests, random_folder_make, random_folder_remove);
}
