/* The lists that laying out again adds to a layout's JSON. */
#include "json_values.h"
#include "revised.h"

#include <stdint.h>

static json_t *hole_value(struct json_source *source, const struct hole *hole) {
    static const char *const fates[] = {[FATE_KEPT] = "kept",
                                        [FATE_MISSED] = "missed",
                                        [FATE_POOR] = "no longer holds",
                                        [FATE_GIVEN_UP] = "given up"};
    const struct roof *roof = source->roof;
    json_t *object = json_object();
    value_put(source, object, "drilled", json_integer((json_int_t)hole->entry + 1));
    value_put(source, object, "bracket", value_text(roof->brackets[hole->bracket].name));
    value_put(source, object, "row", value_text(roof_row_word(hole->row)));
    value_put(source, object, "x", value_length(roof, hole->x));
    value_put(source, object, "y", value_length(roof, hole->y));
    value_put(source, object, "found", value_text(revise_drill_word(hole->found)));
    if (hole->fate == FATE_KEPT)
        return object;
    value_put(source, object, "why", value_text(fates[hole->fate]));
    value_put(source, object, "covered_by",
              hole->cover == REVISE_PATCH ? json_null() : value_text(source->ids[hole->cover]));
    value_put(source, object, "patch",
              hole->cover == REVISE_PATCH ? json_integer((json_int_t)hole->patch + 1)
                                          : json_null());
    return object;
}

static json_t *learned_value(struct json_source *source, const struct learned *learned, size_t r) {
    static const char *const words[] = {[KNOWLEDGE_STANDS] = "stands",
                                        [KNOWLEDGE_MOVED] = "moved",
                                        [KNOWLEDGE_OPEN] = "open",
                                        [KNOWLEDGE_CONTRADICTED] = "contradicted"};
    const struct roof *roof = source->roof;
    const bool open = learned->knowledge == KNOWLEDGE_OPEN;
    json_t *object = json_object(), *left = json_array();
    const double was = roof->rafters[r].at - learned->shift;
    for (size_t i = 0; i < learned->left.count; i++) {
        json_t *piece = json_array();
        value_add(source, piece, value_length(roof, was + learned->left.from[i]));
        value_add(source, piece, value_length(roof, was + learned->left.to[i]));
        value_add(source, left, piece);
    }
    value_put(source, object, "rafter", json_integer((json_int_t)r + 1));
    value_put(source, object, "knowledge", value_text(words[learned->knowledge]));
    value_put(source, object, "at", value_length(roof, roof->rafters[r].at));
    value_put(source, object, "tolerance", value_length(roof, learned->tolerance));
    value_put(source, object, "left", left);
    value_put(source, object, "probe",
              open ? value_length(roof, was + learned->probe) : json_null());
    return object;
}

static void put_revised(struct json_source *source, json_t *object, const void *subject) {
    const struct revised *revised = subject;
    json_t *kept = json_array(), *dead = json_array(), *fresh = json_array();
    json_t *learned = json_array();
    for (size_t i = 0; i < revised->hole_count; i++)
        value_add(source, revised->holes[i].fate == FATE_KEPT ? kept : dead,
                  hole_value(source, &revised->holes[i]));
    for (size_t m = 0; source->marks && m < source->marks->count; m++)
        if (!revised->done[m])
            value_add(source, fresh, value_text(source->ids[m]));
    for (size_t r = 0; r < revised->roof.rafter_count; r++)
        if (revised->tested[r])
            value_add(source, learned, learned_value(source, &revised->learned[r], r));
    value_put(source, object, "kept", kept);
    value_put(source, object, "dead", dead);
    value_put(source, object, "new", fresh);
    value_put(source, object, "learned", learned);
    value_put(source, object, "fresh_holes",
              revised->fresh.verdict ? json_integer((json_int_t)revised->fresh.verdict->holes)
                                     : json_null());
}

enum outcome revised_write_json(const struct revised_answer *answer, FILE *stream) {
    return json_write_more(&answer->answer, put_revised, answer->revised, stream);
}
