/* Survey files as written: every value is still the text that stood in the file, and every key
 * path leads back to its line.  This step knows YAML and the known keys; it knows no geometry, no
 * defaults and no units.  An absent key is NULL (or a count of 0).
 *
 * Reading walks the file once as YAML events (true line numbers, size and depth limits; aliases,
 * anchors, tags, second documents, doubled and unknown keys, wrong kinds of node are all refused
 * there, each with its line) and only then lets libcyaml load it by the same schema.
 */
#ifndef RUDDLE_SURVEY_H
#define RUDDLE_SURVEY_H

#include "problem.h"

#include <stdbool.h>
#include <stdint.h>

/* Limits on any file read. */
enum {
    SURVEY_BYTES_MOST = 1024 * 1024,
    SURVEY_DEPTH_MOST = 16,
    SURVEY_NODES_MOST = 100000,
};

/* Where each key of a file stands; opaque.  Paths are written as in messages: plane.width,
 * rafters.list[1].at, place[2].want[1]; entries of a list count from 1. */
struct survey_lines;

/* The line a path stands at (for an absent key, that of the nearest enclosing key); 0 if lines is
 * NULL. */
int survey_line(const struct survey_lines *lines, const char *path);

/* True if the path was written in the file, whatever its value. */
bool survey_has(const struct survey_lines *lines, const char *path);

/* A list of texts such as `want: [60, 40]`. */
struct survey_texts {
    char **list;
    unsigned count;
};

struct survey_square {
    char *along, *up, *diagonal;
};

/* One corner of an outline, still as text: x and y. */
struct survey_point {
    char **list; /* two of them */
};

struct survey_plane {
    char *width, *slope, *pitch;
    struct survey_square *square, *square_far;
    struct survey_point *outline;
    unsigned outline_count;
};

struct survey_setback {
    char *eave, *ridge, *near, *far;
};

struct survey_course_check {
    char *edge, *at;
};

struct survey_joint {
    char *course, *at;
};

struct survey_joints {
    char *keep, *tab, *stagger, *first_cutout;
    struct survey_joint *list;
    unsigned list_count;
};

struct survey_courses {
    char *first, *exposure, *tolerance;
    struct survey_course_check *check;
    struct survey_joints *joints;
    struct survey_texts edges;
};

struct survey_rafter {
    char *at, *again, *plies, *sister, *sound, *tolerance, *ply_gap;
    struct survey_texts ply_sound, sister_reach;
};

struct survey_rafters {
    char *found, *tolerance, *thickness, *seam, *doubt;
    struct survey_texts heights;
    struct survey_rafter *list;
    unsigned list_count;
};

struct survey_vent {
    char *name, *kind, *diameter, *tall, *flange, *keep_flashing, *keep_bracket;
    struct survey_texts at, size;
};

struct survey_place {
    char *name, *kit, *top, *bottom;
    struct survey_texts want;
};

struct survey_allowable {
    char *lateral, *uplift;
};

struct survey_flashing {
    char *width, *height, *hole_up, *block, *clear, *lap;
    struct survey_texts edge;
    struct survey_allowable *allowable;
};

struct survey_keepout {
    char *rafter, *from, *to, *why;
};

struct survey_pipe {
    char *name, *bracket, *reach, *bore, *keep_rafter;
    struct survey_texts port;
    struct survey_flashing *flashing;
};

struct survey_wind {
    char *speed, *exposure, *height, *coefficient;
};

struct survey_loads_rafter {
    char *size, *species, *grade, *bearing, *span, *dead;
};

struct survey_loads {
    char *snow, *uplift, *sheathing, *roofing, *gap;
    struct survey_wind *wind;
    struct survey_loads_rafter *rafter;
};

/* A roof file.  Keys that the schema knows but this struct does not hold are seen with survey_has
 * only. */
struct survey_roof {
    char *roof, *measure, *corner, *zero;
    struct survey_plane *plane;
    struct survey_setback *setback;
    struct survey_courses *courses;
    struct survey_rafters *rafters;
    struct survey_vent *vents;
    unsigned vents_count;
    struct survey_place *place;
    unsigned place_count;
    struct survey_keepout *keepouts;
    unsigned keepouts_count;
    struct survey_pipe *pipes;
    unsigned pipes_count;
    char *framing, *wall_line;
    char *apart, *tape, *enough, *hole_worth;
    struct survey_loads *loads;
};

struct survey_bottom_bracket {
    struct survey_texts gap;
    char *depth, *wrench;
};

struct survey_bracket {
    char *width, *height, *standoff;
    struct survey_texts legs, top, bottom;
    struct survey_bottom_bracket *bottom_bracket;
};

struct survey_foot {
    char *reach, *slot, *half, *toe, *lag_factor;
};

struct survey_strut {
    char *half, *grip, *lag_clear, *end, *overhang, *span, *holes, *section, *stress;
    struct survey_texts stock;
};

struct survey_side {
    char *thickness, *bearing;
};

