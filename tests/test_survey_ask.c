/* `ruddle survey --ask` as somebody at a terminal meets it. */
#include "folder.h"
#include "run_program.h"
#include "typist.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* A small roof with something of everything: two lines, a doubled rafter, a bad one, a crooked one,
 * a keep-out, a vent, one frame, a pipe, and loads. */
static const struct typed survey[] = {
    {"Name of the roof", "Test: Lane 4 #1"},
    {"in or mm [in]", ""},
    {"left or right", "right"},
    {"tape hooks on", "right rake metal; drip edge"},
    {"Along the eave, rake", "26'"},
    {"Up the roof, eave", "15' 2\""},
    {"Pitch", "5/12"},
    {"Corner check", "96"},
    {"up the rake", "72"},
    {"across", "120"},
    {"clear of the eave", "12"},
    {"clear of the ridge", "18"},
    {"rake at the zero corner", "12"},
    {"clear of the other rake", "12"},
    {"Framing", ""},
    {"Outer face", "10"},
    {"First butt edge", "6"},
    {"one butt edge to the next", "5 5/8"},
    {"that you counted", "19"},
    {"where it is", "107 1/4"},
    {"cutout to the next", "12"},
    {"of the first course", "4 1/2"},
    {"from each course", "5"},
    {"found how", "attic"},
    {"Thickness of one ply", ""},
    {"Taped on two lines", "20"},
    {"the upper one", "150"},
    {"Rafter 1:", "23 3/4"},
    {"upper line", "23 3/4"},
    {"single and sound", "yes"},
    {"Rafter 2:", "47 7/8"},
    {"upper line", "48 3/8"},
    {"single and sound", ""},
    {"Rafter 3:", "72"},
    {"upper line", "72"},
    {"single and sound", "no"},
    {"how many", "2"},
    {"the others lie", "away"},
    {"is it sound", ""},
    {"Rafter 4:", "95 7/8"},
    {"upper line", "95 7/8"},
    {"single and sound", ""},
    {"Rafter 5:", "120"},
    {"upper line", "120"},
    {"single and sound", ""},
    {"Rafter 6:", "144 1/8"},
    {"upper line", "144 1/8"},
    {"single and sound", ""},
    {"Rafter 7:", "168"},
    {"upper line", "168"},
    {"single and sound", "no"},
    {"how many", ""},
    {"is it sound", "no"},
    {"Rafter 8:", ""},
    {"Keep-out 1", "1"},
    {"from, up", "60"},
    {"to, up", "80"},
    {"what is there", "a splice"},
    {"Keep-out 2", ""},
    {"Vent 1", "soil stack"},
    {"plumbing, flue", ""},
    {"from the zero rake", "222"},
    {"the same, up", "131"},
    {"flange, along", "12"},
    {"flange, up", "14"},
    {"how tall", ""},
    {"Vent 2", ""},
    {"Frame 1", "A"},
    {"wanted from the zero rake", "60"},
    {"and up the roof", "40"},
    {"top line", ""},
    {"bottom line", "feet"},
    {"kit file", RUDDLE_ROOT "/roofs/kits/two-leg-tested.yaml"},
    {"Frame 2", ""},
    {"Pipe 1", "hot"},
    {"the frame that it serves", "A"},
    {"its port", "66"},
    {"frame's lower edge", "60"},
    {"may come up", "14"},
    {"diameter", "1 3/8"},
    {"struts and feet", ""},
    {"its flashing, along", "9"},
    {"its flashing, up", "12"},
    {"middle of its hole", "3 1/4"},
    {"raised hub", "7/8"},
    {"at least", "0"},
    {"and at most", "1"},
    {"from the hub", "1/4"},
    {"its top passes", "1/2"},
    {"Pipe 2", ""},
    {"Strength: snow", "0"},
    {"wind that lifts", ""},
    {"wind speed", "100"},
    {"wind comes over", "B"},
    {"middle of the roof", "18"},
    {"coefficient", "1"},
    {"size of the rafters", "2x8"},
    {"their wood", "douglas-fir-larch"},
    {"their grade", ""},
    {"lie on the wall", "10"},
    {"and span", "11'"},
    {"the roof itself weighs", "10"},
    {"thickness of the deck", ""},
    {"all layers", ""},
    {"empty gap", ""},
};
enum { SURVEY_COUNT = sizeof survey / sizeof survey[0], FOUND_AT = 23 };

