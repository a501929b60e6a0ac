/* The chalk sheet: what a person takes up the roof, as text 80 columns wide.  It decides nothing
 * and computes no margin: figures come from the roof, the rounded marks and the verdict.
 */
#ifndef RUDDLE_SHEET_H
#define RUDDLE_SHEET_H

#include "check.h"
#include "layout.h"
#include "marks.h"
#include "problem.h"
#include "roof.h"
#include "strength.h"

#include <stdbool.h>
#include <stdio.h>

/* What the answer amounts to; the words of the JSON. */
enum status { STATUS_OK, STATUS_BLOCKED, STATUS_UNDECIDED };
const char *sheet_status_word(enum status status);

/* Everything a sheet or a JSON result is made from; borrowed, nothing owned. */
struct answer {
    const struct roof *roof;
    const struct layout *layout;     /* the optimiser's own, before rounding */
    const struct marks *marks;       /* rounded, as printed; NULL without a layout */
    const struct verdict *verdict;   /* on those marks; NULL without a layout */
    const struct strength *strength; /* of those marks; NULL without loads or a layout */
    bool none_carry;                 /* proved: no layout's lags and struts carry */
    size_t set_aside;                /* layouts that were found first and did not carry */
    enum status status;
    bool tight;              /* ok, with a counted margin below 1/16 in */
    bool tape_broke;         /* blocked only because no reading on this tape obeys */
    enum side from;          /* the rake that the readings start from */
    double burn;             /* inches added to every reading along a line */
    const char *fingerprint; /* of roof, kits and options: 8 hexadecimal digits */
    double limit_s;
    const bool *done; /* one a mark: drilled already, not to be drilled again; NULL: none is */
};

/* Writes the sheet.  FAULT: no memory; a failed write is left for the caller to see on the stream.
 */
enum outcome sheet_write(const struct answer *answer, FILE *stream);

/* One line a broken rule in the words of a sheet: where, needed, found, by how much, which way to
 * move; for `ruddle check`.  Returns how many were broken. */
/* One line a lag or strut that does not carry, for `ruddle check`.  strength may be NULL. */
void sheet_write_weak(const struct roof *roof, const struct marks *marks,
                      const struct strength *strength, FILE *stream);

size_t sheet_write_broken(const struct roof *roof, const struct marks *marks,
                          const struct verdict *verdict, FILE *stream);

#endif
