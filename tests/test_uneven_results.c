/* Roofs that are not neat, through the real program: what is printed for them lies on the tape,
 * from either rake, and holds when it is read back. */
#include "run_program.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MM 25.4      /* to the inch, exact since 1959 */
#define ON_TICK 2e-6 /* inches: JSON has six decimals */

static struct run run(const char *const *words) {
    return run_program(RUDDLE_PROGRAM, words, NULL);
}

static void assert_has(const char *text, const char *part) {
    if (strstr(text, part) == NULL) {
        fail_msg("\"%s\" is not in:\n%s", part, text);
    }
}

/* How much of x a rake loses or gains for each inch up the roof, and the width at the eave.  hip:
 * 12 in every 13.  The others by the law of cosines: cos C = (96^2 + 72^2 - d^2) / (2 x 96 x 72);
 * the far rake is like the near one. */
struct face {
    const char *name;
    double diagonal; /* 0: the hip */
    double width;
};
static const struct face faces[] = {
    {"hip.yaml", 0, 408}, {"leaning-corner.yaml", 120.75, 330}, {"old-house.yaml", 120.125, 304}};

static double cosine(const struct face *face) {
    return (96.0 * 96 + 72.0 * 72 - face->diagonal * face->diagonal) / (2.0 * 96 * 72);
}

/* What a tape shows at (x, y) from one rake, by the geometry above and nothing of the program's. */
static double reading(const struct face *face, bool far, double x, double y) {
    double gained = 12.0 / 13;
    if (face->diagonal > 0) {
        gained = cosine(face) / sqrt(1 - cosine(face) * cosine(face));
    }
    double near = gained * y;
    double other = face->diagonal > 0 ? face->width + gained * y : face->width - gained * y;
    return far ? other - x : x - near;
}

static double height(const struct face *face, double y) {
    return face->diagonal > 0 ? y / sqrt(1 - cosine(face) * cosine(face)) : y;
}

static void assert_on_tick(double inches, double tick, const char *what) {
    double off = inches - round(inches / tick) * tick;
    if (!(fabs(off) <= ON_TICK)) {
        fail_msg("%s: %.7f is %.7f off the tape", what, inches, off);
    }
}

static double number_of(const json_t *object, const char *key) {
    const json_t *value = json_object_get(object, key);
    assert_true(json_is_number(value));
    return json_number_value(value);
}

/* Every hole, from the rake asked for, lies on a mark of the tape; and the layout holds. */
static void assert_on_tape(const struct face *face, bool far, const char *tape, double tick) {
    char folder[RUN_PATH], result[RUN_PATH], roof[RUN_PATH];
    run_path(roof, RUDDLE_ROOT "/roofs", face->name);
    run_folder_make(folder);
    struct run done = run(WORDS("layout", roof, "--json", "--tape", tape, "--from",
                                far ? "far" : "near", "--burn", "1"));
    assert_int_equal(done.code, 0);
    run_file_write(run_path(result, folder, "layout.json"), done.out);
    json_t *json = json_loads(done.out, 0, NULL);
    run_free(&done);
    const json_t *marks = json_object_get(json, "marks");
    assert_true(json_array_size(marks) >= 5);
    for (size_t i = 0; i < json_array_size(marks); i++) {
        const json_t *mark = json_array_get(marks, i);
        double x = number_of(mark, "x");
        double y = number_of(mark, "y");
        assert_on_tick(reading(face, far, x, y), tick, face->name);
        assert_on_tick(height(face, y), tick, face->name);
    }
    json_decref(json);
    done = run(WORDS("check", roof, result));
    assert_int_equal(done.code, 0);
    run_free(&done);
    run_folder_remove(folder);
}

