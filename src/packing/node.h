/* A node of the search while it is looked at: what is left of every bracket's spots, and where the
 * brackets would stand best.  Private to this folder. */
#ifndef RUDDLE_NODE_H
#define RUDDLE_NODE_H

#include "packing.h"
#include "spread.h"

#include <stdint.h>

/* Places closer than this are the same: a rule holds down to 1e-6. */
#define SAME 1e-7
/* Sums of shortfalls closer than this are the same. */
#define LACK_SAME 1e-6
/* Four ways for the second bracket of a pair to be apart from the first. */
enum way { WAY_NONE, WAY_AFTER, WAY_BEFORE, WAY_OVER, WAY_UNDER };

enum axis { ALONG, UP, AXIS_COUNT };

/* The spots of one bracket: those that are left come first. */
struct pile {
    struct spot *spots; /* owned; in any order */
    size_t left;
};

/* The spots and bounds of a bracket that are known to hold each other. */
struct clipped {
    size_t left;
    double lo[AXIS_COUNT], hi[AXIS_COUNT];
};

struct packing {
    const struct packing_task *task;
    size_t count;
    struct pile piles[ROOF_BRACKETS_MOST];
    struct clipped clipped[ROOF_BRACKETS_MOST];
    enum way ways[ROOF_BRACKETS_MOST][ROOF_BRACKETS_MOST]; /* [lower][higher] */
    uint8_t settled[ORDERS_MOST][2]; /* the pairs whose way is known, as they came to be */
    size_t settled_count;
    size_t twin[ROOF_BRACKETS_MOST]; /* the first bracket that can be exchanged for this one */
    struct spread axes[AXIS_COUNT];
    struct placed *best;
    struct worth best_worth;
    bool found, stopped;
    bool loose; /* somewhere a bound was not reached and there was nothing left to split */
    size_t nodes;
};

/* What a node has to put back. */
struct kept {
    size_t left[ROOF_BRACKETS_MOST];
    struct clipped clipped[ROOF_BRACKETS_MOST];
    double lo[AXIS_COUNT][ROOF_BRACKETS_MOST], hi[AXIS_COUNT][ROOF_BRACKETS_MOST];
    size_t orders[AXIS_COUNT], settled;
};

/* Places of all brackets, and what they cost. */
struct places {
    double at[AXIS_COUNT][ROOF_BRACKETS_MOST];
    size_t spot[ROOF_BRACKETS_MOST];
    struct worth worth;              /* a bound: nothing in the node is worth more */
    bool bounds;                     /* otherwise it is none */
    double lack[ROOF_BRACKETS_MOST]; /* of each bracket, as the bound has it */
};

void packing_keep(const struct packing *packing, struct kept *kept);
void packing_put_back(struct packing *packing, const struct kept *kept);

struct interval packing_side(const struct spot *spot, int axis);
double packing_want(const struct packing *packing, size_t b, int axis);
/* How long a bracket is along an axis. */
double packing_size(const struct packing *packing, size_t b, int axis);
/* Puts spot i of a pile behind those that are left. */
void packing_drop(struct pile *pile, size_t i);
size_t packing_least_holes(const struct pile *pile);

/* Two brackets are apart in that way from here on. */
void packing_settle(struct packing *packing, size_t a, size_t b, enum way way);
/* Whether the bounds leave a pair that way. */
bool packing_can(const struct packing *packing, size_t a, size_t b, enum way way);
/* How many ways the bounds leave a pair, and one of them. */
size_t packing_ways(const struct packing *packing, size_t a, size_t b, enum way *way);

/* Bounds, orders, spots and ways, each by the others, until nothing moves; false where nothing is
 * left. */
bool packing_narrow(struct packing *packing);

/* Each bracket on the best of its spots, whatever the others do. */
void packing_place_alone(const struct packing *packing, struct places *places);

/* misses.c: the same for spots with misses; drops those that lack too much to better what was
 * found. */
void packing_place_missing(struct packing *packing, struct places *places);
/* The least that a bracket lacks in a spot of its own, within the bounds. */
double packing_least_lack(const struct packing *packing, size_t b, const struct spot *spot);
/* Whether a is better than b. */
bool packing_better(struct worth a, struct worth b);
/* What all pairs lack that stand closer than they should: at the places, or (NULL) at best, those
 * whose way is known. */
double packing_pairs_lack(const struct packing *packing, const struct places *places);
/* What weighs on the brackets along an axis beside their wishes: what all spots that a bracket has
 * left lack alike.  That may be all that they lack (LIKE_ALL), or their setbacks (LIKE_EDGE). */
enum like { LIKE_NONE, LIKE_EDGE, LIKE_ALL };
size_t packing_pulls(const struct packing *packing, int axis, struct pull *pulls,
                     enum like like[ROOF_BRACKETS_MOST]);
/* The spot that each bracket had best stand in at its place, NO_SPOT where none is there; of spots
 * with misses; and what all lack by the bound. */
void packing_settle_missing(const struct packing *packing, struct places *places,
                            enum like like[AXIS_COUNT][ROOF_BRACKETS_MOST]);

/* Whether a place lies in a spot. */
bool packing_holds(const struct spot *spot, double x, double y);

/* All brackets in their orders, as if every place between the bounds were as good as the best spot.
 * spot: one with the fewest holes at that place, NO_SPOT where none is there. */
#define NO_SPOT SIZE_MAX
void packing_place_in_order(const struct packing *packing, struct places *places);

/* The least gap of two brackets along an axis; and the gap that they had better keep. */
double packing_room(const struct packing *packing, size_t a, size_t b, int axis);
double packing_rather(const struct packing *packing, size_t a, size_t b, int axis);

/* How much closer two brackets are than they had better be in each way; and how far the nearest way
 * out is, above 0 where they are too close. */
double packing_excess(const struct packing *packing, const struct places *places, size_t a,
                      size_t b, enum way way);
double packing_overlap(const struct packing *packing, const struct places *places, size_t a,
                       size_t b);

/* lattice.c: more than fit into what they reach, however they stand; false says nothing. */
bool packing_too_many(const struct packing *packing);

/* greedy.c: one bracket after the other, as near as possible to its wish, or closely from the
 * corner, row by row or column by column; false where one finds no place. */
enum greed { GREED_WISH, GREED_ROWS, GREED_COLUMNS };
bool packing_greedy(const struct packing *packing, enum greed greed, struct places *places);

#endif
