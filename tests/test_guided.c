/* Where something leans, where joints are known, and with pipes: what stands say there holds and
 * leaves nothing out, and the layouts that come of it are those of the integer program alone.  With
 * words on the command line:
 *
 *     test_guided FIRST COUNT SECONDS [BRACKETS]
 *
 * lays out COUNT random roofs of every kind, seeds FIRST and up, with 1 to BRACKETS brackets in
 * turn (default 3), both ways and each within SECONDS, and prints how many were proved, and "N
 * roofs, D disagreements".
 */
#include "check.h"
#include "fit.h"
#include "in_spot.h"
#include "layout.h"
#include "length.h"
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

enum kind { LEANING, JOINTED, PIPED, ALL_OF_IT, KIND_COUNT };

static struct roof *read_kind(const char *folder, uint64_t seed, enum kind kind, size_t brackets) {
    const struct random_knobs knobs = {.seed = seed,
                                       .brackets = brackets,
                                       .vents = 2,
                                       .small = seed % 3 == 0,
                                       .narrow = seed % 5 == 1,
                                       .sisters = seed % 2 == 0,
                                       .unsound = seed % 4 == 0,
                                       .uneven = kind == LEANING || kind == ALL_OF_IT,
                                       .jointed = kind == JOINTED || kind == ALL_OF_IT,
                                       .piped = kind == PIPED || kind == ALL_OF_IT};
    struct random_roof made;
    random_roof_make(&knobs, &made);
    return random_roof_read(&made, RANDOM_PLAIN, folder, NULL);
}

static void what_leans_holds_all_over_a_spot(void **state) {
    const size_t count = random_roof_count(120);
    size_t leaning = 0, spots = 0;
    for (uint64_t seed = 3000; seed < 3000 + count; seed++) {
        struct roof *roof = read_kind(*state, seed, seed % 3 == 0 ? JOINTED : LEANING, 1);
        const struct stands_ask ask = {.roof = roof};
        struct stands *stands = NULL;
        if (stands_guide(roof)) {
            assert_int_equal(stands_find(&ask, 0, &stands), OUTCOME_DONE);
            const double best = stands->crowded ? -INFINITY : stands_best(stands);
            if (best > -INFINITY) {
                leaning += !stands_apply(roof);
                spots += hold_spots(stands, best, seed) + hold_spots(stands, best / 2, seed);
            }
        }
        stands_free(stands);
        roof_free(roof);
    }
    printf("%zu spots, %zu roofs that lean\n", spots, leaning);
    assert_true(leaning > count / 20 && spots > count);
}

static struct layout *find_by(const struct roof *roof, bool plain, double limit_s, bool by_clock) {
    uint64_t steps = 0;
    const struct layout_options options = {
        .limit_s = limit_s, .steps = by_clock ? NULL : &steps, .plain = plain};
    struct layout *layout = NULL;
    struct problems problems = {0};
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    problems_free(&problems);
    return layout;
}

/* The best level of one bracket alone, as stands have it. */
static double best_of(const struct roof *roof, bool lenient) {
    const struct stands_ask ask = {.roof = roof, .lenient = lenient};
    struct stands *stands = NULL;
    double best = -INFINITY;
    assert_int_equal(stands_find_best(&ask, -1, -1, &stands, &best), OUTCOME_DONE);
    if (stands->crowded)
        best = NAN;
    stands_free(stands);
    return best;
}

/* One bracket, without a pipe: what stands hold is no more than there is, and what lenient ones do
 * is no less. */
static void truth_lies_between_both_kinds_of_stands(void **state) {
    const size_t count = random_roof_count(40);
    size_t between = 0, apart = 0;
    for (uint64_t seed = 4000; seed < 4000 + count; seed++) {
        struct roof *roof = read_kind(*state, seed, seed % 4 == 0 ? JOINTED : LEANING, 1);
        if (stands_guide(roof) && roof->pipe_count == 0) {
            const double least = best_of(roof, false), most = best_of(roof, true);
            struct layout *plain = find_by(roof, true, 1, false);
            const double truth = plain->forgiveness;
            if (plain->state == LAYOUT_PROVED && truth >= -1 && least >= -1 && most >= -1) {
                if (!(least <= truth + 1e-5) || !(most >= truth - 1e-5))
                    fail_msg("seed %llu: %g, by stands %g to %g", (unsigned long long)seed, truth,
                             least, most);
                between++;
                apart += most > least + SAME;
            }
            layout_free(plain);
        }
        roof_free(roof);
    }
    printf("%zu of %zu between, %zu of them apart\n", between, count, apart);
    assert_true(between > count / 6 && apart > 0);
}

