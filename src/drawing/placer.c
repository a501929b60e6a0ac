#include "placer.h"

#include "grow.h"

#include <math.h>
#include <stdlib.h>

enum { DIRECTIONS = 32 };
#define STEP 5.0    /* points from ring to ring */
#define GAP 1.5     /* points between labels */
#define TURNED 14.0 /* points further off that a label in the wanted direction is worth */
#define OVER 22.0   /* the same for one that covers nothing it should not */
#define CROSSED 9.0 /* the same for a leader line that crosses none */
#define STRUCK 40.0 /* the same for one that strikes through no label */

static const double full_turn = 6.28318530717958647692;

/* ---- What is taken -------------------------------------------------------------------------- */

static void add_box(struct box **list, size_t *count, size_t *room, struct box box, bool *failed) {
    void *all = grow_list(*list, room, *count, sizeof **list);
    if (all == NULL) {
        *failed = true;
        return;
    }
    *list = all;
    (*list)[(*count)++] = box;
}

void placer_keep_off(struct placer *placer, struct box box) {
    add_box(&placer->hard, &placer->hard_count, &placer->hard_room, box, &placer->failed);
}

void placer_avoid(struct placer *placer, struct box box) {
    add_box(&placer->soft, &placer->soft_count, &placer->soft_room, box, &placer->failed);
}

void placer_outline(struct placer *placer, struct box box) {
    add_box(&placer->outlines, &placer->outline_count, &placer->outline_room, box, &placer->failed);
}

static void add_line(struct point (**list)[2], size_t *count, size_t *room,
                     const struct point ends[2], bool *failed) {
    void *all = grow_list(*list, room, *count, sizeof **list);
    if (all == NULL) {
        *failed = true;
        return;
    }
    *list = all;
    (*list)[*count][0] = ends[0];
    (*list)[(*count)++][1] = ends[1];
}

void placer_avoid_line(struct placer *placer, struct point from, struct point to) {
    const struct point ends[] = {from, to};
    add_line(&placer->lines, &placer->line_count, &placer->line_room, ends, &placer->failed);
}

static void add_leader(struct placer *placer, struct point from, struct point to) {
    const struct point ends[] = {from, to};
    add_line(&placer->leaders, &placer->leader_count, &placer->leader_room, ends, &placer->failed);
}

void placer_free(struct placer *placer) {
    free(placer->hard);
    free(placer->soft);
    free(placer->outlines);
    free(placer->leaders);
    free(placer->lines);
    *placer = (struct placer){.page = placer->page};
}

/* ---- Geometry ------------------------------------------------------------------------------- */

static bool overlap(struct box a, struct box b, double gap) {
    return a.x0 < b.x1 + gap && b.x0 < a.x1 + gap && a.y0 < b.y1 + gap && b.y0 < a.y1 + gap;
}

/* Cuts the share [*from, *to] of a line to where start + share * along lies in [low, high]. */
static bool cut(double start, double along, double low, double high, double *from, double *to) {
    if (fabs(along) < 1e-12) {
        return start > low && start < high;
    }
    const double a = (low - start) / along, b = (high - start) / along;
    *from = fmax(*from, fmin(a, b));
    *to = fmin(*to, fmax(a, b));
    return *from < *to;
}

static bool line_meets(struct point p, struct point q, struct box box) {
    double from = 0, to = 1;
    return cut(p.x, q.x - p.x, box.x0, box.x1, &from, &to) &&
           cut(p.y, q.y - p.y, box.y0, box.y1, &from, &to);
}

