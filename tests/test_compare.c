/* Four ways to choose hardware: each is what a layout of its own gives, and the chance to hit
 * against a closed form and against a simulation. */
#include "compare.h"
#include "figures.h"
#include "judged.h"
#include "plain_roof.h"
#include "run_program.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <jansson.h>

static json_t *parsed(struct run *run) {
    json_t *json = json_loads(run->out, 0, NULL);
    assert_non_null(json);
    run_free(run);
    return json;
}

static void same_number(const json_t *one, const json_t *other, const char *key) {
    const json_t *a = json_object_get(one, key), *b = json_object_get(other, key);
    assert_int_equal(json_is_null(a), json_is_null(b));
    if (!json_is_null(a) && !(fabs(json_number_value(a) - json_number_value(b)) <= 1e-9))
        fail_msg("%s: %.9g, not %.9g", key, json_number_value(a), json_number_value(b));
}

/* Every column of a roof in roofs/, and the exit code. */
static void columns_are_those_of(const char *name) {
    char path[RUN_PATH];
    run_path(path, RUDDLE_ROOT "/roofs", name);
    struct run run = run_program(RUDDLE_PROGRAM, WORDS("compare", path, "--json"), NULL);
    const int code = run.code;
    json_t *json = parsed(&run);
    const json_t *choices = json_object_get(json, "choices");
    bool any = false;
    assert_int_equal(json_array_size(choices), COMPARE_CHOICES);
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        const json_t *choice = json_array_get(choices, i);
        const char *top = json_string_value(json_object_get(choice, "top"));
        const char *bottom = json_string_value(json_object_get(choice, "bottom"));
        run = run_program(RUDDLE_PROGRAM,
                          WORDS("layout", path, "--json", "--top", top, "--bottom", bottom), NULL);
        json_t *layout = parsed(&run);
        const char *status = json_string_value(json_object_get(choice, "status"));
        assert_string_equal(status, json_string_value(json_object_get(layout, "status")));
        same_number(choice, layout, "forgiveness");
        same_number(choice, layout, "holes");
        same_number(choice, json_object_get(layout, "optimum"), "moved");
        assert_true(
            json_equal(json_object_get(choice, "reasons"), json_object_get(layout, "reasons")));
        any = any || strcmp(status, "ok") == 0;
        json_decref(layout);
    }
    assert_int_equal(code, any ? 0 : 1);
    json_decref(json);
}

static void each_column_is_what_layout_gives(void **state) {
    (void)state;
    columns_are_those_of("easy.yaml");
    if (getenv("RUDDLE_ROOFS") != NULL)
        return; /* one will do in a slow build */
    columns_are_those_of("feet-barely-meet.yaml");
    columns_are_those_of("nothing-fits.yaml");
    columns_are_those_of("carries.yaml");
}

/* The marks of the plain roof, and the chance that they all hit. */
static double plain_chance(struct roof *roof, struct marks *marks) {
    struct verdict *verdict = NULL;
    assert_int_equal(check_marks(roof, marks, &verdict), OUTCOME_DONE);
    const double chance = compare_chance(roof, marks, verdict);
    verdict_free(verdict);
    return chance;
}

/* Lags stay in the middle of rafters 3, 4 and 5, tolerance 1/8, so deviation 1/16; half a ply less
 * the edge distance is 3/4 - 15/32 = 9/32 = 4.5 deviations.  One rafter: erf(4.5 / sqrt 2); three
 * of them, two with a lag on either line: the third power, as lags of one rafter share its error.
 */
static void lags_in_the_middle_have_the_chance_of_three_rafters(void **state) {
    (void)state;
    struct roof *roof = plain_roof(NULL);
    struct marks *marks = plain_marks(roof);
    const double one = erf(4.5 / sqrt(2));
    expect_figure("chance", "closed form", plain_chance(roof, marks), one * one * one, 1e-12);
    marks_free(marks);
    roof_free(roof);
}

/* One foot, the only lag looked at (all others' rafters are known exactly), 3/16 off the middle of
 * its ply: it hits while the error lies from 3/16 - 9/32 = -3/32 to 3/16 + 9/32 = 15/32, that is
 * from -1.5 to 7.5 deviations of 1/16. */
static void foot_off_the_middle_has_its_closed_form(void **state) {
    (void)state;
    struct roof *roof = plain_roof(NULL);
    struct marks *marks = plain_marks(roof);
    for (size_t i = 0; i < roof->rafter_count; i++)
        roof->rafters[i].tolerance = i == 2 ? 0.125 : 0;
    for (size_t i = 0; i < marks->count; i++)
        if (marks->list[i].x < 65)
            marks->list[i].x += 0.1875;
    const double wanted = 0.5 * (erf(7.5 / sqrt(2)) + erf(1.5 / sqrt(2)));
    expect_figure("chance", "closed form", plain_chance(roof, marks), wanted, 1e-12);
    marks_free(marks);
    roof_free(roof);
}

