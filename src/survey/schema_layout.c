/* The keys of a layout that somebody else made; those of our own JSON are known. */
#include "schema.h"

static const cyaml_schema_field_t bracket_fields[] = {
    SCHEMA_TEXT("name", struct survey_layout_bracket, name),
    SCHEMA_TEXT("x", struct survey_layout_bracket, x),
    SCHEMA_TEXT("y", struct survey_layout_bracket, y),
    SCHEMA_TEXT_OPTIONAL("top", struct survey_layout_bracket, top),
    SCHEMA_TEXT_OPTIONAL("bottom", struct survey_layout_bracket, bottom),
    SCHEMA_KNOWN("forgiveness"),
    SCHEMA_KNOWN("bottom_bracket_gap"),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t bracket_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_layout_bracket, bracket_fields),
};

static const cyaml_schema_field_t mark_fields[] = {
    SCHEMA_TEXT("bracket", struct survey_layout_mark, bracket),
    SCHEMA_TEXT("row", struct survey_layout_mark, row),
    SCHEMA_TEXT("x", struct survey_layout_mark, x),
    SCHEMA_TEXT("y", struct survey_layout_mark, y),
    SCHEMA_TEXT_OPTIONAL("pipe", struct survey_layout_mark, pipe),
    SCHEMA_KNOWN("id"),
    SCHEMA_KNOWN("rafter"),
    SCHEMA_KNOWN("turned"),
    SCHEMA_KNOWN("margins"),
    SCHEMA_KNOWN("course"),
    SCHEMA_KNOWN("above_edge"),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t mark_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_layout_mark, mark_fields),
};

static const cyaml_schema_field_t layout_fields[] = {
    SCHEMA_TEXT_OPTIONAL("measure", struct survey_layout, measure),
    SCHEMA_TEXT_OPTIONAL("practice", struct survey_layout, practice),
    CYAML_FIELD_SEQUENCE("brackets", CYAML_FLAG_POINTER, struct survey_layout, brackets,
                         &bracket_value, 0, CYAML_UNLIMITED),
    CYAML_FIELD_SEQUENCE("marks", CYAML_FLAG_POINTER, struct survey_layout, marks, &mark_value, 0,
                         CYAML_UNLIMITED),
    /* What else the JSON of a layout holds. */
    SCHEMA_KNOWN("ruddle"),
    SCHEMA_KNOWN("roof"),
    SCHEMA_KNOWN("corner"),
    SCHEMA_KNOWN("status"),
    SCHEMA_KNOWN("tight"),
    SCHEMA_KNOWN("proved"),
    SCHEMA_KNOWN("forgiveness"),
    SCHEMA_KNOWN("holes"),
    SCHEMA_KNOWN("moved"),
    SCHEMA_KNOWN("rows"),
    SCHEMA_KNOWN("struts"),
    SCHEMA_KNOWN("rules"),
    SCHEMA_KNOWN("optimum"),
    SCHEMA_KNOWN("bound"),
    SCHEMA_KNOWN("together"),
    SCHEMA_KNOWN("strength"),
    SCHEMA_KNOWN("warnings"),
    SCHEMA_KNOWN("reasons"),
    CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_layout = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct survey_layout, layout_fields),
};
