/* The program: everything else is a library. */
#include "command.h"

#include <malloc.h>

/* Search after search, and roof after roof of a fleet, asks for the same few large pieces: they are
 * not given back to the system in between, which would clear them every time. */
enum { KEPT_MOST = 16 << 20, ASKED_FOR = 1 << 20 };

static void keep_memory(void) {
    mallopt(M_MMAP_THRESHOLD, KEPT_MOST);
    mallopt(M_TRIM_THRESHOLD, KEPT_MOST);
    mallopt(M_TOP_PAD, ASKED_FOR);
}

int main(int argc, char **argv) {
    keep_memory();
    return command_run(argc, argv);
}
