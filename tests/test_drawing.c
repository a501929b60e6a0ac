/* The drawing: labels apart, holes where they are, the same bytes, nothing of the file's words. */
#include "../src/drawing/holder.h"
#include "../src/sheet/words.h"
#include "answered.h"
#include "random_trial.h"
#include "sheet_answer.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>

#include <cmocka.h>

#include <glob.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct drawing *draw(const struct answer *answer, enum paper paper) {
    struct problems problems = {0};
    struct drawing *drawing = NULL;
    assert_int_equal(drawing_make(answer, paper, &drawing, &problems), OUTCOME_DONE);
    return drawing;
}

/* ---- Labels --------------------------------------------------------------------------------- */

static bool apart(struct box a, struct box b) {
    return !(a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1);
}

/* Every text against every other, by the extents that cairo measures afresh. */
static void hold_texts_apart(const struct drawing *drawing, const char *whose) {
    const struct picture *picture = drawing->picture;
    for (size_t i = 0; i < picture->count; i++) {
        const struct shape *one = &picture->shapes[i];
        if (one->kind != SHAPE_TEXT) {
            continue;
        }
        const char *text = picture_text_of(picture, one);
        const struct box box = picture_text_box(picture, one);
        if (!(fabs(letters_width(drawing->letters, &one->how, text) - (box.x1 - box.x0)) < 0.01)) {
            fail_msg("%s: \"%s\" is not as wide as it was taken to be", whose, text);
        }
        if (!(box.x0 >= 0 && box.x1 <= picture->width && box.y0 >= 0 &&
              box.y1 <= picture->height)) {
            fail_msg("%s: \"%s\" runs off the page", whose, text);
        }
        for (size_t j = 0; j < i; j++) {
            const struct shape *other = &picture->shapes[j];
            if (other->kind == SHAPE_TEXT && !apart(box, picture_text_box(picture, other))) {
                fail_msg("%s: \"%s\" lies over \"%s\"", whose, text,
                         picture_text_of(picture, other));
            }
        }
    }
}

/* What the comparison is worth: two texts at one place are found. */
static void overlapping_texts_are_found(void **state) {
    (void)state;
    assert_false(apart((struct box){0, 0, 10, 10}, (struct box){9, 9, 20, 20}));
    assert_true(apart((struct box){0, 0, 10, 10}, (struct box){10, 0, 20, 10}));
    assert_false(apart((struct box){0, 0, 10, 10}, (struct box){2, 2, 3, 3}));
}

/* What is drawn over all else hides no text. */
static void hold_texts_off_the_zero(const struct drawing *drawing, const char *whose) {
    const struct picture *picture = drawing->picture;
    const struct point zero = picture->zero;
    const struct box sign = {zero.x - 6, zero.y - 6, zero.x + 6, zero.y + 6};
    for (size_t i = 0; i < picture->count; i++) {
        const struct shape *shape = &picture->shapes[i];
        if (shape->kind == SHAPE_TEXT && !apart(picture_text_box(picture, shape), sign)) {
            fail_msg("%s: the zero lies over \"%s\"", whose, picture_text_of(picture, shape));
        }
    }
}

/* ---- Names ---------------------------------------------------------------------------------- */

/* The outlines of the frames, in their order: of their layer they alone are closed. */
static size_t outlines_of(const struct picture *picture, struct box outlines[ROOF_BRACKETS_MOST]) {
    size_t count = 0;
    for (size_t i = 0; i < picture->count; i++) {
        const struct shape *shape = &picture->shapes[i];
        if (shape->layer == LAYER_FRAMES && shape->kind == SHAPE_POLYGON) {
            const struct point *corners = &picture->points[shape->first];
            outlines[count++] =
                (struct box){fmin(corners[0].x, corners[2].x), fmin(corners[0].y, corners[2].y),
                             fmax(corners[0].x, corners[2].x), fmax(corners[0].y, corners[2].y)};
        }
    }
    return count;
}

static bool is_in(struct point point, struct box box) {
    return point.x >= box.x0 && point.x <= box.x1 && point.y >= box.y0 && point.y <= box.y1;
}

