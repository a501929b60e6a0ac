#include "altered.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A copy with room for `more` of them; NULL: no memory. */
static void *copy(const void *list, size_t count, size_t more, size_t size) {
    void *made = calloc(count + more + 1, size);
    if (made != NULL && count > 0)
        memcpy(made, list, count * size);
    return made;
}

enum outcome altered_make(const struct roof *roof, struct altered *altered) {
    struct roof *made = &altered->roof;
    *made = *roof;
    made->edges = copy(roof->edges, roof->edge_count, 0, sizeof *roof->edges);
    made->rafters = copy(roof->rafters, roof->rafter_count, 0, sizeof *roof->rafters);
    made->plies = copy(roof->plies, roof->ply_count, 1, sizeof *roof->plies);
    made->vents = copy(roof->vents, roof->vent_count, 0, sizeof *roof->vents);
    made->pipes = copy(roof->pipes, roof->pipe_count, 0, sizeof *roof->pipes);
    made->kits = copy(roof->kits, roof->kit_count, 0, sizeof *roof->kits);
    made->brackets = copy(roof->brackets, roof->bracket_count, 0, sizeof *roof->brackets);
    return made->edges && made->rafters && made->plies && made->vents && made->pipes &&
                   made->kits && made->brackets
               ? OUTCOME_DONE
               : OUTCOME_FAULT;
}

void altered_free(struct altered *altered) {
    free(altered->roof.edges);
    free(altered->roof.rafters);
    free(altered->roof.plies);
    free(altered->roof.vents);
    free(altered->roof.pipes);
    free(altered->roof.kits);
    free(altered->roof.brackets);
    *altered = (struct altered){0};
}

void altered_move_vent(struct altered *altered, size_t vent, enum way way, double by) {
    struct box *flange = &altered->roof.vents[vent].flange;
    const double x = way == WAY_NEAR ? -by : way == WAY_FAR ? by : 0;
    const double y = way == WAY_DOWN ? -by : way == WAY_UP ? by : 0;
    flange->x0 += x;
    flange->x1 += x;
    flange->y0 += y;
    flange->y1 += y;
}

void altered_drop_vent(struct altered *altered, size_t vent) {
    struct roof *roof = &altered->roof;
    roof->vent_count--;
    memmove(roof->vents + vent, roof->vents + vent + 1,
            (roof->vent_count - vent) * sizeof *roof->vents);
}

/* True where the new face is clear of the next rafter at eave and ridge. */
static bool has_room(const struct roof *roof, size_t rafter, enum way way, double thickness) {
    const struct rafter *own = &roof->rafters[rafter];
    if (way == WAY_NEAR ? rafter == 0 : rafter + 1 == roof->rafter_count)
        return true;
    const struct rafter *next = &roof->rafters[way == WAY_NEAR ? rafter - 1 : rafter + 1];
    for (int end = 0; end < 2; end++) {
        const double y = end == 0 ? 0 : roof->slope;
        const double gap =
            way == WAY_NEAR
                ? roof_rafter_face_x(own, SIDE_NEAR, y) - roof_rafter_face_x(next, SIDE_FAR, y)
                : roof_rafter_face_x(next, SIDE_NEAR, y) - roof_rafter_face_x(own, SIDE_FAR, y);
        if (!length_holds(gap - thickness))
            return false;
    }
    return true;
}

/* Where lags may lie along a ply of full length: as far down as in any other. */
static double lowest_reach(const struct roof *roof) {
    double lowest = ROOF_ENDLESS;
    for (size_t i = 0; i < roof->ply_count; i++)
        lowest = fmin(lowest, roof->plies[i].reach[0]);
    return roof->ply_count > 0 ? lowest : -ROOF_ENDLESS;
}

static void insert_ply(struct roof *roof, size_t at, const struct ply *ply) {
    memmove(roof->plies + at + 1, roof->plies + at, (roof->ply_count - at) * sizeof *roof->plies);
    roof->plies[at] = *ply;
    roof->ply_count++;
    for (size_t i = ply->rafter + 1; i < roof->rafter_count; i++)
        roof->rafters[i].first_ply++;
}

bool altered_sister(struct altered *altered, size_t rafter, enum way way) {
    struct roof *roof = &altered->roof;
    struct rafter *own = &roof->rafters[rafter];
    const double thickness = (own->to - own->from) / (double)own->plies;
    if (own->plies >= ROOF_PLIES_MOST || !has_room(roof, rafter, way, thickness))
        return false;
    const bool near = way == WAY_NEAR;
    const struct ply ply = {.rafter = rafter,
                            .at = near ? own->from - thickness / 2 : own->to + thickness / 2,
                            .lean = own->lean,
                            .half = thickness / 2,
                            .tolerance = own->tolerance,
                            .reach = {lowest_reach(roof), ROOF_ENDLESS}};
    insert_ply(roof, own->first_ply + (near ? 0 : own->ply_count), &ply);
    own->from -= near ? thickness : 0;
    own->to += near ? 0 : thickness;
    own->plies++;
    own->ply_count++;
    own->sound = true;
    return true;
}

void altered_hardware(struct altered *altered, const enum hardware hardware[ROW_COUNT]) {
    for (size_t i = 0; i < altered->roof.bracket_count; i++)
        memcpy(altered->roof.brackets[i].hardware, hardware,
               sizeof altered->roof.brackets[i].hardware);
}
