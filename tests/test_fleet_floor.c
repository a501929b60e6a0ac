/* The floor under the cost of a fleet: roof files read by libcyaml alone, into the same structs as
 * the survey's and by the same schema, and nothing done with them.  With words on the command line
 * it reads the files named on standard input, one a line, and prints how many could be loaded:
 *
 *     find FOLDER -name '*.yaml' | test_fleet_floor read
 */
#include "../src/survey/schema.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

static const cyaml_config_t config = {
    .mem_fn = cyaml_mem, .log_level = CYAML_LOG_ERROR, .flags = CYAML_CFG_NO_ALIAS};

static struct survey_roof *load(const char *path) {
    void *data = NULL;
    return cyaml_load_file(path, &config, &schema_roof, &data, NULL) == CYAML_OK ? data : NULL;
}

static void unload(struct survey_roof *roof) {
    cyaml_free(&config, &schema_roof, roof, 0);
}

/* Otherwise it would be no floor of the same work. */
static void libcyaml_alone_reads_what_the_survey_reads(void **state) {
    (void)state;
    struct survey *survey = NULL;
    struct problems problems = {0};
    struct survey_roof *roof = load(RUDDLE_ROOT "/roofs/easy.yaml");
    assert_non_null(roof);
    assert_int_equal(survey_read(RUDDLE_ROOT "/roofs/easy.yaml", &survey, &problems), OUTCOME_DONE);
    assert_string_equal(roof->roof, survey->roof->roof);
    assert_string_equal(roof->plane->slope, survey->roof->plane->slope);
    assert_int_equal(roof->rafters->list_count, survey->roof->rafters->list_count);
    survey_free(survey);
    unload(roof);
    assert_null(load(RUDDLE_ROOT "/roofs/kits/no-such-file.yaml"));
}

static int read_named(void) {
    char path[4096];
    size_t loaded = 0;
    while (fgets(path, sizeof path, stdin) != NULL) {
        path[strcspn(path, "\n")] = '\0';
        struct survey_roof *roof = load(path);
        if (roof != NULL)
            loaded++;
        unload(roof);
    }
    return printf("%zu\n", loaded) < 0 ? 3 : 0;
}

int main(int argc, char **argv) {
    if (argc == 2 && strcmp(argv[1], "read") == 0)
        return read_named();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(libcyaml_alone_reads_what_the_survey_reads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
