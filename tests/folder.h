/* A folder of its own for a test that writes files: the state of the test points to it. */
#ifndef RUDDLE_TESTS_FOLDER_H
#define RUDDLE_TESTS_FOLDER_H

#include "run_program.h"

#include <stddef.h>

enum { FOLDER_PATH = RUN_PATH };

struct folder {
    char path[FOLDER_PATH];
};

/* Set-up and tear-down: the files in the folder go with it. */
int folder_make(void **state);
int folder_remove(void **state);

/* Writes a file in the folder; returns its path, in `path`. */
const char *folder_write(void **state, char path[FOLDER_PATH], const char *name, const char *text,
                         size_t size);
const char *folder_write_text(void **state, char path[FOLDER_PATH], const char *name,
                              const char *text);

/* As cmocka_unit_test, in a folder of its own. */
#define FOLDER_TEST(test) cmocka_unit_test_setup_teardown(test, folder_make, folder_remove)

#endif