/* A line that is no reading's goes from within a frame to a name. */
static bool is_led(const struct picture *picture, struct box frame, struct box name) {
    const struct box about = {name.x0 - 4, name.y0 - 4, name.x1 + 4, name.y1 + 4};
    for (size_t i = 0; i < picture->count; i++) {
        const struct shape *shape = &picture->shapes[i];
        const struct point *ends = &picture->points[shape->first];
        if (shape->layer == LAYER_READINGS && shape->kind == SHAPE_LINE &&
            shape->hole == SIZE_MAX && is_in(ends[0], frame) && is_in(ends[1], about)) {
            return true;
        }
    }
    return false;
}

/* Whole in its own outline, or in none and led there; never in another's. */
static void hold_name(const struct picture *picture, size_t own, const struct shape *shape,
                      const char *whose) {
    const struct box name = picture_text_box(picture, shape);
    const char *text = picture_text_of(picture, shape);
    struct box outlines[ROOF_BRACKETS_MOST];
    const size_t count = outlines_of(picture, outlines);
    for (size_t i = 0; i < count; i++) {
        if (i != own && !apart(name, outlines[i])) {
            fail_msg("%s: \"%s\" lies in frame %zu", whose, text, i + 1);
        }
    }
    if (own < count && apart(name, outlines[own]) && !is_led(picture, outlines[own], name)) {
        fail_msg("%s: nothing leads to \"%s\"", whose, text);
    }
    if (own < count && !apart(name, outlines[own]) &&
        !(is_in((struct point){name.x0, name.y0}, outlines[own]) &&
          is_in((struct point){name.x1, name.y1}, outlines[own]))) {
        fail_msg("%s: \"%s\" lies over its outline", whose, text);
    }
}

/* The bracket whose name a text of the drawing is; bracket_count where it is none's. */
static size_t named_by(const struct roof *roof, const char *text) {
    for (size_t i = 0; i < roof->bracket_count; i++) {
        char name[ROOF_NAME_MOST + 16];
        snprintf(name, sizeof name, "frame %s", roof->brackets[i].name);
        if (strcmp(text, name) == 0) {
            return i;
        }
    }
    return roof->bracket_count;
}

/* Every frame is named where it cannot be another that is meant; no edge is named in a frame. */
static void hold_names(const struct roof *roof, const struct drawing *drawing, const char *whose) {
    const struct picture *picture = drawing->picture;
    size_t named = 0;
    for (size_t i = 0; i < picture->count; i++) {
        const struct shape *shape = &picture->shapes[i];
        if (shape->kind != SHAPE_TEXT || shape->layer != LAYER_READINGS) {
            continue;
        }
        const char *text = picture_text_of(picture, shape);
        const size_t own = named_by(roof, text);
        if (own < roof->bracket_count || strcmp(text, "RIDGE") == 0 || strcmp(text, "EAVE") == 0) {
            hold_name(picture, own, shape, whose);
        }
        named += own < roof->bracket_count;
    }
    assert_int_equal(named, drawing->hole_count > 0 ? roof->bracket_count : 0);
}

/* As test_roof_writer writes them: readings enough to fill every frame. */
static void names_stay_with_their_frames_on_a_crowded_roof(void **state) {
    static const struct random_knobs crowded[] = {
        {.seed = 11, .brackets = 4, .vents = 1, .sisters = true, .unsound = true},
        {.seed = 453, .brackets = 4, .vents = 1, .sisters = true, .unsound = true},
        {.seed = 22, .brackets = 8, .vents = 1, .sisters = true},
        {.seed = 23, .brackets = 8, .vents = 1, .sisters = true, .unsound = true},
    };
    for (size_t i = 0; i < sizeof crowded / sizeof *crowded; i++) {
        struct random_roof made;
        struct answered answered;
        char whose[32];
        random_roof_make(&crowded[i], &made);
        answered_roof(random_roof_read(&made, RANDOM_PLAIN, *state, NULL), SIDE_NEAR, 5, &answered);
        struct drawing *drawing = draw(&answered.answer, PAPER_LETTER);
        snprintf(whose, sizeof whose, "seed %d", (int)crowded[i].seed);
        assert_int_equal(answered.answer.status, STATUS_OK); /* only then it has readings */
        hold_names(answered.roof, drawing, whose);
        hold_texts_apart(drawing, whose);
        hold_texts_off_the_zero(drawing, whose);
        drawing_free(drawing);
        answered_free(&answered);
    }
}

