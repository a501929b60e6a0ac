#include "markup.h"

#include "letter.h"

#include <string.h>

/* How one letter goes out. */
typedef void (*putter)(FILE *stream, const char *letter, size_t length);

static void put_plain(FILE *stream, const char *letter, size_t length) {
    fwrite(letter, 1, length, stream);
}

static void put_escaped(FILE *stream, const char *letter, size_t length) {
    switch (*letter) {
    case '&':
        fputs("&amp;", stream);
        break;
    case '<':
        fputs("&lt;", stream);
        break;
    case '>':
        fputs("&gt;", stream);
        break;
    case '"':
        fputs("&quot;", stream);
        break;
    case '\'':
        fputs("&#39;", stream);
        break;
    default:
        put_plain(stream, letter, length);
    }
}

static void put_doubled(FILE *stream, const char *letter, size_t length) {
    fputs(*letter == '"' ? "\"" : "", stream);
    put_plain(stream, letter, length);
}

static void put_letters(FILE *stream, const char *text, putter put) {
    bool shown = true;
    for (size_t length = letter_step(text, &shown); length > 0;
         length = letter_step(text, &shown)) {
        if (shown) {
            put(stream, text, length);
        } else {
            fputc('?', stream);
        }
        text += length;
    }
}

void markup_put(FILE *stream, const char *text) {
    put_letters(stream, text, put_escaped);
}

void markup_put_plain(FILE *stream, const char *text) {
    put_letters(stream, text, put_plain);
}

void markup_put_quoted(FILE *stream, const char *text) {
    fprintf(stream, "\"%s", markup_guard(text));
    put_letters(stream, text, put_doubled);
    fputc('"', stream);
}

/* The signs that formulas begin with, and the wide ones that spreadsheets take for them. */
static bool begins_formula(uint32_t letter) {
    static const uint32_t signs[] = {'=', '+', '-', '@', 0xFF1D, 0xFF0B, 0xFF0D, 0xFF20};
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        if (letter == signs[i]) {
            return true;
        }
    }
    return false;
}

const char *markup_guard(const char *text) {
    uint32_t letter = 0;
    const bool blank = text[0] != '\0' && strchr("\t\r\n", text[0]) != NULL;
    const bool read = letter_read(text + strspn(text, " \t\r\n"), &letter) > 0;
    return blank || (read && begins_formula(letter)) ? "'" : "";
}
