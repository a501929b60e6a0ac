#include "fingerprint.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* FNV-1a, 32 bits: start value and prime as published by Fowler, Noll and Vo. */
#define FNV_START UINT32_C(2166136261)
#define FNV_PRIME UINT32_C(16777619)

static uint32_t hash_bytes(uint32_t hash, const unsigned char *bytes, size_t count) {
    for (size_t i = 0; i < count; i++) {
        hash = (hash ^ bytes[i]) * FNV_PRIME;
    }
    return hash;
}

/* A text with its NUL, so that what follows cannot be taken for its end. */
static uint32_t hash_text(uint32_t hash, const char *text) {
    return hash_bytes(hash, (const unsigned char *)text, strlen(text) + 1);
}

static uint32_t hash_length(uint32_t hash, double inches) {
    char text[40];
    snprintf(text, sizeof text, "%.9f", inches);
    return hash_text(hash, text);
}

/* Reads an open file to its end; false where that fails. */
static bool hash_stream(int descriptor, uint32_t *hash) {
    unsigned char bytes[4096];
    ssize_t count = 0;
    do {
        count = read(descriptor, bytes, sizeof bytes);
        if (count > 0) {
            *hash = hash_bytes(*hash, bytes, (size_t)count);
        }
    } while (count > 0 || (count < 0 && errno == EINTR));
    return count == 0;
}

/* The survey has read the same file before, and would have refused what is no plain one; what
 * stands there by now is another matter. */
static enum outcome hash_file(const char *path, uint32_t *hash, struct problems *problems) {
    struct stat status;
    const int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    const bool there = descriptor >= 0 && fstat(descriptor, &status) == 0;
    const bool good = there && S_ISREG(status.st_mode) && hash_stream(descriptor, hash);
    const int error = errno;
    if (descriptor >= 0) {
        close(descriptor);
    }
    if (!good) {
        char wanted[160];
        snprintf(wanted, sizeof wanted, "a file that can be read a second time: %.100s",
                 there && !S_ISREG(status.st_mode) ? "it is not a plain file" : strerror(error));
        problems_add(problems, path, 0, NULL, NULL, wanted);
        return OUTCOME_BAD_INPUT;
    }
    *hash = hash_text(*hash, ""); /* no YAML file holds a NUL: files stay apart */
    return OUTCOME_DONE;
}

/* The same of the roof, wherever it came from. */
static enum outcome hash_roof(const struct input *input, uint32_t *hash,
                              struct problems *problems) {
    const struct piped *piped = &input->piped;
    if (piped->bytes == NULL) {
        return hash_file(input->survey->path, hash, problems);
    }
    *hash = hash_bytes(*hash, (const unsigned char *)piped->bytes, piped->size + 1);
    return OUTCOME_DONE;
}

/* What the options came to, not how they were given: `--top strut` changes nothing on a roof that
 * says so itself. */
static uint32_t hash_options(uint32_t hash, const struct input *input, enum side from) {
    const struct roof *roof = input->roof;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
            hash = hash_text(hash, roof_hardware_word(roof->brackets[i].hardware[row]));
        }
    }
    hash = hash_text(hash, roof_side_word(from));
    hash = hash_length(hash, roof->tape);
    return hash_length(hash, input->burn);
}

enum outcome fingerprint_take(const struct input *input, const char *also, enum side from,
                              char text[FINGERPRINT_TEXT], struct problems *problems) {
    const struct survey *survey = input->survey;
    uint32_t hash = FNV_START;
    enum outcome outcome = hash_roof(input, &hash, problems);
    for (size_t i = 0; outcome == OUTCOME_DONE && i < survey->kit_count; i++) {
        outcome = hash_file(survey->kits[i].path, &hash, problems);
    }
    if (outcome == OUTCOME_DONE && also != NULL) {
        outcome = hash_file(also, &hash, problems);
    }
    if (outcome == OUTCOME_DONE) {
        snprintf(text, FINGERPRINT_TEXT, "%08" PRIx32, hash_options(hash, input, from));
    }
    return outcome;
}
