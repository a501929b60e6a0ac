/* The form as text: what fits a printer of any age, and a terminal. */
#include "form.h"
#include "parts.h"

#include <string.h>

static void write_signs(char sign, int count, FILE *stream) {
    for (int i = 0; i < count; i++) {
        fputc(sign, stream);
    }
}

/* Words wrapped at the width of the form. */
static void write_wrapped(const char *text, FILE *stream) {
    size_t used = 0;
    while (*text != '\0') {
        const size_t length = strcspn(text, " ");
        if (used > 0 && used + 1 + length > FORM_WIDTH) {
            fputc('\n', stream);
            used = 0;
        }
        used += (size_t)fprintf(stream, "%s%.*s", used > 0 ? " " : "", (int)length, text);
        text += length;
        text += strspn(text, " ");
    }
    fputc('\n', stream);
}

/* Returns the columns written. */
static int write_ticks(const char *ticks, FILE *stream) {
    int used = 0;
    while (ticks != NULL) {
        const char *word = NULL;
        const size_t length = form_word(&ticks, &word);
        used += fprintf(stream, " [ ] %.*s", (int)length, word);
    }
    return used;
}

static int write_line(const struct form_line *line, FILE *stream) {
    int used = fprintf(stream, "%s", line->label);
    if (line->ticks != NULL) {
        return used + write_ticks(line->ticks, stream);
    }
    fputc(' ', stream);
    write_signs('_', FORM_LINES - used - 1, stream);
    return FORM_LINES;
}

/* Lines to fill in on the left, the sketch on the right. */
static void write_lines(const struct form_part *part, FILE *stream) {
    const size_t count = part->line_count > part->art_count ? part->line_count : part->art_count;
    for (size_t i = 0; i < count; i++) {
        const int used = i < part->line_count ? write_line(&part->lines[i], stream) : 0;
        if (i < part->art_count) {
            fprintf(stream, "%*s%s", FORM_LINES + 1 - used, "", part->art[i]);
        }
        fputc('\n', stream);
    }
}

static void write_rule(const struct form_table *table, FILE *stream) {
    for (size_t i = 0; i < table->columns; i++) {
        fputc('+', stream);
        write_signs('-', table->widths[i], stream);
    }
    fputs("+\n", stream);
}

static void write_heads(const struct form_table *table, FILE *stream) {
    for (int line = 0; line < 2; line++) {
        for (size_t i = 0; i < table->columns; i++) {
            const char *rest = table->heads[i], *word = NULL;
            size_t length = form_word(&rest, &word);
            if (line == 1) {
                length = form_word(&rest, &word);
            }
            fprintf(stream, "|%-*.*s", table->widths[i], (int)length, word);
        }
        fputs("|\n", stream);
    }
}

static void write_table(const struct form_table *table, FILE *stream) {
    write_rule(table, stream);
    write_heads(table, stream);
    write_rule(table, stream);
    for (size_t line = 1; line <= table->lines; line++) {
        for (size_t i = 0; i < table->columns; i++) {
            if (i == 0 && table->numbered) {
                fprintf(stream, "|%*zu ", table->widths[i] - 1, line);
            } else {
                fprintf(stream, "|%*s", table->widths[i], "");
            }
        }
        fputs("|\n", stream);
        write_rule(table, stream);
    }
}

enum outcome form_write_text(FILE *stream) {
    size_t count = 0;
    const struct form_part *parts = form_parts(&count);
    write_signs('=', FORM_WIDTH, stream);
    fputs("\n" FORM_TITLE "\n", stream);
    write_signs('=', FORM_WIDTH, stream);
    fputc('\n', stream);
    write_wrapped(FORM_RULE, stream);
    for (size_t i = 0; i < count; i++) {
        const int used = fprintf(stream, "\n%zu. %s ", i + 1, parts[i].title) - 1;
        write_signs('-', FORM_WIDTH - used, stream);
        fputc('\n', stream);
        write_wrapped(parts[i].why, stream);
        fputc('\n', stream);
        write_lines(&parts[i], stream);
        if (parts[i].table != NULL) {
            write_table(parts[i].table, stream);
        }
    }
    return OUTCOME_DONE;
}
