/* The chalk sheet: what a person takes up the roof, as text 80 columns wide.  It decides nothing
 * and computes no margin: figures come from the roof, the rounded marks and the verdict.
 */
#ifndef RUDDLE_SHEET_H
#define RUDDLE_SHEET_H

#include "carry.h"
#include "check.h"
#include "fit.h"
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

/* What a sheet says for a rule by its name in files ("course-edge"). */
const char *sheet_rule_words(const char *rule);

/* What a sheet calls a mark, `A-top-1`: written into a text of that size. */
void sheet_hole_name(const struct roof *roof, const struct marks *marks, size_t mark, char *name,
                     size_t size);

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
    const bool *done;      /* one a mark: drilled already, not to be drilled again; NULL: none is */
    const size_t *patches; /* one a kit: patch flashings to order over dead holes; NULL: none */
    size_t dead_holes;     /* drilled already, to be plugged and sealed */
    const struct fit *fit; /* which frames can stand together, where not all can and somebody has
                              looked; its brackets are those of the file; NULL: nothing is said */
};

/* Why a bracket was left off, in the words of files: of a fit that left it off. */
void sheet_left_off(const struct fit *fit, size_t bracket, char *text, size_t size);

/* True where every rule holds and, if strength was looked at, every lag and strut carries. */
bool sheet_good(const struct verdict *verdict, const struct strength *strength);

/* Fills in what a layout amounts to: layout to tape_broke, save roof; borrowed from *carried. */
void sheet_take_layout(struct answer *answer, const struct carried *carried);

/* What every page says of an answer that nobody may drill by; NULL where every rule holds. */
const char *sheet_stamp(const struct answer *answer);

/* A piece of the sheet before it is set in type. */
enum piece_kind {
    PIECE_HEADING, /* of a part of the sheet, on a new page */
    PIECE_RULE,    /* a line across */
    PIECE_BLANK,   /* room between paragraphs */
    PIECE_LINE,    /* a paragraph; two or more spaces part its columns */
    PIECE_STEP,    /* a numbered step with its box to tick: text without number and box */
    PIECE_TICK,    /* a box to tick below a step; columns as in a line */
    PIECE_BOXED,   /* a paragraph inside the STOP box, perhaps with a box to tick: "[ ] ..." */
    PIECE_BOX_EDGE /* where that box begins, is parted, and ends */
};

struct piece {
    enum piece_kind kind;
    unsigned step;           /* the number of the step that it is or belongs to; 0: none yet */
    size_t hang;             /* characters that further lines of a paragraph stand further in */
    const char *text;        /* as written, not cut to lines; borrowed; "" where there is none */
    const struct mark *hole; /* of answer.marks: the one hole that it is about; NULL: none */
};

/* Whoever sets the sheet in type of its own. */
struct sheet_taker {
    void (*take)(void *subject, const struct piece *piece);
    void *subject;
};

/* Who tells a sheet piece by piece: sheet_tell, or a sheet that says something before it. */
struct telling {
    enum outcome (*tell)(const void *subject, const struct sheet_taker *taker);
    const void *subject; /* borrowed */
};

/* The headings of the two parts of a sheet that works, and of what stands before it where holes are
 * drilled already. */
#define SHEET_DRILLED "HOLES ALREADY DRILLED"
#define SHEET_GROUND "ON THE GROUND"
#define SHEET_ROOF "ON THE ROOF"

/* How the step of the lag holes begins. */
#define SHEET_HOLES "LAG HOLES."

/* Columns of a line of which one is to be ringed. */
#define SHEET_FOUND "solid / edge / missed"
#define SHEET_BORED "clear / WOOD"

/* Hands the sheet over piece by piece, in the words and the order of sheet_write.  FAULT: no
 * memory. */
enum outcome sheet_tell(const struct answer *answer, const struct sheet_taker *taker);

/* Writes the sheet.  FAULT: no memory; a failed write is left for the caller to see on the stream.
 */
enum outcome sheet_write(const struct answer *answer, FILE *stream);

/* The holes in chalking order as CSV: a head line, then a line a hole; x, y and room to miss in the
 * file's measure.  No text of the roof file is a formula there.  FAULT: no memory. */
enum outcome sheet_write_csv(const struct answer *answer, FILE *stream);

/* One line a broken rule in the words of a sheet: where, needed, found, by how much, which way to
 * move; for `ruddle check`.  Returns how many were broken. */
/* One line a lag or strut that does not carry, for `ruddle check`.  strength may be NULL. */
void sheet_write_weak(const struct roof *roof, const struct marks *marks,
                      const struct strength *strength, FILE *stream);

size_t sheet_write_broken(const struct roof *roof, const struct marks *marks,
                          const struct verdict *verdict, FILE *stream);

/* Why each rule that is broken exists: one line a rule, however often it is broken.  strength may
 * be NULL. */
void sheet_write_reasons(const struct verdict *verdict, const struct strength *strength,
                         FILE *stream);

#endif
