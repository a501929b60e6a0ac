/* Rules of two things apart, and hard rules of a line: what they need and what is there. */
#include "tell.h"

#include "page.h"
#include "words.h"

#include <math.h>
#include <stdio.h>

const struct flashing *tell_flashing(const struct scene *scene, int mark) {
    const struct mark *at = &scene->marks->list[mark];
    return at->row == ROW_PIPE ? &scene->roof->pipes[at->pipe].flashing
                               : &roof_kit(scene->roof, at->bracket)->flashing;
}

static struct box flashing_box(const struct scene *scene, int mark) {
    const struct mark *at = &scene->marks->list[mark];
    const struct flashing *flashing = tell_flashing(scene, mark);
    double low = at->y - flashing->hole_up;
    return (struct box){at->x - flashing->width / 2, low, at->x + flashing->width / 2,
                        low + flashing->height};
}

static struct box bracket_box(const struct scene *scene, int bracket) {
    const struct standing *standing = &scene->marks->brackets[bracket];
    const struct kit *kit = roof_kit(scene->roof, (size_t)bracket);
    return (struct box){standing->x, standing->y, standing->x + kit->width,
                        standing->y + kit->height};
}

struct box tell_strut_box(const struct scene *scene, int bracket, int row) {
    const struct row_seat *seat = &scene->verdict->rows[bracket][row];
    double half = roof_kit(scene->roof, (size_t)bracket)->strut_half;
    return (struct box){seat->from, seat->y - half, seat->to, seat->y + half};
}

/* What a finding is about, and the other thing of a pair. */
static struct box box_of(const struct scene *scene, int bracket, int row, int mark) {
    if (mark != CHECK_NONE) {
        return flashing_box(scene, mark);
    }
    return row != CHECK_NONE ? tell_strut_box(scene, bracket, row) : bracket_box(scene, bracket);
}

static struct box own_box(const struct scene *scene) {
    const struct finding *finding = scene->finding;
    return box_of(scene, finding->bracket, finding->row, finding->mark);
}

static struct box other_box(const struct scene *scene) {
    const struct finding *finding = scene->finding;
    return box_of(scene, finding->other_bracket, finding->other_row, finding->other_mark);
}

void tell_gap(const struct scene *scene, struct broken *broken, double needed, double found) {
    char needs[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "a gap of %s",
             page_fine(scene->roof, needs, needed));
    snprintf(broken->has, sizeof broken->has, found < 0 ? "an overlap of %s" : "%s",
             page_fine(scene->roof, has, fabs(found)));
}

void tell_move_clear(const struct scene *scene, struct broken *broken, const struct box *own,
                     const struct box *other, double inches) {
    double gap_x = fmax(other->x0 - own->x1, own->x0 - other->x1);
    double gap_y = fmax(other->y0 - own->y1, own->y0 - other->y1);
    double along = own->x0 + own->x1 - other->x0 - other->x1;
    double up = own->y0 + own->y1 - other->y0 - other->y1;
    const char *way = up < 0 ? "down" : "up";
    if (gap_x >= gap_y) {
        way = words_way(scene->roof, along);
    }
    char by[LENGTH_TEXT];
    snprintf(broken->move, sizeof broken->move, "move the first %s %s",
             page_short(scene->roof, by, inches), way);
}

static void tell_vent(const struct scene *scene, struct broken *broken, double keep) {
    struct box own = own_box(scene);
    double margin = scene->finding->margin;
    tell_gap(scene, broken, keep, keep + margin);
    tell_move_clear(scene, broken, &own, &scene->roof->vents[scene->finding->vent].flange, -margin);
}

void tell_vent_flashing(const struct scene *scene, struct broken *broken) {
    tell_vent(scene, broken, scene->roof->vents[scene->finding->vent].keep_flashing);
}

void tell_vent_bracket(const struct scene *scene, struct broken *broken) {
    tell_vent(scene, broken, scene->roof->vents[scene->finding->vent].keep_bracket);
}

/* The edge that a box is least inside of, counting its setback if asked to. */
static const struct edge *worst_edge(const struct roof *roof, const struct box *box,
                                     bool with_setback) {
    const struct edge *worst = NULL;
    double least = INFINITY;
    for (size_t i = 0; i < roof->edge_count; i++) {
        const struct edge *edge = &roof->edges[i];
        double distance = fmin(edge->nx * box->x0, edge->nx * box->x1) +
                          fmin(edge->ny * box->y0, edge->ny * box->y1) - edge->offset -
                          (with_setback ? edge->setback : 0);
        if (distance < least) {
            least = distance;
            worst = edge;
        }
    }
    return worst;
}

static void tell_edge(const struct scene *scene, struct broken *broken, bool with_setback) {
    const struct roof *roof = scene->roof;
    struct box own = own_box(scene);
    const struct edge *edge = worst_edge(roof, &own, with_setback);
    if (edge == NULL) {
        return;
    }
    const char *const names[EDGE_KIND_COUNT] = {
        [EDGE_EAVE] = "eave", [EDGE_RIDGE] = "ridge", [EDGE_NEAR] = "rake", [EDGE_FAR] = "rake"};
    bool rake = edge->kind == EDGE_NEAR || edge->kind == EDGE_FAR;
    enum side side = edge->kind == EDGE_FAR ? SIDE_FAR : SIDE_NEAR;
    double needed = with_setback ? edge->setback : 0;
    double found = needed + scene->finding->margin;
    char needs[LENGTH_TEXT], has[LENGTH_TEXT], by[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "%s to the %s%s%s",
             page_fine(roof, needs, needed), rake ? words_side(roof, side) : "", rake ? " " : "",
             names[edge->kind]);
    snprintf(broken->has, sizeof broken->has, found < 0 ? "%s over it" : "%s",
             page_fine(roof, has, fabs(found)));
    const char *way = edge->kind == EDGE_EAVE ? "up" : "down";
    if (rake) {
        way = words_side(roof, side == SIDE_NEAR ? SIDE_FAR : SIDE_NEAR);
    }
    snprintf(broken->move, sizeof broken->move, "move it %s %s",
             page_short(roof, by, -scene->finding->margin), way);
}

