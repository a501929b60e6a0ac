/* The columns of a line become tab stops, and the figures of the roof are set big. */
#include "setting.h"

#include "../sheet/cells.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
    COLUMNS = 84,
    PIPE_LINES = 4 /* that a pipe's hole has more than a lag's */
};

#define SIZE 9.5      /* points, of the text */
#define SMALL_BOX 8.5 /* a box to tick */
#define BIG_BOX 12.0
#define BIG_SIZE 16.0 /* a reading on the roof */
#define BIG_LEADING 21.0
#define CELL_GAP 8.0
#define BADGE 7.5 /* half of one */
#define STEP_SIZE 10.5
#define PART_LEAST 250.0 /* room that a part of the sheet wants to begin on a page */

/* ---- Setting words -------------------------------------------------------------------------- */

static const struct letters *letters_of(const struct press *press) {
    return press->printed->drawing->letters;
}

static void draw_box(struct press *press, double x, double base, double size) {
    press_box(press, (struct box){x, base - size + 1, x + size, base + 1}, false);
}

/* One word at the point; a box to tick where it is one. */
static double set_word(struct press *press, const struct lettering *how, struct point at,
                       const char *word) {
    if (strcmp(word, "[_]") == 0) {
        draw_box(press, at.x, at.y, SMALL_BOX);
        return SMALL_BOX;
    }
    return press_text(press, how, at, word);
}

/* Takes the next word of *text; a box to tick counts as one. */
static bool next_word(const char **text, char word[CELL_TEXT]) {
    *text += strspn(*text, " ");
    if (strncmp(*text, "[ ]", 3) == 0) {
        memcpy(word, "[_]", sizeof "[_]");
        *text += 3;
        return true;
    }
    const size_t length = strcspn(*text, " ");
    const size_t kept = length < CELL_TEXT ? length : CELL_TEXT - 1;
    memcpy(word, *text, kept);
    word[kept] = '\0';
    *text += length;
    return kept > 0;
}

/* Sets words from `first` on, further lines from `hang` on, up to the right margin.  Returns where
 * the last line ended; press->y is the top of that line. */
static double set_words(struct press *press, const struct lettering *how, double first, double hang,
                        const char *text) {
    const double space = letters_width(letters_of(press), how, " ");
    const double right = press_right(press) - (press->in_box ? 8 : 0);
    double x = first;
    bool begun = false;
    char word[CELL_TEXT];
    while (next_word(&text, word)) {
        const double width =
            strcmp(word, "[_]") == 0 ? SMALL_BOX : letters_width(letters_of(press), how, word);
        if (begun && x + space + width > right) {
            press->y += press->leading;
            press_need(press, press->leading);
            x = hang;
            begun = false;
        }
        x += begun ? space : 0;
        x += set_word(press, how, (struct point){x, press->y + 0.8 * press->leading}, word);
        begun = true;
    }
    return x;
}

static double column_x(const struct press *press, size_t column) {
    return press_left() + (press_right(press) - press_left()) * (double)column / COLUMNS;
}

/* A figure: a later column that begins with one. */
static bool is_figure(const struct cells *cells, size_t cell) {
    return cell > 0 && cell < cells->count && isdigit((unsigned char)cells->list[cell].text[0]);
}

/* True where every column begins at its stop with the figures set at that size, or, `pushed`, where
 * the whole line at least ends on the page. */
static bool fits(const struct press *press, const struct cells *cells, double indent, double size,
                 bool pushed) {
    double x = 0;
    for (size_t i = 0; i < cells->count; i++) {
        const bool figure = is_figure(cells, i);
        const struct lettering how = {figure ? size : SIZE, figure};
        const double stop = column_x(press, cells->list[i].column) + indent;
        if (i > 0 && x + CELL_GAP > stop && !pushed) {
            return false;
        }
        x = fmax(stop, i > 0 ? x + CELL_GAP : stop) +
            letters_width(letters_of(press), &how, cells->list[i].text);
    }
    return x <= press_right(press) - 2 * BADGE - 6; /* where the number of a hole goes */
}

/* The size of the figures of a line on the roof: as big as their columns have room for.  0: there
 * is none, or no room for any that is big. */
static double big_size(const struct press *press, const struct cells *cells, double indent) {
    static const double sizes[] = {BIG_SIZE, 14.5, 13, 12};
    enum { SIZES = sizeof sizes / sizeof sizes[0] };
    bool any = false;
    for (size_t i = 0; i < cells->count; i++) {
        any = any || is_figure(cells, i);
    }
    if (!any || !press->on_roof) {
        return 0;
    }
    for (size_t i = 0; i < SIZES; i++) {
        if (fits(press, cells, indent, sizes[i], false)) {
            return sizes[i];
        }
    }
    return fits(press, cells, indent, sizes[SIZES - 1], true) ? sizes[SIZES - 1] : 0;
}

