/* The picture on cairo: SVG, PDF and PNG. */
#include "holder.h"
#include "pdf.h"

#include <cairo-svg.h>
#include <math.h>

#define PNG_DOTS 150.0 /* an inch */

static const double full_turn = 6.28318530717958647692;

static void set_ink(cairo_t *cr, enum ink ink) {
    const struct colour colour = picture_colour(ink);
    cairo_set_source_rgb(cr, colour.red / 255.0, colour.green / 255.0, colour.blue / 255.0);
}

static void paint_text(const struct picture *picture, const struct shape *shape, cairo_t *cr) {
    const struct box box = picture_text_box(picture, shape);
    letters_use(picture->letters, &shape->how, cr);
    set_ink(cr, shape->style.fill);
    cairo_move_to(cr, box.x0, picture->points[shape->first].y);
    cairo_show_text(cr, picture_text_of(picture, shape));
    cairo_new_path(cr);
}

static void lay_path(const struct picture *picture, const struct shape *shape, cairo_t *cr) {
    const struct point *points = picture->points + shape->first;
    if (shape->kind == SHAPE_CIRCLE) {
        cairo_arc(cr, points[0].x, points[0].y, shape->radius, 0, full_turn);
        cairo_close_path(cr);
        return;
    }
    for (size_t i = 0; i < shape->count; i++) {
        cairo_line_to(cr, points[i].x, points[i].y);
    }
    if (shape->kind == SHAPE_POLYGON) {
        cairo_close_path(cr);
    }
}

static void paint_shape(const struct picture *picture, const struct shape *shape, cairo_t *cr) {
    size_t count = 0;
    if (shape->kind == SHAPE_TEXT) {
        paint_text(picture, shape, cr);
        return;
    }
    lay_path(picture, shape, cr);
    if (shape->style.fill != INK_NONE) {
        set_ink(cr, shape->style.fill);
        cairo_fill_preserve(cr);
    }
    if (shape->style.line != INK_NONE) {
        const double *dash = picture_dash(shape->style.dash, &count);
        set_ink(cr, shape->style.line);
        cairo_set_line_width(cr, shape->style.width);
        cairo_set_dash(cr, dash, (int)count, 0);
        cairo_stroke_preserve(cr);
    }
    cairo_new_path(cr);
}

void paint_set_up(cairo_t *cr) {
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(cr, options);
    cairo_font_options_destroy(options);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_MITER);
}

void paint_picture(const struct picture *picture, cairo_t *cr) {
    paint_set_up(cr);
    for (size_t i = 0; i < picture->count; i++) {
        paint_shape(picture, &picture->shapes[i], cr);
    }
}

static cairo_status_t to_stream(void *stream, const unsigned char *bytes, unsigned int count) {
    return fwrite(bytes, 1, count, stream) == count ? CAIRO_STATUS_SUCCESS
                                                    : CAIRO_STATUS_WRITE_ERROR;
}

enum outcome paint_end(cairo_surface_t *surface, cairo_t *cr) {
    cairo_status_t status = cairo_status(cr);
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS) {
        status = cairo_surface_status(surface);
    }
    if (status == CAIRO_STATUS_SUCCESS &&
        cairo_surface_get_type(surface) == CAIRO_SURFACE_TYPE_PDF) {
        status = pdf_hand_over(surface);
    }
    cairo_surface_destroy(surface);
    return status == CAIRO_STATUS_SUCCESS || status == CAIRO_STATUS_WRITE_ERROR ? OUTCOME_DONE
                                                                                : OUTCOME_FAULT;
}

enum outcome drawing_write_pdf(const struct drawing *drawing, FILE *stream) {
    const struct picture *picture = drawing->picture;
    cairo_surface_t *surface = paint_pdf(stream, picture->width, picture->height, drawing->roof);
    cairo_t *cr = cairo_create(surface);
    paint_picture(picture, cr);
    return paint_end(surface, cr);
}

enum outcome drawing_write_svg(const struct drawing *drawing, FILE *stream) {
    const struct picture *picture = drawing->picture;
    cairo_surface_t *surface =
        cairo_svg_surface_create_for_stream(to_stream, stream, picture->width, picture->height);
    cairo_t *cr = cairo_create(surface);
    cairo_set_source_rgb(cr, 1, 1, 1); /* whatever lies behind it */
    cairo_paint(cr);
    paint_picture(picture, cr);
    return paint_end(surface, cr);
}

enum outcome drawing_write_png(const struct drawing *drawing, FILE *stream) {
    const struct picture *picture = drawing->picture;
    const double zoom = PNG_DOTS / 72;
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)lround(picture->width * zoom),
                                   (int)lround(picture->height * zoom));
    cairo_t *cr = cairo_create(surface);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
    cairo_scale(cr, zoom, zoom);
    paint_picture(picture, cr);
    const cairo_status_t written = cairo_surface_write_to_png_stream(surface, to_stream, stream);
    const enum outcome outcome = paint_end(surface, cr);
    const bool good = written == CAIRO_STATUS_SUCCESS || written == CAIRO_STATUS_WRITE_ERROR;
    return good ? outcome : OUTCOME_FAULT;
}
