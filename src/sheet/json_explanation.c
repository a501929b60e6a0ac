/* The result of `ruddle explain` for machines. */
#include "explanation.h"

#include "broken.h"
#include "json_values.h"
#include "reasons.h"

#include <stdint.h>
#include <stdlib.h>

static json_t *text_or_null(const char *text) {
    return text == NULL ? json_null() : value_text(text);
}

static json_t *rule_value(struct json_source *source, const struct finding *finding) {
    const struct scene scene = {source->roof, source->marks, source->verdict, finding};
    struct broken broken;
    json_t *object = json_finding(source, finding, true);
    const bool hard = !check_rule_counted(finding->rule) && length_holds(finding->margin);
    broken_describe(&scene, &broken);
    value_put(source, object, "needs", value_text(broken.needs));
    value_put(source, object, "has", text_or_null(hard ? NULL : broken.has));
    return object;
}

static json_t *rules_value(struct json_source *source, const struct scope *scope) {
    struct scope_findings findings;
    json_t *list = json_array();
    scope_find(source->verdict, scope, &findings);
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        if (findings.least[rule] != NULL) {
            value_add(source, list, rule_value(source, findings.least[rule]));
        }
    }
    return list;
}

/* Who stops a move: `by` is null where it was not looked at. */
static json_t *move_value(struct json_source *source, const struct move *move) {
    json_t *object = json_object();
    const bool known = move->stopped != STOPPED_UNKNOWN;
    const char *rule = move->stopped == STOPPED_RULE       ? check_rule_name(move->finding.rule)
                       : move->stopped == STOPPED_STRENGTH ? "strength"
                                                           : NULL;
    value_put(source, object, "by", known ? value_length(source->roof, move->by) : json_null());
    value_put(source, object, "rule", text_or_null(rule));
    value_put(source, object, "stopped_by",
              move->stopped == STOPPED_RULE ? json_finding(source, &move->finding, true)
                                            : json_null());
    return object;
}

static json_t *moves_value(struct json_source *source, const struct moves *moves) {
    json_t *object = json_object();
    for (int way = 0; way < WAY_COUNT; way++) {
        value_put(source, object, explain_way_word((enum way)way),
                  move_value(source, &moves->way[way]));
    }
    return object;
}

static json_t *mark_value(struct json_source *source, const struct explanation *explanation,
                          size_t index) {
    const struct mark *mark = &source->marks->list[index];
    const struct scope scope = {(int)mark->bracket, (int)mark->row, (int)index};
    json_t *object = json_object();
    value_put(source, object, "id", value_text(source->ids[index]));
    value_put(source, object, "bracket", value_text(source->roof->brackets[mark->bracket].name));
    value_put(source, object, "row", value_text(roof_row_word(mark->row)));
    value_put(source, object, "x", value_length(source->roof, mark->x));
    value_put(source, object, "y", value_length(source->roof, mark->y));
    value_put(source, object, "rules", rules_value(source, &scope));
    value_put(source, object, "moves", moves_value(source, &explanation->moves[index]));
    return object;
}

static json_t *marks_value(struct json_source *source, const struct explanation *explanation) {
    json_t *list = json_array();
    for (size_t i = 0; explanation->moves != NULL && i < source->marks->count; i++) {
        if (explanation->mark == SIZE_MAX || explanation->mark == i) {
            value_add(source, list, mark_value(source, explanation, i));
        }
    }
    return list;
}

static bool is_asked(const struct json_source *source, const struct explanation *explanation,
                     size_t bracket, int row) {
    if (explanation->mark == SIZE_MAX) {
        return true;
    }
    const struct mark *mark = &source->marks->list[explanation->mark];
    return mark->bracket == bracket && (row == CHECK_NONE || (int)mark->row == row);
}

/* From where it was wanted to where it stands, along the eave and up. */
static json_t *wish_value(struct json_source *source, size_t bracket) {
    const struct standing *standing = &source->marks->brackets[bracket];
    const struct bracket *wanted = &source->roof->brackets[bracket];
    json_t *pair = json_array();
    value_add(source, pair, value_length(source->roof, standing->x - wanted->want_x));
    value_add(source, pair, value_length(source->roof, standing->y - wanted->want_y));
    return pair;
}

