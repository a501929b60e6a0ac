/* The keys of a file of drilled holes. */
#include "schema.h"

static const cyaml_schema_field_t hole_fields[] = {
    SCHEMA_TEXT("bracket", struct survey_hole, bracket),
    SCHEMA_TEXT("row", struct survey_hole, row),
    SCHEMA_TEXT("x", struct survey_hole, x),
    SCHEMA_TEXT("y", struct survey_hole, y),
    SCHEMA_TEXT("found", struct survey_hole, found),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t hole_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_hole, hole_fields),
};

static const cyaml_schema_field_t drilled_fields[] = {
    SCHEMA_TEXT_OPTIONAL("measure", struct survey_drilled, measure),
    CYAML_FIELD_SEQUENCE("drilled", CYAML_FLAG_POINTER, struct survey_drilled, drilled, &hole_value,
                         0, CYAML_UNLIMITED),
    CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_drilled = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct survey_drilled, drilled_fields),
};
