/* Findings in the JSON result: the least margin of each rule and its place; reasons. */
#include "broken.h"
#include "json_values.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum { SUBJECT_MOST = JSON_ID_MOST + ROOF_NAME_MOST + 8 };

static const char *bracket_name(const struct json_source *source, int bracket) {
    return source->roof->brackets[bracket].name;
}

/* The other party of a finding: a vent, a mark or a bracket; NULL where there is none. */
static const char *other_name(const struct json_source *source, const struct finding *finding) {
    if (finding->vent != CHECK_NONE) {
        return source->roof->vents[finding->vent].name;
    }
    if (finding->other_mark != CHECK_NONE) {
        return source->ids[finding->other_mark];
    }
    if (finding->other_bracket != CHECK_NONE) {
        return bracket_name(source, finding->other_bracket);
    }
    return NULL;
}

static json_t *text_or_null(const char *bytes) {
    return bytes == NULL ? json_null() : value_text(bytes);
}

/* A margin: a length, but for `complete`, which counts marks. */
static json_t *margin(const struct roof *roof, enum rule rule, double inches) {
    return rule == RULE_COMPLETE ? value_number(inches) : value_length(roof, inches);
}

json_t *json_finding(struct json_source *source, const struct finding *finding, bool with_row) {
    json_t *object = json_object();
    value_put(source, object, "rule", value_text(check_rule_name(finding->rule)));
    value_put(source, object, "bracket", value_text(bracket_name(source, finding->bracket)));
    if (with_row) {
        value_put(source, object, "row",
                  text_or_null(finding->row == CHECK_NONE ? NULL
                                                          : roof_row_word((enum row)finding->row)));
    }
    value_put(source, object, "mark",
              text_or_null(finding->mark == CHECK_NONE ? NULL : source->ids[finding->mark]));
    value_put(source, object, "other", text_or_null(other_name(source, finding)));
    value_put(source, object, "margin", margin(source->roof, finding->rule, finding->margin));
    value_put(source, object, "counted", json_boolean(check_rule_counted(finding->rule)));
    value_put(source, object, "holds", json_boolean(length_holds(finding->margin)));
    return object;
}

json_t *json_rules(struct json_source *source) {
    json_t *list = json_array();
    const struct finding *least[RULE_COUNT] = {NULL};
    const struct verdict *verdict = source->verdict;
    for (size_t i = 0; verdict != NULL && i < verdict->count; i++) {
        const struct finding *finding = &verdict->findings[i];
        const struct finding **kept = &least[finding->rule];
        if (*kept == NULL || finding->margin < (*kept)->margin) {
            *kept = finding;
        }
    }
    for (size_t rule = 0; rule < RULE_COUNT; rule++) {
        if (least[rule] != NULL) {
            value_add(source, list, json_finding(source, least[rule], false));
        }
    }
    json_add_strength_rule(source, list);
    return list;
}

struct mark_margins *json_margins_by_mark(const struct json_source *source) {
    const size_t count = source->marks->count;
    struct mark_margins *least = calloc(count + 1, sizeof *least);
    for (size_t i = 0; least != NULL && i < count; i++) {
        for (size_t rule = 0; rule < RULE_COUNT; rule++) {
            least[i].least[rule] = INFINITY;
        }
    }
    for (size_t i = 0; least != NULL && i < source->verdict->count; i++) {
        const struct finding *finding = &source->verdict->findings[i];
        const int marks[2] = {finding->mark, finding->other_mark};
        for (int j = 0; check_rule_counted(finding->rule) && j < 2; j++) {
            if (marks[j] != CHECK_NONE) {
                double *kept = &least[marks[j]].least[finding->rule];
                *kept = fmin(*kept, finding->margin);
            }
        }
    }
    return least;
}

/* What a finding is about: a mark, a row or a bracket, and the other party. */
static void subject_text(const struct json_source *source, const struct finding *finding,
                         char subject[SUBJECT_MOST]) {
    const char *other = other_name(source, finding);
    const bool missing = finding->row == ROW_PIPE && finding->mark == CHECK_NONE;
    const size_t pipe =
        missing ? broken_missing_pipe(source->roof, source->marks, source->verdict, finding)
                : SIZE_MAX;
    const char *between = other == NULL ? "" : " and ";
    other = other == NULL ? "" : other;
    if (finding->mark != CHECK_NONE) {
        snprintf(subject, SUBJECT_MOST, "%s%s%s", source->ids[finding->mark], between, other);
    } else if (pipe != SIZE_MAX) {
        snprintf(subject, SUBJECT_MOST, "%s-pipe-%s", bracket_name(source, finding->bracket),
                 source->roof->pipes[pipe].name);
    } else if (finding->row != CHECK_NONE) {
        snprintf(subject, SUBJECT_MOST, "%s-%s%s%s", bracket_name(source, finding->bracket),
                 roof_row_word((enum row)finding->row), between, other);
    } else {
        snprintf(subject, SUBJECT_MOST, "%s%s%s", bracket_name(source, finding->bracket), between,
                 other);
    }
}

static void add_broken(struct json_source *source, json_t *list, const struct finding *finding) {
    const bool mm = source->roof->measure == MEASURE_MM;
    char subject[SUBJECT_MOST];
    char line[SUBJECT_MOST + 80];
    subject_text(source, finding, subject);
    int used = 0;
    if (finding->rule == RULE_COMPLETE) {
        snprintf(line, sizeof line, "%s: %s is %.0f %s%s out", check_rule_name(finding->rule),
                 subject, -finding->margin, finding->row == ROW_PIPE ? "hole" : "lag",
                 finding->margin > -1.5 ? "" : "s");
    } else {
        used = snprintf(line, sizeof line, "%s: %s is short by %.6g %s",
                        check_rule_name(finding->rule), subject,
                        -finding->margin * (mm ? LENGTH_MM_PER_INCH : 1), mm ? "mm" : "in");
    }
    if (finding->rule == RULE_PIPE_BAY && finding->other_bracket == CHECK_NONE && used > 0 &&
        (size_t)used < sizeof line) {
        const struct mark *hole = &source->marks->list[finding->mark];
        snprintf(line + used, sizeof line - (size_t)used, ", rafter %zu is in the way",
                 broken_rafter_in_way(source->roof, hole) + 1);
    }
    value_add(source, list, value_text(line));
}

json_t *json_reasons(struct json_source *source, const struct answer *answer) {
    const struct roof *roof = source->roof;
    char line[160];
    json_t *list = json_array();
    if (answer->tape_broke) {
        const bool mm = roof->measure == MEASURE_MM;
        snprintf(line, sizeof line,
                 "tape: a layout exists, but no readings on a tape marked every %.6g %s keep it",
                 roof->tape * (mm ? LENGTH_MM_PER_INCH : 1), mm ? "mm" : "in");
        value_add(source, list, value_text(line));
    }
    if (answer->status == STATUS_UNDECIDED && answer->layout->reason_count == 0) {
        snprintf(line, sizeof line, "limit: %g s ended the search before any layout was found",
                 answer->limit_s);
        value_add(source, list, value_text(line));
    }
    const bool ok = answer->status == STATUS_OK; /* then nothing needs a reason */
    for (size_t i = 0; !ok && i < answer->layout->reason_count; i++) {
        value_add(source, list, value_text(answer->layout->reasons[i].text));
    }
    for (size_t i = 0; source->verdict != NULL && i < source->verdict->count; i++) {
        if (!length_holds(source->verdict->findings[i].margin)) {
            add_broken(source, list, &source->verdict->findings[i]);
        }
    }
    json_add_weak(source, list);
    return list;
}
