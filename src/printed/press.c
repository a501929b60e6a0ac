#include "press.h"

#include <cairo-pdf.h>
#include <math.h>
#include <stdio.h>

#define EMPTY_MOST 250.0 /* points of a page left empty rather than tear what belongs together */
#define ROUNDING 0.01    /* points, far less than a line */

static const double full_turn = 6.28318530717958647692;

static const struct letters *letters_of(const struct press *press) {
    return press->printed->drawing->letters;
}

double press_left(void) {
    return PRESS_MARGIN;
}

double press_right(const struct press *press) {
    return press->size.width - PRESS_MARGIN;
}

double press_bottom(const struct press *press) {
    return press->measuring ? INFINITY : press->size.height - PRESS_MARGIN;
}

/* ---- Marks on paper ------------------------------------------------------------------------- */

static double set_text(struct press *press, const struct lettering *how, struct point at,
                       const char *text, bool white) {
    char clean[1024];
    letters_clean(text, clean, sizeof clean);
    if (press->cr != NULL) {
        const double grey = white ? 1 : 0;
        letters_use(letters_of(press), how, press->cr);
        cairo_set_source_rgb(press->cr, grey, grey, grey);
        cairo_move_to(press->cr, at.x, at.y);
        cairo_show_text(press->cr, clean);
        cairo_new_path(press->cr);
    }
    return letters_width(letters_of(press), how, clean);
}

double press_text(struct press *press, const struct lettering *how, struct point at,
                  const char *text) {
    return set_text(press, how, at, text, false);
}

double press_white_text(struct press *press, const struct lettering *how, struct point at,
                        const char *text) {
    return set_text(press, how, at, text, true);
}

void press_box(struct press *press, struct box box, bool filled) {
    if (press->cr == NULL) {
        return;
    }
    cairo_set_source_rgb(press->cr, 0, 0, 0);
    cairo_rectangle(press->cr, box.x0, box.y0, box.x1 - box.x0, box.y1 - box.y0);
    if (filled) {
        cairo_fill(press->cr);
    } else {
        cairo_set_line_width(press->cr, 1);
        cairo_stroke(press->cr);
    }
}

void press_disc(struct press *press, struct point centre, double radius) {
    if (press->cr == NULL) {
        return;
    }
    cairo_set_source_rgb(press->cr, 0, 0, 0);
    cairo_arc(press->cr, centre.x, centre.y, radius, 0, full_turn);
    cairo_fill(press->cr);
}

void press_rule(struct press *press, struct point from, struct point to, double width) {
    if (press->cr == NULL) {
        return;
    }
    cairo_set_source_rgb(press->cr, 0, 0, 0);
    cairo_set_line_width(press->cr, width);
    cairo_move_to(press->cr, from.x, from.y);
    cairo_line_to(press->cr, to.x, to.y);
    cairo_stroke(press->cr);
}

/* ---- Pages ---------------------------------------------------------------------------------- */

static void text_at_right(struct press *press, const struct lettering *how, double y,
                          const char *text) {
    const double width = letters_width(letters_of(press), how, text);
    press_text(press, how, (struct point){press_right(press) - width, y}, text);
}

/* The roof, whose sheet it is, which page, and whether anything may be drilled by it. */
static void head_page(struct press *press) {
    const struct answer *answer = press->printed->answer;
    struct lettering name = {13, true};
    const struct lettering small = {9, false}, bold = {9, true}, stamp = {12, true};
    const double left = press_left(), right = press_right(press), top = PRESS_MARGIN;
    char text[120];
    while (name.size > 8 && letters_width(letters_of(press), &name, press->printed->drawing->roof) >
                                right - left - 130) {
        name.size -= 0.5;
    }
    press_text(press, &name, (struct point){left, top + 2}, answer->roof->name);
    snprintf(text, sizeof text, "CHALK SHEET, page %zu of %zu", press->page, press->pages);
    text_at_right(press, &bold, top - 1, text);
    snprintf(text, sizeof text, "Fingerprint %s", answer->fingerprint);
    text_at_right(press, &small, top + 10, text);
    press_rule(press, (struct point){left, top + 15}, (struct point){right, top + 15}, 1.2);
    press->y = top + 22;
    if (sheet_stamp(answer) != NULL) {
        press_box(press, (struct box){left, press->y, right, press->y + 18}, true);
        press_white_text(press, &stamp, (struct point){left + 8, press->y + 13.5},
                         sheet_stamp(answer));
        press->y += 26;
    }
}

static void set_size(struct press *press, double width, double height) {
    if (press->cr != NULL) {
        cairo_pdf_surface_set_size(press->surface, width, height);
    }
}

static void show_page(struct press *press) {
    if (press->cr != NULL) {
        cairo_show_page(press->cr);
    }
}

void press_begin(struct press *press) {
    press->page = 1;
    head_page(press);
}

void press_turn(struct press *press) {
    show_page(press);
    if (press->measuring) {
        stretches_end(press->stretches, press->y);
    }
    press->page++;
    press->settled = 0;
    set_size(press, press->size.width, press->size.height);
    head_page(press);
}

void press_need(struct press *press, double height) {
    if (press->y >= press->settled && press->y + height > press_bottom(press)) {
        press_turn(press);
    }
}

void press_stretch(struct press *press, bool step, double least) {
    if (press->measuring) {
        press->failed =
            stretches_begin(press->stretches, step, press->y) != OUTCOME_DONE || press->failed;
        return;
    }
    const double whole = stretches_height(press->stretches, press->stretch++);
    if (press->y + whole > press_bottom(press)) {
        press_need(press, whole > EMPTY_MOST ? least : whole);
    }
    const double end = press->y + whole;
    press->settled = end > press_bottom(press) ? 0 : fmax(press->settled, end - ROUNDING);
    press_need(press, least);
}

void press_drawing(struct press *press) {
    const struct picture *picture = press->printed->drawing->picture;
    const struct lettering how = {9, true};
    char text[80];
    show_page(press);
    press->page++;
    press->drawn = true;
    set_size(press, picture->width, picture->height);
    if (press->cr != NULL) {
        paint_picture(picture, press->cr);
    }
    snprintf(text, sizeof text, "CHALK SHEET, page %zu of %zu", press->page, press->pages);
    press_text(press, &how,
               (struct point){picture->width - 24 - letters_width(letters_of(press), &how, text),
                              picture->height - 12},
               text);
}

void press_end(struct press *press) {
    show_page(press);
    if (press->measuring) {
        stretches_end(press->stretches, press->y);
    }
}
