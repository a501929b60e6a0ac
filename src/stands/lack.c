/* Convex functions of one length, as sums of hinges. */
#include "lack.h"

#include "length.h"

#include <math.h>

static void add_hinge(struct lack *lack, struct hinge hinge) {
    for (size_t i = 0; i < lack->count; i++)
        if (length_same(lack->hinges[i].at, hinge.at)) {
            lack->hinges[i].below += hinge.below;
            lack->hinges[i].above += hinge.above;
            return;
        }
    if (lack->count == LACK_HINGES_MOST) {
        lack->full = true;
        return;
    }
    size_t at = lack->count++;
    for (; at > 0 && lack->hinges[at - 1].at > hinge.at; at--)
        lack->hinges[at] = lack->hinges[at - 1];
    lack->hinges[at] = hinge;
}

void lack_window(struct lack *lack, double lo, double hi, double weight) {
    if (lo > hi) {
        const double middle = (lo + hi) / 2;
        lack->base += weight * (lo - hi) / 2;
        add_hinge(lack, (struct hinge){middle, weight, weight});
        return;
    }
    if (lo > -INFINITY)
        add_hinge(lack, (struct hinge){lo, weight, 0});
    if (hi < INFINITY)
        add_hinge(lack, (struct hinge){hi, 0, weight});
}

void lack_add(struct lack *lack, const struct lack *other) {
    lack->base += other->base;
    lack->full = lack->full || other->full;
    for (size_t i = 0; i < other->count; i++)
        add_hinge(lack, other->hinges[i]);
}

double lack_at(const struct lack *lack, double x) {
    double sum = lack->base;
    for (size_t i = 0; i < lack->count; i++) {
        const struct hinge *hinge = &lack->hinges[i];
        sum += x < hinge->at ? hinge->below * (hinge->at - x) : hinge->above * (x - hinge->at);
    }
    return sum;
}

double lack_beyond(struct interval inside, double at) {
    return length_greater(0, length_greater(inside.lo - at, at - inside.hi));
}

/* The slope just beyond the i-th hinge; SIZE_MAX: before the first. */
static double slope_after(const struct lack *lack, size_t i) {
    double slope = 0;
    for (size_t h = 0; h < lack->count; h++)
        slope += i != SIZE_MAX && h <= i ? lack->hinges[h].above : -lack->hinges[h].below;
    return slope;
}

void lack_settle(struct lack *lack) {
    static const double level = 1e-9; /* slopes are sums of halves and whole numbers */
    double slope = 0;
    for (size_t i = 0; i < lack->count; i++)
        slope -= lack->hinges[i].below;
    lack->flat = (struct interval){-INFINITY, INFINITY};
    for (size_t i = 0; i < lack->count; i++) {
        if (slope < -level)
            lack->flat.lo = lack->hinges[i].at;
        slope += lack->hinges[i].below + lack->hinges[i].above;
        if (slope > level) {
            lack->flat.hi = lack->hinges[i].at;
            break;
        }
    }
    const double inside = lack->flat.lo > -INFINITY  ? lack->flat.lo
                          : lack->flat.hi < INFINITY ? lack->flat.hi
                                                     : 0;
    lack->least = lack_at(lack, inside);
}

struct interval lack_best(const struct lack *lack, struct interval within, double *least) {
    const struct interval flat = lack->flat;
    if (flat.lo <= within.hi && flat.hi >= within.lo) {
        *least = lack->least;
        return (struct interval){length_greater(flat.lo, within.lo),
                                 length_lesser(flat.hi, within.hi)};
    }
    const double end = flat.lo > within.hi ? within.hi : within.lo;
    *least = lack_at(lack, end);
    return (struct interval){end, end};
}

/* A straight piece. */
struct piece {
    double slope, length;
};
enum { PIECES_MOST = 2 * (LACK_HINGES_MOST + 1) };

/* The pieces of a function within an interval, by rising slope. */
static size_t cut(const struct lack *lack, struct interval within, struct piece *pieces) {
    size_t count = 0;
    double from = within.lo;
    for (size_t i = 0; i <= lack->count; i++) {
        const double to =
            i < lack->count ? length_lesser(lack->hinges[i].at, within.hi) : within.hi;
        if (to <= from)
            continue;
        pieces[count++] = (struct piece){slope_after(lack, i - 1), to - from};
        from = to;
    }
    return count;
}

