/* One pass over the YAML events of a file, into a tree of nodes.  The tree is bounded in depth and
 * size, so that nothing which walks it later needs limits of its own. */
#include "node.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

struct builder {
    const struct bytes *bytes;
    const char *file;
    struct problems *problems;
    struct node *root;                    /* owned until handed over */
    struct node *open[SURVEY_DEPTH_MOST]; /* lists and groups not yet closed; outermost first */
    size_t depth;
    char *key; /* owned: read, and waiting for its value; else NULL */
    int key_line;
    size_t node_count;
    size_t document_count;
};

static int line_of(const yaml_event_t *event) {
    return (int)event->start_mark.line + 1;
}

/* Writes the path of the node that comes next. */
static void write_path(const struct builder *builder, char *path, size_t room) {
    size_t length = 0;
    path[0] = '\0';
    for (size_t i = 0; i < builder->depth && length < room; i++) {
        const struct node *parent = builder->open[i];
        const struct node *child = i + 1 < builder->depth ? builder->open[i + 1] : NULL;
        int added = 0;
        /* NOLINTNEXTLINE(clang-analyzer-core.NullDereference): what is open is a node. */
        if (parent->kind == NODE_LIST) {
            const size_t number = child != NULL ? parent->count : parent->count + 1;
            added = snprintf(path + length, room - length, "[%zu]", number);
        } else {
            const char *key = child != NULL ? child->key : builder->key;
            added = snprintf(path + length, room - length, "%s%s", length > 0 ? "." : "",
                             key != NULL ? key : "");
        }
        length += added > 0 ? (size_t)added : 0;
    }
}

static void report(const struct builder *builder, int line, const char *found, const char *wanted) {
    char path[128];
    write_path(builder, path, sizeof path);
    problems_add(builder->problems, builder->file, line, path, found, wanted);
}

/* As report, with a mark such as & before what was found. */
static void report_marked(const struct builder *builder, int line, const char *mark,
                          const yaml_char_t *name, const char *wanted) {
    char found[96];
    snprintf(found, sizeof found, "%s%.90s", mark, (const char *)name);
    report(builder, line, found, wanted);
}

static void report_tag(const struct builder *builder, int line, const yaml_char_t *tag) {
    static const char standard[] = "tag:yaml.org,2002:"; /* written !! in a file */
    const size_t length = strlen(standard);
    const bool known = strncmp((const char *)tag, standard, length) == 0;
    report_marked(builder, line, known ? "!!" : "", known ? tag + length : tag,
                  "the value alone: tags are not read");
}

static char *copy_text(const yaml_char_t *text, size_t length) {
    char *copy = malloc(length + 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
        copy[length] = '\0';
    }
    return copy;
}

static enum outcome append(struct node *parent, struct node *child) {
    /* The list doubles at 0, 1, 2, 4 ...: its room follows from its count. */
    const size_t count = parent->count;
    if ((count & (count - 1)) == 0) {
        const size_t room = count == 0 ? 1 : 2 * count;
        struct node **children = realloc(parent->children, room * sizeof *children);
        if (children == NULL) {
            return OUTCOME_FAULT;
        }
        parent->children = children;
    }
    parent->children[parent->count++] = child;
    return OUTCOME_DONE;
}

/* Hangs a node where it belongs; it is the builder's from here on, whatever the outcome. */
static enum outcome hang(struct builder *builder, struct node *node) {
    node->key = builder->key;
    node->line = builder->key != NULL ? builder->key_line : node->line;
    builder->key = NULL;
    if (builder->depth == 0) {
        builder->root = node;
        return OUTCOME_DONE;
    }
    const enum outcome outcome = append(builder->open[builder->depth - 1], node);
    if (outcome != OUTCOME_DONE) {
        node_free(node);
    }
    return outcome;
}