/* The same roof by hand. */
static const char by_hand[] =
    "roof: 'Test: Lane 4 #1'\n"
    "corner: right\n"
    "zero: right rake metal; drip edge\n"
    "plane: {width: 26', slope: 15' 2\", pitch: 5/12,\n"
    "  square: {along: 96, up: 72, diagonal: 120}}\n"
    "setback: {eave: 12, ridge: 18, near: 12, far: 12}\n"
    "wall_line: 10\n"
    "courses: {first: 6, exposure: 5 5/8, check: {edge: 19, at: 107 1/4},\n"
    "  joints: {tab: 12, first_cutout: 4 1/2, stagger: 5}}\n"
    "rafters:\n"
    "  found: attic\n"
    "  heights: [20, 150]\n"
    "  list: [{at: 23 3/4}, {at: 47 7/8, again: 48 3/8}, {at: 72, plies: 2, sister: away},\n"
    "    {at: 95 7/8}, {at: 120}, {at: 144 1/8}, {at: 168, sound: no}]\n"
    "keepouts: [{rafter: 1, from: 60, to: 80, why: a splice}]\n"
    "vents: [{name: soil stack, at: [222, 131], size: [12, 14]}]\n"
    "place: [{name: A, kit: " RUDDLE_ROOT "/roofs/kits/two-leg-tested.yaml, want: [60, 40]}]\n"
    "pipes: [{name: hot, bracket: A, port: [66, 60], reach: 14, bore: 1 3/8, flashing: {width: 9,\n"
    "  height: 12, hole_up: 3 1/4, block: 7/8, edge: [0, 1], clear: 1/4, lap: 1/2}}]\n"
    "loads: {snow: 0, wind: {speed: 100, exposure: B, height: 18, coefficient: 1}, rafter: {\n"
    "  size: 2x8, species: douglas-fir-larch, grade: no2, bearing: 10, span: 11', dead: 10}}\n";

#define ASK WORDS("survey", "roof.yaml", "--ask")

static const char *folder_of(void **state) {
    const struct folder *folder = *state;
    return folder->path;
}

static char *read_roof(void **state) {
    char path[RUN_PATH];
    return run_file_read(run_path(path, folder_of(state), "roof.yaml"));
}

static void start(struct typist *typist, void **state) {
    typist_start(typist, RUDDLE_PROGRAM, ASK, folder_of(state));
}

/* The whole survey without a break; the file that comes of it, which is gone afterwards if it is
 * not to be kept.  Asked once for all tests: borrowed. */
static const char *ask_all(struct typist *typist, void **state, bool keep) {
    static char whole[8192];
    if (whole[0] != '\0' && !keep) {
        return whole;
    }
    start(typist, state);
    for (size_t i = 0; i < SURVEY_COUNT; i++) {
        typist_answer(typist, &survey[i]);
    }
    typist_wait(typist, "Next: ruddle layout roof.yaml");
    assert_int_equal(typist_end(typist), 0);
    char *text = read_roof(state);
    assert_true(snprintf(whole, sizeof whole, "%s", text) < (int)sizeof whole);
    free(text);
    if (!keep) {
        char path[RUN_PATH];
        assert_int_equal(remove(run_path(path, folder_of(state), "roof.yaml")), 0);
    }
    return whole;
}

static void asked_roof_is_the_same_as_one_written_by_hand(void **state) {
    static struct typist typist;
    char path[FOLDER_PATH];
    const struct run_setup here = {.folder = folder_of(state)};
    (void)ask_all(&typist, state, true);
    folder_write_text(state, path, "hand.yaml", by_hand);
    struct run asked = run_program(RUDDLE_PROGRAM, WORDS("layout", "roof.yaml", "--json"), &here);
    struct run hand = run_program(RUDDLE_PROGRAM, WORDS("layout", "hand.yaml", "--json"), &here);
    assert_string_equal(asked.err, "");
    assert_int_equal(asked.code, hand.code);
    assert_string_equal(asked.out, hand.out);
    assert_non_null(strstr(asked.out, "\"Test: Lane 4 #1\""));
    run_free(&asked);
    run_free(&hand);
}

static bool is_no(const struct typed *typed) {
    return strcmp(typed->asked, "single and sound") == 0 && strcmp(typed->answer, "no") == 0;
}

/* One answer a run (more where tests are to be short), then Ctrl-C: in the end the same file, and
 * after every run one that is read. */
