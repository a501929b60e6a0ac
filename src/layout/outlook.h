/* Outlook: what the brackets of a company may lack by where they stand along the eave, at levels
 * that are known.  Private to this folder. */
#ifndef RUDDLE_OUTLOOK_H
#define RUDDLE_OUTLOOK_H

#include "packing.h"
#include "rungs.h"

/* Brackets that are held alike at the same level are of one kind. */
struct outlook {
    bool known; /* false: nothing is */
    size_t kinds, like[PROSPECTS_MOST], size[PROSPECTS_MOST];
    double level[PROSPECTS_MOST];
    struct pieces rest[PROSPECTS_MOST]; /* owned: what all others lack at the least, by X */
    double least;                       /* all together */
};

/* A bracket's kind at its level; PROSPECTS_MOST: none of them.  How many are of a kind. */
size_t outlook_kind(const struct outlook *outlook, const struct crowd *crowd, const double *levels,
                    size_t b);
size_t outlook_size(const struct outlook *outlook, const struct crowd *crowd, const double *levels,
                    size_t kind);

/* What one bracket may lack by its X, kept for as long as the same comes up. */
enum { OUTLOOKS_MOST = 64 };
struct outlooks {
    struct seen_lacks {
        size_t like;
        double level;
        struct interval up;
        struct pieces lacks; /* owned */
    } list[OUTLOOKS_MOST];
    size_t count, next;
};

/* stands[b]: of every bracket, in whose list its spots at levels[b] are.  FAULT: no memory;
 * *outlook is to be freed even then. */
enum outcome outlook_find(const struct crowd *crowd, struct outlooks *outlooks,
                          const double *levels, struct stands *const *stands,
                          struct outlook *outlook);
/* What one of a kind may lack, by its X, where all together lack so much; into an empty one, false
 * without memory. */
bool outlook_allow(const struct outlook *outlook, size_t kind, double all, struct pieces *allowed);
void outlook_free(struct outlook *outlook);
void outlooks_free(struct outlooks *outlooks);

#endif
