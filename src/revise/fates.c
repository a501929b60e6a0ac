/* Which holes stay lag holes, and what covers those that do not. */
#include "revising.h"

#include "length.h"

#include <math.h>
#include <stdint.h>

#define SIDE_COVER                                                                                 \
    2.0 /* inches: a dead hole lies this far inside its flashing's sides: the rules */

/* The margin of `wood` at a hole: beside it, and along its ply. */
static double wood_at(const struct roof *roof, const struct hole *hole) {
    const struct ply *ply = &roof->plies[hole->ply];
    double wood = ply->half - fabs(hole->x - roof_ply_x(ply, hole->y)) -
                  roof_kit(roof, hole->bracket)->lag_edge - ply->tolerance;
    wood = fmin(wood, fmin(hole->y - ply->reach[0], ply->reach[1] - hole->y));
    for (size_t k = 0; k < roof->keepout_count; k++) {
        const struct keepout *keepout = &roof->keepouts[k];
        if (keepout->rafter == ply->rafter)
            wood = fmin(wood, fmax(keepout->y0 - hole->y, hole->y - keepout->y1));
    }
    return wood;
}

/* A dead hole in the same rafter, nearer than a lag may be to it. */
static bool too_near_dead(const struct roof *roof, const struct revised *revised,
                          const struct hole *hole) {
    for (size_t i = 0; i < revised->hole_count; i++) {
        const struct hole *other = &revised->holes[i];
        if (other != hole && other->rafter == hole->rafter && corrected_in_wood(other) &&
            !length_holds(fabs(other->y - hole->y) - corrected_keep(roof, other)))
            return true;
    }
    return false;
}

void fates_judge(const struct roof *roof, struct revised *revised) {
    for (size_t i = 0; i < revised->hole_count; i++) {
        struct hole *hole = &revised->holes[i];
        hole->fate = FATE_MISSED;
        if (hole->found != DRILL_WOOD)
            continue;
        hole->fate = FATE_POOR;
        if (hole->ply == SIZE_MAX)
            continue;
        hole->spare = wood_at(&revised->roof, hole);
        if (length_holds(hole->spare))
            hole->fate = FATE_KEPT;
    }
    for (bool again = true; again;) {
        again = false;
        for (size_t i = 0; i < revised->hole_count; i++) {
            struct hole *hole = &revised->holes[i];
            if (hole->fate == FATE_KEPT && too_near_dead(roof, revised, hole)) {
                hole->fate = FATE_POOR;
                again = true;
            }
        }
    }
}

/* Two holes of one line share its height, and stand in different targets. */
static bool go_together(const struct roof *roof, const struct hole *a, const struct hole *b) {
    if (a->bracket != b->bracket || a->row != b->row)
        return true;
    const bool strut = roof->brackets[a->bracket].hardware[a->row] == HARDWARE_STRUT;
    return fabs(a->y - b->y) <= LENGTH_TOLERANCE &&
           (strut ? a->rafter != b->rafter : a->ply != b->ply);
}

bool fates_agree(const struct roof *roof, const struct revised *revised) {
    for (size_t i = 0; i < revised->hole_count; i++) {
        const struct hole *hole = &revised->holes[i];
        if (hole->fate != FATE_KEPT)
            continue;
        if (too_near_dead(roof, revised, hole))
            return false;
        for (size_t j = 0; j < i; j++)
            if (revised->holes[j].fate == FATE_KEPT && !go_together(roof, hole, &revised->holes[j]))
                return false;
    }
    return true;
}

static bool covers(const struct roof *roof, const struct mark *mark, const struct hole *hole) {
    const struct flashing *flashing = mark->row == ROW_PIPE
                                          ? &roof->pipes[mark->pipe].flashing
                                          : &roof_kit(roof, mark->bracket)->flashing;
    const double up = hole->y - (mark->y - flashing->hole_up);
    return length_holds(flashing->width / 2 - SIDE_COVER - fabs(hole->x - mark->x)) &&
           length_holds(up) && length_holds(flashing->height - up);
}

/* A patch is a flashing of the kit, its hub at the hole that it is ordered for. */
static bool patch_covers(const struct roof *roof, const struct hole *own, const struct hole *hole) {
    const struct mark hub = {.bracket = own->bracket, .row = own->row, .x = own->x, .y = own->y};
    return covers(roof, &hub, hole);
}

static void find_patch(struct revised *revised, size_t i) {
    struct hole *hole = &revised->holes[i];
    hole->patch = i;
    for (size_t j = 0; j < i && hole->patch == i; j++) {
        const struct hole *other = &revised->holes[j];
        if (other->fate != FATE_KEPT && other->cover == REVISE_PATCH && other->patch == j &&
            patch_covers(&revised->roof, other, hole))
            hole->patch = j;
    }
}

void fates_cover(struct revised *revised) {
    const struct marks *marks = revised->carried.marks;
    for (size_t i = 0; i < revised->hole_count; i++) {
        struct hole *hole = &revised->holes[i];
        hole->cover = REVISE_PATCH;
        for (size_t m = 0; marks && hole->fate != FATE_KEPT && m < marks->count; m++)
            if (covers(&revised->roof, &marks->list[m], hole))
                hole->cover = (int)m;
        if (hole->fate != FATE_KEPT && hole->cover == REVISE_PATCH)
            find_patch(revised, i);
    }
}
