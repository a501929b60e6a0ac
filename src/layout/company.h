/* A company: some brackets of a roof, with their pipes, as a roof of their own.  What is found for
 * several companies is joined again.  Private to this folder.
 */
#ifndef RUDDLE_COMPANY_H
#define RUDDLE_COMPANY_H

#include "layout.h"
#include "model.h"
#include "roof.h"

#include <stdbool.h>
#include <stddef.h>

struct company {
    struct roof roof;         /* brackets and pipes are its own, the rest is the whole roof's */
    struct bracket *brackets; /* owned: those of roof */
    struct pipe *pipes;       /* owned: the same for pipes */
    struct given *given;      /* owned: the same for holes that stay */
    size_t *members;          /* owned: for each of its brackets, the index in the whole roof */
    size_t *pipe_members;     /* owned: the same for pipes */
    struct limits limits;     /* what is said of its brackets; plies are borrowed */
    size_t (*least_lags)[ROW_COUNT]; /* owned: those of limits */
    struct ruled_out *ruled_out;     /* owned: the list of limits */
};

/* The company of those brackets, rising, with what the limits (may be NULL) say of them.  False
 * without memory; company_free either way. */
bool company_of(const struct roof *whole, const struct limits *limits, const size_t *members,
                size_t count, struct company *company);
void company_free(struct company *company);

/* Those of all brackets, rising, whose company that is: `of` is for each bracket the lowest one of
 * its company.  Returns how many there are; there is room for all. */
size_t company_members(const struct roof *whole, const size_t *of, size_t lowest, size_t *members);

/* Layouts of companies that make up the whole roof, each at its lowest bracket, as one layout;
 * every one has marks.  Its bounds and its state are those of the parts together.  False without
 * memory; *joined is untouched unless true. */
bool company_join(const struct roof *whole, const size_t *of, struct layout *const *layouts,
                  struct layout **joined);

#endif
