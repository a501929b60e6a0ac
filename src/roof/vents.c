/* What stands in the way on the face. */
#include "build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Inches; defaults of the survey's keys. */
#define TALL 12.0
#define KEEP_FLASHING 3.0
#define KEEP_FLASHING_NO_FLANGE 8.0 /* only the pipe was measured: its flange is somewhere here */
#define KEEP_BRACKET 6.0
#define KEEP_BRACKET_FLUE 18.0

/* The flange: its size, or a diameter as the square around it. */
static void read_size(const struct reader *reader, const struct survey_vent *survey,
                      double size[2]) {
    bool sized = survey->size.count > 0 || reader_has(reader, "size");
    size[0] = size[1] = NAN;
    if (sized && survey->diameter != NULL)
        reader_refuse(reader, "diameter", survey->diameter, "either size or diameter, not both");
    else if (sized)
        reader_tuple(reader, "size", &survey->size, SIGN_ABOVE_ZERO, 2, size);
    else if (survey->diameter != NULL)
        size[0] = size[1] =
            reader_length(reader, "diameter", survey->diameter, SIGN_ABOVE_ZERO, READER_REQUIRED);
    else
        reader_refuse(reader, "size", "",
                      "the flange as it lies under the shingles, such as size: [12, 14] or "
                      "diameter: 4 (the key is missing)");
}

/* How far the box reaches over an edge of the face. */
static double over_edge(const struct edge *edge, const struct box *box) {
    double least = edge->nx * (edge->nx > 0 ? box->x0 : box->x1) +
                   edge->ny * (edge->ny > 0 ? box->y0 : box->y1);
    return edge->offset - least;
}

static void refuse_off_the_face(const struct reader *reader, const struct survey_vent *survey,
                                const struct roof *roof, const struct box *box) {
    double over = 0;
    for (size_t i = 0; i < roof->edge_count; i++)
        over = fmax(over, over_edge(&roof->edges[i], box));
    if (over > LENGTH_TOLERANCE) {
        char written[READER_KEY_MOST];
        reader_refuse(reader, "at", reader_written(written, &survey->at),
                      "a flange on the face, %s by %s (this one lies from %s to %s along the eave, "
                      "%s to %s up the slope, %s over an edge)",
                      reader_shown(reader, roof->width).text,
                      reader_shown(reader, roof->slope).text, reader_shown(reader, box->x0).text,
                      reader_shown(reader, box->x1).text, reader_shown(reader, box->y0).text,
                      reader_shown(reader, box->y1).text, reader_shown(reader, over).text);
    }
}

static struct box read_flange(const struct reader *reader, const struct survey_vent *survey,
                              const struct roof *roof) {
    double at[2], size[2];
    enum sign sign = plane_span(roof).least < 0 ? SIGN_ANY : SIGN_NOT_NEGATIVE;
    reader_tuple(reader, "at", &survey->at, sign, 2, at);
    read_size(reader, survey, size);
    struct box box = {at[0] - size[0] / 2, at[1] - size[1] / 2, at[0] + size[0] / 2,
                      at[1] + size[1] / 2};
    if (!isnan(box.x0) && !isnan(box.y0))
        refuse_off_the_face(reader, survey, roof, &box);
    return box;
}

static void read_vent(const struct reader *reader, const struct survey_vent *survey,
                      const struct roof *roof, struct vent *vent) {
    const char *kinds[VENT_KIND_COUNT];
    for (size_t i = 0; i < VENT_KIND_COUNT; i++)
        kinds[i] = roof_vent_word((enum vent_kind)i);
    struct reader_words words = {kinds, VENT_KIND_COUNT};
    reader_text(reader, "name", survey->name, vent->name, sizeof vent->name);
    vent->kind = (enum vent_kind)reader_word(reader, "kind", survey->kind, &words, VENT_PLUMBING);
    vent->flange = read_flange(reader, survey, roof);
    vent->tall = reader_length(reader, "tall", survey->tall, SIGN_NOT_NEGATIVE, TALL);
    vent->keep_flashing = reader_length(reader, "keep_flashing", survey->keep_flashing,
                                        SIGN_NOT_NEGATIVE, KEEP_FLASHING);
    bool flange = reader_yes(reader, "flange", survey->flange, true);
    if (!flange && vent->keep_flashing < KEEP_FLASHING_NO_FLANGE)
        vent->keep_flashing = KEEP_FLASHING_NO_FLANGE;
    vent->keep_bracket =
        reader_length(reader, "keep_bracket", survey->keep_bracket, SIGN_NOT_NEGATIVE,
                      vent->kind == VENT_FLUE ? KEEP_BRACKET_FLUE : KEEP_BRACKET);
}

enum outcome vents_build(const struct reader *reader, const struct survey_vent *survey,
                         size_t count, struct roof *roof) {
    if (count > ROOF_VENTS_MOST) {
        char found[32];
        snprintf(found, sizeof found, "%zu vents", count);
        reader_refuse(reader, "vents", found, "at most %d vents", ROOF_VENTS_MOST);
        return OUTCOME_DONE;
    }
    roof->vents = calloc(count + 1, sizeof *roof->vents);
    if (roof->vents == NULL)
        return OUTCOME_FAULT;
    for (size_t i = 0; i < count; i++) {
        struct reader inside = reader_entry(reader, "vents", i);
        struct vent *vent = &roof->vents[i];
        read_vent(&inside, &survey[i], roof, vent);
        for (size_t j = 0; j < i && vent->name[0] != '\0'; j++)
            if (strcmp(roof->vents[j].name, vent->name) == 0) {
                reader_refuse(&inside, "name", vent->name,
                              "a name of its own, such as stack 2 (vents[%zu] has this one)",
                              j + 1);
                break;
            }
    }
    roof->vent_count = count;
    return OUTCOME_DONE;
}
