/* What the parts of the JSON result share: values made from lengths and texts, and findings.
 * Every value is new and the caller's; NULL where memory has run out.
 */
#ifndef RUDDLE_JSON_VALUES_H
#define RUDDLE_JSON_VALUES_H

#include "check.h"
#include "places.h"
#include "sheet.h"

#include <jansson.h>
#include <stdbool.h>

enum { JSON_ID_MOST = PLACES_NAME };

/* What the fields are looked up in, and whether every value so far could be made. */
struct json_source {
    const struct roof *roof;
    const struct marks *marks;       /* NULL without a layout */
    const struct verdict *verdict;   /* NULL without a layout */
    const struct strength *strength; /* NULL without loads or a layout */
    char (*ids)[JSON_ID_MOST];       /* one a mark; owned by whoever called json_name_marks */
    bool whole;                      /* false once memory ran out */
};

/* A number without the dust of arithmetic: six decimals.  What is not finite is null. */
json_t *value_number(double number);

/* A length in the file's measure. */
json_t *value_length(const struct roof *roof, double inches);

/* A text.  One that was cut in the middle of a letter loses that letter; other bytes that are no
 * UTF-8 become question marks. */
json_t *value_text(const char *bytes);

/* Both take over `value`; where that is NULL, source->whole is lost. */
void value_put(struct json_source *source, json_t *object, const char *key, json_t *value);
void value_add(struct json_source *source, json_t *list, json_t *value);

/* Names every mark as the sheet does: A-top-1, A-pipe-hot.  FAULT: no memory. */
enum outcome json_name_marks(struct json_source *source);

/* One rule at one place.  `with_row` tells the rows of a bracket apart where no mark is named. */
json_t *json_finding(struct json_source *source, const struct finding *finding, bool with_row);

/* The least margin of each rule, and where it is; the first of equals. */
json_t *json_rules(struct json_source *source);

/* The least margin of each counted rule at each mark; INFINITY where a rule does not concern it.
 * Owned by the caller; NULL: no memory. */
struct mark_margins {
    double least[RULE_COUNT];
};
struct mark_margins *json_margins_by_mark(const struct json_source *source);

/* Which brackets can stand together. */
json_t *json_together(struct json_source *source, const struct fit *fit);

/* What each lag, strut and rafter is asked and holds under its worst combination, forces in lb (N)
 * and bending in psi (MPa); null without a judgement. */
json_t *json_strength(struct json_source *source);

/* The rule `strength`: its worst lag or strut, with 1 - ratio for a margin; nothing without a
 * judgement. */
void json_add_strength_rule(struct json_source *source, json_t *rules);

/* Adds a line for each lag and strut that does not carry. */
void json_add_weak(struct json_source *source, json_t *reasons);

/* Why the answer is not a layout to drill by: the tape, what the search says, every broken rule. */
json_t *json_reasons(struct json_source *source, const struct answer *answer);

/* Writes an object if it came out whole, and frees it and the names.  FAULT: it did not. */
enum outcome json_finish(struct json_source *source, json_t *object, FILE *stream);

/* The layout's JSON, to which `put` adds fields of its own.  FAULT: no memory. */
enum outcome json_write_more(const struct answer *answer,
                             void (*put)(struct json_source *source, json_t *object,
                                         const void *subject),
                             const void *subject, FILE *stream);

#endif
