#include "drawing.h"

#include "draw.h"
#include "holder.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#define MARGIN 24.0 /* points */
#define TITLE 72.0  /* points kept for the title and a stamp below it */
#define LEGEND 82.0 /* points kept for legend and scale bar */
#define BEYOND 62.0 /* points beside the face at least: the name of its edge */
#define ABOVE 26.0  /* points above and below the face: names of edges, rafters' numbers */
#define BELOW 46.0

const char *drawing_paper_word(enum paper paper) {
    static const char *const words[PAPER_COUNT] = {[PAPER_LETTER] = "letter", [PAPER_A4] = "a4"};
    assert(paper >= 0 && paper < PAPER_COUNT);
    return words[paper];
}

enum paper drawing_usual_paper(const struct roof *roof) {
    return roof->measure == MEASURE_MM ? PAPER_A4 : PAPER_LETTER;
}

struct page_size drawing_page(enum paper paper) {
    static const struct page_size sizes[PAPER_COUNT] = {
        [PAPER_LETTER] = {612, 792},
        [PAPER_A4] = {210 / LENGTH_MM_PER_INCH * 72, 297 / LENGTH_MM_PER_INCH * 72},
    };
    return sizes[paper];
}

/* ---- Where the roof goes -------------------------------------------------------------------- */

static void take_in(struct box *bounds, double x, double y) {
    bounds->x0 = fmin(bounds->x0, x);
    bounds->y0 = fmin(bounds->y0, y);
    bounds->x1 = fmax(bounds->x1, x);
    bounds->y1 = fmax(bounds->y1, y);
}

/* Of the face, and of frames that stand over its edge; in inches, as seen: x to the right. */
static struct box bounds_of(const struct answer *answer) {
    const struct roof *roof = answer->roof;
    const double way = draw_way(roof);
    struct box bounds = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (size_t i = 0; i < roof->corner_count; i++) {
        take_in(&bounds, way * roof->corners[i].x, roof->corners[i].y);
    }
    for (size_t i = 0; answer->marks != NULL && i < roof->bracket_count; i++) {
        const struct standing *at = &answer->marks->brackets[i];
        const struct kit *kit = roof_kit(roof, i);
        take_in(&bounds, way * at->x, at->y);
        take_in(&bounds, way * (at->x + kit->width), at->y + kit->height);
    }
    return bounds;
}

/* The largest scale of 1 to a whole number at which the roof fits, and where it lies then. */
static void lay_out(struct canvas *canvas) {
    struct picture *picture = canvas->picture;
    const struct box bounds = bounds_of(canvas->answer);
    const bool left = (canvas->roof->corner == CORNER_LEFT) == (canvas->answer->from == SIDE_NEAR);
    const double beside = fmax(draw_beside(canvas), BEYOND);
    const double before = left ? beside : BEYOND;
    canvas->field = (struct box){MARGIN, MARGIN + TITLE, picture->width - MARGIN,
                                 picture->height - MARGIN - LEGEND};
    const double wide = canvas->field.x1 - canvas->field.x0 - beside - BEYOND;
    const double tall = canvas->field.y1 - canvas->field.y0 - ABOVE - BELOW;
    const double fits = fmin(wide / (bounds.x1 - bounds.x0), tall / (bounds.y1 - bounds.y0));
    picture->scale = 72 / ceil(72 / fits);
    picture->mirrored = canvas->roof->corner == CORNER_RIGHT;
    const double scale = picture->scale;
    const double spare_x = wide - (bounds.x1 - bounds.x0) * scale;
    const double spare_y = tall - (bounds.y1 - bounds.y0) * scale;
    const double x0 = canvas->field.x0 + before + spare_x / 2;
    const double y1 = canvas->field.y1 - BELOW - spare_y / 2;
    picture->zero = (struct point){x0 - bounds.x0 * scale, y1 + bounds.y0 * scale};
    canvas->face = (struct box){x0, y1 - (bounds.y1 - bounds.y0) * scale,
                                x0 + (bounds.x1 - bounds.x0) * scale, y1};
    canvas->placer.page = canvas->field;
    /* The zero's sign is drawn last, and would hide what stands there. */
    const struct point zero = picture->zero;
    placer_keep_off(&canvas->placer, (struct box){zero.x - 6, zero.y - 6, zero.x + 6, zero.y + 6});
}

