/* Runs the real program, for the tests of its command line. */
#ifndef RUDDLE_TESTS_RUN_PROGRAM_H
#define RUDDLE_TESTS_RUN_PROGRAM_H

#include <stdbool.h>
#include <stddef.h>

/* How to run it; {0}: with its output caught. */
struct run_setup {
    const char *folder;    /* to run in; NULL: this one */
    const char *stdout_to; /* a path that standard output goes to instead */
    bool stdout_closed, stderr_closed;
    bool stdout_broken;       /* a pipe that nobody reads */
    unsigned long bytes_most; /* no file may grow larger; 0: no limit */
};

/* What came of it. */
struct run {
    int code;        /* exit code, or 128 + signal */
    char *out, *err; /* texts caught; owned (run_free) */
};

#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

/* Runs the program with those words; setup may be NULL.  A failure to run it ends the test. */
struct run run_program(const char *program, const char *const *words,
                       const struct run_setup *setup);

void run_free(struct run *run);

/* A new empty folder, its path in `path`. */
enum { RUN_PATH = 256 };
void run_folder_make(char path[RUN_PATH]);

/* How many entries a folder has; -1 if there is no such folder. */
int run_folder_count(const char *path);

/* Removes a folder with the files and empty folders in it. */
void run_folder_remove(const char *path);

/* FOLDER/NAME in `path`; returns it. */
const char *run_path(char path[RUN_PATH], const char *folder, const char *name);

/* A whole file as text (owned by the caller), and back. */
char *run_file_read(const char *path);
void run_file_write(const char *path, const char *text);

#endif
