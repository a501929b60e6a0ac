/* What laying out again came to, for people and for machines. */
#ifndef RUDDLE_REVISED_H
#define RUDDLE_REVISED_H

#include "problem.h"
#include "revise.h"
#include "sheet.h"

#include <stdio.h>

/* A new layout round old holes; borrowed.  answer.roof is the corrected roof; answer.done,
 * patches and dead_holes are set. */
struct revised_answer {
    struct answer answer;
    const struct revised *revised;
};

/* The revised sheet: what to keep, to seal, to drill and to probe, what was learned; then the
 * ordinary sheet of the new layout.  FAULT: no memory. */
enum outcome revised_write_sheet(const struct revised_answer *answer, FILE *stream);

/* Hands the same over piece by piece: see sheet_tell. */
enum outcome revised_tell(const struct revised_answer *answer, const struct sheet_taker *taker);

/* The layout's JSON with `kept`, `dead`, `new`, `learned`, `fresh_holes`.  FAULT: no memory. */
enum outcome revised_write_json(const struct revised_answer *answer, FILE *stream);

/* The record for the job folder: YAML with blanks for what only the crew knows. */
enum outcome revised_write_asbuilt(const struct revised_answer *answer, FILE *stream);

#endif
