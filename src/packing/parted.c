/* Parts that are settled to be apart in one way: what that leaves of bounds and spots, and what it
 * is known to lack. */
#include "parts.h"

#include "length.h"

#include <math.h>

static bool same_crossing(const struct crossing *a, const struct crossing *b) {
    bool same = true;
    for (int i = 0; i < 2; i++)
        same = same && a->bracket[i] == b->bracket[i] && a->kind[i] == b->kind[i] &&
               a->row[i] == b->row[i];
    return same;
}

const struct parted *packing_parted(const struct packing *packing,
                                    const struct crossing *crossing) {
    for (size_t i = 0; i < packing->parted_count; i++)
        if (same_crossing(&packing->parted[i].crossing, crossing))
            return &packing->parted[i];
    return NULL;
}

bool packing_part(struct packing *packing, const struct crossing *crossing, enum way way) {
    if (packing->parted_count == PARTED_MOST)
        return false;
    packing->parted[packing->parted_count++] =
        (struct parted){.crossing = *crossing, .way = way, .by = -INFINITY};
    return true;
}

/* The least that ends of spots come to: of a high end downwards, of a low one upwards. */
struct mild {
    struct end end;
    bool uniform; /* all come to that */
};

static struct mild mildest(const struct packing *packing, const struct crossing *crossing,
                           int which, int axis, bool high, enum drawing drawing) {
    const struct pile *pile = &packing->piles[crossing->bracket[which]];
    struct mild mild = {.uniform = true};
    for (size_t i = 0; i < pile->left; i++) {
        const struct end end =
            parts_end(packing->task, crossing, which, &pile->spots[i], axis, high, drawing);
        struct end *best = &mild.end;
        if (i == 0)
            *best = end;
        mild.uniform =
            mild.uniform && length_same(best->fixed, end.fixed) && length_same(best->rel, end.rel);
        best->fixed =
            high ? length_lesser(best->fixed, end.fixed) : length_greater(best->fixed, end.fixed);
        best->rel = high ? length_lesser(best->rel, end.rel) : length_greater(best->rel, end.rel);
    }
    return mild;
}

/* Spots of one of both whose end, even where the bracket had best stand, is beyond `limit`. */
static void drop_beyond(struct packing *packing, const struct crossing *crossing, int which,
                        int axis, bool high, double limit, bool *moved) {
    const size_t b = crossing->bracket[which];
    const struct spread *spread = &packing->axes[axis];
    struct pile *pile = &packing->piles[b];
    for (size_t i = pile->left; i-- > 0;) {
        const struct spot *spot = &pile->spots[i];
        const struct interval side = packing_side(spot, axis);
        const struct end end =
            parts_end(packing->task, crossing, which, spot, axis, high, DRAWN_HARD);
        const double at = high ? length_greater(side.lo, spread->lo[b]) + end.rel
                               : length_lesser(side.hi, spread->hi[b]) + end.rel;
        const double reach = high ? length_greater(end.fixed, at) : length_lesser(end.fixed, at);
        if (high ? reach <= limit + SAME : reach >= limit - SAME)
            continue;
        packing_drop(pile, i);
        *moved = true;
    }
}

/* The order that the ends that go with both brackets ask for, where it asks for more than before.
 */
static bool order_parts(struct packing *packing, struct parted *parted, double by) {
    struct spread *spread = &packing->axes[packing_axis(parted->way)];
    const int first = parts_first(parted->way);
    if (!(by > -INFINITY) || by <= parted->by + SAME)
        return true;
    if (spread->order_count == ORDERS_MOST)
        return false;
    spread->orders[spread->order_count++] =
        (struct order){.before = parted->crossing.bracket[first],
                       .after = parted->crossing.bracket[1 - first],
                       .by = by,
                       .rather = by};
    parted->by = by;
    return true;
}

/* What is surely lacked of two parted parts is told by one of both kinds of ends each: the one that
 * goes with the bracket where it is the outer one all over the bounds, otherwise the fixed one. */
