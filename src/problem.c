#include "problem.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* Copies a text into a field of `size` bytes, cut to fit, never in the middle of a UTF-8 letter. */
static void copy_cut(char *field, size_t size, const char *text) {
    if (text == NULL) {
        text = "";
    }
    size_t length = strlen(text);
    if (length >= size) {
        length = size - 1;
        while (length > 0 && ((unsigned char)text[length] & 0xC0u) == 0x80u) {
            length--;
        }
    }
    memcpy(field, text, length);
    field[length] = '\0';
}

/* Makes room for one more; false where there is none. */
static bool grow(struct problems *problems) {
    /* The list doubles at 0, 8, 16, 32 ...: its room follows from its count. */
    const size_t count = problems->count;
    const bool full = count == 0 || (count >= 8 && (count & (count - 1)) == 0);
    if (count >= PROBLEMS_MOST) {
        return false;
    }
    if (!full) {
        return true;
    }
    const size_t room = count == 0 ? 8 : 2 * count;
    struct problem *list = realloc(problems->list, room * sizeof *list);
    if (list == NULL) {
        return false;
    }
    problems->list = list;
    return true;
}

void problems_add(struct problems *problems, const char *file, int line, const char *key,
                  const char *found, const char *wanted) {
    problems->total++;
    if (!grow(problems)) {
        return;
    }
    struct problem *problem = &problems->list[problems->count++];
    copy_cut(problem->file, sizeof problem->file, file);
    problem->line = line;
    copy_cut(problem->key, sizeof problem->key, key);
    copy_cut(problem->found, sizeof problem->found, found);
    copy_cut(problem->wanted, sizeof problem->wanted, wanted);
}

/* The length in bytes of the letter that `text` starts with if it may be shown, else 0.  Control
 * characters (those above U+007F too: some terminals obey them), marks that turn the direction of
 * writing, and broken UTF-8 may not. */
static size_t shown_length(const unsigned char *text) {
    if (text[0] < 0x80) {
        return text[0] >= 0x20 && text[0] != 0x7F ? 1 : 0;
    }
    if (text[0] < 0xC2 || text[0] > 0xF4) {
        return 0;
    }
    const size_t length = text[0] < 0xE0 ? 2 : text[0] < 0xF0 ? 3 : 4;
    for (size_t i = 1; i < length; i++) {
        if ((text[i] & 0xC0u) != 0x80u) {
            return 0;
        }
    }
    const bool control = text[0] == 0xC2 && text[1] < 0xA0;
    const bool break_or_turn = text[0] == 0xE2 && text[1] == 0x80 && text[2] >= 0xA8 &&
                               text[2] <= 0xAE; /* U+2028 to U+202E */
    const bool isolate = text[0] == 0xE2 && text[1] == 0x81 && text[2] >= 0xA6 && text[2] <= 0xA9;
    return control || break_or_turn || isolate ? 0 : length;
}

static void print_shown(const char *text, FILE *stream) {
    const unsigned char *at = (const unsigned char *)text;
    while (*at != '\0') {
        const size_t length = shown_length(at);
        if (length == 0) {
            fputc('?', stream);
            at++;
        } else {
            fwrite(at, 1, length, stream);
            at += length;
        }
    }
}

static void print_one(const struct problem *problem, FILE *stream) {
    const char *separator = "";
    if (problem->file[0] != '\0') {
        print_shown(problem->file, stream);
        if (problem->line > 0) {
            fprintf(stream, ":%d", problem->line);
        }
        separator = ": ";
    }
    if (problem->key[0] != '\0') {
        fputs(separator, stream);
        print_shown(problem->key, stream);
        separator = ": ";
    }
    if (problem->found[0] != '\0') {
        fprintf(stream, "%sfound \"", separator);
        print_shown(problem->found, stream);
        fputc('"', stream);
        separator = ", ";
    }
    if (problem->wanted[0] != '\0') {
        fprintf(stream, "%swanted ", separator);
        print_shown(problem->wanted, stream);
    }
    fputc('\n', stream);
}

void problems_print(const struct problems *problems, FILE *stream) {
    for (size_t i = 0; i < problems->count; i++) {
        print_one(&problems->list[i], stream);
    }
    if (problems->total > problems->count) {
        fprintf(stream, "%zu more faults are not listed\n", problems->total - problems->count);
    }
}

void problems_free(struct problems *problems) {
    free(problems->list);
    *problems = (struct problems){0};
}
