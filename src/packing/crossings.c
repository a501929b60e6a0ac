/* Struts reach beyond their brackets, and lags and flashings at their ends with them: parts of two
 * brackets that stand apart can still be in each other's way.  Two parts are apart in one of four
 * ways, as brackets are.  Where a part ends depends on its spot: on a fixed place, or on one that
 * goes with the bracket, whichever is further out. */
#include "node.h"

#include "length.h"

#include <math.h>

/* One end of a part: of a high one the larger of both, of a low one the lesser. */
struct end {
    double fixed, rel;
};

static const struct parcel *parcel_of(const struct packing *packing, size_t b) {
    return &packing->task->parcels[b];
}

static const struct arm *arm_of(const struct parcel *parcel, const struct spot *spot, int row) {
    return &parcel->arms->list[spot->stand][row];
}

/* Up the slope: the line lies as low (to end low) or as high as it can. */
static struct end end_up(const struct arms *arms, const struct arm *arm, int kind, bool high) {
    const double off = high ? (kind == PART_STRUT ? arms->half : arms->up)
                            : -(kind == PART_STRUT ? arms->half : arms->down);
    const int side = high ? 0 : 1;
    return (struct end){arm->line[side] + off, arm->rise[side] + off};
}

static struct end end_along(const struct arms *arms, const struct arm *arm, int kind, bool high) {
    const double off = kind == PART_STRUT ? arms->end : arms->side;
    const double none = high ? -INFINITY : INFINITY;
    const int lag = kind == PART_FIRST || (kind == PART_STRUT && !high) ? 0 : 1;
    return (struct end){
        arm->lags[lag] + (high ? off : -off),
        kind == PART_STRUT ? arm->clamps[lag] + (high ? off : -off) : none,
    };
}

static bool is_there(const struct arm *arm, int kind) {
    return kind == PART_FIRST  ? arm->there && arm->beyond[SIDE_NEAR]
           : kind == PART_LAST ? arm->there && arm->beyond[SIDE_FAR]
                               : arm->there;
}

static struct end end_of(const struct packing *packing, const struct crossing *crossing, int which,
                         const struct spot *spot, int axis, bool high) {
    const struct parcel *parcel = parcel_of(packing, crossing->bracket[which]);
    const int kind = crossing->kind[which];
    if (kind == PART_BOX)
        return (struct end){high ? -INFINITY : INFINITY,
                            high ? packing_size(packing, crossing->bracket[which], axis) : 0};
    const struct arm *arm = arm_of(parcel, spot, crossing->row[which]);
    if (!is_there(arm, kind)) /* in nobody's way */
        return (struct end){high ? -INFINITY : INFINITY, high ? -INFINITY : INFINITY};
    return axis == ALONG ? end_along(parcel->arms, arm, kind, high)
                         : end_up(parcel->arms, arm, kind, high);
}

/* How far apart the rule between such parts wants them; -INFINITY: there is none. */
static double gap_of(const struct packing *packing, const struct crossing *crossing) {
    const double level = length_greater(parcel_of(packing, crossing->bracket[0])->level,
                                        parcel_of(packing, crossing->bracket[1])->level);
    const int one = crossing->kind[0], other = crossing->kind[1];
    if ((one == PART_BOX) != (other == PART_BOX))
        return one == PART_STRUT || other == PART_STRUT ? level : -INFINITY;
    if (one == PART_BOX || (one == PART_STRUT) != (other == PART_STRUT))
        return -INFINITY;
    return 2 * level;
}

/* Which of a crossing's two comes first in a way. */
static int first_in(enum way way) {
    return way == WAY_AFTER || way == WAY_OVER ? 0 : 1;
}

/* Two brackets in spots, at places. */
struct seats {
    const struct spot *spot[2];
    double at[2][AXIS_COUNT];
};

/* How far one part reaches into the other in a way. */
static double depth_of(const struct packing *packing, const struct crossing *crossing,
                       const struct seats *seats, enum way way) {
    const int axis = packing_axis(way), first = first_in(way), second = 1 - first;
    const struct end high = end_of(packing, crossing, first, seats->spot[first], axis, true);
    const struct end low = end_of(packing, crossing, second, seats->spot[second], axis, false);
    return length_greater(high.fixed, seats->at[first][axis] + high.rel) -
           length_lesser(low.fixed, seats->at[second][axis] + low.rel);
}

