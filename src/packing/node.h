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
    const struct spot *spots; /* in any order: the parcel's, or `own` */
    struct spot *own;         /* owned; NULL: as long as none had to be put elsewhere */
    size_t left;
    double *lacks; /* owned: what each lacks at the least, while a node with misses is bounded */
};

/* The spots and bounds of a bracket that are known to hold each other. */
struct clipped {
    size_t left;
    double lo[AXIS_COUNT], hi[AXIS_COUNT];
};

/* A part of one bracket and one of another that may be in each other's way: its box, the struts,
 * and the flashings at their ends. */
enum part { PART_BOX, PART_STRUT, PART_FIRST, PART_LAST, PART_KINDS };
struct crossing {
    size_t bracket[2];
    int kind[2]; /* enum part */
    int row[2];  /* enum row, of what is no box */
};

/* One that is settled. */
struct parted {
    struct crossing crossing;
    enum way way;
    double by; /* as far as an order has it */
};
enum { PARTED_MOST = 256 };

struct packing {
    const struct packing_task *task;
    size_t count;
    struct pile piles[ROOF_BRACKETS_MOST];
    struct clipped clipped[ROOF_BRACKETS_MOST];
    enum way ways[ROOF_BRACKETS_MOST][ROOF_BRACKETS_MOST]; /* [lower][higher] */
    uint8_t settled[ORDERS_MOST][2]; /* the pairs whose way is known, as they came to be */
    size_t settled_count;
    struct parted parted[PARTED_MOST];
    size_t parted_count;
    size_t twin[ROOF_BRACKETS_MOST]; /* the first bracket that can be exchanged for this one */
    struct spread axes[AXIS_COUNT];
    double parted_told[PARTED_MOST]; /* what the last bound of all in their orders had of each */
    struct placed *best;
    struct worth best_worth;
    bool found, stopped, failed; /* failed: no memory */
    bool bettered;               /* only what is better than best_worth is of use */
    bool plain;                  /* brackets are not looked at in ranks */
    size_t asked, told;          /* how often ranks were, and how often that ended a node */
    bool loose; /* somewhere a bound was not reached and there was nothing left to split */
    struct worth loose_at;    /* the best of those bounds */
    size_t nodes, most_nodes; /* any: as of the task, or fewer */
};

/* What a node has to put back. */
struct kept_bracket {
    struct clipped now, clipped; /* its spots and bounds, and the last known to hold each other */
};
struct kept {
    struct kept_bracket *brackets; /* owned */
    double *by;                    /* of what is parted: behind the brackets */
    size_t orders[AXIS_COUNT], settled, parted;
};

/* Places of all brackets, and what they cost. */
struct places {
    double at[AXIS_COUNT][ROOF_BRACKETS_MOST];
    size_t spot[ROOF_BRACKETS_MOST];
    struct worth worth;              /* a bound: nothing in the node is worth more */
    bool bounds;                     /* otherwise it is none */
    double lack[ROOF_BRACKETS_MOST]; /* of each bracket, as the bound has it */
};

/* False without memory, which ends the search; packing_release where it is true. */
bool packing_keep(struct packing *packing, struct kept *kept);
void packing_put_back(struct packing *packing, const struct kept *kept);
void packing_release(struct kept *kept);

struct interval packing_side(const struct spot *spot, int axis);
double packing_want(const struct packing *packing, size_t b, int axis);
/* How long a bracket is along an axis. */
double packing_size(const struct packing *packing, size_t b, int axis);
/* Puts spot i of a bracket's pile behind those that are left.  False without memory: the packing
 * has failed. */