struct lacking {
    size_t bracket[2]; /* the first in the way, the second */
    bool goes[2], uniform, none;
    double reach[2], weight;
};

/* By the mildest ends of both. */
static struct lacking lacking_by(const struct packing *packing, const struct parted *parted,
                                 struct mild high, struct mild low) {
    const struct crossing *crossing = &parted->crossing;
    const int axis = packing_axis(parted->way), first = parts_first(parted->way);
    struct lacking lacking = {.bracket = {crossing->bracket[first], crossing->bracket[1 - first]},
                              .uniform = high.uniform && low.uniform,
                              .weight = parts_weight(crossing)};
    const struct spread *spread = &packing->axes[axis];
    lacking.goes[0] = high.end.rel > -INFINITY &&
                      spread->lo[lacking.bracket[0]] + high.end.rel >= high.end.fixed - SAME;
    lacking.goes[1] = low.end.rel < INFINITY &&
                      spread->hi[lacking.bracket[1]] + low.end.rel <= low.end.fixed + SAME;
    lacking.reach[0] = lacking.goes[0] ? high.end.rel : high.end.fixed;
    lacking.reach[1] = lacking.goes[1] ? low.end.rel : low.end.fixed;
    lacking.none = !(fabs(lacking.reach[0]) < INFINITY) || !(fabs(lacking.reach[1]) < INFINITY);
    return lacking;
}

/* Whether what gives way at an end of a crossing, a foot's lag or a row's line, is that of the
 * other one's. */
static bool same_giver(const struct crossing *one, int a, const struct crossing *other, int b,
                       int axis) {
    return one->bracket[a] == other->bracket[b] && one->row[a] == other->row[b] &&
           other->kind[b] != PART_BOX && (axis == UP || one->kind[a] == other->kind[b]);
}

/* The same of all spots that are left. */
static double least_worth(const struct packing *packing, const struct crossing *crossing, int which,
                          int axis, bool high) {
    const struct pile *pile = &packing->piles[crossing->bracket[which]];
    double least = INFINITY;
    for (size_t i = 0; i < pile->left; i++)
        least = length_lesser(
            least, parts_worth(packing->task, crossing, which, &pile->spots[i], axis, high));
    return least;
}

/* From where on an end counts.  A foot's lag and a line lack at least as much by giving way as they
 * may gain by it, but not from any number of parts: those that were parted later count only from
 * where the level lets it give way. */
static enum drawing drawing_of(const struct packing *packing, const struct parted *parted,
                               int which) {
    const struct crossing *own = &parted->crossing;
    const int axis = packing_axis(parted->way);
    const bool high = which == parts_first(parted->way);
    double gain = parts_weight(own);
    for (const struct parted *other = packing->parted; other < parted; other++)
        for (int end = 0; end < 2; end++)
            if (packing_axis(other->way) == axis && (end == parts_first(other->way)) == high &&
                same_giver(own, which, &other->crossing, end, axis))
                gain += parts_weight(&other->crossing);
    return gain <= least_worth(packing, own, which, axis, high) + LACK_SAME ? DRAWN_FREE
                                                                            : DRAWN_HARD;
}

static struct mild free_end(const struct packing *packing, const struct parted *parted,
                            bool first) {
    const int which = first ? parts_first(parted->way) : 1 - parts_first(parted->way);
    return mildest(packing, &parted->crossing, which, packing_axis(parted->way), first,
                   drawing_of(packing, parted, which));
}

static struct lacking lacking_of(const struct packing *packing, const struct parted *parted) {
    return lacking_by(packing, parted, free_end(packing, parted, true),
                      free_end(packing, parted, false));
}

