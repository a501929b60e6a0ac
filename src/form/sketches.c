#include "sketches.h"

#include <math.h>

#define LETTERS 7.0 /* points */

/* Where a sketch is drawn: x to the right and y down from its corner, points. */
struct pad {
    struct picture *picture;
    struct point corner;
};

static const struct style thin = {INK_MID, INK_NONE, 0.6, DASH_NONE};
static const struct style thick = {INK_BLACK, INK_NONE, 1.3, DASH_NONE};
static const struct style dashed = {INK_BLUE, INK_NONE, 0.9, DASH_SHORT};
static const struct style pale = {INK_MID, INK_PALE, 0.6, DASH_NONE};
static const struct style white = {INK_BLACK, INK_WHITE, 1, DASH_NONE};
static const struct style blue = {INK_BLUE, INK_NONE, 0.8, DASH_NONE};

static struct point at(const struct pad *pad, double x, double y) {
    return (struct point){pad->corner.x + x, pad->corner.y + y};
}

static void line(const struct pad *pad, const struct style *style, double x0, double y0, double x1,
                 double y1) {
    picture_line(pad->picture, LAYER_NOTES, style, at(pad, x0, y0), at(pad, x1, y1));
}

static void box(const struct pad *pad, const struct style *style, double x0, double y0, double x1,
                double y1) {
    const struct point low = at(pad, x0, y0), high = at(pad, x1, y1);
    picture_box(pad->picture, LAYER_NOTES, style, (struct box){low.x, low.y, high.x, high.y});
}

/* A label on white ground, so that no line runs through it. */
static void say_at(const struct pad *pad, enum anchor anchor, double x, double y,
                   const char *text) {
    const struct written written = {{LETTERS, false}, anchor, INK_BLACK, false};
    const struct point where = at(pad, x, y);
    const double wide = letters_width(pad->picture->letters, &written.how, text);
    const double left = where.x - (anchor == ANCHOR_MIDDLE ? wide / 2 : 0);
    const struct style ground = {INK_NONE, INK_WHITE, 0, DASH_NONE};
    picture_box(pad->picture, LAYER_NOTES, &ground,
                (struct box){left - 0.8, where.y - LETTERS * 0.78, left + wide + 0.8,
                             where.y + LETTERS * 0.22});
    picture_text(pad->picture, LAYER_NOTES, &written, where, text);
}

static void say(const struct pad *pad, double x, double y, const char *text) {
    say_at(pad, ANCHOR_START, x, y, text);
}

static void say_mid(const struct pad *pad, double x, double y, const char *text) {
    say_at(pad, ANCHOR_MIDDLE, x, y, text);
}

/* A measure: a line with a head at its end, or at both. */
static void head(const struct pad *pad, double x0, double y0, double x1, double y1) {
    const double length = hypot(x1 - x0, y1 - y0);
    const double along = (x1 - x0) / length * 5, up = (y1 - y0) / length * 5;
    line(pad, &blue, x1, y1, x1 - along - up * 0.45, y1 - up + along * 0.45);
    line(pad, &blue, x1, y1, x1 - along + up * 0.45, y1 - up - along * 0.45);
}

static void arrow(const struct pad *pad, double x0, double y0, double x1, double y1) {
    line(pad, &blue, x0, y0, x1, y1);
    head(pad, x0, y0, x1, y1);
}

static void measure(const struct pad *pad, double x0, double y0, double x1, double y1) {
    arrow(pad, x0, y0, x1, y1);
    head(pad, x1, y1, x0, y0);
}

static void zero(const struct pad *pad, double x, double y) {
    const struct style ring = {INK_BLUE, INK_WHITE, 1.2, DASH_NONE};
    const struct written written = {{8, true}, ANCHOR_MIDDLE, INK_BLUE, false};
    picture_circle(pad->picture, LAYER_NOTES, &ring, at(pad, x, y), 6);
    picture_text(pad->picture, LAYER_NOTES, &written, at(pad, x, y + 3), "0");
}

/* The face of a roof: ridge up. */
static void face(const struct pad *pad) {
    box(pad, &thick, 25, 14, 150, 80);
}

static void draw_zero(const struct pad *pad) {
    face(pad);
    say_mid(pad, 87, 10, "ridge, as you face it");
    arrow(pad, 25, 80, 75, 80);
    arrow(pad, 25, 80, 25, 40);
    say(pad, 40, 75, "along the eave");
    say(pad, 30, 45, "up the roof");
    zero(pad, 25, 80);
    say(pad, 12, 98, "zero corner, here on the LEFT: which edges?");
}

