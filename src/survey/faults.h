/* Holds the tree of a file against its schema and reports every fault of its form: keys unknown,
 * doubled or missing, wrong kinds of value, lists of the wrong length.
 */
#ifndef RUDDLE_SURVEY_FAULTS_H
#define RUDDLE_SURVEY_FAULTS_H

#include "node.h"
#include "schema.h"

void faults_report(const struct node *root, const cyaml_schema_value_t *schema, const char *file,
                   struct problems *problems);

/* True for a text that says nothing: empty, ~ or null.  The node must be a NODE_TEXT. */
bool faults_is_nothing(const struct node *node);

#endif
