#include "markup.h"

#include <string.h>

void markup_put(FILE *stream, const char *text) {
    for (; *text != '\0'; text++) {
        switch (*text) {
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
            fputc((unsigned char)*text < ' ' ? '?' : *text, stream);
        }
    }
}

const char *markup_guard(const char *text) {
    return text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL ? "'" : "";
}