/* A name that its frame has no room for. */
static void long_name_is_led_to_its_frame(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 2);
    strcpy(made.brackets[1].name, "the one above the kitchen and the stairs beside it");
    struct drawing *drawing = draw(&made.answer, PAPER_LETTER);
    hold_names(&made.roof, drawing, "a long name");
    drawing_free(drawing);
}

static void each_roof_of_the_folder(void (*hold)(const struct answered *answered,
                                                 const char *path)) {
    glob_t found;
    assert_int_equal(glob(RUDDLE_ROOT "/roofs/*.yaml", 0, NULL, &found), 0);
    assert_true(found.gl_pathc >= 12);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        struct answered answered;
        answered_file(found.gl_pathv[i], i % 2 == 0 ? SIDE_NEAR : SIDE_FAR, &answered);
        hold(&answered, found.gl_pathv[i]);
        answered_free(&answered);
    }
    globfree(&found);
}

static void hold_labels(const struct answered *answered, const char *path) {
    for (enum paper paper = PAPER_LETTER; paper < PAPER_COUNT; paper++) {
        struct drawing *drawing = draw(&answered->answer, paper);
        hold_texts_apart(drawing, path);
        hold_texts_off_the_zero(drawing, path);
        hold_names(answered->roof, drawing, path);
        assert_int_equal(drawing->unplaced, 0);
        drawing_free(drawing);
    }
}

static void no_two_labels_overlap_on_random_roofs(void **state) {
    const size_t count = random_roof_count(50);
    size_t holes = 0;
    for (uint64_t seed = 1; seed <= count; seed++) {
        const struct random_knobs knobs = {.seed = seed,
                                           .brackets = seed % 10 == 1 ? 3 : 1 + seed / 2 % 2,
                                           .vents = RANDOM_VENTS_MOST,
                                           .sisters = true,
                                           .unsound = true,
                                           .right = seed % 2 == 0,
                                           .narrow = seed % 5 == 0,
                                           .uneven = seed % 3 == 0,
                                           .piped = seed % 6 == 0};
        struct random_roof made;
        struct answered answered;
        char whose[32];
        random_roof_make(&knobs, &made);
        struct roof *roof = random_roof_read(&made, RANDOM_PLAIN, *state, NULL);
        answered_roof(roof, seed % 4 < 2 ? SIDE_NEAR : SIDE_FAR, 0.5, &answered);
        struct drawing *drawing = draw(&answered.answer, PAPER_LETTER);
        snprintf(whose, sizeof whose, "seed %d", (int)seed);
        hold_texts_apart(drawing, whose);
        hold_texts_off_the_zero(drawing, whose);
        hold_names(answered.roof, drawing, whose);
        if (drawing->unplaced > 0) {
            fail_msg("%s: no room for %zu labels", whose, drawing->unplaced);
        }
        holes += drawing->hole_count;
        drawing_free(drawing);
        answered_free(&answered);
    }
    assert_true(holes > 2 * count); /* on some of them nothing can be placed */
}

/* ---- Bytes ---------------------------------------------------------------------------------- */

static enum outcome write_svg(const void *subject, FILE *stream) {
    return drawing_write_svg(subject, stream);
}

static enum outcome write_inline(const void *subject, FILE *stream) {
    return drawing_write_inline(subject, stream);
}

static enum outcome write_pdf(const void *subject, FILE *stream) {
    return drawing_write_pdf(subject, stream);
}

static enum outcome write_png(const void *subject, FILE *stream) {
    return drawing_write_png(subject, stream);
}

static enum outcome write_dxf(const void *subject, FILE *stream) {
    return drawing_write_dxf(subject, stream);
}

static answered_writer *const writers[] = {write_inline, write_pdf, write_png, write_dxf};
enum { WRITER_COUNT = sizeof writers / sizeof writers[0] };