/* Rules of lines and of frames, which no hole is named in. */
static json_t *parts_value(struct json_source *source, const struct explanation *explanation,
                           bool lines) {
    json_t *list = json_array();
    const bool placed = explanation->moves != NULL && source->marks != NULL;
    const size_t count = placed ? source->roof->bracket_count : 0;
    for (size_t i = 0; i < count; i++) {
        for (int row = lines ? ROW_TOP : CHECK_NONE; row < (lines ? (int)ROW_COUNT : 0); row++) {
            const struct scope scope = {(int)i, row, CHECK_NONE};
            json_t *object = json_object();
            if (!is_asked(source, explanation, i, row)) {
                json_decref(object);
                continue;
            }
            value_put(source, object, "bracket", value_text(source->roof->brackets[i].name));
            if (lines) {
                value_put(source, object, "row", value_text(roof_row_word((enum row)row)));
            }
            value_put(source, object, "rules", rules_value(source, &scope));
            if (!lines) {
                const struct wish *wish = &explanation->wishes[i];
                value_put(source, object, "moved", wish_value(source, i));
                value_put(source, object, "kept_off",
                          wish->broken ? json_finding(source, &wish->finding, true) : json_null());
                value_put(source, object, "moves", moves_value(source, &explanation->frames[i]));
            }
            value_add(source, list, object);
        }
    }
    return list;
}

static json_t *freed_value(enum freed freed) {
    return freed == FREED_UNKNOWN ? json_null() : json_boolean(freed == FREED_YES);
}

static json_t *change_value(struct json_source *source, const struct change *change) {
    json_t *object = json_object();
    const bool way =
        change->kind == CHANGE_SISTER || (change->kind == CHANGE_VENT && change->way != WAY_COUNT);
    const bool rule = change->kind == CHANGE_RULE, hardware = change->kind == CHANGE_HARDWARE;
    const bool length = rule || (change->kind == CHANGE_VENT && change->way != WAY_COUNT);
    char text[FREEING_TEXT];
    freeing_tell(source->roof, change, text);
    value_put(source, object, "change", value_text(explain_change_word(change->kind)));
    value_put(source, object, "rule",
              text_or_null(rule ? check_rule_name(explain_relaxed_rule(change->relaxed)) : NULL));
    value_put(source, object, "key",
              text_or_null(rule ? explain_relaxed_key(change->relaxed) : NULL));
    value_put(
        source, object, "vent",
        text_or_null(change->kind == CHANGE_VENT ? source->roof->vents[change->which].name : NULL));
    value_put(source, object, "rafter",
              change->kind == CHANGE_SISTER ? json_integer((json_int_t)change->which + 1)
                                            : json_null());
    value_put(source, object, "way", text_or_null(way ? explain_way_word(change->way) : NULL));
    value_put(source, object, "top",
              text_or_null(hardware ? roof_hardware_word(change->hardware[ROW_TOP]) : NULL));
    value_put(source, object, "bottom",
              text_or_null(hardware ? roof_hardware_word(change->hardware[ROW_BOTTOM]) : NULL));
    value_put(source, object, "by", length ? value_length(source->roof, change->by) : json_null());
    value_put(source, object, "frees", freed_value(change->freed));
    value_put(source, object, "least", json_boolean(change->least));
    value_put(source, object, "text", value_text(text));
    return object;
}

static json_t *changes_value(struct json_source *source, const struct changes *changes) {
    json_t *list = json_array();
    for (size_t i = 0; changes != NULL && i < changes->count; i++) {
        value_add(source, list, change_value(source, &changes->list[i]));
    }
    return list;
}

static json_t *reasons_value(struct json_source *source) {
    json_t *object = json_object();
    for (int rule = 0; rule < RULE_COUNT; rule++) {
        json_t *reason = json_object();
        value_put(source, reason, "why", value_text(reasons_why((enum rule)rule)));
        value_put(source, reason, "source", value_text(reasons_source((enum rule)rule)));
        value_put(source, object, check_rule_name((enum rule)rule), reason);
    }
    return object;
}

enum outcome explain_write_json(const struct explanation *explanation, FILE *stream) {
    const struct answer *answer = &explanation->answer;
    struct json_source source = {.roof = answer->roof,
                                 .marks = answer->marks,
                                 .verdict = answer->verdict,
                                 .strength = answer->strength,
                                 .whole = true};
    if (answer->marks != NULL && json_name_marks(&source) != OUTCOME_DONE) {
        return OUTCOME_FAULT;
    }
    json_t *object = json_object();
    value_put(&source, object, "ruddle", value_text("explain/1"));
    value_put(&source, object, "roof", value_text(answer->roof->name));
    value_put(&source, object, "measure",
              value_text(answer->roof->measure == MEASURE_MM ? "mm" : "in"));
    value_put(&source, object, "status", value_text(sheet_status_word(answer->status)));
    value_put(&source, object, "marks", marks_value(&source, explanation));
    value_put(&source, object, "lines", parts_value(&source, explanation, true));
    value_put(&source, object, "frames", parts_value(&source, explanation, false));
    value_put(&source, object, "changes", changes_value(&source, explanation->changes));
    value_put(
        &source, object, "not_tried",
        json_integer(explanation->changes != NULL ? (json_int_t)explanation->changes->left : 0));
    value_put(&source, object, "reasons", json_reasons(&source, answer));
    value_put(&source, object, "rules", reasons_value(&source));
    return json_finish(&source, object, stream);
}
