/* The roof alone: what was there before anybody came. */
#include "../sheet/words.h"
#include "clip.h"
#include "draw.h"

#include <math.h>
#include <stdio.h>

/* Lines closer together than this are a grey mess: then only every so many-th is drawn. */
#define LEAST_STEP 2.2 /* points */

static void draw_area(struct canvas *canvas, enum layer layer, const struct style *style,
                      struct point area[CLIP_MOST], size_t count, bool setbacks) {
    count = clip_area(canvas->roof, setbacks, area, count);
    for (size_t i = 0; i < count; i++) {
        area[i] = draw_place(canvas, area[i].x, area[i].y);
    }
    picture_polygon(canvas->picture, layer, style, area, count);
}

static void draw_face(struct canvas *canvas) {
    static const struct style ground = {INK_NONE, INK_WHITE, 0, DASH_NONE};
    const struct roof *roof = canvas->roof;
    struct point area[CLIP_MOST];
    const size_t count = roof->corner_count < CLIP_MOST ? roof->corner_count : CLIP_MOST;
    for (size_t i = 0; i < count; i++) {
        area[i] = draw_place(canvas, roof->corners[i].x, roof->corners[i].y);
    }
    picture_polygon(canvas->picture, LAYER_EDGES, &ground, area, count);
}

/* The eave is drawn the heaviest: it is the one underfoot. */
static void draw_edges(struct canvas *canvas) {
    const struct roof *roof = canvas->roof;
    for (size_t i = 0; i < roof->corner_count && i < roof->edge_count; i++) {
        const struct point a = roof->corners[i], b = roof->corners[(i + 1) % roof->corner_count];
        const struct style style = {INK_BLACK, INK_NONE, roof->edges[i].kind == EDGE_EAVE ? 3.2 : 2,
                                    DASH_NONE};
        const struct point from = draw_place(canvas, a.x, a.y), to = draw_place(canvas, b.x, b.y);
        picture_line(canvas->picture, LAYER_EDGES, &style, from, to);
        placer_avoid_line(&canvas->placer, from, to);
    }
}

static void draw_courses(struct canvas *canvas) {
    const struct roof *roof = canvas->roof;
    double last = -INFINITY;
    for (size_t i = 0; i < roof->course_count; i++) {
        const double y = roof->courses[i];
        struct point ends[2] = {{-ROOF_ENDLESS, y}, {ROOF_ENDLESS, y}};
        if ((y - last) * canvas->picture->scale < LEAST_STEP || !clip_line(roof, ends)) {
            continue;
        }
        last = y;
        picture_line(canvas->picture, LAYER_COURSES, &draw_course_style,
                     draw_place(canvas, ends[0].x, y), draw_place(canvas, ends[1].x, y));
    }
}

/* Between the butt edge of that course (from 1) and the next. */
static void draw_joint(struct canvas *canvas, size_t course, double x) {
    const double *edge = &canvas->roof->courses[course - 1];
    struct point ends[2] = {{x, edge[0]}, {x, edge[1]}};
    if (clip_line(canvas->roof, ends)) {
        picture_line(canvas->picture, LAYER_COURSES, &draw_course_style,
                     draw_place(canvas, x, ends[0].y), draw_place(canvas, x, ends[1].y));
    }
}

static void draw_cutouts(struct canvas *canvas, size_t course) {
    const struct roof *roof = canvas->roof;
    double least = 0, most = 0;
    for (size_t i = 0; i < roof->corner_count; i++) {
        least = fmin(least, roof->corners[i].x);
        most = fmax(most, roof->corners[i].x);
    }
    for (double x = roof_cutout(roof, course, least); x < most;
         x = roof_cutout(roof, course, x + roof->cutouts.tab / 2)) {
        draw_joint(canvas, course, x);
    }
}

static void draw_joints(struct canvas *canvas) {
    const struct roof *roof = canvas->roof;
    for (size_t course = 1; course < roof->course_count; course++) {
        const double height = roof->courses[course] - roof->courses[course - 1];
        if (height * canvas->picture->scale < LEAST_STEP) {
            continue;
        }
        if (roof->cutouts.tab > 0) {
            draw_cutouts(canvas, course);
        }
        for (size_t i = 0; i < roof->joint_count; i++) {
            if (roof->joints[i].course == course) {
                draw_joint(canvas, course, roof->joints[i].x);
            }
        }
    }
}

