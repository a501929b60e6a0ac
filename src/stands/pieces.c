#include "piece.h"

#include "grow.h"
#include "length.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Slopes closer than this, for their size, go on with each other. */
#define STRAIGHT 1e-12

void pieces_free(struct pieces *pieces) {
    free(pieces->list);
    *pieces = (struct pieces){.list = NULL};
}

static struct piece clipped(const struct piece *piece, double from, double to) {
    return (struct piece){from, to, piece_value(piece, from), piece_value(piece, to), piece->tag};
}

static bool goes_on(const struct piece *last, const struct piece *piece) {
    if (last->tag != piece->tag || last->to < piece->from || piece_is_place(last) ||
        piece_is_place(piece))
        return false;
    const double slopes[2] = {piece_slope(last), piece_slope(piece)};
    return fabs(last->at_to - piece->at_from) <= STRAIGHT * (1 + fabs(last->at_to)) &&
           fabs(slopes[0] - slopes[1]) <= STRAIGHT * (1 + fabs(slopes[0]));
}

/* A single place that is no lower than what is there anyway says nothing. */
static bool says_nothing(const struct piece *place, double at, double value) {
    return piece_is_place(place) && !(place->from < at) && !(place->from > at) &&
           value <= place->at_from;
}

bool pieces_add(struct pieces *pieces, struct piece piece) {
    struct piece *last = pieces->count > 0 ? &pieces->list[pieces->count - 1] : NULL;
    if (last && says_nothing(&piece, last->to, last->at_to))
        return true;
    if (last && goes_on(last, &piece)) {
        last->to = piece.to;
        last->at_to = piece.at_to;
        return true;
    }
    if (last && says_nothing(last, piece.from, piece.at_from)) {
        *last = piece;
        return true;
    }
    struct piece *list =
        grow_list(pieces->list, &pieces->room, pieces->count, sizeof *pieces->list);
    if (!list)
        return false;
    pieces->list = list;
    pieces->list[pieces->count++] = piece;
    return true;
}

/* The lesser of two pieces from one place to another, both in both. */
static bool add_lesser(struct pieces *least, const struct piece *a, const struct piece *b,
                       double from, double to) {
    const double begin = piece_value(a, from) - piece_value(b, from);
    const double end = piece_value(a, to) - piece_value(b, to);
    if (begin <= 0 && end <= 0)
        return pieces_add(least, clipped(a, from, to));
    if (begin >= 0 && end >= 0)
        return pieces_add(least, clipped(b, from, to));
    const double cross = from + (to - from) * (begin / (begin - end));
    if (!(cross > from) || !(cross < to))
        return pieces_add(least, clipped(begin + end < 0 ? a : b, from, to));
    return pieces_add(least, clipped(begin < 0 ? a : b, from, cross)) &&
           pieces_add(least, clipped(begin < 0 ? b : a, cross, to));
}

/* Two lists while they are gone through together. */
struct walk {
    const struct piece *next, *end;
};

static double begins(const struct walk *walk, double at) {
    return walk->next == walk->end ? INFINITY : length_greater(walk->next->from, at);
}

static void pass(struct walk *walk, double at) {
    if (walk->next != walk->end && walk->next->to <= at)
        walk->next++;
}

/* One of the two is there alone from `from` on, the other one from `until`. */
static bool add_alone(struct pieces *least, struct walk *walk, double from, double until,
                      double *at) {
    const double to = length_lesser(walk->next->to, until);
    const bool good = pieces_add(least, clipped(walk->next, from, to));
    *at = to;
    pass(walk, to);
    return good;
}

/* Both begin at the same place, where one of them ends. */
static bool add_place(struct pieces *least, struct walk *a, struct walk *b, double at) {
    struct walk *ends = a->next->to <= at ? a : b;
    const struct walk *other = ends == a ? b : a;
    const struct piece place = clipped(ends->next, at, at);
    const bool lower = place.at_from < piece_value(other->next, at);
    ends->next++;
    return !lower || pieces_add(least, place);
}

bool pieces_lesser(const struct pieces *a, const struct pieces *b, struct pieces *least) {
    struct walk one = {a->list, a->list + a->count}, other = {b->list, b->list + b->count};
    double at = -INFINITY;
    bool good = true;
    while (good && (one.next != one.end || other.next != other.end)) {
        const double begin[2] = {begins(&one, at), begins(&other, at)};
        if (begin[0] < begin[1]) {
            good = add_alone(least, &one, begin[0], begin[1], &at);
        } else if (begin[1] < begin[0]) {
            good = add_alone(least, &other, begin[1], begin[0], &at);
        } else {
            const double to = length_lesser(one.next->to, other.next->to);
            at = begin[0];
            if (!(to > at)) {
                good = add_place(least, &one, &other, at);
                continue;
            }
            good = add_lesser(least, one.next, other.next, at, to);
            at = to;
            pass(&one, to);
            pass(&other, to);
        }
    }
    return good;
}

bool pieces_least(struct pieces *many, size_t count, struct pieces *least) {
    bool good = true;
    for (size_t step = 1; step < count; step *= 2)
        for (size_t i = 0; i + step < count; i += 2 * step) {
            struct pieces both = {.list = NULL};
            good = good && pieces_lesser(&many[i], &many[i + step], &both);
            pieces_free(&many[i]);
            pieces_free(&many[i + step]);
            many[i] = both;
        }
    if (count > 0)
        *least = many[0];
    return good;
}