static double turn(struct point a, struct point b, struct point c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static bool lines_cross(struct point a, struct point b, struct point c, struct point d) {
    return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

static double within(double low, double value, double high) {
    return fmin(fmax(value, low), high);
}

/* ---- One label ------------------------------------------------------------------------------ */

/* The label whose side or corner lies at that distance in that direction. */
static struct placed try_at(const struct wish *wish, double distance, int direction) {
    const double angle = full_turn * direction / DIRECTIONS;
    const bool over = distance <= 0; /* right over what it names */
    const double dx = over ? 0 : cos(angle), dy = over ? 0 : -sin(angle);
    const struct point tip = {wish->at.x + dx * distance, wish->at.y + dy * distance};
    /* The middle of the label lies beyond the tip, the more so the squarer it is met. */
    const double x = tip.x + dx * wish->width / 2, y = tip.y + dy * wish->height / 2;
    struct placed placed = {.box = {x - wish->width / 2, y - wish->height / 2, x + wish->width / 2,
                                    y + wish->height / 2}};
    placed.elbow.x = within(placed.box.x0, wish->at.x, placed.box.x1);
    placed.elbow.y = within(placed.box.y0, wish->at.y, placed.box.y1);
    return placed;
}

static bool on_page(const struct placer *placer, struct box box) {
    return box.x0 >= placer->page.x0 && box.x1 <= placer->page.x1 && box.y0 >= placer->page.y0 &&
           box.y1 <= placer->page.y1;
}

static bool is_inside(struct box box, struct box whole) {
    return box.x0 >= whole.x0 + GAP && box.x1 <= whole.x1 - GAP && box.y0 >= whole.y0 + GAP &&
           box.y1 <= whole.y1 - GAP;
}

static bool in_bounds(const struct placer *placer, const struct wish *wish, struct box box) {
    for (size_t i = 0; i < placer->outline_count && wish->bounds != BOUNDS_PAGE; i++) {
        const bool own = wish->bounds == BOUNDS_OWN && i == wish->own;
        if (own ? !is_inside(box, placer->outlines[i]) : overlap(box, placer->outlines[i], GAP)) {
            return false;
        }
    }
    return true;
}

/* True where the label is free of all that it must keep off. */
static bool is_free(const struct placer *placer, struct box box) {
    for (size_t i = 0; i < placer->hard_count; i++) {
        if (overlap(box, placer->hard[i], GAP)) {
            return false;
        }
    }
    return true;
}

/* How many other labels and signs its leader runs over, and how many leaders it lies on. */
static size_t strikes(const struct placer *placer, const struct wish *wish,
                      const struct placed *placed) {
    size_t count = 0;
    for (size_t i = 0; i < placer->hard_count; i++) {
        const struct box taken = placer->hard[i];
        const bool own = wish->at.x >= taken.x0 && wish->at.x <= taken.x1 &&
                         wish->at.y >= taken.y0 && wish->at.y <= taken.y1;
        count += !own && line_meets(wish->at, placed->elbow, taken);
    }
    for (size_t i = 0; i < placer->leader_count; i++) {
        count += line_meets(placer->leaders[i][0], placer->leaders[i][1], placed->box);
    }
    return count;
}

/* What a place costs beyond its distance, in points. */
static double surcharge(const struct placer *placer, const struct wish *wish,
                        const struct placed *placed) {
    const double x = (placed->box.x0 + placed->box.x1) / 2 - wish->at.x;
    const double y = wish->at.y - (placed->box.y0 + placed->box.y1) / 2;
    const double off = fmax(hypot(x, y), 1);
    double cost = TURNED * (2 - wish->up * y / off - wish->right * x / off);
    for (size_t i = 0; i < placer->soft_count; i++) {
        cost += overlap(placed->box, placer->soft[i], 0) ? OVER : 0;
    }
    for (size_t i = 0; i < placer->line_count; i++) {
        const struct point *line = placer->lines[i];
        cost += line_meets(line[0], line[1], placed->box) ? OVER : 0;
    }
    for (size_t i = 0; i < placer->leader_count; i++) {
        const struct point *leader = placer->leaders[i];
        cost += lines_cross(leader[0], leader[1], wish->at, placed->elbow) ? CROSSED : 0;
    }
    return cost;
}

/* The cheapest place there is; where its leader strikes through nothing, unless `crowded`. */
static struct placed seek(const struct placer *placer, const struct wish *wish, bool crowded) {
    const double furthest =
        hypot(placer->page.x1 - placer->page.x0, placer->page.y1 - placer->page.y0);
    struct placed best = {.found = false};
    double least = INFINITY;
    for (double distance = wish->clear; distance < furthest && distance < least; distance += STEP) {
        for (int direction = 0; direction < DIRECTIONS; direction++) {
            struct placed placed = try_at(wish, distance, direction);
            if (!on_page(placer, placed.box) || !in_bounds(placer, wish, placed.box)) {
                continue;
            }
            double cost = distance + surcharge(placer, wish, &placed);
            if (cost >= least || !is_free(placer, placed.box)) {
                continue;
            }
            const size_t struck = strikes(placer, wish, &placed);
            cost += STRUCK * (double)struck;
            if (cost < least && (struck == 0 || crowded)) {
                least = cost;
                best = placed;
                best.found = true;
            }
        }
    }
    return best;
}

struct placed placer_place(struct placer *placer, const struct wish *wish) {
    struct placed best = seek(placer, wish, false);
    if (!best.found) {
        best = seek(placer, wish, true);
    }
    if (best.found) {
        placer_keep_off(placer, best.box);
        add_leader(placer, wish->at, best.elbow);
    }
    return best;
}
