#include "nearest.h"

#include <stdbool.h>
#include <string.h>

enum { LETTERS_MOST = 32 }; /* longer words are no slip of the fingers */

static size_t lesser(size_t a, size_t b) {
    return a < b ? a : b;
}

/* Written out, so that no locale has a say. */
static char plain(char c) {
    if (c >= 'A' && c <= 'Z') {
        return (char)(c - 'A' + 'a');
    }
    return c == '-' || c == ' ' ? '_' : c;
}

/* Slips between two words of at most LETTERS_MOST bytes: optimal string alignment. */
static size_t slips(const char *a, const char *b) {
    size_t table[LETTERS_MOST + 1][LETTERS_MOST + 1];
    const size_t a_length = strlen(a);
    const size_t b_length = strlen(b);
    for (size_t i = 0; i <= a_length; i++) {
        for (size_t j = 0; j <= b_length; j++) {
            if (i == 0 || j == 0) {
                table[i][j] = i + j;
                continue;
            }
            const size_t changed = plain(a[i - 1]) == plain(b[j - 1]) ? 0 : 1;
            table[i][j] =
                lesser(table[i - 1][j - 1] + changed, lesser(table[i - 1][j], table[i][j - 1]) + 1);
            if (i > 1 && j > 1 && plain(a[i - 1]) == plain(b[j - 2]) &&
                plain(a[i - 2]) == plain(b[j - 1])) {
                table[i][j] = lesser(table[i][j], table[i - 2][j - 2] + 1);
            }
        }
    }
    return table[a_length][b_length];
}

/* True if one is how the other begins. */
static bool begins(const char *a, const char *b, size_t letters) {
    const size_t shorter = lesser(strlen(a), strlen(b));
    return shorter > 0 && shorter >= letters && strncmp(a, b, shorter) == 0;
}

void nearest_offer(struct nearest *nearest, const char *mistyped, const char *known,
                   size_t letters) {
    const size_t length = strlen(mistyped);
    const size_t longer = length > strlen(known) ? length : strlen(known);
    if (longer > LETTERS_MOST) {
        return;
    }
    const size_t count = slips(mistyped, known);
    const bool near =
        (count < longer && 4 * count <= longer + 3) || begins(mistyped, known, letters);
    if (near && (nearest->word == NULL || count < nearest->slips)) {
        *nearest = (struct nearest){known, count};
    }
}
