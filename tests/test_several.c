/* Several brackets on one plane: what can be said whatever the time is, and what is proved.  With
 * words on the command line it puts random roofs before the check instead:
 *
 *     test_several FIRST COUNT SECONDS
 *
 * lays out COUNT full roofs, seeds FIRST and up, with 1 to 16 brackets in turn, each within
 * SECONDS, and prints by number of brackets how many were proved, and "N roofs, D disagreements".
 *
 *     test_several FIRST COUNT
 *
 * lays out COUNT full roofs with one bracket, and prints what that takes inside the process on
 * those where it fits, by stands and by the integer program alone.
 */
#include "check.h"
#include "clock.h"
#include "layout.h"
#include "length.h"
#include "random_trial.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

enum { MANY = 16 };

static struct roof *read_full(const char *folder, uint64_t seed, size_t brackets) {
    const struct random_knobs knobs = {
        .seed = seed, .brackets = brackets, .vents = 1, .sisters = true, .unsound = seed % 2 == 1};
    struct random_roof made;
    random_roof_make(&knobs, &made);
    return random_roof_read(&made, RANDOM_PLAIN, folder, NULL);
}

/* By the solver's steps, so that every machine sees the same. */
static struct layout *find(const struct roof *roof, double limit_s) {
    uint64_t steps = 0;
    const struct layout_options options = {.limit_s = limit_s, .steps = &steps};
    struct layout *layout = NULL;
    struct problems problems = {0};
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    return layout;
}

/* The check has nothing against what is claimed. */
static void expect_borne_out(const struct roof *roof, const struct layout *layout, uint64_t seed) {
    struct verdict *verdict = NULL;
    assert_int_equal(check_marks(roof, layout->marks, &verdict), OUTCOME_DONE);
    if (!length_holds(verdict->hard_least))
        fail_msg("seed %llu: a hard rule is broken", (unsigned long long)seed);
    if (!length_holds(verdict->least - layout->forgiveness) ||
        !length_holds(layout->bound_forgiveness - layout->forgiveness))
        fail_msg("seed %llu: %g claimed, %g found, %g the most", (unsigned long long)seed,
                 layout->forgiveness, verdict->least, layout->bound_forgiveness);
    expect_of_seed("shortfall", seed, layout->shortfall, verdict->shortfall, 1e-5);
    verdict_free(verdict);
}

/* Of eight brackets: without any time what is known is what comes out, with time nothing worse. */
static void what_is_known_is_not_lost(void **state) {
    static const double limits_s[] = {0, 0.05, 1};
    const uint64_t seed = 806;
    struct roof *roof = read_full(*state, seed, 8);
    struct layout *known = find(roof, 3);
    assert_non_null(known->marks);
    for (size_t i = 0; i < sizeof limits_s / sizeof *limits_s; i++) {
        uint64_t steps = 0;
        const struct layout_options options = {
            .limit_s = limits_s[i], .steps = &steps, .known = known};
        struct layout *layout = NULL;
        struct problems problems = {0};
        assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
        assert_non_null(layout->marks);
        assert_true(layout->forgiveness >= known->forgiveness - LENGTH_TOLERANCE);
        expect_borne_out(roof, layout, seed);
        layout_free(layout);
    }
    layout_free(known);
    roof_free(roof);
}

/* Eight that cannot all stand as they should: marks all the same, long before anything is proved.
 */
static void there_is_a_layout_before_it_is_proved(void **state) {
    static const uint64_t seeds[] = {804, 806};
    for (size_t i = 0; i < sizeof seeds / sizeof *seeds; i++) {
        const uint64_t seed = seeds[i];
        struct roof *roof = read_full(*state, seed, 8);
        struct layout *layout = find(roof, 3);
        if (!layout->marks)
            fail_msg("seed %llu: no layout", (unsigned long long)seed);
        expect_borne_out(roof, layout, seed);
        layout_free(layout);
        roof_free(roof);
    }
}

/* Roofs that no program proves in any time, and what there is in the way of a proof by packings. */
static void packings_prove_what_is_in_their_way(void **state) {
    static const struct {
        uint64_t seed;
        size_t brackets;
        double forgiveness;
    } roofs[] = {
        {417, 4,
         -0.9375}, /* struts across other brackets: 6.5 in short where only the gap counts */
        {220, 2, -8.140625}, /* a strut and flashings that lack of being apart */
        {456, 4,
         -1.609375},        /* feet whose flashings overlap, less so where they are further apart */
        {454, 4, -0.15625}, /* two brackets that lack nothing, in more ways than can be listed */
        {420, 4, -0.69375}, /* far more spots that may lack something than matter */
        {451, 4, -7.015625}, /* feet whose flashings are in their neighbours' way */
    };
    for (size_t i = 0; i < sizeof roofs / sizeof *roofs; i++) {
        struct roof *roof = read_full(*state, roofs[i].seed, roofs[i].brackets);
        struct layout *layout = find(roof, 20);
        if (layout->state != LAYOUT_PROVED)
            fail_msg("seed %llu: not proved", (unsigned long long)roofs[i].seed);
        expect_borne_out(roof, layout, roofs[i].seed);
        expect_of_seed("forgiveness", roofs[i].seed, layout->forgiveness, roofs[i].forgiveness,
                       1e-5);
        layout_free(layout);
        roof_free(roof);
    }
}

