/* A program as a file for other solvers. */
#include "solve.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool ends_in_lp(const char *path, size_t length) {
    return length > 3 && strcmp(path + length - 3, ".lp") == 0;
}

bool solve_write(const struct program *program, const char *path) {
    static const char suffix[] = ".part";
    const size_t length = strlen(path);
    char *beside = malloc(length + sizeof suffix);
    if (!beside)
        return false;
    memcpy(beside, path, length);
    memcpy(beside + length, suffix, sizeof suffix);
    const bool good =
        solve_write_to(program, beside, ends_in_lp(path, length)) && rename(beside, path) == 0;
    if (!good)
        remove(beside);
    free(beside);
    return good;
}
