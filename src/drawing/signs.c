/* The signs of the drawing: each differs from the others in shape, not only in ink. */
#include "draw.h"

#include <math.h>

const struct style draw_rafter_style = {INK_MID, INK_PALE, 0.6, DASH_SHORT};
const struct style draw_course_style = {INK_LIGHT, INK_NONE, 0.4, DASH_NONE};
const struct style draw_setback_style = {INK_DARK, INK_NONE, 0.7, DASH_LONG};
const struct style draw_flashing_style = {INK_BLACK, INK_NONE, 0.7, DASH_NONE};
const struct style draw_frame_style = {INK_BLACK, INK_NONE, 1.6, DASH_DOT};
const struct style draw_strut_style = {INK_BLACK, INK_LIGHT, 0.8, DASH_NONE};
const struct style draw_foot_style = {INK_BLACK, INK_NONE, 2.2, DASH_NONE};
const struct style draw_chalk_style = {INK_BLUE, INK_NONE, 0.8, DASH_LONG};
const struct style draw_thin_style = {INK_DARK, INK_NONE, 0.5, DASH_NONE};

static const struct style area_style = {INK_BLACK, INK_WHITE, 1, DASH_NONE};
static const struct style stroke_style = {INK_BLACK, INK_NONE, 1.4, DASH_NONE};
static const struct style solid_style = {INK_NONE, INK_BLACK, 0, DASH_NONE};

#define HOLE_RADIUS 4.5 /* points */

void draw_lag(struct picture *picture, enum layer layer, struct point at, bool works) {
    const double arm = works ? HOLE_RADIUS : HOLE_RADIUS * sqrt(0.5);
    picture_circle(picture, layer, &area_style, at, HOLE_RADIUS);
    if (works) {
        picture_line(picture, layer, &stroke_style, (struct point){at.x - arm, at.y},
                     (struct point){at.x + arm, at.y});
        picture_line(picture, layer, &stroke_style, (struct point){at.x, at.y - arm},
                     (struct point){at.x, at.y + arm});
        return;
    }
    picture_line(picture, layer, &stroke_style, (struct point){at.x - arm, at.y - arm},
                 (struct point){at.x + arm, at.y + arm});
    picture_line(picture, layer, &stroke_style, (struct point){at.x - arm, at.y + arm},
                 (struct point){at.x + arm, at.y - arm});
}

void draw_pipe(struct picture *picture, enum layer layer, struct point at, double radius) {
    static const struct style ring = {INK_BLUE, INK_WHITE, 1.6, DASH_NONE};
    const double outer = fmax(radius, HOLE_RADIUS);
    picture_circle(picture, layer, &ring, at, outer);
    picture_circle(picture, layer, &ring, at, outer / 2.5);
}

void draw_clamp(struct picture *picture, enum layer layer, struct point at) {
    const double wide = 2.2, tall = 6.5;
    const struct point corners[] = {
        {at.x - wide, at.y}, {at.x, at.y - tall}, {at.x + wide, at.y}, {at.x, at.y + tall}};
    picture_polygon(picture, layer, &solid_style, corners, 4);
}

void draw_zero(struct picture *picture, enum layer layer, struct point at) {
    const double half = 6;
    picture_circle(picture, layer, &area_style, at, half);
    const struct point left[] = {{at.x, at.y}, {at.x - half, at.y}, {at.x, at.y - half}};
    const struct point right[] = {{at.x, at.y}, {at.x + half, at.y}, {at.x, at.y + half}};
    picture_polygon(picture, layer, &solid_style, left, 3);
    picture_polygon(picture, layer, &solid_style, right, 3);
}

void draw_hatch(struct picture *picture, enum layer layer, struct box box) {
    static const struct style style = {INK_BLACK, INK_NONE, 0.7, DASH_NONE};
    const double step = 5;
    for (double y = box.y1; y > box.y0 + step / 2; y -= step) {
        picture_line(picture, layer, &style, (struct point){box.x0 - 1.5, y},
                     (struct point){box.x1 + 1.5, fmax(y - step, box.y0)});
    }
}

void draw_vent(struct picture *picture, enum layer layer, enum vent_kind kind, struct box box) {
    static const struct style outline = {INK_BLACK, INK_WHITE, 1.1, DASH_NONE};
    const struct point middle = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    const double half = fmin(box.x1 - box.x0, box.y1 - box.y0) / 2;
    picture_box(picture, layer, &outline, box);
    switch (kind) {
    case VENT_PLUMBING:
    case VENT_FLUE:
        picture_circle(picture, layer, &outline, middle, half * 0.5);
        if (kind == VENT_FLUE) {
            picture_circle(picture, layer, &solid_style, middle, half * 0.25);
        }
        break;
    case VENT_SKYLIGHT:
        picture_box(picture, layer, &outline,
                    (struct box){box.x0 + half / 3, box.y0 + half / 3, box.x1 - half / 3,
                                 box.y1 - half / 3});
        break;
    default:
        picture_line(picture, layer, &outline, (struct point){box.x0, box.y0},
                     (struct point){box.x1, box.y1});
        picture_line(picture, layer, &outline, (struct point){box.x0, box.y1},
                     (struct point){box.x1, box.y0});
        break;
    }
}
