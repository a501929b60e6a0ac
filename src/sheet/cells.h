/* A piece of the sheet comes as a line of text whose columns are parted by two or more spaces, each
 * where it stands on an 80-column page; here it is cut at them, for whoever sets it in type. */
#ifndef RUDDLE_SHEET_CELLS_H
#define RUDDLE_SHEET_CELLS_H

#include <stddef.h>

enum { CELLS_MOST = 6, CELL_TEXT = 1024 };

/* One column of a line. */
struct cell {
    size_t column; /* where it begins */
    char text[CELL_TEXT];
};

struct cells {
    struct cell list[CELLS_MOST];
    size_t count; /* 0 of a blank line */
};

/* Cuts a line; what goes beyond the last cell stays in it, spaces and all. */
void cells_part(const char *text, struct cells *cells);

#endif
