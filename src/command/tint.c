#include "tint.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define PLAIN "\033[0m"

enum tint { TINT_NONE, TINT_BOLD, TINT_GOOD, TINT_DANGER, TINT_COUNT };

static const char *const codes[TINT_COUNT] = {
    [TINT_NONE] = "",
    [TINT_BOLD] = "\033[1m",
    [TINT_GOOD] = "\033[1;32m",
    [TINT_DANGER] = "\033[1;31m",
};

bool tint_wanted(void) {
    const char *no = getenv("NO_COLOR"), *terminal = getenv("TERM");
    return isatty(STDOUT_FILENO) == 1 && (no == NULL || no[0] == '\0') && terminal != NULL &&
           terminal[0] != '\0' && strcmp(terminal, "dumb") != 0;
}

/* A line of the text, without its end. */
struct line {
    const char *text;
    size_t length;
};

static bool begins(const struct line *line, const char *words) {
    return strncmp(line->text, words, strlen(words)) == 0;
}

static bool holds(const struct line *line, const char *words) {
    const char *found = strstr(line->text, words);
    return found != NULL && found < line->text + line->length;
}

static bool is_rule(const struct line *line) {
    return line->length > 2 && strspn(line->text, "=") >= line->length;
}

/* What a line is; `before` is that of the line before it, which it may go on. */
static enum tint tint_of(const struct line *line, enum tint before) {
    if (begins(line, "! ") || holds(line, "STOP") || holds(line, "DO NOT") ||
        holds(line, "does NOT work")) {
        return TINT_DANGER;
    }
    if (before == TINT_DANGER && begins(line, "  ") && isalpha((unsigned char)line->text[2])) {
        return TINT_DANGER; /* the warning above goes on */
    }
    if (begins(line, "every rule holds") || (begins(line, "Result ") && holds(line, " WORKS"))) {
        return TINT_GOOD;
    }
    return begins(line, "[ ] ") || begins(line, "ON THE ") || is_rule(line) ? TINT_BOLD : TINT_NONE;
}

/* The reading of a line with a box: behind two blanks, up to the next two. */
static struct line reading_of(const struct line *line) {
    struct line reading = {line->text + line->length, 0};
    for (size_t i = 6; begins(line, "  [ ] ") && i + 2 < line->length; i++) {
        const char *at = line->text + i;
        if (at[0] == ' ' && at[1] == ' ' && isdigit((unsigned char)at[2])) {
            const char *end = strstr(at + 2, "  ");
            const char *last = line->text + line->length;
            reading.text = at + 2;
            reading.length = (size_t)((end == NULL || end > last ? last : end) - reading.text);
            break;
        }
    }
    return reading;
}

static void put_tinted(const struct line *piece, enum tint tint, FILE *stream) {
    if (piece->length > 0) {
        fprintf(stream, "%s%.*s%s", codes[tint], (int)piece->length, piece->text,
                tint == TINT_NONE ? "" : PLAIN);
    }
}

static void put_line(const struct line *line, enum tint tint, FILE *stream) {
    const struct line reading = reading_of(line);
    if (tint != TINT_NONE || reading.length == 0) {
        put_tinted(line, tint, stream);
        return;
    }
    const size_t before = (size_t)(reading.text - line->text);
    const struct line head = {line->text, before};
    const struct line tail = {reading.text + reading.length,
                              line->length - before - reading.length};
    put_tinted(&head, TINT_NONE, stream);
    put_tinted(&reading, TINT_BOLD, stream);
    put_tinted(&tail, TINT_NONE, stream);
}

void tint_put(const char *text, FILE *stream) {
    enum tint before = TINT_NONE;
    while (*text != '\0') {
        const struct line line = {text, strcspn(text, "\n")};
        before = tint_of(&line, before);
        put_line(&line, before, stream);
        text += line.length;
        if (*text == '\n') {
            fputc('\n', stream);
            text++;
        }
    }
}
