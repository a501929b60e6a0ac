/* A short mark that tells whether two sheets were made from the same roof, kits and options. */
#ifndef RUDDLE_FINGERPRINT_H
#define RUDDLE_FINGERPRINT_H

#include "input.h"

enum { FINGERPRINT_TEXT = 9 }; /* 8 hexadecimal digits and a NUL */

/* Takes the fingerprint of the bytes of the roof file and its kit files, wherever they lie, and of
 * the options that change what is printed, and of one more file (`also`, NULL: none).  BAD_INPUT: a
 * file cannot be read a second time; problems says which, and text is untouched. */
enum outcome fingerprint_take(const struct input *input, const char *also, enum side from,
                              char text[FINGERPRINT_TEXT], struct problems *problems);

#endif