static void ctrl_c_after_every_answer_loses_none(void **state) {
    static struct typist typist;
    const char *whole = ask_all(&typist, state, false);
    const size_t at_a_time = getenv("RUDDLE_ROOFS") != NULL ? 4 : 1;
    for (size_t i = 0; i < SURVEY_COUNT; i++) {
        start(&typist, state);
        typist_answer(&typist, &survey[i]);
        /* A no to "single and sound" is no answer yet: it comes again with the next question. */
        for (size_t more = 1; i + 1 < SURVEY_COUNT && (more < at_a_time || is_no(&survey[i]));
             more++) {
            typist_answer(&typist, &survey[++i]);
        }
        if (i + 1 < SURVEY_COUNT) {
            typist_wait(&typist, survey[i + 1].asked);
            typist_type(&typist, TYPIST_CTRL_C);
            typist_wait(&typist, "The same command goes on with it.");
        }
        assert_int_equal(typist_end(&typist), i + 1 < SURVEY_COUNT ? 1 : 0);
        assert_int_equal(run_folder_count(folder_of(state)), 1); /* nothing half written beside */
    }
    char *pieces = read_roof(state);
    assert_string_equal(pieces, whole);
    free(pieces);
}

static void ctrl_c_in_the_middle_of_an_answer_drops_it(void **state) {
    static struct typist typist;
    start(&typist, state);
    typist_answer(&typist, &survey[0]);
    typist_wait(&typist, survey[1].asked);
    typist_type(&typist, "m" TYPIST_CTRL_C);
    typist_wait(&typist, "The same command goes on");
    assert_int_equal(typist_end(&typist), 1);
    char *text = read_roof(state);
    assert_null(strstr(text, "measure"));
    free(text);
}

static void end_of_input_keeps_what_was_answered(void **state) {
    static struct typist typist;
    start(&typist, state);
    for (size_t i = 0; i < FOUND_AT; i++) {
        typist_answer(&typist, &survey[i]);
    }
    typist_wait(&typist, survey[FOUND_AT].asked);
    typist_type(&typist, TYPIST_END_OF_INPUT);
    assert_int_equal(typist_end(&typist), 1);
    start(&typist, state);
    typist_wait(&typist, survey[FOUND_AT].asked);
    typist_type(&typist, TYPIST_END_OF_INPUT);
    assert_int_equal(typist_end(&typist), 1);
    char *text = read_roof(state);
    assert_non_null(strstr(text, "    at: 107 1/4\n"));
    free(text);
}

static void nothing_answered_leaves_no_file(void **state) {
    static struct typist typist;
    start(&typist, state);
    typist_wait(&typist, "Name of the roof");
    typist_type(&typist, TYPIST_END_OF_INPUT);
    typist_wait(&typist, "roof.yaml was not written");
    assert_int_equal(typist_end(&typist), 1);
    assert_int_equal(run_folder_count(folder_of(state)), 0);
}

/* Answers that will not do, at the question they are given to, and what is wanted instead. */
static const struct {
    size_t at;
    const char *answer, *told;
} wrong[] = {
    {0, "", "an answer is wanted"},
    {1, "feet", "no: wanted in or mm"},
    {2, "LEFT", "no: wanted left or right"},
    {4, "thirty feet", "not written as a tape is read"},
    {4, "30,5", "a decimal point is needed"},
    {4, "1/0", "no: wanted a length above 0"},
    {4, "-30", "negative"},
    {4, "99999 mi", "no: wanted"},
    {6, "85 deg", "no: wanted a pitch above 0 and below 80"},
    {9, "300", "closes the triangle"},
    {10, "1e3", "no: wanted a length"},
    {15, "200", "no: wanted"},
    {18, "0", "no: wanted a whole number"},
    {19, "3", "no: wanted a butt edge above the first"},
    {23, "guessed", "no: wanted probed, attic or sounded"},
    {26, "25", "no, because of rafters.heights"},
    {27, "26' 1\"", "no: wanted a rafter on the face"},
    {27, "", "an answer is wanted"},
    {29, "maybe", "no: wanted yes or no"},
    {30, "24", "no: wanted a rafter clear of"},
    {36, "9", "no: wanted a whole number from 1 to 6"},
    {37, "left", "no: wanted away, toward or both"},
    {54, "40", "no: wanted"},
    {56, "50", "no: wanted a height above from"},
    {60, "chimney", "no: wanted plumbing, flue"},
    {61, "900", "no, because of vents[1].at"},
    {72, "no-such-kit.yaml", "can be read"},
    {72, RUDDLE_ROOT "/roofs/easy.yaml", "this is a roof file"},
    {75, "B", "no: wanted the name of a"},
    {79, "0", "no: wanted a length above 0"},
    {81, "1", "no, because of pipes[1].bore: wanted a bore inside"},
    {83, "13", "no: wanted a hole inside the flashing"},
    {86, "", "an answer is wanted"},
    {90, "501", "no: wanted snow on the roof"},
    {92, "fast", "no: wanted"},
    {93, "A", "no: wanted B, C or D"},
    {96, "2x3", "no: wanted one of 2x4"},
    {97, "oak", "no: wanted one of"},
    {98, "no1", "no: wanted no2"},
    {100, "0", "no: wanted a length above 0"},
    {104, "perhaps", "no: wanted"},
};
enum { WRONG_COUNT = sizeof wrong / sizeof wrong[0] };

