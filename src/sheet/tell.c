/* Rules of one lag hole or one line: what they need and what is there. */
#include "tell.h"

#include "page.h"
#include "words.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

void tell_by(const struct scene *scene, struct broken *broken, double inches) {
    char by[LENGTH_TEXT];
    snprintf(broken->by, sizeof broken->by, "short by %s", page_short(scene->roof, by, inches));
}

static const struct mark *mark_of(const struct scene *scene) {
    return &scene->marks->list[scene->finding->mark];
}

static const struct kit *kit_of(const struct scene *scene) {
    return roof_kit(scene->roof, (size_t)scene->finding->bracket);
}

static void move(const struct scene *scene, struct broken *broken, const char *what, double inches,
                 const char *way) {
    char by[LENGTH_TEXT];
    snprintf(broken->move, sizeof broken->move, "move %s %s %s", what,
             page_short(scene->roof, by, inches), way);
}

/* What has to move up or down with a hole: its line, or a pipe hole alone. */
static const char *line_of(const struct scene *scene) {
    return mark_of(scene)->row == ROW_PIPE ? "it" : "the line";
}

/* The stretch of a lag's rafter, with why, that no lag may lie in and this one does the deepest. */
static const struct keepout *keepout_at(const struct scene *scene, size_t rafter) {
    const struct keepout *worst = NULL;
    double y = mark_of(scene)->y;
    double least = INFINITY;
    for (size_t i = 0; i < scene->roof->keepout_count; i++) {
        const struct keepout *keepout = &scene->roof->keepouts[i];
        double off = fmax(keepout->y0 - y, y - keepout->y1);
        if (keepout->rafter == rafter && off < least) {
            least = off;
            worst = keepout;
        }
    }
    return worst;
}

static void tell_keepout(const struct scene *scene, struct broken *broken,
                         const struct keepout *keepout) {
    const struct roof *roof = scene->roof;
    double y = mark_of(scene)->y;
    char from[LENGTH_TEXT], to[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs,
             "no lag in rafter %zu from %s to %s up the roof%s%s", keepout->rafter + 1,
             page_fine(roof, from, keepout->y0), page_fine(roof, to, keepout->y1),
             keepout->why[0] != '\0' ? ": " : "", keepout->why);
    snprintf(broken->has, sizeof broken->has, "it at %s", page_fine(roof, has, y));
    move(scene, broken, "the line", -scene->finding->margin,
         y - keepout->y0 < keepout->y1 - y ? "down" : "up");
}

/* Beyond an end of its ply, or too near the wall. */
static void tell_reach(const struct scene *scene, struct broken *broken, const struct ply *ply) {
    const struct roof *roof = scene->roof;
    double y = mark_of(scene)->y;
    bool low = y - ply->reach[0] < ply->reach[1] - y;
    char needs[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "%s %s up the roof in that ply of rafter %zu",
             low ? "at least" : "at most", page_fine(roof, needs, ply->reach[low ? 0 : 1]),
             ply->rafter + 1);
    snprintf(broken->has, sizeof broken->has, "%s", page_fine(roof, has, y));
    move(scene, broken, "the line", -scene->finding->margin, low ? "up" : "down");
}

/* What limits a lag along its rafter, if that is worse than its distance to the faces. */
static bool tell_along(const struct scene *scene, struct broken *broken, const struct ply *ply,
                       double across) {
    double y = mark_of(scene)->y;
    const struct keepout *keepout = keepout_at(scene, ply->rafter);
    double out = keepout == NULL ? INFINITY : fmax(keepout->y0 - y, y - keepout->y1);
    double ends = fmin(y - ply->reach[0], ply->reach[1] - y);
    if (!(fmin(out, ends) < across)) {
        return false;
    }
    if (keepout != NULL && out < ends) {
        tell_keepout(scene, broken, keepout);
    } else {
        tell_reach(scene, broken, ply);
    }
    return true;
}

void tell_wood(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    const struct mark *mark = mark_of(scene);
    size_t seat = scene->verdict->seats[scene->finding->mark].ply;
    if (seat == SIZE_MAX) {
        snprintf(broken->needs, sizeof broken->needs, "a sound rafter");
        snprintf(broken->has, sizeof broken->has, "none on this roof");
        broken->by[0] = '\0';
        return;
    }
    const struct ply *ply = &roof->plies[seat];
    double needed = kit_of(scene)->lag_edge + ply->tolerance;
    double across = ply->half - fabs(mark->x - roof_ply_x(ply, mark->y)) - needed;
    if (tell_along(scene, broken, ply, across)) {
        return;
    }
    double found = needed + scene->finding->margin;
    char needs[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "%s of wood to the face of rafter %zu",
             page_fine(roof, needs, needed), ply->rafter + 1);
    snprintf(broken->has, sizeof broken->has, found < 0 ? "none, it is %s outside" : "%s",
             page_fine(roof, has, fabs(found)));
    if (length_holds(ply->half - needed)) {
        move(scene, broken, "it", -scene->finding->margin,
             words_way(roof, roof_ply_x(ply, mark->y) - mark->x));
    } else {
        snprintf(broken->move, sizeof broken->move,
                 "even the middle of that ply is not enough: take another, or find it closer");
    }
}

/* The butt edge that is `above` the one that a mark's course starts at: its number (0: the course
 * is not known) and how high up the roof it is. */
static size_t butt_edge(const struct scene *scene, size_t above, double *height) {
    const size_t course =
        verdict_course(scene->verdict, scene->marks, (size_t)scene->finding->mark);
    if (course == 0 || course + above > scene->roof->course_count) {
        return 0;
    }
    *height = scene->roof->courses[course + above - 1];
    return course + above;
}

