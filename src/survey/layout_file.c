/* A layout that somebody else made. */
#include "document.h"

#include <stdio.h>
#include <stdlib.h>

static enum outcome check_layout(const char *path, const char *text, struct document *document,
                                 struct problems *problems) {
    char reason[BYTES_REASON];
    const enum outcome outcome =
        text == NULL ? document_open(path, document, reason) : document_hold(path, text, document);
    if (outcome == OUTCOME_BAD_INPUT) {
        char wanted[BYTES_REASON + 40];
        snprintf(wanted, sizeof wanted, "a layout file that can be read: %s", reason);
        problems_add(problems, path, 0, NULL, NULL, wanted);
    }
    return outcome == OUTCOME_DONE ? document_check(document, &schema_layout, problems) : outcome;
}

static enum outcome load_layout(struct document *document, struct survey_layout **layout,
                                struct problems *problems) {
    void *data = NULL;
    const enum outcome outcome = document_load(document, &schema_layout, &data, problems);
    if (outcome != OUTCOME_DONE) {
        return outcome;
    }
    struct survey_layout *loaded = data;
    loaded->lines = document_take_lines(document);
    if (loaded->lines == NULL) {
        survey_layout_free(loaded);
        return OUTCOME_FAULT;
    }
    loaded->path = document->path;
    document->path = NULL;
    *layout = loaded;
    return OUTCOME_DONE;
}

enum outcome survey_read_layout(const char *path, struct survey_layout **layout,
                                struct problems *problems) {
    return survey_read_layout_text(path, NULL, layout, problems);
}

enum outcome survey_read_layout_text(const char *path, const char *text,
                                     struct survey_layout **layout, struct problems *problems) {
    struct document document = {0};
    const size_t before = problems->total;
    enum outcome outcome = check_layout(path, text, &document, problems);
    if (outcome == OUTCOME_DONE) {
        outcome =
            problems->total > before ? OUTCOME_BAD_INPUT : load_layout(&document, layout, problems);
    }
    document_close(&document);
    return outcome;
}

void survey_layout_free(struct survey_layout *layout) {
    if (layout == NULL) {
        return;
    }
    /* path and lines are no part of the schema: its loader leaves them NULL, and does not free
     * them. */
    free(layout->path);
    document_lines_free(layout->lines);
    document_unload(&schema_layout, layout);
}
