#include "markup.h"

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
            fputc(*text, stream);
        }
    }
}
