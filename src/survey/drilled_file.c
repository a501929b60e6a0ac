/* Holes that a crew has drilled already. */
#include "document.h"

#include <stdio.h>
#include <stdlib.h>

static enum outcome check_drilled(const char *path, struct document *document,
                                  struct problems *problems) {
    char reason[BYTES_REASON];
    const enum outcome outcome = document_open(path, document, reason);
    if (outcome == OUTCOME_BAD_INPUT) {
        char wanted[BYTES_REASON + 64];
        snprintf(wanted, sizeof wanted, "a file of drilled holes that can be read: %s", reason);
        problems_add(problems, path, 0, NULL, NULL, wanted);
    }
    return outcome == OUTCOME_DONE ? document_check(document, &schema_drilled, problems) : outcome;
}

static enum outcome load_drilled(struct document *document, struct survey_drilled **drilled,
                                 struct problems *problems) {
    void *data = NULL;
    const enum outcome outcome = document_load(document, &schema_drilled, &data, problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    struct survey_drilled *loaded = data;
    loaded->lines = document_take_lines(document);
    if (loaded->lines == NULL) {
        survey_drilled_free(loaded);
        return OUTCOME_FAULT;
    }
    loaded->path = document->path;
    document->path = NULL;
    *drilled = loaded;
    return OUTCOME_DONE;
}

enum outcome survey_read_drilled(const char *path, struct survey_drilled **drilled,
                                 struct problems *problems) {
    struct document document = {0};
    const size_t before = problems->total;
    enum outcome outcome = check_drilled(path, &document, problems);
    if (outcome == OUTCOME_DONE) {
        outcome = problems->total > before ? OUTCOME_BAD_INPUT
                                           : load_drilled(&document, drilled, problems);
    }
    document_close(&document);
    return outcome;
}

void survey_drilled_free(struct survey_drilled *drilled) {
    if (drilled == NULL) {
        return;
    }
    /* path and lines are no part of the schema, as with a layout's. */
    free(drilled->path);
    document_lines_free(drilled->lines);
    document_unload(&schema_drilled, drilled);
}
