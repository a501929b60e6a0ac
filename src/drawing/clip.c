#include "clip.h"

/* How far a point lies inside an edge. */
static double inside(const struct edge *edge, bool setbacks, struct point point) {
    return edge->nx * point.x + edge->ny * point.y - edge->offset - (setbacks ? edge->setback : 0);
}

static struct point between(struct point a, struct point b, double share) {
    return (struct point){a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share};
}

/* Cuts by one edge: each corner inside stays, each side that crosses gets a corner there. */
static size_t cut(const struct edge *edge, bool setbacks, struct point area[CLIP_MOST],
                  size_t count) {
    struct point kept[CLIP_MOST] = {{0, 0}};
    size_t used = 0;
    for (size_t i = 0; i < count && used + 2 <= CLIP_MOST; i++) {
        const struct point here = area[i], next = area[(i + 1) % count];
        const double in = inside(edge, setbacks, here), then = inside(edge, setbacks, next);
        if (in >= 0) {
            kept[used++] = here;
        }
        if ((in > 0 && then < 0) || (in < 0 && then > 0)) {
            kept[used++] = between(here, next, in / (in - then));
        }
    }
    for (size_t i = 0; i < used; i++) {
        area[i] = kept[i];
    }
    return used;
}

size_t clip_area(const struct roof *roof, bool setbacks, struct point area[CLIP_MOST],
                 size_t count) {
    for (size_t i = 0; i < roof->edge_count; i++) {
        count = cut(&roof->edges[i], setbacks, area, count);
    }
    return count;
}

bool clip_line(const struct roof *roof, struct point ends[2]) {
    for (size_t i = 0; i < roof->edge_count; i++) {
        const double in[] = {inside(&roof->edges[i], false, ends[0]),
                             inside(&roof->edges[i], false, ends[1])};
        if (in[0] < 0 && in[1] < 0) {
            return false;
        }
        if (in[0] < 0 || in[1] < 0) {
            ends[in[0] < 0 ? 0 : 1] = between(ends[0], ends[1], in[0] / (in[0] - in[1]));
        }
    }
    return true;
}
