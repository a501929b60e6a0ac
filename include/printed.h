/* The printed chalk sheet: the words and the order of the text sheet, set for paper, with boxes to
 * tick, the readings big, and the drawing on a page of its own.  It decides nothing and computes no
 * margin.
 */
#ifndef RUDDLE_PRINTED_H
#define RUDDLE_PRINTED_H

#include "drawing.h"
#include "problem.h"
#include "sheet.h"

#include <stdio.h>

/* What a printed sheet is made from; borrowed, nothing owned. */
struct printed {
    const struct answer *answer;
    const struct drawing *drawing; /* of that answer, for the same paper */
    enum paper paper;
    const struct telling *telling; /* NULL: sheet_tell of that answer */
};

/* Writes the PDF: the same bytes from the same answer.  FAULT: no memory; a failed write is left
 * for the caller to see on the stream. */
enum outcome printed_write(const struct printed *printed, FILE *stream);

#endif