struct line_style {
    bool bold, figures;
    double indent;
    size_t hang; /* columns; of a line that is one paragraph */
};

/* The columns of a line, each from its stop or behind the one before; they wrap at the margin. */
static void set_cells(struct press *press, const struct cells *cells,
                      const struct line_style *style) {
    const double size = style->figures ? big_size(press, cells, style->indent) : 0;
    const bool big = size > 0;
    const double top = press->y;
    double x = 0;
    press->y += big ? (BIG_LEADING - press->leading) / 2 + 1 : 0;
    for (size_t i = 0; i < cells->count; i++) {
        const struct cell *cell = &cells->list[i];
        const bool figure = style->figures && is_figure(cells, i);
        const struct lettering how = {figure && big ? size : SIZE, style->bold || figure};
        double stop = column_x(press, cell->column) + style->indent;
        stop = i > 0 ? fmax(stop, x + CELL_GAP) : stop;
        if (figure && big) {
            const struct point at = {stop, press->y + 0.8 * press->leading + 1.5};
            x = stop + press_text(press, &how, at, cell->text);
            continue;
        }
        const bool hangs = cells->count == 1 && style->hang > cell->column;
        x = set_words(press, &how, stop,
                      hangs ? column_x(press, style->hang) + style->indent : stop, cell->text);
    }
    press->y = big ? fmax(press->y + press->leading, top + BIG_LEADING) : press->y + press->leading;
}

/* ---- Pieces --------------------------------------------------------------------------------- */

/* What a box to tick and the lines that belong to it take. */
static double with_lines(const struct press *press) {
    return press->on_roof ? BIG_LEADING + 4 * press->leading : 3 * press->leading;
}

/* True for a line that says what the boxes below it are about. */
static bool leads_on(const struct piece *piece, const struct cells *cells) {
    const size_t length = strlen(piece->text);
    return piece->text[length - 1] == ':' ||
           (cells->count == 1 && cells->list[0].column == 4 && piece->hang == 6);
}

static void set_line(struct press *press, const struct piece *piece) {
    struct cells cells;
    cells_part(piece->text, &cells);
    if (cells.count == 0) {
        press->y += press->leading;
        return;
    }
    const bool heading =
        piece->hang == 4 && cells.list[0].column == 2 && cells.list[0].text[0] != '-';
    const bool loud =
        strchr("!-", cells.list[0].text[0]) == NULL
            ? strstr(piece->text, "STOP") != NULL || strstr(piece->text, "DO NOT") != NULL
            : cells.list[0].text[0] == '!';
    if (heading) {
        press_stretch(press, false, 2 * press->leading + with_lines(press));
    } else {
        press_need(press, press->leading + (leads_on(piece, &cells) ? with_lines(press) : 0));
    }
    press->y += heading ? 3 : 0;
    const struct line_style style = {
        .bold = heading || loud || strcmp(cells.list[0].text, "Result") == 0, .hang = piece->hang};
    set_cells(press, &cells, &style);
}

static void set_step(struct press *press, const struct piece *piece) {
    char number[24];
    const struct lettering how = {STEP_SIZE, true};
    /* Its words, and a heading and a box below it. */
    press_stretch(press, true,
                  press->on_roof ? 5.5 * press->leading + with_lines(press) : 4.5 * press->leading);
    press->y += 8;
    draw_box(press, press_left(), press->y + 0.8 * press->leading, BIG_BOX);
    snprintf(number, sizeof number, "%u.", piece->step);
    press_text(press, &how, (struct point){press_left() + 20, press->y + 0.8 * press->leading},
               number);
    (void)set_words(press, &how, press_left() + 42, press_left() + 42, piece->text);
    press->y += press->leading + 3;
}

/* The number that a hole has on the drawing, at the right margin: round as there for a lag, square
 * for a pipe. */
