/* Spots of nearest misses, gathered and kept for as long as the same come up.  Private to this
 * folder. */
#ifndef RUDDLE_GATHERED_H
#define RUDDLE_GATHERED_H

#include "rungs.h"

/* More spots of all brackets than these are not gone through: with what is lacked in it each may
 * take a kilobyte. */
enum { SPOTS_MOST = 150000 };

/* Ways to have the rungs mostly differ only in who of several brackets alike has which. */
enum { STORED_MOST = 64, STORED_SPOTS_MOST = 150000 };
struct stored {
    size_t like;
    double level, most;
    struct misses *misses;
};
struct store {
    struct stored list[STORED_MOST];
    size_t count, next;
};
void store_free(struct store *store);

void misses_free_all(struct misses **misses, size_t count);

/* In whose list the spots of a bracket are at a level; NULL where there are too many.  FAULT: no
 * memory. */
enum outcome gathered_stands(const struct crowd *crowd, size_t b, double level,
                             struct stands **stands);

/* The spots of every bracket that may lack no more than most[b], owned by the caller; *listed is
 * false where there are too many.  FAULT: no memory. */
enum outcome gathered_find(const struct crowd *crowd, struct store *store, const double *levels,
                           const double *most, struct misses **misses, bool *listed);

/* The least that each bracket lacks, alone, and their sum; as gathered_find. */
enum outcome gathered_least(const struct crowd *crowd, struct store *store, const double *levels,
                            double *least, double *sum, bool *listed);

#endif
