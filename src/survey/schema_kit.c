/* The keys of a kit file. */
#include "schema.h"

static const cyaml_schema_field_t bottom_bracket_fields[] = {
    SCHEMA_TEXTS("gap", CYAML_FLAG_DEFAULT, struct survey_bottom_bracket, gap, 2, 2),
    SCHEMA_TEXT("depth", struct survey_bottom_bracket, depth),
    SCHEMA_TEXT("wrench", struct survey_bottom_bracket, wrench),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t bracket_fields[] = {
    SCHEMA_TEXT("width", struct survey_bracket, width),
    SCHEMA_TEXT("height", struct survey_bracket, height),
    SCHEMA_TEXTS("legs", CYAML_FLAG_DEFAULT, struct survey_bracket, legs, 1, CYAML_UNLIMITED),
    SCHEMA_TEXTS("top", CYAML_FLAG_DEFAULT, struct survey_bracket, top, 2, 2),
    SCHEMA_TEXTS("bottom", CYAML_FLAG_DEFAULT, struct survey_bracket, bottom, 2, 2),
    CYAML_FIELD_MAPPING_PTR("bottom_bracket", CYAML_FLAG_POINTER, struct survey_bracket,
                            bottom_bracket, bottom_bracket_fields),
    SCHEMA_TEXT("standoff", struct survey_bracket, standoff),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t foot_fields[] = {
    SCHEMA_TEXT("reach", struct survey_foot, reach),
    SCHEMA_TEXT("slot", struct survey_foot, slot),
    SCHEMA_TEXT("half", struct survey_foot, half),
    SCHEMA_TEXT_OPTIONAL("toe", struct survey_foot, toe),
    SCHEMA_TEXT_OPTIONAL("lag_factor", struct survey_foot, lag_factor),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t strut_fields[] = {
    SCHEMA_TEXT("half", struct survey_strut, half),
    SCHEMA_TEXT("grip", struct survey_strut, grip),
    SCHEMA_TEXT("lag_clear", struct survey_strut, lag_clear),
    SCHEMA_TEXT("end", struct survey_strut, end),
    SCHEMA_TEXT("overhang", struct survey_strut, overhang),
    SCHEMA_TEXT("span", struct survey_strut, span),
    SCHEMA_TEXT_OPTIONAL("holes", struct survey_strut, holes),
    SCHEMA_TEXTS("stock", CYAML_FLAG_DEFAULT, struct survey_strut, stock, 1, CYAML_UNLIMITED),
    SCHEMA_TEXT_OPTIONAL("section", struct survey_strut, section),
    SCHEMA_TEXT_OPTIONAL("stress", struct survey_strut, stress),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t allowable_fields[] = {
    SCHEMA_TEXT_OPTIONAL("lateral", struct survey_allowable, lateral),
    SCHEMA_TEXT_OPTIONAL("uplift", struct survey_allowable, uplift),
    CYAML_FIELD_END,
};

const cyaml_schema_field_t schema_flashing_fields[] = {
    SCHEMA_TEXT("width", struct survey_flashing, width),
    SCHEMA_TEXT("height", struct survey_flashing, height),
    SCHEMA_TEXT("hole_up", struct survey_flashing, hole_up),
    SCHEMA_TEXT("block", struct survey_flashing, block),
    SCHEMA_TEXTS("edge", CYAML_FLAG_DEFAULT, struct survey_flashing, edge, 2, 2),
    SCHEMA_TEXT("clear", struct survey_flashing, clear),
    SCHEMA_TEXT("lap", struct survey_flashing, lap),
    CYAML_FIELD_MAPPING_PTR("allowable", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL,
                            struct survey_flashing, allowable, allowable_fields),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t side_fields[] = {
    SCHEMA_TEXT_OPTIONAL("thickness", struct survey_side, thickness),
    SCHEMA_TEXT_OPTIONAL("bearing", struct survey_side, bearing),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t lag_fields[] = {
    SCHEMA_TEXT("diameter", struct survey_lag, diameter),
    SCHEMA_TEXT("length", struct survey_lag, length),
    SCHEMA_TEXT("through", struct survey_lag, through),
    SCHEMA_TEXT_OPTIONAL("edge", struct survey_lag, edge),
    CYAML_FIELD_MAPPING_PTR("side", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_lag,
                            side, side_fields),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t weight_fields[] = {
    SCHEMA_TEXT("dry", struct survey_weight, dry),
    SCHEMA_TEXT("fill", struct survey_weight, fill),
    SCHEMA_TEXTS("centre", CYAML_FLAG_DEFAULT, struct survey_weight, centre, 3, 3),
    SCHEMA_TEXTS("centre_dry", CYAML_FLAG_OPTIONAL, struct survey_weight, centre_dry, 3, 3),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t prices_fields[] = {
    SCHEMA_TEXT("foot", struct survey_prices, foot),
    SCHEMA_TEXT("strut", struct survey_prices, strut),
    SCHEMA_TEXT("clamp", struct survey_prices, clamp),
    SCHEMA_TEXT("lag", struct survey_prices, lag),
    SCHEMA_TEXT("flashing", struct survey_prices, flashing),
    CYAML_FIELD_END,
};

static const cyaml_schema_field_t kit_fields[] = {
    SCHEMA_TEXT("kit", struct survey_kit, kit),
    SCHEMA_TEXT_OPTIONAL("measure", struct survey_kit, measure),
    CYAML_FIELD_MAPPING_PTR("bracket", CYAML_FLAG_POINTER, struct survey_kit, bracket,
                            bracket_fields),
    CYAML_FIELD_MAPPING_PTR("foot", CYAML_FLAG_POINTER, struct survey_kit, foot, foot_fields),
    CYAML_FIELD_MAPPING_PTR("strut", CYAML_FLAG_POINTER, struct survey_kit, strut, strut_fields),
    CYAML_FIELD_MAPPING_PTR("flashing", CYAML_FLAG_POINTER, struct survey_kit, flashing,
                            schema_flashing_fields),
    CYAML_FIELD_MAPPING_PTR("lag", CYAML_FLAG_POINTER, struct survey_kit, lag, lag_fields),
    CYAML_FIELD_MAPPING_PTR("weight", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_kit,
                            weight, weight_fields),
    CYAML_FIELD_MAPPING_PTR("prices", CYAML_FLAG_POINTER | CYAML_FLAG_OPTIONAL, struct survey_kit,
                            prices, prices_fields),
    CYAML_FIELD_END,
};

const cyaml_schema_value_t schema_kit = {
    CYAML_VALUE_MAPPING(CYAML_FLAG_POINTER, struct survey_kit, kit_fields),
};
