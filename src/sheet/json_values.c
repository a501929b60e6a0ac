#include "json_values.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

json_t *value_number(double value) {
    if (!isfinite(value)) {
        return json_null();
    }
    const double rounded = fabs(value) < 1e9 ? round(value * 1e6) / 1e6 : value;
    return json_real(rounded == 0 ? 0.0 : rounded); /* no minus zero */
}

json_t *value_length(const struct roof *roof, double inches) {
    return value_number(roof->measure == MEASURE_MM ? inches * LENGTH_MM_PER_INCH : inches);
}

json_t *value_text(const char *bytes) {
    const size_t size = strlen(bytes);
    for (size_t cut = 0; cut <= 3 && cut <= size; cut++) {
        json_t *value = json_stringn(bytes, size - cut);
        if (value != NULL) {
            return value;
        }
    }
    char *plain = malloc(size + 1);
    if (plain == NULL) {
        return NULL;
    }
    for (size_t i = 0; i <= size; i++) {
        plain[i] = ((unsigned char)bytes[i] & 0x80u) != 0 ? '?' : bytes[i];
    }
    json_t *value = json_string(plain);
    free(plain);
    return value;
}

void value_put(struct json_source *source, json_t *object, const char *key, json_t *value) {
    if (json_object_set_new(object, key, value) != 0) {
        source->whole = false;
    }
}

void value_add(struct json_source *source, json_t *list, json_t *value) {
    if (json_array_append_new(list, value) != 0) {
        source->whole = false;
    }
}

enum outcome json_name_marks(struct json_source *source) {
    const struct marks *marks = source->marks;
    source->ids = calloc(marks->count + 1, sizeof *source->ids);
    if (source->ids == NULL) {
        return OUTCOME_FAULT;
    }
    for (size_t i = 0; i < marks->count; i++) {
        places_hole_name(source->roof, marks, i, source->ids[i]);
    }
    return OUTCOME_DONE;
}