/* An order for what is lacked between two brackets that both ends go with; false without room. */
static bool order_lacking(struct packing *packing, struct parted *parted, struct mild mild_high,
                          struct mild mild_low) {
    const struct lacking lacking = lacking_by(packing, parted, mild_high, mild_low);
    struct spread *spread = &packing->axes[packing_axis(parted->way)];
    if (lacking.none || !lacking.goes[0] || !lacking.goes[1] || !lacking.uniform)
        return true;
    if (spread->order_count == ORDERS_MOST)
        return false;
    spread->orders[spread->order_count++] =
        (struct order){.before = lacking.bracket[0],
                       .after = lacking.bracket[1],
                       .by = spread->lo[lacking.bracket[1]] - spread->hi[lacking.bracket[0]],
                       .rather = lacking.reach[0] - lacking.reach[1],
                       .weight = lacking.weight * SPREAD_LACK};
    parted->soft = true;
    return true;
}

static bool narrow_one(struct packing *packing, struct parted *parted, bool *moved) {
    const struct crossing *crossing = &parted->crossing;
    const int axis = packing_axis(parted->way), first = parts_first(parted->way),
              second = 1 - first;
    struct spread *spread = &packing->axes[axis];
    const size_t u = crossing->bracket[first], v = crossing->bracket[second];
    const double gap = parts_gap(packing->task, crossing);
    const struct end high = mildest(packing, crossing, first, axis, true, DRAWN_HARD).end;
    const struct end low = mildest(packing, crossing, second, axis, false, DRAWN_HARD).end;
    const double lo = high.fixed + gap - low.rel, hi = low.fixed - gap - high.rel;
    if (high.fixed + gap > low.fixed + SAME)
        return false;
    *moved = *moved || lo > spread->lo[v] + SAME || hi < spread->hi[u] - SAME;
    spread->lo[v] = length_greater(spread->lo[v], lo);
    spread->hi[u] = length_lesser(spread->hi[u], hi);
    const double before = parted->by;
    if (!order_parts(packing, parted, high.rel + gap - low.rel))
        packing->loose = true;
    if (packing->task->misses && !parted->soft &&
        !order_lacking(packing, parted, free_end(packing, parted, true),
                       free_end(packing, parted, false)))
        packing->loose = true;
    *moved = *moved || parted->by > before;
    drop_beyond(packing, crossing, first, axis, true,
                length_lesser(low.fixed, spread->hi[v] + low.rel) - gap, moved);
    drop_beyond(packing, crossing, second, axis, false,
                length_greater(high.fixed, spread->lo[u] + high.rel) + gap, moved);
    return packing->piles[u].left > 0 && packing->piles[v].left > 0;
}

bool packing_narrow_parted(struct packing *packing, bool *moved) {
    for (size_t i = 0; i < packing->parted_count; i++)
        if (!narrow_one(packing, &packing->parted[i], moved))
            return false;
    return true;
}

/* That at places along the axis. */
static double value_of(const struct lacking *lacking, const double *at) {
    double value = lacking->reach[0] - lacking->reach[1];
    for (int i = 0; i < 2; i++)
        if (lacking->goes[i])
            value += i == 0 ? at[lacking->bracket[0]] : -at[lacking->bracket[1]];
    return lacking->weight * length_greater(0, value);
}

/* Neither an order nor a pull has what is lacked between two brackets with ends that differ. */
static bool is_told(const struct parted *parted, const struct lacking *lacking) {
    return !lacking->none && (parted->soft || !lacking->goes[0] || !lacking->goes[1]);
}

double packing_parted_lack(const struct packing *packing, const struct places *places) {
    double sum = 0;
    for (size_t i = 0; i < packing->parted_count; i++) {
        const struct parted *parted = &packing->parted[i];
        const struct lacking lacking = lacking_of(packing, parted);
        if (is_told(parted, &lacking) && !parted->soft)
            sum += value_of(&lacking, places->at[packing_axis(parted->way)]);
    }
    return sum;
}

