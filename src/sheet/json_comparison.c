/* The result of `ruddle compare` for machines. */
#include "compare.h"

#include "json_values.h"

#include <stdlib.h>

static enum status status_of(const struct compared *choice) {
    return choice->works                                       ? STATUS_OK
           : choice->carried.layout->state == LAYOUT_UNDECIDED ? STATUS_UNDECIDED
                                                               : STATUS_BLOCKED;
}

/* What stands in its way, as `layout` says it; NULL: no memory. */
static json_t *reasons_value(const struct compared *choice, double limit_s) {
    const struct carried *carried = &choice->carried;
    const struct answer answer = {.roof = &choice->roof,
                                  .layout = carried->layout,
                                  .status = status_of(choice),
                                  .tape_broke = carried->held && !carried->verdict->holds,
                                  .limit_s = limit_s};
    struct json_source own = {.roof = &choice->roof,
                              .marks = carried->marks,
                              .verdict = carried->verdict,
                              .strength = carried->strength,
                              .whole = true};
    if (carried->marks != NULL && json_name_marks(&own) != OUTCOME_DONE) {
        return NULL;
    }
    json_t *reasons = json_reasons(&own, &answer);
    free(own.ids);
    if (!own.whole) {
        json_decref(reasons);
        return NULL;
    }
    return reasons;
}

static json_t *choice_value(struct json_source *source, const struct compared *choice,
                            double limit_s) {
    const struct carried *carried = &choice->carried;
    const struct roof *roof = source->roof;
    const bool laid_out = carried->marks != NULL;
    json_t *object = json_object();
    value_put(source, object, "top", value_text(roof_hardware_word(choice->hardware[ROW_TOP])));
    value_put(source, object, "bottom",
              value_text(roof_hardware_word(choice->hardware[ROW_BOTTOM])));
    value_put(source, object, "status", value_text(sheet_status_word(status_of(choice))));
    value_put(source, object, "proved",
              json_boolean(carried->layout->state == LAYOUT_PROVED ||
                           carried->layout->state == LAYOUT_IMPOSSIBLE));
    value_put(source, object, "forgiveness",
              laid_out ? value_length(roof, carried->verdict->least) : json_null());
    value_put(source, object, "holes",
              laid_out ? json_integer((json_int_t)choice->lags + (json_int_t)choice->pipe_holes)
                       : json_null());
    value_put(source, object, "moved",
              laid_out ? value_length(roof, carried->layout->moved) : json_null());
    value_put(source, object, "chance", value_number(choice->chance));
    value_put(source, object, "lags", json_integer((json_int_t)choice->lags));
    value_put(source, object, "feet", json_integer((json_int_t)choice->feet));
    value_put(source, object, "struts", json_integer((json_int_t)choice->struts));
    value_put(source, object, "clamps", json_integer((json_int_t)choice->clamps));
    value_put(source, object, "strut_length",
              laid_out ? value_length(roof, choice->strut_in) : json_null());
    value_put(source, object, "cost", value_number(choice->cost));
    value_put(source, object, "strength",
              carried->strength != NULL ? value_number(carried->strength->worst) : json_null());
    value_put(source, object, "reasons", reasons_value(choice, limit_s));
    return object;
}

enum outcome compare_write_json(const struct roof *roof, const struct comparison *comparison,
                                FILE *stream) {
    struct json_source source = {.roof = roof, .whole = true};
    json_t *object = json_object();
    json_t *list = json_array();
    value_put(&source, object, "ruddle", value_text("compare/1"));
    value_put(&source, object, "roof", value_text(roof->name));
    value_put(&source, object, "measure", value_text(roof->measure == MEASURE_MM ? "mm" : "in"));
    for (size_t i = 0; i < COMPARE_CHOICES; i++) {
        value_add(&source, list,
                  choice_value(&source, &comparison->choices[i], comparison->limit_s));
    }
    value_put(&source, object, "choices", list);
    return json_finish(&source, object, stream);
}
