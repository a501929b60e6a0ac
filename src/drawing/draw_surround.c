/* Around the roof: title, legend, scale bar, north, and the stamp on what does not work. */
#include "../sheet/words.h"
#include "draw.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define MARGIN 24.0     /* points */
#define LEGEND_ROW 15.0 /* points */
enum { LEGEND_COLUMNS = 4 };

/* Writes a text no wider than `width`: set smaller, and cut in the end, where it would be. */
static void write_fitted(struct canvas *canvas, const struct written *written, struct point at,
                         double width, const char *text) {
    struct written fitted = *written;
    char cut[256];
    snprintf(cut, sizeof cut, "%s", text);
    const struct letters *letters = canvas->picture->letters;
    while (letters_width(letters, &fitted.how, cut) > width && fitted.how.size > 7) {
        fitted.how.size -= 0.5;
    }
    for (size_t length = strlen(cut);
         length > 4 && letters_width(letters, &fitted.how, cut) > width; length--) {
        snprintf(cut + length - 4, sizeof cut - length + 4, "...");
    }
    draw_text(canvas, LAYER_NOTES, &fitted, at, cut);
}

/* ---- Title ---------------------------------------------------------------------------------- */

/* What the answer comes to, in a few words. */
static const char *result_words(const struct answer *answer) {
    if (answer->status == STATUS_OK) {
        return answer->tight ? "WORKS, but TIGHT" : "WORKS: every rule holds at these readings";
    }
    if (answer->status == STATUS_UNDECIDED) {
        return "NOT DECIDED: the roof alone. DO NOT DRILL";
    }
    if (answer->marks == NULL || answer->verdict == NULL) {
        return "NO LAYOUT: the roof alone. DO NOT DRILL";
    }
    return "CLOSEST FIT (does NOT work): DO NOT DRILL";
}

static void write_readings_note(struct canvas *canvas, double width) {
    const struct answer *answer = canvas->answer;
    char text[200];
    if (answer->status != STATUS_OK) {
        return;
    }
    int used = snprintf(text, sizeof text, "Every reading along a line is from the %s %s",
                        places_rake(answer), places_edge(canvas->roof));
    if (answer->burn > 0) {
        char burn[LENGTH_TEXT];
        used += snprintf(text + used, sizeof text - (size_t)used,
                         ". BURN %s: hold that line of the tape on the edge",
                         page_length(canvas->roof, burn, answer->burn));
    }
    snprintf(text + used, sizeof text - (size_t)used, "%s%s.",
             canvas->roof->square_checked || canvas->roof->outlined ? "" : ". SQUARE NOT CHECKED",
             canvas->roof->courses_checked ? "" : ". COURSES NOT CHECKED");
    const struct written written = {.how = {9, false}, .ink = INK_BLACK};
    write_fitted(canvas, &written, (struct point){MARGIN, MARGIN + 38}, width, text);
}

static void write_title(struct canvas *canvas) {
    const double width = canvas->picture->width - 2 * MARGIN - 150;
    const struct written name = {.how = {14, true}, .ink = INK_BLACK};
    const struct written result = {.how = {10, true}, .ink = INK_BLACK};
    char text[120];
    write_fitted(canvas, &name, (struct point){MARGIN, MARGIN + 11}, width, canvas->roof->name);
    snprintf(text, sizeof text, "%s.  Fingerprint %s", result_words(canvas->answer),
             canvas->answer->fingerprint);
    write_fitted(canvas, &result, (struct point){MARGIN, MARGIN + 25}, width, text);
    write_readings_note(canvas, width);
}

/* An empty circle: whoever stands there knows where north is. */
static void draw_north(struct canvas *canvas) {
    static const struct style ring = {INK_BLACK, INK_NONE, 1, DASH_NONE};
    const struct point middle = {canvas->picture->width - MARGIN - 17, MARGIN + 17};
    picture_circle(canvas->picture, LAYER_NOTES, &ring, middle, 16);
    picture_circle(canvas->picture, LAYER_NOTES, &ring, middle, 1);
    const struct written written = {.how = {8, false}, .anchor = ANCHOR_END, .ink = INK_BLACK};
    draw_text(canvas, LAYER_NOTES, &written, (struct point){middle.x - 20, middle.y - 4},
              "North: draw the");
    draw_text(canvas, LAYER_NOTES, &written, (struct point){middle.x - 20, middle.y + 7},
              "arrow yourself");
}

