/* One straight piece of a function.  Private to this folder. */
#ifndef RUDDLE_PIECE_H
#define RUDDLE_PIECE_H

#include "pieces.h"

static inline double piece_slope(const struct piece *piece) {
    return (piece->at_to - piece->at_from) / (piece->to - piece->from);
}

/* A single place. */
static inline bool piece_is_place(const struct piece *piece) {
    return !(piece->to > piece->from);
}

/* The value at a place; beyond an end, there. */
static inline double piece_value(const struct piece *piece, double at) {
    if (piece_is_place(piece) || at <= piece->from)
        return piece->at_from;
    return at >= piece->to ? piece->at_to
                           : piece->at_from + piece_slope(piece) * (at - piece->from);
}

#endif
