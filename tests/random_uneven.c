/* What makes a random roof uneven. */
#include "random_roof.h"

#define INCHES(n) (16 * (n))

/* The eave grows by what the ridge loses, so that a frame still has room. */
static void make_face(struct random_source *source, struct random_roof *roof) {
    struct random_uneven *uneven = &roof->uneven;
    uneven->face = (enum random_face)random_between(source, 0, 2);
    if (uneven->face == RANDOM_LEANING) {
        uneven->diagonals[0] = INCHES(120) + random_between(source, -24, 24);
        if (random_once_in(source, 2)) /* the far corner leans the other way, or nearly so */
            uneven->diagonals[1] =
                2 * INCHES(120) - uneven->diagonals[0] + random_between(source, -6, 6);
    }
    if (uneven->face != RANDOM_HIP)
        return;
    uneven->insets[0] = random_length(source, 0, 12, 4);
    uneven->insets[1] = random_length(source, 0, 12, 4);
}

/* Vents go where no rake can cut into them; those that find no room there are left out. */
static void keep_vents_inside(struct random_roof *roof) {
    size_t kept = 0;
    for (size_t i = 0; i < roof->vent_count; i++) {
        struct random_vent vent = roof->vents[i];
        int inside = INCHES(13) + (vent.width + 1) / 2;
        if (2 * inside > roof->width)
            continue;
        if (vent.x < inside)
            vent.x = inside;
        if (vent.x > roof->width - inside)
            vent.x = roof->width - inside;
        roof->vents[kept++] = vent;
    }
    roof->vent_count = kept;
}

static void make_crooked(struct random_source *source, struct random_roof *roof) {
    for (size_t i = 0; i < roof->rafter_count; i++) {
        struct random_rafter *rafter = &roof->rafters[i];
        if (!random_once_in(source, 3))
            rafter->again = rafter->at + random_between(source, -8, 8);
    }
    if (random_once_in(source, 3)) {
        roof->uneven.heights[0] = random_length(source, 2, 10, 8);
        roof->uneven.heights[1] = roof->slope - random_length(source, 2, 10, 8);
    }
}

/* Gaps, short sisters and plies that are no good. */
static void make_plies(struct random_source *source, struct random_roof *roof) {
    for (size_t i = 0; i < roof->rafter_count && !roof->bonded; i++) {
        struct random_rafter *rafter = &roof->rafters[i];
        if (rafter->plies < 2 || !rafter->sound)
            continue;
        if (random_once_in(source, 2))
            rafter->gap = random_between(source, 1, 5);
        if (random_once_in(source, 2)) {
            rafter->reach[0] = random_between(source, 1, roof->slope / 3);
            rafter->reach[1] = random_between(source, roof->slope / 2, roof->slope);
        }
        if (random_once_in(source, 3)) {
            rafter->some_unsound = true;
            rafter->ply_unsound[random_between(source, 0, rafter->plies - 1)] = true;
        }
    }
}

static void make_keepouts(struct random_source *source, struct random_roof *roof) {
    struct random_uneven *uneven = &roof->uneven;
    uneven->keepout_count = (size_t)random_between(source, 0, RANDOM_KEEPOUTS_MOST);
    for (size_t i = 0; i < uneven->keepout_count; i++) {
        struct random_keepout *keepout = &uneven->keepouts[i];
        keepout->rafter = (size_t)random_between(source, 0, (int)roof->rafter_count - 1);
        keepout->from = random_between(source, 0, roof->slope - INCHES(12));
        keepout->to = keepout->from + random_between(source, 8, INCHES(12));
    }
    if (random_once_in(source, 3))
        uneven->wall_line = random_length(source, 1, 10, 2);
}

static void make_edges(struct random_source *source, struct random_roof *roof) {
    struct random_uneven *uneven = &roof->uneven;
    if (!random_once_in(source, 2))
        return;
    for (int at = roof->first; at <= roof->slope && uneven->edge_count < RANDOM_COURSES_MOST;
         at += roof->exposure + random_between(source, -3, 3))
        uneven->edges[uneven->edge_count++] = at;
}

static void make_pipe(struct random_source *source, struct random_roof *roof) {
    struct random_uneven *uneven = &roof->uneven;
    uneven->piped = true;
    uneven->port[0] = random_length(source, 0, roof->kit.width / 16, 4);
    uneven->port[1] = random_length(source, 0, roof->kit.height / 16, 4);
    uneven->pipe_reach = random_length(source, roof->knobs.narrow ? 2 : 6, 14, 4);
    uneven->bore = random_between(source, 16, 40);
    uneven->keep_rafter = random_between(source, 8, roof->knobs.narrow ? INCHES(6) : INCHES(2));
}

void random_uneven_make(struct random_source *source, struct random_roof *roof) {
    if (roof->knobs.uneven) {
        make_face(source, roof);
        keep_vents_inside(roof);
        make_crooked(source, roof);
        make_plies(source, roof);
        make_keepouts(source, roof);
        make_edges(source, roof);
    }
    if (roof->knobs.piped)
        make_pipe(source, roof);
}
