#include "bytes.h"

#include "letter.h"
#include "survey.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Reads up to `room` bytes behind the first `*size`; false and errno on failure. */
static bool read_all(int file, char *data, size_t room, size_t *size) {
    while (*size < room) {
        const ssize_t part = read(file, data + *size, room - *size);
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

/* Reads a file of about `guess` bytes to its end, at most one byte more than may be there.  *data
 * is owned by the caller and has room for one byte more; false and errno on failure, ENOMEM where
 * memory ran out. */
static bool read_whole(int file, size_t guess, char **data, size_t *size) {
    const size_t most = SURVEY_BYTES_MOST + 1;
    size_t room = guess;
    *data = NULL;
    *size = 0;
    do {
        /* One more than told, and the room doubled from there: the size may be stale. */
        room = room < most / 2 ? 2 * room + 1 : most;
        char *larger = realloc(*data, room + 1);
        if (larger == NULL) {
            errno = ENOMEM;
            return false;
        }
        *data = larger;
        if (!read_all(file, *data, room, size)) {
            return false;
        }
    } while (*size == room && room < most);
    return true;
}

/* Words for the kinds of file that are not read at all. */
static const char *kind_fault(mode_t mode) {
    if (S_ISREG(mode)) {
        return NULL;
    }
    return S_ISDIR(mode) ? "it is a folder" : "it is not a plain file";
}

/* Drops a byte-order mark and the room not used, and ends the text. */
static struct bytes settle(char *data, size_t size) {
    static const char mark[] = "\xEF\xBB\xBF";
    const size_t skipped = size >= 3 && memcmp(data, mark, 3) == 0 ? 3 : 0;
    memmove(data, data + skipped, size - skipped);
    data[size - skipped] = '\0';
    char *smaller = realloc(data, size - skipped + 1);
    return (struct bytes){.data = smaller != NULL ? smaller : data, .size = size - skipped};
}

static enum outcome read_open_file(int file, struct bytes *bytes, char reason[BYTES_REASON]) {
    struct stat status;
    if (fstat(file, &status) != 0) {
        snprintf(reason, BYTES_REASON, "%.100s", strerror(errno));
        return OUTCOME_BAD_INPUT;
    }
    const char *fault = kind_fault(status.st_mode);
    if (fault != NULL) {
        snprintf(reason, BYTES_REASON, "%s", fault);
        return OUTCOME_BAD_INPUT;
    }
    char *data = NULL;
    size_t size = 0;
    const bool too_large = status.st_size > SURVEY_BYTES_MOST;
    const bool read = too_large || read_whole(file, (size_t)status.st_size, &data, &size);
    if (!read && errno == ENOMEM) {
        free(data);
        return OUTCOME_FAULT;
    }
    if (!read) {
        snprintf(reason, BYTES_REASON, "%.100s", strerror(errno));
    } else if (too_large || size > SURVEY_BYTES_MOST) {
        snprintf(reason, BYTES_REASON, "it is larger than %d bytes", SURVEY_BYTES_MOST);
    } else {
        *bytes = settle(data, size);
        return OUTCOME_DONE;
    }
    free(data);
    return OUTCOME_BAD_INPUT;
}

enum outcome bytes_read(const char *path, struct bytes *bytes, char reason[BYTES_REASON]) {
    /* O_NONBLOCK: opening a pipe that nobody writes to must not wait. */
    const int file = open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    if (file < 0) {
        snprintf(reason, BYTES_REASON, "%.100s", strerror(errno));
        return OUTCOME_BAD_INPUT;
    }
    const enum outcome outcome = read_open_file(file, bytes, reason);
    close(file);
    return outcome;
}

/* What is wrong with a letter, in words that finish "wanted"; NULL if it is text. */
static const char *letter_fault(uint32_t letter) {
    if (letter == 0) {
        return "text: there is a NUL byte in this line";
    }
    if ((letter < 0x20 && letter != '\t' && letter != '\n' && letter != '\r') || letter == 0x7F ||
        (letter >= 0x80 && letter < 0xA0) || letter == 0xFEFF || letter == 0xFFFE ||
        letter == 0xFFFF) {
        return "text: there is a control character in this line";
    }
    if (letter == 0x2028 || letter == 0x2029) {
        return "plain line ends: there is a Unicode line separator in this line";
    }
    return NULL;
}

enum outcome bytes_check(const struct bytes *bytes, const char *file, struct problems *problems) {
    int line = 1;
    for (size_t i = 0; i < bytes->size;) {
        uint32_t letter = 0;
        const size_t length = letter_read(bytes->data + i, &letter);
        const char *fault =
            length == 0 ? "UTF-8 text: there are broken bytes in this line" : letter_fault(letter);
        if (fault != NULL) {
            problems_add(problems, file, line, NULL, NULL, fault);
            return OUTCOME_BAD_INPUT;
        }
        if (letter == '\n' || (letter == '\r' && bytes->data[i + 1] != '\n')) {
            line++;
        }
        i += length;
    }
    return OUTCOME_DONE;
}

int bytes_tag_line(const struct bytes *bytes) {
    static const char directive[] = "%TAG";
    const char *at = bytes->data;
    for (int line = 1; *at != '\0'; line++) {
        if (strncmp(at, directive, strlen(directive)) == 0) {
            return line;
        }
        at += strcspn(at, "\r\n");
        at += strncmp(at, "\r\n", 2) == 0 ? 2 : *at != '\0' ? 1 : 0;
    }
    return 0;
}
