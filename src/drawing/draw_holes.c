/* Chalk lines, holes, and their readings from the zero. */
#include "draw.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

#define READING_SIZE 9.5 /* points */
#define HEIGHTS_OFF 14.0 /* points from the face to the dimension line up the roof */
#define TICK 3.0         /* points: half a stroke across a dimension line */
#define NAME_SIZE 12.0   /* points: a frame's name where there is room */
#define NAME_LEAST 8.0   /* and where there is least */
#define DOT_RADIUS 1.8   /* points */

static bool shows_readings(const struct canvas *canvas) {
    return canvas->answer->status == STATUS_OK;
}

/* An oblique stroke where a dimension ends. */
static void draw_tick(struct canvas *canvas, struct point at) {
    static const struct style style = {INK_BLACK, INK_NONE, 1.1, DASH_NONE};
    picture_line(canvas->picture, LAYER_DIMENSIONS, &style,
                 (struct point){at.x - TICK, at.y + TICK},
                 (struct point){at.x + TICK, at.y - TICK});
}

/* The line as it is snapped, from edge to edge. */
static void draw_chalk(struct canvas *canvas, const struct line *line) {
    const double y = line->seat->y;
    picture_line(canvas->picture, LAYER_CHALK, &draw_chalk_style,
                 draw_place(canvas, roof_rake_x(canvas->roof, SIDE_NEAR, y), y),
                 draw_place(canvas, roof_rake_x(canvas->roof, SIDE_FAR, y), y));
}

/* Along the line from the zero edge, just below the flashings: every reading from that one zero. */
static void draw_along(struct canvas *canvas, const struct line *line) {
    const struct answer *answer = canvas->answer;
    const double y = line->seat->y;
    const double below = roof_kit(canvas->roof, line->bracket)->flashing.hole_up;
    const double start = roof_rake_x(canvas->roof, answer->from, y);
    const size_t last = places_mark_along(answer, line, line->seat->count - 1);
    const double end = answer->marks->list[last].x;
    const double low = draw_place(canvas, 0, y - below).y + 5;
    const struct point from = {draw_place(canvas, start, y).x, low};
    const struct point to = {draw_place(canvas, end, y).x, low};
    picture_line(canvas->picture, LAYER_DIMENSIONS, &draw_thin_style, from, to);
    draw_tick(canvas, from);
    for (size_t i = 0; i < line->seat->count; i++) {
        const struct mark *mark = &answer->marks->list[places_mark_along(answer, line, i)];
        const struct point at = draw_place(canvas, mark->x, mark->y);
        picture_line(canvas->picture, LAYER_DIMENSIONS, &draw_thin_style, at,
                     (struct point){at.x, low + TICK});
        draw_tick(canvas, (struct point){at.x, low});
    }
}

/* ---- Up the roof ---------------------------------------------------------------------------- */

/* Where the heights are drawn: outside the face, on the side of the zero. */
static double heights_x(const struct canvas *canvas) {
    const bool left = (canvas->roof->corner == CORNER_LEFT) == (canvas->answer->from == SIDE_NEAR);
    return left ? canvas->face.x0 - HEIGHTS_OFF : canvas->face.x1 + HEIGHTS_OFF;
}

enum { HEIGHT_TEXT = LENGTH_TEXT + 24 };

/* `LINE 2: 9' 2-3/4" (110-3/4)`. */
static void name_height(const struct canvas *canvas, const struct line *line, size_t number,
                        char named[HEIGHT_TEXT]) {
    char text[LENGTH_TEXT];
    snprintf(named, HEIGHT_TEXT, "LINE %zu: %s", number,
             places_height(canvas->answer, text, line->seat->y));
}

double draw_beside(const struct canvas *canvas) {
    const struct lettering how = {READING_SIZE, true};
    struct line lines[PLACES_LINES_MOST];
    double widest = 0;
    const bool shown = canvas->holes > 0 && shows_readings(canvas);
    const size_t count = shown ? places_lines(canvas->answer, lines) : 0;
    for (size_t i = 0; i < count; i++) {
        char named[HEIGHT_TEXT];
        name_height(canvas, &lines[i], i + 1, named);
        widest = fmax(widest, letters_width(canvas->picture->letters, &how, named));
    }
    return widest + HEIGHTS_OFF + 15;
}

static void draw_height(struct canvas *canvas, const struct line *line, size_t number) {
    const struct point at = {heights_x(canvas), draw_place(canvas, 0, line->seat->y).y};
    const double edge =
        draw_place(canvas, roof_rake_x(canvas->roof, canvas->answer->from, line->seat->y),
                   line->seat->y)
            .x;
    const bool left = at.x < edge;
    char named[HEIGHT_TEXT];
    picture_line(canvas->picture, LAYER_DIMENSIONS, &draw_thin_style, at,
                 (struct point){edge, at.y});
    draw_tick(canvas, at);
    name_height(canvas, line, number, named);
    const struct label label = {.at = at,
                                .clear = 5,
                                .right = left ? -2 : 2,
                                .size = READING_SIZE,
                                .bold = true,
                                .leader = true,
                                .text = named};
    draw_label(canvas, &label);
}

static void draw_heights(struct canvas *canvas, const struct line *lines, size_t count) {
    double highest = 0;
    for (size_t i = 0; i < count; i++) {
        highest = fmax(highest, lines[i].seat->y);
    }
    const double x = heights_x(canvas);
    const struct point from = {x, draw_place(canvas, 0, 0).y};
    const struct point to = {x, draw_place(canvas, 0, highest).y};
    picture_line(canvas->picture, LAYER_DIMENSIONS, &draw_thin_style, from, to);
    draw_tick(canvas, from);
    placer_avoid(&canvas->placer, (struct box){x - TICK, to.y, x + TICK, from.y});
    for (size_t i = 0; i < count; i++) {
        draw_height(canvas, &lines[i], i + 1);
    }
}

