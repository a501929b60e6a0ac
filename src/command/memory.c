#define _DEFAULT_SOURCE /* madvise */
#include "memory.h"

#include <malloc.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>

enum {
    KEPT_MOST = 256 << 20,
    PIECE_MOST = 32 << 20,
    ASKED_FOR = 1 << 20,
    PAGE = 4096,
    STEPS = 704 << 10
};

extern char __executable_start[]; /* by the linker */

void memory_keep(void) {
    mallopt(M_MMAP_THRESHOLD, PIECE_MOST); /* the C library takes no more */
    mallopt(M_TRIM_THRESHOLD, KEPT_MOST);
    mallopt(M_TOP_PAD, ASKED_FOR);
}

void memory_expect(size_t bytes) {
#ifdef MADV_POPULATE_WRITE
    char *const some = bytes > PAGE ? malloc(bytes) : NULL;
    if (some)
        (void)madvise(some + (PAGE - (uintptr_t)some % PAGE), bytes - PAGE, MADV_POPULATE_WRITE);
    free(some);
#else
    (void)bytes;
#endif
}

void memory_bring_steps(void) {
#ifdef MADV_POPULATE_READ
    (void)madvise(__executable_start, STEPS, MADV_POPULATE_READ);
#endif
}
