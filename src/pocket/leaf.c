#include "leaf.h"

#include "../sheet/cells.h"
#include "columns.h"
#include "markup.h"

#include <string.h>

enum {
    FACT_COLUMN = 15, /* where the figures of the sheet's head stand */
    BELONGS = 8,      /* a line that hangs this far belongs to the box above it */
    TABLE_COLUMNS = 5 /* a line of so many is one of a table */
};

void leaf_text(struct leaf *leaf, const char *text) {
    char clean[CELL_TEXT];
    letters_clean(text, clean, sizeof clean);
    markup_put(leaf->stream, clean);
}

static void put(struct leaf *leaf, const char *markup) {
    fputs(markup, leaf->stream);
}

/* ---- What is open --------------------------------------------------------------------------- */

static void end_item(struct leaf *leaf) {
    put(leaf, leaf->item ? "</div>\n" : "");
    leaf->item = false;
}

static void end_group(struct leaf *leaf) {
    end_item(leaf);
    put(leaf, leaf->group ? "</div>\n" : "");
    leaf->group = false;
}

static void end_step(struct leaf *leaf) {
    end_group(leaf);
    put(leaf, leaf->step ? "</div>\n" : "");
    leaf->step = false;
}

void leaf_end(struct leaf *leaf) {
    end_step(leaf);
    put(leaf, leaf->section ? "</section>\n" : "");
    leaf->section = leaf->in_box = false;
}

static void begin_section(struct leaf *leaf, const char *name, const char *heading) {
    leaf_end(leaf);
    fprintf(leaf->stream, "<section id=\"%s\">\n<h2>", name);
    leaf_text(leaf, heading);
    put(leaf, "</h2>\n");
    leaf->section = true;
}

/* Whatever comes before the first box and heading is the head of the sheet. */
static void see_to_section(struct leaf *leaf) {
    if (!leaf->section) {
        begin_section(leaf, leaf->headed ? "rest" : "result",
                      leaf->headed ? "And" : "What this sheet is");
    }
}

/* ---- Parts ---------------------------------------------------------------------------------- */

void leaf_draw(struct leaf *leaf) {
    leaf->drawn = true;
    begin_section(leaf, "drawing", "THE ROOF as you stand at the eave");
    put(leaf, "<div class=\"item\">\n<div id=\"zoom\" hidden>\n"
              "<button type=\"button\" id=\"fit\">Whole roof</button>\n"
              "<button type=\"button\" id=\"larger\">Larger</button>\n"
              "<button type=\"button\" id=\"smaller\">Smaller</button>\n"
              "<button type=\"button\" id=\"again\" hidden>Back to the reading</button>\n</div>\n"
              "<div id=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Drawing of the roof; "
              "scroll to see more of it\">\n");
    leaf->failed =
        drawing_write_inline(leaf->pocket->drawing, leaf->stream) != OUTCOME_DONE || leaf->failed;
    put(leaf, "</div>\n</div>\n");
    leaf_end(leaf);
}

static void take_heading(struct leaf *leaf, const struct piece *piece) {
    const bool ground = strcmp(piece->text, SHEET_GROUND) == 0;
    const bool roof = strcmp(piece->text, SHEET_ROOF) == 0;
    const bool drilled = strcmp(piece->text, SHEET_DRILLED) == 0;
    if (!ground && !drilled && !leaf->drawn) {
        leaf_draw(leaf);
    }
    begin_section(leaf,
                  ground    ? "ground"
                  : roof    ? "roof"
                  : drilled ? "drilled"
                            : "never",
                  piece->text);
    leaf->headed = !drilled;
}

static void take_step(struct leaf *leaf, const struct piece *piece) {
    const bool holes = strncmp(piece->text, SHEET_HOLES, sizeof SHEET_HOLES - 1) == 0;
    see_to_section(leaf);
    end_step(leaf);
    fprintf(leaf->stream, "<div class=\"step\"%s>\n<h3><label class=\"tick\">",
            holes ? " id=\"holes\"" : "");
    columns_box(leaf);
    fprintf(leaf->stream, "<span>%u. ", piece->step);
    columns_say(leaf, piece->text);
    put(leaf, "</span></label></h3>\n");
    leaf->step = true;
}

/* The number of a hole as the drawing has it; 0: none. */
static size_t number_of(const struct leaf *leaf, const struct mark *hole) {
    const struct drawing *drawing = leaf->pocket->drawing;
    const struct marks *marks = leaf->pocket->answer->marks;
    if (hole == NULL || marks == NULL) {
        return 0;
    }
    const size_t index = (size_t)(hole - marks->list);
    return index < drawing->hole_count ? drawing->holes[index].number : 0;
}

static void put_badge(struct leaf *leaf, const struct piece *piece) {
    const size_t number = number_of(leaf, piece->hole);
    if (number > 0) {
        fprintf(leaf->stream,
                "<span class=\"badge%s\"><span class=\"quiet\">hole </span>%zu</span>\n",
                piece->hole->row == ROW_PIPE ? " pipe" : "", number);
    }
}

/* The way to the drawing, where a hole is told of for the first time. */
static void put_way(struct leaf *leaf, const struct piece *piece) {
    const size_t number = number_of(leaf, piece->hole);
    if (number > leaf->shown) {
        leaf->shown = number;
        fprintf(leaf->stream,
                "<button type=\"button\" class=\"way\" data-hole=\"%zu\" hidden>Hole %zu on the "
                "drawing</button>\n",
                number, number);
    }
}

