/* Ranks: brackets beside each other along the eave, in one row, in two or in three, one above the
 * other.  Private to this folder.
 *
 * Of brackets in a row each minds only the one before it.  So what some of them cost at the least,
 * by the place of the last, follows from what all but the last do: a dynamic program over who
 * stands already (Held and Karp 1962, from memory), with functions for figures.
 *
 * Brackets may stand above each other too, but no four one above the other: those below which
 * another one could still stand are the upper rank, the others the lower one, and those below and
 * above which others could are the middle one.  Two of a rank cannot be above each other, so each
 * rank is a row.  That those of one rank have to be clear of those of another that they meet along
 * the eave is left out, which only makes less of the cost. */
#ifndef RUDDLE_RANKS_H
#define RUDDLE_RANKS_H

#include "pieces.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

enum { RANK_LOWER, RANK_UPPER, RANK_MIDDLE, RANK_COUNT };
enum { RANKS_COSTED = 2 }; /* of three nothing is said here, but by a sweep */
enum { RANK_STATES_MOST = 4096, RANK_CLASSES_MOST = 16 };

/* Brackets that can be exchanged for each other. */
struct rank_class {
    size_t size;                      /* how many */
    double height;                    /* inches */
    struct interval along, up;        /* where any of them may be */
    struct interval part[RANK_COUNT]; /* Y of one in a rank */
    struct pieces costs[RANK_COUNT];  /* of one of them in a rank, by X; owned */
    size_t stride;                    /* of a state's index */
};

struct ranks {
    struct rank_class classes[RANK_CLASSES_MOST];
    size_t class_count;
    struct behind behind[RANK_CLASSES_MOST]
                        [RANK_CLASSES_MOST];           /* [before][after], along the eave */
    double over[RANK_CLASSES_MOST][RANK_CLASSES_MOST]; /* the gap up the slope */
    bool barred[RANK_CLASSES_MOST][RANK_CLASSES_MOST]; /* [before][after]: not in one rank */
    bool (*stop)(void *subject);                       /* may be NULL */
    void *subject;
    /* From here on ranks.c's. */
    size_t ranks;                     /* how many there are */
    size_t states;                    /* so many of each class: mixed radix */
    struct pieces *costs[RANK_COUNT]; /* of those of a state, by the place of the last:
                                         [state * class_count + its class]; owned */
    double *lowest[RANK_COUNT];       /* the least of those, by state; owned */
    size_t kept, looks;
    bool failed, ended; /* no memory; stopped, or too many pieces */
};

/* Where one of a rank stands. */
struct rank_turn {
    size_t class, tag; /* of the piece of its costs */
    double x, y;       /* y: of a sweep only */
    int rank;
};
struct rank_turns {
    struct rank_turn list[ROOF_BRACKETS_MOST]; /* a rank from its far end, then the other */
    size_t count;
};

/* Whether those of a rank stand below those of another one where they meet. */
static inline bool rank_below(int rank, int other) {
    return rank == RANK_LOWER || other == RANK_UPPER;
}

/* Once classes and gaps are there, but for costs: whether they are of three rows at most, and not
 * too many. */
bool ranks_begin(struct ranks *ranks);
/* Once their costs are there too: false where there are more than RANKS_COSTED, or that came to no
 * end (failed: no memory). */
bool ranks_run(struct ranks *ranks);
/* The least that all come to, INFINITY where they do not fit, and where they then stand. */
double ranks_least(const struct ranks *ranks, struct rank_turns *turns);
/* By the place of one of a class the least that all others come to, into empty ones; as ranks_run.
 */
bool ranks_rest(struct ranks *ranks, struct pieces rest[RANK_CLASSES_MOST]);
void ranks_free(struct ranks *ranks); /* what it owns */

#endif
