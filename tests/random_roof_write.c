/* Writes a random roof as files, in one of its forms. */
#include "random_roof.h"

#include <stdio.h>
#include <stdlib.h>

static const char *const kinds[] = {"plumbing", "flue", "exhaust", "attic", "skylight", "blank"};
static const char *const founds[] = {"probed", "attic", "sounded"};
static const char *const sisters[] = {
    [RANDOM_AWAY] = "away", [RANDOM_TOWARD] = "toward", [RANDOM_BOTH] = "both"};

struct writer {
    FILE *file;
    bool mm;
};

/* 1/16 in is 1.5875 mm, so four decimals are exact in either measure. */
static void put(const struct writer *writer, int sixteenths) {
    long long parts = (long long)sixteenths * (writer->mm ? 15875 : 625);
    const char *sign = parts < 0 ? "-" : "";
    fprintf(writer->file, "%s%lld.%04lld", sign, llabs(parts) / 10000, llabs(parts) % 10000);
}

/* `key: length` and what follows it. */
static void put_key(const struct writer *writer, const char *key, int sixteenths,
                    const char *after) {
    fprintf(writer->file, "%s: ", key);
    put(writer, sixteenths);
    fputs(after, writer->file);
}

static void put_pair(const struct writer *writer, const char *key, int first, int second,
                     const char *after) {
    fprintf(writer->file, "%s: [", key);
    put(writer, first);
    fputs(", ", writer->file);
    put(writer, second);
    fprintf(writer->file, "]%s", after);
}

/* The place in the roof of the i-th entry to be written. */
static size_t place(enum random_form form, size_t i, size_t count) {
    return form == RANDOM_REORDERED ? count - 1 - i : i;
}

static void put_legs(const struct writer *writer, const struct random_kit *kit, bool mirrored) {
    fputs("  legs: [", writer->file);
    for (size_t i = 0; i < kit->leg_count; i++) {
        if (i > 0)
            fputs(", ", writer->file);
        put(writer, mirrored ? kit->width - kit->legs[kit->leg_count - 1 - i] : kit->legs[i]);
    }
    fputs("]\n", writer->file);
}

static void write_kit(const struct writer *writer, const struct random_kit *kit, bool mirrored) {
    fprintf(writer->file, "kit: made up by chance\n%sbracket:\n",
            writer->mm ? "measure: mm\n" : "");
    put_key(writer, "  width", kit->width, "\n");
    put_key(writer, "  height", kit->height, "\n");
    put_legs(writer, kit, mirrored);
    put_pair(writer, "  top", kit->top[0], kit->top[1], "\n");
    put_pair(writer, "  bottom", kit->bottom[0], kit->bottom[1], "\n");
    put_pair(writer, "  bottom_bracket: {gap", 16, 24, ", ");
    put_key(writer, "depth", 32, ", ");
    put_key(writer, "wrench", 8, "}\n");
    put_key(writer, "  standoff", kit->standoff, "\n");
    put_key(writer, "foot: {reach", kit->foot_reach, ", ");
    put_key(writer, "slot", kit->foot_slot, ", ");
    put_key(writer, "half", kit->foot_half, "}\n");
    put_key(writer, "strut: {half", kit->strut_half, ", ");
    put_key(writer, "grip", kit->grip, ", ");
    put_key(writer, "lag_clear", kit->lag_clear, ", ");
    put_key(writer, "end", kit->end, ", ");
    put_key(writer, "overhang", kit->overhang, ", ");
    put_key(writer, "span", kit->span, ", ");
    put_pair(writer, "stock", kit->stock[0], kit->stock[1], "");
    fputs(kit->every_rafter ? "}\n" : ", holes: span}\n", writer->file);
    put_key(writer, "flashing: {width", kit->flashing_width, ", ");
    put_key(writer, "height", kit->flashing_height, ", ");
    put_key(writer, "hole_up", kit->hole_up, ", ");
    put_key(writer, "block", kit->block, ", ");
    put_pair(writer, "edge", 0, kit->edge, ", ");
    put_key(writer, "clear", kit->clear, ", ");
    put_key(writer, "lap", kit->lap, "}\n");
    put_key(writer, "lag: {diameter", kit->lag_diameter, ", ");
    put_key(writer, "length", 64, ", ");
    put_key(writer, "through", 8, "}\n");
}

