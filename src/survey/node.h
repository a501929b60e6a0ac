/* A file as a tree of nodes, each with the place where it stands: what the YAML events of one
 * document come to.
 */
#ifndef RUDDLE_SURVEY_NODE_H
#define RUDDLE_SURVEY_NODE_H

#include "bytes.h"
#include "problem.h"
#include "survey.h"

#include <stdbool.h>
#include <stddef.h>

enum node_kind {
    NODE_TEXT,
    NODE_LIST,
    NODE_GROUP,  /* keys with values */
    NODE_REFUSED /* already reported: whatever is wanted here, say no more */
};

struct node {
    enum node_kind kind;
    int line;               /* from 1; of its key where it has one */
    char *key;              /* owned; NULL for an entry of a list and for the root */
    char *text;             /* owned; NULL unless NODE_TEXT */
    bool plain;             /* text written without quotes */
    struct node **children; /* owned; in the order of the file */
    size_t count;
};

enum { NODE_KEYS_MOST = 200 }; /* in one group */

/* Reads the one document of a file.  Reports syntax errors, limits passed, and what YAML allows
 * but a survey does not: anchors, aliases, tags, merge keys, keys that are no text, second
 * documents.  DONE: *root is owned by the caller (node_free); faults may have been reported all
 * the same.  BAD_INPUT: the rest of the file could not be made sense of.  FAULT: no memory.  *root
 * is untouched unless DONE. */
enum outcome node_read(const struct bytes *bytes, const char *file, struct problems *problems,
                       struct node **root);

void node_free(struct node *node); /* accepts NULL */

/* The value of a key of a group; NULL if there is none. */
const struct node *node_child(const struct node *group, const char *key, size_t key_length);

/* What a libyaml error means, in words for a person who measures roofs: "spaces ...". */
struct node_syntax {
    const char *problem; /* libyaml's words; may be NULL */
    int line;            /* where it noticed, from 1 */
    const char *context; /* what it was reading; may be NULL */
    int context_line;    /* where that began */
};
void node_report_syntax(const struct node_syntax *syntax, const struct bytes *bytes,
                        const char *file, struct problems *problems);

/* Lines of a file: the tree itself, walked by path. */
struct survey_lines {
    struct node *root; /* owned */
};

#endif