/* Convex pieces from a start on, as hinges; `value` there. */
static void hang(struct lack *lack, double start, double value, const struct piece *pieces,
                 size_t count) {
    double at = start, least = value, before = 0;
    for (size_t i = 0; i <= count; i++) {
        const double slope = i < count ? pieces[i].slope : 0;
        const bool first = i == 0, last = i == count;
        const double below = (last ? 0 : length_lesser(slope, 0)) -
                             (first ? length_lesser(slope, 0) : length_lesser(before, 0));
        const double above = (last ? length_greater(before, 0) : length_greater(slope, 0)) -
                             (first ? 0 : length_greater(before, 0));
        if (below > 0 || above > 0)
            add_hinge(lack, (struct hinge){at, below, above});
        if (last)
            break;
        least += length_lesser(slope, 0) * pieces[i].length;
        at += pieces[i].length;
        before = slope;
    }
    lack->base += least;
}

struct interval lack_meet(const struct lack *line, struct interval line_in, const struct lack *met,
                          struct interval met_in, struct lack *both) {
    struct piece lines[PIECES_MOST], mets[PIECES_MOST], all[2 * PIECES_MOST];
    const size_t line_count = cut(line, line_in, lines), met_count = cut(met, met_in, mets);
    size_t count = 0, next = 0, back = met_count;
    while (next < line_count || back > 0) {
        /* Y = y - v: seen from Y, the second function runs backwards. */
        const bool first =
            back == 0 || (next < line_count && lines[next].slope <= -mets[back - 1].slope);
        if (first) {
            all[count++] = lines[next++];
        } else {
            back--;
            all[count++] = (struct piece){-mets[back].slope, mets[back].length};
        }
    }
    const struct interval y = {line_in.lo - met_in.hi, line_in.hi - met_in.lo};
    both->full = both->full || line->full || met->full;
    hang(both, y.lo, lack_at(line, line_in.lo) + lack_at(met, met_in.hi), all, count);
    return y;
}

/* How fast it rises beyond a place, upwards or downwards. */
static double rise(const struct lack *lack, double at, bool up) {
    double slope = 0;
    for (size_t i = 0; i < lack->count; i++) {
        const struct hinge *hinge = &lack->hinges[i];
        const bool over = up ? hinge->at <= at : hinge->at < at;
        slope += over ? hinge->above : -hinge->below;
    }
    return up ? slope : -slope;
}

struct line_best lack_line(const struct lack *line, struct interval line_in, const struct lack *met,
                           struct interval met_in, double y) {
    struct lack sum = *line;
    const struct interval within = {length_greater(line_in.lo, met_in.lo + y),
                                    length_lesser(line_in.hi, met_in.hi + y)};
    double least;
    for (size_t i = 0; i < met->count; i++)
        add_hinge(&sum, (struct hinge){met->hinges[i].at + y, met->hinges[i].below,
                                       met->hinges[i].above});
    lack_settle(&sum);
    const double middle = (within.lo + within.hi) / 2;
    if (within.lo > within.hi)
        return (struct line_best){{middle, middle}, {middle, middle}, INFINITY, INFINITY};
    const struct interval best = lack_best(&sum, within, &least);
    return (struct line_best){best, within,
                              best.lo > within.lo ? rise(&sum, best.lo, false) : INFINITY,
                              best.hi < within.hi ? rise(&sum, best.hi, true) : INFINITY};
}

int lack_order(const struct lack *a, const struct lack *b) {
    if (a == b)
        return 0;
    if (a->count != b->count)
        return a->count < b->count ? -1 : 1;
    if (!length_same(a->base, b->base))
        return a->base < b->base ? -1 : 1;
    for (size_t i = 0; i < a->count; i++) {
        const double one[3] = {a->hinges[i].at, a->hinges[i].below, a->hinges[i].above};
        const double other[3] = {b->hinges[i].at, b->hinges[i].below, b->hinges[i].above};
        for (int k = 0; k < 3; k++)
            if (!length_same(one[k], other[k]))
                return one[k] < other[k] ? -1 : 1;
    }
    return 0;
}

bool lack_same(const struct lack *a, const struct lack *b) {
    return lack_order(a, b) == 0;
}
