/* The words for what is no YAML at all. */
#include "node.h"

#include <stdio.h>
#include <string.h>

struct wording {
    const char *problem; /* libyaml's */
    const char *wanted;  /* ours */
};

static const struct wording wordings[] = {
    {"mapping values are not allowed in this context",
     "one `key: value` in a line, in line with its neighbours: this colon starts a second one"},
    {"block sequence entries are not allowed in this context",
     "a list entry on a line of its own: `- ` may not follow a key"},
    {"mapping keys are not allowed in this context", "a key at the start of a line"},
    {"could not find expected ':'", "a colon and a space after a key, such as `slope: 16' 4\"`"},
    {"found character that cannot start any token",
     "a value that starts with a letter or a digit: put quotes round this one"},
    {"found unexpected end of stream", "a closing quote"},
    {"found unexpected document indicator", "a closing quote before the document ends"},
    {"found unknown escape character", "no \\ in double quotes, or single quotes round the text"},
    {"did not find expected key", "a key in line with its neighbours, such as `slope: 16' 4\"`"},
    {"did not find expected '-' indicator", "the next list entry in line with the ones above"},
    {"did not find expected ',' or '}'", "a comma or a closing }"},
    {"did not find expected ',' or ']'", "a comma or a closing ]"},
    {"did not find expected node content", "a value"},
    {"did not find expected <document start>", "the file to end here, or to go on with a key"},
};

/* Finds a line (from 1) without its end; past the last line an empty one. */
static const char *find_line(const struct bytes *bytes, int line, size_t *length) {
    const char *at = bytes->data;
    for (int i = 1; i < line; i++) {
        at += strcspn(at, "\r\n");
        at += strncmp(at, "\r\n", 2) == 0 ? 2 : *at != '\0' ? 1 : 0;
    }
    *length = strcspn(at, "\r\n");
    return at;
}

static const char *find_wording(const char *problem) {
    for (size_t i = 0; i < sizeof wordings / sizeof wordings[0]; i++) {
        if (problem != NULL && strcmp(problem, wordings[i].problem) == 0) {
            return wordings[i].wanted;
        }
    }
    return NULL;
}

void node_report_syntax(const struct node_syntax *syntax, const struct bytes *bytes,
                        const char *file, struct problems *problems) {
    char wanted[224];
    char found[96];
    size_t length = 0;
    const char *line = find_line(bytes, syntax->line, &length);
    const size_t indent = strspn(line, " \t");
    const size_t shown = length > indent ? length - indent : 0;
    snprintf(found, sizeof found, "%.*s", (int)(shown < 90 ? shown : 90), line + indent);

    const char *words = find_wording(syntax->problem);
    if (memchr(line, '\t', indent) != NULL) {
        snprintf(wanted, sizeof wanted, "spaces to indent a line, never a tab");
    } else if (words != NULL) {
        snprintf(wanted, sizeof wanted, "%s", words);
    } else {
        snprintf(wanted, sizeof wanted, "good YAML: %.120s",
                 syntax->problem != NULL ? syntax->problem : "this cannot be read");
    }
    if (syntax->context != NULL && syntax->context_line < syntax->line) {
        const size_t used = strlen(wanted);
        snprintf(wanted + used, sizeof wanted - used, " (for what begins in line %d)",
                 syntax->context_line);
    }
    problems_add(problems, file, syntax->line, NULL, found, wanted);
}
