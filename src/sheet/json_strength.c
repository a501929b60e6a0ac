/* Strength in the JSON result. */
#include "carrying.h"
#include "json_values.h"

#include <stdlib.h>

static json_t *id_of(const struct json_source *source, const struct strength_item *item) {
    return item->mark == STRENGTH_NONE ? json_null() : value_text(source->ids[item->mark]);
}

static json_t *item_value(struct json_source *source, const struct strength_item *item) {
    const struct roof *roof = source->roof;
    json_t *object = json_object();
    value_put(source, object, "item", value_text(strength_kind_word(item->kind)));
    value_put(source, object, "bracket", value_text(roof->brackets[item->bracket].name));
    value_put(source, object, "row",
              item->row == STRENGTH_NONE ? json_null()
                                         : value_text(roof_row_word((enum row)item->row)));
    value_put(source, object, "mark", id_of(source, item));
    value_put(source, object, "rafter",
              item->rafter == STRENGTH_NONE ? json_null() : json_integer(item->rafter + 1));
    value_put(source, object, "combination",
              value_text(loads_combination(item->combination)->text));
    value_put(source, object, "demand",
              value_number(carrying_figure(roof, item->kind, item->demand)));
    value_put(source, object, "capacity",
              value_number(carrying_figure(roof, item->kind, item->capacity)));
    value_put(source, object, "ratio", value_number(item->ratio));
    value_put(source, object, "clause", value_text(item->clause));
    return object;
}

json_t *json_strength(struct json_source *source) {
    if (source->strength == NULL) {
        return json_null();
    }
    json_t *list = json_array();
    for (size_t i = 0; i < source->strength->count; i++) {
        value_add(source, list, item_value(source, &source->strength->items[i]));
    }
    return list;
}

void json_add_strength_rule(struct json_source *source, json_t *rules) {
    const struct strength_item *worst = NULL;
    for (size_t i = 0; source->strength != NULL && i < source->strength->count; i++) {
        const struct strength_item *item = &source->strength->items[i];
        if (item->kind != STRENGTH_RAFTER && (worst == NULL || item->ratio > worst->ratio)) {
            worst = item;
        }
    }
    if (worst == NULL) {
        return;
    }
    json_t *object = json_object();
    value_put(source, object, "rule", value_text("strength"));
    value_put(source, object, "bracket", value_text(source->roof->brackets[worst->bracket].name));
    value_put(source, object, "mark", id_of(source, worst));
    value_put(source, object, "other", json_null());
    value_put(source, object, "margin", value_number(1 - worst->ratio));
    value_put(source, object, "counted", json_false());
    value_put(source, object, "holds", json_boolean(source->strength->carries));
    value_add(source, rules, object);
}

void json_add_weak(struct json_source *source, json_t *reasons) {
    for (size_t i = 0; source->strength != NULL && i < source->strength->count; i++) {
        const struct strength_item *item = &source->strength->items[i];
        if (item->kind != STRENGTH_RAFTER && item->ratio > 1) {
            char text[CARRYING_TEXT], line[CARRYING_TEXT + 16];
            carrying_tell(source->roof, source->marks, item, text);
            snprintf(line, sizeof line, "strength: %s", text);
            value_add(source, reasons, value_text(line));
        }
    }
}
