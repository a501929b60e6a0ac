#include "piped.h"

#include "survey.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Reads up to `room` bytes; false and errno on failure. */
static bool read_to_end(char *bytes, size_t room, size_t *size) {
    *size = 0;
    while (*size < room) {
        const ssize_t part = read(STDIN_FILENO, bytes + *size, room - *size);
        if (part < 0 && errno == EINTR) {
            continue;
        }
        if (part <= 0) {
            return part == 0;
        }
        *size += (size_t)part;
    }
    return true;
}

enum outcome piped_read(struct piped *piped, struct problems *problems) {
    const size_t most = SURVEY_BYTES_MOST;
    size_t size = 0;
    char *bytes = malloc(most + 2); /* one byte too many shows, and the NUL */
    if (bytes == NULL) {
        return OUTCOME_FAULT;
    }
    char wanted[160] = "";
    if (!read_to_end(bytes, most + 1, &size)) {
        snprintf(wanted, sizeof wanted, "standard input that can be read: %.100s", strerror(errno));
    } else if (size > most) {
        snprintf(wanted, sizeof wanted, "a roof file of at most %d bytes", SURVEY_BYTES_MOST);
    } else if (memchr(bytes, '\0', size) != NULL) {
        snprintf(wanted, sizeof wanted, "text: there is a NUL byte on standard input");
    }
    if (wanted[0] != '\0') {
        problems_add(problems, PIPED_NAME, 0, NULL, NULL, wanted);
        free(bytes);
        return OUTCOME_BAD_INPUT;
    }
    bytes[size] = '\0';
    char *smaller = realloc(bytes, size + 1);
    if (smaller != NULL) {
        bytes = smaller;
    }
    *piped = (struct piped){.bytes = bytes, .size = size};
    return OUTCOME_DONE;
}

const char *piped_text(const struct piped *piped) {
    static const char mark[] = "\xEF\xBB\xBF";
    return piped->bytes + (strncmp(piped->bytes, mark, strlen(mark)) == 0 ? strlen(mark) : 0);
}
