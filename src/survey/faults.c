#include "faults.h"

#include "letter.h"
#include "nearest.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

enum { LETTERS_LEAST = 3 }; /* of a key that is cut short */

struct walk {
    const char *file;
    struct problems *problems;
    char path[160]; /* of the node in hand; cut where it is longer */
    size_t length;
};

static void check_value(struct walk *walk, const struct node *node,
                        const cyaml_schema_value_t *schema);

static void report(const struct walk *walk, int line, const char *found, const char *wanted) {
    problems_add(walk->problems, walk->file, line, walk->path, found, wanted);
}

/* Lengthens the path by a key; the caller shortens it to the length returned. */
static size_t push_key(struct walk *walk, const char *key) {
    const size_t before = walk->length;
    const size_t room = sizeof walk->path - before;
    const int added = snprintf(walk->path + before, room, "%s%.60s", before > 0 ? "." : "", key);
    walk->length = added < 0 || (size_t)added >= room ? before : before + (size_t)added;
    walk->path[walk->length] = '\0';
    return before;
}

/* As push_key, for an entry of a list; entries count from 1. */
static size_t push_entry(struct walk *walk, size_t index) {
    const size_t before = walk->length;
    const size_t room = sizeof walk->path - before;
    const int added = snprintf(walk->path + before, room, "[%zu]", index + 1);
    walk->length = added < 0 || (size_t)added >= room ? before : before + (size_t)added;
    walk->path[walk->length] = '\0';
    return before;
}

static void pop(struct walk *walk, size_t before) {
    walk->length = before;
    walk->path[before] = '\0';
}

/* Writes `start` and the keys of a group whose values are read, as many as there is room for. */
static void list_keys(char *text, size_t room, const char *start,
                      const cyaml_schema_field_t *fields) {
    size_t length = (size_t)snprintf(text, room, "%s", start);
    const char *separator = " ";
    for (const cyaml_schema_field_t *field = fields; field->key != NULL; field++) {
        if (field->value.type == CYAML_IGNORE) {
            continue;
        }
        if (length + strlen(separator) + strlen(field->key) + strlen(", ...") >= room) {
            snprintf(text + length, room - length, ", ...");
            return;
        }
        length += (size_t)snprintf(text + length, room - length, "%s%s", separator, field->key);
        separator = ", ";
    }
}

/* Words for what is no text. */
static const char *kind_words(enum node_kind kind) {
    return kind == NODE_LIST ? "a list" : "a group of keys";
}

