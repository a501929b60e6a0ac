/* The keys of a roof file. */
#include "schema.h"

const cyaml_schema_value_t schema_text = {
    CYAML_VALUE_STRING(CYAML_FLAG_POINTER, char, 0, CYAML_UNLIMITED),
};

static const cyaml_schema_field_t square_fields[] = {
    SCHEMA_TEXT("along", struct survey_square, along),
    SCHEMA_TEXT("up", struct survey_square, up),
    SCHEMA_TEXT("diagonal", struct survey_square, diagonal),
    CYAML_FIELD_END,
};

/* One corner of an outline: [x, y].  A pointer, because libcyaml frees the entries of a list of
 * fixed lists at the stride of one text. */
static const cyaml_schema_value_t point_value = {
    CYAML_VALUE_SEQUENCE_FIXED(CYAML_FLAG_POINTER, char *, &schema_text, 2),
};

static const cyaml_schema_field_t plane_fields[] = {
    SCHEMA_TEXT_OPTIONAL("width", struct survey_plane, width),
    SCHEMA_TEXT_OPTIONAL("slope", struct survey_plane, slope),
    SCHEMA_TEXT("pitch", struct survey_plane, pitch),
    CYAML_FIELD_MAPPING_PTR("square", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_plane,
                            square, square_fields),
    CYAML_FIELD_MAPPING_PTR("square_far", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL,
                            struct survey_plane, square_far, square_fields),
    CYAML_FIELD_SEQUENCE("outline", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_plane,
                         outline, &point_value, 0, CYAML_UNLIMITED),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t setback_fields[] = {
    SCHEMA_TEXT_OPTIONAL("eave", struct survey_setback, eave),
    SCHEMA_TEXT_OPTIONAL("ridge", struct survey_setback, ridge),
    SCHEMA_TEXT_OPTIONAL("near", struct survey_setback, near),
    SCHEMA_TEXT_OPTIONAL("far", struct survey_setback, far),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t course_check_fields[] = {
    SCHEMA_TEXT("edge", struct survey_course_check, edge),
    SCHEMA_TEXT("at", struct survey_course_check, at),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t joint_fields[] = {
    SCHEMA_TEXT("course", struct survey_joint, course),
    SCHEMA_TEXT("at", struct survey_joint, at),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t joint_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_joint, joint_fields),
};

static const cyaml_schema_field_t joints_fields[] = {
    SCHEMA_TEXT_OPTIONAL("keep", struct survey_joints, keep),
    SCHEMA_TEXT_OPTIONAL("tab", struct survey_joints, tab),
    SCHEMA_TEXT_OPTIONAL("stagger", struct survey_joints, stagger),
    SCHEMA_TEXT_OPTIONAL("first_cutout", struct survey_joints, first_cutout),
    CYAML_FIELD_SEQUENCE("list", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_joints,
                         list, &joint_value, 0, CYAML_UNLIMITED),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t courses_fields[] = {
    SCHEMA_TEXT_OPTIONAL("first", struct survey_courses, first),
    SCHEMA_TEXT_OPTIONAL("exposure", struct survey_courses, exposure),
    SCHEMA_TEXT_OPTIONAL("tolerance", struct survey_courses, tolerance),
    CYAML_FIELD_MAPPING_PTR("check", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL,
                            struct survey_courses, check, course_check_fields),
    CYAML_FIELD_MAPPING_PTR("joints", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL,
                            struct survey_courses, joints, joints_fields),
    SCHEMA_TEXTS("edges", CYAML_FLAG_OPTIONAL, struct survey_courses, edges, 1, CYAML_UNLIMITED),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t rafter_fields[] = {
    SCHEMA_TEXT("at", struct survey_rafter, at),
    SCHEMA_TEXT_OPTIONAL("plies", struct survey_rafter, plies),
    SCHEMA_TEXT_OPTIONAL("sister", struct survey_rafter, sister),
    SCHEMA_TEXT_OPTIONAL("sound", struct survey_rafter, sound),
    SCHEMA_TEXT_OPTIONAL("tolerance", struct survey_rafter, tolerance),
    SCHEMA_TEXT_OPTIONAL("again", struct survey_rafter, again),
    SCHEMA_TEXTS("ply_sound", CYAML_FLAG_OPTIONAL, struct survey_rafter, ply_sound, 1,
                 CYAML_UNLIMITED),
    SCHEMA_TEXTS("sister_reach", CYAML_FLAG_OPTIONAL, struct survey_rafter, sister_reach, 2, 2),
    SCHEMA_TEXT_OPTIONAL("ply_gap", struct survey_rafter, ply_gap),
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
    SCHEMA_TEXTS("heights", CYAML_FLAG_OPTIONAL, struct survey_rafters, heights, 2, 2),
    SCHEMA_TEXT_OPTIONAL("doubt", struct survey_rafters, doubt),
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

static const cyaml_schema_field_t keepout_fields[] = {
    SCHEMA_TEXT("rafter", struct survey_keepout, rafter),
    SCHEMA_TEXT("from", struct survey_keepout, from),
    SCHEMA_TEXT("to", struct survey_keepout, to),
    SCHEMA_TEXT_OPTIONAL("why", struct survey_keepout, why),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t keepout_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_keepout, keepout_fields),
};

static const cyaml_schema_field_t pipe_fields[] = {
    SCHEMA_TEXT("name", struct survey_pipe, name),
    SCHEMA_TEXT("bracket", struct survey_pipe, bracket),
    SCHEMA_TEXTS("port", CYAML_FLAG_DEFAULT, struct survey_pipe, port, 2, 2),
    SCHEMA_TEXT("reach", struct survey_pipe, reach),
    SCHEMA_TEXT("bore", struct survey_pipe, bore),
    SCHEMA_TEXT_OPTIONAL("keep_rafter", struct survey_pipe, keep_rafter),
    CYAML_FIELD_MAPPING_PTR("flashing", CYAML_FLAG_POINTER, struct survey_pipe, flashing,
                            schema_flashing_fields),
    CYAML_FIELD_END,
};

static const cyaml_schema_value_t pipe_value = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_DEFAULT, struct survey_pipe, pipe_fields),
};

static const cyaml_schema_field_t wind_fields[] = {
    SCHEMA_TEXT("speed", struct survey_wind, speed),
    SCHEMA_TEXT("exposure", struct survey_wind, exposure),
    SCHEMA_TEXT("height", struct survey_wind, height),
    SCHEMA_TEXT("coefficient", struct survey_wind, coefficient),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t loads_rafter_fields[] = {
    SCHEMA_TEXT("size", struct survey_loads_rafter, size),
    SCHEMA_TEXT("species", struct survey_loads_rafter, species),
    SCHEMA_TEXT("grade", struct survey_loads_rafter, grade),
    SCHEMA_TEXT("bearing", struct survey_loads_rafter, bearing),
    SCHEMA_TEXT("span", struct survey_loads_rafter, span),
    SCHEMA_TEXT("dead", struct survey_loads_rafter, dead),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t loads_fields[] = {
    SCHEMA_TEXT_OPTIONAL("snow", struct survey_loads, snow),
    SCHEMA_TEXT_OPTIONAL("uplift", struct survey_loads, uplift),
    CYAML_FIELD_MAPPING_PTR("wind", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_loads,
                            wind, wind_fields),
    CYAML_FIELD_MAPPING_PTR("rafter", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_loads,
                            rafter, loads_rafter_fields),
    SCHEMA_TEXT_OPTIONAL("sheathing", struct survey_loads, sheathing),
    SCHEMA_TEXT_OPTIONAL("roofing", struct survey_loads, roofing),
    SCHEMA_TEXT_OPTIONAL("gap", struct survey_loads, gap),
    CYAML_FIELD_END,
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
    CYAML_FIELD_SEQUENCE("pipes", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_roof,
                         pipes, &pipe_value, 0, CYAML_UNLIMITED),
    CYAML_FIELD_SEQUENCE("keepouts", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_roof,
                         keepouts, &keepout_value, 0, CYAML_UNLIMITED),
    SCHEMA_TEXT_OPTIONAL("framing", struct survey_roof, framing),
    SCHEMA_TEXT_OPTIONAL("wall_line", struct survey_roof, wall_line),
    SCHEMA_TEXT_OPTIONAL("apart", struct survey_roof, apart),
    SCHEMA_TEXT_OPTIONAL("tape", struct survey_roof, tape),
    SCHEMA_TEXT_OPTIONAL("enough", struct survey_roof, enough),
    SCHEMA_TEXT_OPTIONAL("hole_worth", struct survey_roof, hole_worth),
    CYAML_FIELD_MAPPING_PTR("loads", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_roof,
                            loads, loads_fields),
    CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_roof = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct survey_roof, roof_fields),
};