/* Two normal numbers by Box and Muller. */
static double normal(uint64_t *seed) {
    const double radius = sqrt(-2 * log(1 - figures_random(seed, 0, 1)));
    return radius * cos(2 * acos(-1) * figures_random(seed, 0, 1));
}

/* 200 000 roofs drawn at random: rafters a quarter of an inch uncertain, lags off their middles.
 * The share that hits lies within four standard errors of the figure. */
static void chance_agrees_with_a_simulation(void **state) {
    (void)state;
    enum { DRAWS = 200000 };
    uint64_t seed = 91;
    struct roof *roof = plain_roof(NULL);
    struct marks *marks = plain_marks(roof);
    for (size_t i = 0; i < roof->rafter_count; i++)
        roof->rafters[i].tolerance = 0.25 + 0.02 * (double)i;
    for (size_t i = 0; i < marks->count; i++)
        marks->list[i].x += 0.03 * (double)i - 0.06;
    const double chance = plain_chance(roof, marks);
    size_t hits = 0;
    for (int n = 0; n < DRAWS; n++) {
        double off[ROOF_RAFTERS_MOST] = {0};
        for (size_t i = 0; i < roof->rafter_count; i++)
            off[i] = normal(&seed) * roof->rafters[i].tolerance / 2;
        bool hit = true;
        for (size_t i = 0; i < marks->count && hit; i++) {
            const size_t rafter = (size_t)((marks->list[i].x - 16) / 24 + 0.5); /* 16, 40, 64 ... */
            const double middle = 16 + 24 * (double)rafter + off[rafter];
            hit = fabs(marks->list[i].x - middle) <= 0.75 - 0.46875;
        }
        hits += hit;
    }
    const double error = sqrt(chance * (1 - chance) / DRAWS);
    assert_true(chance > 0.5 && chance < 0.99);
    expect_figure("chance", "simulation", chance, (double)hits / DRAWS, 4 * error);
    marks_free(marks);
    roof_free(roof);
}

/* Prices that no sum of others can be mistaken for. */
static void price(struct kit *kit) {
    kit->has_prices = true;
    kit->price_foot = 100;
    kit->price_clamp = 10;
    kit->price_lag = 1;
    kit->price_flashing = 0.25;
    kit->price_strut_in = 1e-3;
}

/* Two legs: strut on top and feet below take 2 feet, 2 clamps, 3 + 2 lags, each with a flashing,
 * and the strut; feet everywhere 4 feet and 4 lags. */
static void cost_is_that_of_the_parts(void **state) {
    (void)state;
    struct roof *roof = plain_roof(NULL);
    struct comparison comparison;
    struct problems problems = {0};
    price(&roof->kits[0]);
    assert_int_equal(compare_find(roof, 60, SIDE_NEAR, &comparison, &problems), OUTCOME_DONE);
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        const struct compared *choice = &comparison.choices[i];
        const double legs = 2, feet = choice->hardware[ROW_TOP] == HARDWARE_FEET ? legs : 0;
        const double below = choice->hardware[ROW_BOTTOM] == HARDWARE_FEET ? legs : 0;
        const double clamps = 2 * legs - feet - below;
        expect_figure("cost", "by hand", choice->cost,
                      100 * (feet + below) + 10 * clamps +
                          1.25 * (double)choice->carried.marks->count + 1e-3 * choice->strut_in,
                      1e-9);
    }
    assert_int_equal(comparison.choices[0].lags, 5);
    assert_int_equal(comparison.choices[2].lags, 4);
    expect_figure("feet alone", "by hand", comparison.choices[2].cost, 405, 1e-9);
    compare_free(&comparison);
    problems_free(&problems);
    roof_free(roof);
}

