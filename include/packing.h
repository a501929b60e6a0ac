/* Packing: where several brackets stand on one plane, each in one of its own spots, none in
 * another's way, as near as possible to where they are wanted and on as few holes as possible.
 * docs/stands.md says why nothing is lost by it.
 */
#ifndef RUDDLE_PACKING_H
#define RUDDLE_PACKING_H

#include "pieces.h"
#include "problem.h"
#include "stands.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What struts reach beyond their brackets, and how large what they are made of is, in inches. */
struct arms {
    const struct arm (*list)[ROW_COUNT]; /* of each stand */
    double end, half;                    /* of a strut: beyond its lag or clamp, beside its line */
    double side, up, down;               /* of a flashing: beside its lag, above and below it */
    struct strips strips;                /* of rows' lines; borrowed; list NULL: anywhere */
};

/* A bracket to be packed. */
struct parcel {
    double width, height; /* inches */
    double want_x, want_y;
    double room;              /* at least this far from any other, and from another's room */
    const struct spot *spots; /* borrowed */
    size_t spot_count;
    double level;              /* at least so far from another's arms, and these twice as far from
                                  each other */
    const struct arms *arms;   /* borrowed; NULL: whatever they reach, it is not looked at */
    struct interval inside[2]; /* of spots with misses: X and Y that keep the setbacks, see
                                  stands.h; lo > hi where none do */
};

/* What a packing is worth: first what it lacks, then what it costs. */
struct worth {
    double lack; /* inches: the sum of shortfalls; 0 where no spot has a miss */
    double cost; /* inches moved, and holes */
};

enum { PACKING_LOOK = 16 };
struct packing_task {
    const struct parcel *parcels;
    size_t count;      /* ROOF_BRACKETS_MOST at most */
    double hole_worth; /* inches a hole */
    bool misses;       /* the spots have misses, and what they lack comes before the cost; brackets
                          that stand closer than `apart` lack half of what is missing */
    double apart;      /* inches */
    /* inches, by axis (along the eave, up the slope), lower and higher of a pair: so much more room
     * between them than their own; borrowed, NULL: none */
    const double (*wider)[ROOF_BRACKETS_MOST][ROOF_BRACKETS_MOST];
    const struct worth *than; /* only what is better is of use; borrowed; NULL: anything is */
    bool any;                 /* any packing will do: the first one found is returned */
    size_t most_nodes;        /* any: nodes that are gone through; 0: no limit */
    bool hasty;               /* any: brackets in ranks are looked at once, and no closer */
    /* Asked every PACKING_LOOK nodes of the search, more often where there are many; true: stop
     * with what there is.  May be NULL. */
    bool (*stop)(void *subject);
    void *subject;
};

/* Where one bracket stands. */
struct placed {
    double x, y;
    struct spot spot;
    struct rather rather; /* so that others and their arms are clear of its own */
};

/* What keeps two parts of brackets apart, in the way in which a packing has them furthest apart:
 * with reach[] along the axis (of the brackets where goes[]),
 *     at(after) * goes[1] + reach[1] - at(before) * goes[0] - reach[0] >= times * level
 * and reach[0] rises, reach[1] falls as slope[] times the brackets' own levels do. */
struct apart_by {
    size_t bracket[2]; /* before, after */
    bool up;           /* the slope; otherwise along the eave */
    bool goes[2];
    double reach[2], slope[2], times;
};
/* Calls `see` for each; placed is what packing_find found for the task. */
void packing_see_arms(const struct packing_task *task, const struct placed *placed,
                      void (*see)(void *subject, const struct apart_by *by), void *subject);

/* Sets where the lines and lags of brackets had better be, by their spots, as packing_find does. */
void packing_clear_lines(const struct packing_task *task, struct placed *placed);

enum packing_end {
    PACKING_PROVED,   /* the best there is (any: one there is) */
    PACKING_FOUND,    /* stopped: a packing, perhaps not the best */
    PACKING_NONE,     /* proved: there is none */
    PACKING_UNDECIDED /* stopped before any was found */
};

static inline bool packing_there(enum packing_end end) {
    return end == PACKING_PROVED || end == PACKING_FOUND;
}

/* Packs.  *placed (room for count) and *worth are set where a packing was found; *bound is proved:
 * nothing lacks less, and nothing that lacks as little costs less.  FAULT: no memory. */
enum outcome packing_find(const struct packing_task *task, enum packing_end *end,
                          struct placed *placed, struct worth *worth, struct worth *bound);

/* Brackets of one kind before their spots are known: how many there are, and the least that one of
 * them can lack by its X, in the lower rank and the upper one (docs/stands.md; borrowed). */
struct prospect {
    size_t size;
    double width, height, room; /* as of a parcel */
    struct interval along, up;  /* where any of them may be */
    struct pieces lacks[2];
};
enum { PROSPECTS_MOST = 16 };
struct prospect_task {
    struct prospect kinds[PROSPECTS_MOST];
    size_t count;
    double apart;
    bool (*stop)(void *subject); /* as of packing_task */
    void *subject;
};

/* Whether they stand in one rank or two, and the Y of each kind in either; false: there may be
 * more. */
bool prospects_ranks(const struct prospect_task *task, struct interval up[PROSPECTS_MOST][2],
                     size_t *count);

/* The least that all lack together, and the least that all others do by the X of one of a kind
 * (rest, one each, empty and owned by the caller even without memory).  *known is false where that
 * could not be found.  FAULT: no memory. */
enum outcome prospects_find(const struct prospect_task *task, struct pieces *rest, double *least,
                            bool *known);

/* What a bracket lacks at a place in its spot. */
double packing_lack(const struct parcel *parcel, const struct spot *spot, double x, double y);

#endif
