/* Two thousand random roofs: what the optimiser finds is held against every rule by the check, and
 * the same roof written in another way has the same answer. */
#include "check.h"
#include "random_trial.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#define SAME 1e-6 /* inches */

/* This one roof takes half a minute to prove, as long as all the others of its test. */
#define TOO_LONG 250014

struct tally {
    size_t fit, missed, impossible, unproved, off_tape;
};

static struct verdict *judge(const struct roof *roof, const struct marks *marks) {
    struct verdict *verdict = NULL;
    assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
    return verdict;
}

static double moved(const struct roof *roof, const struct marks *marks) {
    double sum = 0;
    for (size_t i = 0; i < roof->bracket_count; i++)
        sum += fabs(marks->brackets[i].x - roof->brackets[i].want_x) +
               fabs(marks->brackets[i].y - roof->brackets[i].want_y);
    return sum;
}

/* Figures of the layout before rounding.  The check may find more in marks that are not proved to
 * be the best (a foot held from its other side, say), never less. */
static void hold_exact(const struct roof *roof, const struct layout *layout, uint64_t seed) {
    struct verdict *verdict = judge(roof, layout->marks);
    bool proved = layout->state == LAYOUT_PROVED;
    double worst = INFINITY;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        double capped = fmin(verdict->forgiveness[i], roof->enough);
        worst = fmin(worst, capped);
        if (proved)
            expect_of_seed("forgiveness", seed, layout->bracket_forgiveness[i], capped, SAME);
        else if (!(capped >= layout->bracket_forgiveness[i] - SAME))
            fail_msg("seed %llu: less forgiving than said", (unsigned long long)seed);
    }
    if (proved)
        expect_of_seed("worst forgiveness", seed, layout->forgiveness, worst, SAME);
    if (!(verdict->hard_least >= -SAME))
        fail_msg("seed %llu: a hard rule lacks %g", (unsigned long long)seed, verdict->hard_least);
    if (proved && !(layout->shortfall <= verdict->shortfall + SAME))
        fail_msg("seed %llu: shortfall %g is below the least, %g", (unsigned long long)seed,
                 verdict->shortfall, layout->shortfall);
    if (!proved && layout->forgiveness < 0)
        expect_of_seed("shortfall", seed, layout->shortfall, verdict->shortfall, SAME);
    expect_of_seed("moved", seed, layout->moved, moved(roof, layout->marks), SAME);
    assert_int_equal(layout->holes, verdict->holes);
    assert_int_equal(verdict->holds, length_holds(worst));
    verdict_free(verdict);
}

/* Every reading is a whole number of ticks, and what is said to obey does. */
static void hold_rounded(const struct roof *roof, const struct layout *layout, enum side from,
                         uint64_t seed, struct tally *tally) {
    struct marks *marks = NULL;
    bool obeyed = false;
    assert_int_equal(layout_round(roof, layout, from, &marks, &obeyed), OUTCOME_DONE);
    for (size_t i = 0; i < marks->count; i++) {
        double reading = roof_reading(roof, from, marks->list[i].x, marks->list[i].y);
        expect_of_seed("a reading", seed, reading, length_to_tape(reading, roof->tape), 1e-9);
        double up = roof_height_reading(roof, from, marks->list[i].y);
        expect_of_seed("a line", seed, up, length_to_tape(up, roof->tape), 1e-9);
    }
    struct verdict *verdict = judge(roof, marks);
    bool fits = length_holds(layout->forgiveness);
    if (fits && verdict->holds != obeyed)
        fail_msg("seed %llu: said to obey? %d, obeys? %d", (unsigned long long)seed, obeyed,
                 verdict->holds);
    if (fits && !obeyed)
        tally->off_tape++;
    verdict_free(verdict);
    marks_free(marks);
}

