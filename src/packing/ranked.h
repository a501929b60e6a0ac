/* A packing's brackets in ranks.  Private to this folder. */
#ifndef RUDDLE_RANKED_H
#define RUDDLE_RANKED_H

#include "node.h"

enum ranked_end {
    RANKED_SILENT, /* nothing is known: not that sort of packing, too large, or stopped */
    RANKED_NONE,   /* nothing packs */
    RANKED_BOUND   /* nothing is worth more than the places are */
};

/* Where the brackets come to least if the ranks do not mind each other.  Their bounds are known to
 * hold their spots.  Without memory the packing has failed. */
enum ranked_end packing_ranked(struct packing *packing, struct places *places);

/* Before the search for any packing: brackets that can be exchanged are not told apart, and the
 * ranks mind each other.
 *   BARE: whatever they reach;
 *   BOXED: each as far from the other rank as it can be, and clear of the others as if all that it
 *     reaches were one, up all of the slope;
 *   APART: clear of them wherever its rows' lines and feet lie;
 *   LOOSE: each of two as far in, and with its lines, as is best for either, in pieces that are
 *     made ever smaller.
 * Only where BARE or LOOSE say that there is none it is proved. */
enum ranked_how { RANKED_BARE, RANKED_BOXED, RANKED_APART, RANKED_LOOSE };
/* Whether nothing packs where that finds none. */
static inline bool ranked_proves(enum ranked_how how) {
    return how == RANKED_BARE || how == RANKED_LOOSE;
}
/* Places where they may fit are taken, if they do (true), Y still to be looked for; NULL: where
 * they may fit is a bound. */
typedef bool ranked_take(struct packing *packing, struct places *places);
enum ranked_end packing_swept(struct packing *packing, enum ranked_how how, ranked_take *take);

#endif
