/* The keys that each kind of file may hold: tables for libcyaml, and for the search for faults.
 * Values are loaded as text.  A key that only has to be known (it is for a later step to refuse or
 * pass over) is of the type CYAML_IGNORE.
 */
#ifndef RUDDLE_SURVEY_SCHEMA_H
#define RUDDLE_SURVEY_SCHEMA_H

#include "survey.h"

#include <cyaml/cyaml.h>

extern const cyaml_schema_value_t schema_roof;    /* struct survey_roof */
extern const cyaml_schema_value_t schema_kit;     /* struct survey_kit */
extern const cyaml_schema_value_t schema_layout;  /* struct survey_layout */
extern const cyaml_schema_value_t schema_drilled; /* struct survey_drilled */

/* struct survey_flashing: of a kit, and of a pipe. */
extern const cyaml_schema_field_t schema_flashing_fields[];

/* One entry of a list of texts. */
extern const cyaml_schema_value_t schema_text;

/* Fields of a group: a text that must be there, one that may be absent, a list of texts, and a key
 * that is only known. */
#define SCHEMA_TEXT(key, structure, member)                                                        \
    CYAML_FIELD_STRING_PTR(key, CYAML_FLAG_POINTER, structure, member, 0, CYAML_UNLIMITED)
#define SCHEMA_TEXT_OPTIONAL(key, structure, member)                                               \
    CYAML_FIELD_STRING_PTR(key, CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, structure, member, 0,    \
                           CYAML_UNLIMITED)
#define SCHEMA_TEXTS(key, flags, structure, member, least, most)                                   \
    CYAML_FIELD_SEQUENCE_COUNT(key, CYAML_FLAG_POINTER | (flags), structure, member.list,          \
                               member.count, &schema_text, least, most)
#define SCHEMA_KNOWN(key) CYAML_FIELD_IGNORE(key, CYAML_FLAG_OPTIONAL)

#endif
