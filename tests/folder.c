#include "folder.h"

#include <dirent.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

int folder_make(void **state) {
    struct folder *folder = calloc(1, sizeof *folder);
    if (folder == NULL) {
        return -1;
    }
    strcpy(folder->path, "/tmp/ruddle-survey-XXXXXX");
    *state = folder;
    return mkdtemp(folder->path) == NULL ? -1 : 0;
}

int folder_remove(void **state) {
    struct folder *folder = *state;
    DIR *listing = opendir(folder->path);
    if (listing != NULL) {
        for (const struct dirent *e = readdir(listing); e != NULL; e = readdir(listing)) {
            char path[512];
            snprintf(path, sizeof path, "%s/%s", folder->path, e->d_name);
            unlink(path); /* fails on . and .., which stay */
        }
        closedir(listing);
    }
    const int left = rmdir(folder->path);
    free(folder);
    return left;
}

const char *folder_write(void **state, char path[128], const char *name, const char *text,
                         size_t size) {
    const struct folder *folder = *state;
    snprintf(path, 128, "%s/%s", folder->path, name);
    FILE *stream = fopen(path, "wb");
    assert_non_null(stream);
    assert_int_equal(fwrite(text, 1, size, stream), size);
    assert_int_equal(fclose(stream), 0);
    return path;
}

const char *folder_write_text(void **state, char path[128], const char *name, const char *text) {
    return folder_write(state, path, name, text, strlen(text));
}
