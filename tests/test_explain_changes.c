/* What `ruddle explain` says would free a roof, held against `ruddle layout`: the test makes each
 * change in the files themselves and lays the roof out again. */
#include "run_program.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include <jansson.h>

#define STEP (1.0 / 32) /* inches */
#define VENT_STEP 0.5

/* A roof and its kit, as a survey would say them. */
struct files {
    double width, spacing, first;
    int rafters;
    int sister;             /* number of the rafter that has one; 0: none */
    const char *sister_way; /* "away" or "toward" */
    const char *top, *bottom;
    double tolerance, course_tolerance, setback[4], vent[2], keep_flashing, keep_bracket;
    double lag_edge, slot, edge, clear, lap, wrench, lag_clear, overhang, span, stock;
    double row[2][2]; /* top and bottom: from, to */
};

static const struct files plain = {.width = 240,
                                   .spacing = 24,
                                   .first = 16,
                                   .rafters = 9,
                                   .top = "feet",
                                   .bottom = "feet",
                                   .tolerance = 0.125,
                                   .course_tolerance = 0.125,
                                   .setback = {12, 18, 12, 12},
                                   .vent = {200, 120},
                                   .keep_flashing = 3,
                                   .keep_bracket = 6,
                                   .lag_edge = 0.46875,
                                   .slot = 0.75,
                                   .edge = 1,
                                   .clear = 0.25,
                                   .lap = 0.5,
                                   .wrench = 0.5,
                                   .lag_clear = 1.5,
                                   .overhang = 6,
                                   .span = 50,
                                   .stock = 240,
                                   .row = {{70, 76}, {4, 20}}};

static void write_kit(const struct files *files, const char *folder) {
    char text[2000], path[RUN_PATH];
    snprintf(text, sizeof text,
             "kit: two-leg frame\n"
             "bracket: {width: 72, height: 84, legs: [12, 60], top: [%.6f, %.6f],\n"
             "  bottom: [%.6f, %.6f], standoff: 4,\n"
             "  bottom_bracket: {gap: [1, 1 1/2], depth: 2, wrench: %.6f}}\n"
             "foot: {reach: 1 1/2, slot: %.6f, half: 1}\n"
             "strut: {half: 7/8, grip: 1 1/4, lag_clear: %.6f, end: 1, overhang: %.6f,\n"
             "  span: %.6f, stock: [120, %.6f]}\n"
             "flashing: {width: 9, height: 12, hole_up: 3 1/4, block: 1, edge: [0, %.6f],\n"
             "  clear: %.6f, lap: %.6f}\n"
             "lag: {diameter: 5/16, length: 4, through: 1/2, edge: %.6f}\n",
             files->row[0][0], files->row[0][1], files->row[1][0], files->row[1][1], files->wrench,
             files->slot, files->lag_clear, files->overhang, files->span, files->stock, files->edge,
             files->clear, files->lap, files->lag_edge);
    run_file_write(run_path(path, folder, "kit.yaml"), text);
}

static void write_roof(const struct files *files, const char *folder) {
    char text[4000], path[RUN_PATH];
    int used = snprintf(
        text, sizeof text,
        "roof: a face\nplane: {width: %.6f, slope: 196, pitch: 5/12}\n"
        "setback: {eave: %.6f, ridge: %.6f, near: %.6f, far: %.6f}\n"
        "courses: {first: 6, exposure: 5 5/8, tolerance: %.6f}\n"
        "vents:\n  - {name: stack, at: [%.6f, %.6f], size: [12, 14], keep_flashing: %.6f, "
        "keep_bracket: %.6f}\n"
        "place:\n  - {name: A, kit: kit.yaml, top: %s, bottom: %s}\n"
        "rafters:\n  tolerance: %.6f\n  list:\n",
        files->width, files->setback[0], files->setback[1], files->setback[2], files->setback[3],
        files->course_tolerance, files->vent[0], files->vent[1], files->keep_flashing,
        files->keep_bracket, files->top, files->bottom, files->tolerance);
    for (int i = 0; i < files->rafters; i++)
        used += snprintf(text + used, sizeof text - (size_t)used, "    - {at: %.6f%s%s}\n",
                         files->first + i * files->spacing,
                         files->sister == i + 1 ? ", plies: 2, sister: " : "",
                         files->sister == i + 1 ? files->sister_way : "");
    run_file_write(run_path(path, folder, "roof.yaml"), text);
    write_kit(files, folder);
}

static double number(const json_t *change, const char *key) {
    return json_number_value(json_object_get(change, key));
}

static const char *word(const json_t *change, const char *key) {
    return json_string_value(json_object_get(change, key));
}

static double less(double length, double by) {
    return fmax(0, length - by);
}

static void ease_row(struct files *files, double by) {
    files->row[0][0] -= by;
    files->row[0][1] = fmin(84, files->row[0][1] + by);
    files->row[1][0] = less(files->row[1][0], by);
    files->row[1][1] += by;
}

