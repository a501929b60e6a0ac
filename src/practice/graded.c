/* The grade as somebody reads it, and as a program does. */
#include "../sheet/json_values.h"
#include "practice.h"
#include "sheet.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SAME_IN (1.0 / 32) /* half a tick: nothing to move by */
enum { CELL = 80, COLUMNS = 80 };

static const char *inches(char buffer[LENGTH_TEXT], double length) {
    return length_text(buffer, length, 1.0 / 16, MEASURE_IN);
}

/* A length that never says that there is more than there is. */
static double cut(double length) {
    return floor((length + LENGTH_TOLERANCE) * 32) / 32;
}

static void write_rules(const struct grade *grade, FILE *stream) {
    char least[LENGTH_TEXT];
    for (int i = 0; i < RULE_COUNT; i++) {
        const struct grade_rule *rule = &grade->rules[i];
        const char *name = sheet_rule_words(check_rule_name((enum rule)i));
        if (rule->places == 0) {
            continue;
        }
        if (rule->broken > 0) {
            fprintf(stream, "  [ ] %-34s BROKEN, at %zu of %zu places\n", name, rule->broken,
                    rule->places);
        } else if (check_rule_counted((enum rule)i)) {
            length_text(least, cut(rule->least), 1.0 / 32, MEASURE_IN);
            fprintf(stream, "  [x] %-34s holds; least spare %s\n", name, least);
        } else {
            fprintf(stream, "  [x] %-34s holds\n", name);
        }
    }
}

static void write_points(const struct grade *grade, FILE *stream) {
    char a[LENGTH_TEXT], b[LENGTH_TEXT];
    const struct verdict *best = grade->practice->best.verdict;
    fprintf(stream, "SCORE %u of 100\n", grade->score);
    fprintf(stream, "  %3u of %2d  rules: %zu of %zu hold\n", grade->rules_points, GRADE_RULES,
            grade->held, grade->applying);
    if (!grade->verdict->holds) {
        fprintf(stream, "    0 of %2d  room to miss, holes and distance: nobody drills by it yet\n",
                GRADE_ROOM + GRADE_ECONOMY);
        return;
    }
    length_text(a, cut(grade->room), 1.0 / 32, MEASURE_IN);
    length_text(b, cut(grade->best_room), 1.0 / 32, MEASURE_IN);
    fprintf(stream, "  %3u of %2d  room to miss: %s in; the best layout has %s\n",
            grade->room_points, GRADE_ROOM, a, b);
    fprintf(stream, "  %3u of %2d  %zu holes, %s in from the wish; the best layout %zu, %s in\n",
            grade->economy_points, GRADE_ECONOMY, grade->verdict->holes, inches(a, grade->moved),
            best->holes, inches(b, grade->best_moved));
}

/* One line of the comparison; NaN where a layout has no such thing. */
static void write_pair(const char *name, double yours, double best, const char *more,
                       const char *less, FILE *stream) {
    char a[LENGTH_TEXT] = "-", b[LENGTH_TEXT] = "-", c[LENGTH_TEXT];
    if (!isnan(yours)) {
        inches(a, yours);
    }
    if (!isnan(best)) {
        inches(b, best);
    }
    fprintf(stream, "  %-34s %-12s %-12s ", name, a, b);
    if (isnan(yours) || isnan(best)) {
        fprintf(stream, "%s\n", isnan(yours) ? "missing" : "not needed");
    } else if (fabs(best - yours) < SAME_IN) {
        fputs("-\n", stream);
    } else {
        fprintf(stream, "%s %s\n", inches(c, fabs(best - yours)), best > yours ? more : less);
    }
}

/* The i-th hole of a row; NULL: it has fewer. */
static const struct mark *hole_of(const struct marks *marks, enum row row, size_t number) {
    for (size_t i = 0; i < marks->count; i++) {
        if (marks->list[i].row == row && number-- == 0) {
            return &marks->list[i];
        }
    }
    return NULL;
}

static double x_of(const struct mark *mark) {
    return mark == NULL ? NAN : mark->x;
}

static double y_of(const struct mark *mark) {
    return mark == NULL ? NAN : mark->y;
}

static void write_row(const struct grade *grade, enum row row, const char *more, const char *less,
                      FILE *stream) {
    const struct marks *yours = grade->marks, *best = grade->practice->best.marks;
    char name[CELL];
    snprintf(name, sizeof name, "%s line, up the roof", row == ROW_TOP ? "top" : "bottom");
    write_pair(name, y_of(hole_of(yours, row, 0)), y_of(hole_of(best, row, 0)), "up", "down",
               stream);
    for (size_t i = 0;; i++) {
        const struct mark *one = hole_of(yours, row, i), *other = hole_of(best, row, i);
        if (one == NULL && other == NULL) {
            return;
        }
        snprintf(name, sizeof name, "  lag hole %zu, along it", i + 1);
        write_pair(name, x_of(one), x_of(other), more, less, stream);
    }
}

static void write_difference(const struct grade *grade, FILE *stream) {
    const struct roof *roof = grade->practice->roof;
    const struct standing *yours = &grade->marks->brackets[0];
    const struct standing *best = &grade->practice->best.marks->brackets[0];
    const bool left = roof->corner == CORNER_LEFT;
    const char *more = left ? "to the RIGHT" : "to the LEFT";
    const char *less = left ? "to the LEFT" : "to the RIGHT";
    char name[CELL];
    fprintf(stream, "\nTHE BEST LAYOUT BESIDE YOURS: what to move, and which way (inches)\n");
    fprintf(stream, "  %-34s %-12s %-12s %s\n", "", "yours", "best", "move");
    snprintf(name, sizeof name, "frame %.10s, from the %s rake", roof->brackets[0].name,
             left ? "LEFT" : "RIGHT");
    write_pair(name, yours->x, best->x, more, less, stream);
    write_pair("  and up the roof", yours->y, best->y, "up", "down", stream);
    write_row(grade, ROW_TOP, more, less, stream);
    write_row(grade, ROW_BOTTOM, more, less, stream);
}

