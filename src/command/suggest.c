#include "suggest.h"

#include <stdbool.h>
#include <string.h>

enum { LETTERS_MOST = 32 }; /* longer words are no slip of the fingers */

static size_t least_of(size_t a, size_t b) {
    return a < b ? a : b;
}

/* How many slips lead from one word to the other: the restricted Damerau-Levenshtein distance,
 * row by row.  Neither is longer than LETTERS_MOST. */
static size_t slips(const char *a, const char *b) {
    size_t rows[3][LETTERS_MOST + 1] = {{0}};
    const size_t a_length = strlen(a);
    const size_t b_length = strlen(b);
    for (size_t j = 0; j <= b_length; j++) {
        rows[0][j] = j;
    }
    for (size_t i = 1; i <= a_length; i++) {
        size_t *now = rows[i % 3];
        const size_t *last = rows[(i + 2) % 3];
        const size_t *before = rows[(i + 1) % 3]; /* the row before the last */
        now[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            const size_t other = a[i - 1] != b[j - 1];
            now[j] = least_of(least_of(last[j], now[j - 1]) + 1, last[j - 1] + other);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
                now[j] = least_of(now[j], before[j - 2] + 1);
            }
        }
    }
    return rows[a_length % 3][b_length];
}

/* Slips, but a beginning counts as the smallest of them; SIZE_MAX beyond what is likely. */
static size_t distance(const char *word, const char *known) {
    const size_t length = strlen(word);
    if (length == 0 || length > LETTERS_MOST || strlen(known) > LETTERS_MOST) {
        return (size_t)-1;
    }
    if (strncmp(word, known, length) == 0) {
        return 0;
    }
    const size_t count = slips(word, known);
    return count <= (length + 2) / 3 ? count : (size_t)-1;
}

const char *suggest_nearest(const char *word, const char *const *known, size_t count) {
    const char *nearest = NULL;
    size_t least = (size_t)-1;
    for (size_t i = 0; i < count; i++) {
        const size_t far = distance(word, known[i]);
        if (far < least) {
            least = far;
            nearest = known[i];
        }
    }
    return nearest;
}
