/* Survey files with faults of form: every fault is told, with its line. */
#include "folder.h"
#include "refused.h"
#include "survey.h"

#include <dirent.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define ROOFS RUDDLE_ROOT "/tests/roofs/"
#define BAD ROOFS "bad/"

struct bad_file {
    const char *file;
    struct fault fault;
};

/* One fault per file.  Kits (survey_kit_...) are named by a roof that the test writes. */
static const struct bad_file bad_files[] = {
    {"empty.yaml", {1, "", "", "the file is empty"}},
    {"comments_only.yaml", {1, "", "", "comments only"}},
    {"nothing_in_document.yaml", {3, "", "", "a group of keys: roof, measure"}},
    {"second_document.yaml", {11, "", "", "one document"}},
    {"anchor.yaml", {6, "rafters.list[1]", "&first", "anchors are not read"}},
    {"alias.yaml", {8, "rafters.list[3].at", "*first", "aliases are not read"}},
    {"tag.yaml", {8, "rafters.list[3].at", "!!int", "tags are not read"}},
    {"tag_directive.yaml", {1, "", "%TAG", "tags are not read"}},
    {"merge.yaml", {2, "plane.<<", "<<", "merge keys are not read"}},
    {"key_is_a_list.yaml", {1, "", "", "a key of plain text"}},
    {"nul_byte.yaml", {1, "", "", "NUL byte"}},
    {"nul_escaped.yaml", {1, "roof", "", "a NUL in this value"}},
    {"not_utf8.yaml", {10, "", "", "UTF-8"}},
    {"overlong_utf8.yaml", {1, "", "", "UTF-8"}},
    {"utf16.yaml", {1, "", "", "UTF-8"}},
    {"control_byte.yaml", {4, "", "", "control character"}},
    {"control_escaped.yaml", {4, "zero", "rake\x1B[2J", "a text on one line"}},
    {"turning_escaped.yaml", {4, "zero", "rake\xE2\x80\xAEmetal", "a hidden mark in it, U+202E"}},
    {"no_width.yaml", {1, "roof", "small\xE2\x80\x8B face", "a hidden mark in it, U+200B"}},
    {"text_on_two_lines.yaml", {4, "zero", "rake\nmetal", "a text on one line"}},
    {"line_separator.yaml", {4, "", "", "line separator"}},
    {"tab_indent.yaml", {5, "", "list:", "never a tab"}},
    {"open_quote.yaml", {2, "", "plane: {width: 30', slope: 16' 4\", pitch: 5/12}", "line 1"}},
    {"open_brace.yaml", {3, "", "courses: {first: 6, exposure: 5 5/8}", "a comma or a closing }"}},
    {"second_colon.yaml", {1, "", "roof: small: face", "this colon starts a second one"}},
    {"bad_indent.yaml", {4, "", "apart: 12", "in line with its neighbours"}},
    {"stray_bracket.yaml", {11, "", "]", "a key in line"}},
    {"key_without_colon.yaml",
     {2, "", "plane: {width: 30', slope: 16' 4\", pitch: 5/12}", "`key: value`"}},
    {"percent_value.yaml", {4, "", "zero: %rake", "put quotes round"}},
    {"unknown_key.yaml", {4, "chimney", "chimney", "one of: roof, measure, corner"}},
    {"misspelt_key.yaml", {3, "courses.exposre", "exposre", "did you mean `exposure`?"}},
    {"misspelt_case.yaml", {2, "plane.Width", "Width", "did you mean `width`?"}},
    {"misspelt_optional.yaml", {4, "hole-worth", "hole-worth", "did you mean `hole_worth`?"}},
    {"unknown_in_entry.yaml", {7, "rafters.list[2].depth", "depth", "one of: at, plies"}},
    {"doubled_key.yaml", {9, "courses", "courses", "in line 3 already"}},
    {"doubled_in_entry.yaml", {7, "rafters.list[2].at", "at", "in line 7 already"}},
    {"doubled_in_later_key.yaml", {4, "loads.snow", "snow", "in line 4 already"}},
    {"missing_place.yaml", {1, "place", "", "missing"}},
    {"missing_in_group.yaml", {2, "plane.pitch", "", "missing"}},
    {"outline_is_flat.yaml", {2, "plane.outline[1]", "0", "a list of 2 values"}},
    {"outline_is_text.yaml", {2, "plane.outline", "360 x 156", "`[[0, 0], [360, 0], [180, 150]]`"}},
    {"missing_in_entry.yaml", {7, "rafters.list[2].at", "", "missing"}},
    {"missing_list.yaml", {4, "rafters.list", "", "missing"}},
    {"text_is_null.yaml", {1, "roof", "~", "a value"}},
    {"text_is_null_word.yaml", {8, "rafters.list[3].at", "null", "a value"}},
    {"text_is_empty.yaml", {4, "zero", "", "leave the key out"}},
    {"text_is_empty_quotes.yaml", {4, "zero", "", "leave the key out"}},
    {"text_is_list.yaml", {3, "courses.first", "", "one value here, not a list"}},
    {"text_is_group.yaml", {4, "apart", "", "one value here, not a group of keys"}},
    {"group_is_text.yaml", {2, "plane", "30 by 16", "a group of keys: width, slope, pitch"}},
    {"group_is_list.yaml", {2, "plane", "", "a group of keys: width, slope, pitch"}},
    {"group_is_null.yaml", {2, "plane", "", "a group of keys: width, slope, pitch"}},
    {"list_is_text.yaml", {5, "rafters.list", "16 1/4, 40 1/8", "a list"}},
    {"list_is_empty.yaml", {5, "rafters.list", "", "this one is empty"}},
    {"list_of_texts.yaml", {6, "rafters.list[1]", "16 1/4", "a group of keys: at, plies"}},
    {"list_too_short.yaml", {10, "place[1].want", "", "2 values such as `[60, 40]`; there is 1"}},
    {"list_too_long.yaml",
     {10, "place[1].want", "", "a list of 2 values such as `[60, 40]`; there are 3"}},
    {"list_entry_null.yaml", {10, "place[1].want[2]", "~", "a value"}},
    {"root_is_list.yaml", {1, "", "", "a group of keys: roof"}},
    {"kit_missing.yaml", {10, "place[1].kit", "nowhere.yaml", "No such file or directory"}},
    {"kit_is_folder.yaml", {10, "place[1].kit", "../bad", "it is a folder"}},
    {"kit_is_roof.yaml", {2, "", "", "this is a roof file"}},
    {"layout_missing_marks.yaml", {1, "marks", "", "missing"}},
    {"layout_missing_row.yaml", {5, "marks[2].row", "", "missing"}},
    {"layout_misspelt.yaml", {4, "marks[1].margin", "margin", "did you mean `margins`?"}},
    {"layout_null_x.json", {3, "marks[2].x", "null", "a value"}},
    {"layout_doubled.json", {3, "brackets", "brackets", "in line 1 already"}},
    {"layout_unknown.json", {2, "colour", "colour", "one of: measure, practice, brackets, marks"}},
    {"layout_cut_short.json", {3, "", "", "a value"}},
};

