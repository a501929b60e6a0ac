/* Answers as `ruddle layout` comes to them, for the tests of what is drawn and printed from them.
 */
#ifndef RUDDLE_TESTS_ANSWERED_H
#define RUDDLE_TESTS_ANSWERED_H

#include "carry.h"
#include "sheet.h"

struct answered {
    struct roof *roof;
    struct carried carried;
    struct answer answer; /* borrows from the others */
};

/* The roof of a file, laid out with readings from that side.  A failure ends the test; freed with
 * answered_free. */
void answered_file(const char *path, enum side from, struct answered *answered);

/* The same for a roof that was read already, which then belongs to `answered`. */
void answered_roof(struct roof *roof, enum side from, double limit_s, struct answered *answered);

void answered_free(struct answered *answered);

/* What a writer writes, with a NUL behind it; *size (may be NULL) is without that.  Owned by the
 * caller. */
typedef enum outcome answered_writer(const void *subject, FILE *stream);
char *answered_bytes(answered_writer *write, const void *subject, size_t *size);

#endif
