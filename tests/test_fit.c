/* Frames that do not all fit on one face: how many can, which of them, and who clashes with whom.
 *
 * The face is 236 in wide with 18 in kept off either rake: 200 in for frames, which keep 12 in
 * apart.  It is 188 in up the slope, less 18 in at either edge: 152 in, so frames of 84 in (and 12
 * between them) stand in one row.  Rafters every 24 in and legs a multiple of 24 in apart: a frame
 * fits wherever it has room for a foot to find its rafter, half a foot either way. */
#include "folder.h"
#include "run_program.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>
#include <jansson.h>

static const char face[] = "roof: a face for two\n"
                           "plane: {width: 236, slope: 188, pitch: 5/12}\n"
                           "setback: {eave: 18, ridge: 18, near: 18, far: 18}\n"
                           "courses: {first: 6 1/8, exposure: 5 5/8}\n"
                           "rafters:\n"
                           "  list: [{at: 22 1/2}, {at: 46 1/2}, {at: 70 1/2}, {at: 94 1/2}, {at: "
                           "118 1/2}, {at: 142 1/2}, {at: 166 1/2}, {at: 190 1/2}, {at: 214 1/2}]\n"
                           "place:\n";

static void write_kit(void **state, const char *name, int width, int height) {
    char text[1024], path[FOLDER_PATH];
    snprintf(text, sizeof text,
             "kit: a frame\n"
             "bracket: {width: %d, height: %d, legs: [12, %d], top: [%d, %d], bottom: [4, 20],\n"
             "  bottom_bracket: {gap: [1, 1 1/2], depth: 2, wrench: 1/2}, standoff: 4}\n"
             "foot: {reach: 1 1/2, slot: 3/4, half: 1}\n"
             "strut: {half: 7/8, grip: 1 1/4, lag_clear: 1 1/2, end: 1, overhang: 6, span: 50,\n"
             "  stock: [120, 240]}\n"
             "flashing: {width: 9, height: 12, hole_up: 3 1/4, block: 1, edge: [0, 1],\n"
             "  clear: 1/4, lap: 1/2}\n"
             "lag: {diameter: 5/16, length: 4, through: 1/2}\n",
             width, height, width - 12, height - 14, height - 8);
    folder_write_text(state, path, name, text);
}

static struct run lay_out(void **state, const char *place, const char *option, const char *output) {
    char path[FOLDER_PATH], text[2048];
    write_kit(state, "narrow.yaml", 72, 84);
    write_kit(state, "wide.yaml", 144, 84);
    write_kit(state, "tall.yaml", 72, 170);
    snprintf(text, sizeof text, "%s%s", face, place);
    folder_write_text(state, path, "roof.yaml", text);
    return run_program(RUDDLE_PROGRAM, WORDS("layout", path, option, output), NULL);
}

static void assert_names(const json_t *list, const char *names) {
    char text[256] = "";
    for (size_t i = 0; i < json_array_size(list); i++) {
        const size_t used = strlen(text);
        snprintf(text + used, sizeof text - used, "%s%s", i > 0 ? " " : "",
                 json_string_value(json_array_get(list, i)));
    }
    assert_string_equal(text, names);
}

/* What the program prints with both options. */
static json_t *fitted(void **state, const char *place) {
    struct run run = lay_out(state, place, "--as-many-as-fit", "--json");
    json_t *json = json_loads(run.out, 0, NULL);
    assert_non_null(json);
    assert_int_equal(run.code, 0);
    run_free(&run);
    return json;
}

/* 72 + 12 + 72 = 156 of 200 in, a third frame would take 84 more.  Any two of three could stand:
 * the first two of the file do. */
static void of_three_alike_the_last_is_left_off(void **state) {
    json_t *json = fitted(state, "  - {name: A, kit: narrow.yaml}\n"
                                 "  - {name: B, kit: narrow.yaml}\n"
                                 "  - {name: C, kit: narrow.yaml}\n");
    const json_t *together = json_object_get(json, "together");
    assert_int_equal(json_integer_value(json_object_get(together, "most")), 2);
    assert_true(json_is_true(json_object_get(together, "proved")));
    assert_names(json_object_get(together, "brackets"), "A B");
    assert_names(json_object_get(together, "left_off"), "C");
    assert_int_equal(json_array_size(json_object_get(together, "clashes")), 1);
    assert_names(json_array_get(json_object_get(together, "clashes"), 0), "A B C");
    assert_int_equal(json_array_size(json_object_get(json, "brackets")), 2);
    assert_string_equal(
        json_string_value(json_array_get(json_object_get(json, "warnings"), 0)),
        "bracket C is left off: it cannot stand on this face together with A and B");
    json_decref(json);
}

/* A takes 144 in, and 12 + 72 beside it make 228: it stands alone or not at all.  B and C are two.
 */
static void two_small_ones_oust_a_wide_one_named_first(void **state) {
    json_t *json = fitted(state, "  - {name: A, kit: wide.yaml}\n"
                                 "  - {name: B, kit: narrow.yaml}\n"
                                 "  - {name: C, kit: narrow.yaml}\n");
    const json_t *together = json_object_get(json, "together");
    assert_int_equal(json_integer_value(json_object_get(together, "most")), 2);
    assert_names(json_object_get(together, "brackets"), "B C");
    assert_names(json_object_get(together, "left_off"), "A");
    assert_names(json_array_get(json_object_get(together, "clashes"), 0), "A B");
    json_decref(json);
}

