/* Loaded before everything else into a program (LD_PRELOAD): one call of the program itself fails.
 * RUDDLE_FAIL_CALL names it, RUDDLE_FAIL_AT which one of them, from 1 (`all`: every one),
 * RUDDLE_FAIL_ERRNO the number of the error.  RUDDLE_COUNT_TO names a file that gets the number of
 * such calls at the end.
 *
 * Calls that libraries make are left alone, but for the solver: glp_intopt does what the solver
 * does on a defect of its own or without memory, it says RUDDLE_FAIL_SAYING and ends the process
 * unless it is jumped out of.
 */
#define _GNU_SOURCE /* RTLD_NEXT */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *fail_call, *fail_saying;
static unsigned long fail_at, calls;
static bool fail_all;
static int fail_errno;

__attribute__((constructor)) static void begin(void) {
    const char *at = getenv("RUDDLE_FAIL_AT"), *error = getenv("RUDDLE_FAIL_ERRNO");
    fail_call = getenv("RUDDLE_FAIL_CALL");
    fail_saying = getenv("RUDDLE_FAIL_SAYING");
    fail_all = at != NULL && strcmp(at, "all") == 0;
    fail_at = at != NULL ? strtoul(at, NULL, 10) : 0;
    fail_errno = error != NULL ? (int)strtol(error, NULL, 10) : EIO;
}

/* The next function of that name, in the library that would have been called. */
static void next(const char *name, void *function) {
    *(void **)function = dlsym(RTLD_NEXT, name);
}

__attribute__((destructor)) static void end(void) {
    const char *path = getenv("RUDDLE_COUNT_TO");
    int (*open_it)(const char *, int, ...) = NULL;
    next("open", &open_it);
    const int file = path != NULL ? open_it(path, O_WRONLY | O_CREAT | O_TRUNC, 0600) : -1;
    if (file >= 0) {
        dprintf(file, "%lu\n", calls);
    }
}

/* True where this call, made from `caller`, has to fail; errno is set then. */
static bool fails(const char *name, const void *caller) {
    Dl_info where;
    if (fail_call == NULL || strcmp(fail_call, name) != 0)
        return false;
    if (dladdr(caller, &where) == 0 || strstr(where.dli_fname, ".so") != NULL)
        return false;
    calls++;
    if (!fail_all && calls != fail_at)
        return false;
    errno = fail_errno;
    return true;
}

#define CALLER __builtin_return_address(0)

int open(const char *path, int flags, ...) {
    int (*real)(const char *, int, ...) = NULL;
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(rest, mode_t) : 0;
    va_end(rest);
    next("open", &real);
    return fails("open", CALLER) ? -1 : real(path, flags, mode);
}

FILE *fdopen(int file, const char *mode) {
    FILE *(*real)(int, const char *) = NULL;
    next("fdopen", &real);
    return fails("fdopen", CALLER) ? NULL : real(file, mode);
}

ssize_t read(int file, void *data, size_t room) {
    ssize_t (*real)(int, void *, size_t) = NULL;
    next("read", &real);
    return fails("read", CALLER) ? -1 : real(file, data, room);
}

int fflush(FILE *stream) {
    int (*real)(FILE *) = NULL;
    next("fflush", &real);
    return fails("fflush", CALLER) ? EOF : real(stream);
}

int fsync(int file) {
    int (*real)(int) = NULL;
    next("fsync", &real);
    return fails("fsync", CALLER) ? -1 : real(file);
}

/* Closes all the same, as the system does. */
int fclose(FILE *stream) {
    int (*real)(FILE *) = NULL;
    next("fclose", &real);
    const bool failing = fails("fclose", CALLER);
    const int error = errno;
    const int closed = real(stream);
    errno = failing ? error : errno;
    return failing ? EOF : closed;
}

int dup(int file) {
    int (*real)(int) = NULL;
    next("dup", &real);
    return fails("dup", CALLER) ? -1 : real(file);
}

int rename(const char *from, const char *to) {
    int (*real)(const char *, const char *) = NULL;
    next("rename", &real);
    return fails("rename", CALLER) ? -1 : real(from, to);
}

int mkdir(const char *path, mode_t mode) {
    int (*real)(const char *, mode_t) = NULL;
    next("mkdir", &real);
    return fails("mkdir", CALLER) ? -1 : real(path, mode);
}

/* The solver's own; its types are of no interest here. */
int glp_intopt(void *problem, const void *how);

int glp_intopt(void *problem, const void *how) {
    int (*real)(void *, const void *) = NULL;
    next("glp_intopt", &real);
    if (fails("glp_intopt", CALLER)) {
        void (*(*error)(const char *, int))(const char *, ...) = NULL;
        next("glp_error_", &error);
        error(__FILE__, __LINE__)("%s\n", fail_saying != NULL ? fail_saying : "no reason");
    }
    return real(problem, how);
}