static void try_roofs(const char *folder, struct random_knobs knobs, uint64_t first, size_t count,
                      struct tally *tally) {
    /* Two brackets may take long to prove; what is found by then must hold all the same. */
    double limit_s = knobs.brackets == 1 ? 60 : 1;
    for (size_t i = 0; i < count; i++) {
        knobs.seed = first + i;
        knobs.right = i % 2 == 1;
        if (knobs.seed == TOO_LONG)
            continue;
        struct random_roof made;
        random_roof_make(&knobs, &made);
        struct roof *roof =
            random_roof_read(&made, i % 5 == 4 ? RANDOM_MM : RANDOM_PLAIN, folder, NULL);
        struct layout *layout = random_layout(roof, limit_s, knobs.seed);
        if (layout->state == LAYOUT_IMPOSSIBLE) {
            tally->impossible++;
        } else if (layout->marks != NULL) {
            hold_exact(roof, layout, knobs.seed);
            hold_rounded(roof, layout, i % 3 == 0 ? SIDE_FAR : SIDE_NEAR, knobs.seed, tally);
            if (length_holds(layout->forgiveness))
                tally->fit++;
            else
                tally->missed++;
        }
        if (layout->state == LAYOUT_FEASIBLE || layout->state == LAYOUT_UNDECIDED)
            tally->unproved++;
        if (knobs.brackets == 1 && tally->unproved > 0)
            fail_msg("seed %llu: one bracket, not proved", (unsigned long long)knobs.seed);
        layout_free(layout);
        roof_free(roof);
    }
}

/* Limits that end searches in every stage, by the solver's steps: 12, 24, 48, ... of them. */
static void what_is_found_before_a_limit_is_as_it_says(void **state) {
    size_t cut_short = 0;
    for (size_t i = 0; i < random_roof_count(120); i++) {
        struct random_knobs knobs = {.seed = 260000 + i,
                                     .brackets = 1 + i % 2,
                                     .small = true,
                                     .uneven = i % 4 > 1,
                                     .rows = RANDOM_ROWS_FEET};
        struct random_roof made;
        random_roof_make(&knobs, &made);
        struct roof *roof = random_roof_read(&made, RANDOM_PLAIN, *state, NULL);
        uint64_t steps = 0;
        const struct layout_options options = {.limit_s =
                                                   12 * exp2((double)(i % 6)) / LAYOUT_STEPS_PER_S,
                                               .steps = &steps,
                                               .plain = i % 3 == 0};
        struct problems problems = {0};
        struct layout *layout = NULL;
        assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
        if (layout->marks)
            hold_exact(roof, layout, knobs.seed);
        cut_short += layout->marks && layout->state == LAYOUT_FEASIBLE;
        layout_free(layout);
        problems_free(&problems);
        roof_free(roof);
    }
    print_message("%zu layouts of searches cut short\n", cut_short);
    assert_true(cut_short > 0);
}

static void every_layout_holds_when_checked(void **state) {
    static const struct random_knobs sets[] = {
        {.brackets = 1, .small = true, .vents = 1},
        {.brackets = 1, .small = true, .vents = 2, .sisters = true, .bonded = true},
        {.brackets = 1, .small = true, .rows = RANDOM_ROWS_SPAN, .unsound = true, .sisters = true},
        {.brackets = 1, .small = true, .narrow = true, .unsound = true},
        {.brackets = 1, .vents = 2, .sisters = true, .unsound = true},
        {.brackets = 2, .small = true, .vents = 1, .rows = RANDOM_ROWS_FEET},
    };
    static const size_t counts[] = {460, 460, 460, 400, 200, 20};
    struct tally tally = {0};
    size_t all = 0;
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++)
        all += counts[i];
    assert_int_equal(all, 2000);
    size_t asked = random_roof_count(all);
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++)
        try_roofs(*state, sets[i], 10000 * (i + 1), counts[i] * asked / all + (asked < all),
                  &tally);
    print_message("%zu fit, %zu nearest misses, %zu impossible; %zu not proved within the limit, "
                  "%zu that no tape mark obeys\n",
                  tally.fit, tally.missed, tally.impossible, tally.unproved, tally.off_tape);
}