bool packing_drop(struct packing *packing, size_t b, size_t i);
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
void packing_pulls(const struct packing *packing, int axis, struct pulls *pulls,
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
void packing_place_in_order(struct packing *packing, struct places *places);

/* The least gap of two brackets along an axis; and the gap that they had better keep. */
double packing_room(const struct packing *packing, size_t a, size_t b, int axis);
double packing_rather(const struct packing *packing, size_t a, size_t b, int axis);

/* How much closer two brackets are than they had better be in each way; and how far the nearest way
 * out is, above 0 where they are too close. */
double packing_excess(const struct packing *packing, const struct places *places, size_t a,
                      size_t b, enum way way);
double packing_overlap(const struct packing *packing, const struct places *places, size_t a,
                       size_t b);

/* Which of two brackets comes first in a way, and along which axis. */
size_t packing_first(size_t a, size_t b, enum way way);
int packing_axis(enum way way);

/* agree.c: whether there are lines with which no part is in the way of any other; nearest misses
 * have what they lack settled instead. */
bool packing_agrees(const struct packing *packing, const struct places *places);
/* Whether brackets can stand up the slope, each in its spot at its X, so that there are; where they
 * then do is written to places. */
bool packing_agree_up(const struct packing *packing, struct places *places);

/* crossings.c: of the parts that are in each other's way, the worst; false where none are, or no
 * arms are looked at. */
bool packing_crossed(const struct packing *packing, const struct places *places,
                     struct crossing *worst);
/* Whether any are of one bracket in that spot at its place, and another one. */
bool packing_crosses(const struct packing *packing, const struct places *places, size_t b,
                     const struct spot *spot, size_t other);
/* How much closer the parts are than they may be in a way. */
double packing_cross_excess(const struct packing *packing, const struct places *places,
                            const struct crossing *crossing, enum way way);
/* parted.c: the parts are apart in that way from here on; false where there is no more room to note
 * it. */
bool packing_part(struct packing *packing, const struct crossing *crossing, enum way way);
/* That they are, NULL: nothing is known. */
const struct parted *packing_parted(const struct packing *packing, const struct crossing *crossing);
/* Bounds and spots by what is settled; false where nothing is left.  *moved: something was drawn
 * in. */
bool packing_narrow_parted(struct packing *packing, bool *moved);
/* Spots that reach as far in that way as the bracket's own one, and those that reach less far: by
 * the ends that its lags set, else by those that go with it.  False where all reach as far: *reach
 * says how far, for packing_reaches. */
struct reach {
    size_t bracket;
    enum part kind;
    enum row row;
    int axis;
    bool high, fixed;
    enum drawing drawing;
    double at;
};
bool packing_find_reach(const struct packing *packing, const struct places *places,
                        const struct parted *parted, struct reach *reach);
bool packing_reaches(const struct packing *packing, const struct reach *reach,
                     const struct spot *spot);

/* crossings.c: what parts lack that are closer than they should be, at the places; and the crossing
 * that lacks most beyond what the bound has of it, false where none does. */
double packing_arms_lack(const struct packing *packing, const struct places *places);
bool packing_lacking(const struct packing *packing, const struct places *places,
                     struct crossing *worst);
/* dues.c: what the bound has of that wherever the brackets stand within their bounds. */
double packing_parted_least(const struct packing *packing);
/* riders.c: what pulls at brackets along an axis because of that, beside others; and what is lacked
 * of it at places of theirs and of the riders, in all and (where it is known) of each that is
 * parted.
 */
void packing_add_riders(const struct packing *packing, int axis, struct pulls *pulls);
double packing_riders_lack(const struct pulls *pulls, const double *x, double told[PARTED_MOST]);

/* Where along its axis a part's end turns from a fixed place to one that goes with its bracket,
 * strictly within the bounds; false where neither part's does. */
bool packing_find_turn(const struct packing *packing, const struct parted *parted, size_t *bracket,
                       double *at);

/* packing.c: a node is left, with nothing known of it but the bound of its places; NULL: nor that.
 */
void packing_leave(struct packing *packing, const struct places *places);

/* packing.c: the first node of a task, whose best is to go to placed (false without memory), and
 * what a packing owns. */
bool packing_begin(struct packing *packing, const struct packing_task *task, struct placed *placed);
void packing_end(struct packing *packing);

/* packing.c: a node and all below it; and whether there is no use in going on. */
void packing_search(struct packing *packing);
bool packing_over(struct packing *packing);

/* splits.c: a node as all that it is split into: a pair by its four ways; parts by theirs, or the
 * spots that still leave them in each other's way; the same where they lack more than the bound has
 * of it, false where nothing is left to tell apart; the spots of a bracket that does not stand in
 * one, or in one of more holes than need be. */
void packing_split_pair(struct packing *packing, const struct places *places, const size_t pair[2]);
void packing_split_crossing(struct packing *packing, const struct places *places,
                            const struct crossing *crossing);
bool packing_split_lacking(struct packing *packing, const struct places *places,
                           const struct crossing *crossing);
bool packing_split_spots(struct packing *packing, const struct places *places);
/* Where the bound is not reached and nothing else is left: by what the spots of a bracket say of
 * their ends; false where they say the same. */
bool packing_split_misses(struct packing *packing, const struct places *places);

/* lattice.c: more than fit into what they reach, however they stand; false says nothing. */
bool packing_too_many(const struct packing *packing);

/* greedy.c: one bracket after the other, as near as possible to its wish, or closely from the
 * corner, row by row or column by column; false where one finds no place. */
enum greed { GREED_WISH, GREED_ROWS, GREED_COLUMNS };
bool packing_greedy(const struct packing *packing, enum greed greed, struct places *places);
/* Closely from the corner, again and again: whoever found no place comes first the next time. */
bool packing_squeeze(const struct packing *packing, struct places *places);

#endif
