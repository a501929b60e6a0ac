/* Loaded before everything else into a program (LD_PRELOAD): one request for memory fails, the one
 * numbered RUDDLE_FAIL_AT from 1, whoever makes it.  RUDDLE_COUNT_TO names a file that gets the
 * number of requests at the end.
 *
 * glibc's own names for its allocator are used, so that nothing has to be looked up, which would
 * itself ask for memory.
 */
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);

static atomic_ulong requests;
static unsigned long fail_at;
static bool counting;

__attribute__((constructor)) static void begin(void) {
    const char *text = getenv("RUDDLE_FAIL_AT");
    fail_at = text != NULL ? strtoul(text, NULL, 10) : 0;
    counting = true;
}

__attribute__((destructor)) static void end(void) {
    const char *path = getenv("RUDDLE_COUNT_TO");
    counting = false;
    const int file = path != NULL ? open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600) : -1;
    if (file >= 0) {
        dprintf(file, "%lu\n", (unsigned long)requests);
        close(file);
    }
}

static bool fails(void) {
    if (!counting || ++requests != fail_at)
        return false;
    errno = ENOMEM;
    return true;
}

void *malloc(size_t size) {
    return fails() ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size) {
    return fails() ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size) {
    return fails() ? NULL : __libc_realloc(block, size);
}
