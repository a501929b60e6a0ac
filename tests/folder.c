#include "folder.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

int folder_make(void **state) {
    struct folder *folder = calloc(1, sizeof *folder);
    if (folder == NULL) {
        return -1;
    }
    run_folder_make(folder->path);
    *state = folder;
    return 0;
}

int folder_remove(void **state) {
    struct folder *folder = *state;
    run_folder_remove(folder->path);
    free(folder);
    return 0;
}

const char *folder_write(void **state, char path[FOLDER_PATH], const char *name, const char *text,
                         size_t size) {
    const struct folder *folder = *state;
    FILE *stream = fopen(run_path(path, folder->path, name), "wb");
    assert_non_null(stream);
    assert_int_equal(fwrite(text, 1, size, stream), size);
    assert_int_equal(fclose(stream), 0);
    return path;
}

const char *folder_write_text(void **state, char path[FOLDER_PATH], const char *name,
                              const char *text) {
    return folder_write(state, path, name, text, strlen(text));
}