static const struct bad_file bad_kits[] = {
    {"kit_missing_group.yaml", {1, "foot", "", "missing"}},
    {"kit_missing_in_group.yaml", {8, "bracket.bottom_bracket.wrench", "", "missing"}},
    {"kit_misspelt.yaml", {10, "foot.slott", "slott", "did you mean `slot`?"}},
    {"kit_window_of_three.yaml", {6, "bracket.top", "", "a list of 2 values"}},
    {"kit_no_legs.yaml", {5, "bracket.legs", "", "such as `[12, 60]`; this one is empty"}},
    {"kit_centre_of_two.yaml",
     {14, "weight.centre", "", "3 values such as `[36, 66, 12]`; there are 2"}},
    {"kit_weight_without_fill.yaml", {14, "weight.fill", "", "missing"}},
};

enum { BAD_FILES = sizeof bad_files / sizeof bad_files[0] };
enum { BAD_KITS = sizeof bad_kits / sizeof bad_kits[0] };

static void each_bad_file_has_one_fault_with_its_line(void **state) {
    (void)state;
    for (size_t i = 0; i < BAD_FILES; i++) {
        char path[512];
        snprintf(path, sizeof path, BAD "survey_%s", bad_files[i].file);
        expect_faults(path, &bad_files[i].fault, 1);
    }
}