static void wrong_answers_are_told_at_once_and_not_kept(void **state) {
    static struct typist typist;
    const char *whole = ask_all(&typist, state, false);
    start(&typist, state);
    size_t next = 0;
    for (size_t i = 0; i < SURVEY_COUNT; i++) {
        for (; next < WRONG_COUNT && wrong[next].at == i; next++) {
            const struct typed typed = {survey[i].asked, wrong[next].answer};
            typist_answer(&typist, &typed);
            typist_wait(&typist, wrong[next].told);
        }
        typist_answer(&typist, &survey[i]);
    }
    assert_int_equal(next, WRONG_COUNT);
    assert_int_equal(typist_end(&typist), 0);
    char *text = read_roof(state);
    assert_string_equal(text, whole);
    free(text);
}

static void back_takes_the_last_answer_back(void **state) {
    static struct typist typist;
    static const struct typed typed[] = {
        {"Name of the roof", "back"}, {"this is the first question", "Wrong name"},
        {"in or mm", "back"},         {"Name of the roof", "Right name"},
        {"in or mm", "mm"},           {"left or right", "back"},
        {"in or mm", "in"},
    };
    start(&typist, state);
    for (size_t i = 0; i < sizeof typed / sizeof typed[0]; i++) {
        typist_answer(&typist, &typed[i]);
    }
    for (size_t i = 2; i < 33; i++) {
        typist_answer(&typist, &survey[i]);
    }
    static const struct typed rafter[] = {{"Rafter 3:", "back"},  {"single and sound", "no"},
                                          {"how many", "back"},   {"single and sound", "back"},
                                          {"upper line", "back"}, {"Rafter 2:", "49"}};
    for (size_t i = 0; i < sizeof rafter / sizeof rafter[0]; i++) {
        typist_answer(&typist, &rafter[i]);
    }
    typist_wait(&typist, "upper line");
    typist_type(&typist, TYPIST_END_OF_INPUT);
    assert_int_equal(typist_end(&typist), 1);
    char *text = read_roof(state);
    assert_non_null(strstr(text, "\nroof: Right name\nmeasure: in\n"));
    assert_null(strstr(text, "Wrong name"));
    assert_non_null(strstr(text, "    - at: 49\n"));
    assert_null(strstr(text, "48 3/8"));
    free(text);
}

static void question_mark_tells_more(void **state) {
    static struct typist typist;
    start(&typist, state);
    static const char *const told[] = {"It heads every sheet", "Whatever has a unit",
                                       "face the ridge. Every", "outer or inner face"};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++) {
        const struct typed why = {survey[i].asked, "?"};
        typist_answer(&typist, &why);
        typist_wait(&typist, told[i]);
        typist_answer(&typist, &survey[i]);
    }
    typist_type(&typist, TYPIST_CTRL_C);
    assert_int_equal(typist_end(&typist), 1);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        FOLDER_TEST(asked_roof_is_the_same_as_one_written_by_hand),
        FOLDER_TEST(ctrl_c_after_every_answer_loses_none),
        FOLDER_TEST(ctrl_c_in_the_middle_of_an_answer_drops_it),
        FOLDER_TEST(end_of_input_keeps_what_was_answered),
        FOLDER_TEST(nothing_answered_leaves_no_file),
        FOLDER_TEST(wrong_answers_are_told_at_once_and_not_kept),
        FOLDER_TEST(back_takes_the_last_answer_back),
        FOLDER_TEST(question_mark_tells_more),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
