#include "problem.h"

#include "markup.h"

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

static void print_one(const struct problem *problem, FILE *stream) {
    const char *separator = "";
    if (problem->file[0] != '\0') {
        markup_put_plain(stream, problem->file);
        if (problem->line > 0) {
            fprintf(stream, ":%d", problem->line);
        }
        separator = ": ";
    }
    if (problem->key[0] != '\0') {
        fputs(separator, stream);
        markup_put_plain(stream, problem->key);
        separator = ": ";
    }
    if (problem->found[0] != '\0') {
        fprintf(stream, "%sfound \"", separator);
        markup_put_plain(stream, problem->found);
        fputc('"', stream);
        separator = ", ";
    }
    if (problem->wanted[0] != '\0') {
        fprintf(stream, "%swanted ", separator);
        markup_put_plain(stream, problem->wanted);
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
