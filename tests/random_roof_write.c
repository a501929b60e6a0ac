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

static void write_flashing(const struct writer *writer, const struct random_kit *kit) {
    put_key(writer, "flashing: {width", kit->flashing_width, ", ");
    put_key(writer, "height", kit->flashing_height, ", ");
    put_key(writer, "hole_up", kit->hole_up, ", ");
    put_key(writer, "block", kit->block, ", ");
    put_pair(writer, "edge", 0, kit->edge, ", ");
    put_key(writer, "clear", kit->clear, ", ");
    put_key(writer, "lap", kit->lap, "}");
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
    write_flashing(writer, kit);
    fputs("\n", writer->file);
    put_key(writer, "lag: {diameter", kit->lag_diameter, ", ");
    put_key(writer, "length", 64, ", ");
    put_key(writer, "through", 8, "}\n");
    random_weight_write(kit, writer->mm, mirrored, writer->file);
}

static void put_point(const struct writer *writer, int x, int y, const char *after) {
    fputs("[", writer->file);
    put(writer, x);
    fputs(", ", writer->file);
    put(writer, y);
    fprintf(writer->file, "]%s", after);
}

static void put_triangle(const struct writer *writer, const char *key, int diagonal) {
    put_key(writer, key, 96 * 16, ", ");
    put_key(writer, "up", 72 * 16, ", ");
    put_key(writer, "diagonal", diagonal, "}");
}

static void write_plane(const struct writer *writer, const struct random_roof *roof, bool turned) {
    const struct random_uneven *uneven = &roof->uneven;
    int near = uneven->insets[turned ? 1 : 0], far = uneven->insets[turned ? 0 : 1];
    fprintf(writer->file, "plane: {pitch: %d/12, ", roof->rise);
    if (uneven->face == RANDOM_HIP) {
        fputs("outline: [", writer->file);
        put_point(writer, 0, 0, ", ");
        put_point(writer, roof->width, 0, ", ");
        put_point(writer, roof->width - far, roof->slope, ", ");
        put_point(writer, near, roof->slope, "]}\n");
        return;
    }
    put_key(writer, "width", roof->width, ", ");
    put_key(writer, "slope", roof->slope, "");
    if (uneven->diagonals[0] > 0)
        put_triangle(writer, ", square: {along", uneven->diagonals[0]);
    if (uneven->diagonals[1] > 0)
        put_triangle(writer, ", square_far: {along", uneven->diagonals[1]);
    fputs("}\n", writer->file);
}

static void write_edges(const struct writer *writer, const struct random_roof *roof) {
    if (roof->uneven.edge_count == 0) {
        put_key(writer, "courses: {first", roof->first, ", ");
        put_key(writer, "exposure", roof->exposure, "");
        return;
    }
    fputs("courses: {edges: [", writer->file);
    for (size_t i = 0; i < roof->uneven.edge_count; i++) {
        fputs(i > 0 ? ", " : "", writer->file);
        put(writer, roof->uneven.edges[i]);
    }
    fputs("]", writer->file);
}

static void write_joints(const struct writer *writer, const struct random_roof *roof, bool turned) {
    const struct random_joints *joints = &roof->joints;
    const char *between = "";
    fputs(", joints: {", writer->file);
    if (joints->keep > 0) {
        put_key(writer, "keep", joints->keep, "");
        between = ", ";
    }
    if (joints->tab > 0) {
        const int first = roof->width - joints->first + 2 * joints->tab;
        fputs(between, writer->file);
        put_key(writer, "tab", joints->tab, ", ");
        put_key(writer, "stagger", turned ? joints->tab - joints->stagger : joints->stagger, ", ");
        put_key(writer, "first_cutout", turned ? first : joints->first, "");
        between = ", ";
    }
    for (size_t i = 0; i < joints->count; i++) {
        const struct random_joint *joint = &joints->list[i];
        fprintf(writer->file, "%s%s{course: %d, ", i == 0 ? between : ", ", i == 0 ? "list: [" : "",
                joint->course);
        put_key(writer, "at", turned ? roof->width - joint->at : joint->at, "}");
    }
    fputs(joints->count > 0 ? "]}" : "}", writer->file);
}