static void same_bytes_twice_in_one_process(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 2);
    for (size_t i = 0; i < WRITER_COUNT; i++) {
        size_t sizes[2] = {0};
        struct drawing *first = draw(&made.answer, PAPER_A4);
        char *one = answered_bytes(writers[i], first, &sizes[0]);
        struct drawing *second = draw(&made.answer, PAPER_A4);
        char *other = answered_bytes(writers[i], second, &sizes[1]);
        assert_int_equal(sizes[0], sizes[1]);
        assert_memory_equal(one, other, sizes[0]);
        drawing_free(first);
        drawing_free(second);
        free(one);
        free(other);
    }
}

/* ---- Places --------------------------------------------------------------------------------- */

/* The number after `name="` in text, from `at` on. */
static double attribute(const char *at, const char *name) {
    char sought[40];
    snprintf(sought, sizeof sought, " %s=\"", name);
    const char *found = strstr(at, sought);
    assert_non_null(found);
    double value = NAN;
    assert_int_equal(sscanf(found + strlen(sought), "%lf", &value), 1);
    return value;
}

/* Some closed curve of a file by cairo has its middle there, to within that much.  A circle is four
 * numbers and more after `M`; its control points lie about its middle evenly. */
static void hold_curve(const char *file, double x, double y, double within) {
    double nearest = INFINITY;
    for (const char *at = strstr(file, " d=\"M "); at; at = strstr(at + 1, " d=\"M ")) {
        double lo[2] = {INFINITY, INFINITY}, hi[2] = {-INFINITY, -INFINITY};
        bool curved = false;
        int axis = 0;
        for (const char *word = at + 4; *word != '\0' && *word != '"';) {
            char *end = NULL;
            const double value = strtod(word, &end);
            if (end == word) {
                curved = curved || *word == 'C';
                word++;
                continue;
            }
            lo[axis] = fmin(lo[axis], value);
            hi[axis] = fmax(hi[axis], value);
            axis = 1 - axis;
            word = end;
        }
        if (curved)
            nearest =
                fmin(nearest, fmax(fabs((lo[0] + hi[0]) / 2 - x), fabs((lo[1] + hi[1]) / 2 - y)));
    }
    if (!(nearest <= within))
        fail_msg("no curve at %g, %g: the nearest is %g off", x, y, nearest);
}

/* 0.01 in on the drawing is 0.72 points; far less is asked here: 0.01 in on the roof. */
static void hold_holes(const struct answered *answered, const char *path) {
    struct drawing *drawing = draw(&answered->answer, PAPER_LETTER);
    char *svg = answered_bytes(write_inline, drawing, NULL);
    const double scale = attribute(svg, "data-scale");
    const int way = answered->roof->corner == CORNER_LEFT ? 1 : -1;
    char *file = answered_bytes(write_svg, drawing, NULL);
    double zero[2];
    assert_int_equal(sscanf(strstr(svg, "data-zero=\"") + 11, "%lf %lf", &zero[0], &zero[1]), 2);
    for (size_t i = 0; i < drawing->hole_count; i++) {
        const struct mark *mark = &answered->answer.marks->list[i];
        char id[40];
        snprintf(id, sizeof id, "id=\"hole-%zu\"", drawing->holes[i].number);
        const char *group = strstr(svg, id);
        assert_non_null(group);
        assert_null(strstr(group + 1, id));
        const double x = (attribute(group, "cx") - zero[0]) / scale * way;
        const double y = (zero[1] - attribute(group, "cy")) / scale;
        if (!(fabs(x - mark->x) <= 0.01 && fabs(y - mark->y) <= 0.01)) {
            fail_msg("%s: hole %zu lies at %g, %g, not %g, %g", path, drawing->holes[i].number, x,
                     y, mark->x, mark->y);
        }
        hold_curve(file, attribute(group, "cx"), attribute(group, "cy"), 0.01 * scale);
    }
    free(file);
    free(svg);
    drawing_free(drawing);
}

