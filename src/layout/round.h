/* Rounding to the tape, cut into four: round.c (plain rounding and the order of steps),
 * round_reading.c (a bracket's readings and which of them keep target and course), round_bound.c
 * (what a part can still come to at best) and round_search.c (branch and bound over the readings).
 *
 * Every reading has five values, the plain rounding and two ticks to either side, numbered by steps
 * 0 ... 4; step 2 is the plain one.  A *place* is a step of X and a step of Y together.
 */
#ifndef RUDDLE_LAYOUT_ROUND_H
#define RUDDLE_LAYOUT_ROUND_H

#include "check.h"
#include "layout.h"
#include "marks.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

enum {
    ROUND_STEPS = 5,
    ROUND_LINES = ROW_COUNT + ROOF_PIPES_MOST, /* a bracket's rows, then each pipe as its own */
    ROUND_PLAIN = 2,                           /* the step of plain rounding */
    ROUND_PLACES = ROUND_STEPS * ROUND_STEPS,
    ROUND_PLAIN_PLACE = ROUND_PLAIN * ROUND_STEPS + ROUND_PLAIN,
};

/* Figures of two candidates closer than this are equal, and the next in the order decides. */
#define ROUND_SLACK 1e-9

/* What marks come to, or what they can still come to at best, in the order in which it counts. */
struct worth {
    size_t broken;      /* hard rules broken */
    double forgiveness; /* least counted margin, capped at roof.enough */
    double shortfall;   /* sum of max(0, -margin) over the counted rules */
    size_t bare;        /* hard rules of struts without a tick to spare */
    double moved;       /* |X - want_x| + |Y - want_y| */
    double away;        /* how far the readings are from the unrounded figures, summed */
};

/* One reading: as the layout has it, and its five values.  Inches on the tape. */
struct figure {
    double exact;
    double value[ROUND_STEPS]; /* whole ticks, rising */
    double away[ROUND_STEPS];  /* |value - exact| */
};

/* Where a lag may still come to lie. */
struct span {
    double lo, hi;
};

/* A mark of a row. */
struct lag {
    struct figure reading;
    size_t ply;                          /* its target */
    double x[ROUND_STEPS][ROUND_STEPS];  /* by step of the row's height, then of the reading */
    bool kept[ROUND_STEPS][ROUND_STEPS]; /* same order: the target is the one that check infers */
    struct span open[ROUND_STEPS];       /* of x, by step of the height: those kept */
    size_t step;                         /* chosen */
};

struct line {
    size_t course;
    size_t pipe; /* of a pipe's line: index into roof.pipes */
    const struct flashing *flashing;
    struct figure height;
    bool kept[ROUND_STEPS]; /* at this height check infers the row's own course */
    struct lag *lags;       /* in order of x */
    size_t count;           /* 0: the row has no marks, and nothing else here is set */
    size_t step;            /* chosen */
    /* Rules of one mark, by place (a strut's by the first place alone), lag, step of the height,
     * step of the reading; filled when first asked for. */
    struct least *tables[ROUND_PLACES];
};

/* What was worked out about a place when it was first asked for. */
struct place {
    bool ready;
    struct worth own;                            /* the bracket's own rules, moved and away */
    struct least rows[ROUND_LINES][ROUND_STEPS]; /* where each row would meet it */
    struct worth best[ROUND_LINES];              /* of each row, nothing of it chosen yet */
};

/* One bracket with all its readings. */
struct piece {
    size_t bracket; /* index into roof.brackets */
    const struct kit *kit;
    enum hardware hardware[ROUND_LINES]; /* of a pipe's line: never a strut */
    struct figure across, up;            /* X and Y */
    double x[ROUND_STEPS][ROUND_STEPS];  /* X by step of across, then of up */
    struct line lines[ROUND_LINES];
    struct place places[ROUND_PLACES];
    size_t place;        /* chosen: step of across * ROUND_STEPS + step of up */
    bool found;          /* a search has chosen, and targets and courses are kept */
    double forgiveness;  /* found: capped, as the search had it */
    size_t broken, bare; /* found: as in worth */
};

struct pieces {
    const struct roof *roof;
    struct piece *list; /* one a bracket of the roof */
    size_t count;
    size_t mark_count;
};

/* The readings of a layout, with plain rounding chosen.  FAULT: no memory.  *pieces is untouched
 * unless DONE; owned by the caller (round_pieces_free), and borrows roof. */
enum outcome round_pieces_new(const struct roof *roof, const struct layout *layout, enum side from,
                              struct pieces **pieces);
void round_pieces_free(struct pieces *pieces); /* accepts NULL */

struct standing round_standing(const struct piece *piece, size_t place);

/* Writes the chosen readings of a piece as bracket `bracket` of marks, from mark *next on. */
void round_write(const struct piece *piece, size_t bracket, struct marks *marks, size_t *next);

/* Nothing known yet, nothing lost yet: what every bound starts from. */
struct worth round_unbounded(const struct roof *roof);

/* What no reading can mend: a forgiveness of -INFINITY, and more rules broken than a roof has. */
enum { ROUND_HOPELESS = 1000000 };
struct worth round_hopeless(void);

/* |X - want_x| + |Y - want_y| at a place. */
double round_moved(const struct roof *roof, const struct piece *piece, size_t place);

/* One margin more, of a counted rule. */
void round_note(struct worth *worth, double margin);

/* A part and another part, both needed. */
struct worth round_both(struct worth a, struct worth b);

/* Works out a place, if that was not yet done; false without memory. */
bool round_place_ready(const struct roof *roof, struct piece *piece, size_t place);

/* The best that a row can come to at a place made ready and a step of its height, the steps of its
 * first `fixed` lags being chosen (line.lags[].step).  Hopeless where no reading keeps a
 * target.  With every lag fixed, only the sides of a strut's clamps are still open. */
struct worth round_row_best(const struct roof *roof, const struct piece *piece, size_t place,
                            enum row row, size_t step, size_t fixed);

/* The rectangle that a strut covers whatever sides its clamps are on, all readings chosen. */
struct box round_strut_box(const struct piece *piece, enum row row);
struct box round_flashing_box(const struct piece *piece, enum row row, size_t lag);
struct box round_bracket_box(const struct piece *piece);

/* The greater of the gaps along x and y; negative where two boxes overlap. */
double round_gap(struct box a, struct box b);

/* strut-clamp, strut-span, strut-stock: the hard rules that a tick to spare is wanted on. */
bool round_is_strut_rule(enum rule rule);

/* Chooses the best readings of some pieces, every other bracket left out of sight, and marks them
 * found; where no reading keeps every target and course, plain rounding, not found.  *budget is
 * lowered by the work done; where it runs out, the best so far is taken and *proved set to false.
 * FAULT: no memory. */
enum outcome round_search(const struct roof *roof, struct piece *const *pieces, size_t count,
                          size_t *budget, bool *proved);

#endif