void tell_setback(const struct scene *scene, struct broken *broken) {
    tell_edge(scene, broken, scene->finding->mark == CHECK_NONE);
}

void tell_strut_clear(const struct scene *scene, struct broken *broken) {
    const struct finding *finding = scene->finding;
    if (finding->vent != CHECK_NONE) {
        tell_vent(scene, broken, scene->roof->vents[finding->vent].keep_flashing);
    } else if (finding->other_bracket != CHECK_NONE) {
        struct box own = own_box(scene);
        struct box other = other_box(scene);
        tell_gap(scene, broken, 0, finding->margin);
        tell_move_clear(scene, broken, &own, &other, -finding->margin);
    } else {
        tell_edge(scene, broken, false);
    }
}

/* The margin of a pair is half of what is missing: either one may be off. */
void tell_apart(const struct scene *scene, struct broken *broken) {
    const struct finding *finding = scene->finding;
    bool frames = finding->mark == CHECK_NONE && finding->row == CHECK_NONE;
    double needed = frames ? scene->roof->apart : 0;
    struct box own = own_box(scene);
    struct box other = other_box(scene);
    tell_gap(scene, broken, needed, needed + 2 * finding->margin);
    tell_by(scene, broken, -2 * finding->margin);
    tell_move_clear(scene, broken, &own, &other, -2 * finding->margin);
}

void tell_strut_clamp(const struct scene *scene, struct broken *broken) {
    const struct kit *kit = roof_kit(scene->roof, (size_t)scene->finding->bracket);
    char clear[LENGTH_TEXT], past[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs,
             "each clamp %s from every lag, at most %s past the end lags",
             page_fine(scene->roof, clear, kit->lag_clear),
             page_fine(scene->roof, past, kit->overhang));
    snprintf(broken->has, sizeof broken->has, "a clamp that is not");
}

/* The widest gap between neighbouring lags of a line. */
static double widest_gap(const struct scene *scene) {
    const struct finding *finding = scene->finding;
    double widest = 0;
    for (size_t i = 0; i < scene->marks->count; i++) {
        const struct mark *one = &scene->marks->list[i];
        double next = INFINITY;
        for (size_t j = 0; j < scene->marks->count; j++) {
            const struct mark *other = &scene->marks->list[j];
            if (other->bracket == one->bracket && other->row == one->row && other->x > one->x) {
                next = fmin(next, other->x);
            }
        }
        if (one->bracket == (size_t)finding->bracket && one->row == (enum row)finding->row &&
            isfinite(next)) {
            widest = fmax(widest, next - one->x);
        }
    }
    return widest;
}

void tell_strut_span(const struct scene *scene, struct broken *broken) {
    const struct roof *roof = scene->roof;
    const struct kit *kit = roof_kit(roof, (size_t)scene->finding->bracket);
    char needs[LENGTH_TEXT], has[LENGTH_TEXT];
    double widest = widest_gap(scene);
    if (length_holds(kit->span - widest)) {
        snprintf(broken->needs, sizeof broken->needs, "one lag in %s",
                 kit->every_rafter ? "every sound rafter it crosses" : "a rafter");
        snprintf(broken->has, sizeof broken->has, "a rafter skipped, or two lags in one");
        broken->by[0] = '\0';
        return;
    }
    snprintf(broken->needs, sizeof broken->needs, "lags at most %s from one to the next",
             page_fine(roof, needs, kit->span));
    snprintf(broken->has, sizeof broken->has, "%s", page_fine(roof, has, widest));
    tell_by(scene, broken, widest - kit->span);
}

void tell_strut_stock(const struct scene *scene, struct broken *broken) {
    const struct kit *kit = roof_kit(scene->roof, (size_t)scene->finding->bracket);
    double longest = kit->stock_count > 0 ? kit->stock[kit->stock_count - 1] : 0;
    char needs[LENGTH_TEXT], has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "at most %s, the longest bar",
             page_fine(scene->roof, needs, longest));
    snprintf(broken->has, sizeof broken->has, "%s",
             page_fine(scene->roof, has, longest - scene->finding->margin));
}

void tell_row_line(const struct scene *scene, struct broken *broken) {
    char has[LENGTH_TEXT];
    snprintf(broken->needs, sizeof broken->needs, "one height for all its lag holes");
    snprintf(broken->has, sizeof broken->has, "heights %s apart",
             page_short(scene->roof, has, -scene->finding->margin));
    broken->by[0] = '\0';
}

void tell_complete(const struct scene *scene, struct broken *broken) {
    const struct finding *finding = scene->finding;
    if (finding->row == ROW_PIPE) {
        tell_pipe_complete(scene, broken);
        return;
    }
    bool strut = scene->marks->brackets[finding->bracket].hardware[finding->row] == HARDWARE_STRUT;
    size_t legs = roof_kit(scene->roof, (size_t)finding->bracket)->leg_count;
    if (strut) {
        snprintf(broken->needs, sizeof broken->needs, "at least 2 lags");
    } else {
        snprintf(broken->needs, sizeof broken->needs, "%zu feet, one to a leg", legs);
    }
    snprintf(broken->has, sizeof broken->has, "%zu",
             scene->verdict->rows[finding->bracket][finding->row].count);
    broken->by[0] = '\0';
}
