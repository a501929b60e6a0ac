/* Rules of pipe holes: what they need and what is there. */
#include "page.h"
#include "tell.h"
#include "words.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

static const struct mark *hole_of(const struct scene *scene) {
    return &scene->marks->list[scene->finding->mark];
}

static const struct pipe *pipe_of(const struct scene *scene) {
    return &scene->roof->pipes[hole_of(scene)->pipe];
}

/* From x to the nearer face of a rafter, less how far off the rafter may be; negative inside it. */
static double off_rafter(const struct rafter *rafter, double x, double y) {
    return fmax(roof_rafter_face_x(rafter, SIDE_NEAR, y) - x,
                x - roof_rafter_face_x(rafter, SIDE_FAR, y)) -
           rafter->tolerance;
}

size_t broken_rafter_in_way(const struct roof *roof, const struct mark *hole) {
    size_t worst = 0;
    for (size_t i = 1; i < roof->rafter_count; i++) {
        if (off_rafter(&roof->rafters[i], hole->x, hole->y) <
            off_rafter(&roof->rafters[worst], hole->x, hole->y)) {
            worst = i;
        }
    }
    return worst;
}

/* How wide the bay beside a rafter is, on the side that the hole lies on, once both rafters have
 * their tolerance; INFINITY beyond the last one. */
static double bay_width(const struct roof *roof, size_t rafter, bool far, double y) {
    if (far ? rafter + 1 >= roof->rafter_count : rafter == 0) {
        return INFINITY;
    }
    const struct rafter *low = &roof->rafters[far ? rafter : rafter - 1];
    const struct rafter *high = &roof->rafters[far ? rafter + 1 : rafter];
    return roof_rafter_face_x(high, SIDE_NEAR, y) - high->tolerance -
           roof_rafter_face_x(low, SIDE_FAR, y) - low->tolerance;
}

static void tell_bay_of_rafters(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    const struct mark *hole = hole_of(scene);
    const struct pipe *pipe = pipe_of(scene);
    size_t number = broken_rafter_in_way(roof, hole);
    const struct rafter *rafter = &roof->rafters[number];
    double room = pipe->bore / 2 + pipe->keep_rafter;
    double needed = room + rafter->tolerance;
    double found = needed + scene->finding->margin;
    double middle = roof_rafter_face_x(rafter, SIDE_NEAR, hole->y) / 2 +
                    roof_rafter_face_x(rafter, SIDE_FAR, hole->y) / 2;
    bool far = hole->x >= middle;
    char text[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "%s from its middle to the face of rafter %zu",
             page_fine(roof, text, needed), number + 1);
    snprintf(broken->has, sizeof broken->has,
             found < 0 ? "rafter %zu in the way, its middle is %s inside it"
                       : "rafter %zu in the way, %s from its middle",
             number + 1, page_fine(roof, text, fabs(found)));
    if (bay_width(roof, number, far, hole->y) < 2 * room) {
        snprintf(broken->move, sizeof broken->move,
                 "the bay on that side is too narrow for it: take another");
    } else {
        snprintf(broken->move, sizeof broken->move, "move it %s %s",
                 page_short(roof, text, -scene->finding->margin), words_way(roof, far ? 1 : -1));
    }
}

/* The bore as a square, against the strut or the foot that the finding names. */
static void tell_bay_of_hardware(const struct scene *scene, struct broken *broken) {
    const struct finding *finding = scene->finding;
    const struct mark *hole = hole_of(scene);
    const struct pipe *pipe = pipe_of(scene);
    double half = pipe->bore / 2;
    struct box own = {hole->x - half, hole->y - half, hole->x + half, hole->y + half};
    struct box other;
    if (finding->other_mark != CHECK_NONE) {
        const struct mark *foot = &scene->marks->list[finding->other_mark];
        const struct kit *kit = roof_kit(scene->roof, foot->bracket);
        other = (struct box){foot->x - kit->foot_reach, foot->y - kit->foot_half,
                             foot->x + kit->foot_reach, foot->y + kit->foot_half};
    } else {
        other = tell_strut_box(scene, finding->other_bracket, finding->other_row);
    }
    tell_gap(scene, broken, pipe->keep_rafter, pipe->keep_rafter + finding->margin);
    tell_move_clear(scene, broken, &own, &other, -finding->margin);
}

void tell_pipe_bay(const struct scene *scene, struct broken *broken) {
    if (scene->finding->other_bracket == CHECK_NONE) {
        tell_bay_of_rafters(scene, broken);
    } else {
        tell_bay_of_hardware(scene, broken);
    }
}

/* Which rafter keeps the hole from coming within its reach along the eave, if one does. */
static void add_rafter_in_way(const struct scene *scene, struct broken *broken, double along) {
    const struct roof *roof = scene->roof;
    const struct pipe *pipe = pipe_of(scene);
    struct mark closer = *hole_of(scene);
    closer.x -= along < 0 ? along + pipe->reach : along - pipe->reach;
    size_t number = broken_rafter_in_way(roof, &closer);
    double off =
        off_rafter(&roof->rafters[number], closer.x, closer.y) - pipe->bore / 2 - pipe->keep_rafter;
    size_t used = strlen(broken->has);
    if (!length_holds(off)) {
        char text[LENGTH_TEXT];
        snprintf(broken->has + used, sizeof broken->has - used,
                 " (where it would reach, rafter %zu is in the way by %s)", number + 1,
                 page_short(roof, text, -off));
    }
}

void tell_pipe_reach(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    const struct mark *hole = hole_of(scene);
    const struct pipe *pipe = pipe_of(scene);
    const struct standing *standing = &scene->marks->brackets[hole->bracket];
    double along = hole->x - standing->x - pipe->port_x;
    double up = hole->y - standing->y - pipe->port_y;
    bool sideways = fabs(along) >= fabs(up);
    char text[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "at most %s from its port, along and up",
             page_fine(roof, text, pipe->reach));
    snprintf(broken->has, sizeof broken->has, "%s %s of it",
             page_fine(roof, text, sideways ? fabs(along) : fabs(up)),
             sideways ? words_way(roof, along)
             : up < 0 ? "downhill"
                      : "uphill");
    snprintf(broken->move, sizeof broken->move, "move it %s %s",
             page_short(roof, text, -scene->finding->margin),
             sideways ? words_way(roof, -along)
             : up < 0 ? "up"
                      : "down");
    if (sideways) {
        add_rafter_in_way(scene, broken, along);
    }
}

void tell_pipe_complete(const struct scene *scene, struct broken *broken) {
    int count = 0;
    for (size_t i = 0; scene->finding->mark != CHECK_NONE && i < scene->marks->count; i++) {
        count += scene->marks->list[i].row == ROW_PIPE &&
                 scene->marks->list[i].pipe == hole_of(scene)->pipe;
    }
    snprintf(broken->needs, sizeof broken->needs, "one hole");
    snprintf(broken->has, sizeof broken->has, "%d", count);
    broken->by[0] = '\0';
}
