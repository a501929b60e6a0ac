/* The survey before there is one: a blank form to print, commented files to start from, and the
 * roof file filled in by asking.
 */
#ifndef RUDDLE_FORM_H
#define RUDDLE_FORM_H

#include "drawing.h"
#include "problem.h"
#include "terminal.h"

#include <stdbool.h>
#include <stdio.h>

/* The blank form: lines of plain ASCII no wider than 80 columns, or a PDF; a sketch beside each
 * measurement.  The same bytes every time.  A failed write is left for the caller to see on the
 * stream.  FAULT: no memory, or no font; problems says which. */
enum outcome form_write_text(FILE *stream);
enum outcome form_write_pdf(enum paper paper, FILE *stream, struct problems *problems);

/* A commented roof file, and the kit file that it names: examples from first to last, which lay
 * out as they stand. */
enum outcome form_write_roof(FILE *stream);
enum outcome form_write_kit(FILE *stream);
#define FORM_KIT_NAME "kit.yaml"

/* How asking ended. */
enum form_end {
    FORM_COMPLETE, /* every question is answered, and the file is a roof file */
    FORM_STOPPED   /* the rest is kept for the next time */
};

/* Writes a file beside its name and renames it.  FAULT: problems says why. */
typedef enum outcome form_save(const char *path,
                               enum outcome (*write)(const void *subject, FILE *stream),
                               const void *subject, struct problems *problems);

/* Fills a roof file by asking at the terminal, one question at a time.  After each answer the file
 * is whole, and saved.  A file that is there must be as asking left it,
 * and is gone on with.  BAD_INPUT: it is some other file; nothing was changed.  FAULT: no memory,
 * or it could not be written.  *end is written only when DONE. */
enum outcome form_ask(const char *path, struct terminal *terminal, form_save *save,
                      enum form_end *end, struct problems *problems);

#endif
