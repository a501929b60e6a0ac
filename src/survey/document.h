/* One file on its way from bytes to a struct: opened, held against a schema, loaded. */
#ifndef RUDDLE_SURVEY_DOCUMENT_H
#define RUDDLE_SURVEY_DOCUMENT_H

#include "bytes.h"
#include "node.h"
#include "schema.h"

struct document {
    char *path; /* owned; as opened and as named in messages */
    struct bytes bytes;
    struct node *root; /* owned; NULL until checked, or where the file made no sense */
};

/* Reads the bytes of a file.  BAD_INPUT: reason says why in a few words.  The document may be
 * closed whatever the outcome. */
enum outcome document_open(const char *path, struct document *document, char reason[BYTES_REASON]);

/* The same for a text in memory that stands in for the file of that name.  FAULT: no memory. */
enum outcome document_hold(const char *path, const char *text, struct document *document);

/* Reports every fault of form.  DONE even if there are some: ask problems->total. */
enum outcome document_check(struct document *document, const cyaml_schema_value_t *schema,
                            struct problems *problems);

/* Loads a document in which no fault was found.  *data is owned by the caller: document_unload. */
enum outcome document_load(const struct document *document, const cyaml_schema_value_t *schema,
                           void **data, struct problems *problems);

/* Frees what was loaded; accepts NULL. */
void document_unload(const cyaml_schema_value_t *schema, void *data);

/* Frees a kit file's path, kit and lines, whoever has them. */
void survey_kit_file_free(struct survey_kit_file *file);

/* Hands the tree over as an index of lines; NULL without memory. */
struct survey_lines *document_take_lines(struct document *document);
void document_lines_free(struct survey_lines *lines); /* accepts NULL */

/* Frees what the document owns and leaves {0}. */
void document_close(struct document *document);

#endif