/* A frame of a kit without prices: no cost at all, rather than that of the others. */
static void frame_without_prices_leaves_no_cost(void **state) {
    (void)state;
    struct plain_knobs knobs = plain_knobs();
    knobs.bracket_count = 2;
    struct roof *roof = plain_roof(&knobs);
    struct comparison comparison;
    struct problems problems = {0};
    struct kit kits[2] = {roof->kits[0], roof->kits[0]};
    struct kit *own = roof->kits;
    price(&kits[0]);
    roof->kits = kits;
    roof->kit_count = 2;
    roof->brackets[1].kit = 1;
    assert_int_equal(compare_find(roof, 60, SIDE_NEAR, &comparison, &problems), OUTCOME_DONE);
    for (size_t i = 0; i < COMPARE_CHOICES; i++)
        assert_true(comparison.choices[i].carried.marks == NULL ||
                    isnan(comparison.choices[i].cost));
    compare_free(&comparison);
    problems_free(&problems);
    roof->kits = own;
    roof->kit_count = 1;
    roof_free(roof);
}

/* A roof and a kit with those prices, compared. */
static struct run compared_with(const char *prices, bool json) {
    char folder[RUN_PATH], path[RUN_PATH], text[4000];
    run_folder_make(folder);
    char *roof = run_file_read(RUDDLE_ROOT "/tests/roofs/plain.yaml");
    char *kit = run_file_read(RUDDLE_ROOT "/tests/roofs/plain-kit.yaml");
    snprintf(text, sizeof text, "%s%s", kit, prices);
    run_file_write(run_path(path, folder, "plain-kit.yaml"), text);
    run_file_write(run_path(path, folder, "plain.yaml"), roof);
    struct run run =
        run_program(RUDDLE_PROGRAM, WORDS("compare", path, json ? "--json" : "--limit=60"), NULL);
    free(kit);
    free(roof);
    run_folder_remove(folder);
    return run;
}

#define PRICES "prices: {foot: 18.5, strut: 6, clamp: 4.25, lag: 1.1, flashing: 12}\n"

/* A strut of 6 a foot is 1/2 an inch. */
static void prices_of_the_kit_file_are_reckoned_with(void **state) {
    (void)state;
    struct run run = compared_with(PRICES, true);
    assert_int_equal(run.code, 0);
    json_t *json = parsed(&run);
    const json_t *first = json_array_get(json_object_get(json, "choices"), 0);
    const double strut = json_number_value(json_object_get(first, "strut_length"));
    assert_int_equal(json_integer_value(json_object_get(first, "lags")), 5);
    expect_figure("cost", "by hand", json_number_value(json_object_get(first, "cost")),
                  2 * 18.5 + 2 * 4.25 + 5 * (1.1 + 12) + strut / 2, 2e-6);
    json_decref(json);
    run = compared_with(PRICES, false);
    assert_non_null(strstr(run.out, "\ncost of hardware"));
    assert_non_null(strstr(run.out, "Cost is that of feet"));
    run_free(&run);
}

static void without_prices_cost_is_not_spoken_of(void **state) {
    (void)state;
    struct run run = compared_with("", true);
    json_t *json = parsed(&run);
    const json_t *first = json_array_get(json_object_get(json, "choices"), 0);
    assert_true(json_is_null(json_object_get(first, "cost")));
    json_decref(json);
    run = compared_with("", false);
    assert_null(strstr(run.out, "ost"));
    run_free(&run);
}

static void half_a_list_of_prices_is_refused(void **state) {
    (void)state;
    struct run run = compared_with("prices: {foot: 18.5, lag: 1}\n", true);
    assert_int_equal(run.code, 2);
    assert_non_null(strstr(run.err, "prices."));
    run_free(&run);
}

static void table_is_no_wider_than_a_terminal(void **state) {
    (void)state;
    struct run run =
        run_program(RUDDLE_PROGRAM, WORDS("compare", RUDDLE_ROOT "/roofs/nothing-fits.yaml"), NULL);
    assert_int_equal(run.code, 1);
    for (const char *line = run.out; *line != '\0';) {
        const size_t length = strcspn(line, "\n");
        assert_true(length <= 80);
        line += length + (line[length] == '\n');
    }
    assert_non_null(strstr(run.out, "WHAT STANDS IN THE WAY, the worst of each"));
    assert_non_null(strstr(run.out, "What it means"));
    run_free(&run);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_column_is_what_layout_gives),
        cmocka_unit_test(lags_in_the_middle_have_the_chance_of_three_rafters),
        cmocka_unit_test(foot_off_the_middle_has_its_closed_form),
        cmocka_unit_test(chance_agrees_with_a_simulation),
        cmocka_unit_test(cost_is_that_of_the_parts),
        cmocka_unit_test(frame_without_prices_leaves_no_cost),
        cmocka_unit_test(prices_of_the_kit_file_are_reckoned_with),
        cmocka_unit_test(without_prices_cost_is_not_spoken_of),
        cmocka_unit_test(half_a_list_of_prices_is_refused),
        cmocka_unit_test(table_is_no_wider_than_a_terminal),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
