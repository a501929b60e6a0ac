#include "document.h"

#include "faults.h"

#include <stdlib.h>
#include <string.h>

/* No log: every message is our own, with its line. */
static const cyaml_config_t config = {
    .log_fn = NULL,
    .mem_fn = cyaml_mem,
    .log_level = CYAML_LOG_ERROR,
    .flags = CYAML_CFG_NO_ALIAS,
};

enum outcome document_open(const char *path, struct document *document, char reason[BYTES_REASON]) {
    *document = (struct document){.path = strdup(path)};
    if (document->path == NULL) {
        return OUTCOME_FAULT;
    }
    return bytes_read(path, &document->bytes, reason);
}

enum outcome document_hold(const char *path, const char *text, struct document *document) {
    *document = (struct document){
        .path = strdup(path),
        .bytes = {.data = strdup(text), .size = strlen(text)},
    };
    return document->path != NULL && document->bytes.data != NULL ? OUTCOME_DONE : OUTCOME_FAULT;
}

/* One message for a file that is sound but of the other kind; NULL if it is not.  The first key
 * tells. */
static const char *mistaken(const struct node *root, const cyaml_schema_value_t *schema) {
    const char *first = root->kind == NODE_GROUP && root->count > 0 ? root->children[0]->key : "";
    if (schema == &schema_roof && strcmp(first, "kit") == 0) {
        return "a roof file, with `roof:` for its first key: this is a kit file";
    }
    if (schema == &schema_kit && strcmp(first, "roof") == 0) {
        return "a kit file, with `kit:` for its first key: this is a roof file";
    }
    return NULL;
}

enum outcome document_check(struct document *document, const cyaml_schema_value_t *schema,
                            struct problems *problems) {
    enum outcome outcome = bytes_check(&document->bytes, document->path, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = node_read(&document->bytes, document->path, problems, &document->root);
    }
    if (outcome == OUTCOME_DONE) {
        const char *wanted = mistaken(document->root, schema);
        if (wanted != NULL) {
            problems_add(problems, document->path, document->root->line, NULL, NULL, wanted);
        } else {
            faults_report(document->root, schema, document->path, problems);
        }
    }
    return outcome == OUTCOME_FAULT ? OUTCOME_FAULT : OUTCOME_DONE;
}

/* The parser has been through the same bytes before, so where it fails now it is memory that it
 * lacks; libcyaml hands that on as an error of the parser. */
static bool is_lack_of_memory(cyaml_err_t error) {
    return error == CYAML_ERR_OOM || error == CYAML_ERR_LIBYAML_PARSER ||
           error == CYAML_ERR_LIBYAML_PARSER_INIT || error == CYAML_ERR_LIBYAML_EVENT_INIT;
}

enum outcome document_load(const struct document *document, const cyaml_schema_value_t *schema,
                           void **data, struct problems *problems) {
    void *loaded = NULL;
    const cyaml_err_t error = cyaml_load_data((const uint8_t *)document->bytes.data,
                                              document->bytes.size, &config, schema, &loaded, NULL);
    if (error == CYAML_OK && loaded != NULL) {
        *data = loaded;
        return OUTCOME_DONE;
    }
    if (is_lack_of_memory(error)) {
        return OUTCOME_FAULT;
    }
    /* Not reached by any file known: what the check lets through, the loader takes. */
    problems_add(problems, document->path, document->root->line, NULL, NULL,
                 "a file that loads; this one does not, though no fault was found in it");
    return OUTCOME_BAD_INPUT;
}

void document_unload(const cyaml_schema_value_t *schema, void *data) {
    if (data != NULL) {
        cyaml_free(&config, schema, data, 0);
    }
}

struct survey_lines *document_take_lines(struct document *document) {
    struct survey_lines *lines = malloc(sizeof *lines);
    if (lines != NULL) {
        lines->root = document->root;
        document->root = NULL;
    }
    return lines;
}

void document_lines_free(struct survey_lines *lines) {
    if (lines != NULL) {
        node_free(lines->root);
        free(lines);
    }
}

void document_close(struct document *document) {
    free(document->path);
    free(document->bytes.data);
    node_free(document->root);
    *document = (struct document){0};
}