static bool add_sum(struct pieces *sum, const struct piece *one, const struct piece *other) {
    const double from = length_greater(one->from, other->from);
    const double to = length_lesser(one->to, other->to);
    return from > to ||
           pieces_add(sum,
                      (struct piece){from, to, piece_value(one, from) + piece_value(other, from),
                                     piece_value(one, to) + piece_value(other, to), one->tag});
}

bool pieces_sum(const struct pieces *a, const struct pieces *b, struct pieces *sum) {
    size_t i = 0, j = 0;
    bool good = true;
    while (good && i < a->count && j < b->count) {
        const struct piece *one = &a->list[i], *other = &b->list[j];
        good = add_sum(sum, one, other);
        const bool both = length_same(one->to, other->to); /* each still meets the other's next */
        if (both && i + 1 < a->count)
            good = good && add_sum(sum, one + 1, other);
        if (both && j + 1 < b->count)
            good = good && add_sum(sum, one, other + 1);
        i += both || one->to < other->to;
        j += both || one->to > other->to;
    }
    return good;
}

bool pieces_add_way(struct pieces *pieces, double want) {
    struct pieces with = {.list = NULL};
    bool good = true;
    for (size_t i = 0; i < pieces->count && good; i++) {
        const struct piece *piece = &pieces->list[i];
        const double middle = length_greater(piece->from, length_lesser(piece->to, want));
        const double stops[3] = {piece->from, middle, piece->to};
        for (int part = 0; part < 2 && good; part++) {
            if (part > 0 ? !(stops[2] > stops[1]) : !(stops[1] > stops[0]) && stops[2] > stops[1])
                continue;
            struct piece cut = clipped(piece, stops[part], stops[part + 1]);
            cut.at_from += fabs(cut.from - want);
            cut.at_to += fabs(cut.to - want);
            good = pieces_add(&with, cut);
        }
    }
    pieces_free(pieces);
    *pieces = with;
    return good;
}

bool pieces_copy(const struct pieces *pieces, struct pieces *copy) {
    *copy = (struct pieces){.count = pieces->count, .room = pieces->count};
    copy->list = malloc((pieces->count + 1) * sizeof *copy->list);
    if (!copy->list)
        *copy = (struct pieces){.list = NULL};
    else if (pieces->count > 0)
        memcpy(copy->list, pieces->list, pieces->count * sizeof *copy->list);
    return copy->list != NULL;
}

bool pieces_add_lack(struct pieces *pieces, const struct lack *lack, struct interval within,
                     struct scale scale, size_t tag) {
    double from = within.lo, value = scale.more + scale.times * lack_at(lack, from);
    bool good = true;
    for (size_t h = 0; h <= lack->count && good; h++) {
        const double to =
            h < lack->count ? length_lesser(lack->hinges[h].at, within.hi) : within.hi;
        if (to < from || (!(to > from) && h < lack->count))
            continue;
        const double next = scale.more + scale.times * lack_at(lack, to);
        good = pieces_add(pieces, (struct piece){from, to, value, next, tag});
        from = to;
        value = next;
    }
    return good;
}

/* Behind brackets on one piece of what they cost: convex pieces put together have theirs by rising
 * slope; one that rises is never used, for waiting costs nothing. */
static bool add_behind(const struct piece *piece, const struct behind *behind, double end,
                       size_t tag, struct pieces *chain) {
    const double short_of = length_greater(0, behind->rather - behind->by);
    const double fall = piece_is_place(piece) ? 0 : piece_slope(piece);
    const struct {
        double slope, length;
    } closer = {-behind->weight, short_of}, along = {fall, piece->to - piece->from};
    double at = piece->from + behind->by, value = piece->at_from + behind->weight * short_of;
    bool good = true;
    for (int turn = 0; turn < 2; turn++) {
        const bool first = (turn == 0) == (closer.slope <= along.slope);
        const double slope = first ? closer.slope : along.slope;
        const double length = first ? closer.length : along.length;
        const double to = length_lesser(at + length, end);
        if (!(slope < 0) || !(to > at))
            continue;
        good = good &&
               pieces_add(chain, (struct piece){at, to, value, value + slope * (to - at), tag});
        value += slope * (to - at);
        at = to;
    }
    return good && (at > end || pieces_add(chain, (struct piece){at, end, value, value, tag}));
}

bool pieces_behind(const struct pieces *last, const struct behind *behind, double end, size_t tag,
                   struct pieces *least) {
    struct pieces *many = calloc(last->count + 1, sizeof *many);
    bool good = many != NULL;
    size_t count = 0;
    for (size_t i = 0; i < last->count && good; i++)
        good = add_behind(&last->list[i], behind, end, tag, &many[count++]);
    if (many)
        good = pieces_least(many, count, least) && good;
    free(many);
    return good;
}

/* Seen from the other end. */
static bool mirror(const struct pieces *pieces, struct pieces *mirrored) {
    bool good = true;
    for (size_t i = pieces->count; i-- > 0 && good;) {
        const struct piece *piece = &pieces->list[i];
        good = pieces_add(mirrored, (struct piece){-piece->to, -piece->from, piece->at_to,
                                                   piece->at_from, piece->tag});
    }
    return good;
}

bool pieces_ahead(const struct pieces *first, const struct behind *behind, double begin,
                  struct pieces *least) {
    struct pieces turned = {.list = NULL}, led = {.list = NULL};
    const bool good = mirror(first, &turned) && pieces_behind(&turned, behind, -begin, 0, &led) &&
                      mirror(&led, least);
    pieces_free(&turned);
    pieces_free(&led);
    return good;
}
