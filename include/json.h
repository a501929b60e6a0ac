/* The machine-readable result, {"ruddle": "layout/1"}, in the field names of docs/result.md. */
#ifndef RUDDLE_JSON_H
#define RUDDLE_JSON_H

#include "problem.h"
#include "sheet.h"

#include <stdio.h>

/* Writes the layout's JSON: lengths in the file's measure, field order fixed, the same bytes from
 * the same answer.  FAULT: no memory. */
enum outcome json_write(const struct answer *answer, FILE *stream);

/* The same for `ruddle check`: {"ruddle": "check/1", "roof", "measure", "status", "forgiveness",
 * "rules": [every finding], "strength"}.  strength may be NULL. */
enum outcome json_write_check(const struct roof *roof, const struct marks *marks,
                              const struct verdict *verdict, const struct strength *strength,
                              FILE *stream);

#endif