static double cost_of(const struct roof *roof, const struct layout *layout) {
    return layout->moved + (double)layout->holes * roof->hole_worth;
}

/* Whether anything that is claimed of a layout does not go together with another one's proof. */
static bool contradicts(const struct roof *roof, const struct layout *layout,
                        const struct layout *proved) {
    if (layout->state == LAYOUT_IMPOSSIBLE)
        return true;
    if (!(layout->bound_forgiveness >= proved->forgiveness - 1e-5))
        return true;
    if (!layout->marks)
        return false;
    const double more = layout->forgiveness - proved->forgiveness;
    if (more > 1e-5 || (layout->state == LAYOUT_PROVED && more < -1e-5))
        return true;
    if (fabs(more) > 1e-5 || layout->state != LAYOUT_PROVED)
        return false;
    double own[ROOF_BRACKETS_MOST], other[ROOF_BRACKETS_MOST], sums[2] = {0, 0};
    for (size_t b = 0; b < roof->bracket_count; b++) {
        own[b] = layout->bracket_forgiveness[b];
        other[b] = proved->bracket_forgiveness[b];
        sums[0] += own[b];
        sums[1] += other[b];
    }
    return fabs(sums[0] - sums[1]) > 1e-4 || fabs(layout->shortfall - proved->shortfall) > 1e-3 ||
           fabs(cost_of(roof, layout) - cost_of(roof, proved)) > 1e-3;
}

static bool borne_out(const struct roof *roof, const struct layout *layout) {
    struct verdict *verdict = NULL;
    if (!layout->marks)
        return true;
    assert_int_equal(check_marks(roof, layout->marks, &verdict), OUTCOME_DONE);
    const bool good = length_holds(verdict->hard_least) &&
                      length_holds(verdict->least - layout->forgiveness) &&
                      length_holds(layout->bound_forgiveness - layout->forgiveness) &&
                      fabs(layout->shortfall - verdict->shortfall) < 1e-5;
    verdict_free(verdict);
    return good;
}

/* How a roof came out both ways. */
struct tally {
    size_t roofs, proved, by_program, both, laid_out, disagreements;
};

static void try_roof(const struct roof *roof, uint64_t seed, double limit_s, bool by_clock,
                     struct tally *tally) {
    struct layout *layout = find_by(roof, false, limit_s, by_clock);
    struct layout *plain = find_by(roof, true, limit_s, by_clock);
    const bool own = layout->state == LAYOUT_PROVED, other = plain->state == LAYOUT_PROVED;
    tally->roofs++;
    tally->proved += own;
    tally->by_program += other;
    tally->both += own && other;
    tally->laid_out += layout->marks != NULL;
    if (!borne_out(roof, layout) || (other && contradicts(roof, layout, plain)) ||
        (own && contradicts(roof, plain, layout))) {
        printf("seed %llu, %zu brackets: state %d, %.9g of %.9g, lacks %.9g, costs %.9g; by the "
               "program "
               "%d, %.9g of %.9g, %.9g, %.9g\n",
               (unsigned long long)seed, roof->bracket_count, layout->state, layout->forgiveness,
               layout->bound_forgiveness, layout->shortfall, cost_of(roof, layout), plain->state,
               plain->forgiveness, plain->bound_forgiveness, plain->shortfall,
               cost_of(roof, plain));
        tally->disagreements++;
    }
    layout_free(layout);
    layout_free(plain);
}

