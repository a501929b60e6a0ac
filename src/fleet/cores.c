/* CPU sets are no part of POSIX; glibc shows them where this is asked for. */
#define _GNU_SOURCE
#include "cores.h"

#include <sched.h>
#include <unistd.h>

unsigned cores_usable(void) {
    cpu_set_t set;
    CPU_ZERO(&set);
    if (sched_getaffinity(0, sizeof set, &set) == 0 && CPU_COUNT(&set) > 0) {
        return (unsigned)CPU_COUNT(&set);
    }
    const long online = sysconf(_SC_NPROCESSORS_ONLN);
    return online > 0 ? (unsigned)online : 1;
}
