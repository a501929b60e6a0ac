/* Answers held against what reads roof files, with stand-ins for what is not answered yet. */
#ifndef RUDDLE_FORM_TRIAL_H
#define RUDDLE_FORM_TRIAL_H

#include "answers.h"
#include "questions.h"
#include "roof.h"

/* The kit file to start from, which stands in for kits not named yet. */
extern const char form_kit_text[];

/* Reads the answers as the roof file that they are to become at `file`, kits and all.  BAD_INPUT:
 * problems says what is wrong with the answers; faults of what merely stands in are left out, and
 * where there are no others it is DONE.  *roof (may be NULL) is then the roof, or NULL where
 * something did stand in; owned by the caller.  FAULT: no memory. */
enum outcome trial_hold(const char *file, const struct answers *answers, struct roof **roof,
                        struct problems *problems);

#endif
