#include "cells.h"

#include <stdbool.h>
#include <string.h>

static size_t cell_length(const char *text) {
    size_t length = 0;
    while (text[length] != '\0' && !(text[length] == ' ' && text[length + 1] == ' ')) {
        length++;
    }
    return length;
}

void cells_part(const char *text, struct cells *cells) {
    size_t at = 0;
    cells->count = 0;
    while (text[at += strspn(text + at, " ")] != '\0') {
        const bool last = cells->count + 1 == CELLS_MOST;
        const size_t length = last ? strlen(text + at) : cell_length(text + at);
        struct cell *cell = &cells->list[cells->count++];
        cell->column = at;
        const size_t kept = length < CELL_TEXT ? length : CELL_TEXT - 1;
        memcpy(cell->text, text + at, kept);
        cell->text[kept] = '\0';
        at += length;
    }
}
