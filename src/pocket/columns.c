#include "columns.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#define BOX "[ ] "
#define BLANK "____"

void columns_box(struct leaf *leaf) {
    fprintf(leaf->stream, "<input type=\"checkbox\" id=\"i%zu\">", ++leaf->inputs);
}

bool columns_asks(const char *text) {
    return strstr(text, BOX) != NULL || strstr(text, BLANK) != NULL;
}

/* The first `length` bytes of a text. */
static void put_first(struct leaf *leaf, const char *text, size_t length) {
    char kept[CELL_TEXT];
    length = length < sizeof kept ? length : sizeof kept - 1;
    memcpy(kept, text, length);
    kept[length] = '\0';
    leaf_text(leaf, kept);
}

/* The same without the blanks at their end. */
static void put_trimmed(struct leaf *leaf, const char *text, size_t length) {
    while (length > 0 && text[length - 1] == ' ') {
        length--;
    }
    put_first(leaf, text, length);
}

/* The bytes of the length at the head of a text: `5' 4-1/2"`, `1245 mm`; 0: there is none. */
static size_t length_at(const char *text) {
    size_t length = strspn(text, "0123456789/-'\". ");
    while (length > 0 && text[length - 1] == ' ') {
        length--;
    }
    if (strncmp(text + length, " mm", 3) == 0) {
        return length + 3;
    }
    return length > 0 && strchr("'\"", text[length - 1]) != NULL ? length : 0;
}

/* The bytes of ` (64-1/2)`, the same length in plain inches; 0: there is none. */
static size_t plain_at(const char *text) {
    const size_t digits = strncmp(text, " (", 2) == 0 ? strspn(text + 2, "0123456789/-.") : 0;
    return digits > 0 && text[2 + digits] == ')' ? digits + 3 : 0;
}

/* Where in a text the next length begins; its end where there is none. */
static const char *next_length(const char *text) {
    for (const char *at = text; *at != '\0'; at++) {
        const bool inside = at > text && (isalnum((unsigned char)at[-1]) || at[-1] == '/');
        if (!inside && isdigit((unsigned char)*at) && length_at(at) > 0) {
            return at;
        }
    }
    return text + strlen(text);
}

void columns_say(struct leaf *leaf, const char *text) {
    while (*text != '\0') {
        const char *at = next_length(text);
        put_first(leaf, text, (size_t)(at - text));
        text = at;
        if (*text != '\0') {
            const size_t length = length_at(text) + plain_at(text + length_at(text));
            fputs("<span class=\"nb\">", leaf->stream);
            put_first(leaf, text, length);
            fputs("</span>", leaf->stream);
            text += length;
        }
    }
}

static void put_words(struct leaf *leaf, const char *text) {
    const bool count = text[strspn(text, "0123456789X")] == '\0'; /* or an X in its place */
    fputs(count ? "<span class=\"n\">" : "<span>", leaf->stream);
    columns_say(leaf, text);
    fputs("</span>\n", leaf->stream);
}

/* A reading, behind it the same in plain inches, each in one piece; then what else is said.  `way`
 * tells which way it is taped, where that is not plain. */
static void put_reading(struct leaf *leaf, const char *text, const char *way) {
    const size_t length = length_at(text), plain = plain_at(text + length);
    fprintf(leaf->stream, "<span>%s<span class=\"fig\"><b>", way);
    put_first(leaf, text, length);
    fputs("</b>", leaf->stream);
    if (plain > 0) {
        fputs(" <i>", leaf->stream);
        put_first(leaf, text + length + 1, plain - 1);
        fputs("</i>", leaf->stream);
    }
    fputs("</span>", leaf->stream);
    columns_say(leaf, text + length + plain);
    fputs("</span>\n", leaf->stream);
}

/* `solid / edge / missed`: one of them. */
static void put_choice(struct leaf *leaf, const char *text) {
    const size_t group = leaf->inputs + 1;
    fputs("<span class=\"picks\" role=\"radiogroup\" aria-label=\"What the bit found\">",
          leaf->stream);
    while (*text != '\0') {
        const char *end = strstr(text, " / ");
        const size_t length = end == NULL ? strlen(text) : (size_t)(end - text);
        fprintf(leaf->stream,
                "<label class=\"pick\"><input type=\"radio\" name=\"r%zu\" id=\"i%zu\"> ", group,
                ++leaf->inputs);
        put_first(leaf, text, length);
        fputs("</label>\n", leaf->stream);
        text += length + (end == NULL ? 0 : 3);
    }
    fputs("</span>\n", leaf->stream);
}

/* `Date ____________`. */
static void put_blank(struct leaf *leaf, const char *text, const char *blank) {
    fputs("<label class=\"blank\">", leaf->stream);
    put_trimmed(leaf, text, (size_t)(blank - text));
    fprintf(leaf->stream, " <input type=\"text\" id=\"i%zu\" autocomplete=\"off\"></label>\n",
            ++leaf->inputs);
}

static void put_box(struct leaf *leaf, const char *text) {
    fputs("<label class=\"pick\">", leaf->stream);
    columns_box(leaf);
    fputc(' ', leaf->stream);
    leaf_text(leaf, text);
    fputs("</label>\n", leaf->stream);
}

static void put_column(struct leaf *leaf, const char *text) {
    const char *choice = strstr(text, SHEET_FOUND);
    const char *blank = strstr(text, BLANK);
    choice = choice == NULL ? strstr(text, SHEET_BORED) : choice;
    if (strncmp(text, BOX, sizeof BOX - 1) == 0) {
        put_box(leaf, text + sizeof BOX - 1);
    } else if (choice != NULL) {
        if (choice > text) {
            fputs("<span>", leaf->stream);
            put_trimmed(leaf, text, (size_t)(choice - text));
            fputs("</span>\n", leaf->stream);
        }
        put_choice(leaf, choice);
    } else if (blank != NULL) {
        put_blank(leaf, text, blank);
    } else {
        put_words(leaf, text);
    }
}

/* True for a column that is a length and nothing else. */
static bool is_bare(const struct cells *cells, size_t cell) {
    const char *text = cells->list[cell].text;
    const size_t length = length_at(text);
    return length > 0 && text[length + plain_at(text + length)] == '\0';
}

/* Two bare lengths side by side are a place: along the line, and up the roof. */
static const char *way_of(const struct cells *cells, size_t cell) {
    if (cell + 1 < cells->count && is_bare(cells, cell) && is_bare(cells, cell + 1)) {
        return "along ";
    }
    return cell > 0 && is_bare(cells, cell) && is_bare(cells, cell - 1) ? "up " : "";
}

void columns_put(struct leaf *leaf, const struct cells *cells) {
    for (size_t i = 0; i < cells->count; i++) {
        const char *text = cells->list[i].text;
        if (i > 0 && length_at(text) > 0) {
            put_reading(leaf, text, way_of(cells, i));
        } else {
            put_column(leaf, text);
        }
    }
}

void columns_words(struct leaf *leaf, const struct cells *cells, size_t from) {
    for (size_t i = from; i < cells->count; i++) {
        const char *way = way_of(cells, i);
        if (way[0] != '\0') {
            fprintf(leaf->stream, "<span>%s", way);
            columns_say(leaf, cells->list[i].text);
            fputs("</span>\n", leaf->stream);
        } else {
            put_column(leaf, cells->list[i].text);
        }
    }
}