static enum outcome add_node(struct builder *builder, enum node_kind kind, int line,
                             struct node **node) {
    if (builder->node_count >= SURVEY_NODES_MOST) {
        report(builder, line, NULL, "fewer entries: a file may hold 100 000 at most");
        return OUTCOME_BAD_INPUT;
    }
    builder->node_count++;
    struct node *added = calloc(1, sizeof *added);
    if (added == NULL) {
        return OUTCOME_FAULT;
    }
    added->kind = kind;
    added->line = line;
    const enum outcome outcome = hang(builder, added);
    *node = outcome == OUTCOME_DONE ? added : NULL;
    return outcome;
}

/* True if a key comes next, not a value. */
static bool key_is_due(const struct builder *builder) {
    return builder->depth > 0 && builder->open[builder->depth - 1]->kind == NODE_GROUP &&
           builder->key == NULL;
}

/* Reports what hangs on a node beside its value; true if anything did. */
static bool report_extras(const struct builder *builder, int line, const yaml_char_t *anchor,
                          const yaml_char_t *tag) {
    if (anchor != NULL) {
        report_marked(builder, line, "&", anchor, "the value alone: anchors are not read");
    }
    if (tag != NULL) {
        report_tag(builder, line, tag);
    }
    return anchor != NULL || tag != NULL;
}

static enum outcome take_key(struct builder *builder, const yaml_event_t *event) {
    const struct node *group = builder->open[builder->depth - 1];
    const yaml_char_t *text = event->data.scalar.value;
    const size_t length = event->data.scalar.length;
    if (group->count >= NODE_KEYS_MOST) {
        report(builder, line_of(event), NULL, "fewer keys: one group may hold 200 at most");
        return OUTCOME_BAD_INPUT;
    }
    if (strlen((const char *)text) != length) {
        report(builder, line_of(event), NULL, "a key of text: there is a NUL in this one");
        return OUTCOME_BAD_INPUT;
    }
    builder->key = copy_text(text, length);
    builder->key_line = line_of(event);
    return builder->key != NULL ? OUTCOME_DONE : OUTCOME_FAULT;
}

static enum outcome take_scalar(struct builder *builder, const yaml_event_t *event) {
    const int line = line_of(event);
    const bool extras =
        report_extras(builder, line, event->data.scalar.anchor, event->data.scalar.tag);
    if (key_is_due(builder)) {
        return take_key(builder, event);
    }
    const size_t length = event->data.scalar.length;
    const bool has_nul = strlen((const char *)event->data.scalar.value) != length;
    if (has_nul) {
        report(builder, line, NULL, "text: there is a NUL in this value");
    }
    struct node *node = NULL;
    const enum node_kind kind = extras || has_nul ? NODE_REFUSED : NODE_TEXT;
    const enum outcome outcome = add_node(builder, kind, line, &node);
    if (outcome != OUTCOME_DONE || node->kind == NODE_REFUSED) {
        return outcome;
    }
    node->plain = event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
    node->text = copy_text(event->data.scalar.value, length);
    return node->text != NULL ? OUTCOME_DONE : OUTCOME_FAULT;
}

static enum outcome refuse_key(const struct builder *builder, const yaml_event_t *event) {
    report(builder, line_of(event), NULL, "a key of plain text such as `slope:`");
    return OUTCOME_BAD_INPUT;
}

static enum outcome take_alias(struct builder *builder, const yaml_event_t *event) {
    if (key_is_due(builder)) {
        return refuse_key(builder, event);
    }
    struct node *node = NULL;
    report_marked(builder, line_of(event), "*", event->data.alias.anchor,
                  "the value written out: aliases are not read");
    return add_node(builder, NODE_REFUSED, line_of(event), &node);
}