/* 170 in do not stand in 152, whoever is beside; without the option the sheet says so. */
static void frame_too_tall_is_named_alone(void **state) {
    static const char place[] = "  - {name: A, kit: tall.yaml}\n"
                                "  - {name: B, kit: narrow.yaml}\n";
    json_t *json = fitted(state, place);
    const json_t *together = json_object_get(json, "together");
    assert_names(json_object_get(together, "brackets"), "B");
    assert_names(json_array_get(json_object_get(together, "clashes"), 0), "A");
    assert_string_equal(json_string_value(json_array_get(json_object_get(json, "warnings"), 0)),
                        "bracket A is left off: it cannot stand on this face, not even alone");
    json_decref(json);
    struct run run = lay_out(state, place, "--from=near", "--burn=0");
    assert_int_equal(run.code, 1);
    assert_non_null(strstr(run.out, "Frame A cannot stand on this face, not even alone."));
    assert_non_null(strstr(run.out, "At most 1 of the 2 frames can stand here: B."));
    run_free(&run);
}

/* Where all fit, the option changes nothing. */
static void nobody_is_left_off_where_all_fit(void **state) {
    static const char place[] = "  - {name: A, kit: narrow.yaml}\n"
                                "  - {name: B, kit: narrow.yaml}\n";
    struct run without = lay_out(state, place, "--json", "--burn=0");
    struct run with = lay_out(state, place, "--as-many-as-fit", "--burn=0");
    assert_int_equal(without.code, 0);
    assert_null(strstr(without.out, "together"));
    struct run sheet = lay_out(state, place, "--from=near", "--burn=0");
    assert_string_equal(with.out, sheet.out);
    run_free(&without);
    run_free(&with);
    run_free(&sheet);
}

/* Whoever holds the closest fit against the rules hands its result over as it is. */
static void result_of_frames_that_clash_can_be_checked(void **state) {
    static const char place[] = "  - {name: A, kit: narrow.yaml}\n"
                                "  - {name: B, kit: narrow.yaml}\n"
                                "  - {name: C, kit: narrow.yaml}\n";
    char roof[FOLDER_PATH], layout[FOLDER_PATH], text[2048];
    struct run found = lay_out(state, place, "--from=near", "--json");
    assert_int_equal(found.code, 1);
    assert_non_null(strstr(found.out, "\"together\""));
    folder_write_text(state, layout, "layout.json", found.out);
    snprintf(text, sizeof text, "%s%s", face, place);
    folder_write_text(state, roof, "roof.yaml", text);
    struct run held = run_program(RUDDLE_PROGRAM, WORDS("check", roof, layout), NULL);
    assert_int_equal(held.code, 1);
    run_free(&held);
    run_free(&found);
}

/* 700 in wide: frames stand from 18 to 682.  Feet find their rafters on either side of a leg where
 * a frame begins within 2 1/4 of 34 1/2 and every 24 in on; three of these are 76 1/2 at most, and
 * 72 with 12 beside it takes 84, so the next one begins four of them on.  Seven end at 32 1/4 + 6 x
 * 96 + 72 = 680 1/4; the eighth would begin beyond 700.  One too tall stands nowhere. */
static void of_nine_in_a_row_the_first_seven_stand(void **state) {
    char path[FOLDER_PATH], text[4096];
    size_t used = (size_t)snprintf(text, sizeof text,
                                   "roof: a face for seven\n"
                                   "plane: {width: 700, slope: 188, pitch: 5/12}\n"
                                   "setback: {eave: 18, ridge: 18, near: 18, far: 18}\n"
                                   "courses: {first: 6 1/8, exposure: 5 5/8}\n"
                                   "rafters:\n  list: [{at: 22 1/2}");
    for (int i = 1; i < 28; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, ", {at: %d 1/2}", 22 + 24 * i);
    used += (size_t)snprintf(text + used, sizeof text - used, "]\nplace:\n");
    for (const char *name = "ABCTDEFGHI"; *name != '\0'; name++)
        used += (size_t)snprintf(text + used, sizeof text - used, "  - {name: %c, kit: %s.yaml}\n",
                                 *name, *name == 'T' ? "tall" : "narrow");
    write_kit(state, "narrow.yaml", 72, 84);
    write_kit(state, "tall.yaml", 72, 170);
    folder_write_text(state, path, "row.yaml", text);
    struct run run =
        run_program(RUDDLE_PROGRAM, WORDS("layout", path, "--as-many-as-fit", "--json"), NULL);
    assert_int_equal(run.code, 0);
    json_t *json = json_loads(run.out, 0, NULL);
    const json_t *together = json_object_get(json, "together");
    assert_int_equal(json_integer_value(json_object_get(together, "most")), 7);
    assert_true(json_is_true(json_object_get(together, "proved")));
    assert_names(json_object_get(together, "brackets"), "A B C D E F G");
    assert_names(json_object_get(together, "left_off"), "T H I");
    json_decref(json);
    run_free(&run);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        FOLDER_TEST(of_three_alike_the_last_is_left_off),
        FOLDER_TEST(two_small_ones_oust_a_wide_one_named_first),
        FOLDER_TEST(frame_too_tall_is_named_alone),
        FOLDER_TEST(nobody_is_left_off_where_all_fit),
        FOLDER_TEST(of_nine_in_a_row_the_first_seven_stand),
        FOLDER_TEST(result_of_frames_that_clash_can_be_checked),
    };
    return cmocka_run_group_tests_name("fit", tests, NULL, NULL);
}