static void draw_access(const struct pad *pad) {
    line(pad, &thick, 60, 45, 95, 25);
    line(pad, &thick, 95, 25, 130, 45);
    line(pad, &thin, 68, 41, 68, 88);
    line(pad, &thin, 122, 41, 122, 88);
    line(pad, &thick, 8, 88, 162, 88);
    line(pad, &thick, 50, 88, 62, 34);
    line(pad, &thick, 55, 88, 67, 34);
    for (int i = 1; i <= 5; i++) {
        line(pad, &thin, 62 - i * 2, 34 + i * 9, 67 - i * 2, 34 + i * 9);
    }
    line(pad, &thick, 4, 12, 166, 6);
    say(pad, 5, 21, "power line");
    measure(pad, 95, 9, 95, 24);
    say(pad, 99, 19, "how close?");
    say(pad, 12, 70, "ladder");
    say(pad, 132, 27, "anchor in");
    say(pad, 132, 35, "a rafter");
    measure(pad, 140, 50, 140, 87);
    say(pad, 144, 74, "eave");
    say(pad, 60, 98, "firm ground?");
}

static void draw_face(const struct pad *pad) {
    face(pad);
    line(pad, &dashed, 25, 36, 79, 80);
    measure(pad, 16, 36, 16, 78);
    say_mid(pad, 16, 60, "6'");
    measure(pad, 27, 86, 79, 86);
    say_mid(pad, 53, 88.5, "8'");
    say(pad, 55, 54, "10': corner check (3-4-5)");
    measure(pad, 158, 15, 158, 79);
    say(pad, 104, 25, "up the roof");
    measure(pad, 26, 96, 149, 96);
    say_mid(pad, 87, 98.5, "along the eave");
    say_mid(pad, 87, 10, "along the ridge");
    zero(pad, 25, 80);
}

static void draw_framing(const struct pad *pad) {
    line(pad, &thick, 10, 84, 100, 20);
    line(pad, &thick, 16, 90, 100, 30);
    line(pad, &thick, 100, 20, 160, 63);
    line(pad, &thin, 100, 30, 160, 73);
    box(pad, &pale, 38, 76, 48, 100);
    line(pad, &dashed, 38, 60, 38, 100);
    measure(pad, 8, 77, 36, 57);
    say(pad, 0, 46, "wall line,");
    say(pad, 0, 54, "up the roof");
    measure(pad, 48, 88, 100, 88);
    say(pad, 56, 99, "span, level");
    line(pad, &thin, 100, 32, 100, 92);
    say(pad, 106, 96, "rafters or trusses?");
    say(pad, 72, 12, "ridge: size, wood, stamp");
}

static void draw_rafters(const struct pad *pad) {
    box(pad, &thick, 15, 8, 155, 66);
    for (int i = 0; i < 5; i++) {
        box(pad, &pale, 32 + i * 25, 8, 36 + i * 25, 66);
    }
    line(pad, &dashed, 15, 22, 155, 22);
    line(pad, &dashed, 15, 52, 155, 52);
    say(pad, 38, 19, "upper line");
    say(pad, 38, 49, "lower line");
    arrow(pad, 15, 76, 84, 76);
    arrow(pad, 155, 76, 84, 76);
    line(pad, &blue, 84, 46, 84, 80);
    say_mid(pad, 48, 87, "from the LEFT");
    say_mid(pad, 120, 87, "from the RIGHT");
    say_mid(pad, 85, 98, "together: rake to rake, to 1/4 in (6 mm)");
}

static void draw_deck(const struct pad *pad) {
    box(pad, &pale, 10, 46, 160, 54);
    box(pad, &white, 50, 54, 62, 88);
    box(pad, &white, 120, 54, 132, 88);
    for (int i = 0; i < 3; i++) {
        line(pad, &thick, 12 + i * 48, 44, 60 + i * 50, 36);
        line(pad, &thick, 60 + i * 50, 36, 60 + i * 50, 40);
    }
    say(pad, 12, 22, "shingles: how many layers, how thick?");
    arrow(pad, 40, 25, 40, 37);
    say_mid(pad, 91, 72, "deck: what,");
    say_mid(pad, 91, 81, "how thick?");
    arrow(pad, 91, 65, 91, 52);
    say_mid(pad, 56, 98, "rafter");
    say_mid(pad, 126, 98, "rafter");
}