struct survey_lag {
    char *diameter, *length, *through, *edge;
    struct survey_side *side;
};

struct survey_weight {
    char *dry, *fill;
    struct survey_texts centre, centre_dry;
};

struct survey_prices {
    char *foot, *strut, *clamp, *lag, *flashing;
};

/* A kit file. */
struct survey_kit {
    char *kit, *measure;
    struct survey_bracket *bracket;
    struct survey_foot *foot;
    struct survey_strut *strut;
    struct survey_flashing *flashing;
    struct survey_lag *lag;
    struct survey_weight *weight;
    struct survey_prices *prices;
};

/* One kit file as read, shared by every bracket that names it. */
struct survey_kit_file {
    char *path;                 /* as opened */
    struct survey_kit *kit;     /* never NULL after success */
    struct survey_lines *lines; /* of the kit file */
    uint64_t digest;            /* of its text, see digest.h */
    bool shelved;               /* path, kit and lines belong to a shelf */
};

/* A roof file with the kits that it names. */
struct survey {
    char *path;      /* of the roof file, as given */
    uint64_t digest; /* of the roof file's text, see digest.h */
    struct survey_roof *roof;
    struct survey_lines *lines;
    struct survey_kit_file *kits; /* each distinct path once */
    size_t kit_count;
    size_t *kit_of; /* for each place, the index of its kit; place_count of them */
};

/* Reads a roof file and, once each, the kit files that its places name (relative to its folder).
 * Reports every fault of every file to problems.
 * DONE: *survey is owned by the caller (survey_free).  BAD_INPUT: problems says why.  FAULT: no
 * memory.  *survey is untouched unless DONE. */
enum outcome survey_read(const char *path, struct survey **survey, struct problems *problems);

void survey_free(struct survey *survey); /* accepts NULL */

/* Texts in memory that stand in for files; all borrowed. */
struct survey_stand_in {
    const char *roof;     /* the roof file, whole */
    const char *kit_path; /* as the roof file names it: every such kit ... */
    const char *kit;      /* ... is this text; the others are read.  NULL: all are read */
};

/* As survey_read, of a roof file that is to be at `path` one day. */
enum outcome survey_read_text(const char *path, const struct survey_stand_in *texts,
                              struct survey **survey, struct problems *problems);

/* Kit files already read, for whoever reads many roofs; opaque. */
struct survey_shelf;
struct survey_shelf *survey_shelf_new(void);        /* NULL: no memory */
void survey_shelf_free(struct survey_shelf *shelf); /* accepts NULL */

/* As survey_read, but a kit file of the same path is read once and stays on the shelf.  The survey
 * borrows its kits from there: it is good until the next read with that shelf, and must be freed
 * before the shelf is. */
enum outcome survey_read_shelved(const char *path, struct survey_shelf *shelf,
                                 struct survey **survey, struct problems *problems);

/* True where the first key of a file is `kit`.  A file that cannot be read, or that is no YAML as
 * far as that, is no kit. */
bool survey_is_kit(const char *path);

/* A layout that somebody else made (YAML or JSON), for `ruddle check`. */
struct survey_layout_bracket {
    char *name, *x, *y, *top, *bottom;
};

struct survey_layout_mark {
    char *bracket, *row, *x, *y;
    char *pipe; /* of a pipe hole, where the file names it */
};

struct survey_layout {
    char *path;
    char *measure;  /* of a layout's own JSON; NULL where absent: the roof's */
    char *practice; /* of the answer to a practice roof, LEVEL/NUMBER; otherwise NULL */
    struct survey_layout_bracket *brackets;
    unsigned brackets_count;
    struct survey_layout_mark *marks;
    unsigned marks_count;
    struct survey_lines *lines; /* not filled by the loader's schema; set by the reader */
};

/* Reads a layout file; outcomes and ownership as survey_read.  The other keys of a layout's own
 * JSON are known and passed over. */
enum outcome survey_read_layout(const char *path, struct survey_layout **layout,
                                struct problems *problems);

/* The same of a text in memory that stands in for that file; NULL: the file is read. */
enum outcome survey_read_layout_text(const char *path, const char *text,
                                     struct survey_layout **layout, struct problems *problems);

void survey_layout_free(struct survey_layout *layout); /* accepts NULL */

/* Holes that a crew has drilled (YAML or JSON), for `ruddle revise`. */
struct survey_hole {
    char *bracket, *row, *x, *y, *found;
};

struct survey_drilled {
    char *path;
    char *measure; /* of bare numbers; NULL where absent: the roof's */
    struct survey_hole *drilled;
    unsigned drilled_count;
    struct survey_lines *lines; /* not filled by the loader's schema; set by the reader */
};

/* Reads such a file; outcomes and ownership as survey_read. */
enum outcome survey_read_drilled(const char *path, struct survey_drilled **drilled,
                                 struct problems *problems);

void survey_drilled_free(struct survey_drilled *drilled); /* accepts NULL */

#endif
