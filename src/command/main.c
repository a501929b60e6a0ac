/* The program: everything else is a library. */
#define _DEFAULT_SOURCE /* madvise */
#include "command.h"

#include <malloc.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>

/* Search after search, and roof after roof of a fleet, asks for the same few large pieces: they are
 * not given back to the system in between, which would clear them every time. */
enum { KEPT_MOST = 256 << 20, PIECE_MOST = 32 << 20, ASKED_FOR = 1 << 20 };

static void keep_memory(void) {
    mallopt(M_MMAP_THRESHOLD, PIECE_MOST); /* the C library takes no more */
    mallopt(M_TRIM_THRESHOLD, KEPT_MOST);
    mallopt(M_TOP_PAD, ASKED_FOR);
}

/* Any run needs so much, and it is soon had at once: page by page, as each is first touched, took a
 * sixth of the time of a short run on a virtual machine. */
enum { NEEDED = 512 << 10, PAGE = 4096 };

static void touch_memory(void) {
#ifdef MADV_POPULATE_WRITE
    char *const some = malloc(NEEDED);
    if (some)
        (void)madvise(some + (PAGE - (uintptr_t)some % PAGE), NEEDED - PAGE, MADV_POPULATE_WRITE);
    free(some);
#endif
}

int main(int argc, char **argv) {
    keep_memory();
    touch_memory();
    return command_run(argc, argv);
}
