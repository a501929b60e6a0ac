/* The picture as SVG inside a page: real text, so that it can be read aloud and found, and a group
 * for each hole that the page points out.  cairo draws letters as curves and gives no names. */
#include "holder.h"

#include "markup.h"

#include <stdint.h>
#include <stdio.h>

static void put_colour(FILE *stream, const char *name, enum ink ink) {
    const struct colour colour = picture_colour(ink);
    if (ink == INK_NONE) {
        fprintf(stream, " %s=\"none\"", name);
        return;
    }
    fprintf(stream, " %s=\"#%02x%02x%02x\"", name, colour.red, colour.green, colour.blue);
}

static void put_style(FILE *stream, const struct style *style) {
    size_t count = 0;
    const double *dash = picture_dash(style->dash, &count);
    put_colour(stream, "fill", style->fill);
    if (style->line == INK_NONE) {
        return;
    }
    put_colour(stream, "stroke", style->line);
    fprintf(stream, " stroke-width=\"%.4g\"", style->width);
    for (size_t i = 0; i < count; i++) {
        fprintf(stream, "%s%.4g", i == 0 ? " stroke-dasharray=\"" : " ", dash[i]);
    }
    fputs(count > 0 ? "\"" : "", stream);
}

/* textLength: whatever font stands in for ours, a label stays as wide as it was placed. */
static void put_text(const struct picture *picture, const struct shape *shape, FILE *stream) {
    const struct box box = picture_text_box(picture, shape);
    fprintf(stream, "<text x=\"%.4f\" y=\"%.4f\" font-size=\"%.4g\"%s", box.x0,
            picture->points[shape->first].y, shape->how.size,
            shape->how.bold ? " font-weight=\"bold\"" : "");
    fprintf(stream, " textLength=\"%.3f\" lengthAdjust=\"spacingAndGlyphs\"", shape->width);
    put_colour(stream, "fill", shape->style.fill);
    fputc('>', stream);
    markup_put(stream, picture_text_of(picture, shape));
    fputs("</text>\n", stream);
}

static void put_shape(const struct picture *picture, const struct shape *shape, FILE *stream) {
    const struct point *points = picture->points + shape->first;
    switch (shape->kind) {
    case SHAPE_TEXT:
        put_text(picture, shape, stream);
        return;
    case SHAPE_CIRCLE:
        fprintf(stream, "<circle cx=\"%.4f\" cy=\"%.4f\" r=\"%.4f\"", points[0].x, points[0].y,
                shape->radius);
        break;
    default:
        fputs(shape->kind == SHAPE_LINE ? "<polyline points=\"" : "<polygon points=\"", stream);
        for (size_t i = 0; i < shape->count; i++) {
            fprintf(stream, "%s%.4f,%.4f", i == 0 ? "" : " ", points[i].x, points[i].y);
        }
        fputc('"', stream);
    }
    put_style(stream, &shape->style);
    fputs("/>\n", stream);
}

/* Opens the group that a shape belongs to: a hole's sign, a hole's label, or a layer. */
static void open_group(const struct drawing *drawing, const struct shape *shape, FILE *stream) {
    const char *layer = picture_layer_word(shape->layer);
    if (shape->hole == SIZE_MAX) {
        fprintf(stream, "<g class=\"%s\">\n", layer);
        return;
    }
    const struct drawn_hole *hole = &drawing->holes[shape->hole];
    if (shape->layer == LAYER_READINGS) {
        fprintf(stream, "<g class=\"%s\" data-of=\"hole-%zu\">\n", layer, hole->number);
        return;
    }
    fprintf(stream, "<g class=\"%s\" id=\"hole-%zu\"><title>%zu: ", layer, hole->number,
            hole->number);
    markup_put(stream, hole->name);
    fputs("</title>\n", stream);
}

static bool same_group(const struct shape *a, const struct shape *b) {
    return a->layer == b->layer && a->hole == b->hole;
}

static void open_root(const struct drawing *drawing, FILE *stream) {
    const struct picture *picture = drawing->picture;
    fprintf(stream,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.4gpt\" height=\"%.4gpt\" "
            "viewBox=\"0 0 %.6g %.6g\" role=\"img\"",
            picture->width, picture->height, picture->width, picture->height);
    fprintf(stream, " data-scale=\"%.9f\" data-zero=\"%.6f %.6f\" data-way=\"%d\"", picture->scale,
            picture->zero.x, picture->zero.y, picture->mirrored ? -1 : 1);
    fputs(" font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n<title>", stream);
    markup_put(stream, drawing->roof);
    fputs(drawing->works ? ": where to drill" : ": closest fit (does NOT work), do not drill",
          stream);
    fputs("</title>\n", stream);
    fprintf(stream, "<rect width=\"%.6g\" height=\"%.6g\" fill=\"#ffffff\"/>\n", picture->width,
            picture->height);
}

enum outcome drawing_write_inline(const struct drawing *drawing, FILE *stream) {
    const struct picture *picture = drawing->picture;
    open_root(drawing, stream);
    for (size_t i = 0; i < picture->count; i++) {
        const struct shape *shape = &picture->shapes[i];
        if (i == 0 || !same_group(shape, shape - 1)) {
            fputs(i == 0 ? "" : "</g>\n", stream);
            open_group(drawing, shape, stream);
        }
        put_shape(picture, shape, stream);
    }
    fputs(picture->count > 0 ? "</g>\n</svg>\n" : "</svg>\n", stream);
    return OUTCOME_DONE;
}
