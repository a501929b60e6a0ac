/* Warnings of a result: doubts about the survey, and what stands under the frames as placed. */
#ifndef RUDDLE_SHEET_WARNINGS_H
#define RUDDLE_SHEET_WARNINGS_H

#include "marks.h"
#include "roof.h"
#include "strength.h"

/* Takes one warning; `text` lives as long as the call. */
typedef void warnings_take(void *taker, const char *text);

/* Tells them in order: the survey's, each unsound rafter under a frame, then each rafter that bears
 * more than it may.  marks and strength may be NULL. */
void warnings_tell(const struct roof *roof, const struct marks *marks,
                   const struct strength *strength, warnings_take *take, void *taker);

#endif
