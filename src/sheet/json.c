#include "json.h"

#include "json_values.h"
#include "warnings.h"

#include <math.h>
#include <stdlib.h>

/* ---- Marks, brackets, rows, struts ----------------------------------------------------------- */

static json_t *margins_value(struct json_source *source, const double least[RULE_COUNT]) {
    json_t *object = json_object();
    for (size_t rule = 0; rule < RULE_COUNT; rule++) {
        if (isfinite(least[rule])) {
            value_put(source, object, check_rule_name((enum rule)rule),
                      value_length(source->roof, least[rule]));
        }
    }
    return object;
}

/* What a pipe hole has of its own: its pipe, and the course that a row would say. */
static void put_pipe(struct json_source *source, json_t *object, const struct mark *mark,
                     size_t course) {
    const struct roof *roof = source->roof;
    const bool on_course = course >= 1 && course <= roof->course_count;
    value_put(source, object, "pipe", value_text(roof->pipes[mark->pipe].name));
    value_put(source, object, "course", on_course ? json_integer((json_int_t)course) : json_null());
    value_put(source, object, "above_edge",
              on_course ? value_length(roof, mark->y - roof->courses[course - 1]) : json_null());
}

static json_t *mark_value(struct json_source *source, size_t i, const double least[RULE_COUNT]) {
    const struct roof *roof = source->roof;
    const struct mark *mark = &source->marks->list[i];
    const struct seat *seat = &source->verdict->seats[i];
    const bool pipe = mark->row == ROW_PIPE;
    const bool foot =
        !pipe && source->marks->brackets[mark->bracket].hardware[mark->row] == HARDWARE_FEET;
    const bool in_wood = seat->ply < roof->ply_count;
    json_t *object = json_object();
    value_put(source, object, "id", value_text(source->ids[i]));
    value_put(source, object, "bracket", value_text(roof->brackets[mark->bracket].name));
    value_put(source, object, "row", value_text(roof_row_word(mark->row)));
    value_put(source, object, "rafter",
              in_wood ? json_integer((json_int_t)roof->plies[seat->ply].rafter + 1) : json_null());
    value_put(source, object, "x", value_length(roof, mark->x));
    value_put(source, object, "y", value_length(roof, mark->y));
    value_put(source, object, "turned",
              foot ? value_text(roof_side_word(seat->side)) : json_null());
    value_put(source, object, "margins", margins_value(source, least));
    if (pipe) {
        put_pipe(source, object, mark, seat->course);
    }
    return object;
}

static json_t *marks_value(struct json_source *source) {
    json_t *list = json_array();
    if (source->verdict == NULL) {
        return list;
    }
    struct mark_margins *least = json_margins_by_mark(source);
    if (least == NULL) {
        source->whole = false;
        return list;
    }
    for (size_t i = 0; i < source->marks->count; i++) {
        value_add(source, list, mark_value(source, i, least[i].least));
    }
    free(least);
    return list;
}

static json_t *pair_of_lengths(struct json_source *source, const double lengths[2]) {
    json_t *list = json_array();
    value_add(source, list, value_length(source->roof, lengths[0]));
    value_add(source, list, value_length(source->roof, lengths[1]));
    return list;
}

static json_t *bracket_value(struct json_source *source, size_t bracket) {
    const struct roof *roof = source->roof;
    const struct standing *standing = &source->marks->brackets[bracket];
    json_t *object = json_object();
    value_put(source, object, "name", value_text(roof->brackets[bracket].name));
    value_put(source, object, "x", value_length(roof, standing->x));
    value_put(source, object, "y", value_length(roof, standing->y));
    value_put(source, object, "forgiveness",
              value_length(roof, source->verdict->forgiveness[bracket]));
    value_put(source, object, "top", value_text(roof_hardware_word(standing->hardware[ROW_TOP])));
    value_put(source, object, "bottom",
              value_text(roof_hardware_word(standing->hardware[ROW_BOTTOM])));
    value_put(source, object, "bottom_bracket_gap",
              pair_of_lengths(source, roof_kit(roof, bracket)->gap));
    return object;
}

static json_t *brackets_value(struct json_source *source) {
    json_t *list = json_array();
    for (size_t i = 0; source->verdict != NULL && i < source->roof->bracket_count; i++) {
        value_add(source, list, bracket_value(source, i));
    }
    return list;
}