static void each_tape_has_whole_readings_from_both_rakes(void **state) {
    (void)state;
    const struct {
        const char *text;
        double inches;
    } tapes[] = {{"1/8", 0.125}, {"1/16", 0.0625}, {"1/32", 0.03125}, {"1 mm", 1 / MM}};
    for (size_t i = 0; i < 2; i++) {
        for (size_t j = 0; j < sizeof tapes / sizeof tapes[0]; j++) {
            assert_on_tape(&faces[i], false, tapes[j].text, tapes[j].inches);
            assert_on_tape(&faces[i], true, tapes[j].text, tapes[j].inches);
        }
    }
    assert_on_tape(&faces[2], false, "1 mm", 1 / MM); /* this one takes its time */
    assert_on_tape(&faces[2], true, "1/16", 0.0625);
}

static void millimetre_tape_has_a_sheet_in_millimetres(void **state) {
    (void)state;
    struct run done = run(WORDS("layout", RUDDLE_ROOT "/roofs/hip.yaml", "--tape", "1 mm"));
    assert_int_equal(done.code, 0);
    assert_has(done.out, "to 1 mm");
    assert_has(done.out, "[ ] A-bottom-1      2");
    assert_null(strstr(done.out, "LINE 1 of 2: frame A, bottom line (feet)\n  [ ] tape   2' "));
    run_free(&done);
}

static void pipe_holes_are_marks_of_the_json_and_are_read_back(void **state) {
    (void)state;
    const char *const roof = RUDDLE_ROOT "/roofs/old-house.yaml";
    struct run done = run(WORDS("layout", roof, "--json"));
    assert_int_equal(done.code, 0);
    assert_string_equal(done.err, "");
    assert_has(done.out,
               "\"id\": \"A-pipe-hot\", \"bracket\": \"A\", \"row\": \"pipe\", \"rafter\": "
               "null");
    assert_has(done.out, "\"id\": \"A-pipe-cold\"");
    assert_has(done.out, "\"rule\": \"pipe-bay\"");
    assert_has(done.out, "\"holes\": 8");
    run_free(&done);
}

/* The roof of `name` with every `old` exchanged, its kit named by its whole path. */
static void write_roof(const char *name, const char *old, const char *new, const char *path) {
    const char *const kit = "kits/two-leg.yaml";
    char source[RUN_PATH];
    char *text = run_file_read(run_path(source, RUDDLE_ROOT "/roofs", name));
    FILE *stream = fopen(path, "w");
    assert_non_null(stream);
    size_t changed = 0;
    for (const char *at = text; *at != '\0';) {
        if (strncmp(at, old, strlen(old)) == 0) {
            fputs(new, stream);
            at += strlen(old);
            changed++;
        } else if (strncmp(at, kit, strlen(kit)) == 0) {
            fprintf(stream, "%s/roofs/%s", RUDDLE_ROOT, kit);
            at += strlen(kit);
        } else {
            fputc(*at++, stream);
        }
    }
    assert_int_equal(fclose(stream), 0);
    assert_true(changed > 0);
    free(text);
}

/* Rafters 24 in apart leave 22 1/2 in: a bore of 1 3/8 that keeps 12 on either side needs 25 3/8,
 * and 12 + 11/16 + 1/8 from its middle to either face. */
static void pipes_that_fit_no_bay_are_blocked_and_name_the_rafter(void **state) {
    (void)state;
    char folder[RUN_PATH], roof[RUN_PATH];
    run_folder_make(folder);
    write_roof(
        "hip.yaml", "place:",
        "pipes:\n"
        "  - {name: hot, bracket: A, port: [40, 40], reach: 14, bore: 1 3/8, keep_rafter: 12,\n"
        "     flashing: {width: 9, height: 12, hole_up: 3 1/4, block: 7/8, edge: [0, 1],\n"
        "                clear: 1/4, lap: 1/2}}\n"
        "place:",
        run_path(roof, folder, "narrow.yaml"));
    struct run done = run(WORDS("layout", roof));
    assert_int_equal(done.code, 1);
    assert_has(done.out, "CLOSEST FIT (does NOT work)");
    assert_has(done.out, "pipe hole A-pipe-hot: pipe hole between rafters\n");
    assert_has(done.out, "needs 1' 0-13/16\" (12-13/16) from its middle to the face of rafter ");
    assert_has(done.out, "; has\n      rafter ");
    run_free(&done);
    done = run(WORDS("layout", roof, "--json"));
    assert_int_equal(done.code, 1);
    assert_has(done.out, "\"pipe-bay: A-pipe-hot is short by ");
    assert_has(done.out, " is in the way\"");
    run_free(&done);
    run_folder_remove(folder);
}