double packing_parted_least(const struct packing *packing) {
    double sum = 0;
    for (size_t i = 0; i < packing->parted_count; i++) {
        const struct parted *parted = &packing->parted[i];
        const struct lacking lacking = lacking_of(packing, parted);
        const struct spread *spread = &packing->axes[packing_axis(parted->way)];
        double value = lacking.reach[0] - lacking.reach[1];
        if (lacking.none)
            continue;
        value += lacking.goes[0] ? spread->lo[lacking.bracket[0]] : 0;
        value -= lacking.goes[1] ? spread->hi[lacking.bracket[1]] : 0;
        sum += lacking.weight * length_greater(0, value);
    }
    return sum;
}

size_t packing_parted_pulls(const struct packing *packing, int axis, struct pull *pulls,
                            size_t count) {
    for (size_t i = 0; i < packing->parted_count; i++) {
        const struct parted *parted = &packing->parted[i];
        if (packing_axis(parted->way) != axis || parted->soft)
            continue;
        const struct lacking lacking = lacking_of(packing, parted);
        const double weight = lacking.weight * SPREAD_LACK;
        const double at = lacking.reach[1] - lacking.reach[0];
        if (lacking.none || lacking.goes[0] == lacking.goes[1])
            continue;
        pulls[count++] = lacking.goes[0] ? (struct pull){lacking.bracket[0], at, 0, weight}
                                         : (struct pull){lacking.bracket[1], -at, weight, 0};
    }
    return count;
}

bool packing_find_turn(const struct packing *packing, const struct parted *parted, size_t *bracket,
                       double *at) {
    const int axis = packing_axis(parted->way), first = parts_first(parted->way);
    const struct spread *spread = &packing->axes[axis];
    for (int i = 0; i < 2; i++) {
        const int which = i == 0 ? first : 1 - first;
        const struct end end = free_end(packing, parted, i == 0).end;
        const size_t b = parted->crossing.bracket[which];
        *bracket = b;
        *at = end.fixed - end.rel;
        if (*at > spread->lo[b] + SAME && *at < spread->hi[b] - SAME)
            return true;
    }
    return false;
}

static double figure_of(const struct end *end, bool fixed) {
    return fixed ? end->fixed : end->rel;
}

bool packing_reaches(const struct packing *packing, const struct reach *reach,
                     const struct spot *spot) {
    const struct crossing crossing = {
        .bracket = {reach->bracket}, .kind = {(int)reach->kind}, .row = {(int)reach->row}};
    const struct end end =
        parts_end(packing->task, &crossing, 0, spot, reach->axis, reach->high, reach->drawing);
    const double at = figure_of(&end, reach->fixed);
    return reach->high ? at >= reach->at - SAME : at <= reach->at + SAME;
}

bool packing_find_reach(const struct packing *packing, const struct places *places,
                        const struct parted *parted, struct reach *reach) {
    const int first = parts_first(parted->way);
    for (int i = 0; i < 8; i++) {
        const int which = i / 4 == 0 ? first : 1 - first;
        const size_t b = parted->crossing.bracket[which];
        const struct pile *pile = &packing->piles[b];
        *reach = (struct reach){.bracket = b,
                                .kind = (enum part)parted->crossing.kind[which],
                                .row = (enum row)parted->crossing.row[which],
                                .axis = packing_axis(parted->way),
                                .high = which == first,
                                .fixed = i / 2 % 2 == 0,
                                .drawing = (enum drawing)(i % 2)};
        const struct end own =
            parts_end(packing->task, &parted->crossing, which, &pile->spots[places->spot[b]],
                      reach->axis, reach->high, reach->drawing);
        reach->at = figure_of(&own, reach->fixed);
        for (size_t s = 0; s < pile->left; s++)
            if (!packing_reaches(packing, reach, &pile->spots[s]))
                return true;
    }
    return false;
}

double packing_parted_told(const struct packing *packing, const struct crossing *crossing,
                           const struct places *places) {
    const struct parted *parted = packing_parted(packing, crossing);
    if (!parted)
        return 0;
    const struct lacking lacking = lacking_of(packing, parted);
    return is_told(parted, &lacking) ? value_of(&lacking, places->at[packing_axis(parted->way)])
                                     : 0;
}
