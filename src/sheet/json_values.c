#include "json_values.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

json_t *value_number(double number) {
    if (!isfinite(number)) {
        return json_null();
    }
    return json_real(length_settled(number));
}

json_t *value_length(const struct roof *roof, double inches) {
    return value_number(roof->measure == MEASURE_MM ? inches * LENGTH_MM_PER_INCH : inches);
}

/* How much of a text is left without a last letter that was cut in its middle. */
static size_t whole_letters(const char *bytes) {
    const size_t size = strlen(bytes);
    size_t following = 0;
    while (following < size && ((unsigned char)bytes[size - 1 - following] & 0xc0u) == 0x80u) {
        following++;
    }
    if (following == size) {
        return size;
    }
    const unsigned lead = (unsigned char)bytes[size - 1 - following];
    const size_t needed = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : lead >= 0xc0 ? 2 : 1;
    return needed > following + 1 ? size - following - 1 : size;
}

/* The text with a question mark for every byte that is not ASCII. */
static json_t *plain_text(const char *bytes, size_t size) {
    char *plain = malloc(size + 1);
    if (plain == NULL) {
        return NULL;
    }
    for (size_t i = 0; i < size; i++) {
        plain[i] = ((unsigned char)bytes[i] & 0x80u) != 0 ? '?' : bytes[i];
    }
    plain[size] = '\0';
    json_t *value = json_string(plain);
    free(plain);
    return value;
}

json_t *value_text(const char *bytes) {
    const size_t size = whole_letters(bytes);
    json_t *value = json_stringn(bytes, size);
    if (value != NULL) {
        return value;
    }
    /* No memory, or no UTF-8? Unchecked it is refused for lack of memory only; and if that was not
     * it, the bytes are. */
    json_t *unchecked = json_stringn_nocheck(bytes, size);
    if (unchecked == NULL) {
        return NULL;
    }
    json_decref(unchecked);
    value = json_stringn(bytes, size);
    return value != NULL ? value : plain_text(bytes, size);
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