/* ---- Scale bar ------------------------------------------------------------------------------ */

/* The longest of the usual lengths that stays below `most` points: whole feet or metres. */
static double bar_length(double scale, double unit, double most) {
    static const double steps[] = {100, 50, 20, 10, 5, 2, 1};
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        if (steps[i] * unit * scale <= most) {
            return steps[i];
        }
    }
    return steps[sizeof steps / sizeof steps[0] - 1];
}

static void draw_scale(struct canvas *canvas) {
    const bool metric = page_measure(canvas->roof) == MEASURE_MM;
    const double unit = metric ? 1000 / LENGTH_MM_PER_INCH : 12;
    const double scale = canvas->picture->scale;
    const double length = bar_length(scale, unit, 150);
    const double step = length * unit * scale / 2;
    const double x = MARGIN, y = canvas->picture->height - MARGIN - 6;
    const struct style filled = {INK_BLACK, INK_BLACK, 0.8, DASH_NONE};
    const struct style empty = {INK_BLACK, INK_WHITE, 0.8, DASH_NONE};
    picture_box(canvas->picture, LAYER_NOTES, &filled, (struct box){x, y, x + step, y + 6});
    picture_box(canvas->picture, LAYER_NOTES, &empty,
                (struct box){x + step, y, x + 2 * step, y + 6});
    char text[80];
    snprintf(text, sizeof text, "0 to %.0f %s;  1 : %.0f when printed at full size", length,
             metric ? "m" : "ft", 72 / scale);
    const struct written written = {.how = {8, false}, .ink = INK_BLACK};
    draw_text(canvas, LAYER_NOTES, &written, (struct point){x + 2 * step + 8, y + 6}, text);
    if (canvas->unplaced > 0) {
        snprintf(text, sizeof text, "No room here for %zu label%s: see the sheet.",
                 canvas->unplaced, canvas->unplaced == 1 ? "" : "s");
        const struct written note = {.how = {8, true}, .anchor = ANCHOR_END, .ink = INK_BLACK};
        draw_text(canvas, LAYER_NOTES, &note,
                  (struct point){canvas->picture->width - MARGIN, y + 6}, text);
    }
}

/* ---- Legend --------------------------------------------------------------------------------- */

enum sign {
    SIGN_LAG,
    SIGN_PIPE,
    SIGN_FLASHING,
    SIGN_STRUT,
    SIGN_FOOT,
    SIGN_FRAME,
    SIGN_CHALK,
    SIGN_ZERO,
    SIGN_RAFTER,
    SIGN_UNSOUND,
    SIGN_KEEPOUT,
    SIGN_WALL,
    SIGN_VENT,
    SIGN_COURSE,
    SIGN_SETBACK,
    SIGN_COUNT
};

static const char *sign_words(const struct canvas *canvas, enum sign sign) {
    static const char *const words[SIGN_COUNT] = {
        [SIGN_LAG] = "lag hole, numbered in chalking order",
        [SIGN_PIPE] = "pipe hole: between rafters",
        [SIGN_FLASHING] = "flashing, true size",
        [SIGN_STRUT] = "strut, with its clamps",
        [SIGN_FOOT] = "foot, from lag to leg",
        [SIGN_FRAME] = "frame and its legs",
        [SIGN_CHALK] = "chalk line",
        [SIGN_ZERO] = "zero corner",
        [SIGN_RAFTER] = "rafter, each ply",
        [SIGN_UNSOUND] = "not sound: no lag (X)",
        [SIGN_KEEPOUT] = "no lag here",
        [SIGN_WALL] = "wall below",
        [SIGN_VENT] = "vent",
        [SIGN_COURSE] = "butt edge of the shingles",
        [SIGN_SETBACK] = "frames stay inside",
    };
    if (sign == SIGN_LAG && canvas->answer->status != STATUS_OK) {
        return "would-be hole: DO NOT DRILL";
    }
    return words[sign];
}