static void take_tick(struct leaf *leaf, const struct piece *piece) {
    struct cells cells;
    cells_part(piece->text, &cells);
    see_to_section(leaf);
    end_item(leaf);
    put(leaf, "<div class=\"item\">\n<label class=\"tick\">");
    columns_box(leaf);
    put(leaf, "<span class=\"line\">");
    put_badge(leaf, piece);
    columns_put(leaf, &cells);
    put(leaf, "</span></label>\n");
    put_way(leaf, piece);
    leaf->item = true;
}

/* ---- Lines ---------------------------------------------------------------------------------- */

/* True for a line that begins with a word in capitals: `WHAT STANDS IN THE WAY`. */
static bool is_shout(const char *text) {
    size_t capitals = 0;
    while (text[capitals] >= 'A' && text[capitals] <= 'Z') {
        capitals++;
    }
    return capitals > 2 && (text[capitals] == ' ' || text[capitals] == ':' || text[capitals] == 0);
}

/* `LINE 1 of 2: frame A, ...` and what else heads a few boxes. */
static void take_group(struct leaf *leaf, const struct cells *cells) {
    end_group(leaf);
    put(leaf, leaf->step ? "<div class=\"group\">\n<h4>" : "<div class=\"group\">\n<h3>");
    columns_words(leaf, cells, 0);
    put(leaf, leaf->step ? "</h4>\n" : "</h3>\n");
    leaf->group = true;
}

/* A name and what it is. */
static void put_fact(struct leaf *leaf, const struct cells *cells) {
    const bool named = cells->list[0].column < FACT_COLUMN;
    put(leaf, "<p class=\"fact\"><b>");
    if (named) {
        leaf_text(leaf, cells->list[0].text);
    }
    put(leaf, "</b><span class=\"line\">");
    columns_words(leaf, cells, named ? 1 : 0);
    put(leaf, "</span></p>\n");
}

/* A line with boxes of its own. */
static void put_asking(struct leaf *leaf, const struct piece *piece, const struct cells *cells) {
    end_item(leaf);
    if (piece->hang == 0) {
        end_step(leaf);
    }
    put(leaf, "<div class=\"item asks\" role=\"group\" aria-label=\"");
    leaf_text(leaf, piece->hang == 0 ? "Who did it" : cells->list[0].text);
    put(leaf, "\"><span class=\"line\">\n");
    put_badge(leaf, piece);
    columns_put(leaf, cells);
    put(leaf, "</span>\n");
    leaf->item = true;
}

static bool is_loud(const char *text) {
    return text[0] == '!' || strstr(text, "STOP") != NULL || strstr(text, "DO NOT") != NULL;
}

static void put_line(struct leaf *leaf, const struct piece *piece, const struct cells *cells) {
    if (piece->hang < BELONGS || !leaf->item) {
        end_item(leaf);
    }
    fprintf(leaf->stream, "<p class=\"%s%s\">", cells->count >= TABLE_COLUMNS ? "table" : "line",
            is_loud(cells->list[0].text) ? " loud" : "");
    columns_words(leaf, cells, 0);
    put(leaf, "</p>\n");
}

static void take_line(struct leaf *leaf, const struct piece *piece) {
    struct cells cells;
    cells_part(piece->text, &cells);
    if (cells.count == 0) {
        return;
    }
    const size_t column = cells.list[0].column;
    if (!leaf->headed && leaf->step && piece->hang == FACT_COLUMN && column == 0) {
        leaf_end(leaf); /* what was drilled already is told */
    }
    see_to_section(leaf);
    const bool head = !leaf->headed && !leaf->step;
    if (head && piece->hang == FACT_COLUMN) {
        put_fact(leaf, &cells);
    } else if (columns_asks(piece->text)) {
        put_asking(leaf, piece, &cells);
    } else if ((piece->hang == 4 && column == 2 && cells.list[0].text[0] != '-') ||
               (piece->hang == 2 && column == 0 && is_shout(piece->text))) {
        take_group(leaf, &cells);
    } else {
        put_line(leaf, piece, &cells);
    }
}

/* ---- The STOP box --------------------------------------------------------------------------- */

static void take_boxed(struct leaf *leaf, const struct piece *piece) {
    const bool tick = strncmp(piece->text, "[ ] ", 4) == 0;
    if (leaf->box_head) {
        begin_section(leaf, "stop", piece->text);
        leaf->in_box = true;
        leaf->box_head = false;
        return;
    }
    if (!tick) {
        put(leaf, "<p>");
        columns_say(leaf, piece->text);
        put(leaf, "</p>\n");
        return;
    }
    put(leaf, "<div class=\"item\"><label class=\"tick\">");
    columns_box(leaf);
    put(leaf, "<span>");
    columns_say(leaf, piece->text + 4);
    put(leaf, "</span></label></div>\n");
}

void leaf_take(struct leaf *leaf, const struct piece *piece) {
    if (leaf->in_box && piece->kind != PIECE_BOXED && piece->kind != PIECE_BOX_EDGE) {
        leaf_end(leaf);
    }
    switch (piece->kind) {
    case PIECE_HEADING:
        take_heading(leaf, piece);
        break;
    case PIECE_STEP:
        take_step(leaf, piece);
        break;
    case PIECE_TICK:
        take_tick(leaf, piece);
        break;
    case PIECE_BOXED:
        take_boxed(leaf, piece);
        break;
    case PIECE_BOX_EDGE:
        leaf->box_head = leaf->box_head || !leaf->in_box;
        break;
    case PIECE_RULE:
    case PIECE_BLANK:
        break;
    default:
        take_line(leaf, piece);
    }
}