static void draw_setbacks(struct canvas *canvas) {
    const struct roof *roof = canvas->roof;
    struct point area[CLIP_MOST];
    bool any = false;
    for (size_t i = 0; i < roof->edge_count; i++) {
        any = any || roof->edges[i].setback > 0;
    }
    if (!any || roof->corner_count > CLIP_MOST) {
        return;
    }
    for (size_t i = 0; i < roof->corner_count; i++) {
        area[i] = roof->corners[i];
    }
    draw_area(canvas, LAYER_SETBACK, &draw_setback_style, area, roof->corner_count, true);
}

/* ---- Rafters -------------------------------------------------------------------------------- */

struct stretch {
    double low, high; /* y */
};

static void draw_wood(struct canvas *canvas, enum layer layer, const struct style *style,
                      const struct rafter *rafter, struct stretch stretch) {
    struct point area[CLIP_MOST] = {
        {roof_rafter_face_x(rafter, SIDE_NEAR, stretch.low), stretch.low},
        {roof_rafter_face_x(rafter, SIDE_FAR, stretch.low), stretch.low},
        {roof_rafter_face_x(rafter, SIDE_FAR, stretch.high), stretch.high},
        {roof_rafter_face_x(rafter, SIDE_NEAR, stretch.high), stretch.high}};
    draw_area(canvas, layer, style, area, 4, false);
}

/* Short slanting strokes across a member, between two heights. */
static void hatch_wood(struct canvas *canvas, enum layer layer, const struct rafter *rafter,
                       struct stretch stretch) {
    static const struct style style = {INK_BLACK, INK_NONE, 0.7, DASH_NONE};
    const double step = 5 / canvas->picture->scale, beyond = 1.5 / canvas->picture->scale;
    for (double y = stretch.low; y < stretch.high - step / 2; y += step) {
        const double top = fmin(y + step, stretch.high);
        struct point ends[2] = {{roof_rafter_face_x(rafter, SIDE_NEAR, y) - beyond, y},
                                {roof_rafter_face_x(rafter, SIDE_FAR, top) + beyond, top}};
        if (clip_line(canvas->roof, ends)) {
            picture_line(canvas->picture, layer, &style, draw_place(canvas, ends[0].x, ends[0].y),
                         draw_place(canvas, ends[1].x, ends[1].y));
        }
    }
}

/* A ply that a lag may go into, as far as it reaches. */
static void draw_ply(struct canvas *canvas, const struct ply *ply) {
    static const struct style style = {INK_DARK, INK_WHITE, 0.6, DASH_SHORT};
    const double low = fmax(ply->reach[0], 0), high = fmin(ply->reach[1], canvas->roof->slope);
    if (low >= high) {
        return;
    }
    struct point area[CLIP_MOST] = {{roof_ply_x(ply, low) - ply->half, low},
                                    {roof_ply_x(ply, low) + ply->half, low},
                                    {roof_ply_x(ply, high) + ply->half, high},
                                    {roof_ply_x(ply, high) - ply->half, high}};
    draw_area(canvas, LAYER_RAFTERS, &style, area, 4, false);
}

/* Wood beside the plies that may be lagged: plies that are not sound, or the whole member. */
static bool has_unsound(const struct roof *roof, const struct rafter *rafter) {
    double good = 0;
    for (size_t i = 0; i < rafter->ply_count; i++) {
        good += 2 * roof->plies[rafter->first_ply + i].half;
    }
    return !rafter->sound ||
           (rafter->ply_count < rafter->plies && !length_holds(good - (rafter->to - rafter->from)));
}

static void draw_rafter(struct canvas *canvas, const struct rafter *rafter) {
    const struct roof *roof = canvas->roof;
    const struct stretch whole = {0, roof->slope};
    const bool unsound = has_unsound(roof, rafter);
    draw_wood(canvas, unsound ? LAYER_UNSOUND : LAYER_RAFTERS, &draw_rafter_style, rafter, whole);
    if (unsound) {
        hatch_wood(canvas, LAYER_UNSOUND, rafter, whole);
    }
    for (size_t i = 0; i < rafter->ply_count; i++) {
        draw_ply(canvas, &roof->plies[rafter->first_ply + i]);
    }
}

static void draw_keepouts(struct canvas *canvas) {
    static const struct style style = {INK_BLACK, INK_WHITE, 1, DASH_NONE};
    const struct roof *roof = canvas->roof;
    for (size_t i = 0; i < roof->keepout_count; i++) {
        const struct keepout *keepout = &roof->keepouts[i];
        const struct rafter *rafter = &roof->rafters[keepout->rafter];
        const struct stretch stretch = {fmax(keepout->y0, 0), fmin(keepout->y1, roof->slope)};
        if (stretch.low < stretch.high) {
            draw_wood(canvas, LAYER_KEEPOUTS, &style, rafter, stretch);
            hatch_wood(canvas, LAYER_KEEPOUTS, rafter, stretch);
        }
    }
}

