/* Survey files: what is read from a good one. */
#include "folder.h"
#include "survey.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define ROOFS RUDDLE_ROOT "/tests/roofs/"

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

static void a_plain_roof_is_read_as_written(void **state) {
    (void)state;
    struct survey *survey = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read(ROOFS "plain.yaml", &survey, &problems), OUTCOME_DONE);
    assert_int_equal(problems.total, 0);
    const struct survey_roof *roof = survey->roof;
    assert_string_equal(survey->path, ROOFS "plain.yaml");
    assert_string_equal(roof->roof, "plain face");
    assert_string_equal(roof->zero, "outer face of the left rake metal; drip edge");
    assert_string_equal(roof->plane->slope, "16' 4\"");
    assert_string_equal(roof->courses->exposure, "5 5/8");
    assert_null(roof->courses->tolerance);
    assert_null(roof->apart);
    assert_int_equal(roof->rafters->list_count, 14);
    assert_string_equal(roof->rafters->list[1].at, "40 1/8");
    assert_null(roof->rafters->list[1].plies);
    assert_int_equal(roof->vents_count, 1);
    assert_int_equal(roof->vents[0].at.count, 2);
    assert_string_equal(roof->vents[0].at.list[1], "120");
    assert_string_equal(roof->place[0].want.list[0], "60");
    assert_int_equal(survey->kit_count, 1);
    assert_int_equal(survey->kit_of[0], 0);
    const struct survey_kit *kit = survey->kits[0].kit;
    assert_string_equal(survey->kits[0].path, ROOFS "plain-kit.yaml");
    assert_string_equal(kit->kit, "two-leg tank frame");
    assert_null(kit->measure);
    assert_string_equal(kit->bracket->bottom_bracket->gap.list[1], "1 1/2");
    assert_string_equal(kit->weight->centre.list[2], "12");
    survey_free(survey);
}

static void lines_are_found_by_path(void **state) {
    (void)state;
    struct survey *survey = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read(ROOFS "plain.yaml", &survey, &problems), OUTCOME_DONE);
    const struct survey_lines *lines = survey->lines;
    assert_int_equal(survey_line(lines, "roof"), 2);
    assert_int_equal(survey_line(lines, "plane.width"), 6);
    assert_int_equal(survey_line(lines, "rafters"), 9);
    assert_int_equal(survey_line(lines, "rafters.list"), 11);
    assert_int_equal(survey_line(lines, "rafters.list[2].at"), 13);
    assert_int_equal(survey_line(lines, "rafters.list[14]"), 25);
    assert_int_equal(survey_line(lines, "vents[1].at[2]"), 27);
    assert_int_equal(survey_line(lines, "place[1].kit"), 29);
    assert_int_equal(survey_line(survey->kits[0].lines, "bracket.bottom_bracket.gap[2]"), 9);
    /* Absent: the nearest key around it. */
    assert_int_equal(survey_line(lines, "plane.square"), 6);
    assert_int_equal(survey_line(lines, "rafters.list[2].plies"), 13);
    assert_int_equal(survey_line(lines, "rafters.list[15].at"), 11);
    assert_int_equal(survey_line(lines, "apart"), 2);
    assert_int_equal(survey_line(NULL, "roof"), 0);
    assert_true(survey_has(lines, "rafters.list[14].at"));
    assert_true(survey_has(lines, "place[1].want[2]"));
    assert_false(survey_has(lines, "place[1].want[3]"));
    assert_false(survey_has(lines, "place[0].want"));
    assert_false(survey_has(lines, "place[2]"));
    assert_false(survey_has(lines, "loads"));
    assert_false(survey_has(lines, "roof.width"));
    assert_false(survey_has(lines, "[1]"));
    assert_false(survey_has(lines, "rafters.list[x]"));
    assert_false(survey_has(NULL, "roof"));
    survey_free(survey);
}

/* Keys that nobody reads are no fault of form; they are seen, with their lines. */
static void keys_that_nobody_reads_are_seen(void **state) {
    char path[FOLDER_PATH];
    static const char *const keys[] = {"optimum", "optimum.wind.speed", "optimum.list[2][1]"};
    folder_write_text(state, path, "later.yaml",
                      "brackets: []\nmarks: []\n"
                      "optimum: {wind: {speed: 115}, list: [1, [2]]}\n");
    struct survey_layout *survey = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read_layout(path, &survey, &problems), OUTCOME_DONE);
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        if (!survey_has(survey->lines, keys[i])) {
            fail_msg("%s is not seen", keys[i]);
        }
    }
    assert_false(survey_has(survey->lines, "loads"));
    assert_int_equal(survey_line(survey->lines, "optimum.list[2][1]"), 3);
    survey_layout_free(survey);
}

/* Two roofs that use every key between them: one by its outline and measured edges, one by its
 * corners and a checked edge. */
