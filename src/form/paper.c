/* The form on paper.  It is set twice, once to count the pages and once to print them. */
#include "../drawing/holder.h"
#include "form.h"
#include "parts.h"
#include "sketches.h"

#include <cairo-pdf.h>
#include <string.h>

#define MARGIN 42.0   /* all round; points, as everything here */
#define LINE 16.0     /* room to write by hand */
#define LEADING 11.0  /* of print */
#define LABEL_GAP 5.0 /* from a label to its line */
#define TICK 7.5      /* a box to tick */
#define SKETCH_GAP 16.0

static const struct lettering title = {15, true}, heading = {10.5, true}, small = {7.5, false},
                              body = {8.5, false};
static const struct style hair = {INK_MID, INK_NONE, 0.5, DASH_NONE};
static const struct style rule = {INK_BLACK, INK_NONE, 1.1, DASH_NONE};

/* The pages under way. */
struct setting {
    struct letters *letters;
    cairo_t *cr;             /* NULL while the pages are counted */
    struct picture *picture; /* of this page; owned */
    struct page_size size;
    size_t page, pages;
    double y; /* the top of what comes next */
    bool failed;
};

static void text_at(struct setting *set, const struct lettering *how, enum anchor anchor, double x,
                    double y, const char *text) {
    const struct written written = {*how, anchor, INK_BLACK, false};
    picture_text(set->picture, LAYER_NOTES, &written, (struct point){x, y}, text);
}

static void line_from(struct setting *set, const struct style *style, double x0, double y0,
                      double x1, double y1) {
    picture_line(set->picture, LAYER_NOTES, style, (struct point){x0, y0}, (struct point){x1, y1});
}

static double right(const struct setting *set) {
    return set->size.width - MARGIN;
}

/* A new page with its head; without memory there is none, and set->failed. */
static void begin_page(struct setting *set) {
    char text[60];
    set->picture = picture_new(set->letters, set->size.width, set->size.height);
    set->page++;
    if (set->picture == NULL) {
        set->failed = true;
        return;
    }
    text_at(set, &title, ANCHOR_START, MARGIN, MARGIN + 12, FORM_TITLE);
    snprintf(text, sizeof text, "page %zu of %zu", set->page, set->pages);
    text_at(set, &body, ANCHOR_END, right(set), MARGIN + 12, text);
    text_at(set, &body, ANCHOR_START, 215, MARGIN + 12, "Job");
    line_from(set, &hair, 236, MARGIN + 14, right(set) - 70, MARGIN + 14);
    line_from(set, &rule, MARGIN, MARGIN + 19, right(set), MARGIN + 19);
    set->y = MARGIN + 28;
}

static void end_page(struct setting *set) {
    if (set->picture != NULL) {
        set->failed = set->failed || set->picture->failed;
        if (set->cr != NULL) {
            paint_picture(set->picture, set->cr);
            cairo_show_page(set->cr);
        }
    }
    picture_free(set->picture);
    set->picture = NULL;
}

enum { LINE_MOST = 200 };

/* Adds a word to a line where it fits. */
static void add_word(char line[LINE_MOST], const char *word, size_t length) {
    const size_t used = strlen(line), blank = used > 0 ? 1 : 0;
    if (used + blank + length < LINE_MOST) {
        line[used] = ' ';
        memcpy(line + used + blank, word, length);
        line[used + blank + length] = '\0';
    }
}

/* Prints a paragraph, or only reckons how tall it is; returns that. */
static double paragraph(struct setting *set, const struct lettering *how, double width,
                        const char *text, bool print) {
    char line[LINE_MOST] = "";
    double tall = LEADING;
    while (*text != '\0') {
        char longer[LINE_MOST];
        const size_t length = strcspn(text, " ");
        memcpy(longer, line, sizeof longer);
        add_word(longer, text, length);
        if (line[0] != '\0' && letters_width(set->letters, how, longer) > width) {
            if (print) {
                text_at(set, how, ANCHOR_START, MARGIN, set->y + tall - 3, line);
            }
            tall += LEADING;
            line[0] = '\0';
            add_word(line, text, length);
        } else {
            memcpy(line, longer, sizeof line);
        }
        text += length + (text[length] == ' ');
    }
    if (print) {
        text_at(set, how, ANCHOR_START, MARGIN, set->y + tall - 3, line);
        set->y += tall;
    }
    return tall;
}

static void set_ticks(struct setting *set, const char *ticks, double x, double y) {
    while (ticks != NULL) {
        char text[40];
        const char *word = NULL;
        const size_t length = form_word(&ticks, &word);
        const struct box box = {x, y - TICK, x + TICK, y};
        picture_box(set->picture, LAYER_NOTES, &rule, box);
        snprintf(text, sizeof text, "%.*s", (int)length, word);
        text_at(set, &body, ANCHOR_START, x + TICK + 4, y, text);
        x += TICK + 16 + letters_width(set->letters, &body, text);
    }
}

static const char *label_of(const struct form_line *line, double *indent) {
    const size_t spaces = strspn(line->label, " ");
    *indent = spaces > 0 ? 12 : 0;
    return line->label + spaces;
}