static void write_face(const struct writer *writer, const struct random_roof *roof,
                       enum random_form form, const char *stem) {
    bool flipped = form == RANDOM_MIRRORED || form == RANDOM_TURNED;
    bool turned = form == RANDOM_TURNED;
    fprintf(writer->file, "roof: %s\n%scorner: %s\n", stem, writer->mm ? "measure: mm\n" : "",
            roof->knobs.right != flipped ? "right" : "left");
    put_key(writer, "plane: {width", roof->width, ", ");
    put_key(writer, "slope", roof->slope, ", ");
    fprintf(writer->file, "pitch: %d/12}\n", roof->rise);
    put_key(writer, "setback: {eave", roof->setback_eave, ", ");
    put_key(writer, "ridge", roof->setback_ridge, ", ");
    put_key(writer, turned ? "far" : "near", roof->setback_near, ", ");
    put_key(writer, turned ? "near" : "far", roof->setback_far, "}\n");
    put_key(writer, "courses: {first", roof->first, ", ");
    put_key(writer, "exposure", roof->exposure, "");
    if (roof->course_tolerance > 0)
        put_key(writer, ", tolerance", roof->course_tolerance, "");
    fputs("}\n", writer->file);
    if (roof->apart > 0)
        put_key(writer, "apart", roof->apart, "\n");
    if (roof->enough > 0)
        put_key(writer, "enough", roof->enough, "\n");
    if (roof->hole_worth > 0)
        put_key(writer, "hole_worth", roof->hole_worth, "\n");
}

static void write_rafters(const struct writer *writer, const struct random_roof *roof,
                          enum random_form form) {
    bool turned = form == RANDOM_TURNED;
    fprintf(writer->file, "rafters:\n  found: %s\n  seam: %s\n  list:\n", founds[roof->found],
            roof->bonded ? "bonded" : "avoid");
    for (size_t i = 0; i < roof->rafter_count; i++) {
        const struct random_rafter *rafter = &roof->rafters[place(form, i, roof->rafter_count)];
        put_key(writer, "    - {at", turned ? roof->width - rafter->at : rafter->at, "");
        enum random_sister sister = rafter->sister;
        if (turned && sister != RANDOM_BOTH)
            sister = sister == RANDOM_AWAY ? RANDOM_TOWARD : RANDOM_AWAY;
        if (rafter->plies > 1)
            fprintf(writer->file, ", plies: %d, sister: %s", rafter->plies, sisters[sister]);
        if (!rafter->sound)
            fputs(", sound: no", writer->file);
        if (rafter->tolerance > 0)
            put_key(writer, ", tolerance", rafter->tolerance, "");
        fputs("}\n", writer->file);
    }
}

static void write_vents(const struct writer *writer, const struct random_roof *roof,
                        enum random_form form) {
    if (roof->vent_count > 0)
        fputs("vents:\n", writer->file);
    for (size_t i = 0; i < roof->vent_count; i++) {
        size_t number = place(form, i, roof->vent_count);
        const struct random_vent *vent = &roof->vents[number];
        fprintf(writer->file, "  - {name: vent %zu, kind: %s, ", number + 1, kinds[vent->kind]);
        put_pair(writer, "at", form == RANDOM_TURNED ? roof->width - vent->x : vent->x, vent->y,
                 ", ");
        put_pair(writer, "size", vent->width, vent->height, "");
        if (vent->tall > 0)
            put_key(writer, ", tall", vent->tall, "");
        if (vent->keep_flashing > 0)
            put_key(writer, ", keep_flashing", vent->keep_flashing, "");
        if (vent->keep_bracket > 0)
            put_key(writer, ", keep_bracket", vent->keep_bracket, "");
        fputs("}\n", writer->file);
    }
}

static void write_place(const struct writer *writer, const struct random_roof *roof,
                        enum random_form form, const char *stem) {
    fputs("place:\n", writer->file);
    for (size_t i = 0; i < roof->bracket_count; i++) {
        size_t number = place(form, i, roof->bracket_count);
        const struct random_bracket *bracket = &roof->brackets[number];
        int x = form == RANDOM_TURNED ? roof->width - roof->kit.width - bracket->want_x
                                      : bracket->want_x;
        fprintf(writer->file, "  - {name: %c, kit: %s-kit.yaml, top: %s, bottom: %s, ",
                (char)('A' + number), stem, bracket->feet[0] ? "feet" : "strut",
                bracket->feet[1] ? "feet" : "strut");
        put_pair(writer, "want", x, bracket->want_y, "}\n");
    }
}

static FILE *open_file(const char *folder, const char *stem, const char *tail,
                       char path[RANDOM_PATH]) {
    int length = snprintf(path, RANDOM_PATH, "%s/%s%s", folder, stem, tail);
    return length > 0 && length < RANDOM_PATH ? fopen(path, "w") : NULL;
}

static bool close_file(FILE *file) {
    bool good = !ferror(file);
    return fclose(file) == 0 && good;
}

bool random_roof_write(const struct random_roof *roof, enum random_form form, const char *folder,
                       const char *stem, char path[RANDOM_PATH]) {
    struct writer writer = {open_file(folder, stem, "-kit.yaml", path), form == RANDOM_MM};
    if (writer.file == NULL)
        return false;
    write_kit(&writer, &roof->kit, form == RANDOM_MIRRORED);
    if (!close_file(writer.file))
        return false;
    writer.file = open_file(folder, stem, ".yaml", path);
    if (writer.file == NULL)
        return false;
    write_face(&writer, roof, form, stem);
    write_rafters(&writer, roof, form);
    write_vents(&writer, roof, form);
    write_place(&writer, roof, form, stem);
    return close_file(writer.file);
}