static void write_face(const struct writer *writer, const struct random_roof *roof,
                       enum random_form form, const char *stem) {
    bool flipped = form == RANDOM_MIRRORED || form == RANDOM_TURNED;
    bool turned = form == RANDOM_TURNED;
    fprintf(writer->file, "roof: %s\n%scorner: %s\n", stem, writer->mm ? "measure: mm\n" : "",
            roof->knobs.right != flipped ? "right" : "left");
    write_plane(writer, roof, turned);
    put_key(writer, "setback: {eave", roof->setback_eave, ", ");
    put_key(writer, "ridge", roof->setback_ridge, ", ");
    put_key(writer, turned ? "far" : "near", roof->setback_near, ", ");
    put_key(writer, turned ? "near" : "far", roof->setback_far, "}\n");
    write_edges(writer, roof);
    if (roof->course_tolerance > 0)
        put_key(writer, ", tolerance", roof->course_tolerance, "");
    if (roof->knobs.jointed)
        write_joints(writer, roof, turned);
    fputs("}\n", writer->file);
    if (roof->apart > 0)
        put_key(writer, "apart", roof->apart, "\n");
    if (roof->enough > 0)
        put_key(writer, "enough", roof->enough, "\n");
    if (roof->hole_worth > 0)
        put_key(writer, "hole_worth", roof->hole_worth, "\n");
}

static void write_plies(const struct writer *writer, const struct random_rafter *rafter,
                        bool turned) {
    if (rafter->gap > 0)
        put_key(writer, ", ply_gap", rafter->gap, "");
    if (rafter->reach[1] > 0)
        put_pair(writer, ", sister_reach", rafter->reach[0], rafter->reach[1], "");
    if (!rafter->some_unsound)
        return;
    for (int i = 0; i < rafter->plies; i++)
        fprintf(writer->file, "%s%s", i == 0 ? ", ply_sound: [" : ", ",
                rafter->ply_unsound[turned ? rafter->plies - 1 - i : i] ? "no" : "yes");
    fputs("]", writer->file);
}

static void write_rafters(const struct writer *writer, const struct random_roof *roof,
                          enum random_form form) {
    bool turned = form == RANDOM_TURNED;
    if (roof->uneven.wall_line > 0)
        put_key(writer, "wall_line", roof->uneven.wall_line, "\n");
    fprintf(writer->file, "rafters:\n  found: %s\n  seam: %s\n", founds[roof->found],
            roof->bonded ? "bonded" : "avoid");
    if (roof->uneven.heights[1] > 0)
        put_pair(writer, "  heights", roof->uneven.heights[0], roof->uneven.heights[1], "\n");
    fputs("  list:\n", writer->file);
    for (size_t i = 0; i < roof->rafter_count; i++) {
        const struct random_rafter *rafter = &roof->rafters[place(form, i, roof->rafter_count)];
        put_key(writer, "    - {at", turned ? roof->width - rafter->at : rafter->at, "");
        if (rafter->again != rafter->at)
            put_key(writer, ", again", turned ? roof->width - rafter->again : rafter->again, "");
        enum random_sister sister = rafter->sister;
        if (turned && sister != RANDOM_BOTH)
            sister = sister == RANDOM_AWAY ? RANDOM_TOWARD : RANDOM_AWAY;
        if (rafter->plies > 1)
            fprintf(writer->file, ", plies: %d, sister: %s", rafter->plies, sisters[sister]);
        if (!rafter->sound)
            fputs(", sound: no", writer->file);
        if (rafter->tolerance > 0)
            put_key(writer, ", tolerance", rafter->tolerance, "");
        write_plies(writer, rafter, turned);
        fputs("}\n", writer->file);
    }
}