/* One key by so many inches; a key that is not known fails the test. */
static void ease(struct files *files, const char *key, double by) {
    const struct {
        const char *key;
        double *length;
        double sign;
    } plain_keys[] = {{"lag.edge", &files->lag_edge, -1},
                      {"rafters.tolerance", &files->tolerance, -1},
                      {"flashing.edge", &files->edge, 1},
                      {"flashing.clear", &files->clear, -1},
                      {"flashing.lap", &files->lap, -1},
                      {"courses.tolerance", &files->course_tolerance, -1},
                      {"vents.keep_flashing", &files->keep_flashing, -1},
                      {"vents.keep_bracket", &files->keep_bracket, -1},
                      {"bracket.bottom_bracket.wrench", &files->wrench, -1},
                      {"foot.slot", &files->slot, 1},
                      {"strut.lag_clear", &files->lag_clear, -1},
                      {"strut.overhang", &files->overhang, 1},
                      {"strut.span", &files->span, 1},
                      {"strut.stock", &files->stock, 1}};
    for (size_t i = 0; i < sizeof plain_keys / sizeof *plain_keys; i++)
        if (strcmp(key, plain_keys[i].key) == 0) {
            *plain_keys[i].length = less(*plain_keys[i].length, -plain_keys[i].sign * by);
            return;
        }
    if (strcmp(key, "setback") == 0) {
        for (int i = 0; i < 4; i++)
            files->setback[i] = less(files->setback[i], by);
        return;
    }
    assert_string_equal(key, "bracket.top, bracket.bottom");
    ease_row(files, by);
}

/* The files with a change of that amount; false: none that files can say. */
static bool change_files(struct files *files, const json_t *change, double by) {
    const char *kind = word(change, "change"), *way = word(change, "way");
    if (strcmp(kind, "rule") == 0) {
        ease(files, word(change, "key"), by);
    } else if (strcmp(kind, "hardware") == 0) {
        files->top = word(change, "top");
        files->bottom = word(change, "bottom");
    } else if (strcmp(kind, "sister") == 0) {
        files->sister = (int)number(change, "rafter");
        files->sister_way = strcmp(way, "far") == 0 ? "away" : "toward";
    } else {
        assert_string_equal(kind, "vent");
        if (way == NULL) /* gone altogether: nowhere near anything */
            return false;
        files->vent[0] += strcmp(way, "near") == 0 ? -by : strcmp(way, "far") == 0 ? by : 0;
        files->vent[1] += strcmp(way, "down") == 0 ? -by : strcmp(way, "up") == 0 ? by : 0;
    }
    return true;
}

/* What layout says of files so changed. */
static int layout_code(const struct files *files, const char *folder) {
    char path[RUN_PATH];
    write_roof(files, folder);
    struct run run = run_program(
        RUDDLE_PROGRAM, WORDS("layout", run_path(path, folder, "roof.yaml"), "--quiet"), NULL);
    const int code = run.code;
    if (code > 1)
        fail_msg("%s", run.err);
    run_free(&run);
    return code;
}

struct tally {
    size_t tried, frees, less;
};

static void hold(const struct files *files, const json_t *change, const char *folder,
                 struct tally *tally) {
    const json_t *frees = json_object_get(change, "frees");
    const double by = number(change, "by");
    const double step = strcmp(word(change, "change"), "vent") == 0 ? VENT_STEP : STEP;
    struct files changed = *files;
    assert_true(json_is_boolean(frees));
    if (!change_files(&changed, change, by))
        return;
    tally->tried++;
    tally->frees += json_is_true(frees);
    if (layout_code(&changed, folder) != (json_is_true(frees) ? 0 : 1))
        fail_msg("%s: frees %d is not true", word(change, "text"), json_is_true(frees));
    if (!json_is_true(frees) || !json_is_true(json_object_get(change, "least")))
        return;
    tally->less++;
    changed = *files;
    change_files(&changed, change, by - step);
    if (layout_code(&changed, folder) != 1)
        fail_msg("%s: less would do", word(change, "text"));
}

/* Every change that is told of a roof; the JSON is the caller's. */
static json_t *hold_all(const struct files *files, struct tally *tally) {
    char folder[RUN_PATH], path[RUN_PATH];
    run_folder_make(folder);
    write_roof(files, folder);
    struct run run = run_program(
        RUDDLE_PROGRAM,
        WORDS("explain", run_path(path, folder, "roof.yaml"), "--json", "--limit", "600"), NULL);
    assert_int_equal(run.code, 1);
    json_t *json = json_loads(run.out, 0, NULL);
    assert_non_null(json);
    run_free(&run);
    assert_int_equal(number(json, "not_tried"), 0);
    const json_t *changes = json_object_get(json, "changes");
    for (size_t i = 0; i < json_array_size(changes); i++)
        hold(files, json_array_get(changes, i), folder, tally);
    run_folder_remove(folder);
    return json;
}