static json_t *row_value(struct json_source *source, size_t bracket, enum row row) {
    const struct roof *roof = source->roof;
    const struct row_seat *seat = &source->verdict->rows[bracket][row];
    const bool on_course = seat->course >= 1 && seat->course <= roof->course_count;
    json_t *object = json_object();
    value_put(source, object, "bracket", value_text(roof->brackets[bracket].name));
    value_put(source, object, "row", value_text(roof_row_word(row)));
    value_put(source, object, "kind",
              value_text(roof_hardware_word(source->marks->brackets[bracket].hardware[row])));
    value_put(source, object, "y", value_length(roof, seat->y));
    value_put(source, object, "course",
              on_course ? json_integer((json_int_t)seat->course) : json_null());
    value_put(source, object, "above_edge",
              on_course ? value_length(roof, seat->y - roof->courses[seat->course - 1])
                        : json_null());
    return object;
}

static json_t *strut_value(struct json_source *source, size_t bracket, enum row row) {
    const struct roof *roof = source->roof;
    const struct row_seat *seat = &source->verdict->rows[bracket][row];
    json_t *clamps = json_array();
    for (size_t leg = 0; leg < roof_kit(roof, bracket)->leg_count; leg++) {
        value_add(source, clamps, value_length(roof, seat->clamps[leg]));
    }
    json_t *object = json_object();
    value_put(source, object, "bracket", value_text(roof->brackets[bracket].name));
    value_put(source, object, "row", value_text(roof_row_word(row)));
    value_put(source, object, "from", value_length(roof, seat->from));
    value_put(source, object, "to", value_length(roof, seat->to));
    value_put(source, object, "length", value_length(roof, seat->to - seat->from));
    value_put(source, object, "clamps", clamps);
    return object;
}

/* Every row that has marks; of those only the struts where `struts` is set. */
static json_t *rows_value(struct json_source *source, bool struts) {
    json_t *list = json_array();
    const size_t count = source->verdict == NULL ? 0 : source->roof->bracket_count;
    for (size_t i = 0; i < count; i++) {
        for (enum row row = ROW_TOP; row < ROW_COUNT; row++) {
            if (source->verdict->rows[i][row].count == 0) {
                continue;
            }
            if (!struts) {
                value_add(source, list, row_value(source, i, row));
            } else if (source->marks->brackets[i].hardware[row] == HARDWARE_STRUT) {
                value_add(source, list, strut_value(source, i, row));
            }
        }
    }
    return list;
}

/* ---- The layout ----------------------------------------------------------------------------- */

struct warning_list {
    struct json_source *source;
    json_t *list;
};

static void add_warning(void *taker, const char *text) {
    const struct warning_list *warnings = taker;
    value_add(warnings->source, warnings->list, value_text(text));
}

static json_t *warnings_value(struct json_source *source) {
    struct warning_list warnings = {source, json_array()};
    warnings_tell(source->roof, source->marks, source->strength, add_warning, &warnings);
    return warnings.list;
}

/* How far the brackets stand from where they were wanted, along both axes, in inches. */
static double moved(const struct roof *roof, const struct marks *marks) {
    double sum = 0;
    for (size_t i = 0; i < roof->bracket_count; i++) {
        sum += fabs(marks->brackets[i].x - roof->brackets[i].want_x) +
               fabs(marks->brackets[i].y - roof->brackets[i].want_y);
    }
    return sum;
}

static json_t *optimum_value(struct json_source *source, const struct layout *layout) {
    if (layout->marks == NULL) {
        return json_null();
    }
    json_t *object = json_object();
    value_put(source, object, "forgiveness", value_length(source->roof, layout->forgiveness));
    value_put(source, object, "holes", json_integer((json_int_t)layout->holes));
    value_put(source, object, "moved", value_length(source->roof, layout->moved));
    return object;
}

static bool is_proved(const struct layout *layout) {
    return layout->state == LAYOUT_PROVED || layout->state == LAYOUT_IMPOSSIBLE;
}

static json_t *bound_value(struct json_source *source, const struct layout *layout) {
    if (is_proved(layout)) {
        return json_null();
    }
    json_t *object = json_object();
    value_put(source, object, "forgiveness", value_length(source->roof, layout->bound_forgiveness));
    value_put(source, object, "cost", value_length(source->roof, layout->bound_cost));
    return object;
}

static void put_roof(struct json_source *source, json_t *object, const char *kind) {
    const bool mm = source->roof->measure == MEASURE_MM;
    value_put(source, object, "ruddle", value_text(kind));
    value_put(source, object, "roof", value_text(source->roof->name));
    value_put(source, object, "measure", value_text(mm ? "mm" : "in"));
}

