/* A packing while it is seen in ranks.  Private to this folder. */
#ifndef RUDDLE_RANKING_H
#define RUDDLE_RANKING_H

#include "ranked.h"
#include "ranks.h"

struct ranking {
    struct packing *packing;
    ranked_take *take;   /* may be NULL */
    bool alike;          /* brackets that can be exchanged are of one class */
    double closer;       /* than they must, brackets may seem to stand by roundings */
    enum ranked_how how; /* BARE where they are not alike */
    struct ranks ranks;
    size_t class_of[ROOF_BRACKETS_MOST];
    size_t first[RANK_CLASSES_MOST]; /* of a class's brackets */
};

/* The spots of a class; borrowed. */
struct spot_list {
    const struct spot *list;
    size_t count;
};
struct spot_list ranking_spots(const struct ranking *ranking, size_t c);

/* A spot's part of a rank; false where none of it is there. */
bool ranking_clip(const struct ranking *ranking, size_t c, int rank, const struct spot *spot,
                  struct interval clip[AXIS_COUNT]);

/* What a look comes to is tried: take says whether it does; NULL: that is not asked. */
struct trial {
    bool (*take)(void *subject, const struct rank_turns *turns);
    void *subject;
};
/* berths.c: whether all fit, each clear of the other rank too and of what others reach that they
 * stand beside: NONE: they do not, as far as that is looked at; BOUND: they do.  SILENT: that came
 * to no end, or without memory. */
enum ranked_end ranking_sweep(struct ranking *ranking, const struct trial *trial);

#endif
