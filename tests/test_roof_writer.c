/* The maker of random roofs itself.  With words on the command line it writes roofs instead, for
 * the scripts beside it:
 *
 *     test_roof_writer FOLDER FIRST COUNT SIZE BRACKETS
 *
 * writes COUNT roofs, seeds FIRST and up, into FOLDER as SEED.yaml and SEED-kit.yaml.  SIZE is
 * small, narrow (mostly nearest misses), uneven, full, or mixed: of every sort, BRACKETS by chance.
 */
#include "random_mix.h"
#include "random_trial.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define SAME 1e-9 /* inches: 25.4 is no binary fraction */

static struct random_knobs rich(uint64_t seed) {
    return (struct random_knobs){.seed = seed,
                                 .brackets = 1 + seed % 4,
                                 .vents = 3,
                                 .small = seed % 2 == 0,
                                 .sisters = true,
                                 .unsound = true,
                                 .bonded = true};
}

static void same_seed_makes_the_same_roof(void **state) {
    (void)state;
    struct random_roof one, other;
    size_t differ = 0;
    for (uint64_t seed = 0; seed < 100; seed++) {
        struct random_knobs knobs = rich(seed);
        random_roof_make(&knobs, &one);
        random_roof_make(&knobs, &other);
        assert_memory_equal(&one, &other, sizeof one);
        knobs.seed = seed + 1000;
        random_roof_make(&knobs, &other);
        differ += one.width != other.width || one.rafters[0].at != other.rafters[0].at;
    }
    assert_true(differ > 90);
}

/* The first figures of splitmix64 from 0, as its author's program prints them (from memory). */
static void source_is_splitmix64(void **state) {
    (void)state;
    struct random_source source = {0};
    assert_true(random_next(&source) == 0xe220a8397b1dcdafu);
    assert_true(random_next(&source) == 0x6e789e6aa1b965f4u);
}

static void whole_numbers_stay_within_their_ends(void **state) {
    (void)state;
    struct random_source source = {7};
    bool lowest = false, highest = false;
    for (int i = 0; i < 1000; i++) {
        int number = random_between(&source, -2, 3);
        assert_true(number >= -2 && number <= 3);
        lowest = lowest || number == -2;
        highest = highest || number == 3;
    }
    assert_true(lowest && highest);
}

static struct roof *read_form(const struct random_knobs *knobs, enum random_form form,
                              const char *folder) {
    struct random_roof made;
    random_roof_make(knobs, &made);
    return random_roof_read(&made, form, folder, NULL);
}

static void expect_same_kits(uint64_t seed, const struct kit *one, const struct kit *other) {
    assert_int_equal(one->leg_count, other->leg_count);
    for (size_t i = 0; i < one->leg_count; i++)
        expect_of_seed("a leg", seed, other->legs[i], one->legs[i], SAME);
    expect_of_seed("slot", seed, other->foot_slot, one->foot_slot, SAME);
    expect_of_seed("span", seed, other->span, one->span, SAME);
    expect_of_seed("hole", seed, other->flashing.hole_up, one->flashing.hole_up, SAME);
    expect_of_seed("lag edge", seed, other->lag_edge, one->lag_edge, SAME);
}

/* Mirrored, reordered and in mm, the roof as read is the same roof, brackets by name. */
static void other_forms_are_read_as_the_same_roof(void **state) {
    for (uint64_t seed = 0; seed < random_roof_count(200); seed++) {
        struct random_knobs knobs = rich(seed);
        struct roof *plain = read_form(&knobs, RANDOM_PLAIN, *state);
        static const enum random_form forms[] = {RANDOM_MIRRORED, RANDOM_REORDERED, RANDOM_MM};
        for (size_t f = 0; f < sizeof forms / sizeof *forms; f++) {
            struct roof *other = read_form(&knobs, forms[f], *state);
            assert_int_equal(other->ply_count, plain->ply_count);
            for (size_t i = 0; i < plain->ply_count; i++)
                expect_of_seed("a ply", seed, other->plies[i].at, plain->plies[i].at, SAME);
            for (size_t i = 0; i < plain->bracket_count; i++) {
                size_t j = forms[f] == RANDOM_REORDERED ? plain->bracket_count - 1 - i : i;
                assert_string_equal(other->brackets[j].name, plain->brackets[i].name);
                expect_of_seed("want", seed, other->brackets[j].want_x, plain->brackets[i].want_x,
                               SAME);
            }
            expect_of_seed("width", seed, other->width, plain->width, SAME);
            expect_of_seed("enough", seed, other->enough, plain->enough, SAME);
            expect_of_seed("hole_worth", seed, other->hole_worth, plain->hole_worth, SAME);
            expect_same_kits(seed, &plain->kits[0], &other->kits[0]);
            roof_free(other);
        }
        roof_free(plain);
    }
}