static void program_alone_finds_the_same(void **state) {
    const size_t count = random_roof_count(32);
    struct tally tally = {.roofs = 0};
    for (uint64_t seed = 5000; seed < 5000 + count; seed++) {
        struct roof *roof = read_kind(*state, seed, (enum kind)(seed % KIND_COUNT), 1 + seed % 2);
        try_roof(roof, seed, 1, false, &tally);
        roof_free(roof);
    }
    printf("%zu roofs, %zu proved, %zu by the program, %zu both\n", tally.roofs, tally.proved,
           tally.by_program, tally.both);
    assert_int_equal(tally.disagreements, 0);
    assert_true(tally.both > count / 4);
}

/* As many as fit are all of them just where a layout of all holds every rule. */
static void all_fit_where_their_layout_holds(void **state) {
    const size_t count = random_roof_count(16);
    size_t some = 0, none = 0;
    for (uint64_t seed = 7100; seed < 7100 + count; seed++) {
        struct roof *roof = read_kind(*state, seed, (enum kind)(seed % KIND_COUNT), 2);
        struct layout *layout = find_by(roof, false, 1, false);
        uint64_t steps = 0;
        const struct layout_options options = {.limit_s = 1, .steps = &steps};
        struct problems problems = {0};
        struct fit fit;
        assert_int_equal(fit_find(roof, &options, &fit, &problems), OUTCOME_DONE);
        problems_free(&problems);
        if (layout->marks && length_holds(layout->forgiveness)) {
            if (fit.count < 2)
                fail_msg("seed %llu: %zu fit", (unsigned long long)seed, fit.count);
            some++;
        } else if (fit.proved && layout->state == LAYOUT_PROVED) {
            if (fit.count == 2)
                fail_msg("seed %llu: both fit", (unsigned long long)seed);
            none++;
        }
        fit_free(&fit);
        layout_free(layout);
        roof_free(roof);
    }
    printf("%zu on which both fit, %zu where they do not\n", some, none);
    assert_true(some > 0 && none > 0);
}

/* Six brackets that are in each other's way: the program alone comes to nothing in any such time.
 */
static void many_have_a_layout_soon(void **state) {
    size_t proved = 0;
    const size_t count = random_roof_count(32) / 8;
    for (uint64_t seed = 6000; seed < 6000 + count; seed++) {
        struct roof *roof = read_kind(*state, seed, (enum kind)(seed % KIND_COUNT), 6);
        struct layout *layout = find_by(roof, false, 1, false);
        if (!layout->marks || !borne_out(roof, layout))
            fail_msg("seed %llu: no layout", (unsigned long long)seed);
        proved += layout->state == LAYOUT_PROVED;
        layout_free(layout);
        roof_free(roof);
    }
    printf("%zu proved\n", proved);
}

static int try_many(char **words, int count) {
    const unsigned long first = strtoul(words[0], NULL, 10), roofs = strtoul(words[1], NULL, 10);
    const double limit_s = strtod(words[2], NULL);
    const unsigned long brackets = count > 3 ? strtoul(words[3], NULL, 10) : 3;
    void *folder = NULL;
    struct tally all = {.roofs = 0};
    if (random_folder_make(&folder) != 0)
        return 1;
    for (unsigned long seed = first; seed < first + roofs; seed++) {
        struct roof *roof = read_kind(folder, seed, (enum kind)(seed % KIND_COUNT),
                                      1 + seed / KIND_COUNT % brackets);
        try_roof(roof, seed, limit_s, true, &all);
        roof_free(roof);
    }
    random_folder_remove(&folder);
    printf("%zu laid out, %zu proved, %zu by the program alone, %zu both\n", all.laid_out,
           all.proved, all.by_program, all.both);
    printf("%zu roofs, %zu disagreements\n", all.roofs, all.disagreements);
    return all.disagreements > 0;
}

int main(int argc, char **argv) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_leans_holds_all_over_a_spot),
        cmocka_unit_test(truth_lies_between_both_kinds_of_stands),
        cmocka_unit_test(program_alone_finds_the_same),
        cmocka_unit_test(all_fit_where_their_layout_holds),
        cmocka_unit_test(many_have_a_layout_soon),
    };
    if (argc > 3)
        return try_many(argv + 1, argc - 1);
    return cmocka_run_group_tests(tests, random_folder_make, random_folder_remove);
}
