/* The least sum of distances under orders and bounds is a linear program whose dual is a flow: a
 * unit from the point 0 to each wish and back may go where that pays.  It is solved by augmenting
 * along longest paths; see Ahuja, Magnanti, Orlin: Network Flows (1993), chapters 9 and 14 (from
 * memory). */
#include "spread.h"

#include <math.h>
#include <string.h>

/* Less than this is nothing: sums of a few hundred inches, exact to 1e-13. */
#define NOTHING 1e-9

bool spread_narrow(struct spread *spread) {
    for (size_t round = 0; round <= spread->count; round++) {
        bool moved = false;
        for (size_t i = 0; i < spread->order_count; i++) {
            const struct order *order = &spread->orders[i];
            const double lo = spread->lo[order->before] + order->by;
            const double hi = spread->hi[order->after] - order->by;
            if (lo > spread->lo[order->after] + NOTHING) {
                spread->lo[order->after] = lo;
                moved = true;
            }
            if (hi < spread->hi[order->before] - NOTHING) {
                spread->hi[order->before] = hi;
                moved = true;
            }
        }
        for (size_t i = 0; i < spread->count; i++)
            if (spread->lo[i] > spread->hi[i] + NOTHING)
                return false;
        if (!moved)
            return true;
    }
    return false; /* orders that go round in a circle push the bounds on for ever */
}

/* Flows: of each point, from 0 to its wish and back; of each point, along its bounds; of each
 * order.  Only the wishes have a limit, one. */
struct flow {
    bool wish_out[ROOF_BRACKETS_MOST], wish_back[ROOF_BRACKETS_MOST];
    unsigned lo[ROOF_BRACKETS_MOST], hi[ROOF_BRACKETS_MOST], order[ORDERS_MOST];
};

enum arc_kind { ARC_NONE, ARC_WISH_OUT, ARC_WISH_BACK, ARC_LO, ARC_HI, ARC_ORDER };

/* How a node was reached: over which arc, forwards or backwards, from which node. */
struct step {
    enum arc_kind kind;
    size_t index, from;
    bool backwards;
};

/* Nodes are the points, then where flow begins and where it ends; both stand for 0. */
struct paths {
    double far[ROOF_BRACKETS_MOST + 2];
    struct step step[ROOF_BRACKETS_MOST + 2];
    bool moved;
};

static void relax(struct paths *paths, size_t from, size_t to, double gain, struct step step) {
    if (!(paths->far[from] + gain > paths->far[to] + NOTHING))
        return;
    paths->far[to] = paths->far[from] + gain;
    step.from = from;
    paths->step[to] = step;
    paths->moved = true;
}

/* An arc, and the way back over what flows along it. */
static void relax_both(struct paths *paths, size_t from, size_t to, double gain, bool room,
                       bool flows, enum arc_kind kind, size_t index) {
    if (room)
        relax(paths, from, to, gain, (struct step){.kind = kind, .index = index});
    if (flows)
        relax(paths, to, from, -gain,
              (struct step){.kind = kind, .index = index, .backwards = true});
}

static void relax_all(const struct spread *spread, const struct flow *flow, struct paths *paths) {
    const size_t begin = spread->count, end = begin + 1;
    for (size_t i = 0; i < spread->count; i++) {
        relax_both(paths, begin, i, spread->lo[i], true, flow->lo[i] > 0, ARC_LO, i);
        relax_both(paths, begin, i, spread->want[i], !flow->wish_out[i], flow->wish_out[i],
                   ARC_WISH_OUT, i);
    }
    for (size_t k = 0; k < spread->order_count; k++)
        relax_both(paths, spread->orders[k].before, spread->orders[k].after, spread->orders[k].by,
                   true, flow->order[k] > 0, ARC_ORDER, k);
    for (size_t i = 0; i < spread->count; i++) {
        relax_both(paths, i, end, -spread->hi[i], true, flow->hi[i] > 0, ARC_HI, i);
        relax_both(paths, i, end, -spread->want[i], !flow->wish_back[i], flow->wish_back[i],
                   ARC_WISH_BACK, i);
    }
}

/* The longest paths from where flow begins; at the end, 0 at least. */
static void find_paths(const struct spread *spread, const struct flow *flow, struct paths *paths) {
    const size_t begin = spread->count, end = begin + 1;
    for (size_t i = 0; i < spread->count; i++)
        paths->far[i] = -INFINITY;
    paths->far[begin] = paths->far[end] = 0;
    paths->step[begin] = paths->step[end] = (struct step){.kind = ARC_NONE};
    paths->moved = true;
    for (size_t round = 0; round < 2 * spread->count + 4 && paths->moved; round++) {
        paths->moved = false;
        relax_all(spread, flow, paths);
    }
}

/* One unit more along the path to the end. */
static void augment(const struct spread *spread, const struct paths *paths, struct flow *flow) {
    size_t at = spread->count + 1;
    while (at != spread->count) {
        const struct step *step = &paths->step[at];
        const bool more = !step->backwards;
        if (step->kind == ARC_WISH_OUT)
            flow->wish_out[step->index] = more;
        else if (step->kind == ARC_WISH_BACK)
            flow->wish_back[step->index] = more;
        else if (step->kind == ARC_LO)
            flow->lo[step->index] += more ? 1U : -1U;
        else if (step->kind == ARC_HI)
            flow->hi[step->index] += more ? 1U : -1U;
        else
            flow->order[step->index] += more ? 1U : -1U;
        at = step->from;
    }
}

double spread_solve(const struct spread *spread, double *x) {
    struct flow flow;
    memset(&flow, 0, sizeof flow);
    struct paths paths;
    for (size_t unit = 0; unit <= 2 * spread->count; unit++) {
        find_paths(spread, &flow, &paths);
        if (!(paths.far[spread->count + 1] > NOTHING))
            break;
        augment(spread, &paths, &flow);
    }
    double sum = 0;
    for (size_t i = 0; i < spread->count; i++) {
        x[i] = fmax(spread->lo[i], fmin(spread->hi[i], paths.far[i]));
        sum += fabs(x[i] - spread->want[i]);
    }
    return sum;
}