/* ---- Holes ---------------------------------------------------------------------------------- */

static void draw_hole(struct canvas *canvas, size_t mark) {
    const struct mark *hole = &canvas->answer->marks->list[mark];
    const struct point at = draw_place(canvas, hole->x, hole->y);
    canvas->picture->hole = mark;
    if (hole->row == ROW_PIPE) {
        draw_pipe(canvas->picture, LAYER_PIPES, at,
                  canvas->roof->pipes[hole->pipe].bore / 2 * canvas->picture->scale);
    } else {
        draw_lag(canvas->picture, LAYER_LAGS, at, shows_readings(canvas));
    }
    canvas->picture->hole = SIZE_MAX;
    placer_keep_off(&canvas->placer, (struct box){at.x - 6, at.y - 6, at.x + 6, at.y + 6});
}

static void label_hole(struct canvas *canvas, size_t number) {
    const struct answer *answer = canvas->answer;
    const size_t mark = canvas->order[number - 1];
    const struct mark *hole = &answer->marks->list[mark];
    const bool pipe = hole->row == ROW_PIPE;
    char text[2 * LENGTH_TEXT + 40] = "";
    if (shows_readings(canvas)) {
        const bool done = answer->done != NULL && answer->done[mark];
        char along[LENGTH_TEXT], up[LENGTH_TEXT];
        page_length(canvas->roof, along, places_reading(answer, hole->x, hole->y));
        snprintf(text, sizeof text, "%s%s%s%s%s", along, pipe ? " along, " : "",
                 pipe ? places_height(answer, up, hole->y) : "", pipe ? " up" : "",
                 done ? ", DRILLED" : "");
    }
    canvas->picture->hole = mark;
    const struct label label = {.at = draw_place(canvas, hole->x, hole->y),
                                .clear = 9,
                                .up = pipe                   ? 0
                                      : hole->row == ROW_TOP ? 2
                                                             : -2,
                                .size = READING_SIZE,
                                .bold = true,
                                .leader = true,
                                .number = number,
                                .square = pipe,
                                .text = text};
    draw_label(canvas, &label);
    canvas->picture->hole = SIZE_MAX;
}

/* A dot in the frame, clear of its holes: there a line from its name ends. */
static struct point draw_dot(struct canvas *canvas, size_t bracket, struct point near) {
    static const struct style style = {INK_NONE, INK_BLACK, 0, DASH_NONE};
    const struct wish wish = {.at = near,
                              .width = 2 * DOT_RADIUS,
                              .height = 2 * DOT_RADIUS,
                              .bounds = BOUNDS_OWN,
                              .own = bracket};
    const struct placed placed = placer_place(&canvas->placer, &wish);
    const struct point at =
        placed.found ? (struct point){placed.box.x0 + DOT_RADIUS, placed.box.y0 + DOT_RADIUS}
                     : near;
    picture_circle(canvas->picture, LAYER_READINGS, &style, at, DOT_RADIUS);
    return at;
}

/* In the frame, set smaller if need be, or else led out of every frame: in another's outline it
 * would name that one. */
static void label_frame(struct canvas *canvas, size_t bracket) {
    const struct standing *at = &canvas->answer->marks->brackets[bracket];
    const struct kit *kit = roof_kit(canvas->roof, bracket);
    char text[ROOF_NAME_MOST + 16];
    snprintf(text, sizeof text, "frame %s", canvas->roof->brackets[bracket].name);
    struct label label = {.at = draw_place(canvas, at->x + kit->width / 2, at->y + kit->height / 2),
                          .size = NAME_SIZE,
                          .bold = true,
                          .optional = true,
                          .bounds = BOUNDS_OWN,
                          .own = bracket,
                          .text = text};
    for (; label.size >= NAME_LEAST; label.size -= 1) {
        if (draw_label(canvas, &label)) {
            return;
        }
    }
    label.at = draw_dot(canvas, bracket, label.at);
    label.size = NAME_SIZE;
    label.optional = false;
    label.leader = true;
    label.bounds = BOUNDS_OUTSIDE;
    draw_label(canvas, &label);
}

static void label_vents(struct canvas *canvas) {
    for (size_t i = 0; i < canvas->roof->vent_count; i++) {
        const struct vent *vent = &canvas->roof->vents[i];
        const struct box box = draw_box(canvas, vent->flange);
        const struct label label = {.at = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2},
                                    .clear = (box.y1 - box.y0) / 2 + 2,
                                    .up = 1,
                                    .size = 8.5,
                                    .leader = true,
                                    .text = vent->name[0] != '\0' ? vent->name
                                                                  : roof_vent_word(vent->kind)};
        draw_label(canvas, &label);
    }
}

void draw_lines(struct canvas *canvas) {
    struct line lines[PLACES_LINES_MOST];
    if (canvas->holes == 0 || !shows_readings(canvas)) {
        return;
    }
    const size_t count = places_lines(canvas->answer, lines);
    for (size_t i = 0; i < count; i++) {
        draw_chalk(canvas, &lines[i]);
        draw_along(canvas, &lines[i]);
    }
    draw_heights(canvas, lines, count);
}

void draw_holes(struct canvas *canvas) {
    for (size_t i = 0; i < canvas->holes; i++) {
        draw_hole(canvas, canvas->order[i]);
    }
    /* Names before readings: a reading is led to its hole from anywhere, a name has its frame. */
    for (size_t i = 0; i < canvas->roof->bracket_count && canvas->holes > 0; i++) {
        label_frame(canvas, i);
    }
    for (size_t i = 0; i < canvas->holes; i++) {
        label_hole(canvas, i + 1);
    }
    label_vents(canvas);
}
