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
 * ranks mind each other.  APART: each as far from the other rank as it can be, and clear of the
 * others wherever its rows' lines and feet lie; STAGGERED: some further in as well, and lines where
 * they had better be; BARE: whatever they reach; LOOSE: each of two as far in as is best for
 * either: only of these two none is proved. A bound is where they fit, most likely. */
enum ranked_how { RANKED_BARE, RANKED_APART, RANKED_STAGGERED, RANKED_LOOSE };
enum ranked_end packing_swept(struct packing *packing, enum ranked_how how, struct places *places);

#endif
