/* What the spots of nearest misses point to. */
/* tdestroy is no part of POSIX; glibc shows it where this is asked for. */
#define _GNU_SOURCE
#include "gathering.h"

#include <search.h>
#include <stdlib.h>

/* What spots point to stays where it is: in blocks, of which no more is touched than is used. */
enum { BLOCK = 128 };
struct lack_block {
    struct lack_block *before;
    size_t count;
    struct lack list[BLOCK];
};
struct miss_block {
    struct miss_block *before;
    size_t count;
    struct miss list[BLOCK];
};

static int by_lack(const void *a, const void *b) {
    return lack_order(a, b);
}

const struct lack *misses_keep_lack(struct misses *misses, const struct lack *lack) {
    struct lack_block *block = misses->lacks;
    if (!block || block->count == BLOCK) {
        struct lack_block *next = malloc(sizeof *next);
        if (!next)
            return NULL;
        next->before = block;
        next->count = 0;
        misses->lacks = block = next;
    }
    struct lack *const made = &block->list[block->count];
    *made = *lack;
    const struct lack *const *known = tsearch(made, &misses->known, by_lack);
    if (!known)
        return NULL;
    block->count += *known == made;
    return *known;
}

const struct miss *misses_keep(struct misses *misses, const struct miss *miss) {
    struct miss_block *block = misses->list;
    if (!block || block->count == BLOCK) {
        struct miss_block *next = malloc(sizeof *next);
        if (!next)
            return NULL;
        next->before = block;
        next->count = 0;
        misses->list = block = next;
    }
    block->list[block->count] = *miss;
    return &block->list[block->count++];
}

static void leave(void *lack) {
    (void)lack; /* that is the blocks' */
}

void misses_forget(struct misses *misses) {
    tdestroy(misses->known, leave);
    for (struct lack_block *block = misses->lacks; block;) {
        struct lack_block *before = block->before;
        free(block);
        block = before;
    }
    for (struct miss_block *block = misses->list; block;) {
        struct miss_block *before = block->before;
        free(block);
        block = before;
    }
    free(misses->spots);
    misses->spots = NULL;
    misses->count = 0;
    misses->known = misses->lacks = misses->list = NULL;
}
