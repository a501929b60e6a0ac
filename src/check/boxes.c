/* The rectangles that things cover on the roof, the gap between two, the distance to the edges. */
#include "rules.h"

#include <math.h>

const struct flashing *check_mark_flashing(const struct roof *roof, const struct mark *mark) {
    return mark->row == ROW_PIPE ? &roof->pipes[mark->pipe].flashing
                                 : &roof_kit(roof, mark->bracket)->flashing;
}

struct box check_flashing_box(const struct roof *roof, const struct mark *mark) {
    const struct flashing *flashing = check_mark_flashing(roof, mark);
    double low = mark->y - flashing->hole_up;
    return (struct box){mark->x - flashing->width / 2, low, mark->x + flashing->width / 2,
                        low + flashing->height};
}

/* It can be turned to either side of its lag. */
struct box check_foot_box(const struct roof *roof, const struct mark *mark) {
    const struct kit *kit = roof_kit(roof, mark->bracket);
    return (struct box){mark->x - kit->foot_reach, mark->y - kit->foot_half,
                        mark->x + kit->foot_reach, mark->y + kit->foot_half};
}

/* The square round it. */
struct box check_bore_box(const struct roof *roof, const struct mark *mark) {
    double half = roof->pipes[mark->pipe].bore / 2;
    return (struct box){mark->x - half, mark->y - half, mark->x + half, mark->y + half};
}

struct box check_bracket_box(const struct roof *roof, size_t bracket,
                             const struct standing *standing) {
    const struct kit *kit = roof_kit(roof, bracket);
    return (struct box){standing->x, standing->y, standing->x + kit->width,
                        standing->y + kit->height};
}

struct box check_strut_box(const struct roof *roof, const struct strut *strut, double from,
                           double to) {
    double half = roof_kit(roof, strut->bracket)->strut_half;
    return (struct box){from, strut->low - half, to, strut->high + half};
}

double check_gap(const struct box *a, const struct box *b) {
    double along = check_greater(b->x0 - a->x1, a->x0 - b->x1);
    double up = check_greater(b->y0 - a->y1, a->y0 - b->y1);
    return check_greater(along, up);
}

double check_inside(const struct roof *roof, const struct box *box, bool setbacks) {
    double least = INFINITY;
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        /* Of the four corners, the one that lies furthest out of this edge. */
        double x = edge->nx > 0 ? box->x0 : box->x1;
        double y = edge->ny > 0 ? box->y0 : box->y1;
        double inside = edge->nx * x + edge->ny * y - edge->offset;
        least = check_lesser(least, setbacks ? inside - edge->setback : inside);
    }
    return least;
}
