/* Functions of one length made of straight pieces: what a bracket costs by where it stands along
 * the eave.  They need be neither convex nor continuous, and are endless where there is no piece.
 */
#ifndef RUDDLE_PIECES_H
#define RUDDLE_PIECES_H

#include "lack.h"

#include <stdbool.h>
#include <stddef.h>

/* Straight between its ends, which are in it; it may be a single place. */
struct piece {
    double from, to; /* inches */
    double at_from, at_to;
    size_t tag; /* what it comes from, to the caller */
};

/* Rising, apart but for their ends; where two meet, the lower counts.  All zero: endless
 * everywhere. */
struct pieces {
    struct piece *list; /* owned */
    size_t count, room;
};

void pieces_free(struct pieces *pieces);

/* Puts a piece behind the others, or into the last one where it goes on with it.  All these are
 * false without memory. */
bool pieces_add(struct pieces *pieces, struct piece piece);

/* The lesser of two at every place, into an empty one. */
bool pieces_lesser(const struct pieces *a, const struct pieces *b, struct pieces *least);

/* The least of many; they are freed. */
bool pieces_least(struct pieces *many, size_t count, struct pieces *least);

/* Where both are, their sum, tagged as the first, into an empty one. */
bool pieces_sum(const struct pieces *a, const struct pieces *b, struct pieces *sum);

bool pieces_copy(const struct pieces *pieces, struct pieces *copy); /* into an empty one */

/* A convex function of hinges within an interval, `times` over and `more` added, behind the
 * others. */
struct scale {
    double times, more;
};
bool pieces_add_lack(struct pieces *pieces, const struct lack *lack, struct interval within,
                     struct scale scale, size_t tag);

/* Adds what every inch away from `want` costs, 1, cutting pieces there. */
bool pieces_add_way(struct pieces *pieces, double want);

/* How a bracket stands behind another one: its place is `by` beyond the other's at least, and every
 * inch that it is short of `rather` costs `weight`. */
struct behind {
    double by, rather, weight;
};

/* What the brackets before one cost at the least, by its place up to `end`, given what they cost by
 * the place of the last of them; tagged anew. */
bool pieces_behind(const struct pieces *last, const struct behind *behind, double end, size_t tag,
                   struct pieces *least);

/* The same for those behind one, by its place from `begin` on, given what they cost by the place of
 * the first of them. */
bool pieces_ahead(const struct pieces *first, const struct behind *behind, double begin,
                  struct pieces *least);

/* What those up to a place in the piece cost to one behind it at x, at the least, and that place;
 * INFINITY where it has none. */
double piece_before(const struct piece *piece, const struct behind *behind, double x, double *at);

/* Whether a function is anywhere below. */
bool pieces_undercut(const struct pieces *pieces, const struct pieces *by);

/* From and to where in the interval a function, and so much more, is no more than the pieces have
 * it; false where it is nowhere.  *most: the largest that they have there. */
bool pieces_allow(const struct pieces *pieces, const struct lack *lack, double more,
                  struct interval *within, double *most);

/* Each value taken from `from`. */
void pieces_turn(struct pieces *pieces, double from);

/* The least value, and where; INFINITY where there is no piece. */
double pieces_lowest(const struct pieces *pieces, double *at);

/* The lowest piece at a place, NULL: none is within `near` of it. */
const struct piece *pieces_at(const struct pieces *pieces, double at, double near, double *value);

#endif