static void write_keepouts(const struct writer *writer, const struct random_roof *roof,
                           enum random_form form) {
    const struct random_uneven *uneven = &roof->uneven;
    if (uneven->keepout_count > 0)
        fputs("keepouts:\n", writer->file);
    for (size_t i = 0; i < uneven->keepout_count; i++) {
        const struct random_keepout *keepout =
            &uneven->keepouts[place(form, i, uneven->keepout_count)];
        fprintf(writer->file, "  - {rafter: %zu, ",
                form == RANDOM_TURNED ? roof->rafter_count - keepout->rafter : keepout->rafter + 1);
        put_key(writer, "from", keepout->from, ", ");
        put_key(writer, "to", keepout->to, ", why: a knot}\n");
    }
}

static void write_pipe(const struct writer *writer, const struct random_roof *roof,
                       enum random_form form) {
    const struct random_uneven *uneven = &roof->uneven;
    const struct random_kit *kit = &roof->kit;
    if (!uneven->piped)
        return;
    fputs("pipes:\n  - {name: hot, bracket: A, ", writer->file);
    put_pair(writer, "port",
             form == RANDOM_MIRRORED ? kit->width - uneven->port[0] : uneven->port[0],
             uneven->port[1], ", ");
    put_key(writer, "reach", uneven->pipe_reach, ", ");
    put_key(writer, "bore", uneven->bore, ", ");
    put_key(writer, "keep_rafter", uneven->keep_rafter, ", ");
    write_flashing(writer, kit);
    fputs("}\n", writer->file);
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

/* A to Z, then A2 to Z2, and so on. */
static void put_name(const struct writer *writer, size_t number) {
    static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    const size_t count = sizeof letters - 1, round = number / count;
    fputc(letters[number % count], writer->file);
    if (round > 0)
        fprintf(writer->file, "%zu", round + 1);
}

static void write_place(const struct writer *writer, const struct random_roof *roof,
                        enum random_form form, const char *stem) {
    fputs("place:\n", writer->file);
    for (size_t i = 0; i < roof->bracket_count; i++) {
        size_t number = place(form, i, roof->bracket_count);
        const struct random_bracket *bracket = &roof->brackets[number];
        int x = form == RANDOM_TURNED ? roof->width - roof->kit.width - bracket->want_x
                                      : bracket->want_x;
        fputs("  - {name: ", writer->file);
        put_name(writer, number);
        fprintf(writer->file, ", kit: %s%s, top: %s, bottom: %s, ",
                roof->kit_file[0] != '\0' ? roof->kit_file : stem,
                roof->kit_file[0] != '\0' ? "" : "-kit.yaml", bracket->feet[0] ? "feet" : "strut",
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

static bool write_kit_file(const struct random_kit *kit, enum random_form form, const char *folder,
                           const char *stem, const char *tail) {
    char path[RANDOM_PATH];
    struct writer writer = {open_file(folder, stem, tail, path), form == RANDOM_MM};
    if (writer.file == NULL)
        return false;
    write_kit(&writer, kit, form == RANDOM_MIRRORED);
    return close_file(writer.file);
}

bool random_kit_write(const struct random_kit *kit, const char *folder, const char *stem) {
    return write_kit_file(kit, RANDOM_PLAIN, folder, stem, ".yaml");
}

bool random_roof_write(const struct random_roof *roof, enum random_form form, const char *folder,
                       const char *stem, char path[RANDOM_PATH]) {
    struct writer writer = {NULL, form == RANDOM_MM};
    if (roof->kit_file[0] == '\0' && !write_kit_file(&roof->kit, form, folder, stem, "-kit.yaml"))
        return false;
    writer.file = open_file(folder, stem, ".yaml", path);
    if (writer.file == NULL)
        return false;
    write_face(&writer, roof, form, stem);
    write_rafters(&writer, roof, form);
    write_keepouts(&writer, roof, form);
    write_vents(&writer, roof, form);
    write_place(&writer, roof, form, stem);
    write_pipe(&writer, roof, form);
    random_loads_write(&roof->loads, writer.mm, writer.file);
    return close_file(writer.file);
}