/* One line to fill in, between MARGIN and `end`. */
static void set_line(struct setting *set, const struct form_line *line, double end) {
    double indent = 0;
    const char *label = label_of(line, &indent);
    const double y = set->y + LINE - 4;
    const double after = MARGIN + indent + letters_width(set->letters, &body, label) + LABEL_GAP;
    text_at(set, &body, ANCHOR_START, MARGIN + indent, y, label);
    if (line->ticks != NULL) {
        set_ticks(set, line->ticks, after + 6, y);
    } else {
        line_from(set, &hair, after, y + 1.5, end, y + 1.5);
    }
    set->y += LINE;
}

static double table_height(const struct form_table *table) {
    return table == NULL ? 0 : 2 * LEADING + 5 + LINE * (double)table->lines + 4;
}

static double lines_height(const struct form_part *part) {
    const double lines = LINE * (double)part->line_count;
    const double sketch = part->sketch == SKETCH_NONE ? 0 : SKETCH_HEIGHT + 4;
    return (lines > sketch ? lines : sketch) + 5;
}

static void set_heads(struct setting *set, const struct form_table *table, const double *edges) {
    for (size_t i = 0; i < table->columns; i++) {
        const char *rest = table->heads[i];
        for (int line = 1; rest != NULL && line <= 2; line++) {
            char text[60];
            const char *word = NULL;
            const size_t length = form_word(&rest, &word);
            snprintf(text, sizeof text, "%.*s", (int)length, word);
            text_at(set, &small, ANCHOR_START, edges[i] + 3, set->y + line * (LEADING - 1), text);
        }
    }
}

enum { COLUMNS_MOST = 10 };

/* Where the columns begin, and where the last one ends. */
static void find_edges(const struct setting *set, const struct form_table *table, double *edges) {
    int all = 0;
    for (size_t i = 0; i < table->columns; i++) {
        all += table->widths[i];
    }
    edges[0] = MARGIN;
    for (size_t i = 0; i < table->columns; i++) {
        edges[i + 1] = edges[i] + (right(set) - MARGIN) * table->widths[i] / all;
    }
}

static void set_table(struct setting *set, const struct form_table *table) {
    double edges[COLUMNS_MOST + 1] = {0};
    find_edges(set, table, edges);
    const double top = set->y, first = top + 2 * LEADING + 3;
    const double bottom = first + LINE * (double)table->lines;
    set_heads(set, table, edges);
    line_from(set, &rule, MARGIN, top, right(set), top);
    line_from(set, &rule, MARGIN, first, right(set), first);
    for (size_t line = 1; line <= table->lines; line++) {
        const double y = first + LINE * (double)line;
        char text[24];
        line_from(set, &hair, MARGIN, y, right(set), y);
        snprintf(text, sizeof text, "%zu", line);
        if (table->numbered) {
            text_at(set, &body, ANCHOR_END, edges[1] - 5, y - 5, text);
        }
    }
    for (size_t i = 0; i <= table->columns; i++) {
        line_from(set, &hair, edges[i], top, edges[i], bottom);
    }
    set->y = bottom + 4;
}

/* Room for a whole part, or a new page. */
static void need(struct setting *set, double height) {
    if (set->y + height > set->size.height - MARGIN + 12) {
        end_page(set);
        begin_page(set);
    }
}

static void set_part(struct setting *set, size_t number, const struct form_part *part) {
    char text[80];
    const double wide = right(set) - MARGIN;
    need(set, 15 + paragraph(set, &body, wide, part->why, false) + lines_height(part) +
                  table_height(part->table));
    if (set->failed) {
        return;
    }
    snprintf(text, sizeof text, "%zu  %s", number, part->title);
    picture_box(set->picture, LAYER_NOTES, &(const struct style){INK_NONE, INK_PALE, 0, DASH_NONE},
                (struct box){MARGIN, set->y, right(set), set->y + 14});
    text_at(set, &heading, ANCHOR_START, MARGIN + 4, set->y + 10.8, text);
    set->y += 15;
    paragraph(set, &body, wide, part->why, true);
    const double top = set->y, drawn = right(set) - SKETCH_WIDTH;
    sketch_draw(set->picture, part->sketch, (struct point){drawn, top + 4});
    const double end = part->sketch == SKETCH_NONE ? right(set) : drawn - SKETCH_GAP;
    for (size_t i = 0; i < part->line_count; i++) {
        set_line(set, &part->lines[i], end);
    }
    set->y = top + lines_height(part);
    if (part->table != NULL) {
        set_table(set, part->table);
    }
    set->y += 7;
}

static void set_form(struct setting *set) {
    size_t count = 0;
    const struct form_part *parts = form_parts(&count);
    set->page = 0;
    begin_page(set);
    if (!set->failed) {
        paragraph(set, &body, right(set) - MARGIN, FORM_RULE, true);
        set->y += 5;
    }
    for (size_t i = 0; i < count && !set->failed; i++) {
        set_part(set, i + 1, &parts[i]);
    }
    end_page(set);
    set->pages = set->page;
}

enum outcome form_write_pdf(enum paper paper, FILE *stream, struct problems *problems) {
    struct setting set = {.size = drawing_page(paper)};
    enum outcome outcome = letters_open(&set.letters, problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    set_form(&set);
    cairo_surface_t *surface =
        paint_pdf(stream, set.size.width, set.size.height, "Survey form of a roof");
    set.cr = cairo_create(surface);
    if (!set.failed) {
        set_form(&set);
    }
    outcome = paint_end(surface, set.cr);
    set.failed = set.failed || !letters_measured(set.letters);
    letters_free(set.letters);
    return set.failed ? OUTCOME_FAULT : outcome;
}