/* Chalking order: lowest line first, and along it from the zero. */
static void holes_are_numbered_in_chalking_order(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    answer_add_pipes(&made);
    struct drawing *drawing = draw(&made.answer, PAPER_LETTER);
    const char *const names[] = {"A-bottom-1", "A-bottom-2", "A-top-1",    "A-top-2",
                                 "A-top-3",    "A-pipe-hot", "A-pipe-cold"};
    assert_int_equal(drawing->hole_count, 7);
    for (size_t i = 0; i < 7; i++) {
        for (size_t j = 0; j < 7; j++) {
            if (strcmp(drawing->holes[j].name, names[i]) == 0) {
                assert_int_equal(drawing->holes[j].number, i + 1);
                assert_int_equal(drawing->holes[j].pipe, i >= 5);
            }
        }
    }
    drawing_free(drawing);
}

/* ---- Words ---------------------------------------------------------------------------------- */

static void hold_words(const struct answered *answered, const char *path) {
    struct drawing *drawing = draw(&answered->answer, PAPER_LETTER);
    const struct picture *picture = drawing->picture;
    bool stamped = false;
    for (size_t i = 0; i < picture->count; i++) {
        if (picture->shapes[i].kind != SHAPE_TEXT) {
            continue;
        }
        const char *text = picture_text_of(picture, &picture->shapes[i]);
        stamped = stamped || strstr(text, "DO NOT DRILL") != NULL;
        if (words_kept_off(text) != NULL) {
            fail_msg("%s: a word of files is on the drawing: %s", path, text);
        }
    }
    assert_int_equal(stamped, answered->answer.status != STATUS_OK);
    drawing_free(drawing);
}

static void hold_all(const struct answered *answered, const char *path) {
    hold_labels(answered, path);
    hold_holes(answered, path);
    hold_words(answered, path);
}

/* On every roof of the folder: labels apart; each hole of the SVG at its place; no word of the
 * files; what does not work is stamped. */
static void roofs_of_the_folder_are_drawn_right(void **state) {
    (void)state;
    each_roof_of_the_folder(hold_all);
}

/* Markup in a name is a name; bytes that are no text become a question mark. */
static void names_are_harmless(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    strcpy(made.roof.name, "<b onload=\"x\">&'");
    strcpy(made.vents[0].name, "]]> \xff\xc3(\x01");
    struct drawing *drawing = draw(&made.answer, PAPER_LETTER);
    char *svg = answered_bytes(write_inline, drawing, NULL);
    assert_says(svg, "&lt;b onload=&quot;x&quot;&gt;&amp;&#39;");
    assert_says(svg, "]]&gt; ?"
                     "?(?");
    assert_silent_on(svg, "<b ");
    free(svg);
    char *dxf = answered_bytes(write_dxf, drawing, NULL);
    for (const char *at = dxf; *at != '\0'; at++) {
        assert_true(*at == '\n' || (*at >= ' ' && *at <= '~'));
    }
    free(dxf);
    drawing_free(drawing);
}

static void readings_stand_on_the_drawing_that_works(void **state) {
    (void)state;
    static struct sheet_answer made;
    answer_make(&made, 1);
    struct drawing *drawing = draw(&made.answer, PAPER_LETTER);
    char *svg = answered_bytes(write_inline, drawing, NULL);
    assert_says(svg, ">5&#39; 4&quot; (64)</text>");
    assert_says(svg, ">LINE 2: 9&#39; 2-3/4&quot; (110-3/4)</text>");
    free(svg);
    drawing_free(drawing);
    answer_break(&made);
    drawing = draw(&made.answer, PAPER_LETTER);
    svg = answered_bytes(write_inline, drawing, NULL);
    assert_silent_on(svg, "(64)</text>");
    assert_says(svg, "CLOSEST FIT (does NOT work): DO NOT DRILL");
    free(svg);
    drawing_free(drawing);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(overlapping_texts_are_found),
        cmocka_unit_test(roofs_of_the_folder_are_drawn_right),
        cmocka_unit_test(no_two_labels_overlap_on_random_roofs),
        cmocka_unit_test(names_stay_with_their_frames_on_a_crowded_roof),
        cmocka_unit_test(long_name_is_led_to_its_frame),
        cmocka_unit_test(same_bytes_twice_in_one_process),
        cmocka_unit_test(holes_are_numbered_in_chalking_order),
        cmocka_unit_test(names_are_harmless),
        cmocka_unit_test(readings_stand_on_the_drawing_that_works),
    };
    return cmocka_run_group_tests(tests, random_folder_make, random_folder_remove);
}
