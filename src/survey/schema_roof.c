#include "schema.h"

const cyaml_schema_value_t schema_text = {
    CYAML_VALUE_STRING(CYAML_FLAG_POINTER, char, 0, CYAML_UNLIMITED),
};

static const cyaml_schema_field_t plane_fields[] = {
    SCHEMA_TEXT("width", struct survey_plane, width),
    SCHEMA_TEXT("slope", struct survey_plane, slope),
    SCHEMA_TEXT("pitch", struct survey_plane, pitch),
    SCHEMA_KNOWN("square"),
    SCHEMA_KNOWN("square_far"),
    SCHEMA_KNOWN("outline"),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t setback_fields[] = {
    SCHEMA_TEXT_OPTIONAL("eave", struct survey_setback, eave),
    SCHEMA_TEXT_OPTIONAL("ridge", struct survey_setback, ridge),
    SCHEMA_TEXT_OPTIONAL("near", struct survey_setback, near),
    SCHEMA_TEXT_OPTIONAL("far", struct survey_setback, far),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t courses_fields[] = {
    SCHEMA_TEXT("first", struct survey_courses, first),
    SCHEMA_TEXT("exposure", struct survey_courses, exposure),
    SCHEMA_TEXT_OPTIONAL("tolerance", struct survey_courses, tolerance),
    SCHEMA_KNOWN("check"),
    SCHEMA_KNOWN("edges"),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t rafter_fields[] = {
    SCHEMA_TEXT("at", struct survey_rafter, at),
    SCHEMA_TEXT_OPTIONAL("plies", struct survey_rafter, plies),
    SCHEMA_TEXT_OPTIONAL("sister", struct survey_rafter, sister),
    SCHEMA_TEXT_OPTIONAL("sound", struct survey_rafter, sound),
    SCHEMA_TEXT_OPTIONAL("tolerance", struct survey_rafter, tolerance),
    SCHEMA_KNOWN("again"),
    SCHEMA_KNOWN("ply_sound"),
    SCHEMA_KNOWN("sister_reach"),
    SCHEMA_KNOWN("ply_gap"),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t rafter_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_rafter, rafter_fields),
};

static const cyaml_schema_field_t rafters_fields[] = {
    SCHEMA_TEXT_OPTIONAL("found", struct survey_rafters, found),
    SCHEMA_TEXT_OPTIONAL("tolerance", struct survey_rafters, tolerance),
    SCHEMA_TEXT_OPTIONAL("thickness", struct survey_rafters, thickness),
    SCHEMA_TEXT_OPTIONAL("seam", struct survey_rafters, seam),
    SCHEMA_KNOWN("heights"),
    SCHEMA_KNOWN("doubt"),
    CYAML_FIELD_SEQUENCE("list", CYAML_FLAG_POINTER, struct survey_rafters, list, &rafter_value, 1,
                         CYAML_UNLIMITED),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t vent_fields[] = {
    SCHEMA_TEXT("name", struct survey_vent, name),
    SCHEMA_TEXT_OPTIONAL("kind", struct survey_vent, kind),
    SCHEMA_TEXTS("at", CYAML_FLAG_DEFAULT, struct survey_vent, at, 2, 2),
    SCHEMA_TEXTS("size", CYAML_FLAG_OPTIONAL, struct survey_vent, size, 2, 2),
    SCHEMA_TEXT_OPTIONAL("diameter", struct survey_vent, diameter),
    SCHEMA_TEXT_OPTIONAL("tall", struct survey_vent, tall),
    SCHEMA_TEXT_OPTIONAL("flange", struct survey_vent, flange),
    SCHEMA_TEXT_OPTIONAL("keep_flashing", struct survey_vent, keep_flashing),
    SCHEMA_TEXT_OPTIONAL("keep_bracket", struct survey_vent, keep_bracket),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t vent_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_vent, vent_fields),
};

static const cyaml_schema_field_t place_fields[] = {
    SCHEMA_TEXT("name", struct survey_place, name),
    SCHEMA_TEXT("kit", struct survey_place, kit),
    SCHEMA_TEXTS("want", CYAML_FLAG_OPTIONAL, struct survey_place, want, 2, 2),
    SCHEMA_TEXT_OPTIONAL("top", struct survey_place, top),
    SCHEMA_TEXT_OPTIONAL("bottom", struct survey_place, bottom),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t place_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_place, place_fields),
};

static const cyaml_schema_field_t roof_fields[] = {
    SCHEMA_TEXT("roof", struct survey_roof, roof),
    SCHEMA_TEXT_OPTIONAL("measure", struct survey_roof, measure),
    SCHEMA_TEXT_OPTIONAL("corner", struct survey_roof, corner),
    SCHEMA_TEXT_OPTIONAL("zero", struct survey_roof, zero),
    CYAML_FIELD_MAPPING_PTR("plane", CYAML_FLAG_POINTER, struct survey_roof, plane, plane_fields),
    CYAML_FIELD_MAPPING_PTR("setback", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_roof,
                            setback, setback_fields),
    CYAML_FIELD_MAPPING_PTR("courses", CYAML_FLAG_POINTER, struct survey_roof, courses,
                            courses_fields),
    CYAML_FIELD_MAPPING_PTR("rafters", CYAML_FLAG_POINTER, struct survey_roof, rafters,
                            rafters_fields),
    CYAML_FIELD_SEQUENCE("vents", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_roof,
                         vents, &vent_value, 0, CYAML_UNLIMITED),
    CYAML_FIELD_SEQUENCE("place", CYAML_FLAG_POINTER, struct survey_roof, place, &place_value, 1,
                         CYAML_UNLIMITED),
    SCHEMA_TEXT_OPTIONAL("apart", struct survey_roof, apart),
    SCHEMA_TEXT_OPTIONAL("tape", struct survey_roof, tape),
    SCHEMA_TEXT_OPTIONAL("enough", struct survey_roof, enough),
    SCHEMA_TEXT_OPTIONAL("hole_worth", struct survey_roof, hole_worth),
    SCHEMA_KNOWN("pipes"),
    SCHEMA_KNOWN("keepouts"),
    SCHEMA_KNOWN("framing"),
    SCHEMA_KNOWN("wall_line"),
    SCHEMA_KNOWN("loads"),
    CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_roof = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct survey_roof, roof_fields),
};