/* The change of that kind and detail that frees; fails where there is none. */
static const json_t *freeing(const json_t *json, const char *kind, const char *key,
                             const char *wanted) {
    const json_t *changes = json_object_get(json, "changes");
    for (size_t i = 0; i < json_array_size(changes); i++) {
        const json_t *change = json_array_get(changes, i);
        const char *found = key == NULL ? NULL : word(change, key);
        if (json_is_true(json_object_get(change, "frees")) &&
            strcmp(word(change, "change"), kind) == 0 &&
            (key == NULL || (found != NULL && strcmp(found, wanted) == 0)))
            return change;
    }
    fail_msg("no %s %s frees it", kind, wanted);
    return NULL;
}

/* Rafters known to 1/2 in, of 3/4 in to either side of the middle; the lag keeps 15/32 from a face.
 * 3/4 - 15/32 - 1/2 = -7/32: that much closer a rafter has to be known, or a lag may come. */
static void rafters_hardly_known_are_freed_by_knowing_them_better(void **state) {
    (void)state;
    struct files files = plain;
    struct tally tally = {0};
    files.tolerance = 0.5;
    json_t *json = hold_all(&files, &tally);
    const json_t *known = freeing(json, "rule", "key", "rafters.tolerance");
    const json_t *nearer = freeing(json, "rule", "key", "lag.edge");
    assert_true(fabs(number(known, "by") - 7.0 / 32) < 1e-6);
    assert_true(fabs(number(nearer, "by") - 7.0 / 32) < 1e-6);
    assert_true(json_is_true(json_object_get(known, "least")));
    print_message("%zu changes, %zu free, %zu shown least\n", tally.tried, tally.frees, tally.less);
    json_decref(json);
}

/* Rafters 17 1/2 in apart: three of them are 52 1/2, and feet turned outward stand 48 + 3 = 51
 * apart; each would have to slide 3/4, less the 5/32 that its lag may lie off the middle.  A slot
 * of 1/2 is too short by 3/32. */
static void feet_short_of_their_legs_are_freed_by_slot_sister_or_strut(void **state) {
    (void)state;
    struct files files = plain;
    struct tally tally = {0};
    if (getenv("RUDDLE_ROOFS") != NULL)
        return; /* the others will do in a slow build */
    files.spacing = 17.5;
    files.rafters = 13;
    files.slot = 0.5;
    json_t *json = hold_all(&files, &tally);
    const json_t *slot = freeing(json, "rule", "key", "foot.slot");
    /* the tape may cost a sixteenth on either side */
    assert_true(number(slot, "by") >= 3.0 / 32 - 1e-6 && number(slot, "by") <= 3.0 / 32 + 0.125);
    freeing(json, "sister", NULL, "");
    freeing(json, "hardware", "top", "strut");
    print_message("%zu changes, %zu free, %zu shown least\n", tally.tried, tally.frees, tally.less);
    json_decref(json);
}

/* A face with room for one frame beside the setbacks, and a vent in the middle of it: 72 in of
 * frame and 100 of roof.  The frame can lie below the vent once that has gone up: its lower end at
 * 12, its upper at 96, 6 in clear. */
static void vent_in_the_way_is_freed_by_moving_it(void **state) {
    (void)state;
    struct files files = plain;
    struct tally tally = {0};
    files.width = 100;
    files.first = 26;
    files.rafters = 3;
    files.vent[0] = 50;
    files.vent[1] = 100;
    json_t *json = hold_all(&files, &tally);
    const json_t *up = freeing(json, "vent", "way", "up");
    assert_true(number(up, "by") >= 9 - 1e-6 && json_is_true(json_object_get(up, "least")));
    print_message("%zu changes, %zu free, %zu shown least\n", tally.tried, tally.frees, tally.less);
    json_decref(json);
}

/* Without time for any of them, none is said to free or not to. */
static void without_time_what_was_not_tried_is_counted(void **state) {
    (void)state;
    struct files files = plain;
    char folder[RUN_PATH], path[RUN_PATH];
    files.tolerance = 0.5;
    run_folder_make(folder);
    write_roof(&files, folder);
    struct run run = run_program(
        RUDDLE_PROGRAM,
        WORDS("explain", run_path(path, folder, "roof.yaml"), "--json", "--limit", "0.000001"),
        NULL);
    assert_int_equal(run.code, 1);
    json_t *json = json_loads(run.out, 0, NULL);
    assert_non_null(json);
    assert_int_equal(json_array_size(json_object_get(json, "changes")), 0);
    assert_true(number(json, "not_tried") > 20);
    json_decref(json);
    run_free(&run);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rafters_hardly_known_are_freed_by_knowing_them_better),
        cmocka_unit_test(feet_short_of_their_legs_are_freed_by_slot_sister_or_strut),
        cmocka_unit_test(vent_in_the_way_is_freed_by_moving_it),
        cmocka_unit_test(without_time_what_was_not_tried_is_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
