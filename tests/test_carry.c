/* Layouts that carry: the bound on how many lags a row needs, and the search that goes back where
 * what it found does not carry. */
#include "carry.h"
#include "edited_roof.h"
#include "figures.h"
#include "judged.h"
#include "model.h"
#include "survey.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#define LIMIT_S 60

static struct roof *read_roof(const char *name) {
    char path[512];
    struct problems problems = {0};
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    snprintf(path, sizeof path, RUDDLE_ROOT "/roofs/%s", name);
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    assert_int_equal(roof_build(survey, NULL, &roof, &problems), OUTCOME_DONE);
    survey_free(survey);
    return roof;
}

static struct carried carry(const struct roof *roof) {
    const struct layout_options options = {.limit_s = LIMIT_S};
    struct problems problems = {0};
    struct carried carried = {.layout = NULL};
    assert_int_equal(carry_find(roof, &options, SIDE_NEAR, &carried, &problems), OUTCOME_DONE);
    assert_non_null(carried.layout);
    return carried;
}

/* By calculus, the least over T of (V^2/Z + T^2/W) / sqrt(V^2 + T^2), and by trying: 2000 pulls
 * from nothing to twenty times the shear.  The least of those lies no lower, and close by. */
static void least_ratio_is_the_least_over_every_pull(void **state) {
    (void)state;
    uint64_t seed = 77;
    for (int n = 0; n < 300; n++) {
        const double shear = figures_random(&seed, 1, 400);
        const double lateral = figures_random(&seed, 50, 400);
        const double withdrawal = lateral * figures_random(&seed, 0.3, 12);
        const double bound = strength_least_ratio(shear, withdrawal, lateral);
        double least = INFINITY;
        for (int i = 0; i <= 2000; i++) {
            const double pull = shear * 20 * i / 2000;
            least = fmin(least, lag_combined(pull, shear, withdrawal, lateral).ratio);
        }
        if (!(bound <= least * (1 + 1e-12) && bound >= least * (1 - 1e-3)))
            fail_msg("V %g, Z %g, W %g: bound %.9g, least tried %.9g", shear, lateral, withdrawal,
                     bound, least);
    }
}

/* Random loads on the frame of docs/strength.md, random strength of its flashing: a row whose lags
 * all carry has as many as the bound asks for, and feet that carry are never ruled out. */
static void no_row_that_carries_has_fewer_lags_than_the_bound(void **state) {
    (void)state;
    uint64_t seed = 78;
    struct judged judged;
    size_t carried = 0, bound = 0;
    judged_make(&judged, NULL);
    for (int n = 0; n < 2000; n++) {
        struct kit *kit = &judged.roof->kits[0];
        kit->filled_lb = kit->dry_lb + figures_random(&seed, 0, 900);
        judged.loads.snow_psf = figures_random(&seed, 0, 40);
        judged.loads.uplift_psf = figures_random(&seed, 0, 40);
        judged.kit_loads.allowable_lateral_lb = figures_random(&seed, 30, 400);
        judged.kit_loads.allowable_uplift_lb = figures_random(&seed, 100, 2000);
        judged_judge(&judged, OUTCOME_DONE);
        judged.roof->loads = &judged.loads;
        for (int row = ROW_TOP; row < ROW_COUNT; row++) {
            double worst = 0;
            size_t count = 0;
            for (size_t i = 0; i < judged.strength->count; i++) {
                const struct strength_item *item = &judged.strength->items[i];
                if (item->kind == STRENGTH_LAG && item->row == row) {
                    worst = fmax(worst, item->ratio);
                    count++;
                }
            }
            const size_t least = strength_least_lags(judged.roof, 0, (enum row)row);
            carried += worst <= 1;
            bound += least > 2;
            if (worst <= 1 && least > count)
                fail_msg("%zu lags carry, the bound asks for %zu", count, least);
        }
        judged.roof->loads = NULL; /* not the roof's own to free */
    }
    judged_free(&judged);
    assert_true(carried > 500 && bound > 500);
}

static void roof_without_loads_is_not_judged(void **state) {
    (void)state;
    struct roof *roof = read_roof("easy.yaml");
    struct carried carried = carry(roof);
    assert_null(carried.strength);
    assert_true(carried.verdict->holds);
    assert_int_equal(carried.layout->state, LAYOUT_PROVED);
    carried_free(&carried);
    roof_free(roof);
}