/* ---- Drawing -------------------------------------------------------------------------------- */

static void draw_all(struct canvas *canvas) {
    lay_out(canvas);
    draw_roof(canvas);
    draw_frames(canvas);
    draw_lines(canvas);
    draw_holes(canvas);
    draw_edge_names(canvas);
    draw_surround(canvas);
}

/* The holes by the numbers that they have on the drawing. */
static enum outcome put_names(const struct answer *answer, struct drawing *drawing) {
    const size_t count = drawing->hole_count;
    if (count == 0 || answer->marks == NULL) {
        return OUTCOME_DONE;
    }
    drawing->holes = calloc(count, sizeof *drawing->holes);
    size_t *order = calloc(count, sizeof *order);
    if (drawing->holes == NULL || order == NULL) {
        free(order);
        return OUTCOME_FAULT;
    }
    places_order(answer, order);
    for (size_t i = 0; i < count; i++) {
        struct drawn_hole *hole = &drawing->holes[order[i]];
        const struct mark *mark = &answer->marks->list[order[i]];
        hole->number = i + 1;
        hole->pipe = mark->row == ROW_PIPE;
        hole->x = mark->x;
        hole->y = mark->y;
        places_hole_name(answer->roof, answer->marks, order[i], hole->name);
    }
    free(order);
    return OUTCOME_DONE;
}

static enum outcome draw(const struct answer *answer, struct drawing *drawing) {
    const size_t count = drawing->hole_count;
    size_t *order = calloc(count + 1, sizeof *order);
    if (order == NULL) {
        return OUTCOME_FAULT;
    }
    places_order(answer, order);
    struct canvas canvas = {.answer = answer,
                            .roof = answer->roof,
                            .picture = drawing->picture,
                            .order = order,
                            .holes = count};
    draw_all(&canvas);
    const bool failed =
        canvas.placer.failed || drawing->picture->failed || !letters_measured(drawing->letters);
    drawing->unplaced = canvas.unplaced;
    placer_free(&canvas.placer);
    free(order);
    return failed ? OUTCOME_FAULT : OUTCOME_DONE;
}

enum outcome drawing_make(const struct answer *answer, enum paper paper, struct drawing **drawing,
                          struct problems *problems) {
    const struct page_size page = drawing_page(paper);
    struct drawing *made = calloc(1, sizeof *made);
    if (made == NULL) {
        return OUTCOME_FAULT;
    }
    const bool has_marks = answer->marks != NULL && answer->verdict != NULL;
    made->measure = answer->roof->measure;
    made->works = answer->status == STATUS_OK;
    made->hole_count = has_marks ? answer->marks->count : 0;
    letters_clean(answer->roof->name, made->roof, sizeof made->roof);
    enum outcome outcome = letters_open(&made->letters, problems);
    if (outcome == OUTCOME_DONE) {
        made->picture = picture_new(made->letters, page.height, page.width);
        outcome = made->picture == NULL ? OUTCOME_FAULT : put_names(answer, made);
    }
    if (outcome == OUTCOME_DONE) {
        outcome = draw(answer, made);
    }
    if (outcome != OUTCOME_DONE) {
        drawing_free(made);
        return outcome;
    }
    *drawing = made;
    return OUTCOME_DONE;
}

void drawing_free(struct drawing *drawing) {
    if (drawing != NULL) {
        picture_free(drawing->picture);
        letters_free(drawing->letters);
        free(drawing->holes);
        free(drawing);
    }
}