static double excess_of(const struct packing *packing, const struct crossing *crossing,
                        const struct seats *seats, enum way way) {
    return depth_of(packing, crossing, seats, way) + gap_of(packing, crossing);
}

static double overlap_of(const struct packing *packing, const struct crossing *crossing,
                         const struct seats *seats) {
    double least = INFINITY;
    for (int way = WAY_AFTER; way <= WAY_UNDER && least > SAME; way++)
        least = length_lesser(least, excess_of(packing, crossing, seats, (enum way)way));
    return least;
}

static bool there(const struct packing *packing, const struct crossing *crossing,
                  const struct seats *seats) {
    for (int i = 0; i < 2; i++) {
        const int kind = crossing->kind[i];
        if (kind != PART_BOX && !is_there(arm_of(parcel_of(packing, crossing->bracket[i]),
                                                 seats->spot[i], crossing->row[i]),
                                          kind))
            return false;
    }
    return gap_of(packing, crossing) > -INFINITY;
}

/* The next of all crossings of two brackets between whose parts there is a rule; false: that was
 * the last one.  The first comes after kind[0] = PART_NONE. */
static bool next_crossing(const struct packing *packing, const struct seats *seats,
                          struct crossing *crossing) {
    for (;;) {
        int *const count[] = {&crossing->row[1], &crossing->row[0], &crossing->kind[1],
                              &crossing->kind[0]};
        const int most[] = {ROW_COUNT, ROW_COUNT, PART_KINDS, PART_KINDS};
        int i = 0;
        while (i < 4 && ++*count[i] == most[i])
            *count[i++] = 0;
        if (i == 4)
            return false;
        const bool twice = (crossing->kind[0] == PART_BOX && crossing->row[0] > ROW_TOP) ||
                           (crossing->kind[1] == PART_BOX && crossing->row[1] > ROW_TOP);
        if (!twice && there(packing, crossing, seats))
            return true;
    }
}

/* Two brackets before the first of their crossings, two boxes, between which the rule is another.
 */
static struct crossing before_first(size_t a, size_t b) {
    return (struct crossing){.bracket = {a, b}};
}

/* Further apart than any strut reaches beyond its bracket on both sides. */
static bool far_apart(const struct packing *packing, const struct crossing *crossing,
                      const struct seats *seats) {
    double reach = 0;
    for (int i = 0; i < 2; i++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++) {
            const struct parcel *parcel = parcel_of(packing, crossing->bracket[i]);
            const struct arm *arm = arm_of(parcel, seats->spot[i], (enum row)row);
            const double x = seats->at[i][ALONG];
            const double off = length_greater(parcel->arms->end, parcel->arms->side);
            if (!arm->there)
                continue;
            const double low = length_lesser(arm->lags[0], x + arm->clamps[0]) - off;
            const double high = length_greater(arm->lags[1], x + arm->clamps[1]) + off;
            reach = length_greater(reach, length_greater(x - low, high - x - parcel->width));
        }
    const double x[2] = {seats->at[0][ALONG], seats->at[1][ALONG]};
    const double gap =
        length_greater(x[1] - x[0] - parcel_of(packing, crossing->bracket[0])->width,
                       x[0] - x[1] - parcel_of(packing, crossing->bracket[1])->width);
    const double level = length_greater(parcel_of(packing, crossing->bracket[0])->level,
                                        parcel_of(packing, crossing->bracket[1])->level);
    return gap > 2 * reach + 2 * length_greater(level, 0);
}

static void see_pair(const struct packing *packing, const struct seats *seats, size_t a, size_t b,
                     double *deepest, struct crossing *worst) {
    struct crossing crossing = before_first(a, b);
    if (!parcel_of(packing, a)->arms || !parcel_of(packing, b)->arms ||
        far_apart(packing, &crossing, seats))
        return;
    while (next_crossing(packing, seats, &crossing)) {
        const double deep = overlap_of(packing, &crossing, seats);
        if (deep <= *deepest)
            continue;
        *deepest = deep;
        *worst = crossing;
    }
}

static struct seats seats_of(const struct packing *packing, const struct places *places, size_t a,
                             const struct spot *one, size_t b) {
    return (struct seats){.spot = {one, &packing->piles[b].spots[places->spot[b]]},
                          .at = {{places->at[ALONG][a], places->at[UP][a]},
                                 {places->at[ALONG][b], places->at[UP][b]}}};
}