/* Hips, leaning corners, crooked and short members, keepouts, measured courses, a pipe, joints. */
static void uneven_layouts_hold_when_checked(void **state) {
    static const struct random_knobs sets[] = {
        {.brackets = 1, .small = true, .uneven = true, .vents = 1, .sisters = true},
        {.brackets = 1, .small = true, .uneven = true, .narrow = true, .unsound = true},
        {.brackets = 1, .small = true, .uneven = true, .piped = true},
        {.brackets = 1, .uneven = true, .sisters = true, .unsound = true},
        {.brackets = 1, .jointed = true, .vents = 1, .sisters = true},
        {.brackets = 1, .small = true, .jointed = true, .uneven = true, .piped = true},
        {.brackets = 2, .small = true, .uneven = true, .rows = RANDOM_ROWS_FEET},
    };
    static const size_t counts[] = {60, 60, 40, 20, 20, 40, 10};
    struct tally tally = {0};
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++)
        try_roofs(*state, sets[i], 200000 + 10000 * i, random_roof_count(10 * counts[i]) / 10 + 1,
                  &tally);
    print_message("%zu fit, %zu nearest misses, %zu impossible; %zu not proved within the limit, "
                  "%zu that no tape mark obeys\n",
                  tally.fit, tally.missed, tally.impossible, tally.unproved, tally.off_tape);
}

/* The same figures from a roof written in another way. */
static void hold_alike(const struct layout *plain, const struct layout *other, uint64_t seed,
                       enum random_form form) {
    static const char *const names[RANDOM_FORM_COUNT] = {[RANDOM_PLAIN] = "plain",
                                                         [RANDOM_MIRRORED] = "mirrored",
                                                         [RANDOM_TURNED] = "from the other corner",
                                                         [RANDOM_REORDERED] = "reordered",
                                                         [RANDOM_MM] = "in mm"};
    assert_non_null(plain);
    if (plain->state != other->state || plain->holes != other->holes)
        fail_msg("seed %llu, %s: state %d and %zu holes, not %d and %zu", (unsigned long long)seed,
                 names[form], other->state, other->holes, plain->state, plain->holes);
    expect_of_seed(names[form], seed, other->forgiveness, plain->forgiveness, SAME);
    expect_of_seed(names[form], seed, other->shortfall, plain->shortfall, SAME);
    expect_of_seed(names[form], seed, other->moved, plain->moved, SAME);
}

static void written_in_another_way_the_answer_is_the_same(void **state) {
    static const struct random_knobs sets[] = {
        {.brackets = 1, .small = true, .vents = 2, .sisters = true},
        {.brackets = 1, .small = true, .vents = 1, .unsound = true, .bonded = true},
        {.brackets = 1, .vents = 3, .sisters = true, .unsound = true},
        {.brackets = 1, .small = true, .uneven = true, .sisters = true, .vents = 1},
        {.brackets = 1, .small = true, .uneven = true, .piped = true},
        {.brackets = 1, .small = true, .jointed = true},
    };
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++)
        for (size_t j = 0; j < random_roof_count(64) / 4; j++) {
            struct random_knobs knobs = sets[i];
            knobs.seed = 100000 * (i + 1) + j;
            knobs.right = j % 2 == 0;
            struct random_roof made;
            random_roof_make(&knobs, &made);
            struct layout *plain = NULL;
            for (int form = 0; form < RANDOM_FORM_COUNT; form++) {
                if (form == RANDOM_TURNED && made.uneven.face == RANDOM_LEANING)
                    continue;
                struct roof *roof = random_roof_read(&made, (enum random_form)form, *state, NULL);
                struct layout *layout = random_proved_layout(roof, knobs.seed);
                roof_free(roof);
                if (form == RANDOM_PLAIN) {
                    plain = layout;
                    continue;
                }
                hold_alike(plain, layout, knobs.seed, (enum random_form)form);
                layout_free(layout);
            }
            layout_free(plain);
        }
}

static double cost(const struct roof *roof, const struct layout *layout) {
    return layout->moved + roof->hole_worth * (double)layout->holes;
}

/* Moves every wish by up to 2 in along and up, in sixteenths; how much in all. */
static double shift_wishes(struct roof *roof, uint64_t seed) {
    struct random_source source = {seed};
    double sum = 0;
    for (size_t b = 0; b < roof->bracket_count; b++) {
        const double along = random_between(&source, -32, 32) / 16.0;
        const double up = random_between(&source, -32, 32) / 16.0;
        roof->brackets[b].want_x += along;
        roof->brackets[b].want_y += up;
        sum += fabs(along) + fabs(up);
    }
    return sum;
}

/* What a place costs changes by no more than its wish was moved, so what the best one costs does
 * neither; what no wish has a part in stays as it is. */
