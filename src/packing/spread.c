/* The least sum of distances under orders and bounds is a linear program whose dual is a flow: a
 * unit from the point 0 to each wish and back may go where that pays.  It is solved by augmenting
 * along longest paths; see Ahuja, Magnanti, Orlin: Network Flows (1993), chapters 9 and 14 (from
 * memory). */
#include "spread.h"

#include "length.h"

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
 * order, and of what it would rather have; of each pull.  Bounds and orders carry any amount. */
struct flow {
    double wish_out[ROOF_BRACKETS_MOST], wish_back[ROOF_BRACKETS_MOST];
    double lo[POINTS_MOST], hi[POINTS_MOST];
    double order[ORDERS_MOST], rather[ORDERS_MOST];
    double pull_out[PULLS_MOST], pull_back[PULLS_MOST];
    double tie[CLAIMS_MOST], hold[HOLDS_MOST];
};

/* How a node was reached: over which arc, forwards or backwards, from which node. */
struct step {
    double *flow; /* of the arc */
    double most;  /* that it carries */
    size_t from;
    bool backwards;
};

/* Nodes are the points, then where flow begins and where it ends; both stand for 0. */
struct paths {
    double far[POINTS_MOST + 2];
    struct step step[POINTS_MOST + 2];
    size_t last; /* to be reached in another way */
    bool moved;  /* in the last round: then some path goes round in a circle */
};

static void relax(struct paths *paths, size_t to, double gain, struct step step) {
    if (!(paths->far[step.from] + gain > paths->far[to] + NOTHING))
        return;
    paths->far[to] = paths->far[step.from] + gain;
    paths->step[to] = step;
    paths->last = to;
    paths->moved = true;
}

/* An arc, and the way back over what flows along it. */
static void relax_both(struct paths *paths, size_t from, size_t to, double gain, double *flow,
                       double most) {
    if (*flow < most - NOTHING)
        relax(paths, to, gain, (struct step){.flow = flow, .most = most, .from = from});
    if (*flow > NOTHING)
        relax(paths, from, -gain,
              (struct step){.flow = flow, .most = most, .from = to, .backwards = true});
}

static size_t points_of(const struct spread *spread, const struct pulls *pulls) {
    return spread->count + pulls->rider_count;
}

static struct interval bounds_of(const struct spread *spread, const struct pulls *pulls, size_t i) {
    if (i < spread->count)
        return (struct interval){spread->lo[i], spread->hi[i]};
    const struct rider *rider = &pulls->riders[i - spread->count];
    return (struct interval){rider->lo, rider->hi};
}

static void relax_all(const struct spread *spread, const struct pulls *pulls, struct flow *flow,
                      struct paths *paths) {
    const size_t points = points_of(spread, pulls), begin = points, end = begin + 1;
    for (size_t i = 0; i < points; i++)
        relax_both(paths, begin, i, bounds_of(spread, pulls, i).lo, &flow->lo[i], INFINITY);
    for (size_t i = 0; i < spread->count; i++)
        relax_both(paths, begin, i, spread->want[i], &flow->wish_out[i], 1);
    for (size_t k = 0; k < pulls->count; k++)
        relax_both(paths, begin, pulls->list[k].point, pulls->list[k].at, &flow->pull_out[k],
                   pulls->list[k].below);
    for (size_t k = 0; k < spread->order_count; k++) {
        const struct order *order = &spread->orders[k];
        relax_both(paths, order->before, order->after, order->by, &flow->order[k], INFINITY);
        relax_both(paths, order->before, order->after, order->rather, &flow->rather[k],
                   order->weight);
    }
    for (size_t k = 0; k < pulls->tie_count; k++)
        relax_both(paths, pulls->ties[k].before, pulls->ties[k].after, pulls->ties[k].rather,
                   &flow->tie[k], pulls->ties[k].weight);
    for (size_t k = 0; k < pulls->hold_count; k++)
        relax_both(paths, pulls->holds[k].before, pulls->holds[k].after, pulls->holds[k].rather,
                   &flow->hold[k], INFINITY);
    for (size_t k = 0; k < pulls->count; k++)
        relax_both(paths, pulls->list[k].point, end, -pulls->list[k].at, &flow->pull_back[k],
                   pulls->list[k].above);
    for (size_t i = 0; i < points; i++)
        relax_both(paths, i, end, -bounds_of(spread, pulls, i).hi, &flow->hi[i], INFINITY);
    for (size_t i = 0; i < spread->count; i++)
        relax_both(paths, i, end, -spread->want[i], &flow->wish_back[i], 1);
}