/* Words wrapped at the width of a terminal, further lines a little in. */
static void write_wrapped(const char *text, FILE *stream) {
    int used = 0;
    for (text += strspn(text, " \n"); *text != '\0'; text += strspn(text, " ")) {
        const int length = (int)strcspn(text, " \n");
        if (used > 0 && used + 1 + length > COLUMNS) {
            used = fprintf(stream, "\n   ") - 1;
        }
        used += fprintf(stream, "%s%.*s", used > 0 ? " " : "", length, text);
        text += length;
        if (*text == '\n') {
            fputc(*text++, stream);
            used = 0;
        }
    }
}

/* What breaks and why it is a rule, in the words of the sheet. */
static enum outcome write_faults(const struct grade *grade, FILE *stream) {
    char *text = NULL;
    size_t size = 0;
    FILE *kept = open_memstream(&text, &size);
    if (kept == NULL) {
        return OUTCOME_FAULT;
    }
    (void)sheet_write_broken(grade->practice->roof, grade->marks, grade->verdict, kept);
    sheet_write_reasons(grade->verdict, NULL, kept);
    const bool whole = fclose(kept) == 0;
    if (whole) {
        fputs("\nWHAT BREAKS, AND WHY IT IS A RULE\n", stream);
        write_wrapped(text, stream);
    }
    free(text);
    return whole ? OUTCOME_DONE : OUTCOME_FAULT;
}

enum outcome grade_write(const struct grade *grade, FILE *stream) {
    enum outcome outcome = OUTCOME_DONE;
    fprintf(stream, "GRADE of practice roof, level %u, number %u\n\n", grade->practice->level,
            grade->practice->seed);
    write_points(grade, stream);
    fputc('\n', stream);
    write_rules(grade, stream);
    if (!grade->verdict->holds) {
        outcome = write_faults(grade, stream);
    }
    write_difference(grade, stream);
    return outcome;
}

/* ---- For machines --------------------------------------------------------------------------- */

static void put_rules(struct json_source *source, json_t *object, const struct grade *grade) {
    json_t *list = json_array();
    for (int i = 0; i < RULE_COUNT; i++) {
        const struct grade_rule *rule = &grade->rules[i];
        if (rule->places == 0) {
            continue;
        }
        json_t *entry = json_object();
        value_put(source, entry, "rule", json_string(check_rule_name((enum rule)i)));
        value_put(source, entry, "places", json_integer((json_int_t)rule->places));
        value_put(source, entry, "broken", json_integer((json_int_t)rule->broken));
        value_put(source, entry, "margin", value_number(rule->least));
        value_put(source, entry, "holds", json_boolean(rule->broken == 0));
        value_add(source, list, entry);
    }
    value_put(source, object, "rules", list);
}

static void put_points(struct json_source *source, json_t *object, const struct grade *grade) {
    const struct {
        const char *key;
        unsigned points;
    } all[] = {{"rules", grade->rules_points},
               {"room", grade->room_points},
               {"economy", grade->economy_points}};
    json_t *points = json_object();
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        value_put(source, points, all[i].key, json_integer((json_int_t)all[i].points));
    }
    value_put(source, object, "points", points);
}

/* A layout in figures. */
static json_t *layout_value(struct json_source *source, const struct marks *marks, double room,
                            double moved) {
    json_t *object = json_object(), *list = json_array();
    value_put(source, object, "forgiveness", value_number(room));
    value_put(source, object, "holes", json_integer((json_int_t)marks->count));
    value_put(source, object, "moved", value_number(moved));
    value_put(source, object, "x", value_number(marks->brackets[0].x));
    value_put(source, object, "y", value_number(marks->brackets[0].y));
    for (size_t i = 0; i < marks->count; i++) {
        json_t *mark = json_object();
        value_put(source, mark, "row", json_string(roof_row_word(marks->list[i].row)));
        value_put(source, mark, "x", value_number(marks->list[i].x));
        value_put(source, mark, "y", value_number(marks->list[i].y));
        value_add(source, list, mark);
    }
    value_put(source, object, "marks", list);
    return object;
}

enum outcome grade_write_json(const struct grade *grade, FILE *stream) {
    struct json_source source = {.roof = grade->practice->roof, .whole = true};
    json_t *object = json_object();
    value_put(&source, object, "ruddle", json_string("grade/1"));
    value_put(&source, object, "level", json_integer((json_int_t)grade->practice->level));
    value_put(&source, object, "seed", json_integer((json_int_t)grade->practice->seed));
    value_put(&source, object, "score", json_integer((json_int_t)grade->score));
    value_put(&source, object, "holds", json_boolean(grade->verdict->holds));
    put_points(&source, object, grade);
    put_rules(&source, object, grade);
    value_put(&source, object, "answer",
              layout_value(&source, grade->marks, grade->room, grade->moved));
    value_put(
        &source, object, "best",
        layout_value(&source, grade->practice->best.marks, grade->best_room, grade->best_moved));
    return json_finish(&source, object, stream);
}
