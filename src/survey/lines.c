/* From the path of a key to its line: the tree of the file is the index. */
#include "node.h"

#include <stdlib.h>
#include <string.h>

const struct node *node_child(const struct node *group, const char *key, size_t key_length) {
    for (size_t i = 0; i < group->count; i++) {
        const char *name = group->children[i]->key;
        if (name != NULL && strlen(name) == key_length && memcmp(name, key, key_length) == 0) {
            return group->children[i];
        }
    }
    return NULL;
}

/* Steps into `[12]` and over its text; NULL if there is no such entry. */
static const struct node *entry(const struct node *list, const char **path) {
    char *end = NULL;
    const unsigned long number = strtoul(*path + 1, &end, 10);
    if (*end != ']' || list->kind != NODE_LIST || number == 0 || number > list->count) {
        return NULL;
    }
    *path = end + 1;
    return list->children[number - 1];
}

/* The deepest node on the way; *whole tells if it is the path's own. */
static const struct node *walk(const struct node *root, const char *path, bool *whole) {
    const struct node *node = root;
    while (*path != '\0') {
        const struct node *next = NULL;
        if (*path == '[') {
            next = entry(node, &path);
        } else {
            path += *path == '.' ? 1 : 0;
            const size_t length = strcspn(path, ".[");
            next = node->kind == NODE_GROUP ? node_child(node, path, length) : NULL;
            path += length;
        }
        if (next == NULL) {
            *whole = false;
            return node;
        }
        node = next;
    }
    *whole = true;
    return node;
}

int survey_line(const struct survey_lines *lines, const char *path) {
    bool whole = false;
    return lines == NULL ? 0 : walk(lines->root, path, &whole)->line;
}

bool survey_has(const struct survey_lines *lines, const char *path) {
    bool whole = false;
    return lines != NULL && walk(lines->root, path, &whole) != NULL && whole;
}