static void tell_no_course(struct broken *broken) {
    snprintf(broken->needs, sizeof broken->needs, "butt edges to lie under");
    snprintf(broken->has, sizeof broken->has, "none that can take a flashing");
    broken->by[0] = '\0';
}

void tell_course_edge(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    const struct flashing *flashing = tell_flashing(scene, scene->finding->mark);
    double edge = 0;
    size_t number = butt_edge(scene, 0, &edge);
    if (number == 0) {
        tell_no_course(broken);
        return;
    }
    double above = mark_of(scene)->y - flashing->hole_up - edge;
    double low = flashing->edge[0] + roof->course_tolerance;
    double high = flashing->edge[1] - roof->course_tolerance;
    char from[LENGTH_TEXT], to[LENGTH_TEXT], has[LENGTH_TEXT], ordinal[WORDS_ORDINAL];
    snprintf(broken->needs, sizeof broken->needs, "%s to %s above the %s butt edge",
             page_fine(roof, from, low), page_fine(roof, to, high), words_ordinal(ordinal, number));
    snprintf(broken->has, sizeof broken->has, "%s %s it", page_fine(roof, has, fabs(above)),
             above < 0 ? "below" : "above");
    if (high > low) {
        move(scene, broken, line_of(scene), -scene->finding->margin,
             above - low < high - above ? "up" : "down");
    }
}

void tell_course_block(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    double edge = 0;
    size_t number = butt_edge(scene, 1, &edge);
    if (number == 0) {
        tell_no_course(broken);
        return;
    }
    double needed = tell_flashing(scene, scene->finding->mark)->clear + roof->course_tolerance;
    double found = needed + scene->finding->margin;
    char needs[LENGTH_TEXT], has[LENGTH_TEXT], ordinal[WORDS_ORDINAL];
    snprintf(broken->needs, sizeof broken->needs, "%s between hub and %s butt edge",
             page_fine(roof, needs, needed), words_ordinal(ordinal, number));
    snprintf(broken->has, sizeof broken->has, found < 0 ? "%s too much hub above it" : "%s",
             page_fine(roof, has, fabs(found)));
    move(scene, broken, line_of(scene), -scene->finding->margin, "down");
}

void tell_lap(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    double edge = 0;
    size_t number = butt_edge(scene, 2, &edge);
    if (number == 0) {
        tell_no_course(broken);
        return;
    }
    double needed = tell_flashing(scene, scene->finding->mark)->lap + roof->course_tolerance;
    double found = needed + scene->finding->margin;
    char needs[LENGTH_TEXT], has[LENGTH_TEXT], ordinal[WORDS_ORDINAL];
    snprintf(broken->needs, sizeof broken->needs, "its top %s past the %s butt edge",
             page_fine(roof, needs, needed), words_ordinal(ordinal, number));
    snprintf(broken->has, sizeof broken->has, found < 0 ? "its top %s below it" : "%s",
             page_fine(roof, has, fabs(found)));
    move(scene, broken, line_of(scene), -scene->finding->margin, "up");
}

/* Which way it would have to go is not said: two sides have several joints near. */
void tell_joints(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    double edge = 0;
    size_t number = butt_edge(scene, 1, &edge);
    char needs[LENGTH_TEXT], has[LENGTH_TEXT], ordinal[WORDS_ORDINAL];
    snprintf(broken->needs, sizeof broken->needs, "its sides %s off joints above the %s butt edge",
             page_fine(roof, needs, roof->keep_joint), words_ordinal(ordinal, number));
    snprintf(broken->has, sizeof broken->has, "%s",
             page_fine(roof, has, roof->keep_joint + scene->finding->margin));
}

void tell_foot_reach(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    double slot = kit_of(scene)->foot_slot;
    char needs[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "at most %s of slot",
             page_fine(roof, needs, slot));
    snprintf(broken->has, sizeof broken->has, "to slide %s",
             page_fine(roof, has, slot - scene->finding->margin));
    double slip = scene->verdict->seats[scene->finding->mark].slip;
    move(scene, broken, "it", -scene->finding->margin, words_way(roof, -slip));
}

/* How far up its frame the lag holes of a line meet the legs: the lowest and the highest of them.
 */
static void up_legs(const struct scene *scene, double *lowest, double *highest) {
    const struct finding *finding = scene->finding;
    const struct row_seat *seat = &scene->verdict->rows[finding->bracket][finding->row];
    double frame = scene->marks->brackets[finding->bracket].y;
    *lowest = seat->y - frame;
    *highest = seat->y - frame;
    for (size_t i = 0; i < scene->marks->count; i++) {
        const struct mark *mark = &scene->marks->list[i];
        if (mark->bracket == (size_t)finding->bracket && mark->row == (enum row)finding->row) {
            *lowest = fmin(*lowest, mark->y - frame);
            *highest = fmax(*highest, mark->y - frame);
        }
    }
}

void tell_row(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    const double *window = kit_of(scene)->window[scene->finding->row];
    double lowest = 0;
    double highest = 0;
    up_legs(scene, &lowest, &highest);
    bool low = lowest - window[0] < window[1] - highest;
    char from[LENGTH_TEXT], to[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "%s to %s up the legs",
             page_fine(roof, from, window[0]), page_fine(roof, to, window[1]));
    snprintf(broken->has, sizeof broken->has, "%s", page_fine(roof, has, low ? lowest : highest));
    move(scene, broken, "the line", -scene->finding->margin, low ? "up" : "down");
}

void tell_clearance(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    double lowest = 0;
    double highest = 0;
    up_legs(scene, &lowest, &highest);
    char needs[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "the line %s up the legs",
             page_fine(roof, needs, lowest - scene->finding->margin));
    snprintf(broken->has, sizeof broken->has, "%s", page_fine(roof, has, lowest));
    move(scene, broken, "the line", -scene->finding->margin, "up");
}