/* Every file of the folder is in one of the tables. */
static void no_bad_file_is_left_out(void **state) {
    (void)state;
    size_t count = 0;
    DIR *folder = opendir(BAD);
    assert_non_null(folder);
    for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        count += strncmp(entry->d_name, "survey_", strlen("survey_")) == 0 ? 1 : 0;
    }
    closedir(folder);
    assert_int_equal(count, BAD_FILES + BAD_KITS + 1); /* and survey_two_faults.yaml */
}

/* The start of a good roof, 8 lines; places follow. */
#define ROOF_START                                                                                 \
    "roof: small face\n"                                                                           \
    "plane: {width: 30', slope: 16' 4\", pitch: 5/12}\n"                                           \
    "courses: {first: 6, exposure: 5 5/8}\n"                                                       \
    "rafters:\n"                                                                                   \
    "  list:\n"                                                                                    \
    "    - {at: 16 1/4}\n"                                                                         \
    "    - {at: 40 1/8}\n"                                                                         \
    "    - {at: 64}\n"

/* A fault of a kit is told with the kit's own name and line; a kit's path may be absolute. */
static void each_bad_kit_has_one_fault_with_its_line(void **state) {
    for (size_t i = 0; i < BAD_KITS; i++) {
        char roof[FOLDER_PATH];
        char text[1024];
        char kit[512];
        struct problems problems = {0};
        snprintf(kit, sizeof kit, BAD "survey_%s", bad_kits[i].file);
        snprintf(text, sizeof text, ROOF_START "place:\n  - {name: A, kit: %s}\n", kit);
        read_refused(folder_write_text(state, roof, "roof.yaml", text), &problems);
        assert_int_equal(problems.total, 1);
        expect_fault(&problems.list[0], &bad_kits[i].fault);
        assert_string_equal(problems.list[0].file, kit);
        problems_free(&problems);
    }
}

static void every_fault_of_a_file_is_reported_in_order(void **state) {
    (void)state;
    static const struct fault faults[] = {
        {2, "plane.pitch", "", "missing"},
        {7, "rafters.list[2].ply", "ply", "did you mean `ply_gap`?"},
        {9, "apart", "", "one value here, not a list"},
    };
    expect_faults(BAD "survey_two_faults.yaml", faults, 3);
}

/* The roof's own faults do not hide those of its kits; a kit named twice is told of once. */
static void faults_of_roof_and_kits_are_reported_together(void **state) {
    char path[FOLDER_PATH];
    static const struct fault faults[] = {
        {1, "rof", "rof", "did you mean `roof`?"},
        {2, "place[1].kit", "missing.yaml", "No such file"},
        {1, "bracket", "", "missing"},
        {1, "foot", "", "missing"},
        {1, "strut", "", "missing"},
        {1, "flashing", "", "missing"},
        {1, "lag", "", "missing"},
    };
    folder_write_text(state, path, "kit.yaml", "kit: nothing in it\n");
    folder_write_text(state, path, "roof.yaml",
                      "rof: misspelt\n"
                      "place: [{name: A, kit: missing.yaml}, {name: B, kit: kit.yaml},"
                      " {name: C, kit: missing.yaml}, {name: D, kit: kit.yaml}]\n"
                      "plane: {width: 30', slope: 16', pitch: 5/12}\n"
                      "courses: {first: 6, exposure: 5}\n"
                      "rafters: {list: [{at: 16}]}\n");
    expect_faults(path, faults, 7);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_bad_file_has_one_fault_with_its_line),
        cmocka_unit_test(no_bad_file_is_left_out),
        FOLDER_TEST(each_bad_kit_has_one_fault_with_its_line),
        cmocka_unit_test(every_fault_of_a_file_is_reported_in_order),
        FOLDER_TEST(faults_of_roof_and_kits_are_reported_together),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
