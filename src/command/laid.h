/* One roof, laid out: everything between the roof file and what is printed. */
#ifndef RUDDLE_LAID_H
#define RUDDLE_LAID_H

#include "carry.h"
#include "fingerprint.h"
#include "input.h"
#include "sheet.h"

/* Everything made on the way; all owned. */
struct laid {
    struct input input;
    struct carried carried;
    struct answer answer; /* borrows from the others */
    char fingerprint[FINGERPRINT_TEXT];
};

/* Lays out the roof that was read into laid->input, which stays the caller's to have freed by
 * laid_free whatever the outcome.  BAD_INPUT: its files cannot be read a second time.  FAULT: as
 * carry_find. */
enum outcome laid_find(struct laid *laid, const struct options *options,
                       const struct layout_options *how, struct problems *problems);

void laid_free(struct laid *laid);

#endif
