/* Where results go: standard output, and files that are written beside their names and renamed, so
 * that no half file ever stands under a name that somebody trusts. */
#ifndef RUDDLE_OUTPUT_H
#define RUDDLE_OUTPUT_H

#include "problem.h"

#include <stddef.h>
#include <stdio.h>

/* One result: a function that writes it, and what it is written from (borrowed). */
struct output {
    const char *name; /* of its file; NULL on standard output */
    enum outcome (*write)(const void *subject, FILE *stream);
    const void *subject;
};

/* Makes sure that the three standard streams are open, so that no file of ours gets one of their
 * numbers, and that writing into a closed pipe is an error rather than the end. */
void output_prepare(void);

/* Writes to standard output, and sees it through.  FAULT: problems says why. */
enum outcome output_print(const struct output *output, struct problems *problems);

/* The same for text that people read: coloured where standard output is a terminal that shows
 * colours. */
enum outcome output_show(const struct output *output, struct problems *problems);

/* Makes a folder (one level) if it is not there.  FAULT: problems says why. */
enum outcome output_folder(const char *folder, struct problems *problems);

/* Writes files into a folder, made (one level) if it is not there: all of them, or none under its
 * own name.  FAULT: problems says why. */
enum outcome output_files(const char *folder, const struct output *outputs, size_t count,
                          struct problems *problems);

/* The same in a folder where no other process writes at the time: what earlier ones left beside
 * those files when they were killed is removed first, see output_clear. */
enum outcome output_files_anew(const char *folder, const struct output *outputs, size_t count,
                               struct problems *problems);

/* The same as output_files for one file by its whole path. */
enum outcome output_file(const char *path, enum outcome (*write)(const void *subject, FILE *stream),
                         const void *subject, struct problems *problems);

/* Makes the folder that a file is to lie in (one level) if it is not there, and removes what
 * earlier processes left beside that file when they were killed in the middle of writing it.  Only
 * for a file that no other process writes at the time. */
enum outcome output_clear(const char *folder, const char *name, struct problems *problems);
enum outcome output_clear_path(const char *path, struct problems *problems); /* FOLDER/NAME */

/* Prints the problems to standard error, frees them and returns the exit code. */
int output_end(enum outcome outcome, struct problems *problems);

#endif