static void first_layout_that_carries_stays_proved(void **state) {
    (void)state;
    struct roof *roof = read_roof("carries.yaml");
    struct carried carried = carry(roof);
    assert_true(carried.verdict->holds && carried.strength->carries);
    assert_true(carried.strength->worst_rafter <= 1);
    assert_int_equal(carried.layout->state, LAYOUT_PROVED);
    assert_false(carried.none_carry);
    carried_free(&carried);
    roof_free(roof);
}

/* Without a word on strength the same roof has a layout that does not carry. */
static void layout_that_does_not_carry_is_followed_by_one_that_does(void **state) {
    (void)state;
    struct roof *roof = read_roof("carries-after-moving.yaml");
    struct loads *loads = roof->loads;
    struct strength *strength = NULL;
    roof->loads = NULL;
    struct carried first = carry(roof);
    assert_true(first.verdict->holds);
    assert_int_equal(first.layout->state, LAYOUT_PROVED);
    assert_int_equal(strength_judge(roof, first.marks, first.verdict, loads, &strength),
                     OUTCOME_DONE);
    assert_false(strength->carries);
    roof->loads = loads;
    struct carried second = carry(roof);
    assert_true(second.verdict->holds && second.strength->carries);
    assert_true(second.searches > 1);
    assert_int_equal(second.layout->state, LAYOUT_FEASIBLE); /* carries, but not proved the best */
    assert_true(second.layout->bound_forgiveness >= first.layout->forgiveness - 1e-9);
    strength_free(strength);
    carried_free(&first);
    carried_free(&second);
    roof_free(roof);
}

/* The bound says that none carries; so do 400 places over the face, with the lags where they are
 * found and the frame shifted, and no ratio falls below what the bound's shear alone comes to. */
static void nowhere_on_the_roof_does_a_frame_carry(void **state) {
    (void)state;
    uint64_t seed = 79;
    struct roof *roof = read_roof("cannot-carry.yaml");
    assert_true(strength_least_lags(roof, 0, ROW_BOTTOM) == SIZE_MAX);
    struct carried carried = carry(roof);
    assert_true(carried.none_carry && carried.verdict->holds && !carried.strength->carries);
    assert_int_equal(carried.layout->state, LAYOUT_PROVED);
    for (int n = 0; n < 400; n++) {
        struct marks *marks = NULL;
        struct verdict *verdict = NULL;
        struct strength *strength = NULL;
        assert_int_equal(marks_copy(carried.marks, &marks), OUTCOME_DONE);
        const double x = figures_random(&seed, -30, 120), y = figures_random(&seed, -20, 40);
        marks->brackets[0].x += x + figures_random(&seed, -3, 3);
        marks->brackets[0].y += y;
        for (size_t i = 0; i < marks->count; i++) {
            marks->list[i].x += x;
            marks->list[i].y += y + figures_random(&seed, -2, 2);
        }
        assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
        assert_int_equal(strength_judge(roof, marks, verdict, roof->loads, &strength),
                         OUTCOME_DONE);
        assert_false(strength->carries);
        strength_free(strength);
        verdict_free(verdict);
        marks_free(marks);
    }
    carried_free(&carried);
    roof_free(roof);
}

/* Filled, 857.2 lb at 5/12 push 329.69 lb down the roof, 82.42 a leg, 164.85 a strut: two lags of
 * 80 lb cannot hold that, three can.  The span of 50 alone would ask for two, 48 in apart.  (The
 * uplift is no more than twice the lateral figure, so that no pull beside the shear could ease a
 * lag.) */
