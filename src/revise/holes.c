/* Holes of a file, held against the roof's names. */
#include "revise.h"

#include "length.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { KEY_MOST = 64 };

/* One file being read. */
struct file {
    const struct roof *roof;
    const struct survey_drilled *drilled;
    enum measure measure;
    struct problems *problems;
};

static void refuse(const struct file *file, const char *key, const char *found,
                   const char *wanted) {
    problems_add(file->problems, file->drilled->path, survey_line(file->drilled->lines, key), key,
                 found, wanted);
}

/* Counted from 0 here and from 1 in messages. */
static const char *path_of(char buffer[KEY_MOST], size_t entry, const char *key) {
    snprintf(buffer, KEY_MOST, "drilled[%zu].%s", entry + 1, key);
    return buffer;
}

static double read_length(const struct file *file, size_t entry, const char *name,
                          const char *text) {
    static const char example[] = "a length, such as 14 5/8 or 420 mm";
    char key[KEY_MOST], wanted[200];
    double inches = 0;
    const enum length_fault fault = length_read(text != NULL ? text : "", file->measure, &inches);
    if (fault == LENGTH_GOOD)
        return inches;
    snprintf(wanted, sizeof wanted, "%s (this is %s)", example, length_fault_text(fault));
    refuse(file, path_of(key, entry, name), text, wanted);
    return 0;
}

static size_t find_bracket(const struct file *file, size_t entry, const char *name) {
    char key[KEY_MOST], wanted[224] = "the name of a bracket of the roof:";
    for (size_t i = 0; i < file->roof->bracket_count; i++) {
        const size_t used = strlen(wanted);
        if (name != NULL && strcmp(file->roof->brackets[i].name, name) == 0)
            return i;
        snprintf(wanted + used, sizeof wanted - used, "%s %s", i == 0 ? "" : ",",
                 file->roof->brackets[i].name);
    }
    refuse(file, path_of(key, entry, "bracket"), name, wanted);
    return 0;
}

const char *revise_drill_word(enum drill drill) {
    static const char *const words[] = {
        [DRILL_WOOD] = "wood", [DRILL_EDGE] = "edge", [DRILL_AIR] = "air"};
    return words[drill];
}

static enum drill read_found(const struct file *file, size_t entry, const char *text) {
    char key[KEY_MOST];
    for (int drill = DRILL_WOOD; drill < DRILL_COUNT; drill++)
        if (text != NULL && strcmp(text, revise_drill_word((enum drill)drill)) == 0)
            return (enum drill)drill;
    refuse(file, path_of(key, entry, "found"), text, "wood, edge or air: what the drill found");
    return DRILL_AIR;
}

static enum row read_row(const struct file *file, size_t entry, const char *text) {
    char key[KEY_MOST];
    for (int row = ROW_TOP; row < ROW_COUNT; row++)
        if (text != NULL && strcmp(text, roof_row_word((enum row)row)) == 0)
            return (enum row)row;
    refuse(file, path_of(key, entry, "row"), text, "top or bottom");
    return ROW_TOP;
}

/* The ply nearest to a hole; none where a member that takes no lag is nearer. */
static void find_ply(const struct roof *roof, struct hole *hole) {
    double least = INFINITY;
    hole->ply = SIZE_MAX;
    for (size_t t = 0; t < roof->ply_count; t++) {
        const double off = fabs(hole->x - roof_ply_x(&roof->plies[t], hole->y));
        if (off < least) {
            least = off;
            hole->ply = t;
            hole->rafter = roof->plies[t].rafter;
        }
    }
    for (size_t r = 0; r < roof->rafter_count; r++) {
        const struct rafter *rafter = &roof->rafters[r];
        const double middle = rafter->at + rafter->lean * hole->y;
        if (!rafter->sound && fabs(hole->x - middle) < least) {
            least = fabs(hole->x - middle);
            hole->ply = SIZE_MAX;
            hole->rafter = r;
        }
    }
}

static struct hole read_hole(const struct file *file, size_t entry) {
    const struct survey_hole *written = &file->drilled->drilled[entry];
    char key[KEY_MOST];
    struct hole hole = {.entry = entry, .cover = REVISE_PATCH};
    hole.bracket = find_bracket(file, entry, written->bracket);
    hole.row = read_row(file, entry, written->row);
    hole.x = read_length(file, entry, "x", written->x);
    hole.y = read_length(file, entry, "y", written->y);
    hole.found = read_found(file, entry, written->found);
    if (!(hole.y >= 0 && hole.y <= file->roof->slope))
        refuse(file, path_of(key, entry, "y"), written->y,
               "a place between the eave and the ridge");
    else if (!(hole.x >= roof_rake_x(file->roof, SIDE_NEAR, hole.y) &&
               hole.x <= roof_rake_x(file->roof, SIDE_FAR, hole.y)))
        refuse(file, path_of(key, entry, "x"), written->x, "a place between the two rakes");
    find_ply(file->roof, &hole);
    return hole;
}

/* No two entries may speak of one hole. */
static void refuse_doubled(const struct file *file, const struct hole *holes, size_t entry) {
    char key[KEY_MOST], wanted[120];
    for (size_t i = 0; i < entry; i++) {
        if (fabs(holes[i].x - holes[entry].x) > LENGTH_TOLERANCE ||
            fabs(holes[i].y - holes[entry].y) > LENGTH_TOLERANCE)
            continue;
        snprintf(wanted, sizeof wanted, "each hole once; drilled[%zu] is at the same place", i + 1);
        refuse(file, path_of(key, entry, "x"), file->drilled->drilled[entry].x, wanted);
        return;
    }
}

static void read_measure(struct file *file) {
    const char *text = file->drilled->measure;
    file->measure = file->roof->measure;
    if (text == NULL)
        return;
    if (strcmp(text, "in") == 0)
        file->measure = MEASURE_IN;
    else if (strcmp(text, "mm") == 0)
        file->measure = MEASURE_MM;
    else
        refuse(file, "measure", text, "in or mm");
}

enum outcome holes_from_survey(const struct roof *roof, const struct survey_drilled *drilled,
                               struct hole **holes, size_t *count, struct problems *problems) {
    struct file file = {.roof = roof, .drilled = drilled, .problems = problems};
    const size_t before = problems->total, all = drilled->drilled_count;
    if (all > REVISE_HOLES_MOST) {
        char found[32], wanted[32];
        snprintf(found, sizeof found, "%zu holes", all);
        snprintf(wanted, sizeof wanted, "at most %d holes", REVISE_HOLES_MOST);
        refuse(&file, "drilled", found, wanted);
        return OUTCOME_BAD_INPUT;
    }
    struct hole *made = calloc(all + 1, sizeof *made);
    if (made == NULL)
        return OUTCOME_FAULT;
    read_measure(&file);
    for (size_t i = 0; i < all; i++) {
        const size_t faults = problems->total;
        made[i] = read_hole(&file, i);
        if (problems->total == faults)
            refuse_doubled(&file, made, i);
    }
    if (problems->total > before) {
        free(made);
        return OUTCOME_BAD_INPUT;
    }
    *holes = made;
    *count = all;
    return OUTCOME_DONE;
}
