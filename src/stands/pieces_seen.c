/* What functions made of straight pieces say at places, and of each other. */
#include "piece.h"

#include "length.h"

#include <math.h>

/* Places closer than this are the same. */
#define NEAR 1e-7

double piece_before(const struct piece *piece, const struct behind *behind, double x, double *at) {
    const double most = length_lesser(piece->to, x - behind->by);
    const double places[3] = {piece->from, length_lesser(most, x - behind->rather), most};
    double least = INFINITY;
    if (piece->from > most + NEAR)
        return least;
    for (int p = 0; p < 3; p++) {
        const double place = length_greater(piece->from, places[p]);
        const double value = piece_value(piece, place) +
                             behind->weight * length_greater(0, behind->rather - (x - place));
        if (!(value < least))
            continue;
        least = value;
        *at = place;
    }
    return least;
}

/* Less than this is a rounding. */
#define NOTHING 1e-9

/* The first piece that ends at a place or beyond it. */
static size_t first_at(const struct pieces *pieces, double at) {
    size_t lo = 0, hi = pieces->count;
    while (lo < hi) {
        const size_t middle = (lo + hi) / 2;
        if (pieces->list[middle].to < at)
            lo = middle + 1;
        else
            hi = middle;
    }
    return lo;
}

/* At a place in piece i, where others may end or begin. */
static double lowest_at(const struct pieces *pieces, size_t i, double at) {
    double lowest = piece_value(&pieces->list[i], at);
    for (size_t o = i; o-- > 0 && pieces->list[o].to >= at;)
        lowest = length_lesser(lowest, piece_value(&pieces->list[o], at));
    for (size_t o = i + 1; o < pieces->count && pieces->list[o].from <= at; o++)
        lowest = length_lesser(lowest, piece_value(&pieces->list[o], at));
    return lowest;
}

static bool undercuts(const struct pieces *pieces, const struct piece *by) {
    double at = by->from;
    for (size_t i = first_at(pieces, by->from); i < pieces->count; i++) {
        const struct piece *piece = &pieces->list[i];
        if (piece->from > at)
            return true;
        at = length_lesser(piece->to, by->to);
        const double from = length_greater(piece->from, by->from);
        if (piece_value(by, from) < lowest_at(pieces, i, from) - NOTHING ||
            piece_value(by, at) < lowest_at(pieces, i, at) - NOTHING)
            return true;
        if (piece->to >= by->to)
            return false;
    }
    return true;
}

bool pieces_undercut(const struct pieces *pieces, const struct pieces *by) {
    for (size_t i = 0; i < by->count; i++)
        if (undercuts(pieces, &by->list[i]))
            return true;
    return false;
}

/* What is allowed from one place to another, between which all is straight. */
static void allow_straight(const struct piece *piece, const struct lack *lack, double more,
                           double from, double to, struct interval *found, double *most) {
    const double over[2] = {lack_at(lack, from) + more - piece_value(piece, from) - NOTHING,
                            lack_at(lack, to) + more - piece_value(piece, to) - NOTHING};
    if (over[0] > 0 && over[1] > 0)
        return;
    const double cross =
        over[0] <= 0 && over[1] <= 0 ? from : from + (to - from) * (over[0] / (over[0] - over[1]));
    const double lo = over[0] <= 0 ? from : cross, hi = over[1] <= 0 ? to : cross;
    found->lo = length_lesser(found->lo, lo);
    found->hi = length_greater(found->hi, hi);
    *most = length_greater(*most, length_greater(piece_value(piece, lo), piece_value(piece, hi)) +
                                      NOTHING);
}

bool pieces_allow(const struct pieces *pieces, const struct lack *lack, double more,
                  struct interval *within, double *most) {
    struct interval found = {INFINITY, -INFINITY};
    *most = -INFINITY;
    for (size_t i = first_at(pieces, within->lo); i < pieces->count; i++) {
        const struct piece *piece = &pieces->list[i];
        double from = length_greater(piece->from, within->lo);
        const double end = length_lesser(piece->to, within->hi);
        if (piece->from > within->hi)
            break;
        for (size_t h = 0; h <= lack->count; h++) {
            const double to = h < lack->count ? length_lesser(lack->hinges[h].at, end) : end;
            if (to < from || (!(to > from) && h < lack->count))
                continue;
            allow_straight(piece, lack, more, from, to, &found, most);
            from = to;
        }
    }
    *within = found;
    return found.lo <= found.hi;
}

void pieces_turn(struct pieces *pieces, double from) {
    for (size_t i = 0; i < pieces->count; i++) {
        pieces->list[i].at_from = from - pieces->list[i].at_from;
        pieces->list[i].at_to = from - pieces->list[i].at_to;
    }
}

double pieces_lowest(const struct pieces *pieces, double *at) {
    double lowest = INFINITY;
    for (size_t i = 0; i < pieces->count; i++) {
        const struct piece *piece = &pieces->list[i];
        const bool falls = piece->at_to < piece->at_from;
        if (!((falls ? piece->at_to : piece->at_from) < lowest))
            continue;
        lowest = falls ? piece->at_to : piece->at_from;
        *at = falls ? piece->to : piece->from;
    }
    return lowest;
}

const struct piece *pieces_at(const struct pieces *pieces, double at, double near, double *value) {
    const struct piece *lowest = NULL;
    *value = INFINITY;
    for (size_t i = 0; i < pieces->count; i++) {
        const struct piece *piece = &pieces->list[i];
        if (at < piece->from - near || at > piece->to + near || !(piece_value(piece, at) < *value))
            continue;
        *value = piece_value(piece, at);
        lowest = piece;
    }
    return lowest;
}