static void strut_takes_more_lags_than_its_span_asks_for(void **state) {
    (void)state;
    const struct edit edits[] = {{"want: [60, 40]}", "want: [60, 40], bottom: strut}"},
                                 {"place:\n", "loads: {snow: 0}\nplace:\n"},
                                 {0}};
    const struct edit kit_edits[] = {
        {"span: 50", "span: 50, holes: span"},
        {"lap: 1/2}", "lap: 1/2, allowable: {lateral: 80, uplift: 160}}"},
        {0}};
    const struct edited_roof edited = {.root = RUDDLE_ROOT, .roof = edits, .kit = kit_edits};
    struct roof *roof = edited_roof_good(&edited);
    struct loads *loads = roof->loads;
    assert_int_equal(strength_least_lags(roof, 0, ROW_TOP), 3);
    roof->loads = NULL;
    struct carried two = carry(roof);
    roof->loads = loads;
    struct carried three = carry(roof);
    assert_int_equal(two.marks->count, 4);
    assert_int_equal(three.marks->count, 6);
    assert_true(three.verdict->holds && three.strength->carries);
    carried_free(&two);
    carried_free(&three);
    roof_free(roof);
}

/* The plain roof with its want at (50 1/2, 32), where feet are lagged to rafters 3 and 5 with their
 * legs 1 1/2 in beside them, and flashings tested for 400 lb of shear and 420 of pull. */
static struct roof *roof_of_feet(const char *loads) {
    const struct edit edits[] = {
        {"want: [60, 40]}", "want: [50 1/2, 32]}"}, {"place:\n", loads}, {0}};
    const struct edit kit_edits[] = {
        {"lap: 1/2}", "lap: 1/2, allowable: {lateral: 400, uplift: 420}}"}, {0}};
    const struct edited_roof edited = {.root = RUDDLE_ROOT, .roof = edits, .kit = kit_edits};
    return edited_roof_good(&edited);
}

static struct layout *find_by(const struct roof *roof, const struct limits *limits, bool plain) {
    const struct layout_options options = {.limit_s = LIMIT_S, .limits = limits, .plain = plain};
    struct problems problems = {0};
    struct layout *layout = NULL;
    assert_int_equal(layout_find(roof, &options, &layout, &problems), OUTCOME_DONE);
    assert_non_null(layout->marks);
    return layout;
}

/* By stands, and by the integer program alone: each forbids in a way of its own, and both find as
 * much. */
static struct layout *find(const struct roof *roof, const struct limits *limits) {
    struct layout *layout = find_by(roof, limits, false), *plain = find_by(roof, limits, true);
    assert_int_equal(plain->state, LAYOUT_PROVED);
    assert_int_equal(layout->state, LAYOUT_PROVED);
    assert_true(fabs(plain->forgiveness - layout->forgiveness) <= 1e-6);
    assert_true(fabs(plain->moved - layout->moved) <= 1e-6);
    assert_int_equal(plain->holes, layout->holes);
    layout_free(plain);
    return layout;
}

/* Where the one frame stands (0), and how far up its legs its top (1) and bottom row (2) meet it.
 */
static double place_of(const struct layout *layout, int axis) {
    const struct marks *marks = layout->marks;
    size_t i = 0;
    if (axis == 0)
        return marks->brackets[0].x;
    while ((int)marks->list[i].row != axis - 1)
        i++;
    return marks->list[i].y - marks->brackets[0].y;
}

/* The plies of a row, in order; returns how many. */
static size_t plies_of(const struct layout *layout, enum row row, size_t plies[16]) {
    size_t count = 0;
    for (size_t i = 0; i < layout->marks->count; i++)
        if (layout->marks->list[i].row == row)
            plies[count++] = layout->plies[i];
    return count;
}

/* Each row's plies are ruled out for 1/4 in to either side of where the frame stands, or of where a
 * row meets it.  Nothing better than a small step aside is asked for: the same plies remain, and
 * what was limited lies at or beyond the stretch's end. */