static void an_outlined_roof_is_read_as_written(void **state) {
    char path[FOLDER_PATH];
    folder_write_text(state, path, "hip.yaml",
                      "roof: hip\n"
                      "framing: trusses\n"
                      "wall_line: 14 1/2\n"
                      "plane:\n"
                      "  pitch: 5/12\n"
                      "  outline: [[0, 0], [34', 0],\n"
                      "    [22', 13'], [12', 156]]\n"
                      "courses: {edges: [6, 11 5/8, 17]}\n"
                      "rafters:\n"
                      "  heights: [0, 150]\n"
                      "  list:\n"
                      "    - {at: 24, again: 24 1/2}\n"
                      "    - {at: 48, plies: 2, sister: away, ply_sound: [no, yes],\n"
                      "       sister_reach: [20, 9'], ply_gap: 1/8}\n"
                      "place: [{name: A, kit: " ROOFS "plain-kit.yaml}]\n"
                      "keepouts: [{rafter: 1, from: 20, to: 30, why: knot}]\n");
    struct survey *survey = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    const struct survey_roof *roof = survey->roof;
    assert_string_equal(roof->framing, "trusses");
    assert_string_equal(roof->wall_line, "14 1/2");
    assert_null(roof->plane->width);
    assert_int_equal(roof->plane->outline_count, 4);
    assert_string_equal(roof->plane->outline[1].list[0], "34'");
    assert_string_equal(roof->plane->outline[3].list[1], "156");
    assert_int_equal(survey_line(survey->lines, "plane.outline[3][2]"), 7);
    assert_null(roof->courses->first);
    assert_int_equal(roof->courses->edges.count, 3);
    assert_string_equal(roof->courses->edges.list[1], "11 5/8");
    assert_string_equal(roof->rafters->heights.list[1], "150");
    assert_string_equal(roof->rafters->list[0].again, "24 1/2");
    assert_string_equal(roof->rafters->list[1].ply_sound.list[0], "no");
    assert_string_equal(roof->rafters->list[1].sister_reach.list[1], "9'");
    assert_string_equal(roof->rafters->list[1].ply_gap, "1/8");
    assert_int_equal(roof->keepouts_count, 1);
    assert_string_equal(roof->keepouts[0].rafter, "1");
    assert_string_equal(roof->keepouts[0].why, "knot");
    survey_free(survey);
}

static void a_roof_with_corners_and_pipes_is_read_as_written(void **state) {
    char path[FOLDER_PATH];
    folder_write_text(
        state, path, "corners.yaml",
        "roof: corners\n"
        "plane: {width: 30', slope: 16', pitch: 5/12, square: {along: 96, up: 72, diagonal: 120},\n"
        "  square_far: {along: 8', up: 6', diagonal: 10'}}\n"
        "courses: {first: 6, check: {edge: 19, at: 107 1/4}}\n"
        "rafters: {list: [{at: 16}]}\n"
        "place: [{name: A, kit: " ROOFS "plain-kit.yaml}]\n"
        "pipes:\n"
        "  - {name: hot, bracket: A, port: [66, 68], reach: 18, bore: 1 3/8, keep_rafter: 3/4,\n"
        "     flashing: {width: 9, height: 12, hole_up: 3 1/2, block: 7/8, edge: [0, 1],\n"
        "       clear: 1/4, lap: 1/2}}\n");
    struct survey *survey = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    const struct survey_roof *roof = survey->roof;
    assert_string_equal(roof->plane->square->diagonal, "120");
    assert_string_equal(roof->plane->square_far->along, "8'");
    assert_int_equal(roof->plane->outline_count, 0);
    assert_string_equal(roof->courses->check->edge, "19");
    assert_string_equal(roof->courses->check->at, "107 1/4");
    assert_null(roof->courses->exposure);
    assert_int_equal(roof->pipes_count, 1);
    assert_string_equal(roof->pipes[0].bracket, "A");
    assert_string_equal(roof->pipes[0].port.list[1], "68");
    assert_string_equal(roof->pipes[0].keep_rafter, "3/4");
    assert_string_equal(roof->pipes[0].flashing->hole_up, "3 1/2");
    assert_string_equal(roof->pipes[0].flashing->edge.list[1], "1");
    assert_int_equal(survey_line(survey->lines, "pipes[1].flashing.lap"), 10);
    survey_free(survey);
}

/* A kit named by two places is read once; one named by another path is another kit. */
static void a_kit_is_read_once_for_all_its_places(void **state) {
    char path[FOLDER_PATH];
    char kit[FOLDER_PATH];
    FILE *stream = fopen(ROOFS "plain-kit.yaml", "rb");
    char text[2048];
    assert_non_null(stream);
    const size_t size = fread(text, 1, sizeof text, stream);
    fclose(stream);
    folder_write(state, kit, "frame.yaml", text, size);
    folder_write_text(state, path, "roof.yaml",
                      ROOF_START "place:\n"
                                 "  - {name: A, kit: frame.yaml}\n"
                                 "  - {name: B, kit: " ROOFS "plain-kit.yaml}\n"
                                 "  - {name: C, kit: frame.yaml}\n"
                                 "vents: []\n");
    struct survey *survey = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    assert_int_equal(survey->kit_count, 2);
    assert_int_equal(survey->kit_of[0], 0);
    assert_int_equal(survey->kit_of[1], 1);
    assert_int_equal(survey->kit_of[2], 0);
    assert_string_equal(survey->kits[0].path, kit);
    assert_int_equal(survey->roof->vents_count, 0);
    survey_free(survey);
}