static void set_badge(struct press *press, const struct mark *hole, double middle) {
    const struct printed *printed = press->printed;
    if (hole == NULL || printed->answer->marks == NULL) {
        return;
    }
    char text[24];
    const struct lettering how = {9, true};
    const size_t index = (size_t)(hole - printed->answer->marks->list);
    snprintf(text, sizeof text, "%zu", printed->drawing->holes[index].number);
    const struct point at = {press_right(press) - BADGE, middle};
    const struct point base = {at.x - letters_width(letters_of(press), &how, text) / 2,
                               at.y + 0.36 * how.size};
    if (hole->row == ROW_PIPE) {
        press_box(press, (struct box){at.x - BADGE, at.y - BADGE, at.x + BADGE, at.y + BADGE},
                  false);
        press_text(press, &how, base, text);
    } else {
        press_disc(press, at, BADGE);
        press_white_text(press, &how, base, text);
    }
}

static void set_tick(struct press *press, const struct piece *piece) {
    struct cells cells;
    cells_part(piece->text, &cells);
    const struct line_style style = {.figures = true, .indent = 34};
    const bool big = big_size(press, &cells, style.indent) > 0;
    const bool pipe = piece->hole != NULL && piece->hole->row == ROW_PIPE;
    press_need(press, with_lines(press) + (pipe ? PIPE_LINES * press->leading : 0));
    draw_box(press, press_left() + style.indent - 18,
             press->y + (big ? 15.5 : 0.8 * press->leading), big ? BIG_BOX : SMALL_BOX);
    set_badge(press, piece->hole, press->y + (big ? 10 : 0.5 * press->leading));
    set_cells(press, &cells, &style);
}

/* The sides of the STOP box beside what was set since `top`. */
static void draw_sides(struct press *press, double top) {
    const double left = press_left(), right = press_right(press);
    press_rule(press, (struct point){left, top}, (struct point){left, press->y}, 1.2);
    press_rule(press, (struct point){right, top}, (struct point){right, press->y}, 1.2);
}

static void set_boxed(struct press *press, const struct piece *piece) {
    const struct lettering head = {14, true}, how = {SIZE + 0.5, false};
    const double left = press_left();
    const bool tick = strncmp(piece->text, "[ ] ", 4) == 0;
    if (press->box_head) {
        press_box(press, (struct box){left, press->y, press_right(press), press->y + 22}, true);
        press_white_text(press, &head, (struct point){left + 8, press->y + 16}, piece->text);
        press->y += 26;
        press->box_head = false;
        return;
    }
    press_need(press, 2 * press->leading);
    const double top = press->y;
    const size_t page = press->page;
    press->y += 1.5;
    if (tick) {
        draw_box(press, left + 10, press->y + 0.8 * press->leading, SMALL_BOX);
    }
    const double x = left + (tick ? 28 : 10);
    (void)set_words(press, &how, x, x, piece->text + (tick ? 4 : 0));
    press->y += press->leading + 1.5;
    draw_sides(press, page == press->page ? top : PRESS_MARGIN + 22);
}

static void set_box_edge(struct press *press) {
    if (!press->in_box) {
        press_need(press,
                   14 * press->leading); /* whole on one page, unless there are many frames */
        press->in_box = press->box_head = true;
        return;
    }
    press_rule(press, (struct point){press_left(), press->y},
               (struct point){press_right(press), press->y}, 1.2);
}

static void set_heading(struct press *press, const struct piece *piece) {
    const struct lettering how = {17, true};
    const bool ground =
        strcmp(piece->text, SHEET_GROUND) == 0 || strcmp(piece->text, SHEET_DRILLED) == 0;
    if (ground) {
        press_need(press, PART_LEAST);
        press->y += press->leading;
    } else {
        press_drawing(press);
        press_turn(press);
    }
    press->on_roof = strcmp(piece->text, SHEET_ROOF) == 0;
    press_text(press, &how, (struct point){press_left(), press->y + 17}, piece->text);
    press->y += 26;
}

void setting_take(struct press *press, const struct piece *piece) {
    if (piece->kind != PIECE_BOXED && piece->kind != PIECE_BOX_EDGE) {
        press->in_box = false;
    }
    switch (piece->kind) {
    case PIECE_HEADING:
        set_heading(press, piece);
        break;
    case PIECE_STEP:
        set_step(press, piece);
        break;
    case PIECE_TICK:
        set_tick(press, piece);
        break;
    case PIECE_BOXED:
        set_boxed(press, piece);
        break;
    case PIECE_BOX_EDGE:
        set_box_edge(press);
        break;
    case PIECE_BLANK:
        press->y += press->leading / 2;
        break;
    case PIECE_RULE:
        press_need(press, press->leading);
        press_rule(press, (struct point){press_left(), press->y + 4},
                   (struct point){press_right(press), press->y + 4}, 1);
        press->y += 9;
        break;
    default:
        set_line(press, piece);
    }
}
