/* The page for the phone: the whole sheet, the drawing and boxes to tick in one HTML file that
 * needs no network and no other file.  Its words are the text sheet's; it decides nothing and
 * computes no margin.
 */
#ifndef RUDDLE_POCKET_H
#define RUDDLE_POCKET_H

#include "drawing.h"
#include "problem.h"
#include "sheet.h"

#include <stdio.h>

/* What a page is made from; borrowed, nothing owned. */
struct pocket {
    const struct answer *answer;
    const struct drawing *drawing; /* of that answer */
    const struct telling *telling; /* NULL: sheet_tell of that answer */
};

/* Writes the page: the same bytes from the same answer.  FAULT: no memory; a failed write is left
 * for the caller to see on the stream. */
enum outcome pocket_write(const struct pocket *pocket, FILE *stream);

#endif