/* A mark for the byte order, line ends of two bytes, a document start, quotes: all the same. */
static void other_ways_to_write_a_file_are_read_alike(void **state) {
    char path[FOLDER_PATH];
    folder_write_text(state, path, "windows.yaml",
                      "\xEF\xBB\xBF---\r\nroof: \"caf\xC3\xA9 'null'\"\r\n"
                      "plane:\r\n  width: '30'''\r\n  slope: 16' 4\"\r\n  pitch: 5/12\r\n"
                      "courses: {first: 6, exposure: 5 5/8}\r\n"
                      "rafters: {list: [{at: 16 1/4}, {at: 'null'}]}\r\n"
                      "place: [{name: A, kit: " ROOFS "plain-kit.yaml}]\r\n...\r\n");
    struct survey *survey = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read(path, &survey, &problems), OUTCOME_DONE);
    assert_string_equal(survey->roof->roof, "caf\xC3\xA9 'null'");
    assert_string_equal(survey->roof->plane->width, "30'");
    assert_string_equal(survey->roof->rafters->list[1].at, "null");
    assert_int_equal(survey_line(survey->lines, "plane.slope"), 5);
    survey_free(survey);
}

/* A layout's own JSON, as deep as it gets. */
static void the_json_of_a_layout_is_read(void **state) {
    char path[FOLDER_PATH];
    folder_write_text(
        state, path, "layout.json",
        "{\"ruddle\": \"layout/1\", \"roof\": \"plain\", \"measure\": \"in\", \"corner\": "
        "\"left\",\n"
        " \"status\": \"ok\", \"tight\": false, \"proved\": true, \"forgiveness\": 0.125,\n"
        " \"holes\": 4, \"moved\": 5.875, \"brackets\": [{\"name\": \"A\", \"x\": 54.125, \"y\": "
        "40.0,"
        " \"forgiveness\": 0.125, \"top\": \"strut\", \"bottom\": \"feet\","
        " \"bottom_bracket_gap\": [1.0, 1.5]}],\n"
        " \"rows\": [{\"bracket\": \"A\"}], \"struts\": [{\"clamps\": [67.375, 115.375]}],\n"
        " \"marks\": [{\"id\": \"A-top-1\", \"bracket\": \"A\", \"row\": \"top\", \"rafter\": 3,\n"
        "  \"x\": 64.0, \"y\": 110.75, \"turned\": null, \"margins\": {\"wood\": 0.15625}}],\n"
        " \"rules\": [{\"other\": null}], \"optimum\": {\"holes\": 4}, \"bound\": null,\n"
        " \"strength\": null, \"warnings\": [], \"reasons\": []}\n");
    struct survey_layout *layout = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read_layout(path, &layout, &problems), OUTCOME_DONE);
    assert_string_equal(layout->path, path);
    assert_string_equal(layout->measure, "in");
    assert_int_equal(layout->brackets_count, 1);
    assert_string_equal(layout->brackets[0].x, "54.125");
    assert_string_equal(layout->brackets[0].bottom, "feet");
    assert_int_equal(layout->marks_count, 1);
    assert_string_equal(layout->marks[0].row, "top");
    assert_string_equal(layout->marks[0].y, "110.75");
    assert_int_equal(survey_line(layout->lines, "marks[1].x"), 6);
    assert_int_equal(survey_line(layout->lines, "marks[1].turned"), 6);
    survey_layout_free(layout);
}

static void a_short_layout_in_yaml_is_read(void **state) {
    char path[FOLDER_PATH];
    folder_write_text(state, path, "layout.yaml",
                      "brackets:\n  - {name: A, x: 54 1/8, y: 40}\nmarks: []\n");
    struct survey_layout *layout = NULL;
    struct problems problems = {0};
    assert_int_equal(survey_read_layout(path, &layout, &problems), OUTCOME_DONE);
    assert_null(layout->measure);
    assert_string_equal(layout->brackets[0].x, "54 1/8");
    assert_null(layout->brackets[0].top);
    assert_int_equal(layout->marks_count, 0);
    survey_layout_free(layout);
    survey_layout_free(NULL);
    survey_free(NULL);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plain_roof_is_read_as_written),
        cmocka_unit_test(lines_are_found_by_path),
        FOLDER_TEST(keys_that_nobody_reads_are_seen),
        FOLDER_TEST(an_outlined_roof_is_read_as_written),
        FOLDER_TEST(a_roof_with_corners_and_pipes_is_read_as_written),
        FOLDER_TEST(a_kit_is_read_once_for_all_its_places),
        FOLDER_TEST(other_ways_to_write_a_file_are_read_alike),
        FOLDER_TEST(the_json_of_a_layout_is_read),
        FOLDER_TEST(a_short_layout_in_yaml_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
