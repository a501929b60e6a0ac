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
 * hold their spots.  alike: those that can be exchanged are not told apart, which is what a search
 * for any packing may begin with.  Without memory the packing has failed. */
enum ranked_end packing_ranked(struct packing *packing, bool alike, struct places *places);

#endif
