#include "broken.h"

#include "page.h"
#include "places.h"
#include "tell.h"
#include "words.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

static tell_rule *const tellers[RULE_COUNT] = {
    [RULE_WOOD] = tell_wood,
    [RULE_COURSE_EDGE] = tell_course_edge,
    [RULE_COURSE_BLOCK] = tell_course_block,
    [RULE_LAP] = tell_lap,
    [RULE_JOINTS] = tell_joints,
    [RULE_VENT_FLASHING] = tell_vent_flashing,
    [RULE_VENT_BRACKET] = tell_vent_bracket,
    [RULE_SETBACK] = tell_setback,
    [RULE_ROW] = tell_row,
    [RULE_CLEARANCE] = tell_clearance,
    [RULE_FOOT_REACH] = tell_foot_reach,
    [RULE_PIPE_BAY] = tell_pipe_bay,
    [RULE_PIPE_REACH] = tell_pipe_reach,
    [RULE_STRUT_CLEAR] = tell_strut_clear,
    [RULE_APART] = tell_apart,
    [RULE_STRUT_CLAMP] = tell_strut_clamp,
    [RULE_STRUT_SPAN] = tell_strut_span,
    [RULE_STRUT_STOCK] = tell_strut_stock,
    [RULE_ROW_LINE] = tell_row_line,
    [RULE_COMPLETE] = tell_complete,
};

static bool has_hole(const struct marks *marks, size_t pipe) {
    for (size_t i = 0; i < marks->count; i++) {
        if (marks->list[i].row == ROW_PIPE && marks->list[i].pipe == pipe) {
            return true;
        }
    }
    return false;
}

/* Findings about pipes without a hole come in the order of the frame's pipes. */
size_t broken_missing_pipe(const struct roof *roof, const struct marks *marks,
                           const struct verdict *verdict, const struct finding *finding) {
    size_t before = 0;
    for (const struct finding *at = verdict->findings; at != finding; at++) {
        before += at->rule == RULE_COMPLETE && at->bracket == finding->bracket &&
                  at->row == ROW_PIPE && at->mark == CHECK_NONE;
    }
    for (size_t i = 0; i < roof->pipe_count; i++) {
        if (roof->pipes[i].bracket == (size_t)finding->bracket && !has_hole(marks, i) &&
            before-- == 0) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* Names one hole, line or frame. */
static void name_one(const struct scene *scene, int bracket, int row, int mark,
                     char name[PLACES_NAME + 32]) {
    if (mark != CHECK_NONE) {
        char hole[PLACES_NAME];
        snprintf(name, PLACES_NAME + 32, "%s hole %s",
                 scene->marks->list[mark].row == ROW_PIPE ? "pipe" : "lag",
                 places_hole_name(scene->roof, scene->marks, (size_t)mark, hole));
    } else if (row == ROW_PIPE) {
        size_t pipe =
            broken_missing_pipe(scene->roof, scene->marks, scene->verdict, scene->finding);
        snprintf(name, PLACES_NAME + 32, "pipe hole %s-pipe-%s",
                 scene->roof->brackets[bracket].name,
                 pipe == SIZE_MAX ? "?" : scene->roof->pipes[pipe].name);
    } else if (row != CHECK_NONE) {
        snprintf(name, PLACES_NAME + 32, "frame %s, %s line", scene->roof->brackets[bracket].name,
                 roof_row_word((enum row)row));
    } else {
        snprintf(name, PLACES_NAME + 32, "frame %s", scene->roof->brackets[bracket].name);
    }
}

void broken_where(const struct scene *scene, char where[BROKEN_TEXT]) {
    const struct finding *finding = scene->finding;
    char one[PLACES_NAME + 32];
    char other[PLACES_NAME + 32];
    name_one(scene, finding->bracket, finding->row, finding->mark, one);
    if (finding->vent != CHECK_NONE) {
        snprintf(where, BROKEN_TEXT, "%s and vent %s", one, scene->roof->vents[finding->vent].name);
    } else if (finding->other_bracket != CHECK_NONE) {
        name_one(scene, finding->other_bracket, finding->other_row, finding->other_mark, other);
        snprintf(where, BROKEN_TEXT, "%s and %s", one, other);
    } else {
        snprintf(where, BROKEN_TEXT, "%s", one);
    }
}

void broken_describe(const struct scene *scene, struct broken *broken) {
    memset(broken, 0, sizeof *broken);
    broken_where(scene, broken->where);
    tell_by(scene, broken, -scene->finding->margin);
    tellers[scene->finding->rule](scene, broken);
}

void broken_line(const struct scene *scene, char line[BROKEN_LINE]) {
    struct broken broken;
    broken_describe(scene, &broken);
    snprintf(line, BROKEN_LINE, "%s: %s: needs %s; has %s%s%s%s%s", broken.where,
             words_rule(scene->finding->rule), broken.needs, broken.has,
             broken.by[0] != '\0' ? "; " : "", broken.by, broken.move[0] != '\0' ? "; " : "",
             broken.move);
}
