/* Where a place of the roof is on the drawing, and labels: text, led to what it names. */
#include "draw.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define PAD 1.5 /* points of white around a label's text */

struct point draw_place(const struct canvas *canvas, double x, double y) {
    return picture_place(canvas->picture, x, y);
}

struct box draw_box(const struct canvas *canvas, struct box on_roof) {
    const struct point a = draw_place(canvas, on_roof.x0, on_roof.y0);
    const struct point b = draw_place(canvas, on_roof.x1, on_roof.y1);
    return (struct box){fmin(a.x, b.x), fmin(a.y, b.y), fmax(a.x, b.x), fmax(a.y, b.y)};
}

double draw_way(const struct roof *roof) {
    return roof->corner == CORNER_LEFT ? 1 : -1;
}

void draw_text(struct canvas *canvas, enum layer layer, const struct written *written,
               struct point at, const char *text) {
    struct picture *picture = canvas->picture;
    const size_t before = picture->count;
    picture_text(picture, layer, written, at, text);
    if (picture->count > before) {
        placer_keep_off(&canvas->placer, picture_text_box(picture, &picture->shapes[before]));
    }
}

/* The number in its badge, at the left end of the label; returns how wide that is. */
static double badge_width(const struct label *label) {
    if (label->number == 0) {
        return 0;
    }
    const double tall = label->size + 2 * PAD;
    return (label->number > 99 ? 1.6 : 1.15) * tall + 2;
}

static void draw_badge(struct canvas *canvas, const struct label *label, struct box box) {
    struct picture *picture = canvas->picture;
    const double width = badge_width(label) - 2, half = (box.y1 - box.y0) / 2;
    const struct style style = {INK_BLACK, label->square ? INK_WHITE : INK_BLACK, 1, DASH_NONE};
    const struct box badge = {box.x0, box.y0, box.x0 + width, box.y1};
    const struct point middle = {box.x0 + width / 2, box.y0 + half};
    if (label->square) {
        picture_box(picture, LAYER_READINGS, &style, badge);
    } else {
        picture_circle(picture, LAYER_READINGS, &style, middle, half);
    }
    char text[24];
    snprintf(text, sizeof text, "%zu", label->number);
    const struct written written = {.how = {label->size * 0.92, true},
                                    .anchor = ANCHOR_MIDDLE,
                                    .ink = label->square ? INK_BLACK : INK_WHITE,
                                    .is_reading = true};
    picture_text(picture, LAYER_READINGS, &written,
                 (struct point){middle.x, middle.y + 0.36 * written.how.size}, text);
}

bool draw_label(struct canvas *canvas, const struct label *label) {
    static const struct style ground = {INK_NONE, INK_WHITE, 0, DASH_NONE};
    struct picture *picture = canvas->picture;
    const struct lettering how = {label->size, label->bold};
    const double badge = badge_width(label);
    const bool has_text = label->text[0] != '\0';
    const struct wish wish = {
        .at = label->at,
        .clear = label->clear,
        .width =
            badge + (has_text ? letters_width(picture->letters, &how, label->text) : 0) + 2 * PAD,
        .height = label->size + 2 * PAD,
        .up = label->up,
        .right = label->right,
        .bounds = label->bounds,
        .own = label->own,
    };
    const struct placed placed = placer_place(&canvas->placer, &wish);
    if (!placed.found) {
        canvas->unplaced += label->optional ? 0 : 1;
        return false;
    }
    if (label->leader) {
        picture_line(picture, LAYER_READINGS, &draw_thin_style, label->at, placed.elbow);
    }
    picture_box(picture, LAYER_READINGS, &ground, placed.box);
    if (label->number > 0) {
        draw_badge(canvas, label, placed.box);
    }
    if (has_text) {
        const struct written written = {.how = how, .ink = INK_BLACK, .is_reading = true};
        const struct point at = {placed.box.x0 + PAD + badge,
                                 (placed.box.y0 + placed.box.y1) / 2 + 0.36 * label->size};
        picture_text(picture, LAYER_READINGS, &written, at, label->text);
    }
    return true;
}
