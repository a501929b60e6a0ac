/* An answer of the public interface: what a caller may ask of a layout once the roof is gone. */
#ifndef RUDDLE_LIBRARY_ANSWER_H
#define RUDDLE_LIBRARY_ANSWER_H

#include "check.h"
#include "marks.h"
#include "problem.h"
#include "roof.h"
#include "ruddle.h"

#include <stdio.h>

/* What it is made from; borrowed. */
struct answered {
    const struct roof *roof;
    const struct marks *marks;     /* NULL where nothing could be placed */
    const struct verdict *verdict; /* on those; NULL likewise */
    enum outcome (*write_json)(const void *subject, FILE *stream);
    const void *subject;
};

/* FAULT: no memory.  *answer is untouched unless DONE; owned by the caller (ruddle_answer_free). */
enum outcome answer_make(const struct answered *answered, struct ruddle_answer **answer);

#endif