bool faults_is_nothing(const struct node *node) {
    static const char *const nothing[] = {"", "~", "null", "Null", "NULL"};
    for (size_t i = 0; i < sizeof nothing / sizeof nothing[0]; i++) {
        /* "null" in quotes is a word like any other. */
        if ((node->plain || i == 0) && strcmp(node->text, nothing[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* A tab, a line end or another control character; or a mark that nobody sees.  The bytes of the
 * file were looked through already, so these came as `\e` or `\u202E`, or on a second line. */
static void check_letters(const struct walk *walk, const struct node *node) {
    bool shown = true;
    const char *text = node->text;
    size_t length = letter_step(text, &shown);
    while (shown && length > 0) {
        text += length;
        length = letter_step(text, &shown);
    }
    uint32_t letter = 0;
    if (length == 0 || letter_read(text, &letter) == 0) {
        return;
    }
    char wanted[96];
    if (letter < 0xA0) {
        snprintf(wanted, sizeof wanted, "a text on one line, without tabs");
    } else {
        snprintf(wanted, sizeof wanted,
                 "a text that shows all it holds: there is a hidden mark in it, U+%04X",
                 (unsigned)letter);
    }
    report(walk, node->line, node->text, wanted);
}

static void check_text(const struct walk *walk, const struct node *node, bool optional) {
    if (node->kind != NODE_TEXT) {
        char wanted[64];
        snprintf(wanted, sizeof wanted, "one value here, not %s", kind_words(node->kind));
        report(walk, node->line, NULL, wanted);
        return;
    }
    if (faults_is_nothing(node)) {
        report(walk, node->line, node->text,
               optional ? "a value; leave the key out if there is none" : "a value");
        return;
    }
    check_letters(walk, node);
}

static const cyaml_schema_field_t *find_field(const cyaml_schema_field_t *fields, const char *key) {
    for (const cyaml_schema_field_t *field = fields; field->key != NULL; field++) {
        if (strcmp(field->key, key) == 0) {
            return field;
        }
    }
    return NULL;
}

/* The known key that a misspelt one was most likely meant to be; NULL if none is near.  One that is
 * cut short is taken for a key only if the key's value is read. */
static const char *nearest_key(const char *key, const cyaml_schema_field_t *fields) {
    struct nearest nearest = {0};
    for (const cyaml_schema_field_t *field = fields; field->key != NULL; field++) {
        const bool read = field->value.type != CYAML_IGNORE;
        nearest_offer(&nearest, key, field->key, read ? LETTERS_LEAST : NEAREST_NEVER);
    }
    return nearest.word;
}

static void report_unknown(struct walk *walk, const struct node *child,
                           const cyaml_schema_field_t *fields) {
    char wanted[200];
    const char *nearest = nearest_key(child->key, fields);
    if (strcmp(child->key, "<<") == 0) {
        snprintf(wanted, sizeof wanted, "the keys themselves: merge keys are not read");
    } else if (nearest != NULL) {
        snprintf(wanted, sizeof wanted, "a known key: did you mean `%s`?", nearest);
    } else {
        list_keys(wanted, sizeof wanted, "a known key, one of:", fields);
    }
    const size_t before = push_key(walk, child->key);
    report(walk, child->line, child->key, wanted);
    pop(walk, before);
}

/* The first child of a group with the same key as the one at `index`: itself, or an earlier one. */
static const struct node *first_of_key(const struct node *group, size_t index) {
    size_t i = 0;
    /* NOLINTNEXTLINE(clang-analyzer-core.NonNullParamChecker): children of a group have keys. */
    while (strcmp(group->children[i]->key, group->children[index]->key) != 0) {
        i++;
    }
    return group->children[i];
}

/* Reports a key that stands in its group already; true if it does. */
static bool report_doubled(struct walk *walk, const struct node *group, size_t index) {
    const struct node *child = group->children[index];
    const struct node *first = first_of_key(group, index);
    if (first == child) {
        return false;
    }
    char wanted[64];
    snprintf(wanted, sizeof wanted, "this key once: it stands in line %d already", first->line);
    const size_t before = push_key(walk, child->key);
    report(walk, child->line, child->key, wanted);
    pop(walk, before);
    return true;
}

/* True if the group holds a misspelt form of the key: reported already. */
static bool holds_misspelt(const struct node *group, const cyaml_schema_field_t *fields,
                           const char *key) {
    for (size_t i = 0; i < group->count; i++) {
        const char *written = group->children[i]->key;
        if (find_field(fields, written) != NULL) {
            continue;
        }
        const char *nearest = nearest_key(written, fields);
        if (nearest != NULL && strcmp(nearest, key) == 0) {
            return true;
        }
    }
    return false;
}

static void report_missing(struct walk *walk, const struct node *group,
                           const cyaml_schema_field_t *fields) {
    for (const cyaml_schema_field_t *field = fields; field->key != NULL; field++) {
        const bool optional = (field->value.flags & CYAML_FLAG_OPTIONAL) != 0;
        if (optional || node_child(group, field->key, strlen(field->key)) != NULL ||
            holds_misspelt(group, fields, field->key)) {
            continue;
        }
        const size_t before = push_key(walk, field->key);
        report(walk, group->line, NULL, "this key: it is missing");
        pop(walk, before);
    }
}

static void check_group(struct walk *walk, const struct node *node,
                        const cyaml_schema_field_t *fields) {
    if (node->kind != NODE_GROUP) {
        char wanted[200];
        list_keys(wanted, sizeof wanted, "a group of keys:", fields);
        report(walk, node->line, node->text, wanted);
        return;
    }
    for (size_t i = 0; i < node->count; i++) {
        const struct node *child = node->children[i];
        const cyaml_schema_field_t *field = find_field(fields, child->key);
        if (report_doubled(walk, node, i)) {
            continue;
        }
        if (field == NULL) {
            report_unknown(walk, child, fields);
            continue;
        }
        const size_t before = push_key(walk, child->key);
        check_value(walk, child, &field->value);
        pop(walk, before);
    }
    report_missing(walk, node, fields);
}

/* What a list must be, in words. */
static void write_list_wanted(char *wanted, size_t room, const cyaml_schema_value_t *schema) {
    const unsigned fewest = schema->sequence.min;
    if (schema->sequence.entry->type == CYAML_MAPPING) {
        snprintf(wanted, room, "a list, each entry on a line that starts with `- `");
    } else if (schema->sequence.entry->type == CYAML_SEQUENCE_FIXED) {
        snprintf(wanted, room, "a list of corners such as `[[0, 0], [360, 0], [180, 150]]`");
    } else if (fewest == schema->sequence.max) {
        snprintf(wanted, room, "a list of %u values such as `%s`", fewest,
                 fewest == 3 ? "[36, 66, 12]" : "[60, 40]");
    } else {
        snprintf(wanted, room, "a list of values such as `[12, 60]`");
    }
}

static void check_list(struct walk *walk, const struct node *node,
                       const cyaml_schema_value_t *schema) {
    char wanted[128];
    write_list_wanted(wanted, sizeof wanted, schema);
    if (node->kind != NODE_LIST) {
        report(walk, node->line, node->text, wanted);
        return;
    }
    for (size_t i = 0; i < node->count; i++) {
        const size_t before = push_entry(walk, i);
        check_value(walk, node->children[i], schema->sequence.entry);
        pop(walk, before);
    }
    if (node->count < schema->sequence.min || node->count > schema->sequence.max) {
        const size_t used = strlen(wanted);
        if (node->count == 0) {
            snprintf(wanted + used, sizeof wanted - used, "; this one is empty");
        } else {
            snprintf(wanted + used, sizeof wanted - used, "; there %s %zu in this one",
                     node->count == 1 ? "is" : "are", node->count);
        }
        report(walk, node->line, NULL, wanted);
    }
}

/* What the schema says nothing of may still hold no doubled and no merge keys. */
static void check_unread(struct walk *walk, const struct node *node) {
    static const cyaml_schema_field_t none[] = {CYAML_FIELD_END};
    for (size_t i = 0; i < node->count; i++) {
        const struct node *child = node->children[i];
        if (child->key != NULL && !report_doubled(walk, node, i) && strcmp(child->key, "<<") == 0) {
            report_unknown(walk, child, none);
        }
        const size_t before = child->key != NULL ? push_key(walk, child->key) : push_entry(walk, i);
        check_unread(walk, child);
        pop(walk, before);
    }
}

static void check_value(struct walk *walk, const struct node *node,
                        const cyaml_schema_value_t *schema) {
    if (node->kind == NODE_REFUSED) {
        return;
    }
    switch (schema->type) {
    case CYAML_STRING:
        check_text(walk, node, (schema->flags & CYAML_FLAG_OPTIONAL) != 0);
        break;
    case CYAML_MAPPING:
        check_group(walk, node, schema->mapping.fields);
        break;
    case CYAML_SEQUENCE:
    case CYAML_SEQUENCE_FIXED:
        check_list(walk, node, schema);
        break;
    default:
        assert(schema->type == CYAML_IGNORE);
        check_unread(walk, node);
        break;
    }
}

void faults_report(const struct node *root, const cyaml_schema_value_t *schema, const char *file,
                   struct problems *problems) {
    struct walk walk = {.file = file, .problems = problems};
    check_value(&walk, root, schema);
}
