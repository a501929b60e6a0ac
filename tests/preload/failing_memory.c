/* Loaded before everything else into a program (LD_PRELOAD): one request for memory fails, the one
 * numbered RUDDLE_FAIL_AT from 1, whoever makes it.  RUDDLE_COUNT_TO names a file that gets the
 * number of requests at the end.
 *
 * RUDDLE_FAIL_OF names a library (part of its file name): only what it asks for counts then.
 *
 * Left alone is what cairo asks for while it paints pixels, from the image it is given to the
 * writing of it: where memory ends there, cairo 1.16 jumps into a call that has returned (seen:
 * "stack smashing detected") or leaves a stroke out and says nothing.  No program can mend that.
 *
 * glibc's own names for its allocator are used, so that nothing has to be looked up, which would
 * itself ask for memory.
 */
#define _GNU_SOURCE /* RTLD_NEXT */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);

static atomic_ulong requests;
static unsigned long fail_at;
static bool counting, painting;
static const char *fail_of;

__attribute__((constructor)) static void begin(void) {
    const char *text = getenv("RUDDLE_FAIL_AT");
    fail_at = text != NULL ? strtoul(text, NULL, 10) : 0;
    fail_of = getenv("RUDDLE_FAIL_OF");
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

/* cairo's own; its types are of no interest here. */
void *cairo_image_surface_create(int format, int width, int height);
int cairo_surface_write_to_png_stream(void *surface, void *write, void *subject);

void *cairo_image_surface_create(int format, int width, int height) {
    void *(*create)(int, int, int) = NULL;
    *(void **)&create = dlsym(RTLD_NEXT, "cairo_image_surface_create");
    void *surface = create(format, width, height);
    painting = true;
    return surface;
}

int cairo_surface_write_to_png_stream(void *surface, void *write, void *subject) {
    int (*to_png)(void *, void *, void *) = NULL;
    *(void **)&to_png = dlsym(RTLD_NEXT, "cairo_surface_write_to_png_stream");
    painting = false;
    return to_png(surface, write, subject);
}

static bool is_of(const void *caller) {
    Dl_info where;
    return fail_of == NULL ||
           (dladdr(caller, &where) != 0 && strstr(where.dli_fname, fail_of) != NULL);
}

static bool fails(const void *caller) {
    if (!counting || painting || !is_of(caller) || ++requests != fail_at)
        return false;
    errno = ENOMEM;
    return true;
}

void *malloc(size_t size) {
    return fails(__builtin_return_address(0)) ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size) {
    return fails(__builtin_return_address(0)) ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size) {
    return fails(__builtin_return_address(0)) ? NULL : __libc_realloc(block, size);
}
