/* The brackets: names, kits, hardware, and where each is wanted. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The setback line of a kind of edge that a bracket has to respect: as x at height y (rakes), or as
 * y (eave and ridge run along x; an outline may come to a point there). */
static double setback_line(const struct roof *roof, enum edge_kind kind, double y) {
    double line = kind == EDGE_EAVE    ? 0
                  : kind == EDGE_RIDGE ? roof->slope
                  : kind == EDGE_NEAR  ? -HUGE_VAL
                                       : HUGE_VAL;
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        if (edge->kind != kind)
            continue;
        double inside = edge->offset + edge->setback;
        if (kind == EDGE_EAVE || kind == EDGE_RIDGE)
            line = inside / edge->ny;
        else if (kind == EDGE_NEAR)
            line = fmax(line, (inside - edge->ny * y) / edge->nx);
        else
            line = fmin(line, (inside - edge->ny * y) / edge->nx);
    }
    return line;
}

/* Brackets without a `want`, in the file's order: equal gaps before, between and after, within the
 * setbacks at half the slope; centred up the slope.  A gap may be negative: it is a wish only. */
static void spread_wants(struct roof *roof, const bool *wanted) {
    double near = setback_line(roof, EDGE_NEAR, roof->slope / 2);
    double far = setback_line(roof, EDGE_FAR, roof->slope / 2);
    double low = setback_line(roof, EDGE_EAVE, 0), high = setback_line(roof, EDGE_RIDGE, 0);
    double widths = 0;
    size_t count = 0;
    for (size_t i = 0; i < roof->bracket_count; i++)
        if (!wanted[i]) {
            widths += roof_kit(roof, i)->width;
            count++;
        }
    double gap = (far - near - widths) / ((double)count + 1);
    double x = near + gap;
    for (size_t i = 0; i < roof->bracket_count; i++)
        if (!wanted[i]) {
            roof->brackets[i].want_x = x;
            roof->brackets[i].want_y = (low + high - roof_kit(roof, i)->height) / 2;
            x += roof_kit(roof, i)->width + gap;
        }
}

/* Reads one place; true if it says where it is wanted. */
static bool read_place(const struct reader *reader, const struct survey_place *survey,
                       const enum hardware *const hardware[ROW_COUNT], struct bracket *bracket) {
    const char *list[] = {roof_hardware_word(HARDWARE_STRUT), roof_hardware_word(HARDWARE_FEET)};
    struct reader_words words = {list, 2};
    const char *texts[ROW_COUNT] = {[ROW_TOP] = survey->top, [ROW_BOTTOM] = survey->bottom};
    static const enum hardware usual[ROW_COUNT] = {
        [ROW_TOP] = HARDWARE_STRUT, [ROW_BOTTOM] = HARDWARE_FEET};
    reader_text(reader, "name", survey->name, bracket->name, sizeof bracket->name);
    for (size_t i = 0; i < ROW_COUNT; i++) {
        bracket->hardware[i] = (enum hardware)reader_word(reader, roof_row_word((enum row)i),
                                                          texts[i], &words, (size_t)usual[i]);
        if (hardware[i] != NULL)
            bracket->hardware[i] = *hardware[i];
    }
    bool wanted = survey->want.count > 0 || reader_has(reader, "want");
    if (wanted) {
        double want[2];
        reader_tuple(reader, "want", &survey->want, SIGN_ANY, 2, want);
        bracket->want_x = want[0];
        bracket->want_y = want[1];
    }
    return wanted;
}

static void refuse_doubled_name(const struct reader *reader, const struct roof *roof,
                                size_t index) {
    const char *name = roof->brackets[index].name;
    for (size_t j = 0; j < index && name[0] != '\0'; j++)
        if (strcmp(roof->brackets[j].name, name) == 0) {
            reader_refuse(reader, "name", name,
                          "a name of its own, such as B (place[%zu] has this one)", j + 1);
            return;
        }
}

enum outcome place_build(const struct reader *reader, const struct survey *survey,
                         const enum hardware *const hardware[ROW_COUNT], struct roof *roof) {
    size_t count = survey->roof->place_count;
    if (count < 1 || count > ROOF_BRACKETS_MOST) {
        char found[32];
        snprintf(found, sizeof found, "%zu brackets", count);
        reader_refuse(reader, "place", found,
                      "1 to %d brackets, such as - {name: A, kit: kits/tank-frame.yaml}",
                      ROOF_BRACKETS_MOST);
        return OUTCOME_DONE;
    }
    bool *wanted = calloc(count, sizeof *wanted);
    roof->brackets = calloc(count, sizeof *roof->brackets);
    if (wanted == NULL || roof->brackets == NULL) {
        free(wanted);
        return OUTCOME_FAULT;
    }
    roof->bracket_count = count;
    for (size_t i = 0; i < count; i++) {
        struct reader inside = reader_entry(reader, "place", i);
        wanted[i] = read_place(&inside, &survey->roof->place[i], hardware, &roof->brackets[i]);
        roof->brackets[i].kit = survey->kit_of[i];
        refuse_doubled_name(&inside, roof, i);
    }
    spread_wants(roof, wanted);
    free(wanted);
    return OUTCOME_DONE;
}