static enum layer sign_layer(enum sign sign) {
    static const enum layer layers[SIGN_COUNT] = {
        [SIGN_LAG] = LAYER_LAGS,           [SIGN_PIPE] = LAYER_PIPES,
        [SIGN_FLASHING] = LAYER_FLASHINGS, [SIGN_STRUT] = LAYER_STRUTS,
        [SIGN_FOOT] = LAYER_FEET,          [SIGN_FRAME] = LAYER_FRAMES,
        [SIGN_CHALK] = LAYER_CHALK,        [SIGN_ZERO] = LAYER_ZERO,
        [SIGN_RAFTER] = LAYER_RAFTERS,     [SIGN_UNSOUND] = LAYER_UNSOUND,
        [SIGN_KEEPOUT] = LAYER_KEEPOUTS,   [SIGN_WALL] = LAYER_WALL,
        [SIGN_VENT] = LAYER_VENTS,         [SIGN_COURSE] = LAYER_COURSES,
        [SIGN_SETBACK] = LAYER_SETBACK,
    };
    return layers[sign];
}

static bool is_drawn(const struct picture *picture, enum layer layer) {
    for (size_t i = 0; i < picture->count; i++) {
        if (picture->shapes[i].layer == layer) {
            return true;
        }
    }
    return false;
}

static void draw_stroke(struct picture *picture, const struct style *style, struct point at) {
    picture_line(picture, LAYER_LEGEND, style, (struct point){at.x - 11, at.y},
                 (struct point){at.x + 11, at.y});
}

static void draw_upright(struct picture *picture, const struct style *style, struct point at,
                         bool hatched) {
    const struct box box = {at.x - 11, at.y - 2, at.x + 11, at.y + 2};
    picture_box(picture, LAYER_LEGEND, style, box);
    for (int i = -2; hatched && i <= 2; i++) {
        const struct style stroke = {INK_BLACK, INK_NONE, 0.7, DASH_NONE};
        picture_line(picture, LAYER_LEGEND, &stroke, (struct point){at.x + 4.4 * i - 2, at.y + 3.5},
                     (struct point){at.x + 4.4 * i + 2, at.y - 3.5});
    }
}

static void draw_foot_sign(struct picture *picture, struct point at) {
    const struct point lag = {at.x - 8, at.y}, leg = {at.x + 8, at.y};
    picture_line(picture, LAYER_LEGEND, &draw_foot_style, lag, leg);
    picture_line(picture, LAYER_LEGEND, &draw_foot_style, (struct point){leg.x, leg.y - 4},
                 (struct point){leg.x, leg.y + 4});
}

static void draw_sign(struct canvas *canvas, enum sign sign, struct point at) {
    struct picture *picture = canvas->picture;
    static const struct style wall = {INK_BLACK, INK_NONE, 1, DASH_DOT};
    static const struct style kept = {INK_BLACK, INK_WHITE, 1, DASH_NONE};
    const struct box box = {at.x - 9, at.y - 5.5, at.x + 9, at.y + 5.5};
    switch (sign) {
    case SIGN_LAG:
        draw_lag(picture, LAYER_LEGEND, at, canvas->answer->status == STATUS_OK);
        break;
    case SIGN_PIPE:
        draw_pipe(picture, LAYER_LEGEND, at, 0);
        break;
    case SIGN_FLASHING:
        picture_box(picture, LAYER_LEGEND, &draw_flashing_style, box);
        break;
    case SIGN_STRUT:
        picture_box(picture, LAYER_LEGEND, &draw_strut_style,
                    (struct box){box.x0, at.y - 2, box.x1, at.y + 2});
        draw_clamp(picture, LAYER_LEGEND, at);
        break;
    case SIGN_FOOT:
        draw_foot_sign(picture, at);
        break;
    case SIGN_FRAME:
        picture_box(picture, LAYER_LEGEND, &draw_frame_style, box);
        break;
    case SIGN_ZERO:
        draw_zero(picture, LAYER_LEGEND, at);
        break;
    case SIGN_VENT:
        draw_vent(picture, LAYER_LEGEND, VENT_PLUMBING,
                  (struct box){at.x - 6, at.y - 6, at.x + 6, at.y + 6});
        break;
    case SIGN_RAFTER:
    case SIGN_UNSOUND:
        draw_upright(picture, &draw_rafter_style, at, sign == SIGN_UNSOUND);
        break;
    case SIGN_KEEPOUT:
        draw_upright(picture, &kept, at, true);
        break;
    case SIGN_WALL:
        draw_stroke(picture, &wall, at);
        break;
    case SIGN_CHALK:
        draw_stroke(picture, &draw_chalk_style, at);
        break;
    case SIGN_COURSE:
        draw_stroke(picture, &draw_course_style, at);
        break;
    default:
        draw_stroke(picture, &draw_setback_style, at);
        break;
    }
}

