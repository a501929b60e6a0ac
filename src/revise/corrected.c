/* The roof as the holes have corrected it. */
#include "revising.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#define KEEP_DIAMETERS 4.0 /* between a new lag and an old hole in one rafter: the rules */

/* The probes of one member; returns how many. */
static size_t list_probes(const struct roof *roof, const struct revised *revised, size_t rafter,
                          struct probe probes[INTERVAL_PROBES_MOST]) {
    size_t count = 0;
    for (size_t i = 0; i < revised->hole_count && count < INTERVAL_PROBES_MOST; i++) {
        const struct hole *hole = &revised->holes[i];
        if (hole->ply == SIZE_MAX || hole->rafter != rafter)
            continue;
        const struct ply *ply = &roof->plies[hole->ply];
        probes[count++] =
            (struct probe){hole->x - roof_ply_x(ply, hole->y), ply->half, hole->found};
    }
    return count;
}

bool corrected_learn(const struct roof *roof, struct revised *revised) {
    revised->learned = calloc(roof->rafter_count + 1, sizeof *revised->learned);
    revised->tested = calloc(roof->rafter_count + 1, sizeof *revised->tested);
    if (!revised->learned || !revised->tested)
        return false;
    for (size_t r = 0; r < roof->rafter_count; r++) {
        const struct rafter *rafter = &roof->rafters[r];
        struct probe probes[INTERVAL_PROBES_MOST];
        const size_t count = list_probes(roof, revised, r, probes);
        const double half = rafter->ply_count > 0 ? roof->plies[rafter->first_ply].half : 0;
        revised->tested[r] = count > 0;
        interval_learn(probes, count, rafter->tolerance, roof->doubt, roof->tape, half,
                       &revised->learned[r]);
        if (revised->learned[r].knowledge == KNOWLEDGE_CONTRADICTED)
            revised->contradicted = true;
    }
    return true;
}

/* One member moved to where it must be; its plies follow the ones already there. */
static void correct_member(const struct roof *roof, struct revised *revised, size_t r,
                           size_t *now_at) {
    const struct learned *learned = &revised->learned[r];
    const struct rafter *old = &roof->rafters[r];
    struct rafter *rafter = &revised->rafters[r];
    *rafter = *old;
    rafter->at += learned->shift;
    rafter->from += learned->shift;
    rafter->to += learned->shift;
    rafter->tolerance = learned->tolerance;
    rafter->first_ply = revised->roof.ply_count;
    if (learned->knowledge == KNOWLEDGE_OPEN) {
        rafter->sound = false;
        rafter->awaits_probe = old->sound;
        rafter->ply_count = 0;
    }
    for (size_t i = 0; i < rafter->ply_count; i++) {
        struct ply *ply = &revised->plies[revised->roof.ply_count];
        *ply = roof->plies[old->first_ply + i];
        ply->at += learned->shift;
        if (learned->knowledge == KNOWLEDGE_MOVED)
            ply->tolerance = learned->tolerance;
        now_at[old->first_ply + i] = revised->roof.ply_count++;
    }
}

bool corrected_build(const struct roof *roof, struct revised *revised) {
    size_t *now_at = calloc(roof->ply_count + 1, sizeof *now_at);
    revised->roof = *roof;
    revised->roof.ply_count = 0;
    revised->rafters = calloc(roof->rafter_count + 1, sizeof *revised->rafters);
    revised->plies = calloc(roof->ply_count + 1, sizeof *revised->plies);
    revised->keepouts =
        calloc(roof->keepout_count + revised->hole_count + 1, sizeof *revised->keepouts);
    revised->given = calloc(revised->hole_count + 1, sizeof *revised->given);
    const bool good =
        now_at && revised->rafters && revised->plies && revised->keepouts && revised->given;
    for (size_t i = 0; good && i < roof->ply_count; i++)
        now_at[i] = SIZE_MAX;
    for (size_t r = 0; good && r < roof->rafter_count; r++)
        correct_member(roof, revised, r, now_at);
    for (size_t i = 0; good && i < roof->keepout_count; i++)
        revised->keepouts[i] = roof->keepouts[i];
    for (size_t i = 0; good && i < revised->hole_count; i++)
        if (revised->holes[i].ply != SIZE_MAX)
            revised->holes[i].ply = now_at[revised->holes[i].ply];
    revised->roof.rafters = revised->rafters;
    revised->roof.plies = revised->plies;
    revised->roof.keepouts = revised->keepouts;
    revised->roof.given = revised->given;
    free(now_at);
    return good;
}

double corrected_keep(const struct roof *roof, const struct hole *hole) {
    return KEEP_DIAMETERS * roof_kit(roof, hole->bracket)->lag_diameter;
}

/* An air hole left the wood whole; every other dead hole has cut into it. */
bool corrected_in_wood(const struct hole *hole) {
    return hole->fate != FATE_KEPT && hole->found != DRILL_AIR;
}

void corrected_set(const struct roof *roof, struct revised *revised) {
    revised->roof.keepout_count = roof->keepout_count;
    revised->roof.given_count = 0;
    for (size_t i = 0; i < revised->hole_count; i++) {
        const struct hole *hole = &revised->holes[i];
        if (hole->fate == FATE_KEPT) {
            revised->given[revised->roof.given_count++] = (struct given){.bracket = hole->bracket,
                                                                         .row = hole->row,
                                                                         .ply = hole->ply,
                                                                         .x = hole->x,
                                                                         .y = hole->y};
        } else if (corrected_in_wood(hole)) {
            struct keepout *keepout = &revised->keepouts[revised->roof.keepout_count++];
            const double keep = corrected_keep(roof, hole);
            *keepout = (struct keepout){
                .rafter = hole->rafter, .y0 = hole->y - keep, .y1 = hole->y + keep};
            snprintf(keepout->why, sizeof keepout->why, "old hole %zu", hole->entry + 1);
        }
    }
}