bool packing_crosses_before(const struct packing *packing, const struct places *places, size_t b,
                            const struct spot *spot) {
    double deepest = SAME;
    struct crossing worst;
    for (size_t o = 0; o < b && deepest <= SAME; o++) {
        const struct seats seats = seats_of(packing, places, b, spot, o);
        see_pair(packing, &seats, b, o, &deepest, &worst);
    }
    return deepest > SAME;
}

bool packing_crossed(const struct packing *packing, const struct places *places,
                     struct crossing *worst) {
    double deepest = SAME;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            const struct seats seats =
                seats_of(packing, places, a, &packing->piles[a].spots[places->spot[a]], b);
            see_pair(packing, &seats, a, b, &deepest, worst);
        }
    return deepest > SAME;
}

double packing_cross_excess(const struct packing *packing, const struct places *places,
                            const struct crossing *crossing, enum way way) {
    const size_t a = crossing->bracket[0];
    const struct seats seats = seats_of(
        packing, places, a, &packing->piles[a].spots[places->spot[a]], crossing->bracket[1]);
    return excess_of(packing, crossing, &seats, way);
}

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
                           int which, int axis, bool high) {
    const struct pile *pile = &packing->piles[crossing->bracket[which]];
    struct mild mild = {.uniform = true};
    for (size_t i = 0; i < pile->left; i++) {
        const struct end end = end_of(packing, crossing, which, &pile->spots[i], axis, high);
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
        const struct end end = end_of(packing, crossing, which, spot, axis, high);
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
    const int first = first_in(parted->way);
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

static double weight_of(const struct crossing *crossing) {
    return crossing->kind[0] == PART_BOX || crossing->kind[1] == PART_BOX ? 1 : 0.5;
}

static struct lacking lacking_of(const struct packing *packing, const struct parted *parted) {
    const struct crossing *crossing = &parted->crossing;
    const int axis = packing_axis(parted->way), first = first_in(parted->way);
    const struct mild high = mildest(packing, crossing, first, axis, true);
    const struct mild low = mildest(packing, crossing, 1 - first, axis, false);
    struct lacking lacking = {.bracket = {crossing->bracket[first], crossing->bracket[1 - first]},
                              .uniform = high.uniform && low.uniform,
                              .weight = weight_of(crossing)};
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

/* An order for what is lacked between two brackets that both ends go with; false without room. */
static bool order_lacking(struct packing *packing, struct parted *parted) {
    const struct lacking lacking = lacking_of(packing, parted);
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
    const int axis = packing_axis(parted->way), first = first_in(parted->way), second = 1 - first;
    struct spread *spread = &packing->axes[axis];
    const size_t u = crossing->bracket[first], v = crossing->bracket[second];
    const double gap = gap_of(packing, crossing);
    const struct end high = mildest(packing, crossing, first, axis, true).end;
    const struct end low = mildest(packing, crossing, second, axis, false).end;
    const double lo = high.fixed + gap - low.rel, hi = low.fixed - gap - high.rel;
    if (high.fixed + gap > low.fixed + SAME)
        return false;
    *moved = *moved || lo > spread->lo[v] + SAME || hi < spread->hi[u] - SAME;
    spread->lo[v] = length_greater(spread->lo[v], lo);
    spread->hi[u] = length_lesser(spread->hi[u], hi);
    const double before = parted->by;
    if (!order_parts(packing, parted, high.rel + gap - low.rel))
        packing->loose = true;
    if (packing->task->misses && !parted->soft && !order_lacking(packing, parted))
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
    const int axis = packing_axis(parted->way), first = first_in(parted->way);
    const struct spread *spread = &packing->axes[axis];
    for (int i = 0; i < 2; i++) {
        const int which = i == 0 ? first : 1 - first;
        const struct end end = mildest(packing, &parted->crossing, which, axis, i == 0).end;
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
        .bracket = {reach->bracket}, .kind = {reach->kind}, .row = {reach->row}};
    const struct end end = end_of(packing, &crossing, 0, spot, reach->axis, reach->high);
    const double at = figure_of(&end, reach->fixed);
    return reach->high ? at >= reach->at - SAME : at <= reach->at + SAME;
}

bool packing_find_reach(const struct packing *packing, const struct places *places,
                        const struct parted *parted, struct reach *reach) {
    const int first = first_in(parted->way);
    for (int i = 0; i < 4; i++) {
        const int which = i / 2 == 0 ? first : 1 - first;
        const size_t b = parted->crossing.bracket[which];
        const struct pile *pile = &packing->piles[b];
        *reach = (struct reach){.bracket = b,
                                .kind = (enum part)parted->crossing.kind[which],
                                .row = (enum row)parted->crossing.row[which],
                                .axis = packing_axis(parted->way),
                                .high = which == first,
                                .fixed = i % 2 == 0};
        const struct end own = end_of(packing, &parted->crossing, which,
                                      &pile->spots[places->spot[b]], reach->axis, reach->high);
        reach->at = figure_of(&own, reach->fixed);
        for (size_t s = 0; s < pile->left; s++)
            if (!packing_reaches(packing, reach, &pile->spots[s]))
                return true;
    }
    return false;
}

/* What a crossing lacks at its seats, in the way in which that is least. */
static double lack_of(const struct packing *packing, const struct crossing *crossing,
                      const struct seats *seats) {
    double least = INFINITY;
    for (int way = WAY_AFTER; way <= WAY_UNDER && least > 0; way++)
        least = length_lesser(least, depth_of(packing, crossing, seats, (enum way)way));
    return weight_of(crossing) * length_greater(0, least);
}

/* What the bound has of that. */
static double told_of(const struct packing *packing, const struct crossing *crossing,
                      const struct places *places) {
    const struct parted *parted = packing_parted(packing, crossing);
    if (!parted)
        return 0;
    const struct lacking lacking = lacking_of(packing, parted);
    return is_told(parted, &lacking) ? value_of(&lacking, places->at[packing_axis(parted->way)])
                                     : 0;
}

/* Calls for every crossing of all brackets at places. */
struct look {
    const struct packing *packing;
    const struct places *places;
    double sum, worst;
    struct crossing *lacking;
};

static void look_at(struct look *look, const struct crossing *crossing, const struct seats *seats) {
    const double lack = lack_of(look->packing, crossing, seats);
    look->sum += lack;
    if (lack <= look->worst || !look->lacking)
        return;
    const double beyond = lack - told_of(look->packing, crossing, look->places);
    if (beyond <= look->worst)
        return;
    look->worst = beyond;
    *look->lacking = *crossing;
}

static void look_at_all(struct look *look) {
    const struct packing *packing = look->packing;
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count; b++) {
            if (!parcel_of(packing, a)->arms || !parcel_of(packing, b)->arms)
                continue;
            const struct seats seats = seats_of(packing, look->places, a,
                                                &packing->piles[a].spots[look->places->spot[a]], b);
            struct crossing crossing = before_first(a, b);
            while (!far_apart(packing, &crossing, &seats) &&
                   next_crossing(packing, &seats, &crossing))
                look_at(look, &crossing, &seats);
        }
}

double packing_arms_lack(const struct packing *packing, const struct places *places) {
    struct look look = {.packing = packing, .places = places};
    look_at_all(&look);
    return look.sum;
}

bool packing_lacking(const struct packing *packing, const struct places *places,
                     struct crossing *worst) {
    const double least = LACK_SAME / 16;
    struct look look = {.packing = packing, .places = places, .worst = least, .lacking = worst};
    look_at_all(&look);
    return look.worst > least;
}

static enum way least_way(const struct packing *packing, const struct crossing *crossing,
                          const struct seats *seats) {
    enum way best = WAY_AFTER;
    for (int way = WAY_BEFORE; way <= WAY_UNDER; way++)
        if (excess_of(packing, crossing, seats, (enum way)way) <
            excess_of(packing, crossing, seats, best))
            best = (enum way)way;
    return best;
}

static struct seats seats_placed(const struct placed *placed, size_t a, size_t b) {
    return (struct seats){.spot = {&placed[a].spot, &placed[b].spot},
                          .at = {{placed[a].x, placed[a].y}, {placed[b].x, placed[b].y}}};
}

static bool arms_there(const struct packing *packing, size_t a, size_t b) {
    return parcel_of(packing, a)->arms && parcel_of(packing, b)->arms;
}

static void lower_line(struct interval *line, double at) {
    line->hi = length_lesser(line->hi, at);
}

static void raise_line(struct interval *line, double at) {
    line->lo = length_greater(line->lo, at);
}

/* Parts that are apart up the slope only, each as far out of the other's way as half of what there
 * is to spare; a box does not move. */
static void spread_lines(const struct packing *packing, const struct crossing *crossing,
                         const struct seats *seats, struct placed *placed) {
    const enum way way = least_way(packing, crossing, seats);
    for (int along = WAY_AFTER; along <= WAY_BEFORE; along++)
        if (length_greater(excess_of(packing, crossing, seats, (enum way)along),
                           depth_of(packing, crossing, seats, (enum way)along)) <= SAME)
            return;
    if (packing_axis(way) != UP)
        return;
    const int first = first_in(way), second = 1 - first;
    const bool fixed = crossing->kind[0] == PART_BOX || crossing->kind[1] == PART_BOX;
    const double spare = -excess_of(packing, crossing, seats, way) / (fixed ? 1 : 2);
    const struct spot *const spots[] = {seats->spot[first], seats->spot[second]};
    const size_t low = crossing->bracket[first], high = crossing->bracket[second];
    if (crossing->kind[first] != PART_BOX) {
        const int row = crossing->row[first];
        const struct arm *arm = arm_of(parcel_of(packing, low), spots[0], row);
        lower_line(&placed[low].lines[row],
                   length_greater(arm->line[0], placed[low].y + arm->rise[0]) + spare);
    }
    if (crossing->kind[second] != PART_BOX) {
        const int row = crossing->row[second];
        const struct arm *arm = arm_of(parcel_of(packing, high), spots[1], row);
        raise_line(&placed[high].lines[row],
                   length_lesser(arm->line[1], placed[high].y + arm->rise[1]) - spare);
    }
}

void packing_set_lines(const struct packing *packing, struct placed *placed) {
    for (size_t b = 0; b < packing->count; b++)
        for (int row = ROW_TOP; row < ROW_COUNT; row++)
            placed[b].lines[row] = (struct interval){-INFINITY, INFINITY};
    for (size_t a = 0; a < packing->count; a++)
        for (size_t b = a + 1; b < packing->count && arms_there(packing, a, b); b++) {
            const struct seats seats = seats_placed(placed, a, b);
            struct crossing crossing = before_first(a, b);
            while (!far_apart(packing, &crossing, &seats) &&
                   next_crossing(packing, &seats, &crossing))
                spread_lines(packing, &crossing, &seats, placed);
        }
}

/* Ends by both of what they are set by. */
static void see_way(const struct packing *packing, const struct crossing *crossing,
                    const struct seats *seats,
                    void (*see)(void *subject, const struct apart_by *by), void *subject) {
    const enum way way = least_way(packing, crossing, seats);
    const int axis = packing_axis(way), first = first_in(way), second = 1 - first;
    const struct end ends[] = {end_of(packing, crossing, first, seats->spot[first], axis, true),
                               end_of(packing, crossing, second, seats->spot[second], axis, false)};
    const bool box[] = {crossing->kind[first] == PART_BOX, crossing->kind[second] == PART_BOX};
    for (int i = 0; i < 4; i++) {
        const bool goes[] = {i / 2 != 0, i % 2 != 0};
        const struct apart_by by = {
            .bracket = {crossing->bracket[first], crossing->bracket[second]},
            .up = axis == UP,
            .goes = {goes[0], goes[1]},
            .reach = {goes[0] ? ends[0].rel : ends[0].fixed, goes[1] ? ends[1].rel : ends[1].fixed},
            .slope = {axis == UP && !box[0] ? 1 : 0, axis == UP && !box[1] ? 1 : 0},
            .times = box[0] || box[1] ? 1 : 2};
        if (fabs(by.reach[0]) < INFINITY && fabs(by.reach[1]) < INFINITY)
            see(subject, &by);
    }
}

void packing_see_arms(const struct packing_task *task, const struct placed *placed,
                      void (*see)(void *subject, const struct apart_by *by), void *subject) {
    const struct packing packing = {.task = task, .count = task->count};
    for (size_t a = 0; a < task->count; a++)
        for (size_t b = a + 1; b < task->count && arms_there(&packing, a, b); b++) {
            const struct seats seats = seats_placed(placed, a, b);
            struct crossing crossing = before_first(a, b);
            while (!far_apart(&packing, &crossing, &seats) &&
                   next_crossing(&packing, &seats, &crossing))
                see_way(&packing, &crossing, &seats, see, subject);
        }
}
