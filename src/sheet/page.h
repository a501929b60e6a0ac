/* The page: lines of plain ASCII no wider than 80 columns, and lengths as the sheet shows them. */
#ifndef RUDDLE_SHEET_PAGE_H
#define RUDDLE_SHEET_PAGE_H

#include "length.h"
#include "roof.h"
#include "sheet.h"

#include <stdio.h>

enum {
    PAGE_WIDTH = 80,
    PAGE_TEXT = 1024, /* bytes of the longest line before it is wrapped */
};

struct page {
    FILE *stream; /* NULL where a taker sets the type itself */
    const struct answer *answer;
    unsigned step;                   /* the number of the last step written */
    const struct sheet_taker *taker; /* NULL: lines of text go to the stream */
    const struct mark *hole;         /* that what follows is about; NULL: none */
};

#if defined(__GNUC__)
#define PAGE_FORMAT(text, first) __attribute__((__format__(__printf__, text, first)))
#else
#define PAGE_FORMAT(text, first)
#endif

/* Writes one line.  What is wider than the page goes on in further lines, `hang` columns in,
 * broken between words.  Each character that is not plain ASCII becomes one '?'. */
void page_line(struct page *page, int hang, const char *format, ...) PAGE_FORMAT(3, 4);

void page_blank(struct page *page);
void page_rule(struct page *page, char sign); /* a line of that sign, as wide as the page */

/* A heading across the page, the fingerprint at its right. */
void page_heading(struct page *page, const char *title);

/* A numbered step with its box to tick, and one without a number below it. */
void page_step(struct page *page, const char *format, ...) PAGE_FORMAT(2, 3);
void page_tick(struct page *page, const char *format, ...) PAGE_FORMAT(2, 3);

/* A line inside a box of '|', wrapped inside it. */
void page_boxed(struct page *page, const char *format, ...) PAGE_FORMAT(2, 3);
void page_box_edge(struct page *page);

/* What the sheet counts in: millimetres for a tape marked in them, inches for one marked in a
 * half, a quarter, ... of one, otherwise the file's measure. */
enum measure page_measure(const struct roof *roof);

/* A length to the tape in use, a fraction tied to its inches: 5' 4-1/2" (64-1/2), 2-1/8".
 * Returns buffer. */
const char *page_length(const struct roof *roof, char buffer[LENGTH_TEXT], double inches);

/* A length finer than the tape (to 1/32 in, or 1 mm), for what is measured against a rule. */
const char *page_fine(const struct roof *roof, char buffer[LENGTH_TEXT], double inches);

/* A spare: never more than there is; `under 1/32"` where it would read as nothing. */
const char *page_spare(const struct roof *roof, char buffer[LENGTH_TEXT], double inches);

/* A shortage (positive inches): never less than it is. */
const char *page_short(const struct roof *roof, char buffer[LENGTH_TEXT], double inches);

/* The size that a part is sold by, in the file's measure whatever the tape shows. */
const char *page_part(const struct roof *roof, char buffer[LENGTH_TEXT], double inches);

/* A fixed figure of the sheet's own. */
const char *page_either(const struct roof *roof, const char *in_text, const char *mm_text);

#endif