/* From the other corner everything lies at width - x. */
static void turned_roof_counts_from_the_other_corner(void **state) {
    for (uint64_t seed = 0; seed < random_roof_count(200); seed++) {
        struct random_knobs knobs = rich(seed);
        struct roof *plain = read_form(&knobs, RANDOM_PLAIN, *state);
        struct roof *turned = read_form(&knobs, RANDOM_TURNED, *state);
        assert_true(turned->corner != plain->corner);
        assert_int_equal(turned->ply_count, plain->ply_count);
        for (size_t i = 0; i < plain->ply_count; i++)
            expect_of_seed("a ply", seed, turned->plies[plain->ply_count - 1 - i].at,
                           plain->width - plain->plies[i].at, SAME);
        const struct kit *kit = &plain->kits[0];
        for (size_t i = 0; i < kit->leg_count; i++)
            expect_of_seed("a leg", seed, turned->kits[0].legs[kit->leg_count - 1 - i],
                           kit->width - kit->legs[i], SAME);
        roof_free(turned);
        roof_free(plain);
    }
}

static bool write_roof(const struct random_roof *made, enum random_form form, const char *folder,
                       uint64_t seed) {
    char stem[32], path[RANDOM_PATH];
    snprintf(stem, sizeof stem, "%llu", (unsigned long long)seed);
    if (random_roof_write(made, form, folder, stem, path))
        return true;
    fprintf(stderr, "cannot write %s\n", path);
    return false;
}

static int write_mixed(const char *folder, uint64_t first, uint64_t count) {
    struct random_roof made;
    enum random_form form;
    for (uint64_t seed = first; seed < first + count; seed++) {
        random_mix_make(seed, &made, &form);
        if (!write_roof(&made, form, folder, seed))
            return 3;
    }
    return 0;
}

static int write_roofs(char **words) {
    struct random_knobs knobs = {.brackets = strtoul(words[5], NULL, 10), .vents = 1};
    uint64_t first = strtoull(words[2], NULL, 10), count = strtoull(words[3], NULL, 10);
    if (strcmp(words[4], "mixed") == 0)
        return write_mixed(words[1], first, count);
    knobs.narrow = strcmp(words[4], "narrow") == 0;
    knobs.uneven = strcmp(words[4], "uneven") == 0;
    knobs.small = knobs.narrow || knobs.uneven || strcmp(words[4], "small") == 0;
    knobs.sisters = !knobs.small || knobs.uneven;
    if (knobs.brackets < 1 || knobs.brackets > RANDOM_BRACKETS_MOST)
        return 2;
    for (uint64_t seed = first; seed < first + count; seed++) {
        struct random_roof made;
        knobs.seed = seed;
        knobs.unsound = seed % 2 == 1;
        knobs.piped = knobs.uneven && seed % 3 == 0;
        random_roof_make(&knobs, &made);
        if (!write_roof(&made, RANDOM_PLAIN, words[1], seed))
            return 3;
    }
    return 0;
}

int main(int argc, char **argv) {
    if (argc == 6)
        return write_roofs(argv);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_seed_makes_the_same_roof),
        cmocka_unit_test(source_is_splitmix64),
        cmocka_unit_test(whole_numbers_stay_within_their_ends),
        cmocka_unit_test(other_forms_are_read_as_the_same_roof),
        cmocka_unit_test(turned_roof_counts_from_the_other_corner),
    };
    return cmocka_run_group_tests(tests, random_folder_make, random_folder_remove);
}
