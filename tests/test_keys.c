/* The defaults that editors show and docs/keys.md lists: a roof on which one of them is written out
 * is the same roof.  What is written there comes from docs/roof.schema.json and
 * docs/kit.schema.json; tests/readers/keys.mjs holds
 * docs/keys.md against those. */
#include "roof.h"
#include "survey.h"

#include <jansson.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* A roof and its kit with every key that must be there, one entry of each list (two rafters: the
 * second is doubled), and no key that has a default. */
static const char *const base_roof =
    "{'roof': 'R', 'plane': {'width': 240, 'slope': 180, 'pitch': '5/12'}, 'setback': {},"
    " 'courses': {'first': 6, 'exposure': '5 5/8', 'joints': {'tab': 12, 'first_cutout': 4}},"
    " 'rafters': {'list': [{'at': 24}, {'at': 72, 'plies': 2, 'sister': 'away'}]},"
    " 'vents': [{'name': 'V', 'at': [200, 100], 'size': [12, 14]}],"
    " 'place': [{'name': 'A', 'kit': 'kit.yaml'}],"
    " 'pipes': [{'name': 'P', 'bracket': 'A', 'port': [60, 60], 'reach': 12, 'bore': 1,"
    "   'flashing': {'width': 9, 'height': 12, 'hole_up': 3, 'block': 1, 'edge': [0, 1],"
    "     'clear': '1/4', 'lap': '1/2'}}],"
    " 'loads': {'rafter': {'size': '2x6', 'species': 'hem-fir', 'grade': 'no2', 'bearing': 24,"
    "   'span': 132, 'dead': 12}}}";

static const char *const base_kit =
    "{'kit': 'K', 'bracket': {'width': 72, 'height': 84, 'legs': [12, 60], 'top': [70, 76],"
    "   'bottom': [4, 20], 'bottom_bracket': {'gap': [1, 1.5], 'depth': 2, 'wrench': '1/2'},"
    "   'standoff': 4},"
    " 'foot': {'reach': 1.5, 'slot': '3/4', 'half': 1},"
    " 'strut': {'half': '7/8', 'grip': 1.25, 'lag_clear': 1.5, 'end': 1, 'overhang': 6, 'span': 50,"
    "   'stock': [120]},"
    " 'flashing': {'width': 9, 'height': 12, 'hole_up': 3, 'block': 1, 'edge': [0, 1],"
    "   'clear': '1/4', 'lap': '1/2'},"
    " 'lag': {'diameter': '5/16', 'length': 4, 'through': '1/2'},"
    " 'weight': {'dry': 190, 'fill': 80, 'centre': [36, 66, 12]}}";

/* JSON from a text with quotes that C can bear. */
static json_t *json_of(const char *text) {
    char *quoted = strdup(text);
    assert_non_null(quoted);
    for (char *quote = strchr(quoted, '\''); quote != NULL; quote = strchr(quote, '\'')) {
        *quote = '"';
    }
    json_t *value = json_loads(quoted, 0, NULL);
    free(quoted);
    assert_non_null(value);
    return value;
}

/* ---- A roof in words ------------------------------------------------------------------------- */

static void tell(FILE *stream, const char *name, const double *figures, size_t count) {
    fprintf(stream, "%s:", name);
    for (size_t i = 0; i < count; i++) {
        fprintf(stream, " %.12g", figures[i]);
    }
    fputc('\n', stream);
}

static void tell_kit(FILE *stream, const struct kit *kit, const struct kit_loads *loads) {
    const double figures[] = {
        kit->width,      kit->height,       kit->standoff, kit->foot_reach,   kit->foot_slot,
        kit->strut_half, kit->every_rafter, kit->lag_edge, kit->lag_diameter, loads->foot_toe_in};
    tell(stream, "kit", figures, sizeof figures / sizeof figures[0]);
}

static void tell_loads(FILE *stream, const struct loads *loads) {
    const double figures[] = {loads->snow_psf, loads->uplift_psf, loads->sheathing_in,
                              loads->roofing_in, loads->gap};
    tell(stream, "loads", figures, sizeof figures / sizeof figures[0]);
}

static void tell_members(FILE *stream, const struct roof *roof) {
    for (size_t i = 0; i < roof->rafter_count; i++) {
        const struct rafter *rafter = &roof->rafters[i];
        const double figures[] = {rafter->from, rafter->to, rafter->sound, rafter->tolerance,
                                  (double)rafter->plies};
        tell(stream, "rafter", figures, sizeof figures / sizeof figures[0]);
    }
    for (size_t i = 0; i < roof->ply_count; i++) {
        const struct ply *ply = &roof->plies[i];
        const double figures[] = {ply->at, ply->half, ply->tolerance, ply->reach[0], ply->reach[1]};
        tell(stream, "ply", figures, sizeof figures / sizeof figures[0]);
    }
}