/* The rafter's number below the eave, or as low as the face has it. */
static void number_rafter(struct canvas *canvas, size_t index) {
    const struct rafter *rafter = &canvas->roof->rafters[index];
    const double reach = canvas->roof->slope;
    const double lean = rafter->lean, middle = (rafter->from + rafter->to) / 2;
    struct point ends[2] = {{middle, 0}, {middle + lean * reach, reach}};
    char text[32];
    if (!clip_line(canvas->roof, ends)) {
        return;
    }
    snprintf(text, sizeof text, "%zu%s", index + 1, rafter->sound ? "" : " X");
    const struct point at = draw_place(canvas, ends[0].x, ends[0].y);
    const struct label label = {.at = {at.x, at.y + 2},
                                .clear = 2,
                                .up = -2,
                                .size = 7.5,
                                .optional = rafter->sound,
                                .text = text};
    draw_label(canvas, &label);
}

/* ---- Vents and words ------------------------------------------------------------------------ */

static void draw_vents(struct canvas *canvas) {
    for (size_t i = 0; i < canvas->roof->vent_count; i++) {
        const struct vent *vent = &canvas->roof->vents[i];
        const struct box box = draw_box(canvas, vent->flange);
        draw_vent(canvas->picture, LAYER_VENTS, vent->kind, box);
        placer_keep_off(&canvas->placer, box);
    }
}

static void draw_wall(struct canvas *canvas) {
    static const struct style style = {INK_BLACK, INK_NONE, 1, DASH_DOT};
    const struct roof *roof = canvas->roof;
    struct point ends[2] = {{-ROOF_ENDLESS, roof->wall_line}, {ROOF_ENDLESS, roof->wall_line}};
    if (roof->has_wall_line && clip_line(roof, ends)) {
        picture_line(canvas->picture, LAYER_WALL, &style, draw_place(canvas, ends[0].x, ends[0].y),
                     draw_place(canvas, ends[1].x, ends[1].y));
    }
}

static const char *edge_word(const struct roof *roof, enum edge_kind kind) {
    switch (kind) {
    case EDGE_EAVE:
        return "EAVE";
    case EDGE_RIDGE:
        return "RIDGE";
    default:
        return words_side(roof, kind == EDGE_NEAR ? SIDE_NEAR : SIDE_FAR);
    }
}

/* Names an edge outside its middle. */
static void name_edge(struct canvas *canvas, size_t index) {
    const struct roof *roof = canvas->roof;
    const struct edge *edge = &roof->edges[index];
    const struct point a = roof->corners[index],
                       b = roof->corners[(index + 1) % roof->corner_count];
    const struct point at = draw_place(canvas, (a.x + b.x) / 2, (a.y + b.y) / 2);
    const bool rake = edge->kind == EDGE_NEAR || edge->kind == EDGE_FAR;
    char text[40];
    snprintf(text, sizeof text, "%s%s%s", edge_word(roof, edge->kind), rake ? " " : "",
             rake ? places_edge(roof) : "");
    const struct label label = {.at = at,
                                .clear = edge->kind == EDGE_EAVE ? 14 : 5,
                                .up = -2 * edge->ny,
                                .right = -2 * edge->nx * draw_way(roof),
                                .size = 8.5,
                                .bold = true,
                                .bounds = BOUNDS_OUTSIDE,
                                .text = text};
    draw_label(canvas, &label);
}

void draw_roof(struct canvas *canvas) {
    const struct roof *roof = canvas->roof;
    draw_face(canvas);
    draw_courses(canvas);
    draw_joints(canvas);
    for (size_t i = 0; i < roof->rafter_count; i++) {
        draw_rafter(canvas, &roof->rafters[i]);
    }
    draw_keepouts(canvas);
    draw_wall(canvas);
    draw_setbacks(canvas);
    draw_vents(canvas);
    draw_edges(canvas);
    for (size_t i = 0; i < roof->rafter_count; i++) {
        number_rafter(canvas, i);
    }
}

void draw_edge_names(struct canvas *canvas) {
    for (size_t i = 0; i < canvas->roof->corner_count && i < canvas->roof->edge_count; i++) {
        name_edge(canvas, i);
    }
}