/* The rafter at 144 1/4, the 6th, runs under the frame. */
static void unsound_rafter_is_a_warning_of_both_results(void **state) {
    (void)state;
    char folder[RUN_PATH], roof[RUN_PATH];
    run_folder_make(folder);
    write_roof("hip.yaml", "{at: 144 1/4}", "{at: 144 1/4, sound: no}",
               run_path(roof, folder, "unsound.yaml"));
    struct run done = run(WORDS("layout", roof, "--json"));
    assert_has(done.out, "\"Rafter 6 is not sound and lies under frame A: ask a licensed engineer "
                         "before the frame goes up.\"");
    run_free(&done);
    done = run(WORDS("layout", roof));
    assert_has(done.out, "! Rafter 6 is not sound and lies under frame A");
    run_free(&done);
    run_folder_remove(folder);
}

static void trusses_ask_for_an_engineer_in_both_results(void **state) {
    (void)state;
    char folder[RUN_PATH], roof[RUN_PATH];
    run_folder_make(folder);
    write_roof("hip.yaml",
               "rafters:", "framing: trusses\nrafters:", run_path(roof, folder, "trusses.yaml"));
    struct run done = run(WORDS("layout", roof, "--json"));
    assert_int_equal(done.code, 0);
    assert_has(done.out, "trusses: ask an engineer before any hole");
    run_free(&done);
    done = run(WORDS("layout", roof));
    assert_has(done.out, "! The roof is framed with trusses: ask an engineer");
    run_free(&done);
    run_folder_remove(folder);
}

/* One rafter: no strut can have two lags.  The model asked for is not there, and one line says so.
 */
static void model_that_there_is_not_is_told_in_one_line(void **state) {
    (void)state;
    char folder[RUN_PATH], roof[RUN_PATH], model[RUN_PATH];
    run_folder_make(folder);
    run_file_write(run_path(roof, folder, "one.yaml"),
                   "roof: one rafter\n"
                   "plane: {width: 360, slope: 196, pitch: 5/12}\n"
                   "courses: {first: 6, exposure: 5 5/8}\n"
                   "rafters: {list: [{at: 120}]}\n"
                   "place: [{name: A, kit: " RUDDLE_ROOT "/roofs/kits/two-leg.yaml}]\n");
    run_path(model, folder, "first.lp");
    struct run done = run(WORDS("layout", roof, "--quiet", "--model", model));
    assert_int_equal(done.code, 1);
    assert_has(done.err, "first.lp: not written: nothing can be placed");
    assert_int_equal(strcspn(done.err, "\n") + 1, strlen(done.err));
    FILE *stream = fopen(model, "r");
    assert_null(stream);
    run_free(&done);
    run_folder_remove(folder);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_tape_has_whole_readings_from_both_rakes),
        cmocka_unit_test(millimetre_tape_has_a_sheet_in_millimetres),
        cmocka_unit_test(pipe_holes_are_marks_of_the_json_and_are_read_back),
        cmocka_unit_test(pipes_that_fit_no_bay_are_blocked_and_name_the_rafter),
        cmocka_unit_test(unsound_rafter_is_a_warning_of_both_results),
        cmocka_unit_test(trusses_ask_for_an_engineer_in_both_results),
        cmocka_unit_test(model_that_there_is_not_is_told_in_one_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