static void draw_edges(const struct pad *pad) {
    box(pad, &thick, 25, 8, 145, 84);
    for (int i = 0; i < 4; i++) {
        const double y = 74 - i * 18;
        line(pad, &thin, 25, y, 145, y);
        for (int j = 0; j < 4; j++) {
            const double x = 35 + j * 30 + (i % 2) * 14;
            line(pad, &thin, x, y, x, y - (i < 3 ? 18 : 12));
        }
    }
    measure(pad, 17, 83, 17, 74);
    measure(pad, 153, 83, 153, 74);
    measure(pad, 10, 83, 10, 20);
    measure(pad, 160, 83, 160, 20);
    say(pad, 62, 72, "1st butt edge");
    say(pad, 62, 18, "counted edge");
    say_mid(pad, 17, 98, "LEFT");
    say_mid(pad, 153, 98, "RIGHT");
    say_mid(pad, 85, 98, "eave edge");
}

static void draw_vents(const struct pad *pad) {
    const struct style hidden = {INK_BLACK, INK_PALE, 0.9, DASH_SHORT};
    box(pad, &hidden, 75, 20, 125, 74);
    picture_circle(pad->picture, LAYER_NOTES, &white, at(pad, 100, 52), 13);
    measure(pad, 75, 14, 125, 14);
    say_mid(pad, 100, 10, "flange, along");
    measure(pad, 132, 20, 132, 74);
    say(pad, 136, 45, "flange,");
    say(pad, 136, 54, "up");
    line(pad, &thick, 8, 8, 8, 88);
    line(pad, &thick, 8, 88, 162, 88);
    arrow(pad, 8, 47, 98, 47);
    say(pad, 14, 43, "from the LEFT");
    arrow(pad, 100, 88, 100, 49);
    say(pad, 104, 83, "up the roof");
    say(pad, 40, 98, "its middle is the flange's middle");
}

static void draw_attic(const struct pad *pad) {
    box(pad, &pale, 8, 10, 162, 18);
    for (int i = 0; i < 4; i++) {
        box(pad, &white, 22 + i * 38, 18, 32 + i * 38, 92);
    }
    line(pad, &thick, 24, 30, 30, 62);
    line(pad, &thick, 26, 34, 31, 56);
    say(pad, 34, 48, "split");
    box(pad, &white, 56, 40, 74, 70);
    say(pad, 76, 62, "splice");
    line(pad, &blue, 32, 80, 98, 76);
    say(pad, 38, 89, "wire");
    picture_circle(pad->picture, LAYER_NOTES, &white, at(pad, 122, 54), 13);
    say_mid(pad, 122, 57, "duct");
    say(pad, 8, 101, "from where to where up the roof?");
}

static void draw_frames(const struct pad *pad) {
    face(pad);
    box(pad, &white, 70, 28, 120, 68);
    line(pad, &thick, 64, 36, 126, 36);
    line(pad, &thick, 64, 62, 126, 62);
    say_mid(pad, 95, 47, "frame");
    say(pad, 128, 34, "top");
    say(pad, 122, 72, "bottom");
    arrow(pad, 25, 68, 69, 68);
    arrow(pad, 70, 80, 70, 69);
    measure(pad, 95, 15, 95, 27);
    say(pad, 100, 23, "keep clear");
    zero(pad, 25, 80);
    say(pad, 40, 98, "lower corner, on the zero side");
}

static void draw_weather(const struct pad *pad) {
    line(pad, &thick, 45, 50, 85, 24);
    line(pad, &thick, 85, 24, 125, 50);
    line(pad, &thin, 52, 46, 52, 88);
    line(pad, &thin, 118, 46, 118, 88);
    line(pad, &thick, 10, 88, 160, 88);
    line(pad, &dashed, 43, 46, 85, 18);
    line(pad, &dashed, 85, 18, 127, 46);
    say_mid(pad, 85, 12, "snow");
    arrow(pad, 160, 30, 122, 30);
    arrow(pad, 160, 40, 128, 40);
    say(pad, 134, 24, "wind");
    measure(pad, 85, 38, 85, 87);
    say_mid(pad, 85, 64, "middle of the");
    say_mid(pad, 85, 72, "roof: how high?");
}

void sketch_draw(struct picture *picture, enum sketch sketch, struct point corner) {
    static void (*const draw[])(const struct pad *) = {
        [SKETCH_ZERO] = draw_zero,       [SKETCH_ACCESS] = draw_access,
        [SKETCH_FACE] = draw_face,       [SKETCH_FRAMING] = draw_framing,
        [SKETCH_RAFTERS] = draw_rafters, [SKETCH_DECK] = draw_deck,
        [SKETCH_EDGES] = draw_edges,     [SKETCH_VENTS] = draw_vents,
        [SKETCH_ATTIC] = draw_attic,     [SKETCH_FRAMES] = draw_frames,
        [SKETCH_WEATHER] = draw_weather,
    };
    const struct pad pad = {picture, corner};
    if (sketch != SKETCH_NONE) {
        draw[sketch](&pad);
    }
}