static struct layout *find_by(const struct roof *roof, bool plain) {
    uint64_t steps = 0;
    const struct layout_options options = {.limit_s = 4, .steps = &steps, .plain = plain};
    struct layout *layout = NULL;
    struct problems problems = {0};
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    return layout;
}

static int by_value(const void *a, const void *b) {
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Sorted, what each bracket of two has. */
static void sort_rungs(struct layout *layout, double rungs[2]) {
    memcpy(rungs, layout->bracket_forgiveness, 2 * sizeof *rungs);
    qsort(rungs, 2, sizeof *rungs, by_value);
}

/* Two brackets that are in each other's way, by packings and by the integer program alone: the
 * worst has as much, the other one too, and they lack and cost the same. */
static void program_alone_finds_the_same(void **state) {
    const size_t count = random_roof_count(24) / 3;
    size_t compared = 0;
    for (uint64_t seed = 900; seed < 900 + count; seed++) {
        const struct random_knobs knobs = {
            .seed = seed, .brackets = 2, .small = true, .sisters = seed % 2 == 0};
        struct random_roof made;
        random_roof_make(&knobs, &made);
        struct roof *roof = random_roof_read(&made, RANDOM_PLAIN, *state, NULL);
        struct layout *packed = find_by(roof, false), *plain = find_by(roof, true);
        if (packed->state == LAYOUT_PROVED && plain->state == LAYOUT_PROVED) {
            double rungs[2][2];
            sort_rungs(packed, rungs[0]);
            sort_rungs(plain, rungs[1]);
            expect_of_seed("worst", seed, rungs[0][0], rungs[1][0], 1e-4);
            expect_of_seed("next", seed, rungs[0][1], rungs[1][1], 1e-4);
            expect_of_seed("shortfall", seed, packed->shortfall, plain->shortfall, 1e-3);
            const double cost = packed->moved + roof->hole_worth * (double)packed->holes;
            const double other = plain->moved + roof->hole_worth * (double)plain->holes;
            expect_of_seed("cost", seed, cost, other, 1e-3);
            compared++;
        }
        layout_free(packed);
        layout_free(plain);
        roof_free(roof);
    }
    printf("%zu of %zu compared\n", compared, count);
    assert_true(compared > 0);
}

/* Two lags on one rafter whose flashings must overlap: that is lacked wherever the bracket stands,
 * and counts in the bound, so the nearest miss is proved. */
static void flashings_that_must_overlap_are_in_the_bound(void **state) {
    struct roof *roof = read_full(*state, 240, 2);
    struct layout *layout = find(roof, 20);
    assert_int_equal(layout->state, LAYOUT_PROVED);
    expect_borne_out(roof, layout, 240);
    expect_of_seed("shortfall", 240, layout->shortfall, 16.71875, 1e-4);
    layout_free(layout);
    roof_free(roof);
}

/* A bracket on two struts on 28 rafters, one of sixteen there: many ways to hold it, and seconds
 * for the program. */
static void one_bracket_on_many_rafters_needs_no_program(void **state) {
    struct roof *roof = read_full(*state, 1605, 16);
    roof->brackets[0] = roof->brackets[3];
    roof->bracket_count = 1;
    uint64_t steps = 0;
    const struct layout_options options = {.limit_s = 20, .steps = &steps};
    struct layout *layout = NULL;
    struct problems problems = {0};
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    assert_int_equal(layout->state, LAYOUT_PROVED);
    if (steps > 1000)
        fail_msg("%llu steps", (unsigned long long)steps);
    layout_free(layout);
    roof_free(roof);
}

/* Whether the check bears out what is claimed of a layout, and of its marks on the tape: nothing is
 * claimed of those but that they hold where they are said to. */
static bool borne_out(const struct roof *roof, const struct layout *layout) {
    struct verdict *verdict = NULL, *printed = NULL;
    struct marks *marks = NULL;
    bool obeyed = false;
    if (!layout->marks)
        return true;
    if (check_marks(roof, layout->marks, &verdict) != OUTCOME_DONE ||
        layout_round(roof, layout, SIDE_NEAR, &marks, &obeyed) != OUTCOME_DONE ||
        check_marks(roof, marks, &printed) != OUTCOME_DONE)
        fail();
    bool good = length_holds(verdict->hard_least) && obeyed == printed->holds &&
                length_holds(layout->bound_forgiveness - layout->forgiveness) &&
                fabs(layout->shortfall - verdict->shortfall) < 1e-5;
    for (size_t b = 0; b < roof->bracket_count; b++)
        good = good && length_holds(length_lesser(verdict->forgiveness[b], roof->enough) -
                                    layout->bracket_forgiveness[b]);
    verdict_free(verdict);
    verdict_free(printed);
    marks_free(marks);
    return good;
}

struct tally {
    size_t roofs, proved, found, open;
};

static bool try_one(const char *folder, uint64_t seed, size_t brackets, double limit_s,
                    struct tally *tally) {
    struct roof *roof = read_full(folder, seed, brackets);
    struct layout *layout = random_layout(roof, limit_s, seed);
    const bool good = borne_out(roof, layout);
    if (!good)
        printf("seed %llu, %zu brackets: the check finds something else\n",
               (unsigned long long)seed, brackets);
    tally->roofs++;
    tally->proved += layout->state == LAYOUT_PROVED || layout->state == LAYOUT_IMPOSSIBLE;
    tally->found += layout->state == LAYOUT_FEASIBLE;
    tally->open += layout->state == LAYOUT_UNDECIDED;
    layout_free(layout);
    roof_free(roof);
    return good;
}

static int put_before_the_check(char **words) {
    const uint64_t first = strtoull(words[1], NULL, 10), count = strtoull(words[2], NULL, 10);
    const double limit_s = strtod(words[3], NULL);
    struct tally tallies[MANY] = {{0}};
    size_t differ = 0;
    void *folder = NULL;
    if (random_folder_make(&folder) != 0)
        return 3;
    for (uint64_t seed = first; seed < first + count; seed++)
        differ += !try_one(folder, seed, 1 + seed % MANY, limit_s, &tallies[seed % MANY]);
    random_folder_remove(&folder);
    for (size_t i = 0; i < MANY; i++)
        printf("%2zu brackets: %zu roofs, %zu proved, %zu with a layout, %zu without\n", i + 1,
               tallies[i].roofs, tallies[i].proved, tallies[i].found, tallies[i].open);
    printf("%llu roofs, %zu disagreements\n", (unsigned long long)count, differ);
    return differ > 0;
}

/* The shortest of a few times that one is laid out, in seconds; *fits: whether nothing is lacked.
 */
static double time_of(const struct roof *roof, bool plain, bool *fits) {
    enum { TIMES = 5 };
    const struct layout_options options = {.limit_s = 30, .plain = plain};
    double least = INFINITY;
    for (int i = 0; i < TIMES; i++) {
        struct layout *layout = NULL;
        struct problems problems = {0};
        const double from = clock_now_s();
        if (layout_find(roof, &options, &layout, &problems) != OUTCOME_DONE)
            fail_msg("no memory");
        least = fmin(least, clock_now_s() - from);
        *fits = layout->state == LAYOUT_PROVED && layout->forgiveness >= 0;
        layout_free(layout);
        problems_free(&problems);
    }
    return least;
}

static int by_size(const void *a, const void *b) {
    const double one = *(const double *)a, other = *(const double *)b;
    return (one > other) - (one < other);
}

enum { TIMED_MOST = 1000 };

static int time_inside(char **words) {
    const uint64_t first = strtoull(words[1], NULL, 10), count = strtoull(words[2], NULL, 10);
    double own[TIMED_MOST], plain[TIMED_MOST];
    size_t fit = 0;
    void *folder = NULL;
    if (random_folder_make(&folder) != 0)
        return 3;
    for (uint64_t seed = first; seed < first + count && fit < TIMED_MOST; seed++) {
        struct roof *roof = read_full(folder, seed, 1);
        bool fits, fits_too;
        own[fit] = time_of(roof, false, &fits);
        if (fits)
            plain[fit++] = time_of(roof, true, &fits_too);
        roof_free(roof);
    }
    random_folder_remove(&folder);
    if (fit == 0) {
        printf("inside the process: none of %llu fits\n", (unsigned long long)count);
        return 0;
    }
    qsort(own, fit, sizeof *own, by_size);
    qsort(plain, fit, sizeof *plain, by_size);
    printf("inside the process, %zu of %llu that fit: median %.6f s, by the program alone %.6f s, "
           "%.0f times\n",
           fit, (unsigned long long)count, own[fit / 2], plain[fit / 2],
           plain[fit / 2] / own[fit / 2]);
    return 0;
}

int main(int argc, char **argv) {
    if (argc == 3)
        return time_inside(argv);
    if (argc == 4)
        return put_before_the_check(argv);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(there_is_a_layout_before_it_is_proved),
        cmocka_unit_test(what_is_known_is_not_lost),
        cmocka_unit_test(packings_prove_what_is_in_their_way),
        cmocka_unit_test(program_alone_finds_the_same),
        cmocka_unit_test(flashings_that_must_overlap_are_in_the_bound),
        cmocka_unit_test(one_bracket_on_many_rafters_needs_no_program),
    };
    return cmocka_run_group_tests_name("several", tests, random_folder_make, random_folder_remove);
}