static void what_is_ruled_out_in_one_place_stays_allowed_beside_it(void **state) {
    (void)state;
    struct roof *roof = roof_of_feet("place:\n");
    struct layout *first = find(roof, NULL);
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        for (int axis = 0; axis < 1 + ROW_COUNT; axis++) {
            size_t before[16] = {0}, after[16] = {0};
            struct ruled_out out = {.row = (enum row)row, .plies = before};
            const struct limits limits = {.list = &out, .count = 1};
            const double at = place_of(first, axis);
            double *stretches[] = {out.where.x, out.where.v[ROW_TOP], out.where.v[ROW_BOTTOM]};
            for (int i = 0; i < 1 + ROW_COUNT; i++) {
                stretches[i][0] = i == axis ? at - 0.25 : -ROOF_ENDLESS;
                stretches[i][1] = i == axis ? at + 0.25 : ROOF_ENDLESS;
            }
            out.count = plies_of(first, out.row, before);
            struct layout *next = find(roof, &limits);
            assert_int_equal(plies_of(next, out.row, after), out.count);
            assert_memory_equal(before, after, sizeof before);
            if (!(fabs(place_of(next, axis) - at) >= 0.25 - 1e-6))
                fail_msg("row %d, axis %d: %.9g is ruled out about %.9g", row, axis,
                         place_of(next, axis), at);
            assert_true(next->forgiveness >= first->forgiveness - 1e-6);
            layout_free(next);
        }
    layout_free(first);
    roof_free(roof);
}

/* Ruled out wherever the frame stands, the plies do not come back. */
static void what_is_ruled_out_everywhere_is_not_chosen(void **state) {
    (void)state;
    struct roof *roof = roof_of_feet("place:\n");
    struct layout *first = find(roof, NULL);
    for (int row = ROW_TOP; row < ROW_COUNT; row++) {
        size_t before[16] = {0}, after[16] = {0};
        struct ruled_out out = {
            .row = (enum row)row,
            .plies = before,
            .where = {{-ROOF_ENDLESS, ROOF_ENDLESS},
                      {{-ROOF_ENDLESS, ROOF_ENDLESS}, {-ROOF_ENDLESS, ROOF_ENDLESS}}}};
        const struct limits limits = {.list = &out, .count = 1};
        out.count = plies_of(first, out.row, before);
        struct layout *next = find(roof, &limits);
        plies_of(next, out.row, after);
        assert_memory_not_equal(before, after, sizeof before);
        layout_free(next);
    }
    layout_free(first);
    roof_free(roof);
}

/* 33 psf lift 1386 lb.  Under 0.6D + 0.6W the empty frame (190 lb) pulls with 831.6 - 0.6 x 175.4 =
 * 726.4 lb; a foot whose leg stands 1 1/2 in beside its lag pries with 2 1/2 times its leg's pull,
 * more than 420 lb.  With the same rafters it carries a few inches away: legs nearer to their lags,
 * or rows met elsewhere on them. */
static void feet_that_pry_too_hard_are_set_a_little_differently(void **state) {
    (void)state;
    struct roof *roof = roof_of_feet("loads: {uplift: 33}\nplace:\n");
    struct loads *loads = roof->loads;
    struct strength *strength = NULL;
    size_t before[16] = {0}, after[16] = {0};
    roof->loads = NULL;
    struct carried first = carry(roof);
    assert_int_equal(strength_judge(roof, first.marks, first.verdict, loads, &strength),
                     OUTCOME_DONE);
    assert_false(strength->carries);
    roof->loads = loads;
    struct carried second = carry(roof);
    assert_true(second.verdict->holds && second.strength->carries);
    assert_int_equal(plies_of(first.layout, ROW_BOTTOM, before), 2);
    assert_int_equal(plies_of(second.layout, ROW_BOTTOM, after), 2);
    assert_memory_equal(before, after, sizeof before);
    assert_true(second.layout->moved <= 3);
    assert_true(second.layout->forgiveness >= first.layout->forgiveness - 1e-6);
    strength_free(strength);
    carried_free(&first);
    carried_free(&second);
    roof_free(roof);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(least_ratio_is_the_least_over_every_pull),
        cmocka_unit_test(no_row_that_carries_has_fewer_lags_than_the_bound),
        cmocka_unit_test(roof_without_loads_is_not_judged),
        cmocka_unit_test(first_layout_that_carries_stays_proved),
        cmocka_unit_test(layout_that_does_not_carry_is_followed_by_one_that_does),
        cmocka_unit_test(nowhere_on_the_roof_does_a_frame_carry),
        cmocka_unit_test(strut_takes_more_lags_than_its_span_asks_for),
        cmocka_unit_test(what_is_ruled_out_in_one_place_stays_allowed_beside_it),
        cmocka_unit_test(what_is_ruled_out_everywhere_is_not_chosen),
        cmocka_unit_test(feet_that_pry_too_hard_are_set_a_little_differently),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