static json_t *layout_value(struct json_source *source, const struct answer *answer) {
    const struct roof *roof = source->roof;
    const struct verdict *verdict = source->verdict;
    const bool none = verdict == NULL;
    json_t *object = json_object();
    put_roof(source, object, "layout/1");
    value_put(source, object, "corner",
              value_text(roof->corner == CORNER_RIGHT ? "right" : "left"));
    value_put(source, object, "status", value_text(sheet_status_word(answer->status)));
    value_put(source, object, "tight", json_boolean(answer->tight));
    value_put(source, object, "proved", json_boolean(is_proved(answer->layout)));
    value_put(source, object, "forgiveness",
              none ? json_null() : value_length(roof, verdict->least));
    value_put(source, object, "holes",
              none ? json_null() : json_integer((json_int_t)verdict->holes));
    value_put(source, object, "moved",
              none ? json_null() : value_length(roof, moved(roof, source->marks)));
    value_put(source, object, "brackets", brackets_value(source));
    value_put(source, object, "rows", rows_value(source, false));
    value_put(source, object, "struts", rows_value(source, true));
    value_put(source, object, "marks", marks_value(source));
    value_put(source, object, "rules", json_rules(source));
    value_put(source, object, "optimum", optimum_value(source, answer->layout));
    value_put(source, object, "bound", bound_value(source, answer->layout));
    value_put(source, object, "strength", json_strength(source));
    value_put(source, object, "warnings", warnings_value(source));
    value_put(source, object, "reasons", json_reasons(source, answer));
    if (answer->fit != NULL) {
        value_put(source, object, "together", json_together(source, answer->fit));
    }
    return object;
}

/* ---- Writing -------------------------------------------------------------------------------- */

/* Fifteen digits: all that a length with six decimals needs, and none of a double's tail.  False
 * where the value could not be written: a stream that fails remembers that too, a lack of memory
 * leaves no other trace. */
static bool write_value(const json_t *value, FILE *stream) {
    return json_dumpf(value, stream, JSON_ENCODE_ANY | JSON_REAL_PRECISION(15)) == 0;
}

/* One field a line; of a list one entry a line, so that two results can be compared by eye. */
static bool write_object(json_t *object, FILE *stream) {
    const char *key = NULL;
    json_t *value = NULL;
    const char *before = "{\n ";
    bool whole = true;
    json_object_foreach(object, key, value) {
        fprintf(stream, "%s\"%s\": ", before, key);
        before = ",\n ";
        if (json_array_size(value) == 0) { /* an empty list, or none */
            whole = write_value(value, stream) && whole;
            continue;
        }
        for (size_t i = 0; i < json_array_size(value); i++) {
            fputs(i == 0 ? "[\n  " : ",\n  ", stream);
            whole = write_value(json_array_get(value, i), stream) && whole;
        }
        fputs("\n ]", stream);
    }
    fputs("\n}\n", stream);
    return whole;
}

enum outcome json_finish(struct json_source *source, json_t *object, FILE *stream) {
    const bool whole = source->whole && object != NULL && write_object(object, stream);
    json_decref(object);
    free(source->ids);
    return whole ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome json_write(const struct answer *answer, FILE *stream) {
    return json_write_more(answer, NULL, NULL, stream);
}

enum outcome json_write_more(const struct answer *answer,
                             void (*put)(struct json_source *source, json_t *object,
                                         const void *subject),
                             const void *subject, FILE *stream) {
    const bool laid_out = answer->marks != NULL && answer->verdict != NULL;
    struct json_source source = {.roof = answer->roof,
                                 .marks = laid_out ? answer->marks : NULL,
                                 .verdict = laid_out ? answer->verdict : NULL,
                                 .strength = laid_out ? answer->strength : NULL,
                                 .whole = true};
    if (laid_out && json_name_marks(&source) != OUTCOME_DONE) {
        return OUTCOME_FAULT;
    }
    json_t *object = layout_value(&source, answer);
    if (put != NULL) {
        put(&source, object, subject);
    }
    return json_finish(&source, object, stream);
}

enum outcome json_write_check(const struct roof *roof, const struct marks *marks,
                              const struct verdict *verdict, const struct strength *strength,
                              FILE *stream) {
    const bool good = sheet_good(verdict, strength);
    struct json_source source = {
        .roof = roof, .marks = marks, .verdict = verdict, .strength = strength, .whole = true};
    if (json_name_marks(&source) != OUTCOME_DONE) {
        return OUTCOME_FAULT;
    }
    json_t *rules = json_array();
    for (size_t i = 0; i < verdict->count; i++) {
        value_add(&source, rules, json_finding(&source, &verdict->findings[i], true));
    }
    json_add_strength_rule(&source, rules);
    json_t *object = json_object();
    put_roof(&source, object, "check/1");
    value_put(&source, object, "status",
              value_text(sheet_status_word(good ? STATUS_OK : STATUS_BLOCKED)));
    value_put(&source, object, "forgiveness", value_length(roof, verdict->least));
    value_put(&source, object, "rules", rules);
    value_put(&source, object, "strength", json_strength(&source));
    return json_finish(&source, object, stream);
}
