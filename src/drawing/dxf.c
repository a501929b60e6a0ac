/* The roof as DXF, the R12 text that every drawing program reads: full size in the file's measure,
 * the zero corner at 0, 0, x to the right and y up as one faces the ridge. */
#include "holder.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

struct dxf {
    FILE *stream;
    const struct picture *picture;
    double unit; /* of the file in an inch on the roof: 1, or 25.4 */
};

/* Colours of the index that such files use; 7 is black on white paper. */
static int layer_colour(enum layer layer) {
    switch (layer) {
    case LAYER_COURSES:
    case LAYER_RAFTERS:
        return 8;
    case LAYER_PIPES:
    case LAYER_CHALK:
        return 5;
    default:
        return 7;
    }
}

static bool is_on_roof(enum layer layer) {
    return layer < LAYER_NOTES;
}

static void put(const struct dxf *dxf, int code, const char *text) {
    fprintf(dxf->stream, "%d\n%s\n", code, text);
}

static void put_number(const struct dxf *dxf, int code, double number) {
    fprintf(dxf->stream, "%d\n%.6f\n", code, fabs(number) < 5e-7 ? 0 : number);
}

/* A point of the page where it is on the roof, as seen. */
static struct point seen(const struct dxf *dxf, struct point point) {
    const struct picture *picture = dxf->picture;
    return (struct point){(point.x - picture->zero.x) / picture->scale * dxf->unit,
                          (picture->zero.y - point.y) / picture->scale * dxf->unit};
}

static void put_point(const struct dxf *dxf, int code, struct point point) {
    put_number(dxf, code, point.x);
    put_number(dxf, code + 10, point.y);
    put_number(dxf, code + 20, 0);
}

static void put_entity(const struct dxf *dxf, const char *kind, enum layer layer) {
    put(dxf, 0, kind);
    put(dxf, 8, picture_layer_word(layer));
}

static void put_line(const struct dxf *dxf, enum layer layer, struct point from, struct point to) {
    put_entity(dxf, "LINE", layer);
    put_point(dxf, 10, seen(dxf, from));
    put_point(dxf, 11, seen(dxf, to));
}

static void put_polygon(const struct dxf *dxf, const struct shape *shape) {
    const struct point *points = dxf->picture->points + shape->first;
    put_entity(dxf, "POLYLINE", shape->layer);
    put(dxf, 66, "1"); /* corners follow */
    put_point(dxf, 10, (struct point){0, 0});
    put(dxf, 70, "1"); /* closed */
    for (size_t i = 0; i < shape->count; i++) {
        put_entity(dxf, "VERTEX", shape->layer);
        put_point(dxf, 10, seen(dxf, points[i]));
    }
    put_entity(dxf, "SEQEND", shape->layer);
}

/* R12 knows plain ASCII only: each other character becomes one '?'. */
static void put_text(const struct dxf *dxf, const struct shape *shape) {
    const struct box box = picture_text_box(dxf->picture, shape);
    put_entity(dxf, "TEXT", shape->layer);
    put_point(dxf, 10, seen(dxf, (struct point){box.x0, dxf->picture->points[shape->first].y}));
    put_number(dxf, 40, shape->how.size * 0.73 / dxf->picture->scale * dxf->unit);
    fputs("1\n", dxf->stream);
    for (const char *at = picture_text_of(dxf->picture, shape); *at != '\0'; at++) {
        const unsigned char byte = (unsigned char)*at;
        if ((byte & 0xC0u) != 0x80u) {
            fputc(byte < 0x80 ? byte : '?', dxf->stream);
        }
    }
    fputc('\n', dxf->stream);
}

static void put_shape(const struct dxf *dxf, const struct shape *shape) {
    const struct point *points = dxf->picture->points + shape->first;
    switch (shape->kind) {
    case SHAPE_LINE:
        put_line(dxf, shape->layer, points[0], points[1]);
        break;
    case SHAPE_POLYGON:
        if (shape->style.line != INK_NONE) {
            put_polygon(dxf, shape);
        }
        break;
    case SHAPE_CIRCLE:
        put_entity(dxf, "CIRCLE", shape->layer);
        put_point(dxf, 10, seen(dxf, points[0]));
        put_number(dxf, 40, shape->radius / dxf->picture->scale * dxf->unit);
        break;
    default:
        put_text(dxf, shape);
    }
}

/* The place of each hole once more, exact and without a sign around it. */
static void put_holes(const struct dxf *dxf, const struct drawing *drawing) {
    for (size_t i = 0; i < drawing->hole_count; i++) {
        const struct drawn_hole *hole = &drawing->holes[i];
        put_entity(dxf, "POINT", hole->pipe ? LAYER_PIPES : LAYER_LAGS);
        put_point(dxf, 10,
                  (struct point){hole->x * (drawing->picture->mirrored ? -1 : 1) * dxf->unit,
                                 hole->y * dxf->unit});
    }
}

static void put_layers(const struct dxf *dxf) {
    char count[16];
    snprintf(count, sizeof count, "%d", LAYER_NOTES);
    put(dxf, 0, "SECTION");
    put(dxf, 2, "TABLES");
    put(dxf, 0, "TABLE");
    put(dxf, 2, "LAYER");
    put(dxf, 70, count);
    for (int layer = 0; layer < LAYER_NOTES; layer++) {
        char colour[16];
        snprintf(colour, sizeof colour, "%d", layer_colour((enum layer)layer));
        put(dxf, 0, "LAYER");
        put(dxf, 2, picture_layer_word((enum layer)layer));
        put(dxf, 70, "0");
        put(dxf, 62, colour);
        put(dxf, 6, "CONTINUOUS");
    }
    put(dxf, 0, "ENDTAB");
    put(dxf, 0, "ENDSEC");
}

enum outcome drawing_write_dxf(const struct drawing *drawing, FILE *stream) {
    const bool metric = drawing->measure == MEASURE_MM;
    const struct dxf dxf = {stream, drawing->picture, metric ? LENGTH_MM_PER_INCH : 1};
    put(&dxf, 999, metric ? "Units: millimetres on the roof" : "Units: inches on the roof");
    put(&dxf, 999,
        drawing->works ? "Every rule holds" : "CLOSEST FIT (does NOT work): DO NOT DRILL");
    put(&dxf, 0, "SECTION");
    put(&dxf, 2, "HEADER");
    put(&dxf, 9, "$ACADVER");
    put(&dxf, 1, "AC1009");
    put(&dxf, 0, "ENDSEC");
    put_layers(&dxf);
    put(&dxf, 0, "SECTION");
    put(&dxf, 2, "ENTITIES");
    for (size_t i = 0; i < drawing->picture->count; i++) {
        if (is_on_roof(drawing->picture->shapes[i].layer)) {
            put_shape(&dxf, &drawing->picture->shapes[i]);
        }
    }
    put_holes(&dxf, drawing);
    put(&dxf, 0, "ENDSEC");
    put(&dxf, 0, "EOF");
    return OUTCOME_DONE;
}