/* The longest paths from where flow begins; at the end, 0 at least. */
static void find_paths(const struct spread *spread, const struct pulls *pulls, struct flow *flow,
                       struct paths *paths) {
    const size_t points = points_of(spread, pulls), begin = points, end = begin + 1;
    for (size_t i = 0; i < points; i++)
        paths->far[i] = -INFINITY;
    paths->far[begin] = paths->far[end] = 0;
    paths->step[begin] = paths->step[end] = (struct step){.flow = NULL};
    paths->moved = true;
    for (size_t round = 0; round < 2 * points + 4 && paths->moved; round++) {
        paths->moved = false;
        relax_all(spread, pulls, flow, paths);
    }
}

/* As much more along the path to `end` as it carries, from `begin`, or all round where that is the
 * same; false where that has no end. */
static bool push(const struct paths *paths, size_t begin, size_t end) {
    double amount = INFINITY;
    size_t at = end;
    do {
        const struct step *step = &paths->step[at];
        if (!step->flow)
            return false;
        amount = length_lesser(amount, step->backwards ? *step->flow : step->most - *step->flow);
        at = step->from;
    } while (at != begin);
    if (!(amount < INFINITY))
        return false;
    do {
        const struct step *step = &paths->step[at == begin ? end : at];
        *step->flow += step->backwards ? -amount : amount;
        at = step->from;
    } while (at != begin);
    return true;
}

/* A point of the circle that is behind the last one to be reached. */
static size_t on_circle(size_t points, const struct paths *paths) {
    size_t at = paths->last;
    for (size_t i = 0; i < points + 2 && paths->step[at].flow; i++)
        at = paths->step[at].from;
    return at;
}

/* More along the longest path; first round every circle that gains, as what two orders would rather
 * have can make one. */
static bool augment(size_t points, const struct paths *paths) {
    const size_t begin = points;
    if (!paths->moved)
        return push(paths, begin, begin + 1);
    const size_t at = on_circle(points, paths);
    return push(paths, at, at);
}

/* Nothing flows yet: only what there is is set, which is little of what there is room for. */
static void clear_flow(const struct spread *spread, const struct pulls *pulls, struct flow *flow) {
    const size_t wishes = spread->count * sizeof(double);
    const size_t points = points_of(spread, pulls) * sizeof(double);
    memset(flow->wish_out, 0, wishes);
    memset(flow->wish_back, 0, wishes);
    memset(flow->lo, 0, points);
    memset(flow->hi, 0, points);
    memset(flow->order, 0, spread->order_count * sizeof(double));
    memset(flow->rather, 0, spread->order_count * sizeof(double));
    memset(flow->pull_out, 0, pulls->count * sizeof(double));
    memset(flow->pull_back, 0, pulls->count * sizeof(double));
    memset(flow->tie, 0, pulls->tie_count * sizeof(double));
    memset(flow->hold, 0, pulls->hold_count * sizeof(double));
}

bool spread_solve(const struct spread *spread, const struct pulls *pulls, double x[POINTS_MOST]) {
    struct flow flow;
    struct paths paths;
    const size_t points = points_of(spread, pulls);
    clear_flow(spread, pulls, &flow);
    const size_t most = 8 * (2 * points + 2 * pulls->count + pulls->tie_count + pulls->hold_count +
                             spread->order_count);
    bool good = true;
    for (size_t times = 0; good; times++) {
        find_paths(spread, pulls, &flow, &paths);
        if (!paths.moved && !(paths.far[points + 1] > NOTHING))
            break;
        good = times < most && augment(points, &paths);
    }
    for (size_t i = 0; i < points; i++) {
        const struct interval bounds = bounds_of(spread, pulls, i);
        x[i] = length_greater(bounds.lo, length_lesser(bounds.hi, paths.far[i]));
    }
    return good;
}
