/* The maker of fleets itself.  With words on the command line it writes a fleet instead, for the
 * scripts beside it and for whoever wants one:
 *
 *     test_fleet_writer FOLDER COUNT SEED NARROW FAULTY [small]
 *
 * writes COUNT roofs below FOLDER, 100 a crew, with the kits that they share in FOLDER/kits.
 * NARROW of a hundred are roofs whose windows seldom fit, FAULTY of a hundred have something wrong.
 */
#include "made_fleet.h"
#include "run_program.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static char *written(const struct made_fleet *fleet, const char *name) {
    char folder[RUN_PATH], path[RUN_PATH];
    run_folder_make(folder);
    assert_true(made_fleet_write(fleet, folder));
    char *text = run_file_read(run_path(path, folder, name));
    run_folder_remove(folder);
    return text;
}

static void same_seed_writes_the_same_fleet(void **state) {
    (void)state;
    const struct made_fleet fleet = {.seed = 5, .count = 3, .small = true};
    const struct made_fleet other = {.seed = 6, .count = 3, .small = true};
    char *first = written(&fleet, "crew-0001/000002.yaml");
    char *again = written(&fleet, "crew-0001/000002.yaml");
    char *different = written(&other, "crew-0001/000002.yaml");
    assert_string_equal(first, again);
    assert_string_not_equal(first, different);
    assert_non_null(strstr(first, "kit: ../kits/"));
    free(first);
    free(again);
    free(different);
}

static void a_larger_fleet_begins_with_the_smaller_one(void **state) {
    (void)state;
    const struct made_fleet few = {.seed = 5, .count = 2, .narrow = 25, .faulty = 5};
    const struct made_fleet many = {.seed = 5, .count = 120, .narrow = 25, .faulty = 5};
    char *small = written(&few, "crew-0001/000002.yaml");
    char *large = written(&many, "crew-0001/000002.yaml");
    char *last = written(&many, "crew-0002/000120.yaml");
    assert_string_equal(small, large);
    free(small);
    free(large);
    free(last);
}

static int write_fleet(int argc, char **argv) {
    const struct made_fleet fleet = {.seed = strtoull(argv[3], NULL, 10),
                                     .count = strtoul(argv[2], NULL, 10),
                                     .narrow = atoi(argv[4]),
                                     .faulty = atoi(argv[5]),
                                     .small = argc == 7 && strcmp(argv[6], "small") == 0};
    if (made_fleet_write(&fleet, argv[1]))
        return 0;
    perror(argv[1]);
    return 3;
}

int main(int argc, char **argv) {
    if (argc == 6 || argc == 7)
        return write_fleet(argc, argv);
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_seed_writes_the_same_fleet),
        cmocka_unit_test(a_larger_fleet_begins_with_the_smaller_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
