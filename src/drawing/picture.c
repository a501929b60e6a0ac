#include "picture.h"

#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

const char *picture_layer_word(enum layer layer) {
    static const char *const words[LAYER_COUNT] = {
        [LAYER_EDGES] = "ROOF-EDGES",
        [LAYER_SETBACK] = "SETBACKS",
        [LAYER_COURSES] = "BUTT-EDGES",
        [LAYER_RAFTERS] = "RAFTERS",
        [LAYER_UNSOUND] = "UNSOUND",
        [LAYER_KEEPOUTS] = "NO-LAG-HERE",
        [LAYER_WALL] = "WALL",
        [LAYER_VENTS] = "VENTS",
        [LAYER_CHALK] = "CHALK-LINES",
        [LAYER_FLASHINGS] = "FLASHINGS",
        [LAYER_FRAMES] = "FRAMES",
        [LAYER_STRUTS] = "STRUTS",
        [LAYER_FEET] = "FEET",
        [LAYER_LAGS] = "LAG-HOLES",
        [LAYER_PIPES] = "PIPE-HOLES",
        [LAYER_ZERO] = "ZERO-CORNER",
        [LAYER_DIMENSIONS] = "DIMENSIONS",
        [LAYER_READINGS] = "READINGS",
        [LAYER_NOTES] = "NOTES",
        [LAYER_LEGEND] = "LEGEND",
    };
    assert(layer >= 0 && layer < LAYER_COUNT);
    return words[layer];
}

struct colour picture_colour(enum ink ink) {
    /* The blue keeps its distance from black and grey for every kind of colour sight, and prints
     * dark; nothing is told by it alone. */
    static const struct colour colours[INK_COUNT] = {
        [INK_NONE] = {255, 255, 255},  [INK_BLACK] = {0, 0, 0},       [INK_DARK] = {64, 64, 64},
        [INK_MID] = {118, 118, 118},   [INK_LIGHT] = {176, 176, 176}, [INK_PALE] = {232, 232, 232},
        [INK_WHITE] = {255, 255, 255}, [INK_BLUE] = {0, 60, 150},
    };
    return colours[ink];
}

const double *picture_dash(enum dash dash, size_t *count) {
    static const double none[] = {0}, shorts[] = {3, 2}, longs[] = {9, 4}, dots[] = {8, 2, 1.5, 2};
    static const double *const lengths[DASH_COUNT] = {none, shorts, longs, dots};
    static const size_t counts[DASH_COUNT] = {0, 2, 2, 4};
    *count = counts[dash];
    return lengths[dash];
}

struct picture *picture_new(const struct letters *letters, double width, double height) {
    struct picture *picture = calloc(1, sizeof *picture);
    if (picture != NULL) {
        picture->width = width;
        picture->height = height;
        picture->scale = 1;
        picture->hole = SIZE_MAX;
        picture->letters = letters;
    }
    return picture;
}

void picture_free(struct picture *picture) {
    if (picture != NULL) {
        free(picture->shapes);
        free(picture->points);
        free(picture->texts);
        free(picture);
    }
}

/* Sees to room for `more` items beyond `count`; NULL without memory (*list stays as it is). */
static void *make_room(void *list, size_t size, size_t count, size_t more, size_t *room) {
    if (count + more <= *room) {
        return list;
    }
    size_t wanted = *room == 0 ? 64 : *room * 2;
    wanted = wanted < count + more ? count + more : wanted;
    void *grown = wanted > SIZE_MAX / size ? NULL : realloc(list, wanted * size);
    if (grown != NULL) {
        *room = wanted;
    }
    return grown;
}

/* A new shape with room for its points, or NULL. */
static struct shape *add(struct picture *picture, enum shape_kind kind, enum layer layer,
                         const struct point *points, size_t count) {
    struct shape *shapes =
        make_room(picture->shapes, sizeof *picture->shapes, picture->count, 1, &picture->room[0]);
    picture->shapes = shapes != NULL ? shapes : picture->shapes;
    struct point *all = make_room(picture->points, sizeof *picture->points, picture->point_count,
                                  count, &picture->room[1]);
    picture->points = all != NULL ? all : picture->points;
    if (shapes == NULL || all == NULL) {
        picture->failed = true;
        return NULL;
    }
    memcpy(all + picture->point_count, points, count * sizeof *points);
    struct shape *shape = &shapes[picture->count++];
    *shape = (struct shape){.kind = kind,
                            .layer = layer,
                            .first = picture->point_count,
                            .count = count,
                            .hole = picture->hole};
    picture->point_count += count;
    return shape;
}

void picture_line(struct picture *picture, enum layer layer, const struct style *style,
                  struct point from, struct point to) {
    const struct point ends[] = {from, to};
    struct shape *shape = add(picture, SHAPE_LINE, layer, ends, 2);
    if (shape != NULL) {
        shape->style = *style;
    }
}

void picture_polygon(struct picture *picture, enum layer layer, const struct style *style,
                     const struct point *points, size_t count) {
    struct shape *shape = count == 0 ? NULL : add(picture, SHAPE_POLYGON, layer, points, count);
    if (shape != NULL) {
        shape->style = *style;
    }
}

void picture_box(struct picture *picture, enum layer layer, const struct style *style,
                 struct box box) {
    const struct point corners[] = {
        {box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
    picture_polygon(picture, layer, style, corners, 4);
}

void picture_circle(struct picture *picture, enum layer layer, const struct style *style,
                    struct point centre, double radius) {
    struct shape *shape = add(picture, SHAPE_CIRCLE, layer, &centre, 1);
    if (shape != NULL) {
        shape->style = *style;
        shape->radius = radius;
    }
}

void picture_text(struct picture *picture, enum layer layer, const struct written *written,
                  struct point at, const char *text) {
    const size_t size = strlen(text) + 1;
    char *texts = make_room(picture->texts, 1, picture->text_size, size, &picture->room[2]);
    if (texts == NULL) {
        picture->failed = true;
        return;
    }
    picture->texts = texts;
    struct shape *shape = add(picture, SHAPE_TEXT, layer, &at, 1);
    if (shape == NULL) {
        return;
    }
    char *clean = texts + picture->text_size;
    letters_clean(text, clean, size);
    shape->style.fill = written->ink;
    shape->how = written->how;
    shape->anchor = written->anchor;
    shape->width = letters_width(picture->letters, &written->how, clean);
    shape->text = picture->text_size;
    shape->is_reading = written->is_reading;
    picture->text_size += size;
}

const char *picture_text_of(const struct picture *picture, const struct shape *shape) {
    return picture->texts + shape->text;
}

struct box picture_text_box(const struct picture *picture, const struct shape *shape) {
    const struct point at = picture->points[shape->first];
    const double share = shape->anchor == ANCHOR_START ? 0 : shape->anchor == ANCHOR_END ? 1 : 0.5;
    const double x0 = at.x - share * shape->width;
    return (struct box){x0, at.y - LETTERS_RISE * shape->how.size, x0 + shape->width,
                        at.y + LETTERS_FALL * shape->how.size};
}

struct point picture_place(const struct picture *picture, double x, double y) {
    const double along = picture->mirrored ? -x : x;
    return (struct point){picture->zero.x + along * picture->scale,
                          picture->zero.y - y * picture->scale};
}

struct point picture_roof_place(const struct picture *picture, struct point point) {
    const double along = (point.x - picture->zero.x) / picture->scale;
    return (struct point){picture->mirrored ? -along : along,
                          (picture->zero.y - point.y) / picture->scale};
}
