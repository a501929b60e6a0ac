/* The nearest known key, by the number of slips: a letter left out, added, changed, or two
 * neighbours swapped (optimal string alignment).  Upper case, and - for _, are no slips; a key cut
 * short or drawn out is near however many letters that is, if its value is read. */
#include "faults.h"

#include <string.h>

enum { KEY_MOST = 24 }; /* bytes; nothing longer resembles a key */

static size_t least(size_t a, size_t b) {
    return a < b ? a : b;
}

static char lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c == '-' || c == ' ' ? '_' : c;
}

/* Slips between two keys of at most KEY_MOST bytes. */
static size_t slips(const char *a, const char *b) {
    size_t table[KEY_MOST + 1][KEY_MOST + 1];
    const size_t a_length = strlen(a);
    const size_t b_length = strlen(b);
    for (size_t i = 0; i <= a_length; i++) {
        for (size_t j = 0; j <= b_length; j++) {
            if (i == 0 || j == 0) {
                table[i][j] = i + j;
                continue;
            }
            const size_t changed = lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1;
            table[i][j] =
                least(table[i - 1][j - 1] + changed, least(table[i - 1][j], table[i][j - 1]) + 1);
            if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                lower(a[i - 2]) == lower(b[j - 1])) {
                table[i][j] = least(table[i][j], table[i - 2][j - 2] + 1);
            }
        }
    }
    return table[a_length][b_length];
}

/* True if one is how the other begins, three letters at least: `expo`, `exposures`. */
static bool begins(const char *a, const char *b) {
    const size_t shorter = least(strlen(a), strlen(b));
    return shorter >= 3 && strncmp(a, b, shorter) == 0;
}

const char *faults_nearest_key(const char *key, const cyaml_schema_field_t *fields) {
    const char *nearest = NULL;
    size_t nearest_slips = 0;
    const size_t length = strlen(key);
    if (length > KEY_MOST) {
        return NULL;
    }
    for (const cyaml_schema_field_t *field = fields; field->key != NULL; field++) {
        const size_t longer = length > strlen(field->key) ? length : strlen(field->key);
        if (longer > KEY_MOST) {
            continue;
        }
        const size_t count = slips(key, field->key);
        /* One slip in two letters, two in five, three in nine. */
        const bool near = (count < longer && 4 * count <= longer + 3) ||
                          (field->value.type != CYAML_IGNORE && begins(key, field->key));
        if (near && (nearest == NULL || count < nearest_slips)) {
            nearest = field->key;
            nearest_slips = count;
        }
    }
    return nearest;
}