static void wish_moved_a_little_moves_the_answer_as_little(void **state) {
    static const struct random_knobs sets[] = {
        {.brackets = 1, .small = true, .vents = 2, .sisters = true},
        {.brackets = 1, .small = true, .narrow = true, .unsound = true},
        {.brackets = 1, .small = true, .uneven = true, .piped = true},
        {.brackets = 2, .vents = 1, .rows = RANDOM_ROWS_FEET},
        {.brackets = 4, .vents = 1, .sisters = true},
    };
    size_t compared = 0, leapt = 0;
    for (size_t i = 0; i < random_roof_count(150); i++) {
        struct random_knobs knobs = sets[i % (sizeof sets / sizeof *sets)];
        knobs.seed = 270000 + i;
        struct random_roof made;
        random_roof_make(&knobs, &made);
        struct roof *roof = random_roof_read(&made, RANDOM_PLAIN, *state, NULL);
        struct layout *first = random_layout(roof, 5, knobs.seed);
        const double sum = shift_wishes(roof, knobs.seed);
        struct layout *second = random_layout(roof, 5, knobs.seed);
        if (first->state == LAYOUT_PROVED && second->state == LAYOUT_PROVED) {
            expect_of_seed("forgiveness", knobs.seed, second->forgiveness, first->forgiveness,
                           SAME);
            expect_of_seed("shortfall", knobs.seed, second->shortfall, first->shortfall, SAME);
            expect_of_seed("cost", knobs.seed, cost(roof, second), cost(roof, first), sum + SAME);
            compared++;
            leapt += fabs(second->marks->brackets[0].x - first->marks->brackets[0].x) > 2 * sum;
        }
        layout_free(first);
        layout_free(second);
        roof_free(roof);
    }
    print_message("%zu roofs compared, on %zu of them the first frame leaps\n", compared, leapt);
    assert_true(compared > random_roof_count(150) / 2);
}

/* Forgiveness of the made roof with that hardware; -INFINITY where nothing can be placed. */
static double forgiveness(const struct random_roof *made, const char *folder, enum hardware top,
                          enum hardware bottom) {
    const enum hardware hardware[ROW_COUNT] = {top, bottom};
    struct roof *roof = random_roof_read(made, RANDOM_PLAIN, folder, hardware);
    struct layout *layout = random_proved_layout(roof, made->knobs.seed);
    double found = layout->state == LAYOUT_IMPOSSIBLE ? -INFINITY : layout->forgiveness;
    layout_free(layout);
    roof_free(roof);
    return found;
}

/* Conditions: see make_fair in random_roof.c.  Below -1 1/2 a foot stands so far from its leg that
 * a strut's overhang, which is a hard rule, no longer bridges it. */
static void strut_forgives_no_less_than_feet(void **state) {
    size_t compared = 0, better = 0;
    for (size_t i = 0; i < random_roof_count(80); i++) {
        struct random_knobs knobs = {
            .seed = 900000 + i, .brackets = 1, .small = i % 4 != 0, .fair = true};
        struct random_roof made;
        random_roof_make(&knobs, &made);
        double feet = forgiveness(&made, *state, HARDWARE_FEET, HARDWARE_FEET);
        if (feet < -1.5)
            continue;
        double top = forgiveness(&made, *state, HARDWARE_STRUT, HARDWARE_FEET);
        double bottom = forgiveness(&made, *state, HARDWARE_FEET, HARDWARE_STRUT);
        double both = forgiveness(&made, *state, HARDWARE_STRUT, HARDWARE_STRUT);
        if (!(top >= feet - SAME) || !(bottom >= feet - SAME) ||
            !(both >= fmax(top, bottom) - SAME))
            fail_msg("seed %llu: feet %g, strut on top %g, below %g, both %g",
                     (unsigned long long)knobs.seed, feet, top, bottom, both);
        compared++;
        better += both > feet + SAME;
    }
    print_message("%zu roofs compared, a strut is better on %zu\n", compared, better);
    assert_true(better > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_found_before_a_limit_is_as_it_says),
        cmocka_unit_test(every_layout_holds_when_checked),
        cmocka_unit_test(uneven_layouts_hold_when_checked),
        cmocka_unit_test(written_in_another_way_the_answer_is_the_same),
        cmocka_unit_test(wish_moved_a_little_moves_the_answer_as_little),
        cmocka_unit_test(strut_forgives_no_less_than_feet),
    };
    return cmocka_run_group_tests(tests, random_folder_make, random_folder_remove);
}