static enum outcome take_start(struct builder *builder, const yaml_event_t *event) {
    const bool list = event->type == YAML_SEQUENCE_START_EVENT;
    if (key_is_due(builder)) {
        return refuse_key(builder, event);
    }
    report_extras(builder, line_of(event),
                  list ? event->data.sequence_start.anchor : event->data.mapping_start.anchor,
                  list ? event->data.sequence_start.tag : event->data.mapping_start.tag);
    if (builder->depth == SURVEY_DEPTH_MOST) {
        report(builder, line_of(event), NULL, "less nesting: 16 levels at most");
        return OUTCOME_BAD_INPUT;
    }
    struct node *node = NULL;
    const enum outcome outcome =
        add_node(builder, list ? NODE_LIST : NODE_GROUP, line_of(event), &node);
    if (outcome == OUTCOME_DONE) {
        builder->open[builder->depth++] = node;
    }
    return outcome;
}

static enum outcome take_event(struct builder *builder, const yaml_event_t *event) {
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        if (builder->document_count++ == 0) {
            return OUTCOME_DONE;
        }
        problems_add(builder->problems, builder->file, line_of(event), NULL, NULL,
                     "one document in a file: a second one starts here");
        return OUTCOME_BAD_INPUT;
    case YAML_SCALAR_EVENT:
        return take_scalar(builder, event);
    case YAML_ALIAS_EVENT:
        return take_alias(builder, event);
    case YAML_SEQUENCE_START_EVENT:
    case YAML_MAPPING_START_EVENT:
        return take_start(builder, event);
    case YAML_SEQUENCE_END_EVENT:
    case YAML_MAPPING_END_EVENT:
        builder->depth--;
        return OUTCOME_DONE;
    default:
        return OUTCOME_DONE;
    }
}

static enum outcome report_parser(const struct builder *builder, const yaml_parser_t *parser) {
    if (parser->error == YAML_MEMORY_ERROR) {
        return OUTCOME_FAULT;
    }
    const struct node_syntax syntax = {
        .problem = parser->problem,
        .line = (int)parser->problem_mark.line + 1,
        .context = parser->context,
        .context_line = (int)parser->context_mark.line + 1,
    };
    node_report_syntax(&syntax, builder->bytes, builder->file, builder->problems);
    return OUTCOME_BAD_INPUT;
}

static enum outcome take_all(struct builder *builder, yaml_parser_t *parser) {
    for (bool more = true; more;) {
        yaml_event_t event;
        if (!yaml_parser_parse(parser, &event)) {
            return report_parser(builder, parser);
        }
        more = event.type != YAML_STREAM_END_EVENT;
        const enum outcome outcome = take_event(builder, &event);
        yaml_event_delete(&event);
        if (outcome != OUTCOME_DONE) {
            return outcome;
        }
    }
    if (builder->root == NULL) {
        problems_add(builder->problems, builder->file, 1, NULL, NULL,
                     "keys and values: the file is empty, or holds comments only");
        return OUTCOME_BAD_INPUT;
    }
    return OUTCOME_DONE;
}

enum outcome node_read(const struct bytes *bytes, const char *file, struct problems *problems,
                       struct node **root) {
    struct builder builder = {.bytes = bytes, .file = file, .problems = problems};
    yaml_parser_t parser;
    const int tag_line = bytes_tag_line(bytes);
    if (tag_line > 0) {
        problems_add(problems, file, tag_line, NULL, "%TAG", "the values alone: tags are not read");
        return OUTCOME_BAD_INPUT;
    }
    if (!yaml_parser_initialize(&parser)) {
        return OUTCOME_FAULT;
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes->data, bytes->size);
    const enum outcome outcome = take_all(&builder, &parser);
    yaml_parser_delete(&parser);
    free(builder.key);
    if (outcome == OUTCOME_DONE) {
        *root = builder.root;
    } else {
        node_free(builder.root);
    }
    return outcome;
}

void node_free(struct node *node) {
    if (node == NULL) {
        return;
    }
    /* No deeper than SURVEY_DEPTH_MOST: the reader saw to it. */
    for (size_t i = 0; i < node->count; i++) {
        node_free(node->children[i]);
    }
    free(node->children);
    free(node->key);
    free(node->text);
    free(node);
}