static void draw_legend(struct canvas *canvas) {
    const double width = (canvas->picture->width - 2 * MARGIN) / LEGEND_COLUMNS;
    const double top = canvas->field.y1 + 11;
    const struct written written = {.how = {8, false}, .ink = INK_BLACK};
    size_t shown = 0;
    for (int sign = 0; sign < SIGN_COUNT; sign++) {
        if (!is_drawn(canvas->picture, sign_layer((enum sign)sign))) {
            continue;
        }
        const size_t column = shown % LEGEND_COLUMNS, row = shown / LEGEND_COLUMNS;
        const double x = MARGIN + width * (double)column, y = top + LEGEND_ROW * (double)row;
        shown++;
        draw_sign(canvas, (enum sign)sign, (struct point){x + 12, y});
        draw_text(canvas, LAYER_LEGEND, &written, (struct point){x + 28, y + 3},
                  sign_words(canvas, (enum sign)sign));
    }
}

/* ---- Zero and stamp ------------------------------------------------------------------------- */

static void draw_corner(struct canvas *canvas) {
    const struct roof *roof = canvas->roof;
    const struct point at = draw_place(canvas, 0, 0);
    const double out = roof->corner == CORNER_LEFT ? -1 : 1;
    draw_zero(canvas->picture, LAYER_ZERO, at);
    struct label label = {.at = at,
                          .clear = 9,
                          .up = -1,
                          .right = 1.5 * out,
                          .size = 9,
                          .bold = true,
                          .leader = true,
                          .text = "ZERO CORNER"};
    draw_label(canvas, &label);
    if (canvas->answer->from == SIDE_FAR && canvas->answer->status == STATUS_OK) {
        label.at = draw_place(canvas, roof_rake_x(roof, SIDE_FAR, 0), 0);
        label.right = -1.5 * out;
        label.text = "0: readings start here";
        draw_label(canvas, &label);
    }
}

/* Plain at any distance: a black bar over the roof, and the face crossed out. */
static void draw_stamp(struct canvas *canvas) {
    static const struct style bar = {INK_NONE, INK_BLACK, 0, DASH_NONE};
    static const struct style cross = {INK_MID, INK_NONE, 2.5, DASH_LONG};
    const struct box face = canvas->face;
    if (canvas->answer->status == STATUS_OK) {
        return;
    }
    picture_line(canvas->picture, LAYER_NOTES, &cross, (struct point){face.x0, face.y0},
                 (struct point){face.x1, face.y1});
    picture_line(canvas->picture, LAYER_NOTES, &cross, (struct point){face.x0, face.y1},
                 (struct point){face.x1, face.y0});
    const struct box box = {MARGIN, canvas->field.y0 - 24, canvas->picture->width - MARGIN,
                            canvas->field.y0 - 2};
    picture_box(canvas->picture, LAYER_NOTES, &bar, box);
    const struct written written = {.how = {15, true}, .anchor = ANCHOR_MIDDLE, .ink = INK_WHITE};
    const char *text = result_words(canvas->answer);
    draw_text(canvas, LAYER_NOTES, &written, (struct point){(box.x0 + box.x1) / 2, box.y0 + 16.5},
              text);
}

void draw_surround(struct canvas *canvas) {
    draw_corner(canvas);
    draw_stamp(canvas);
    write_title(canvas);
    draw_north(canvas);
    draw_legend(canvas);
    draw_scale(canvas);
}