static void tell_roof(FILE *stream, const struct roof *roof) {
    const struct vent *vent = &roof->vents[0];
    const struct bracket *bracket = &roof->brackets[0];
    const double figures[] = {roof->measure,
                              roof->corner,
                              roof->width,
                              roof->slope,
                              roof->trusses,
                              roof->course_tolerance,
                              roof->keep_joint,
                              roof->found,
                              roof->doubt,
                              roof->apart,
                              roof->enough,
                              roof->hole_worth,
                              vent->kind,
                              vent->flange.x0,
                              vent->tall,
                              vent->keep_flashing,
                              vent->keep_bracket,
                              bracket->hardware[ROW_TOP],
                              bracket->hardware[ROW_BOTTOM],
                              roof->pipes[0].keep_rafter};
    tell(stream, "roof", figures, sizeof figures / sizeof figures[0]);
    for (size_t i = 0; i < roof->edge_count; i++) {
        tell(stream, "setback", &roof->edges[i].setback, 1);
    }
    tell_members(stream, roof);
    tell_kit(stream, &roof->kits[0], &roof->kit_loads[0]);
    tell_loads(stream, roof->loads);
}

/* The roof that those two files come to, in words; owned by the caller. */
static char *roof_in_words(const json_t *roof_file, const json_t *kit_file) {
    struct survey *survey = NULL;
    struct roof *roof = NULL;
    struct problems problems = {0};
    char *roof_text = json_dumps(roof_file, 0), *kit_text = json_dumps(kit_file, 0), *words = NULL;
    size_t size = 0;
    const struct roof_options as_filed = {0};
    const struct survey_stand_in texts = {
        .roof = roof_text, .kit_path = "kit.yaml", .kit = kit_text};
    (void)survey_read_text("roof.yaml", &texts, &survey, &problems);
    if (survey != NULL) {
        (void)roof_build(survey, &as_filed, &roof, &problems);
    }
    problems_print(&problems, stderr);
    assert_non_null(roof);
    FILE *stream = open_memstream(&words, &size);
    assert_non_null(stream);
    tell_roof(stream, roof);
    fclose(stream);
    roof_free(roof);
    survey_free(survey);
    problems_free(&problems);
    free(roof_text);
    free(kit_text);
    return words;
}

/* ---- Every default --------------------------------------------------------------------------- */

struct walk {
    json_t *files[2]; /* roof and kit, without defaults */
    char *wanted;     /* the roof without any default written out */
    size_t count;
};

/* The group of a file that a schema's group stands for; of a list the entry that has the key
 * `plies` where that matters, else the first. */
static json_t *entry_of(json_t *list, const char *key) {
    return json_array_get(list, strcmp(key, "ply_gap") == 0 ? 1 : 0);
}

static void try_default(struct walk *walk, json_t *group, const char *key, json_t *value) {
    if (json_is_array(group)) {
        group = entry_of(group, key);
    }
    if (!json_is_object(group) || json_object_get(group, key) != NULL) {
        fail_msg("%s has a default, and the roof to try it on has no place for it", key);
    }
    json_object_set(group, key, value);
    char *words = roof_in_words(walk->files[0], walk->files[1]);
    if (strcmp(words, walk->wanted) != 0) {
        char *text = json_dumps(value, JSON_ENCODE_ANY);
        print_error("%s: %s is not what the program takes\n", key, text);
        free(text);
        assert_string_equal(words, walk->wanted);
    }
    free(words);
    json_object_del(group, key);
    walk->count++;
}

static void walk_schema(struct walk *walk, json_t *schema, json_t *group) {
    const char *key = NULL;
    json_t *below = NULL;
    json_object_foreach(json_object_get(schema, "properties"), key, below) {
        json_t *value = json_object_get(below, "default");
        json_t *items = json_object_get(below, "items");
        json_t *inner = json_object_get(json_is_array(group) ? entry_of(group, key) : group, key);
        if (value != NULL) {
            try_default(walk, group, key, value);
        }
        if (inner != NULL) {
            walk_schema(walk, json_is_object(items) ? items : below, inner);
        }
    }
}

/* How many defaults there are in the schema of a kind of file. */
static size_t try_all(size_t file, const char *path) {
    struct walk walk = {.files = {json_of(base_roof), json_of(base_kit)}};
    json_t *schema = json_load_file(path, 0, NULL);
    assert_non_null(schema);
    walk.wanted = roof_in_words(walk.files[0], walk.files[1]);
    walk_schema(&walk, schema, walk.files[file]);
    free(walk.wanted);
    json_decref(schema);
    json_decref(walk.files[0]);
    json_decref(walk.files[1]);
    return walk.count;
}

/* As many as stand in the file: one a line. */
static size_t defaults_in(const char *path) {
    FILE *stream = fopen(path, "r");
    char line[512];
    size_t count = 0;
    assert_non_null(stream);
    while (fgets(line, sizeof line, stream) != NULL) {
        count += strstr(line, "\"default\":") != NULL ? 1 : 0;
    }
    fclose(stream);
    return count;
}

static void defaults_of_a_roof_written_out_change_nothing(void **state) {
    (void)state;
    const char *path = RUDDLE_ROOT "/docs/roof.schema.json";
    assert_int_equal(try_all(0, path), defaults_in(path));
}

static void defaults_of_a_kit_written_out_change_nothing(void **state) {
    (void)state;
    const char *path = RUDDLE_ROOT "/docs/kit.schema.json";
    assert_int_equal(try_all(1, path), defaults_in(path));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(defaults_of_a_roof_written_out_change_nothing),
        cmocka_unit_test(defaults_of_a_kit_written_out_change_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
